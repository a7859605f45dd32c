"""Contact stiffness as a page: the springs of a model without the post and of one with it, then
each section, its points for a gap element, what its approach is made of, and its power law.
"""

from collections.abc import Iterator

from contactfe.assess.follow import MOST
from contactfe.assess.hand_over import hand_over
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.case.display import Unit, significant
from contactfe.hand.similitude import factor
from contactfe.report import words
from contactfe.report.answer import Room, answer_page, spared
from contactfe.report.blocks import GAP, Block, Heading, Line, Page, Table, framed, lines
from contactfe.report.hand_over import another_law
from contactfe.report.specimen import specimen
from contactfe.report.stiffness_points import points_table, points_within
from contactfe.report.stiffness_shares import datum, share_table, shares_note
from contactfe.report.stiffness_springs import (
    by_hand,
    sign,
    springs,
    up_to,
    warnings,
    without_sharing,
)

POWER_NOTE = (
    "A line of contact is not a sphere. The force grows as the approach to the power of about 1.1"
    " where the contact itself governs, and nearer 1 where a ring or a plate bends; never 1.5. The"
    " coefficient A goes with the exponent n beside it: do not paste it into an impact element"
    " whose exponent is fixed at 1.5. For an element without a free exponent take the linear spring"
    " or the points."
)

_POINTS_NOTE = (
    "Errors of the springs and of the points are in force, over the force that they are for; that"
    " of the power law is relative to the force at each load within its range."
)

_UNCERTAINTY_NOTE = (
    f"{words.UNCERTAINTY} Stiffness is per length of contact line; times the contact length it is"
    " the whole's, if the line bears evenly."
)


def stiffness_page(result: StiffnessResult) -> Page:
    """The whole result."""
    case = result.case
    plain = without_sharing(case)
    return framed(
        case.title,
        words.cautions(plain, evenly=True),
        Line(f"Contact stiffness: {words.how_held(plain)}"),
        Line(f"{up_to(result)} {sign(case)}"),
        GAP,
        *lines((*warnings(result), *another_law(result)), "bad"),
        *springs(result),
        *(block for section in result.sections for block in _section(case, section)),
        GAP,
        *lines(
            (
                *filter(None, [left_out(case)]), POWER_NOTE, *by_hand(case), shares_note(case),
                _POINTS_NOTE, _UNCERTAINTY_NOTE,
            )
        ),
    )  # fmt: skip


def stiffness_answer(result: StiffnessResult) -> Page:
    """The springs of a model without the post and with it, and which not to take for the other."""

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield from lines(_springs(result)[: room.named])
        yield Line(up_to(result))
        yield from lines((*warnings(result), *another_law(result)), "bad")
        for block in springs(result):
            yield spared(block, 3, room.rows) if isinstance(block, Table) else block

    what = f"Contact stiffness: {words.how_held(without_sharing(result.case))}"
    return answer_page(result.case.title, what, blocks)


def _springs(result: StiffnessResult) -> list[str]:
    """The tangent stiffness of each section at the load of the case, as either model takes it."""
    case, units = result.case, result.case.display
    said = []
    for of in result.sections:
        along, unit = case.contact_length, units.stiffness
        if along is None:
            along, unit = 1.0, units.line_stiffness
        text = f"“{words.one_line(of.section.name)}”: tangent stiffness"
        alone = words.pair(of.tangent_stiffness.over(1.0 / along), unit)
        text += f" {alone} {unit.name} of the contact alone"
        if of.with_post is not None:
            bent = unit.text(of.with_post.whole_tangent_stiffness)
            text += f", {bent} with the post's bending in series"
        said.append(f"{text}.")
    return said


def _section(case: Case, section: SectionStiffness) -> Iterator[Block]:
    name = words.one_line(section.section.name)
    yield Heading(f"{name}: {words.size(section.section, case.display)}", 2)
    yield Line(f"Approach: of {datum(case, section.section)}.")
    both = hand_over(case, section)
    yield Heading(f"Points, {points_within(both)}")
    yield points_table(case, both, case.scale)
    yield share_table(case, section)
    yield Line(_power(case, section))
    if section.ends_at < MOST:
        yield Line(
            f"The curve of “{name}” ends at {section.ends_at:.3g} times the load, as the model"
            " allows no larger patch or displacement."
        )


def _power(case: Case, section: SectionStiffness) -> str:
    """The power law, for the contact alone, of the whole contact and a specimen where stated."""
    units, power, length = case.display, section.power_law, case.contact_length
    load = units.line_load

    def text(coefficient: float, unit: Unit) -> str:
        shown = unit.of(coefficient) * units.length.held**power.exponent
        return f"{significant(shown)} {unit.name} per {units.length.name}^n"

    A = text(power.coefficient, load)
    if length is not None:
        A += f" ({text(power.coefficient * length, units.force)} as a whole)"
    if case.scale is not None:
        A += f", {specimen(case.scale)}: {text(specimen_coefficient(section, case.scale), load)}"
    return (
        f"Power law of the contact alone, q = A·δ^n: n = {power.exponent:.4f}, A = {A}; from"
        f" {load.number(power.from_line_load)} to {load.text(power.to_line_load)} within"
        f" {words.percent(power.largest_relative_error)} of the force."
    )


def specimen_coefficient(section: SectionStiffness, scale: float) -> float:
    """A of the specimen's power law, N/mm per mm^n: both line load and approach scale by S."""
    power = section.power_law
    line_load, length = factor("line load", scale), factor("length", scale)
    return float(power.coefficient * line_load / length**power.exponent)


def left_out(case: Case) -> str:
    """What of the contact the curve leaves out, or takes as said; empty for a plain one."""
    contact, parts = case.contact, list[str]()
    if contact.friction != 0.0 or contact.angle != 0.0:
        parts.append(
            "The curve is that of a square approach without friction; the case's own"
            " angle and friction are left out of it."
        )
    if contact.offset != 0.0:
        parts.append("It is that at the case's offset from the middle of the plate.")
    if case.corner is None and case.finite:
        parts.append(
            "Line loads are means along the contact, whose slices hold one another's rings back: so"
            " it is stiffer than a long one per length."
        )
    elif any(section.geometry.hollow for section in case.sections):
        parts.append("It is that of a long contact; a short one is stiffer per length.")
    if case.corner is not None:
        parts.append(
            "In the corner both loads grow together, and the approach is that towards the first"
            " plate."
        )
    return " ".join(parts)
