"""Contact pressure over each patch beside the Hertz curve, what they differ by, and friction.

The closed form of partial slip (`hand/partial_slip.py`) is not drawn: it is for a normal load that
is there first and a tangential one that follows, and here both grow together.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case import Case
from contactfe.case.display import significant
from contactfe.hand import hertz
from contactfe.report import words
from contactfe.report.figures.choice import shown_of, stated
from contactfe.report.figures.ink import ALONG, HAND, INK, PAPER, QUIET, SMALL
from contactfe.report.figures.panels import caption, few, heads, legend, panels, spread
from contactfe.solve.elastic import Floats
from contactfe.solve.joint import PatchState
from contactfe.solve.patch import between

_REACH = 1.3
"""Half of the axis, in the widest half-width."""

_ASIDE = 0.1
"""How far off the load line a peak has to be for its place to be told, in half-widths."""

_BAND = 0.075
"""Height of the band that names what sticks and what slips, as a share of its panel."""

_ZONES: dict[str, dict[str, Any]] = {
    "stick": {"facecolor": "#cdd4d9"},
    "slip": {"facecolor": PAPER, "hatch": "//////"},
}
"""How the parts of the band look: grey or hatched, so that they need no colour."""


def pressure_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: pressure and its Hertz curve above, their difference below.

    With friction the traction is drawn to the pressure's scale. A corner has a second pair of
    panels below the first.
    """
    case, units = comparison.case, comparison.case.display
    friction = case.contact.friction > 0.0
    patches = range(1 if case.corner is None else 2)
    upper_height = (2.1 if friction else 1.6) if len(patches) == 1 else 1.15
    figure, columns = panels(len(shown), (upper_height, 0.65) * len(patches))
    every = [r.patches[number] for r in shown for number in patches]
    reach = units.length.of(_REACH * max(p.half_width.value for p in every))
    peaks = [
        max(r.patches[n].peak_contact_pressure.value, _hertz(r, n)[1])
        for r in shown
        for n in patches
    ]
    most = units.stress.of(1.22 * max(peaks))
    least = 0.0
    if friction:
        bound = 1.1 * case.contact.friction * units.stress.of(max(peaks))
        least = -(bound + 1.4 * _BAND * most) / (1.0 - 1.4 * _BAND)
    rests = {(k, n): _difference(r, n) for k, r in enumerate(shown) for n in patches}
    limits = spread([-0.5, 0.5, *(float(v) for _, rest in rests.values() for v in rest)])
    for number in patches:
        names = ["at the second plate" if number else r.section.name for r in shown]
        notes = [_note(case, r, number) for r in shown]
        heads(list(columns[:, 2 * number]), list(zip(names, notes, strict=True)))
    for k, result in enumerate(shown):
        for number in patches:
            upper, lower = columns[k, 2 * number : 2 * number + 2]
            middle = units.length.of(result.patches[number].centre.value)
            ends = (middle - reach, middle + reach)
            upper.set(xlim=ends, ylim=(least, most))
            _pressure(upper, case, result, number, ends)
            if friction:
                _friction(upper, case, result, number)
            upper.tick_params(labelbottom=False)
            lower.axhline(0.0, color=QUIET, linewidth=0.7)
            x, percent = rests[k, number]
            lower.plot(
                units.length.of(x), percent, color=HAND, marker="o", markersize=2.0, linewidth=0.8
            )
            along = "x" if number == 0 else "y − R, second plate"
            lower.set(xlim=ends, ylim=limits, xlabel=f"{along} [{units.length.name}]")
            few(upper, lower)
            if k == 0:
                what = "stress" if friction else "contact pressure"
                upper.set_ylabel(f"{what} [{units.stress.name}]")
                lower.set_ylabel("difference\n[% of p₀]")
    legend(figure, columns.flat)
    caption(figure, _caption(comparison, shown), f"{stated(case)}:")
    return figure


def _pressure(
    ax: Axes, case: Case, result: SectionResult, number: int, ends: tuple[float, float]
) -> None:
    """Pressure of a patch over x between the ends of the axis, in the units shown."""
    state, patch = result.reading.state.patches[number], result.patches[number]
    length, stress, middle = case.display.length, case.display.stress, patch.centre.value
    a, p0 = _hertz(result, number)
    # Evenly spaced points, and the edges of both patches, where the curves meet the axis upright.
    x = np.union1d(length.held * np.linspace(*ends, 401), [middle - a, middle + a])
    nodes, pressures = length.of(state.x), stress.of(state.pressure)
    ax.plot(nodes, pressures, "o", color=INK, markersize=2.4, label="computed, at nodes")
    ax.plot(
        length.of(x), stress.of(_pressure_at(state, x)), color=INK, linewidth=1.0, label="computed"
    )
    ax.plot(
        length.of(x), stress.of(hertz.pressure(x - middle, a, p0)),
        color=HAND, linewidth=1.4, dashes=(4, 2), label="Hertz, half-space",
    )  # fmt: skip
    top = int(np.argmax(pressures))
    place = nodes[top] if not case.symmetric(result.section) else abs(nodes[top])
    ax.plot(
        nodes[top], pressures[top], "o",
        color=PAPER, markeredgecolor=INK, markersize=5.5, zorder=5,
    )  # fmt: skip
    text = f"{words.pair(patch.peak_contact_pressure, stress)} {stress.name}"
    if abs(place) > _ASIDE * patch.half_width.value / length.held:
        axis = "x" if number == 0 else "y − R"
        text += f"\nat {axis} = {place:.2g} {length.name}".replace("-", "−")
    ax.annotate(
        text, (nodes[top], pressures[top]), xytext=(0, 6), textcoords="offset points",
        ha="center", weight="bold", size=SMALL,
    )  # fmt: skip


def _friction(ax: Axes, case: Case, result: SectionResult, number: int) -> None:
    """Traction of the post on the plate, what friction allows, and which parts slip."""
    state, zones = result.reading.state.patches[number], result.patches[number].zones
    length, stress, mu = case.display.length, case.display.stress, case.contact.friction
    low, high = ax.get_xlim()
    x = length.held * np.linspace(low, high, 401)
    allowed = stress.of(mu * _pressure_at(state, x))
    ax.axhline(0.0, color=QUIET, linewidth=0.6, zorder=0)
    for sign, label in ((1.0, "bound, ± friction × pressure"), (-1.0, "_the same below")):
        ax.plot(length.of(x), sign * allowed, color=INK, linewidth=0.7, linestyle=":", label=label)
    ax.plot(
        length.of(x), stress.of(between(state.x, state.traction, x)), color=ALONG, linewidth=1.5,
        dashes=(6, 1.5, 1.5, 1.5), label="traction on the plate, + along it", zorder=2.5,
    )  # fmt: skip
    for zone in zones:
        start, end = length.of(zone.start), length.of(zone.end)
        ax.add_patch(
            Rectangle(
                (start, 0.0), end - start, _BAND, transform=ax.get_xaxis_transform(),
                edgecolor=INK, linewidth=0.6, zorder=3, label=f"{zone.motion}s",
                **_ZONES[zone.motion],
            )
        )  # fmt: skip


def _pressure_at(state: PatchState, x: Floats) -> Floats:
    """Pressure of a patch at any x (n,) mm along its plate, MPa."""
    return np.maximum(between(state.x, state.pressure, x), 0.0)


def _note(case: Case, result: SectionResult, number: int) -> str:
    """What is to be said of a patch above its panels."""
    length, stress, patch = case.display.length, case.display.stress, result.patches[number]
    a, p0 = _hertz(result, number)
    lines = [
        *([words.size(result.section, case.display)] if number == 0 else []),
        f"a = {words.pair(patch.half_width, length)} {length.name}",
        f"Hertz: a = {significant(length.of(a))} {length.name}",
        f"p₀ = {significant(stress.of(p0))} {stress.name}",
    ]
    if case.contact.friction > 0.0:
        load = case.display.line_load
        friction_force = words.tangential(patch, load).replace("-", "−")
        lines.append(f"T = {friction_force} {load.name}")
    return "\n".join(lines)


def _difference(result: SectionResult, number: int) -> tuple[Floats, Floats]:
    """Where the nodes lie, mm, and (computed − Hertz)/p0 there, %; both about one middle."""
    state, middle = result.reading.state.patches[number], result.patches[number].centre.value
    a, p0 = _hertz(result, number)
    return state.x, 100.0 * (state.pressure - hertz.pressure(state.x - middle, a, p0)) / p0


def _hertz(result: SectionResult, number: int) -> tuple[float, float]:
    """Half-width, mm, and peak pressure, MPa, of a patch by Hertz."""
    end = "" if number == 0 else "_second"
    a = result.hand_value(f"hertz_half_width{end}")
    p0 = result.hand_value(f"hertz_peak_pressure{end}")
    assert a is not None  # both hold for every section
    assert p0 is not None
    return a, p0


def _caption(comparison: Comparison, shown: Sequence[SectionResult]) -> str:
    case = comparison.case
    parts = [
        "contact pressure between post and plate.",
        "Below: computed less Hertz, in % of the Hertz peak pressure p₀.",
    ]
    if not all(case.symmetric(r.section) for r in shown):
        parts.append("Hertz is drawn about the middle of the computed patch.")
    if case.contact.friction > 0.0:
        parts.append(
            "The traction is that of the post on the plate, positive along +x"
            + (" and on the second plate along +y" if case.corner is not None else "")
            + "; T is its resultant. Hertz is without friction."
        )
    parts.append(shown_of(comparison, tuple(shown)))
    return " ".join(parts).rstrip()


def pressure_alt(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """The figure in words."""
    stress, length = comparison.case.display.stress, comparison.case.display.length
    peaks = "; ".join(
        f"{words.one_line(r.section.name)}, peak {words.pair(p.peak_contact_pressure, stress)}"
        f" {stress.name} over ±{words.pair(p.half_width, length)} {length.name}, by Hertz"
        f" {stress.text(_hertz(r, number)[1])}"
        for r in shown
        for number, p in enumerate(r.patches)
    )
    return f"Contact pressure along the plate beside that of Hertz: {peaks}."
