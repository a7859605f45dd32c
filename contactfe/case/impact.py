"""The motion that a case states as the impact of :mod:`contactfe.impact`."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from contactfe.errors import SolveError
from contactfe.hand import closure, power_stop, stop
from contactfe.impact.bumper import Bumper
from contactfe.impact.bumper import Damper as BumperDamper
from contactfe.impact.laws import (
    Contact,
    Dashpot,
    Elastic,
    InProportion,
    LinearDashpot,
    NoDashpot,
    PowerLaw,
    PressedIn,
    Spring,
)
from contactfe.impact.motion import Impact

if TYPE_CHECKING:
    from contactfe.case.model import Case
    from contactfe.case.motion import Damper, Motion
    from contactfe.impact.response import Response

ROUNDING = 1e-9
"""What a load that is the impact force itself may fall short of it by, relative."""


def velocity_at_closure(motion: Motion) -> float:
    """Velocity of the floor as the gap closes, mm/s: as stated, or of harmonic motion."""
    if motion.velocity is not None:
        return motion.velocity
    assert motion.displacement is not None  # the tables say so
    assert motion.period is not None
    frequency = closure.circular_frequency(motion.period)
    return closure.closure_velocity(frequency, motion.displacement, motion.gap)


def isolation(motion: Motion) -> float:
    """Stiffness that drives the floor back, N/mm; 0 where the case states no period."""
    if motion.period is None:
        return 0.0
    return motion.mass * closure.circular_frequency(motion.period) ** 2


def effective_mass(motion: Motion) -> float:
    """Mass that the contact's dashpot goes by, t: of floor and bumper, or before a fixed stop.

    A bumper without a mass leaves none, 0.
    """
    if not motion.held:
        return motion.mass
    if motion.bumper_mass == 0.0:
        return 0.0
    return stop.effective_mass(motion.mass, motion.bumper_mass)


def damper_along(damper: Damper) -> BumperDamper:
    """All dampers of a kind as one in the direction of the impact, mm/s and N.

    At an angle φ each has the velocity w cos φ, and cos φ of its force counts.
    """
    share = damper.along
    force = damper.count * share * damper.reference_force
    return BumperDamper(force, damper.reference_velocity / share, damper.exponent)


def impact_of(motion: Motion, elastic: Elastic | None = None) -> Impact:
    """The impact that a motion ends in.

    ``elastic`` is the law of the contact where it is the section's own; the case states any other.
    """
    law = elastic_law(motion) if elastic is None else elastic
    bumper = None
    if motion.held:
        dampers = tuple(damper_along(damper) for damper in motion.dampers)
        bumper = Bumper(motion.bumper_mass, motion.bumper_spring, dampers)
    return Impact(
        mass=motion.mass,
        velocity=velocity_at_closure(motion),
        contact=Contact(law, _dashpot(motion)),
        bumper=bumper,
        isolation=isolation(motion),
        gap=motion.gap,
    )


def elastic_law(motion: Motion) -> Elastic:
    """The elastic law of the contact that the case states."""
    contact_law = motion.contact_law
    if contact_law.law == "linear":
        assert contact_law.stiffness is not None  # the tables say so, and below
        return Spring(contact_law.stiffness)
    assert contact_law.law == "power"
    assert contact_law.reference_force is not None
    assert contact_law.reference_approach is not None
    assert contact_law.exponent is not None
    return PowerLaw(
        contact_law.reference_force, contact_law.reference_approach, contact_law.exponent
    )


@lru_cache(maxsize=4)
def response_of(motion: Motion) -> Response:
    """The first impact of a motion whose contact law the case states; the last few are kept.

    Raises SolveError where the impact is not integrated.
    """
    from contactfe.impact.response import integrate

    return integrate(impact_of(motion))


@lru_cache(maxsize=64)
def peak_force(motion: Motion) -> float:
    """The peak contact force that a motion gives, N.

    Raises SolveError where the impact is not integrated, or its energies do not add up.
    """
    from contactfe.impact.outcome import outcome

    return outcome(response_of(motion)).contact.value


def force_of_motion(case: Case) -> float | None:
    """The peak contact force that the motion of a case gives, N, where its load states a force.

    None without a motion, where the contact is the section's own, and beside a line load alone.
    Raises SolveError as :func:`peak_force` does.
    """
    if case.motion is None or case.motion.contact_law.law == "section":
        return None
    return None if case.contact_length is None else peak_force(case.motion)


def load_covers(case: Case) -> bool:
    """Whether nothing is known against the load of a case covering the force of its motion."""
    try:
        force = force_of_motion(case)
    except SolveError:
        return False
    if force is None:
        return True
    assert case.contact_length is not None  # or no force would be known
    return case.line_load * case.contact_length >= force * (1.0 - ROUNDING)


def _dashpot(motion: Motion) -> Dashpot:
    """The dashpot that gives the restitution: after Kelvin, Ye and others, or Jankowski."""
    contact_law = motion.contact_law
    e = contact_law.restitution
    if e == 1.0:
        return NoDashpot()
    if contact_law.law == "linear":
        assert contact_law.stiffness is not None
        ratio = stop.kelvin_damping_ratio.plain(e)
        mass = effective_mass(motion)
        return LinearDashpot(stop.kelvin_dashpot.plain(contact_law.stiffness, mass, ratio))
    if contact_law.damping == "both ways":
        return InProportion(power_stop.ye_damping.plain(e))
    assert contact_law.reference_force is not None
    assert contact_law.reference_approach is not None
    beta = contact_law.reference_force / contact_law.reference_approach**1.5
    ratio = power_stop.jankowski_damping_ratio.plain(e)
    return PressedIn(ratio, beta, effective_mass(motion))
