"""Panels under heads, for which matplotlib's layout engine finds the room; names of lines, legend
and caption.

The last two hang below the figure, which is cut to all that it holds when it is saved.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.patheffects import withStroke
from matplotlib.text import Annotation, Text
from matplotlib.textpath import text_to_path
from numpy.typing import NDArray

from contactfe.report.figures.ink import PAPER, SMALL, WIDTH
from contactfe.report.words import one_line

_ROOM = 0.6
"""Room beside the first column for its numbers and label, inches."""

_LABELS = 0.35
"""Room below a panel for the same, inches."""

_APART = 0.1
"""Between rows that share their numbers, inches."""

_GAP = 0.12
"""Between columns, inches."""

_LINES = 3
"""Most lines of a name above its panel."""

NAMED = "named where it runs"
"""The id of a line that needs no legend."""

HALO = withStroke(linewidth=2.2, foreground=PAPER)
"""Around what is drawn on lines or colours."""


def across(count: int) -> float:
    """Width of each of so many panels in a row that share their y axis, inches."""
    return (WIDTH - _ROOM - _GAP * (count - 1)) / count


def panels(
    count: int, heights: Sequence[float], above: float = 0.45, *, beside: bool = False, **how: Any
) -> tuple[Figure, NDArray[Any]]:
    """A figure as wide as a page and its axes (columns, rows), of about those heights in inches.

    Rows share their y axis, and only the first column has its numbers. ``above`` is what heads and
    the like take. ``beside`` puts the panels of a single column in a row. ``how`` goes to
    matplotlib's ``subplots``.
    """
    rows, columns = (1, len(heights)) if beside else (len(heights), count)
    high = max(heights) if beside else sum(heights)
    under = _LABELS * rows if how.get("sharex", False) is False else _LABELS + _APART * (rows - 1)
    figure = Figure((WIDTH, high + under + above), layout="constrained")
    FigureCanvasAgg(figure)  # which texts are measured with; another is made for each without
    if not beside:
        how = {"sharey": "row", "height_ratios": heights} | how
    axes = figure.subplots(rows, columns, squeeze=False, **how)
    return figure, axes if beside else axes.T


def heads(tops: Sequence[Axes], texts: Sequence[tuple[str, str]]) -> None:
    """For each panel a name in bold, and a note of any lines below it, above its own title.

    A long name is set in lines, and what is left of it is cut in its middle. Of names that would
    then be the same, what differs is kept; if that does not help, they have numbers.
    """
    width = min(ax.bbox.width / ax.figure.dpi for ax in tops)
    font = FontProperties(size=8, weight="bold")
    names = [one_line(name) for name, _ in texts]
    kept = [_set(name, font, width) for name in names]
    if len(set(kept)) < len(set(names)):
        kept = [_set(name, font, width) for name in _unlike(names)]
    if len(set(kept)) < len(set(names)):
        kept = [_set(f"{k}. {name}", font, width) for k, name in enumerate(names, 1)]
    figure = tops[0].get_figure(root=True)
    assert figure is not None  # as they are in one
    figure.set_figheight(figure.get_figheight() + 0.14 * max(name.count("\n") for name in kept))
    for ax, name, (_, note) in zip(tops, kept, texts, strict=True):
        low = 13.0 if ax.get_title("left") else 4.0
        high = low + (note.count("\n") + 1) * 8.8 if note else low
        how: dict[str, Any] = {
            "xycoords": "axes fraction", "textcoords": "offset points", "va": "bottom",
            "parse_math": False,
        }  # fmt: skip
        ax.annotate(name, (0.0, 1.0), (0.0, high), weight="bold", size=8, **how)
        # The layout has room for the name, which is higher; a note may be wider than its panel.
        how["in_layout"] = False
        ax.annotate(note, (0.0, 1.0), (0.0, low), size=SMALL, linespacing=1.2, **how)


def _unlike(names: Sequence[str]) -> list[str]:
    """Names without the words with which all begin and end."""
    words = [name.split() for name in names]

    def alike(least: int, of: Callable[[Sequence[str], int], str]) -> int:
        return next((k for k in range(least) if len({of(name, k) for name in words}) > 1), least)

    least = min(map(len, words))
    start = alike(least, lambda name, k: name[k])
    end = alike(least - start, lambda name, k: name[-1 - k])
    return [
        "…" * (start > 0) + " ".join(name[start : len(name) - end]) + "…" * (end > 0)
        for name in words
    ]


def few(*axes: Axes, most: int = 4) -> None:
    """Few numbers along x, and no long one at the right end, where it would meet the next 0."""
    for ax in axes:
        low, high = ax.get_xlim()
        ax.locator_params(axis="x", nbins=most)
        last = {t: 0.95 if len(f"{t:g}") < 3 else 0.9 for t in ax.get_xticks()}
        ax.set_xticks([t for t, at in last.items() if low <= t <= low + at * (high - low)])
        ax.set_xlim(low, high)


def name_lines(ax: Axes, names: Mapping[str, str]) -> None:
    """Write names beside the lines of these labels, each where it is clearest of all others.

    The limits of the axes must stand. What is named so needs no legend; what has no
    room for its name has it there.
    """
    shape = np.array(ax.bbox.size) / ax.figure.dpi
    lines = {line: _seen(ax, line) for line in ax.get_lines() if line.get_visible()}
    taken = [_rim(ax, text) for text in ax.texts]
    for line, points in lines.items():
        name = names.get(str(line.get_label()))
        if name is None:
            continue
        if len(points) == 0:
            line.set_gid(NAMED)  # out of sight
            continue
        text = ax.text(
            0.5, 0.5, name, transform=ax.transAxes, size=SMALL, ha="center", va="center",
            color=line.get_color(), path_effects=[HALO], zorder=7, parse_math=False,
        )  # fmt: skip
        half = np.ptp(_rim(ax, text), axis=0) / 2.0
        around = np.concatenate(
            [*(p for other, p in lines.items() if other is not line), *taken, _NONE]
        )
        places = np.concatenate([points + (half + off) * to for off in _OFF for to in _SIDES])
        inside = np.all((places >= half + 0.03) & (places <= shape - half), axis=1)
        places = places[inside] if inside.any() else places
        clear = _clear(places, half, around, points)
        best = places[int(np.argmax(clear))]
        if clear.max() < _LEAST:
            text.remove()
            continue
        line.set_gid(NAMED)
        text.set_position(best / shape)
        taken.append(_rim(ax, text))


_LEAST = -0.03
"""How well a name has to stand; else the legend has it."""

_NONE = np.empty((0, 2))

_OFF = (0.015, 0.06, 0.12)
"""How far off its line a name may stand, inches."""

_SIDES = np.array([(0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0)])
"""Above, below and beside."""


def _rim(ax: Axes, text: Text) -> NDArray[np.float64]:
    """Points around a text, in inches from the corner of the axes."""
    box = text.get_window_extent()
    x = np.linspace(box.x0, box.x1, 9) - ax.bbox.x0
    y = np.linspace(box.y0, box.y1, 3) - ax.bbox.y0
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2) / ax.figure.dpi


def _seen(ax: Axes, line: Line2D) -> NDArray[np.float64]:
    """Points close together along what is seen of a line, in inches from the corner of the axes."""
    shape = np.array(ax.bbox.size) / ax.figure.dpi
    given = np.column_stack(line.get_data(orig=False)).astype(float)
    at = ax.transAxes.inverted().transform(line.get_transform().transform(given)) * shape
    way = np.append(0.0, np.cumsum(np.nan_to_num(np.hypot(*np.diff(at, axis=0).T))))
    along = np.union1d(way, np.arange(0.0, way[-1], max(0.04, way[-1] / 10_000)))
    points = np.column_stack([np.interp(along, way, x) for x in at.T])  # nan about a gap
    points = points[np.all((points >= 0.0) & (points <= shape), axis=1)]
    _, few_of_each = np.unique(np.round(points / 0.03), axis=0, return_index=True)
    return points[few_of_each]


def _clear(
    at: NDArray[np.float64], half: NDArray[np.float64], around: NDArray[np.float64],
    own: NDArray[np.float64],
) -> NDArray[np.float64]:  # fmt: skip
    """How well a box stands at each place: off all others, nearest to its own line, not on it."""

    def beyond(points: NDArray[np.float64]) -> list[NDArray[np.float64]]:
        """Places by points, along x and y from the edge of the box."""
        return [np.abs(points[:, k] - at[:, k, None]) - half[k] for k in (0, 1)]

    def off(beyond: list[NDArray[np.float64]]) -> NDArray[np.float64]:
        x, y = (np.maximum(one, 0.0) for one in beyond)
        least: NDArray[np.float64] = np.sqrt((x * x + y * y).min(axis=1, initial=1.0))
        return least

    x, y = others = beyond(around)
    away, mine = off(others), off(beyond(own))
    hidden = np.count_nonzero((x < 0.01) & (y < 0.01), axis=1)
    far = np.minimum(away, 0.06) + 0.02 * np.minimum(away, 0.5) - 0.003 * hidden
    clear: NDArray[np.float64] = far + np.minimum(mine, 0.015) - 0.3 * mine - 0.05 * (away < mine)
    return clear


def legend(figure: Figure, axes: Iterable[Axes]) -> None:
    """Each kind of line and mark that is not named where it runs once, below the figure."""
    found = [of for ax in axes for of in zip(*ax.get_legend_handles_labels(), strict=True)]
    named = {label for handle, label in found if getattr(handle, "get_gid", str)() == NAMED}
    keys = {label: handle for handle, label in found if label not in named}
    if not keys:
        return
    widest = max(_inches(label, FontProperties(size=7.5)) for label in keys) + 0.55
    figure.legend(
        list(keys.values()), list(keys), loc="upper left", ncols=max(1, int(WIDTH / widest)),
        bbox_to_anchor=(0.005, 0.0), borderaxespad=0.0,
    )  # fmt: skip


def caption(figure: Figure, text: str, alone: str = "") -> None:
    """A text as wide as the figure, below it and its legend; as it is in :func:`caption_of`.

    ``alone`` goes before it in a file of its own, which no page says the case of.
    """
    edge = figure.legends[0] if figure.legends else figure.transFigure
    whole = minus(f"{alone} {text}".strip())
    lines = _lines(whole, FontProperties(size=7.5), 0.97 * figure.get_figwidth())
    hung = Annotation(
        "\n".join(lines), (0.0, 0.0), (3.0, -7.0), xycoords=(figure.transFigure, edge),
        textcoords="offset points", va="top", parse_math=False, linespacing=1.25,
    )  # fmt: skip
    hung.set_label(minus(f"{text[:1].upper()}{text[1:]}"))
    figure.add_artist(hung)


def caption_of(figure: Figure) -> str:
    """The caption of a figure on a page, on one line."""
    (hung,) = figure.artists
    return str(hung.get_label())


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


def _set(name: str, font: FontProperties, width: float) -> str:
    """A name in lines of that width in inches, cut in its middle to the most that there may be."""
    kept, text = len(name), name
    while len(lines := _lines(text, font, width)) > _LINES:
        kept -= 1
        text = f"{name[: kept - kept // 2].rstrip()}…{name[-(kept // 2) :].lstrip()}"
    return "\n".join(lines)


def _lines(text: str, font: FontProperties, width: float) -> list[str]:
    """A text in lines of that width in inches, broken between words where that can be."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if _inches(longer, font) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        for letter in word:
            if _inches(lines[-1] + letter, font) > width:
                lines.append("")
            lines[-1] += letter
    return lines


def _inches(text: str, font: FontProperties) -> float:
    """Width of a text, letter by letter."""
    return sum(_advance(letter, font.get_size_in_points(), font.get_weight()) for letter in text)


@lru_cache(4096)
def _advance(letter: str, size: float, weight: str | int) -> float:
    font = FontProperties(size=size, weight=weight)
    # Between two others, as a space alone has no ink.
    widths = [
        text_to_path.get_text_width_height_descent(of, font, ismath=False)[0]
        for of in (f"|{letter}|", "||")
    ]
    return float(widths[0] - widths[1]) / 72.0
