"""How figures look: colours, type, and settings that leave the user's own matplotlib alone."""

import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import StringIO
from pathlib import Path
from typing import Any

import matplotlib
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import TriMesh
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

DPI = 160

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
    "font.size": 8.0,
    "axes.labelsize": 8.0,
    "axes.titlesize": 9.0,
    "axes.linewidth": 0.7,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.unicode_minus": True,
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "xtick.labelsize": 7.5,
    "ytick.labelsize": 7.5,
    "xtick.major.width": 0.7,
    "ytick.major.width": 0.7,
    "xtick.major.size": 3.0,
    "ytick.major.size": 3.0,
    "legend.frameon": False,
    "legend.fontsize": 8.0,
    "legend.borderpad": 0.0,
    "lines.linewidth": 1.2,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
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
    figure.savefig(
        path,
        format="png",
        bbox_inches=_whole(figure),
        metadata={"Software": None},
        pil_kwargs={"compress_level": 4},
    )


def as_svg(figure: Figure, *, text: bool) -> str:
    """A figure with its legend as SVG, but without its caption; the same gives the same text.

    What is shaded is an image in it. ``text`` keeps letters as such, for who has the font;
    otherwise they are outlines.
    """
    with matplotlib.rc_context({"svg.fonttype": "none" if text else "path"}):
        for shaded in figure.findobj(TriMesh):
            shaded.set_rasterized(True)
        file = StringIO()
        nothing = dict.fromkeys(("Creator", "Date", "Format", "Type"))
        figure.savefig(file, format="svg", bbox_inches=_whole(figure), metadata=nothing)
    return file.getvalue()


def _whole(figure: Figure) -> Bbox:
    """Lay a figure out; all that it holds, with what hangs below it, in inches."""
    FigureCanvasAgg(figure)
    layout = figure.get_layout_engine()
    if layout is not None:
        layout.execute(figure)
        figure.set_layout_engine(None)  # once is enough, and any engine draws twice
    hung = [artist.get_window_extent() for artist in (*figure.legends, *figure.artists)]
    whole = Bbox.union([figure.bbox, *hung]).transformed(figure.dpi_scale_trans.inverted())
    return whole.padded(0.08)
