"""Panels under heads, for which matplotlib's layout engine finds the room; legend and caption.

These two hang below the figure, which is cut to all that it holds when it is saved.
"""

import re
from collections.abc import Iterable, Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.text import Annotation
from matplotlib.textpath import text_to_path
from numpy.typing import NDArray

from contactfe.report.words import one_line

_ROOM = 0.95
"""Room beside a column of panels for its numbers and label, inches."""

_LABELS = 0.4
"""Room below a panel for the same, inches."""

_LONGEST = 60
"""Characters of a word beyond which a caption breaks it."""


def panels(
    count: int, width: float, heights: Sequence[float], *, beside: bool = False, **how: Any
) -> tuple[Figure, NDArray[Any]]:
    """A figure and its axes (columns, rows), of about that width and those heights in inches.

    Rows share their y axis, and only the first column has its numbers. ``beside`` puts the panels
    of a single column in a row. ``how`` goes to matplotlib's ``subplots``.
    """
    rows, across = (1, len(heights)) if beside else (len(heights), count)
    high = max(heights) if beside else sum(heights)
    figure = Figure(
        (_ROOM * (across if beside else 1) + across * width, high + _LABELS * rows + 0.8),
        layout="constrained",
    )
    if not beside:
        how = {"sharey": "row", "height_ratios": heights} | how
    axes = figure.subplots(rows, across, squeeze=False, **how)
    return figure, axes if beside else axes.T


def head(ax: Axes, name: str, note: str = "") -> None:
    """A name in bold, and a note of any lines below it, above a panel and its own title.

    A name that is too long for the panel is cut in its middle, as names often begin alike.
    """
    lines = note.count("\n") + 1 if note else 0
    low = 15.0 if ax.get_title("left") else 4.0
    high = low + 11.5 * lines
    kept = _shortened(one_line(name), ax.bbox.width / ax.figure.dpi)
    how: dict[str, Any] = {
        "xycoords": "axes fraction", "textcoords": "offset points", "va": "bottom",
        "parse_math": False,
    }  # fmt: skip
    ax.annotate(kept, (0.0, 1.0), (0.0, high), weight="bold", size=9, **how)
    # The layout has room for the name, which is higher; a note may be wider than its panel.
    ax.annotate(note, (0.0, 1.0), (0.0, low), linespacing=1.25, in_layout=False, **how)


def legend(figure: Figure, axes: Iterable[Axes], abreast: int) -> None:
    """Each kind of line and mark in the panels once, below the figure."""
    keys = {
        label: handle
        for ax in axes
        for handle, label in zip(*ax.get_legend_handles_labels(), strict=True)
    }
    figure.legend(
        list(keys.values()), list(keys), loc="upper left", ncols=abreast,
        bbox_to_anchor=(0.0, -0.01), borderaxespad=0.0,
    )  # fmt: skip


def caption(figure: Figure, text: str) -> None:
    """A text as wide as the figure, below it and its legend."""
    edge = figure.legends[0] if figure.legends else figure.transFigure
    lines, font = [""], FontProperties(size=8)
    for word in re.findall(rf"\S{{1,{_LONGEST}}}", minus(text)):
        longer = f"{lines[-1]} {word}".strip()
        if _inches(longer, font) < 0.97 * figure.get_figwidth():
            lines[-1] = longer
        else:
            lines.append(word)
    figure.add_artist(
        Annotation(
            "\n".join(lines), (0.0, 0.0), (0.0, -7.0), xycoords=(figure.transFigure, edge),
            textcoords="offset points", va="top", parse_math=False, linespacing=1.25,
        )
    )  # fmt: skip


def taken_off(figure: Figure) -> str:
    """Take the caption off a figure, to be set below it as text, and return it."""
    captions = [artist for artist in figure.artists if isinstance(artist, Annotation)]
    for artist in captions:
        artist.remove()
    return " ".join(artist.get_text().replace("\n", " ") for artist in captions)


def minus(text: str) -> str:
    """A text with the minus sign before its negative numbers.

    >>> minus("-50 mm to 1e-3, EN 1337-4, (-.5)")
    '−50 mm to 1e-3, EN 1337-4, (−.5)'
    """
    return re.sub(r"(?<![\w.)-])-(?=\.?\d)", "−", text)


def spread(values: Sequence[float], share: float = 0.08) -> tuple[float, float]:
    """Limits of an axis that holds the values with a margin of that share of their range."""
    low, high = min(values), max(values)
    margin = share * (high - low or 1.0)
    return low - margin, high + margin


def _shortened(name: str, width: float) -> str:
    """A name, its middle cut out to about that width in inches; six characters at the least."""
    font, kept, text = FontProperties(size=9, weight="bold"), len(name), name
    while kept > 6 and _inches(text, font) > width:
        kept -= 1
        text = f"{name[: kept - kept // 2].rstrip()}…{name[-(kept // 2) :].lstrip()}"
    return text


def _inches(text: str, font: FontProperties) -> float:
    return float(text_to_path.get_text_width_height_descent(text, font, ismath=False)[0]) / 72.0
