"""The answer of an impact, and its levels of hazard: in lines, as tables and as data."""

from __future__ import annotations

from collections.abc import Iterator

from contactfe.assess.hazard import LevelImpact
from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.assess.impact_forms import ASSUMED_DAMPING, velocity_if_damped
from contactfe.assess.nearby import Nearby
from contactfe.case.display import Display, significant
from contactfe.case.motion import Damper, Motion
from contactfe.report import words
from contactfe.report.blocks import Block, Column, Line, Table, lines, numbers, texts
from contactfe.report.impact_nearby import nearby_document, nearby_force
from contactfe.report.json_file import Json
from contactfe.report.verdicts import check_cells, stop_lines

_MOST_KINDS = 2
"""Kinds of dampers whose strokes have columns of their own; those of more are among the checks."""

NEARBY = "−10 %, +10 %: the contact force at that much less and more displacement."
"""Below a table of levels."""

CHECKS = "Checks of the stop in the motion"
"""Title of their table."""

_GROUND = (
    "Strokes and displacements are those of free vibration, which no ground motion drives on: in an"
    " earthquake they may be more, so a check of them that passes is to be confirmed by a time"
    " history."
)


def answer(result: ImpactResult, impact: SectionImpact) -> Iterator[Block]:
    """The force and the level that it is of, what the stop buys, and what does not pass."""
    units, of = result.case.display, ""
    if impact.section is not None:
        of = f"“{words.one_line(impact.section.name)}”: "
    governs = impact.levels[impact.governs]
    force = units.force.text(impact.peak_contact_force.value)
    velocity = units.velocity.text(impact.response.impact.velocity)
    level = f" at level “{words.one_line(impact.level)}”, which governs" if impact.level else ""
    yield Line(f"{of}Peak contact force {force}{level}; the gap closes at {velocity}.", "strong")
    yield Line(covers(result, impact), "plain" if impact.covered else "bad")
    yield from lines(_bought(governs, units))
    yield from lines(_damping(impact, units))
    checks = [c for c in (*result.engagement, *impact.checks) if c.limit_state != "load"]
    yield from stop_lines(checks, units)
    yield from lines(_would_engage(impact, units), "bad")


def covers(result: ImpactResult, impact: SectionImpact) -> str:
    """Whether the force that the case states covers the peak contact force."""
    unit = result.case.display.force
    force = unit.text(impact.peak_contact_force.value)
    if impact.stated_over_demand is None:
        return (
            f"[load] states a line load alone: whether it covers {force} is not known without a"
            " contact_length."
        )
    if abs(impact.stated_over_demand - 1.0) < 1e-9:
        return f"The load of the case is this force, {force}."
    share, stated = (
        significant(impact.stated_over_demand),
        unit.text(impact.stated_over_demand * impact.peak_contact_force.value),
    )
    if impact.covered:
        return f"The force of [load], {stated}, covers {force}, {share} times."
    return f"The force of [load], {stated}, DOES NOT COVER {force}: it is {share} of it."


def _bought(level: LevelImpact, units: Display) -> Iterator[str]:
    """What the stop takes off the displacement, where that without it is known."""
    length, without = units.length, level.motion.displacement
    if without is None or level.taken_off_by_stop is None:
        return
    with_stop, saved = (
        f"{significant(length.of(of), 3)} {length.name}"
        for of in (level.displacement_with_stop, level.taken_off_by_stop)
    )
    yield (
        f"In free vibration the floor goes {with_stop} with the stop and {length.text(without)}"
        f" without it: the stop takes off {saved},"
        f" {100.0 * level.taken_off_by_stop / without:.0f} %."
    )


def _damping(impact: SectionImpact, units: Display) -> Iterator[str]:
    """What the damping of the isolation does to the velocity at closure, and where none is stated.

    The first for the level that governs alone.
    """
    without = []
    for one in impact.levels:
        damped = velocity_if_damped(one.motion) if one.found is not None else None
        if one.found is not None and damped is not None:
            at = f" at “{words.one_line(one.level.name)}”" if one.level.name else ""
            now, then = one.found.response.impact.velocity, damped
            without.append(f"{units.velocity.number(now)} to {units.velocity.text(then)}{at}")
    if without:
        yield (
            f"Isolator damping is not stated. A ratio of {ASSUMED_DAMPING:g} would raise the"
            f" velocity at closure, at the displacement stated, from {', from '.join(without)}."
        )
    if impact.motion.damping:
        *_, taken, closing = impact.closure
        energy = units.energy
        yield (
            f"Isolator damping of {impact.motion.damping:g} raises the energy at closure from"
            f" {energy.text(closing.value - taken.value)} to {energy.text(closing.value)}:"
            " ½·M·v² = ½·k·(u0² − g²) + Ed."
        )


def _would_engage(impact: SectionImpact, units: Display) -> Iterator[str]:
    """Levels at which the stop is not struck, and would be at a tenth more displacement."""
    for one in impact.levels:
        more = _near(one).get("displacement_plus_10_percent")
        if one.found is not None or more is None or more.velocity_at_closure == 0.0:
            continue
        force = (
            "a force that was not found"
            if more.peak_contact_force is None
            else units.force.text(more.peak_contact_force)
        )
        yield (
            f"Level “{words.one_line(one.level.name)}” does not engage the stop, and would at 10 %"
            f" more displacement: {force}."
        )


def level_table(result: ImpactResult, impact: SectionImpact) -> Iterator[Table]:
    """A row for each level of hazard; none where the case states no levels."""
    motion, units = result.motion, result.case.display
    if not motion.levels:
        return
    length, force = f"[{units.length.name}]", f"[{units.force.name}]"
    kinds = motion.dampers if len(motion.dampers) <= _MOST_KINDS else ()
    named = [f" {number}" if len(kinds) > 1 else "" for number in range(1, len(kinds) + 1)]
    columns = (
        Column("level", most=24, folds=True),
        *numbers(f"floor\nwithout\nstop {length}"),
        *texts("engages"),
        *numbers(
            f"v at\nclosure\n[{units.velocity.name}]", f"contact\nforce\n{force}",
            f"at −10 %\n{force}", f"at +10 %\n{force}",
        ),
        *(numbers(f"force of\ndampers\n{force}") if motion.dampers else ()),
        *numbers(*(f"stroke of\ndampers{number}\n{length}" for number in named)),
        *numbers(f"floor\nwith\nstop {length}", f"stop\ntakes off\n{length}", "of it\n[%]"),
    )  # fmt: skip
    rows = tuple(tuple(_row(motion, one, kinds, units)) for one in impact.levels)
    notes = [
        f"Floor: its greatest displacement. {NEARBY} Force of dampers: in the direction of the"
        " impact; strokes: along the dampers, of one at an angle without its length the"
        f" displacement of the bumper, the most that it can be. {_GROUND}"
    ]
    if motion.displacement_limit is not None:
        notes.append(f"Limit of the displacement: {units.length.text(motion.displacement_limit)}.")
    notes += _not_found(impact)
    of = f" for “{words.one_line(impact.section.name)}”" if impact.section else ""
    yield Table(columns, (rows,), f"Levels of hazard{of}", " ".join(notes))


def _row(
    motion: Motion, one: LevelImpact, kinds: tuple[Damper, ...], units: Display
) -> Iterator[str]:
    length, without = units.length, one.motion.displacement
    near = _near(one)
    mark = "" if one.followed_to_rest else " at least"
    yield words.one_line(one.level.name)
    yield "" if without is None else length.number(without)
    yield "yes" if one.engages else "no"
    v = one.velocity_at_closure
    yield "" if v is None else units.velocity.number(v)
    yield units.force.number(one.peak_contact_force)
    for key in ("displacement_minus_10_percent", "displacement_plus_10_percent"):
        yield nearby_force(near[key], units).partition(",")[0] if key in near else ""
    if motion.dampers:
        yield units.force.number(one.peak_damper_force)
    yield from (length.number(one.stroke(of)) + mark for of in kinds)
    yield length.number(one.displacement_with_stop) + mark
    saved = one.taken_off_by_stop
    yield "" if saved is None else length.number(saved)
    yield "" if saved is None or without is None else f"{100.0 * saved / without:.0f}"


def _near(one: LevelImpact) -> dict[str, Nearby]:
    return {near.key: near for near in one.nearby}


def _not_found(impact: SectionImpact) -> Iterator[str]:
    """Why the force at a tenth less or more was not found, of levels that do not govern."""
    for k, one in enumerate(impact.levels):
        why = next((near.not_found for near in one.nearby if near.not_found is not None), None)
        if why is not None and k != impact.governs:
            yield f"Not found at level “{words.one_line(one.level.name)}”: {why}."


def check_table(result: ImpactResult, impact: SectionImpact) -> Iterator[Table]:
    """Every check but the load's, with what is asked and what is there."""
    units = result.case.display
    checks = [c for c in (*result.engagement, *impact.checks) if c.limit_state != "load"]
    if not checks:
        return
    columns = (
        Column(least=52, most=72, folds=True), *numbers("demand", "allowed", "ratio"),
        *texts("verdict"),
    )  # fmt: skip
    rows = tuple((check.label, *check_cells(check, units)) for check in checks)
    note = "" if result.motion.levels else _GROUND
    yield Table(columns, (rows,), CHECKS, note)


def levels_document(impact: SectionImpact) -> list[Json]:
    """Every level as a record, the one without a name where the case states none."""
    return [
        {
            "name": one.level.name or None,
            "governs": k == impact.governs,
            "engages": one.engages,
            "period": one.motion.period,
            "damping": one.motion.damping,
            "displacement_without_stop": one.motion.displacement,
            "velocity_at_closure": one.velocity_at_closure,
            "peak_contact_force": one.peak_contact_force,
            "peak_damper_force": one.peak_damper_force,
            "dampers": [
                {"stroke": one.stroke(of), "force_of_one": one.force_of_one(of)}
                for of in one.motion.dampers
            ],
            "displacement_with_stop": one.displacement_with_stop,
            "followed_to_rest": one.followed_to_rest,
            "taken_off_by_stop": one.taken_off_by_stop,
            "sensitivity": nearby_document(one.motion, one.nearby, one.peak_contact_force),
        }
        for k, one in enumerate(impact.levels)
    ]
