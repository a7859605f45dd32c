"""The motion that a case states as the impact of :mod:`contactfe.impact`."""

from __future__ import annotations

from dataclasses import dataclass
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
    from contactfe.case.motion import Damper, Level, Motion
    from contactfe.impact.outcome import Outcome

ROUNDING = 1e-9
"""What a load that is the impact force itself may fall short of it by, relative."""


def velocity_at_closure(motion: Motion) -> float:
    """Velocity of the floor as the gap closes, mm/s: as stated, or of free vibration, which comes
    to rest at the displacement.

    Of a motion at one level whose gap closes.
    """
    if motion.velocity is not None:
        return motion.velocity
    assert motion.displacement is not None  # the tables say so
    assert motion.period is not None
    frequency = closure.circular_frequency(motion.period)
    if not motion.damping:
        return closure.closure_velocity(frequency, motion.displacement, motion.gap)
    return closure.damped_closure_velocity(
        frequency, motion.displacement, motion.gap, motion.damping
    )


def stated_energy(motion: Motion, force: float) -> float | None:
    """Energy, N mm, up to a ``force``, N, in the law that the impact force was found with.

    An impact comes to the force at which the contact has taken its energy. None where the law is
    the section's own curve, as it is then the one handed over.
    """
    law = motion.contact_law
    if law.law == "section":
        return None
    if law.law == "linear":
        assert law.stiffness is not None  # the tables say so, and below
        return force**2 / (2.0 * law.stiffness)
    assert law.reference_force is not None
    assert law.reference_approach is not None
    assert law.exponent is not None
    share = force / law.reference_force
    approach = law.reference_approach * share ** (1.0 / law.exponent)
    return float(force * approach / (law.exponent + 1.0))


def isolation(motion: Motion) -> float:
    """Stiffness that drives the floor back, N/mm; 0 where the case states no period."""
    if motion.period is None:
        return 0.0
    return motion.mass * closure.circular_frequency(motion.period) ** 2


def isolation_damping(motion: Motion) -> float:
    """Coefficient of the isolation's viscous damping, N s/mm; 0 where the case states none."""
    if motion.period is None or motion.damping is None:
        return 0.0
    return 2.0 * motion.damping * motion.mass * closure.circular_frequency(motion.period)


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


def impact_of(
    motion: Motion, elastic: Elastic | None = None, velocity: float | None = None
) -> Impact:
    """The impact that a motion ends in.

    ``elastic`` is the law of the contact where it is the section's own; the case states any other.
    ``velocity`` at closure, mm/s, takes the place of that of the motion.
    """
    law = elastic_law(motion) if elastic is None else elastic
    bumper = None
    if motion.held:
        dampers = tuple(damper_along(damper) for damper in motion.dampers)
        bumper = Bumper(motion.bumper_mass, motion.bumper_spring, dampers)
    return Impact(
        mass=motion.mass,
        velocity=velocity_at_closure(motion) if velocity is None else velocity,
        contact=Contact(law, _dashpot(motion)),
        bumper=bumper,
        isolation=isolation(motion),
        gap=motion.gap,
        damping=isolation_damping(motion),
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


def outcome_of(motion: Motion) -> Outcome:
    """The first impact of a motion at one level whose contact law the case states; some are kept.

    Raises SolveError where the impact is not integrated, or its energies do not add up.
    """
    found = _outcome_or_why(motion)
    if isinstance(found, SolveError):
        raise SolveError(*found.args)  # anew: one that is kept would gather what it passes
    return found


@lru_cache(maxsize=32)
def _outcome_or_why(motion: Motion) -> Outcome | SolveError:
    """The same, or why there is none, which takes as long to find."""
    from contactfe.impact.outcome import outcome
    from contactfe.impact.response import integrate

    try:
        return outcome(integrate(impact_of(motion)))
    except SolveError as error:
        return error.with_traceback(None)


@dataclass(frozen=True)
class LevelForce:
    """The peak contact force, N, at a level of hazard: 0 where the gap stays open.

    ``motion`` is the one at that level.
    """

    level: Level
    motion: Motion
    force: float


def forces_by_level(motion: Motion) -> tuple[LevelForce, ...]:
    """The peak contact force at each level of a motion whose contact law the case states.

    One level without a name where the motion states none. Raises SolveError as above.
    """
    every = ((level, motion.at(level)) for level in motion.all_levels)
    return tuple(
        LevelForce(level, at, outcome_of(at).peak_contact_force.value if at.closes else 0.0)
        for level, at in every
    )


def governing_level(motion: Motion) -> LevelForce:
    """The level of the greatest peak contact force. Raises SolveError as above."""
    return max(forces_by_level(motion), key=lambda at: at.force)


def peak_force(motion: Motion) -> float:
    """The peak contact force that a motion gives, N: of its levels, the greatest.

    Raises SolveError as above.
    """
    return governing_level(motion).force


def force_of_motion(case: Case) -> float | None:
    """The peak contact force that the motion of a case gives, N, where its load states a force.

    None without a motion, where the contact is the section's own, and beside a line load alone.
    Raises SolveError as :func:`peak_force` does.
    """
    if case.motion is None or case.motion.contact_law.law == "section":
        return None
    return None if case.contact_length is None else peak_force(case.motion)


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
