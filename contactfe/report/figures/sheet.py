"""Placing panels on a figure in inches, so that type keeps its size and nothing overlaps."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from contactfe.report.words import one_line

_PIXELS = 1.04
"""Width of a text fitted to pixels over that of its outlines, at most 1.03 on long captions."""

LINE = 0.15
"""Height of a line of caption, inches."""


class Sheet:
    """A figure of a fixed size; panels and text are placed from its top left corner, in inches."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.figure = Figure(figsize=(width, height))

    def panel(self, left: float, top: float, width: float, height: float) -> Axes:
        """Axes whose frame has its top left corner there."""
        bottom = self.height - top - height
        return self.figure.add_axes(
            (left / self.width, bottom / self.height, width / self.width, height / self.height)
        )

    def text(self, left: float, top: float, text: str, **style: Any) -> None:
        """Text below and right of that point; a dollar sign is a dollar sign."""
        self.figure.text(
            left / self.width, 1 - top / self.height, text,
            va="top", parse_math=False, **style,
        )  # fmt: skip


@dataclass(frozen=True)
class Columns:
    """Panels for each section one below the other, one column a section; all in inches.

    ``heights`` are those of the panels from the top, ``gaps`` lie between them, ``axis`` below the
    last, for its ticks and label. ``beside`` puts the panels of a single section in a row.
    """

    count: int
    width: float
    heights: tuple[float, ...]
    gaps: tuple[float, ...]
    beside: bool = False
    left: float = 0.75
    top: float = 0.56
    between: float = 0.22
    axis: float = 0.48

    @property
    def sheet_width(self) -> float:
        """Width that all columns need, with the room left of them."""
        more = len(self.heights) - 1 if self.beside else 0
        panels = more * (self.left + self.width)
        return panels + self.left + self.count * (self.width + self.between) + 0.03

    @property
    def bottom(self) -> float:
        """Where the panels and their labels end, from the top."""
        if self.beside:
            return self.top + max(self.heights) + self.axis
        return self.tops[-1] + self.heights[-1] + self.axis

    @property
    def tops(self) -> tuple[float, ...]:
        """Where each panel begins, from the top."""
        if self.beside:
            return (self.top,) * len(self.heights)
        tops = [self.top]
        for height, gap in zip(self.heights[:-1], self.gaps, strict=False):
            tops.append(tops[-1] + height + gap)
        return tuple(tops)

    def start(self, k: int) -> float:
        """Where column ``k`` begins, from the left."""
        return self.left + k * (self.width + self.between)

    def panels(self, sheet: Sheet, k: int, name: str, note: str) -> list[Axes]:
        """The panels of column ``k`` under a name and a note; only the first has numbers at y."""
        left = self.start(k)
        sheet.text(left, 0.13, shortened(name, self.width, 10.5), weight="bold", size=9)
        sheet.text(left, 0.31, note, linespacing=1.3)
        axes = []
        for number, (top, height) in enumerate(zip(self.tops, self.heights, strict=True)):
            right = number * (self.left + self.width) if self.beside else 0.0
            ax = sheet.panel(left + right, top, self.width, height)
            ax.tick_params(labelleft=k == 0)
            axes.append(ax)
        return axes


def wrapped(text: str, width: float, size: float = 8.0) -> list[str]:
    """Lines of text that fit ``width`` inches at that size in points."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if _width(longer, size) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        while (fits := _fitting(word, width, size)) < len(word):
            lines[-1:] = [word[:fits], ""]
            word = word[fits:]  # noqa: PLW2901
        lines[-1] = word
    return lines


def shortened(name: str, width: float, size: float) -> str:
    """A name on one line that fits ``width`` inches at that size in points, cut where it must."""
    name = one_line(name)
    fits = _fitting(name, width, size)
    return name if fits == len(name) else f"{name[: fits - 1].rstrip()}…"


def _fitting(text: str, width: float, size: float) -> int:
    """How many characters of a text fit; the least is six."""
    fits = len(text)
    while fits > 6 and _width(text[:fits], size) > width:
        fits -= 1
    return fits


def _width(text: str, size: float) -> float:
    """Width of a text in inches, as it is drawn."""
    font = FontProperties(size=size)
    points = float(text_to_path.get_text_width_height_descent(text, font, ismath=False)[0])
    return _PIXELS * points / 72.0


def round_steps(most: float, count: int) -> float:
    """The step out of 1, 2, 5, 10, … that cuts ``most`` into about ``count`` parts."""
    raw = most / count
    power = 10.0 ** np.floor(np.log10(raw))
    return float(power * next(m for m in (1.0, 2.0, 5.0, 10.0) if m * power >= 0.999 * raw))


def spread(values: Sequence[float], share: float = 0.08) -> tuple[float, float]:
    """Limits of an axis that holds the values with a margin of that share of their range."""
    low, high = min(values), max(values)
    margin = share * (high - low or 1.0)
    return low - margin, high + margin
