"""The hand-over to a time-history analysis: one page at 80 columns and one CSV, both in the units
of the report, which their heads name, and the same as JSON in N, mm, s and t.
"""

from collections.abc import Iterator
from dataclasses import asdict
from operator import itemgetter
from pathlib import Path

from contactfe.assess.hand_over import (
    HandOver,
    hand_over,
    law_damping,
    strikes,
)
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.case.display import Unit, significant
from contactfe.case.impact import effective_mass, stated_energy
from contactfe.case.motion import Motion
from contactfe.hand import stop
from contactfe.report import words
from contactfe.report.blocks import (
    GAP,
    Block,
    Column,
    Heading,
    Line,
    Page,
    Table,
    framed,
    lines,
    numbers,
)
from contactfe.report.csv_file import Cell, write_csv
from contactfe.report.csv_file import Column as CsvColumn
from contactfe.report.json_file import Json
from contactfe.report.stiffness_points import points_table, points_within, units_of_force
from contactfe.report.stiffness_springs import (
    bends_against,
    sign,
    twice,
    up_to,
    warnings,
    without_bending,
    without_sharing,
)
from contactfe.solve.elastic import Floats

WIDTH = 80

_NOT_STATED = "not stated"

_ALIKE = 0.05
"""Share that a stated law may differ by from what is handed over before that is said."""

_MODELS = {True: "post not modelled", False: "post an element"}
"""The model of the building that a spring is for, by whether the post's bending is in it."""


def hand_over_page(result: StiffnessResult) -> Page:
    """The whole hand-over: what holds for all sections, then each."""
    case, counted_twice = result.case, twice(result)
    which = [*without_bending(case)] if counted_twice is None else [bends_against(case)]
    return framed(
        f"{case.title}: hand-over to the time-history analysis",
        words.cautions(without_sharing(case), evenly=True),
        *lines(_common(result)),
        *lines((*warnings(result), *another_law(result)), "bad"),
        *lines(which),
        *lines(filter(None, [counted_twice]), "strong"),
        *(block for section in result.sections for block in _section(case, section)),
        GAP,
        *lines(_notes(case)),
    )


def _common(result: StiffnessResult) -> Iterator[str]:
    """Gap, sign, and the masses that meet."""
    case, units, motion = result.case, result.case.display, result.case.motion
    if motion is None:
        yield (
            f"Gap: {_NOT_STATED}, for the case has no [motion]. Nor does it state masses,"
            " restitution and velocity at closure, so there is no dashpot, period and time step."
        )
    else:
        yield f"Gap: {units.length.text(motion.gap)}."
    yield f"Sign: {sign(case)}"
    yield up_to(result)
    if motion is not None:
        yield _masses(case, motion)


def _masses(case: Case, motion: Motion) -> str:
    units, found = case.display, strikes(motion)
    floor, bumper = units.mass.text(motion.mass), units.mass.text(motion.bumper_mass)
    if not found:
        return (
            f"Masses: floor {floor}; no bumper_mass stated, and what has none takes no energy at"
            " closure: there is no period of two masses on the contact, and so no time step of it."
        )
    meets = f"m = {units.mass.text(effective_mass(motion))}, of floor {floor} and bumper {bumper}"
    if not motion.held:
        meets = f"m = {floor}, the floor against a fixed stop"
    each = "; ".join(
        f"{units.energy.text(one.energy)}, v = {units.velocity.text(one.velocity)}"
        f"{f' at “{words.one_line(one.level)}”' if one.level else ''}"
        for one in found
    )
    return f"Masses: {meets}. Energy per strike, m·v²/2 at closure: {each}."


def another_law(result: StiffnessResult) -> Iterator[str]:
    """Where the impact force is that of a softer law than what is handed over, or of a stiffer."""
    case = result.case
    if case.motion is None or case.contact_length is None:
        return
    ratios, bending = [], False
    for section in result.sections:
        both = hand_over(case, section)
        # A stated law has the post's bending in it, where that is known.
        alike = [one for one in both if one.with_post] or both
        bending = bending or alike[0].with_post
        for one in alike:
            stated = stated_energy(case.motion, one.up_to_force)
            if stated is not None:
                ratios.append(stated / one.energy_stored)
    if ratios and not all(abs(ratio - 1.0) <= _ALIKE for ratio in ratios):
        low, high = (significant(of, 3) for of in (min(ratios), max(ratios)))
        which = "the points with the post's bending" if bending else "these points"
        yield (
            "The impact force was found with the stiffness of [contact_law]. By the energy up to"
            f" that force {which} are {low if low == high else f'{low} to {high}'} times as stiff,"
            ' so the impact on them is of ANOTHER FORCE, which [contact_law] law = "section" finds.'
        )


def _section(case: Case, section: SectionStiffness) -> Iterator[Block]:
    """Points of each model, then the figures of both."""
    yield Heading(
        words.one_line(f"{section.section.name}: {words.size(section.section, case.display)}")
    )
    both = hand_over(case, section)
    yield Line(f"Points, {points_within(both)}.")
    yield points_table(case, both)
    rows = tuple(
        (f"{label} [{unit}]" if unit else label, *(value for value in values))
        for label, unit, *values in _figures(case, both)
    )
    yield Table((Column(), *numbers(*(_MODELS[one.with_post] for one in both))), (rows,))


def _figures(case: Case, both: tuple[HandOver, ...]) -> Iterator[tuple[str, ...]]:
    units = case.display
    force, stiffness, energy = units_of_force(case)
    up_to = force.text(both[0].up_to_force)
    yield (
        f"linear spring, secant at {up_to}", stiffness.name,
        *(stiffness.number(one.spring.stiffness) for one in both),
    )  # fmt: skip
    yield (
        "  its force, of the points' struck alike", "",
        *(f"{100.0 * one.linear_force_over_points_at_equal_energy:.0f} %" for one in both),
    )  # fmt: skip
    yield (
        "energy in the contact at that force", energy.name,
        *(energy.number(one.energy_stored) for one in both),
    )  # fmt: skip
    if all(one.impact is None for one in both):
        return
    struck = [one.impact for one in both if one.impact is not None]
    damping, time = units.damping, units.time
    elastic = struck[0].dashpot == 0.0
    dashpots = ["none, elastic" if elastic else damping.number(one.dashpot) for one in struck]
    yield "dashpot beside it, 2ξ√(k·m)", damping.name, *dashpots
    yield "period on it, T = 2π√(m/k)", time.name, *(time.number(one.period) for one in struck)
    step = f"time step, T/{struck[0].steps:.0f} or less"
    yield step, time.name, *(time.number(one.step) for one in struck)


def _notes(case: Case) -> Iterator[str]:
    """What dashpot and step are worth."""
    motion = case.motion
    if motion is None or not strikes(motion):
        return
    law = motion.contact_law
    if law.restitution < 1.0:
        ratio = stop.kelvin_damping_ratio.plain(law.restitution)
        pulled = stop.kelvin_restitution.plain(ratio)
        yield (
            f"The dashpot, ξ = {ratio:.3f}, gives the stated restitution of {law.restitution:g}"
            " where it acts until the spring is unloaded; in an element that cannot pull it lets go"
            f" before and gives {pulled:.3f}."
        )
        zeta = law_damping(motion)
        if zeta is not None:
            yield (
                f"The impact force was found with one in proportion to the elastic force Fe:"
                f" F = Fe·(1 + ζ·δ'/v), ζ = {zeta:.3f}, which does not begin with a jump."
            )
    yield (
        "The time step finds the peak force of two masses on the spring within 1 %, by average"
        " acceleration or central differences, wherever in a step the gap closes (measured);"
        " dampers, the floor's own motion, and a node of less mass than m on this spring, as of a"
        " post modelled as an element, may ask for less."
    )


def write_hand_over(result: StiffnessResult, path: Path) -> None:
    """Write one line for each point of each section and model. Raises OSError as usual.

    What is not of a point stands in each of its lines.
    """
    rows = [
        row
        for section in result.sections
        for one in hand_over(result.case, section)
        for row in _rows(result.case, section, one)
    ]
    texts = ("section", "model")
    columns = [
        CsvColumn[dict[str, Cell]](head, "text" if head in texts else "real", itemgetter(head))
        for head in rows[0]
    ]
    write_csv(path, columns, rows, digits=8)


def _rows(case: Case, section: SectionStiffness, one: HandOver) -> Iterator[dict[str, Cell]]:
    units, motion, struck = case.display, case.motion, one.impact
    force, stiffness, energy = units_of_force(case)
    length, damping, mass, time = units.length, units.damping, units.mass, units.time
    same: dict[str, Cell] = {
        f"gap [{length.name}]": None if motion is None else length.of(motion.gap),
        f"linear spring [{stiffness.name}]": stiffness.of(one.spring.stiffness),
        f"right at [{force.name}]": force.of(one.up_to_force),
        "error of the spring over that force [1]": one.spring.largest_error_over_load,
        "error of the points over that force [1]": one.points.largest_error_over_load,
        "force of the spring over that of the points, struck alike [1]": (
            one.linear_force_over_points_at_equal_energy
        ),
        f"energy in the contact at that force [{energy.name}]": energy.of(one.energy_stored),
        f"effective mass [{mass.name}]": None,
        f"energy at closure [{units.energy.name}]": None,
        f"dashpot [{damping.name}]": None if struck is None else damping.of(struck.dashpot),
        f"period [{time.name}]": None if struck is None else time.of(struck.period),
        f"time step [{time.name}]": None if struck is None else time.of(struck.step),
    }
    if motion is not None and (found := strikes(motion)):
        same[f"effective mass [{mass.name}]"] = mass.of(effective_mass(motion))
        same[f"energy at closure [{units.energy.name}]"] = units.energy.of(found[-1].energy)
    for k, (displacement, pressed) in enumerate(zip(one.points.approach, one.force, strict=True)):
        yield {
            "section": section.section.name,
            "model": _MODELS[one.with_post],
            "point": k,
            f"displacement [{length.name}]": float(length.of(displacement)),
            f"force [{force.name}]": float(force.of(pressed)),
            f"tangent stiffness [{stiffness.name}]": _slope(stiffness, one.tangent_stiffness, k),
            f"secant stiffness [{stiffness.name}]": _slope(stiffness, one.secant_stiffness, k),
            **same,
        }


def _slope(unit: Unit, of: Floats, k: int) -> float | None:
    """None at the origin."""
    return float(unit.of(of[k])) if k else None


def hand_over_data(case: Case, section: SectionStiffness) -> Json:
    """The same as JSON, under the name of each model."""
    motion = case.motion
    found = () if motion is None else strikes(motion)
    return {
        "gap": None if motion is None else motion.gap,
        "effective_mass": None if motion is None else effective_mass(motion) or None,
        "energy_at_closure": found[-1].energy if found else None,
        "strikes": [asdict(one) for one in found],
        "restitution": None if motion is None else motion.contact_law.restitution,
        "per_length": case.contact_length is None,
        "models": [
            {
                "model": _MODELS[one.with_post],
                "displacement": one.points.approach.tolist(),
                "force": one.force.tolist(),
                "tangent_stiffness": [None, *one.tangent_stiffness[1:].tolist()],
                "secant_stiffness": [None, *one.secant_stiffness[1:].tolist()],
                "largest_error_over_force": one.points.largest_error_over_load,
                "linear_stiffness": one.spring.stiffness,
                "linear_error_over_force": one.spring.largest_error_over_load,
                "linear_force_over_points_at_equal_energy": (
                    one.linear_force_over_points_at_equal_energy
                ),
                "up_to_force": one.up_to_force,
                "energy_stored": one.energy_stored,
                "impact": None if one.impact is None else asdict(one.impact),
            }
            for one in hand_over(case, section)
        ],
    }
