"""The springs of a contact, for a model of the building without the post and for one that has it:
what force they are for, what bending is in them, and what is to be watched.
"""

from collections.abc import Iterator
from dataclasses import replace

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.hand_over import hand_over
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import significant
from contactfe.report import words
from contactfe.report.blocks import Block, Column, Heading, Line, Table, lines, numbers
from contactfe.report.specimen import scaled_number, specimen

NOT_MODELLED = "POST NOT MODELLED: contact with the post's bending in series"
MODELLED = "POST MODELLED AS AN ELEMENT: contact alone"
"""Headings of the two springs: what the model of the building has decides between them."""


def without_sharing(case: Case) -> Case:
    """The case as its springs take it: of the contact alone or of the post as it bends, each told
    under its own heading.
    """
    return replace(case, alignment=None, load=replace(case.load, distribution=None))


def springs(result: StiffnessResult) -> Iterator[Block]:
    """The springs of all sections, those of a model without the post and with it apart."""
    case, counted_twice = result.case, twice(result)
    if counted_twice:
        yield Heading(NOT_MODELLED, 2)
        yield Line(bends_against(case))
        yield _table(result, with_post=True)
        yield from lines(_by_energy(result))
    yield Heading(MODELLED, 2)
    yield from lines(without_bending(case))
    yield _table(result, with_post=False)
    if counted_twice:
        yield Line(counted_twice, "strong")


def _table(result: StiffnessResult, *, with_post: bool) -> Table:
    case, units = result.case, result.case.display
    along, force, stiffness = 1.0, units.line_load, units.line_stiffness
    if case.contact_length is not None:
        along, force, stiffness = case.contact_length, units.force, units.stiffness
    of = "displacement" if with_post else "approach"
    heads = [
        f"linear spring\n[{stiffness.name}]", f"up to\n[{force.name}]", "error, of\nthat force",
        f"tangent, at the\nload [{stiffness.name}]", f"{of}, at the\nload [{units.length.name}]",
    ]  # fmt: skip
    if case.scale is not None:
        heads.append(f"spring, {specimen(case.scale)}\n[{stiffness.name}]")
    rows = []
    for section in result.sections:
        post = section.with_post
        if not with_post:
            spring, error = along * section.linear.stiffness, section.linear.largest_error_over_load
            tangent, displacement = section.tangent_stiffness.over(1.0 / along), section.approach
        elif post is not None:
            spring, error = post.spring.stiffness, post.spring.largest_error_over_load
            tangent, displacement = (
                Value(post.whole_tangent_stiffness, 0.0),
                Value(post.travel, 0.0),
            )
        else:
            continue
        cells = [
            _name(section), stiffness.number(spring), force.number(along * section.up_to_line_load),
            words.percent(error), scaled_number(tangent, stiffness.dimension, 1.0, units),
            scaled_number(displacement, "length", 1.0, units),
        ]  # fmt: skip
        if case.scale is not None:
            cells.append(scaled_number(spring, stiffness.dimension, case.scale, units))
        rows.append(tuple(cells))
    return Table((Column(), *numbers(*heads)), (tuple(rows),))


_SHORT_OF = 0.98
"""Share of the force of its points below which a spring is said to come to less in an impact."""


def _by_energy(result: StiffnessResult) -> Iterator[str]:
    """That an impact on a spring with the post's bending is too soft, and the one that is not."""
    case, unit = result.case, result.case.display.stiffness
    springs = [(of, hand_over(case, of)[0]) for of in result.sections if of.with_post is not None]
    short = [
        (section, one)
        for section, one in springs
        if one.linear_force_over_points_at_equal_energy < _SHORT_OF
    ]
    if not short:
        return
    alike = ", ".join(
        f"“{_name(section)}” {unit.text(one.up_to_force**2 / (2.0 * one.energy_stored))}"
        for section, one in short
    )
    forces = [100.0 * one.linear_force_over_points_at_equal_energy for _, one in short]
    yield (
        "The contact stiffens as it is pressed: in an impact of the same energy these springs come"
        f" to {_range(forces)} % of the force of the points."
        " Take the points or, as stiffness in [contact_law], the spring that stores as much as they"
        f" do at that force, F²/(2·E): {alike}."
    )


def _name(section: SectionStiffness) -> str:
    return words.one_line(section.section.name)


def up_to(result: StiffnessResult) -> str:
    """Up to what force the springs and points go."""
    case = result.case
    own = case.display.line_load.text(case.line_load)
    if case.contact_length is not None:
        own = case.display.force.text(case.line_load * case.contact_length)
    if case.motion is not None and case.contact_length is not None:
        return (
            "Springs and points go up to the peak contact force of the impact, or to the load of"
            f" the case, {own}, if that is more."
        )
    why = "the case states no [motion], and so no impact force"
    if case.motion is not None:
        why = "without a contact_length the impact force gives no line load"
    return f"Springs and points go up to the load of the case, {own}: {why}."


def sign(case: Case) -> str:
    """What counts as positive, and from where."""
    gap = "of the gap"
    if case.motion is not None:
        gap = f"of the gap of {case.display.length.text(case.motion.gap)}, which the element has"
    return (
        "Force, approach and displacement are positive where post and plate press (compression),"
        f" counted from the closing {gap}; there is no force before, and no tension."
    )


def warnings(result: StiffnessResult) -> Iterator[str]:
    """Of which sections the points end before the impact force, as the model allows no more, and of
    which the post's most loaded slice takes more than it allows.
    """
    length, units = result.case.contact_length, result.case.display
    for section in result.sections:
        name, force, post = (
            f"“{_name(section)}”",
            section.impact.peak_contact_force,
            section.with_post,
        )
        if length is not None and section.short(length):
            end = units.force.text(float(section.points.line_load[-1]) * length)
            if force is None:
                yield (
                    f"{name}: the impact force WAS NOT FOUND, and the points end at {end}, as far"
                    f" as the model allows: {section.impact.not_found}."
                )
            else:
                yield (
                    f"{name}: the points END BEFORE the impact force of {units.force.text(force)},"
                    f" at {end}: the model allows no larger patch or displacement."
                )
        if post is not None and post.peak_line_load > section.allowed_line_load:
            load = units.line_load
            yield (
                f"{name}: with the post's bending the line load comes to"
                f" {load.text(post.peak_line_load)} at one end of the contact, and the model allows"
                f" {load.text(section.allowed_line_load)} or so; beyond, the contact goes on along"
                " its tangent."
            )


def twice(result: StiffnessResult) -> str | None:
    """What taking the one spring for the other does; None where there is but one."""
    posts = [section.with_post for section in result.sections if section.with_post is not None]
    if not posts:
        return None
    stiff = _range([post.contact_alone_over_this for post in posts])
    soft = _range([post.too_soft_if_counted_twice for post in posts])
    return (
        "Do not take the one for the other. In a model without the post, the contact alone is"
        f" {stiff} times too stiff. In a model with the post as an element, the spring with its"
        f" bending counts the bending twice and is {soft} times too soft."
    )


def _range(values: list[float]) -> str:
    return " to ".join(dict.fromkeys(significant(of, 3) for of in (min(values), max(values))))


def bends_against(case: Case) -> str:
    """The post and the plate that its bending is taken with; the case states [cantilever]."""
    assert case.cantilever is not None
    tilt = 0.0 if case.alignment is None else case.alignment.tilt
    face = f"stands at a tilt of {case.display.angle.text(tilt)}" if tilt else "stands straight"
    length = case.display.length.text(case.cantilever.length)
    return (
        f"Between the root of the post, a cantilever of {length},"
        f" and what holds the plate, which {face}."
    )


def without_bending(case: Case) -> Iterator[str]:
    """Of which sections the post's bending is in no spring, and why."""
    for without in words.without_bending(case, [s for s in case.sections if not bends(case, s)]):
        yield (
            f"{without}. It is in series with the contact and mostly the softer of the two: model"
            " the post as a beam, or put a spring for it in series."
        )


def by_hand(case: Case) -> Iterator[str]:
    """The post's own spring beside them, where it is known."""
    unit = case.display.stiffness
    springs = ", ".join(
        f"“{words.one_line(section.name)}” {unit.text(post_stiffness(case, section))}"
        for section in case.sections
        if bends(case, section)
    )
    if springs:
        yield (
            f"By hand, in the middle of an even load, the post's bending alone has {springs}: a"
            " plate that does not turn with the post is met nearer the root, where it is stiffer."
        )
