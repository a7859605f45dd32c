"""What an impact is found from: floor, stop, contact and dampers as the case states them, and what
of the post's bending is in it.
"""

from __future__ import annotations

from collections.abc import Iterator

from contactfe.assess.impact import ImpactResult
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.case.motion import Damper, Motion
from contactfe.hand.similitude import damper_factor
from contactfe.report import words
from contactfe.report.blocks import Row, Table
from contactfe.report.specimen import figure_row, figure_table


def given(result: ImpactResult) -> Iterator[str]:
    """A line for each body and for the contact, and what of the post's bending is in it."""
    motion, units = result.motion, result.case.display
    length = units.length
    if motion.levels:
        moves = f"at {len(motion.levels)} levels of hazard{_isolated(motion, units)}"
    elif motion.velocity is not None:
        moves = f"{units.velocity.text(motion.velocity)} at closure, as stated; it then moves free"
    else:
        assert motion.displacement is not None  # the tables say so
        assert motion.period is not None
        moves = (
            f"{length.text(motion.displacement)} expected without the stop, effective period"
            f" {units.time.text(motion.period)}, whose stiffness drives it back{_damped(motion)}"
        )
    yield f"Floor: {units.mass.text(motion.mass)}, gap {length.text(motion.gap)}, {moves}."
    yield f"Stop: {_stop(motion, units)}."
    yield f"Contact: {contact(motion, units)}."
    yield from along_the_axis(result.case)


def _isolated(motion: Motion, units: Display) -> str:
    """Period and damping that the levels share."""
    period = "" if motion.period is None else f", effective period {units.time.text(motion.period)}"
    return f"{period}{_damped(motion)}"


def _damped(motion: Motion) -> str:
    if motion.damping is None:
        return ""
    return f", damping ratio of the isolation {motion.damping:g} (viscous)"


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
    stated = motion.contact_law
    dashpot = "damped both ways in proportion to it (after Ye and others)"
    if stated.law == "linear":
        assert stated.stiffness is not None  # the tables say so, and below
        law = f"linear spring of {units.stiffness.text(stated.stiffness)}"
        dashpot = "a dashpot beside it (Kelvin)"
    elif stated.law == "power":
        assert stated.reference_force is not None
        assert stated.reference_approach is not None
        law = (
            f"power law of exponent {stated.exponent:g}, {units.force.text(stated.reference_force)}"
            f" at {units.length.text(stated.reference_approach)}"
        )
        if stated.damping != "both ways":
            dashpot = "damped while pressed in (after Jankowski)"
    else:
        law = "the section's own force–approach curve, by finite elements, times the contact length"
    if stated.restitution == 1.0:
        return f"{law}, elastic"
    return f"{law}; restitution {stated.restitution:g}, {dashpot}"


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
            f" curve, against a plate {_face(case)}."
        )
    others = [s for s in case.sections if s not in bent and not case.support(s).half]
    for without in words.without_bending(case, others):
        yield f"{without}: it would lower the force and increase the displacement."


def _face(case: Case) -> str:
    """How the plate that a post bends against stands."""
    alignment, units = case.alignment, case.display.angle
    if alignment is None or (alignment.assumed and alignment.off == 0.0):
        return "that stands straight; one that turned with the post would be struck less hard"
    if alignment.tilt == alignment.off == 0.0:
        return "that stands straight"
    tilt = f"at a tilt of {units.text(alignment.tilt)}"
    if alignment.off == 0.0:
        return tilt
    return (
        f"{tilt}, or that with {units.text(alignment.off)} more or less: the hardest impact counts"
    )


def damper_table(result: ImpactResult) -> Iterator[Table]:
    """The law F = C·v^α of each kind of damper, which a specimen has another C of."""
    case, kinds = result.case, result.motion.dampers
    several = len(kinds) > 1
    groups = [
        _damper(one, f" of kind {number}" if several else "", case)
        for number, one in enumerate(kinds, 1)
    ]
    if groups:
        yield figure_table(case, "Dampers: F = C·v^α along their axis", groups)


def _damper(one: Damper, kind: str, case: Case) -> Iterator[Row]:
    force, velocity = case.display.force, case.display.velocity
    C = force.of(one.reference_force) / velocity.of(one.reference_velocity) ** one.exponent
    scaled = C * damper_factor(case.scale or 1.0, one.exponent)
    unit = f"{force.name}/({velocity.name})^{one.exponent:g}"
    yield (f"how many{kind}", "", "1", *(str(one.count),) * 2)
    yield "coefficient of one", "C", unit, significant(C), significant(scaled)
    yield ("exponent", "α", "1", *(f"{one.exponent:g}",) * 2)
    yield figure_row(case, "angle to the impact direction", "φ", one.angle, "angle")
