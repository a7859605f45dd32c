"""How figures look: colours, type, and settings that leave the user's own matplotlib alone.

Stress is shown from pale straw through green to ink blue: even steps in lightness, so that it reads
the same to every eye and in a grey print, where pale is low and dark is high.
"""

import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import ListedColormap
from matplotlib.figure import Figure
from numpy.typing import NDArray

DPI = 160

INK = "#18222c"
QUIET = "#76828c"
ALONG = "#8c3d00"
ACROSS = "#4a9fd8"
HAND = "#1f6fb0"
PAPER = "#ffffff"
# ALONG and ACROSS differ in lightness as well as in hue.

_SETTINGS: dict[Any, Any] = {
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
    "lines.linewidth": 1.2,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
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


def save_png(figure: Figure, path: Path) -> None:
    """Write a figure; the same figure gives the same bytes, with no date and no version in them."""
    FigureCanvasAgg(figure)
    figure.savefig(
        path,
        dpi=DPI,
        format="png",
        metadata={"Software": None},
        pil_kwargs={"compress_level": 4},
    )


@cache
def stress_colours() -> ListedColormap:
    """256 colours of falling lightness, from a smooth path through the colour space OKLab."""
    t = np.linspace(0.0, 1.0, 256)
    lightness = 0.975 - 0.665 * t
    # Straw, green, blue: the path turns in hue but never leaves the colours a screen can show.
    stops = [0.0, 0.25, 0.5, 0.75, 1.0]
    green_red = np.interp(t, stops, [-0.012, -0.055, -0.068, -0.035, 0.010])
    blue_yellow = np.interp(t, stops, [0.045, 0.060, -0.005, -0.070, -0.085])
    smooth = np.hanning(65) / np.hanning(65).sum()

    def eased(path: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.convolve(np.pad(path, 32, mode="edge"), smooth, mode="valid")

    return ListedColormap(_screen(lightness, eased(green_red), eased(blue_yellow)), "stress")


def _screen(
    L: NDArray[np.float64], a: NDArray[np.float64], b: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Screen colours (n, 3) in sRGB of OKLab ones, by that space's own matrices (from memory)."""
    lms = np.stack(
        [
            L + 0.3963377774 * a + 0.2158037573 * b,
            L - 0.1055613458 * a - 0.0638541728 * b,
            L - 0.0894841775 * a - 1.2914855480 * b,
        ]
    )
    linear = (
        np.array(
            [
                [4.0767416621, -3.3077115913, 0.2309699292],
                [-1.2684380046, 2.6097574011, -0.3413193965],
                [-0.0041960863, -0.7034186147, 1.7076147010],
            ]
        )
        @ lms**3
    )
    linear = np.clip(linear, 0.0, 1.0)
    curve = 1.055 * linear ** (1 / 2.4) - 0.055
    return np.where(linear <= 0.0031308, 12.92 * linear, curve).T
