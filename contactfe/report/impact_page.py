"""An impact as a page: what is given, its figures and energies, and closed forms beside it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from contactfe.assess.impact import ImpactResult, SectionImpact, roots_by_level
from contactfe.assess.impact_figures import ROOT
from contactfe.assess.impact_forms import without
from contactfe.case.display import Display, Unit, significant
from contactfe.case.motion import Motion
from contactfe.hand.formula import Worked
from contactfe.report import words
from contactfe.report.answer import Room, answer_page, more, spared
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
    texts,
)
from contactfe.report.by_hand import Marks
from contactfe.report.impact_given import damper_table, given
from contactfe.report.impact_levels import NEARBY, answer, check_table, level_table
from contactfe.report.impact_nearby import nearby_table, not_found, sensitivity
from contactfe.report.root import root_by_level
from contactfe.report.specimen import figure_row, figure_table, scaled_number
from contactfe.report.steps import five_digits

CAUTIONS = (
    "The figures are those of the first impact alone, of two masses in line with it: no second"
    " impact, no rotation, no ground motion meanwhile, dampers at the angle that they have at"
    " closure, and post, plate and their supports elastic however hard the impact: whether they"
    " stay below yield, compare says, and of the post's root hand. A stated contact law has the"
    " post's bending along its axis as far as its stiffness does; a section's own curve has it"
    " where the page says so.",
    "A record may move the floor faster than harmonic motion does, and past ω·u0; restitution,"
    " stiffness and effective period are the user's.",
    "The ground, which goes on to move in an earthquake, does not drive the floor here: strokes of"
    " dampers and displacements are those of free vibration, and may be more in an earthquake. A"
    " check of them that passes does not take the place of a time history.",
    *words.JUDGEMENT,
)

_AS_STATED = (
    "The contact law is that which [contact_law] states; contactfe stiffness compares it with the"
    " solved contact."
)

WHAT = "Impact: from the motion of the floor to the contact force of the first impact"
"""What the pages of an impact are of."""

_ENERGIES = (
    ("floor", "floor, kinetic"),
    ("bumper", "bumper, kinetic"),
    ("isolation", "isolation, work against its stiffness since closure"),
    ("isolation_damping", "taken by the isolation's damping"),
    ("bumper_spring", "spring of the bumper"),
    ("contact", "contact, elastic"),
    ("dampers", "taken by the dampers"),
    ("dashpot", "taken by the contact's dashpot"),
)
"""Parts of the energy in the order of the table, by their names in :class:`.Energies`."""

_HOW_FOUND = (
    "Energies are found apart from the motion, by quadrature of what is damped; that"
    " they add up to the energy at closure is the check on it."
)


def impact_page(result: ImpactResult) -> Page:
    """The whole impact."""
    return framed(
        result.case.title,
        CAUTIONS,
        Line(WHAT),
        GAP,
        *(block for impact in result.blows for block in answer(result, impact)),
        GAP,
        *lines(given(result)),
        *damper_table(result),
        *(block for impact in result.blows for block in _impact(result, impact)),
        *formula_lines(result),
        GAP,
        Line(_HOW_FOUND),
    )


def impact_answer(result: ImpactResult) -> Page:
    """The force of the first impact, what the stop buys, what does not pass, and each level."""
    worst = max(result.blows, key=lambda impact: impact.peak_contact_force.value)

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield from answer(result, worst)
        yield from lines(sensitivity(worst), "bad")
        yield from lines(not_found(result, worst), "bad")
        if result.motion.contact_law.law != "section":
            yield Line(_AS_STATED)
        if len(result.blows) > 1:
            yield _by_section(result, room.rows)
        for table in level_table(result, worst):
            yield spared(table, 5, room.rows, NEARBY)

    return answer_page(result.case.title, WHAT, blocks)


def _by_section(result: ImpactResult, most: int) -> Table:
    """The force on each section by its own curve, the greatest first."""
    units = result.case.display
    impacts = sorted(result.blows, key=lambda impact: impact.peak_contact_force.value, reverse=True)
    rows = [
        (
            words.one_line(impact.section.name),
            units.force.number(impact.peak_contact_force.value),
            units.velocity.number(impact.response.impact.velocity),
            Line("yes", "good") if impact.covered else Line("NO", "bad"),
        )
        for impact in impacts[:most]
        if impact.section is not None
    ]
    columns = (
        Column("section", folds=True, most=28),
        *numbers(f"contact force\n[{units.force.name}]", f"v at closure\n[{units.velocity.name}]"),
        *texts("the load\ncovers it"),
    )
    return Table(columns, (tuple(rows),), note=more(len(impacts) - len(rows)).strip())


def _impact(result: ImpactResult, impact: SectionImpact) -> Iterator[Block]:
    units = result.case.display
    if impact.section is not None:
        name, size = words.one_line(impact.section.name), words.size(impact.section, units)
        yield Heading(f"{name}: {size}", 2)
    yield from level_table(result, impact)
    yield from check_table(result, impact)
    yield from root_by_level(result.case, roots_by_level(result, impact))
    yield _figures(result, impact)
    yield from lines(sensitivity(impact), "bad")
    yield from lines(not_found(result, impact), "bad")
    yield from lines(_root(result, impact), "bad")
    yield Line(ending(impact, units))
    yield from nearby_table(result, impact)
    yield _energies(impact, units)
    yield from _closed_forms(result, impact)


def _figures(result: ImpactResult, impact: SectionImpact) -> Table:
    bound = [(one.name, one.symbol, one.value, one.dimension) for one in impact.closure[2:3]]
    level = f" at level “{words.one_line(impact.level)}”" if impact.level else ""
    first, *others = [(one.label, one.symbol, one.value, one.dimension) for one in impact.figures]
    rows = [figure_row(result.case, *one) for one in (first, *bound, *others)]
    return figure_table(result.case, f"The first impact{level}", [rows])


def _root(result: ImpactResult, impact: SectionImpact) -> Iterator[str]:
    """That the post would yield at its root under the force, where it would."""
    if impact.section is None:
        return
    stress = next((one.value for one in impact.figures if one.key == ROOT), 0.0)
    allowed = result.case.post_material(impact.section).yield_strength
    if stress > allowed:
        unit = result.case.display.stress
        yield (
            f"The root of the post is ABOVE YIELD under this force: {unit.text(stress)} of bending"
            f" by {unit.text(allowed)}. It is that of a post which stays elastic, as this one does"
            " not."
        )


def ending(impact: SectionImpact, units: Display) -> str:
    """How the impact ended."""
    found = impact.response
    time = units.time.text(found.over)
    often = f", met {found.contacts} times" if found.contacts > 1 else ""
    if found.end == "parted":
        return f"Post and plate part for good {time} after closure{often}."
    if found.end == "at rest":
        return f"Dampers have left a millionth of the energy {time} after closure{often}."
    speed = units.velocity.text(float(impact.history.floor_velocity[-1]))
    return (
        f"Followed for {time} after closure{often}: dampers go on to slow the floor, which still"
        f" moves at {speed}."
    )


def _energies(impact: SectionImpact, units: Display) -> Table:
    """Where the energy is at the peak of the contact force and at the end."""
    unit, closure = units.energy, impact.response.impact
    both = (impact.at_peak_contact_force, impact.at_end)
    parts = [(label, [getattr(at, key) for at in both]) for key, label in _ENERGIES]
    shown = [part for part in parts if any(abs(of) > 1e-9 * closure.energy for of in part[1])]
    errors = [f"{100.0 * at.error(closure):+.0e} %" for at in both]
    columns = (
        Column(least=44),
        *numbers(f"at the peak contact force\n[{unit.name}]", "of the energy\nat closure"),
        *numbers(f"at the end\n[{unit.name}]", "of the energy\nat closure"),
    )
    rows = tuple((label, *_shares(values, closure.energy, unit)) for label, values in shown)
    total = ("sum", *_shares([at.total for at in both], closure.energy, unit))
    error = ("error of the balance", "", errors[0], "", errors[1])
    return Table(columns, (rows, (total, error)), "Where the energy is")


def _shares(values: list[float], of: float, unit: Unit) -> Iterator[str]:
    """Each energy, and its share of that at closure."""
    most = max(map(abs, (*values, of)))
    for value in values:
        yield words.alike([value], most, unit)[0]
        yield f"{100.0 * value / of:.2f} %".replace("-0.00 %", "0.00 %")


def _closed_forms(result: ImpactResult, impact: SectionImpact) -> Iterator[Block]:
    units, marks, rows = result.case.display, Marks(), []
    of = "this impact" if impact.section is None else words.one_line(impact.section.name)
    for one in impact.beside:
        if one.integrated is not None:
            form, dimension = one.worked, one.worked.dimension
            unit = "1" if dimension is None else units.unit(dimension).name
            figures = [
                scaled_number(x, dimension, 1.0, units) for x in (form.value, one.integrated)
            ]
            figures[0] += marks.mark(form.exceeded, of)
            over = significant(form.value / one.integrated)
            rows.append((form.name, one.kind, form.symbol, unit, *figures, over))
    if rows:
        columns = (
            Column(most=66), *texts("is a", "symbol", "unit"),
            *numbers("form", "integrated", "form over it"),
        )  # fmt: skip
        yield Table(columns, (tuple(rows),), "Beside closed forms")
        yield from marks.notes("outside the range of its form", units)
    if why := no_form(impact.motion):
        yield Line(why)


def no_form(motion: Motion) -> str | None:
    """Why no closed form of the peak force stands beside it."""
    why = without(motion)
    return None if why is None else f"No closed form of the peak force: {why}."


def formula_lines(result: ImpactResult) -> Iterator[Block]:
    """Every formula once, written out with its numbers."""
    steps = [*result.closure, *result.damper_force_at_closure]
    steps += [one.worked for impact in result.blows for one in impact.beside]
    if steps:
        yield Heading("Formulas", 2 if result.blows[0].section is not None else 3)
        yield from lines(dict.fromkeys(_written(worked, result.case.display) for worked in steps))


def _written(worked: Worked, units: Display) -> str:
    figure = partial(five_digits, units)
    parts = [worked.symbol, worked.by_symbols(), worked.by_numbers(figure)]
    parts.append(figure(worked.value, worked.dimension))
    line = f"{worked.name}: {' = '.join(dict.fromkeys(filter(None, parts)))}"
    beyond = "; ".join(units.limit(at) for at in worked.exceeded)
    notes = [worked.note, f"OUTSIDE its range, {beyond}" if beyond else "", worked.source]
    return "; ".join([line, *filter(None, notes)])
