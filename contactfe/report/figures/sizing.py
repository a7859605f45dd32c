"""Stress, concentration and first yield against the wall, a column for each diameter; or stress
alone, of one diameter, with a wall marked.

A strip tells where stress governs, a bar which walls pass.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isclose
from typing import Any

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
from contactfe.report.check_names import BUT
from contactfe.report.figures.choice import loaded
from contactfe.report.figures.ink import ACROSS, ALONG, HAND, INK, PAPER, QUIET, SMALL
from contactfe.report.figures.panels import (
    HALO,
    NAMED,
    caption,
    few,
    heads,
    legend,
    name_lines,
    panels,
)
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


@dataclass(frozen=True)
class _Look:
    """Of a line: its colour, its dashes, and the colour of the gaps in them."""

    colour: str
    dashes: Any = "-"
    gaps: str | None = None


_LINES: Mapping[str, _Look] = {
    "contact zone": _Look(HAND),
    "bore under load": _Look(ALONG),
    "bore at side": _Look(ALONG, (0, (1.5, 1.5))),
    PLATE: _Look(QUIET, (0, (6, 1.5, 1.5, 1.5))),
}

_EDGE = "edge of contact"

_BRANCHES = {**_LINES, _EDGE: _Look("#0b3a66", (0, (3, 2)), PAPER)}
"""The edge lies on the contact zone, of which it is a part, and hides it by its gaps."""

_CURVE = (0.13, 0.13, 1.2)
"""Of the strip, the bar and the stress where these are all; inches."""

_ALLOWED = "allowed"

_LEAST_BAR = 0.015
"""Width of the bar for a wall that passes alone, over that of the panel."""

_ROOM, _LEAST_ROOM = 0.01, 0.004
"""Beside the least and the greatest wall of a curve: over their range, and over the diameter."""

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


def curve_figure(diameter: Diameter, case: Case, present: float | None) -> Figure:
    """Stress over the walls of one diameter that were tried so far, few or many.

    The wall ``present``, mm, is marked, be it among them or not; the radius is the solid bar.
    """
    figure, ((strip, bar, stress),) = panels(1, _CURVE, 0.1, sharex="col")
    length, unit = case.display.length, case.display.stress
    walls = [wall for wall in diameter.walls if not wall.error]
    ends = _ends(diameter, length, present)
    at = None if present is None else float(length.of(present))
    outside = length.text(diameter.outside_diameter)
    stress.set(xlim=ends, xlabel=f"wall at Ø {outside} [{length.name}]")
    stress.set_ylabel(f"peak von Mises\n[{unit.name}]")
    few(stress, most=8)
    if walls:
        x = length.of(np.array([wall.wall for wall in walls]))
        _strip(strip, x, walls, ends)
        _stresses(stress, x, walls, case, _BRANCHES)
        _shade(stress, x, walls, ends)
        _scale(stress, [unit.of(v) for v in _deciding(walls, case)])
        regions = zip(_regions(x, walls, ends), strip.patches, strict=True)
        for (place, start, end), patch in regions:
            if _write(strip, start, end, place, at):
                patch.set_gid(NAMED)
    else:
        strip.axis("off")
        stress.set_yticks([])
    _bar(bar, diameter, ends, length)
    if not diameter.passing:
        _write(bar, *ends, "none" if walls else "none solved", at)
    passes = f"passes{BUT}" if diameter.in_the_way else "passes"
    for row, text in ((strip, "governs"), (bar, passes)):
        row.annotate(
            text, (0.0, 0.5), (-5.0, 0.0), xycoords="axes fraction", textcoords="offset points",
            ha="right", va="center", size=SMALL,
        )  # fmt: skip
    if at is not None:
        solid = isclose(2.0 * at, length.of(diameter.outside_diameter))
        _mark((strip, bar, stress), at, "solid" if solid else f"{significant(at)} {length.name}")
    name_lines(stress, {name: name for name in _BRANCHES} | {_ALLOWED: "allowed in the post"})
    legend(figure, (strip, stress))
    caption(figure, _curve_caption(diameter, case, present), f"{loaded(case)}:")
    return figure


def _ends(diameter: Diameter, length: Unit, present: float | None) -> tuple[float, float]:
    """From the least wall tried to the greatest, the present one among them, and a little more."""
    walls = [wall.wall for wall in diameter.walls] + ([] if present is None else [present])
    low, high = min(walls), max(walls)
    room = max(_LEAST_ROOM * diameter.outside_diameter, _ROOM * (high - low))
    return length.of(low - room), length.of(high + room)


def _mark(axes: Sequence[Axes], x: float, name: str) -> None:
    """An upright line through all panels, and what it is above them."""
    *rows, panel = axes
    panel.axvline(x, color=INK, linewidth=1.0, zorder=1.5, gid="present")  # below curves and names
    for row in rows:
        # Across the gap below it too.
        line = row.axvline(
            x, -1.0, 1.0, color=INK, linewidth=1.0, clip_on=False, path_effects=[HALO]
        )
        line.set_in_layout(False)
    top = rows[0].get_xaxis_transform()
    rows[0].plot(x, 1.3, "v", color=INK, markersize=5, clip_on=False, transform=top)
    low, high = panel.get_xlim()
    share = (x - low) / (high - low)
    rows[0].annotate(
        name, (x, 1.3), (0.0, 4.0), xycoords=top, textcoords="offset points", va="bottom",
        ha="left" if share < 0.1 else "right" if share > 0.9 else "center",
        size=SMALL, weight="bold",
    )  # fmt: skip


def _write(ax: Axes, low: float, high: float, text: str, beside: float | None) -> bool:
    """Write into a part of a bar, clear of a line through it; whether there is room."""
    cuts = [low, high] if beside is None else [low, min(max(beside, low), high), high]
    start, end = max(pairwise(cuts), key=lambda part: part[1] - part[0])
    name = ax.text(
        (start + end) / 2.0, 0.5, text, size=SMALL, ha="center", va="center", path_effects=[HALO]
    )
    (left, _), (right, _) = ax.transData.transform([(start, 0.0), (end, 0.0)])
    fits = bool(name.get_window_extent().width < 0.95 * (right - left))
    if not fits:
        name.remove()
    return fits


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


def _stresses(
    ax: Axes, x: Floats, walls: list[Wall], case: Case, lines: Mapping[str, _Look] = _LINES
) -> None:
    unit = case.display.stress
    margin = case.yield_margin
    at, strengths = _strengths(walls, case)
    allowed = strengths / margin
    of_plate = case.plate_material.yield_strength / margin
    for name, look in lines.items():
        if name == PLATE:
            values: list[Value | None] = [wall.plate_peak_von_mises for wall in walls]
        else:
            place = PLACES.index(name)
            values = [wall.places[place] for wall in walls]
        _line(ax, x, values, unit, look, name)
    ax.plot(
        case.display.length.of(at), unit.of(allowed), color=INK, linewidth=1.0, dashes=(5, 2),
        label=_ALLOWED,
    )  # fmt: skip
    if _apart(walls):
        _bar_alone(ax, x, float(unit.of(walls[-1].yield_strength / margin)), INK, "_")
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
    _line(ax, x, [wall.stress_concentration for wall in walls], None, _Look(HAND))
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
    _line(ax, x, values, units.line_load, _Look(HAND))
    ax.axhline(float(units.line_load.of(case.line_load)), color=INK, linewidth=0.8, dashes=(5, 2))


def _apart(walls: list[Wall]) -> bool:
    """Whether the last wall is a solid bar whose yield strength is not that of the tube before."""
    return (
        len(walls) > 1 and walls[-1].solid and walls[-2].yield_strength != walls[-1].yield_strength
    )


def _bar_alone(ax: Axes, x: Floats, y: float, colour: str, mark: str = "o") -> None:
    size = 9.0 if mark == "_" else 3.5
    ax.plot(x[-1], y, mark, color=colour, markersize=size, clip_on=False, gid="bar")


def _line(
    ax: Axes,
    x: Floats,
    values: Sequence[Value | None],
    unit: Unit | None,
    look: _Look,
    name: str = "",
) -> None:
    """A line with its uncertainty as a band; broken where there is no value."""
    pairs = np.array([(np.nan, np.nan) if v is None else (v.value, v.uncertainty) for v in values])
    if unit is not None:
        pairs = unit.of(pairs)
    figure, uncertainty = pairs.T
    ax.fill_between(
        x, figure - uncertainty, figure + uncertainty, color=look.colour, alpha=0.25, linewidth=0
    )
    ax.plot(
        x, figure, color=look.colour, linestyle=look.dashes, gapcolor=look.gaps,
        marker=".", markersize=2.5, label=name,
    )  # fmt: skip


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


def _by_place(case: Case, shown: Sequence[Diameter]) -> str:
    every = "walls change" if any(d.in_the_way for d in shown) else "counts"
    return (
        f"by place, a dot for each wall solved; dashed, what is allowed ({words.limit(case)}; the"
        " plate's in grey, where it is"
        f" within the scale). Black bar: walls that pass every check that {every}."
    )


_GOVERNS = "strip: where stress is largest beside what is allowed. Bands: numerical uncertainty."


def _besides(case: Case, shown: Sequence[Diameter], mean: str) -> str:
    """What else there is to be said of those shown; ``mean`` what goes by the mean line load."""
    text = ""
    for diameter in shown:
        if diameter.in_the_way:
            text += f" {in_the_way(diameter, case)}"
    if case.alignment is not None:
        text += f" Each wall is taken at its own peak line load along the post{mean}."
    if any(_apart([w for w in d.walls if not w.error]) for d in shown):
        text += (
            " The strength of the post's steel goes by thickness; what stands alone at the right"
            " end is of the solid bar, as thick as its diameter."
        )
    return text


def _caption(result: SizingResult, shown: Sequence[Diameter]) -> str:
    case = result.case
    text = (
        f"Top: peak von Mises stress {_by_place(case, shown)} Middle: stress"
        " concentration; ring, the least; blue, walls that the numerical uncertainty does not part"
        " from it. Bottom: line load at first yield, with that of the case dashed. Background and"
        f" {_GOVERNS} The scales hold what decides; walls that fail by far leave them."
    )
    text += _besides(case, shown, "; K and first yield go by the mean line load")
    if result.contacts > 1:
        text += f" Figures are the worst of {result.contacts} contacts."
    if len(shown) < len(result.diameters):
        text += f" Shown are {len(shown)} of {len(result.diameters)} diameters."
    return text


def _curve_caption(diameter: Diameter, case: Case, present: float | None) -> str:
    text = f"Peak von Mises stress over the wall {_by_place(case, [diameter])}"
    if present is not None:
        text += " Upright line: the present wall."
    if any(of is not None for of in _at_edge(diameter)):
        text += " The contact zone peaks at the edge of the contact where its line is dashed."
    text += f" Background and {_GOVERNS} Walls that fail by far leave the scale."
    failed = sum(bool(wall.error) for wall in diameter.walls)
    if failed:
        text += f" Not solved: {failed} of {len(diameter.walls)} walls."
    return text + _besides(case, [diameter], "")


def _at_edge(diameter: Diameter) -> list[Value | None]:
    number = PLACES.index(_EDGE)
    return [wall.places[number] for wall in diameter.walls if not wall.error]


def _wall_text(wall: float, length: Unit, digits: int = 4) -> str:
    return f"{significant(length.of(wall), digits)} {length.name}"


def _which_pass(found: Diameter, length: Unit) -> str:
    if not found.passing:
        return "no wall passes"
    ends = ((band.least.wall, band.most.wall) for band in found.passing)
    those = (" to ".join(dict.fromkeys(_wall_text(of, length, 3) for of in both)) for both in ends)
    return f"walls of {' and '.join(those)} pass"


def curve_alt(diameter: Diameter, case: Case, present: float | None) -> str:
    """The figure in words."""
    length = case.display.length
    parts = [_which_pass(diameter, length)]
    solved = [wall for wall in diameter.walls if not wall.error]
    if solved:
        least = min(solved, key=lambda wall: wall.post_peak_von_mises.value)
        parts.append(f"the post's peak is least at {_peak_at(least, case)}")
        x = np.array([wall.wall for wall in solved])
        for place, start, end in _regions(x, solved, (0.0, np.inf)):
            ends = dict.fromkeys(_wall_text(of, length, 3) for of in (start, end))
            parts.append(f"{place} governs at {' to '.join(ends)}")
    at_edge = [w for w, of in zip(solved, _at_edge(diameter), strict=True) if of is not None]
    if at_edge:
        ends = dict.fromkeys(_wall_text(at_edge[k].wall, length, 3) for k in (0, -1))
        parts.append(f"the contact zone peaks at its edge at {' to '.join(ends)}")
    if present is not None:
        found = [wall for wall in solved if isclose(wall.wall, present)]
        at = _peak_at(found[0], case) if found else _wall_text(present, length)
        parts.append(f"the present wall is {at}{', which passes' * any(w.passes for w in found)}")
    outside = length.text(diameter.outside_diameter)
    return (
        f"Peak von Mises stress over the wall at Ø {outside}, {len(solved)} solved:"
        f" {'; '.join(parts)}."
    )


def _peak_at(wall: Wall, case: Case) -> str:
    peak = words.pair(wall.post_peak_von_mises, case.display.stress)
    size = "the solid bar" if wall.solid else _wall_text(wall.wall, case.display.length)
    return f"{size} with {peak} {case.display.stress.name}"


def sizing_alt(result: SizingResult) -> str:
    """The figure in words."""
    length = result.case.display.length
    parts = []
    for found in result.diameters:
        if found.least_concentration is not None:
            best = found.least_concentration.wall
            parts.append(
                f"Ø {length.text(found.outside_diameter)}: {_which_pass(found, length)}, least K"
                f" {words.pair(best.stress_concentration)} at {_wall_text(best.wall, length, 3)}"
            )
    return f"Peak stress, K and first yield over the wall of the post. {'; '.join(parts)}."
