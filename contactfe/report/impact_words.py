"""What the pages and figures of an impact say in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.assess.impact_figures import ROOT
from contactfe.assess.impact_forms import without
from contactfe.assess.nearby import SENSITIVE, SHARE, Key, Nearby
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.case.motion import Damper, Motion
from contactfe.report import words

CAUTIONS = (
    "The figures are those of the first impact alone, of two masses in line with it: no second"
    " impact, no rotation, no ground motion meanwhile, dampers at the angle that they have at"
    " closure, and post, plate and their supports elastic however hard the impact: whether they"
    " stay below yield, compare says, and of the post's root hand. A stated contact law has the"
    " post's bending along its axis as far as its stiffness does; a section's own curve has it"
    " where the page says so.",
    "A record may move the floor faster than harmonic motion does, and past ω·u0; restitution,"
    " stiffness and effective period are the user's.",
    "The greatest displacement of the floor is not a damper stroke: the ground, which goes on to"
    " move in an earthquake, does not drive the floor here. Take the stroke from a time history.",
    *words.JUDGEMENT,
)

ENERGIES = (
    ("floor", "floor, kinetic"),
    ("bumper", "bumper, kinetic"),
    ("isolation", "isolation, work against it since closure"),
    ("bumper_spring", "spring of the bumper"),
    ("contact", "contact, elastic"),
    ("dampers", "taken by the dampers"),
    ("dashpot", "taken by the contact's dashpot"),
)
"""Parts of the energy in the order of the table, by their names in :class:`.Energies`."""

NEARBY: dict[Key, str] = {
    "displacement_minus_10_percent": f"displacement {-100 * SHARE:+.0f} %",
    "displacement_plus_10_percent": f"displacement {100 * SHARE:+.0f} %",
    "pseudo_velocity": "v = ω·u0",
}
"""Labels of the motions near the one stated."""

PSEUDO_VELOCITY = (
    "ω·u0 is the greatest velocity of harmonic motion of that displacement and period. It is no"
    " bound for an earthquake: relative velocities of long-period, highly damped floors exceed it."
    " State velocity, at closure of the gap, from a time history where there is one."
)

HOW_FOUND = (
    "Energies are found apart from the motion, by quadrature of what dampers and dashpot take; that"
    " they add up to the energy at closure is the check on it."
)


def given(motion: Motion, units: Display) -> Iterator[str]:
    """What the case states of the motion, a line for each body."""
    length, time = units.length, units.time
    if motion.velocity is not None:
        moves = f"{units.velocity.text(motion.velocity)} at closure, as stated; it then moves free"
    else:
        assert motion.displacement is not None  # the tables say so
        assert motion.period is not None
        moves = (
            f"{length.text(motion.displacement)} expected without the stop, effective period"
            f" {time.text(motion.period)}, whose stiffness drives it back"
        )
    yield f"Floor: {units.mass.text(motion.mass)}, gap {length.text(motion.gap)}, {moves}."
    yield f"Stop: {_stop(motion, units)}."
    yield f"Contact: {contact(motion, units)}."


def along_the_axis(case: Case) -> Iterator[str]:
    """What of the post's bending along its axis is in the figures of an impact."""
    assert case.motion is not None
    if case.motion.contact_law.law != "section":
        if case.alignment is not None:
            yield "The line load is the mean: how the post's bending shares it out, compare says."
        return
    from contactfe.assess.beam import bends

    bent = [section for section in case.sections if bends(case, section)]
    if bent:
        assert case.cantilever is not None
        length = case.display.length.text(case.cantilever.length)
        yield (
            f"The post bends along its axis, as a cantilever of {length}, in series with that"
            f" curve, against {_face(case)}."
        )
    others = [s for s in case.sections if s not in bent and case.hold(s) != "diametral"]
    names = [f"“{words.one_line(s.name)}”" for s in others]
    if names:
        of = f" of {', '.join(names)}" if bent else ""
        why = "which is known of rounds held by beam shear on one plate"
        if case.cantilever is None:
            why = "as the case states no [cantilever]"
        yield (
            f"NOT IN IT is the bending of the post{of} along its axis, {why}: it would lower the"
            " force and increase the displacement."
        )


def _face(case: Case) -> str:
    """The plate that a post bends against."""
    alignment, units = case.alignment, case.display.angle
    if alignment is None or alignment.assumed:
        return (
            "a plate that stands straight; one that turned with the post would be struck less hard"
        )
    if alignment.tilt == alignment.misalignment == 0.0:
        return "a plate that stands straight"
    if alignment.misalignment == 0.0:
        return f"a plate at a tilt of {units.text(alignment.tilt)}"
    return (
        f"a plate at a tilt of {units.text(alignment.tilt)}, or that with"
        f" {units.text(alignment.misalignment)} more or less: the hardest impact counts"
    )


def _stop(motion: Motion, units: Display) -> str:
    if not motion.held:
        return "fixed"
    mass = units.mass.text(motion.bumper_mass) if motion.bumper_mass else "without mass"
    holds = []
    if motion.dampers:
        kinds = len(motion.dampers)
        holds.append("dampers" if kinds == 1 else f"dampers of {kinds} kinds")
    if motion.bumper_spring:
        holds.append(f"a spring of {units.stiffness.text(motion.bumper_spring)}")
    return f"bumper {mass} on {' and '.join(holds)}"


def contact(motion: Motion, units: Display) -> str:
    """The law of the contact, with its dashpot."""
    contact_law = motion.contact_law
    if contact_law.law == "linear":
        assert contact_law.stiffness is not None  # the tables say so, and below
        law = f"linear spring of {units.stiffness.text(contact_law.stiffness)}"
        dashpot = "a dashpot beside it (Kelvin)"
    elif contact_law.law == "power":
        assert contact_law.reference_force is not None
        assert contact_law.reference_approach is not None
        assert contact_law.exponent is not None
        law = (
            f"power law of exponent {contact_law.exponent:g},"
            f" {units.force.text(contact_law.reference_force)} at"
            f" {units.length.text(contact_law.reference_approach)}"
        )
        both = contact_law.damping == "both ways"
        dashpot = (
            "damped both ways in proportion to it (after Ye and others)"
            if both
            else "damped while pressed in (after Jankowski)"
        )
    else:
        law = "the section's own force–approach curve, by finite elements, times the contact length"
        dashpot = "damped both ways in proportion to it (after Ye and others)"
    if contact_law.restitution == 1.0:
        return f"{law}, elastic"
    return f"{law}; restitution {contact_law.restitution:g}, {dashpot}"


def coefficient_unit(damper: Damper, units: Display) -> str:
    """Unit of C in F = C·v^α."""
    return f"{units.force.name}/({units.velocity.name})^{damper.exponent:g}"


def coefficient(damper: Damper, units: Display) -> float:
    """C of one damper in that unit."""
    speed = units.velocity.of(damper.reference_velocity)
    return float(units.force.of(damper.reference_force) / speed**damper.exponent)


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


def root(result: ImpactResult, impact: SectionImpact) -> str | None:
    """That the post would yield at its root under the force, where it would."""
    if impact.section is None:
        return None
    stress = next((f.value for f in impact.figures if f.key == ROOT), 0.0)
    allowed = result.case.post_material(impact.section).yield_strength
    if stress <= allowed:
        return None
    unit = result.case.display.stress
    return (
        f"The root of the post is ABOVE YIELD under this force: {unit.text(stress)} of bending by"
        f" {unit.text(allowed)}. It is that of a post which stays elastic, as this one does not."
    )


def covers(result: ImpactResult, impact: SectionImpact) -> str:
    """Whether the force that the case states covers the peak contact force."""
    units = result.case.display
    force = units.force.text(impact.contact.value)
    if impact.ratio is None:
        return (
            f"[load] states a line load alone: whether it covers {force} is not known without a"
            " contact_length."
        )
    share = significant(impact.ratio, 4)
    stated = units.force.text(impact.ratio * impact.contact.value)
    if abs(impact.ratio - 1.0) < 1e-9:
        return f"The load of the case is this force, {force}."
    if impact.covered:
        return f"The force of [load], {stated}, covers {force}: {share} of it."
    return f"The force of [load], {stated}, DOES NOT COVER {force}: it is {share} of it."


def sensitivity(result: ImpactResult, impact: SectionImpact) -> str | None:
    """How much more force a tenth more displacement gives, where that is much."""
    motion = result.motion
    if not impact.sensitive or motion.displacement is None:
        return None
    plus = next(one for one in impact.nearby if one.key == "displacement_plus_10_percent")
    more = "a force that was not found"
    if plus.force is not None:
        more = f"{100.0 * (plus.force / impact.contact.value - 1.0):+.0f} % of force"
    return (
        f"SENSITIVE to the displacement: {100 * SHARE:+.0f} % of it gives {more}, more than the"
        f" {100 * SENSITIVE:+.0f} % from which on this line is printed. The gap is"
        f" {significant(motion.gap / motion.displacement, 3)} of the displacement, and the velocity"
        " at closure falls to zero as the gap nears it."
    )


def nearby_force(one: Nearby, units: Display) -> str:
    """The force of a motion near the one stated, or why there is none."""
    if one.force is None:
        return "not found"
    return units.force.number(one.force) if one.velocity else "0, the gap stays open"


def not_found(result: ImpactResult, impact: SectionImpact) -> str | None:
    """Of which motions near the one stated the force was not found, and why."""
    lost = [one for one in impact.nearby if one.why is not None]
    if not lost:
        return None
    names = ", ".join(NEARBY[one.key] for one in lost)
    why = lost[0].why
    if result.motion.contact_law.law == "section":
        why = f"beyond the range of the model: {why}"
    return f"Not found: {names}: {why}."


def no_form(motion: Motion) -> str | None:
    """Why no closed form of the peak force stands beside it."""
    why = without(motion)
    return None if why is None else f"No closed form of the peak force: {why}."
