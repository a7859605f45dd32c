"""A figure for a page, with its caption apart, to be set as text below it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from matplotlib import figure as matplotlib_figure

from contactfe.report.blocks import Figure
from contactfe.report.figures.draw import ALT
from contactfe.report.figures.ink import as_png, as_svg, settings
from contactfe.report.figures.panels import caption_of


@dataclass(frozen=True)
class Drawn:
    """A figure as SVG, its width in inches, and its caption."""

    svg: str
    width: float
    caption: str


def drawn(figure: Figure, *, text: bool) -> Drawn:
    """Draw a figure; ``text`` as of :func:`contactfe.report.figures.ink.as_svg`."""
    with settings():
        made = figure.draw()
        caption = caption_of(made)
        return Drawn(as_svg(made, text=text), float(made.get_figwidth()), caption)


@dataclass(frozen=True)
class Picture:
    """A figure as PNG, its caption, and what tells it to who does not see it."""

    png: bytes
    caption: str
    alt: str


def picture(draw: Callable[..., matplotlib_figure.Figure], *of: Any, dots: int) -> Picture:
    """Draw one of the figures that ``ALT`` has words for, of these arguments; ``dots`` to the inch.

    As matplotlib's settings are held, one thread draws at a time.
    """
    with settings():
        made = draw(*of)
        caption = caption_of(made)
        return Picture(as_png(made, dots), caption, ALT[draw](*of))
