"""How figures look: colours, type, and settings that leave the user's own matplotlib alone."""

import io
import threading
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from contactfe.report.files import named

DPI = 200

_SHADED = 150
"""Dots per inch of shading in a vector figure, whose lines and letters are none."""

WIDTH = 170.0 / 25.4
"""Of every figure, inches: that of the text of an A4 page, so that type keeps its size there."""

SMALL = 7.0
"""The least type, points."""

INK = "#18222c"
QUIET = "#76828c"
ALONG = "#8c3d00"
ACROSS = "#4a9fd8"
HAND = "#1f6fb0"
PAPER = "#ffffff"
# ALONG and ACROSS differ in lightness as well as in hue.

STRESS = "cividis_r"
"""Colour map of stress: even steps in lightness, which read the same to every eye and in a grey
print, where pale is low and dark is high."""

_SETTINGS: dict[Any, Any] = {
    "figure.dpi": DPI,
    "font.family": ["DejaVu Sans"],
    "font.size": 7.5,
    "axes.labelsize": 7.5,
    "axes.titlesize": 7.5,
    "axes.titlelocation": "left",
    "axes.linewidth": 0.7,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.unicode_minus": True,
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "xtick.labelsize": SMALL,
    "ytick.labelsize": SMALL,
    "xtick.major.width": 0.7,
    "ytick.major.width": 0.7,
    "xtick.major.size": 3.0,
    "ytick.major.size": 3.0,
    "legend.frameon": False,
    "legend.fontsize": 7.5,
    "legend.borderpad": 0.0,
    "lines.linewidth": 1.2,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
    "hatch.linewidth": 0.6,
    "svg.hashsalt": "contactfe",
}

# matplotlib's settings are one table for the whole process: two threads that each set theirs and
# put back what they found would leave the settings of one behind.
_one_at_a_time = threading.RLock()


@contextmanager
def settings() -> Iterator[None]:
    """The settings of these figures, whatever the user's are, which come back at the end."""
    with _one_at_a_time, warnings.catch_warnings():
        # A section may be named in a script that the font lacks: boxes in a figure, not a warning.
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        with matplotlib.rc_context():
            matplotlib.rcdefaults()
            matplotlib.rcParams.update(_SETTINGS)
            yield


def save_figure(path: Path, draw: Callable[..., Figure], *of: Any) -> None:
    """Draw and write the figure of something. Raises OSError where that cannot be done."""
    with settings():
        save_png(draw(*of), path)


def save_png(figure: Figure, path: Path) -> None:
    """Write a figure with the legend and caption that hang below it.

    The same figure gives the same bytes, with no date and no version in them.
    """
    with named(path):
        _write_png(figure, path, "figure")


def as_png(figure: Figure, dots: int) -> bytes:
    """The same without the caption, which a document sets itself; ``dots`` to the inch."""
    _remove_caption(figure)
    out = io.BytesIO()
    _write_png(figure, out, dots)
    return out.getvalue()


def _write_png(figure: Figure, to: Path | io.BytesIO, dots: int | Literal["figure"]) -> None:
    figure.savefig(
        to,
        format="png",
        dpi=dots,
        bbox_inches=_whole(figure),
        metadata={"Software": None},
        pil_kwargs={"compress_level": 4},
    )


def as_svg(figure: Figure, *, text: bool) -> str:
    """A figure without its caption, which a document sets itself; shading in it is an image.

    The same figure gives the same SVG. ``text`` keeps letters as such, for who has the font;
    otherwise they are outlines.
    """
    _remove_caption(figure)
    out = io.StringIO()
    metadata = dict.fromkeys(("Creator", "Date", "Format", "Type"))
    with matplotlib.rc_context({"svg.fonttype": "none" if text else "path"}):
        figure.savefig(
            out, format="svg", dpi=_SHADED, bbox_inches=_whole(figure), metadata=metadata
        )
    return out.getvalue()


def _remove_caption(figure: Figure) -> None:
    for artist in figure.artists:
        artist.remove()


def lay_out(figure: Figure) -> None:
    """Find the room of each panel of a figure, which stays where it is from then on."""
    FigureCanvasAgg(figure)
    layout = figure.get_layout_engine()
    if layout is not None:
        with _measured_once(figure.axes):
            layout.execute(figure)
        figure.set_layout_engine(None)  # once is enough, and with one it is drawn once more


def _whole(figure: Figure) -> Bbox:
    """A figure with all that hangs below it, inches; no wider than it is."""
    lay_out(figure)
    hung = [artist.get_window_extent().y0 for artist in (*figure.legends, *figure.artists)]
    low = min([0.0, *hung]) / figure.dpi
    return Bbox.from_extents(0.0, low - 0.04, figure.get_figwidth(), figure.get_figheight())


@contextmanager
def _measured_once(panels: Sequence[Axes]) -> Iterator[None]:
    """Let the layout measure what hangs out of a panel once, while its numbers are the same.

    It asks for that twice, as another size of the panel may have other numbers, and for a bar of
    colours once more for each panel beside it, which takes most of the time of a figure.
    """
    for ax in panels:
        vars(ax)["get_tightbbox"] = _measured(ax)
    yield
    for ax in panels:
        del vars(ax)["get_tightbbox"]


def _measured(ax: Axes) -> Callable[..., Bbox]:
    measure, beyond = ax.get_tightbbox, {}

    def measured(renderer: RendererBase, **how: Any) -> Bbox:
        locator: Any = ax.get_axes_locator()  # a bar of colours has one
        ax.apply_aspect(locator(ax, renderer) if locator else None)
        numbers = (*ax.get_xticks(), *ax.get_yticks())
        if numbers not in beyond:
            found = measure(renderer, **how)
            assert found is not None  # as the panel is seen
            beyond[numbers] = np.subtract(found.extents, ax.bbox.extents)
        return Bbox.from_extents(*np.add(ax.bbox.extents, beyond[numbers]))

    return measured
