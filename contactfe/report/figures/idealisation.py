"""The slice that is solved, drawn to scale: post, plate, what holds them, the load, dimensions."""

import math
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle

from contactfe.case import Case, Section
from contactfe.report import words
from contactfe.report.figures.ink import INK, PAPER, QUIET
from contactfe.report.figures.panels import caption

_STEEL: dict[str, Any] = {"facecolor": "#dde3e7", "edgecolor": INK, "linewidth": 1.0}
_INFILL: dict[str, Any] = {"facecolor": PAPER, "edgecolor": QUIET, "hatch": "...", "linewidth": 0.6}
_CORE: dict[str, Any] = {"facecolor": PAPER, "edgecolor": QUIET, "hatch": "////", "linewidth": 0.6}
_ARROW: dict[str, Any] = {"arrowstyle": "-|>", "color": INK, "shrinkA": 0, "shrinkB": 0}
_DIMENSION: dict[str, Any] = {
    "arrowstyle": "<|-|>", "color": QUIET, "linewidth": 0.6, "shrinkA": 0, "shrinkB": 0,
    "mutation_scale": 7,
}  # fmt: skip

_WIDTH = 6.3
"""Of the figure, inches."""


def idealisation_figure(case: Case, section: Section) -> Figure:
    """The slice of one section: in true proportion, lengths in the units shown."""
    length = case.display.length.of
    D, t, W = (
        length(x) for x in (section.outside_diameter, case.plate.thickness, case.plate.width)
    )
    offset = length(case.contact.offset)
    left, right = min(-W / 2 - offset, -0.62 * D), max(W / 2 - offset, 0.62 * D)
    room = 0.34 * D
    x0, x1, y0, y1 = left - 1.6 * room, right + 1.6 * room, -t - 1.1 * room, D + 1.1 * room
    if case.corner is not None:
        x1 = max(x1, D / 2 + t + 1.6 * room)
    if case.support(section).half:
        y1 += t
    height = min(_WIDTH * (y1 - y0) / (x1 - x0), 4.6)
    figure = Figure((_WIDTH, height), layout="constrained")
    ax = figure.subplots()
    ax.set(xlim=(x0, x1), ylim=(y0, y1))
    ax.set_aspect("equal")
    ax.axis("off")
    _plate(ax, case, (-W / 2 - offset, -t, W, t), room)
    if case.support(section).half:
        ax.add_patch(Rectangle((-W / 2 - offset, D), W, t, **_STEEL))
        _ground(ax, (-W / 2 - offset, D + t), (W / 2 - offset, D + t), -0.22 * room)
    if case.corner is not None:
        second = length(case.corner.offset)
        ax.add_patch(Rectangle((D / 2, D / 2 - W / 2 - second), t, W, **_STEEL))
    _post(ax, case, section, room)
    _load(ax, case, section, room)
    _dimensions(ax, case, section, (-W / 2 - offset, W, t), room)
    _axes(ax, room)
    caption(figure, _caption(case, section))
    return figure


def _plate(ax: Axes, case: Case, box: tuple[float, float, float, float], room: float) -> None:
    x, y, width, height = box
    ax.add_patch(Rectangle((x, y), width, height, **_STEEL))
    support = case.plate.support
    if support.base:
        _ground(ax, (x, y), (x + width, y), 0.22 * room)
        return
    clamped = case.plate.held_by == "clamped"
    for edge, out in ((x, -1.0), (x + width, 1.0)):
        if clamped:
            _ground(ax, (edge, y), (edge, y + height), 0.22 * room * out)
        elif support.spring:
            s = np.linspace(0.0, 1.0, 60)
            ax.plot(
                edge - out * 0.12 * room + 0.08 * room * np.sin(10.0 * math.pi * s),
                y - 0.55 * room * s, color=INK, linewidth=0.9,
            )  # fmt: skip
            _ground(
                ax,
                (edge - out * 0.12 * room - 0.2 * room, y - 0.55 * room),
                (edge - out * 0.12 * room + 0.2 * room, y - 0.55 * room),
                0.15 * room,
            )
        else:
            foot = edge - out * 0.12 * room
            ax.fill(
                [foot, foot - 0.16 * room, foot + 0.16 * room],
                [y, y - 0.3 * room, y - 0.3 * room], color=PAPER, edgecolor=INK, linewidth=0.9,
            )  # fmt: skip
            _ground(
                ax,
                (foot - 0.2 * room, y - 0.3 * room),
                (foot + 0.2 * room, y - 0.3 * room),
                0.15 * room,
            )


def _ground(ax: Axes, start: tuple[float, float], end: tuple[float, float], deep: float) -> None:
    """A line that does not move, hatched on its far side: below it, or aside of an upright one."""
    ax.plot(*zip(start, end, strict=True), color=INK, linewidth=1.2)
    upright = start[0] == end[0]
    count = max(4, round(math.dist(start, end) / (1.4 * abs(deep))))
    for share in (np.arange(count) + 0.5) / count:
        x, y = (a + share * (b - a) for a, b in zip(start, end, strict=True))
        dx, dy = (deep, -abs(deep)) if upright else (-deep, -deep)
        ax.plot([x, x + dx], [y, y + dy], color=INK, linewidth=0.6)


def _post(ax: Axes, case: Case, section: Section, room: float) -> None:
    length, support, geometry = case.display.length.of, case.support(section), section.geometry
    R = length(section.radius)
    ax.add_patch(Circle((0.0, R), R, **_STEEL))
    bore = length(geometry.bore / 2.0) if geometry.round else 0.0
    if bore > 0.0:
        inside = (
            _CORE if support.core else _INFILL if section.infill else {**_STEEL, "facecolor": PAPER}
        )
        ax.add_patch(Circle((0.0, R), bore, **inside))
    dash: dict[str, Any] = {"color": QUIET, "linewidth": 0.6, "dashes": (8, 3, 2, 3)}
    ax.plot([0.0, 0.0], [-0.3 * room, 2 * R + 0.3 * room], **dash)
    ax.plot([-R - 0.3 * room, R + 0.3 * room], [R, R], **dash)
    if not geometry.round:
        ax.text(0.0, R, "own outline", ha="center", va="center", size=8)


def _load(ax: Axes, case: Case, section: Section, room: float) -> None:
    """What the post passes on, where it is held: over its section, from a plate above, or at its
    bore.
    """
    length, support = case.display.length.of, case.support(section)
    R, angle = length(section.radius), case.contact.angle
    way = (math.sin(angle), -math.cos(angle))
    bore = length(section.geometry.bore / 2.0) if section.geometry.round else 0.0
    if support.half:
        tails = [(0.0, 2.0 * R)]
    elif support.core:
        tails = [(0.0, R)]
    elif bore > 0.0:
        tails = [(x, R) for x in (-(R + bore) / 2.0, (R + bore) / 2.0)]
    else:
        tails = [(share * R, R) for share in (-0.6, -0.3, 0.0, 0.3, 0.6)]
    for x, y in tails:
        long = (0.9 if support.half or support.core else 0.8) * room
        start = (x - way[0] * long / 2.0, y - way[1] * long / 2.0)
        end = (x + way[0] * long / 2.0, y + way[1] * long / 2.0)
        if support.half:
            start, end = (x - way[0] * long, y - way[1] * long), (x, y)
        ax.annotate(
            "", end, start,
            arrowprops={**_ARROW, "linewidth": 1.4, "mutation_scale": 11}, zorder=5,
        )  # fmt: skip
    ax.text(
        0.0, 2.0 * R + (1.0 if support.half else 0.45) * room,
        f"q = {case.display.line_load.text(case.line_load)}, {support.name}",
        ha="center", va="bottom", size=9, weight="bold",
    )  # fmt: skip


def _dimensions(
    ax: Axes, case: Case, section: Section, plate: tuple[float, float, float], room: float
) -> None:
    unit = case.display.length
    x, W, t = plate
    D = unit.of(section.outside_diameter)
    low = -t - 0.8 * room
    _dimension(ax, (x, low), (x + W, low), unit.text(case.plate.width))
    aside = x - 0.6 * room
    _dimension(ax, (aside, -t), (aside, 0.0), unit.text(case.plate.thickness))
    beside = D / 2 + 0.6 * room if case.corner is None else -D / 2 - 0.7 * room
    _dimension(ax, (beside, 0.0), (beside, D), f"D = {unit.text(section.outside_diameter)}")
    bore = unit.of(section.geometry.bore) if section.geometry.round else 0.0
    if bore > 0.0 and section.geometry.wall is not None:
        place = math.radians(45.0)
        R, r = D / 2, bore / 2
        inner = (-r * math.cos(place), R + r * math.sin(place))
        outer = (-R * math.cos(place), R + R * math.sin(place))
        _dimension(ax, inner, outer, "")
        ax.annotate(
            f"wall {unit.text(section.geometry.wall)}",
            ((inner[0] + outer[0]) / 2, (inner[1] + outer[1]) / 2),
            (-D / 2 - 0.2 * room, D + 0.25 * room), ha="right", va="center", size=8,
            arrowprops={"arrowstyle": "-", "color": QUIET, "linewidth": 0.6, "shrinkB": 0},
        )  # fmt: skip


def _dimension(ax: Axes, start: tuple[float, float], end: tuple[float, float], text: str) -> None:
    ax.annotate("", start, end, arrowprops=_DIMENSION)
    upright = start[0] == end[0]
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    ax.annotate(
        text, middle, (0.0, 0.0), textcoords="offset points", ha="center", va="center", size=8,
        rotation=90 if upright else 0,
        bbox={"boxstyle": "square,pad=0.2", "facecolor": PAPER, "edgecolor": "none"},
    )  # fmt: skip


def _axes(ax: Axes, room: float) -> None:
    ax.annotate("", (0.85 * room, 0.0), (0.0, 0.0), arrowprops={**_ARROW, "linewidth": 1.0})
    ax.annotate("", (0.0, 0.85 * room), (0.0, 0.0), arrowprops={**_ARROW, "linewidth": 1.0})
    ax.plot(0.0, 0.0, "o", color=INK, markersize=3.5)
    ax.text(0.9 * room, 0.06 * room, "x", size=8, va="bottom")
    ax.text(0.08 * room, 0.9 * room, "y", size=8, ha="left")


def _caption(case: Case, section: Section) -> str:
    held = f"post {case.support(section).words}; plate {words.plate_held(case)}"
    name = words.one_line(section.name)
    shape = "" if section.geometry.round else " Its own outline is drawn as the round about it."
    return (
        f"“{name}” in true proportion. {held[0].upper()}{held[1:]}. q: line load per length of the"
        f" post, in the direction of motion.{shape}"
    )
