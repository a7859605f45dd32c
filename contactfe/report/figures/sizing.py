"""Stress, concentration and first yield against the wall, a column for each diameter.

A strip above each column tells where stress governs, a bar below it which walls pass.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from contactfe.assess.sizing.record import PLACES, PLATE, Diameter, SizingResult, Wall
from contactfe.assess.value import Value
from contactfe.case import Case, Section
from contactfe.case.display import Unit, significant
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.figures.choice import loaded
from contactfe.report.figures.ink import ACROSS, ALONG, HAND, INK, PAPER, QUIET
from contactfe.report.figures.panels import caption, few, heads, legend, name_lines, panels
from contactfe.report.sizing_words import in_the_way
from contactfe.solve.elastic import Floats

MOST_DIAMETERS = 3

_HEIGHTS = (0.13, 1.75, 0.09, 0.9, 0.9)
"""Of the strip, the stress, the bar of walls that pass, K, and first yield; inches."""

_SHADES: dict[str, tuple[str, str]] = {
    "contact zone": ("#cfe3f3", ""),
    "bore under load": ("#f0d3bd", "////"),
    "bore at side": ("#e6e6e6", "...."),
    "elsewhere": (PAPER, "xx"),
    PLATE: ("#9aa5ad", ""),
}
"""Colour and hatching of each place that may govern: distinct in grey too."""

_LINES: dict[str, tuple[str, str]] = {
    "contact zone": (HAND, "-"),
    "bore under load": (ALONG, "-"),
    "bore at side": (ALONG, (0, (1.5, 1.5))),  # type: ignore[dict-item]
    PLATE: (QUIET, (0, (6, 1.5, 1.5, 1.5))),  # type: ignore[dict-item]
}

_ALLOWED = "allowed"

_LEAST_BAR = 0.015
"""Width of the bar for a wall that passes alone, over that of the panel."""

_BELOW, _ABOVE = 0.12, 0.15
"""How far a scale goes below and above what decides, as a share of that: walls far beyond what is
allowed would flatten all else, and leave the scale."""


def sizing_figure(result: SizingResult) -> Figure:
    """A column a diameter, of the first few that could be solved."""
    shown = [d for d in result.diameters if d.least_concentration is not None][:MOST_DIAMETERS]
    figure, columns = panels(len(shown), _HEIGHTS, sharex="col")
    units = result.case.display
    heads(
        [strip for strip, *_ in columns],
        [(f"Ø {units.length.text(d.outside_diameter)}", "where stress governs:") for d in shown],
    )
    for axes, diameter in zip(columns, shown, strict=True):
        _column(axes, diameter, result.case)
    every = [wall for d in shown for wall in d.walls if not wall.error]
    _, stress, _, concentration, load = columns[0]
    _scale(stress, [units.stress.of(v) for v in _deciding(every, result.case)])
    _scale(concentration, [w.stress_concentration.value for w in _nearly(every)])
    loads = [
        w.first_yield_line_load.value for w in _nearly(every) if w.first_yield_line_load is not None
    ]
    _scale(load, [units.line_load.of(v) for v in (*loads, result.case.line_load)])
    stress.set_ylabel(f"peak von Mises [{units.stress.name}]")
    concentration.set_ylabel("K [1]")
    load.set_ylabel(f"first yield\n[{units.line_load.name}]")
    for _, ax, *_ in columns:
        name_lines(ax, {name: name for name in _LINES} | {_ALLOWED: _ALLOWED})
    legend(figure, columns.flat)
    caption(figure, _caption(result, shown), f"{loaded(result.case)}: the wall sized.")
    return figure


def _nearly(walls: Sequence[Wall]) -> list[Wall]:
    """Walls that are not far from the best in the stress of the post: those that decide."""
    least = min(wall.post_peak_von_mises.value for wall in walls)
    solid = min(wall.post_peak_von_mises.value for wall in walls if wall is walls[-1] or wall.solid)
    return [wall for wall in walls if wall.post_peak_von_mises.value <= 1.05 * max(least, solid)]


def _deciding(walls: Sequence[Wall], case: Case) -> Iterator[float]:
    """Stresses that the scale is to hold, MPa: of walls that decide, and what is allowed."""
    for wall in _nearly(walls):
        yield wall.post_peak_von_mises.value
        yield wall.plate_peak_von_mises.value
    yield from (wall.yield_strength / case.yield_margin for wall in walls)


def _scale(ax: Axes, deciding: Sequence[float]) -> None:
    low, high = min(deciding), max(deciding)
    ax.set_ylim((1.0 - _BELOW) * low, (1.0 + _ABOVE) * high)
    ax.locator_params(axis="y", nbins=5)


def _column(axes: Sequence[Axes], diameter: Diameter, case: Case) -> None:
    units = case.display
    walls = [wall for wall in diameter.walls if not wall.error]
    x = units.length.of(np.array([wall.wall for wall in walls]))
    # As the whole range that was tried, solved or not.
    ends = (units.length.of(diameter.walls[0].wall), units.length.of(diameter.walls[-1].wall))
    strip, stress, bar, concentration, load = axes
    _strip(strip, x, walls, ends)
    _stresses(stress, x, walls, case)
    _bar(bar, diameter, ends, units.length)
    _concentration(concentration, x, walls, diameter, units.length)
    _first_yield(load, x, walls, case)
    for ax in (stress, concentration, load):
        _shade(ax, x, walls, ends)
    load.set(xlim=ends, xlabel=f"wall [{units.length.name}]")
    few(load, most=5)


def _regions(
    x: Floats, walls: Sequence[Wall], ends: tuple[float, float]
) -> list[tuple[str, float, float]]:
    """Where each place governs, from and to, with the change halfway between unlike walls."""
    found: list[tuple[str, float, float]] = []
    start = max(float(x[0]), ends[0])
    for (at, wall), (beyond, other) in pairwise(zip(x, walls, strict=True)):
        if wall.governing_place != other.governing_place:
            middle = (float(at) + float(beyond)) / 2.0
            found.append((wall.governing_place, start, middle))
            start = middle
    return [*found, (walls[-1].governing_place, start, float(x[-1]))]


def _strip(ax: Axes, x: Floats, walls: list[Wall], ends: tuple[float, float]) -> None:
    for place, start, end in _regions(x, walls, ends):
        colour, hatch = _SHADES[place]
        ax.add_patch(
            Rectangle(
                (start, 0.0), end - start, 1.0, facecolor=colour, edgecolor=INK, linewidth=0.5,
                hatch=hatch, gid=place, clip_on=False, label=f"{place} governs",
            )
        )  # fmt: skip
    ax.set_ylim(0.0, 1.0)
    ax.axis("off")


def _shade(ax: Axes, x: Floats, walls: list[Wall], ends: tuple[float, float]) -> None:
    for place, start, end in _regions(x, walls, ends):
        ax.axvspan(start, end, color=_SHADES[place][0], alpha=0.35, linewidth=0, zorder=0)


def _stresses(ax: Axes, x: Floats, walls: list[Wall], case: Case) -> None:
    unit = case.display.stress
    margin = case.yield_margin
    at, strengths = _strengths(walls, case)
    allowed = strengths / margin
    of_plate = case.plate_material.yield_strength / margin
    for name, (colour, style) in _LINES.items():
        if name == PLATE:
            values: list[Value | None] = [wall.plate_peak_von_mises for wall in walls]
        else:
            place = PLACES.index(name)
            values = [wall.places[place] for wall in walls]
        _line(ax, x, values, unit, colour, style, name)
    ax.plot(
        case.display.length.of(at), unit.of(allowed), color=INK, linewidth=1.0, dashes=(5, 2),
        label=_ALLOWED,
    )  # fmt: skip
    if _apart(walls):
        _bar_alone(ax, x, float(unit.of(walls[-1].yield_strength / margin)), INK)
    ax.axhline(float(unit.of(of_plate)), color=QUIET, linewidth=1.0, dashes=(5, 2))


def _strengths(walls: list[Wall], case: Case) -> tuple[Floats, Floats]:
    """Walls, mm, and the yield strength of tubes at them, MPa: level, and upright where it steps.

    It steps where the steel's strength does by thickness, wherever the walls tried are. NaN where
    the steel is not made so thick.
    """
    first, last = walls[0], walls[-1]
    ends = [t for t in case.post_thickness_steps if first.wall < t < last.wall]
    edges = [first.wall, *ends, last.wall]
    at: list[float] = []
    strengths: list[float] = []
    for low, high in pairwise(edges):
        tube = Section("", first.outside_diameter, wall=(low + high) / 2.0)
        try:
            strength = case.post_material(tube).yield_strength
        except InputError:
            strength = np.nan
        at += [low, high]
        strengths += [strength, strength]
    return np.array(at), np.array(strengths)


def _concentration(
    ax: Axes, x: Floats, walls: list[Wall], diameter: Diameter, length: Unit
) -> None:
    _line(ax, x, [wall.stress_concentration for wall in walls], None, HAND, "-")
    best = diameter.least_concentration
    assert best is not None  # as it is shown
    ax.axvspan(
        float(length.of(best.alike_from)), float(length.of(best.alike_to)),
        ymax=0.06, color=ACROSS, linewidth=0, gid="alike",
    )  # fmt: skip
    ax.plot(
        length.of(best.wall.wall), best.wall.stress_concentration.value, "o", markersize=6.0,
        markerfacecolor="none", markeredgecolor=ALONG, markeredgewidth=1.4, gid="best",
    )  # fmt: skip


def _first_yield(ax: Axes, x: Floats, walls: list[Wall], case: Case) -> None:
    units = case.display
    values = [wall.first_yield_line_load for wall in walls]
    if _apart(walls):  # the bar is not the end of the curve of tubes, but a point by itself
        value = values[-1]
        if value is not None:
            _bar_alone(ax, x, float(units.line_load.of(value.value)), HAND)
        values[-1] = None
    _line(ax, x, values, units.line_load, HAND, "-")
    ax.axhline(float(units.line_load.of(case.line_load)), color=INK, linewidth=0.8, dashes=(5, 2))


def _apart(walls: list[Wall]) -> bool:
    """Whether the last wall is a solid bar whose yield strength is not that of the tube before."""
    *tubes, last = walls
    return last.solid and bool(tubes) and tubes[-1].yield_strength != last.yield_strength


def _bar_alone(ax: Axes, x: Floats, y: float, colour: str) -> None:
    ax.plot(x[-1], y, "o", color=colour, markersize=3.5, clip_on=False, gid="bar")


def _line(
    ax: Axes,
    x: Floats,
    values: Sequence[Value | None],
    unit: Unit | None,
    colour: str,
    style: str,
    name: str = "",
) -> None:
    """A line with its uncertainty as a band; broken where there is no value."""
    pairs = np.array([(np.nan, np.nan) if v is None else (v.value, v.uncertainty) for v in values])
    if unit is not None:
        pairs = unit.of(pairs)
    figure, uncertainty = pairs.T
    ax.fill_between(
        x, figure - uncertainty, figure + uncertainty, color=colour, alpha=0.25, linewidth=0
    )
    ax.plot(x, figure, color=colour, linestyle=style, marker=".", markersize=2.5, label=name)


def _bar(ax: Axes, diameter: Diameter, ends: tuple[float, float], length: Unit) -> None:
    ax.add_patch(Rectangle((ends[0], 0), ends[1] - ends[0], 1, facecolor=PAPER, edgecolor=QUIET))
    for band in diameter.passing:
        start, end = (float(length.of(wall.wall)) for wall in (band.least, band.most))
        least = _LEAST_BAR * (ends[1] - ends[0])
        if end - start < least:  # one wall, such as the solid bar
            start = min(max(start - least / 2.0, ends[0]), ends[1] - least)
            end = start + least
        ax.add_patch(Rectangle((start, 0), end - start, 1, facecolor=INK, gid="passes"))
    ax.set_ylim(0, 1)
    ax.axis("off")


def _caption(result: SizingResult, shown: Sequence[Diameter]) -> str:
    case = result.case
    every = "walls change" if any(d.in_the_way for d in shown) else "counts"
    text = (
        "Top: peak von Mises stress"
        f" by place, a dot for each wall solved; dashed, what is allowed ({words.limit(case)}; the"
        " plate's in grey, where it is"
        f" within the scale). Black bar: walls that pass every check that {every}. Middle: stress"
        " concentration; ring, the least; blue, walls that the numerical uncertainty does not part"
        " from it. Bottom: line load at first yield, with that of the case dashed. Background and"
        " strip: where stress is largest beside what is allowed. Bands:"
        " numerical uncertainty. The scales hold what decides; walls that fail by far leave them."
    )
    for diameter in shown:
        if diameter.in_the_way:
            text += f" {in_the_way(diameter, case)}"
    if case.alignment is not None:
        text += (
            " Each wall is taken at its own peak line load along the post; K and first yield go by"
            " the mean line load."
        )
    if any(_apart([w for w in d.walls if not w.error]) for d in shown):
        text += (
            " The strength of the post's steel goes by thickness; the dots are the solid bar, as"
            " thick as its diameter."
        )
    if result.contacts > 1:
        text += f" Figures are the worst of {result.contacts} contacts."
    if len(shown) < len(result.diameters):
        text += f" Shown are {len(shown)} of {len(result.diameters)} diameters."
    return text


def sizing_alt(result: SizingResult) -> str:
    """The figure in words."""
    length = result.case.display.length

    def wall(of: float) -> str:
        return f"{significant(length.of(of), 3)} {length.name}"

    parts = []
    for found in result.diameters:
        if found.least_concentration is not None:
            passes = "no wall passes"
            if found.passing:
                ends = ((band.least.wall, band.most.wall) for band in found.passing)
                those = (" to ".join(dict.fromkeys(map(wall, of))) for of in ends)
                passes = f"walls of {' and '.join(those)} pass"
            best = found.least_concentration.wall
            parts.append(
                f"Ø {length.text(found.outside_diameter)}: {passes}, least K"
                f" {words.pair(best.stress_concentration)} at {wall(best.wall)}"
            )
    return f"Peak stress, K and first yield over the wall of the post. {'; '.join(parts)}."
