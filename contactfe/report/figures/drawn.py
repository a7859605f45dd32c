"""A figure of a page as SVG, with its caption apart, to be set as text below it."""

from dataclasses import dataclass

from contactfe.report.blocks import Figure
from contactfe.report.figures.ink import as_svg, settings
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
