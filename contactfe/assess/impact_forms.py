"""Closed forms beside an integrated impact, each with the limits of its range."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from contactfe.case.impact import (
    damper_along,
    isolation,
    isolation_damping,
    velocity_at_closure,
)
from contactfe.case.motion import Motion
from contactfe.hand import closure, damper, overshoot, power_stop, stop
from contactfe.hand.formula import Limit, Worked, added, at_most
from contactfe.impact.outcome import Outcome

Kind = Literal["closed form", "bound", "limit", "dashpot", "first order"]
"""What a form gives: the value itself, one that is never passed, one that is tended to, a figure of
the dashpot that goes into the law, or the first term of an exact value that stands beside it."""

LARGEST_ISOLATION = 0.01
"""Isolation's force at closure over the peak contact force up to which it counts for nothing: about
the error that leaving it out makes; a choice made here."""

LARGEST_MASS, LARGEST_SLOWING = 0.05, 0.02
"""Mass of the bumper over the floor's, and share of its velocity that the floor loses up to the
peak, up to which the floor counts as unvarying: choices made here."""


@dataclass(frozen=True)
class Beside:
    """A form, its kind, and the integrated figure that it is put beside, if there is one."""

    kind: Kind
    worked: Worked
    integrated: float | None = None


def closure_steps(motion: Motion) -> tuple[Worked, ...]:
    """Frequency, velocity at closure and pseudo-velocity; none where the velocity is stated."""
    if motion.period is None or motion.displacement is None:
        return ()
    frequency = closure.circular_frequency.worked(motion.period)
    at, D, gap, k = frequency.value, motion.displacement, motion.gap, isolation(motion)
    pseudo = replace(
        closure.pseudo_velocity.worked(at, D), name="pseudo-velocity: greatest of harmonic motion"
    )
    if not motion.damping:
        return (frequency, closure.closure_velocity.worked(at, D, gap), pseudo)
    taken = closure.damping_energy.worked(k, D, gap, motion.damping)
    return (
        frequency,
        closure.damped_closure_velocity.worked(at, D, gap, motion.damping),
        pseudo,
        taken,
        closure.closure_energy.worked(k, D, gap, taken.value),
    )


ASSUMED_DAMPING = 0.1
"""Damping ratio that a page has the velocity at closure for where the case states none: an example,
common practice for isolation systems, no source."""


def velocity_if_damped(motion: Motion) -> float | None:
    """Velocity at closure, mm/s, with that damping; None where it is stated, or damping is."""
    if motion.velocity is not None or motion.damping is not None:
        return None
    return velocity_at_closure(replace(motion, damping=ASSUMED_DAMPING))


def damper_steps(motion: Motion) -> tuple[Worked, ...]:
    """Force in the direction of the impact of each kind of damper, at closure, and of all."""
    velocity = velocity_at_closure(motion)
    steps = []
    for number, one in enumerate(motion.dampers, 1):
        along = damper_along(one)
        step = damper.damper_force.worked(
            velocity, along.reference_force, along.reference_velocity, along.exponent
        )
        name = f"force of dampers {number} in the direction of the impact, all at their angle"
        steps.append(replace(step, name=name))
    if len(steps) == 1:
        name = "force of the dampers in the direction of the impact"
        return (replace(steps[0], name=name, symbol="F0"),)
    if steps:
        name = "force of all dampers in the direction of the impact"
        steps.append(added("damper.all", name, "F0", *steps))
    return tuple(steps)


def forms(motion: Motion, found: Outcome, damping: tuple[Worked, ...]) -> tuple[Beside, ...]:
    """Every form that applies to an impact."""
    dashpot = tuple(Beside("dashpot", worked) for worked in _dashpot(motion))
    dashpot += tuple(_isolation_damping(motion))
    beside = _held(motion, found, damping) if motion.held else _fixed(motion, found)
    return (*dashpot, *beside)


def without(motion: Motion) -> str | None:
    """Why an impact has no closed form of its peak force; None where it has one."""
    contact_law = motion.contact_law
    if contact_law.law == "section":
        return "the contact follows the section's own curve"
    if not motion.held:
        damped = contact_law.restitution < 1.0 and contact_law.law == "power"
        return "a dashpot stands beside a power law" if damped else None
    if motion.bumper_spring > 0.0:
        return "a spring holds the bumper"
    if contact_law.restitution < 1.0:
        return "a dashpot of the contact adds to what the bumper's mass does"
    return None


def _isolation_damping(motion: Motion) -> Iterator[Beside]:
    """What damping takes from the gap to rest to first order, beside the exact value."""
    if motion.damping and motion.displacement is not None:
        stated = isolation(motion), motion.displacement, motion.gap, motion.damping
        exact = closure.damping_energy.plain(*stated)
        yield Beside("first order", closure.damping_energy_first_order.worked(*stated), exact)


def _dashpot(motion: Motion) -> Iterator[Worked]:
    contact_law = motion.contact_law
    e = contact_law.restitution
    if e == 1.0:
        return
    if contact_law.law == "linear":
        yield stop.kelvin_damping_ratio.worked(e)
    elif contact_law.damping == "both ways":
        yield power_stop.ye_damping.worked(e)
    else:
        yield power_stop.jankowski_damping_ratio.worked(e)


def _fixed(motion: Motion, found: Outcome) -> Iterator[Beside]:
    contact_law, m, v = motion.contact_law, motion.mass, velocity_at_closure(motion)
    e = contact_law.restitution
    force, penetration = found.peak_contact_force.value, found.peak_approach.value
    driven = at_most("kiso·g/F", isolation(motion) * motion.gap / force, LARGEST_ISOLATION)
    damping = isolation_damping(motion) * v / force
    limits = (driven, at_most("c·v/F", damping, LARGEST_ISOLATION)) if damping else (driven,)

    def beside(worked: Worked, of: float | None) -> Beside:
        return Beside("closed form", worked.also(*limits), of)

    if contact_law.law == "linear":
        k = contact_law.stiffness
        assert k is not None  # the tables say so, and below
        if e == 1.0:
            yield beside(stop.linear_peak_force.worked(v, k, m), force)
            yield beside(stop.linear_peak_penetration.worked(v, k, m), penetration)
            yield beside(stop.linear_duration.worked(k, m), found.response.over)
            return
        ratio = stop.kelvin_damping_ratio.plain(e)
        yield beside(stop.kelvin_peak_force.worked(v, k, m, ratio), force)
        yield beside(stop.kelvin_peak_penetration.worked(v, k, m, ratio), penetration)
        yield beside(stop.kelvin_restitution.worked(ratio), found.restitution)
        return
    zeta = power_stop.ye_damping.plain(e)
    if contact_law.law == "power" and contact_law.damping == "both ways":
        law = _power(motion)
        if e == 1.0:
            yield beside(power_stop.power_peak_force.worked(v, m, *law), force)
        yield beside(power_stop.damped_peak_penetration.worked(v, m, *law, zeta), penetration)
    if e < 1.0 and contact_law.damping == "both ways":
        yield beside(power_stop.damped_restitution.worked(zeta), found.restitution)


def _held(motion: Motion, found: Outcome, damping: tuple[Worked, ...]) -> Iterator[Beside]:
    contact_law, v = motion.contact_law, velocity_at_closure(motion)
    if not motion.dampers or motion.bumper_spring > 0.0 or contact_law.restitution < 1.0:
        return
    force, mass = damping[-1].value, motion.bumper_mass
    if mass == 0.0:
        name = "bound without a mass of the bumper: force of the dampers at closure"
        yield Beside("bound", replace(damping[-1], name=name), found.peak_contact_force.value)
        return
    heavy = (
        at_most("mb/M", mass / motion.mass, LARGEST_MASS),
        at_most("velocity that the floor loses up to the peak, of v", found.slowed,
                LARGEST_SLOWING),
    )  # fmt: skip
    if contact_law.law == "linear":
        k = contact_law.stiffness
        assert k is not None
        yield from _beside_linear(motion, found, (v, force, k, mass), heavy)
        yield Beside(
            "bound",
            overshoot.damper_bound.worked(v, force, k, mass),
            found.peak_contact_force.value,
        )
    elif contact_law.law == "power":
        law = _power(motion)
        bound = overshoot.power_damper_bound.worked(v, force, mass, *law)
        yield Beside("bound", bound, found.peak_contact_force.value)


def _beside_linear(
    motion: Motion,
    found: Outcome,
    impact: tuple[float, float, float, float],
    heavy: tuple[Limit, ...],
) -> Iterator[Beside]:
    exponents = [one.exponent for one in motion.dampers]
    if set(exponents) == {1.0}:
        worked = overshoot.linear_damper_peak.worked(*impact)
        yield Beside("closed form", worked.also(*heavy), found.peak_contact_force.value)
    else:
        worked = overshoot.friction_peak.worked(*impact, max(exponents))
        yield Beside("limit", worked.also(*heavy), found.peak_contact_force.value)


def _power(motion: Motion) -> tuple[float, float, float]:
    contact_law = motion.contact_law
    assert contact_law.reference_force is not None
    assert contact_law.reference_approach is not None
    assert contact_law.exponent is not None
    return contact_law.reference_force, contact_law.reference_approach, contact_law.exponent
