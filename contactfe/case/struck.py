"""The motion that a case states as the blow of :mod:`contactfe.blow`."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from contactfe.blow.bumper import Bumper
from contactfe.blow.bumper import Damper as Along
from contactfe.blow.laws import (
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
from contactfe.blow.motion import Blow
from contactfe.errors import SolveError
from contactfe.hand import closure, power_stop, stop

if TYPE_CHECKING:
    from contactfe.blow.strike import Strike
    from contactfe.case.model import Case
    from contactfe.case.motion import Damper, Demand

ROUNDING = 1e-9
"""What a load that is the blow itself may fall short of it by, relative."""


def velocity_at_closure(demand: Demand) -> float:
    """Velocity of the floor as the gap closes, mm/s: as stated, or of harmonic motion."""
    if demand.velocity is not None:
        return demand.velocity
    assert demand.displacement is not None  # the tables say so
    assert demand.period is not None
    frequency = closure.circular_frequency(demand.period)
    return closure.closure_velocity(frequency, demand.displacement, demand.gap)


def isolation(demand: Demand) -> float:
    """Stiffness that drives the floor back, N/mm; 0 where the case states no period."""
    if demand.period is None:
        return 0.0
    return demand.mass * closure.circular_frequency(demand.period) ** 2


def effective_mass(demand: Demand) -> float:
    """Mass that the contact's dashpot goes by, t: of floor and bumper, or before a fixed stop."""
    if not demand.held:
        return demand.mass
    return stop.effective_mass(demand.mass, demand.bumper_mass)


def damper_along(damper: Damper) -> Along:
    """All dampers of a kind as one in the direction of the blow, mm/s and N.

    At an angle φ each has the velocity w cos φ, and cos φ of its force counts.
    """
    share = damper.along
    force = damper.count * share * damper.reference_force
    return Along(force, damper.reference_velocity / share, damper.exponent)


def blow_of(demand: Demand, elastic: Elastic | None = None) -> Blow:
    """The blow that a motion ends in.

    ``elastic`` is the law of the contact where it is the section's own; the case states any other.
    """
    law = elastic_law(demand) if elastic is None else elastic
    bumper = None
    if demand.held:
        dampers = tuple(damper_along(damper) for damper in demand.dampers)
        bumper = Bumper(demand.bumper_mass, demand.bumper_spring, dampers)
    return Blow(
        mass=demand.mass,
        velocity=velocity_at_closure(demand),
        contact=Contact(law, _dashpot(demand)),
        bumper=bumper,
        isolation=isolation(demand),
        gap=demand.gap,
    )


def elastic_law(demand: Demand) -> Elastic:
    """The elastic law of the contact that the case states."""
    impact = demand.impact
    if impact.law == "linear":
        assert impact.stiffness is not None  # the tables say so, and below
        return Spring(impact.stiffness)
    assert impact.law == "power"
    assert impact.reference_force is not None
    assert impact.reference_approach is not None
    assert impact.exponent is not None
    return PowerLaw(impact.reference_force, impact.reference_approach, impact.exponent)


@lru_cache(maxsize=4)
def struck(demand: Demand) -> Strike:
    """The first strike of a motion whose contact has a law of its own; the last few are kept.

    Raises SolveError where the blow is not integrated.
    """
    from contactfe.blow.strike import strike

    return strike(blow_of(demand))


def peak_force(demand: Demand) -> float:
    """The peak contact force that a motion gives, N.

    Raises SolveError where the blow is not integrated, or its energies do not add up.
    """
    from contactfe.blow.energy import check_balance, energies
    from contactfe.blow.history import peak

    found = struck(demand)
    top = peak(found, "contact_force")
    check_balance(found, energies(found, top.time), energies(found, found.over))
    return top.value


def demanded(case: Case) -> float | None:
    """The peak contact force that the motion of a case gives, N, where its load tells a force.

    None without a motion, where the contact is the section's own, and beside a line load alone.
    Raises SolveError as :func:`peak_force` does.
    """
    if case.demand is None or case.demand.impact.law == "section":
        return None
    return None if case.effective_length is None else peak_force(case.demand)


def load_covers(case: Case) -> bool:
    """Whether nothing is known against the load of a case covering the blow of its motion."""
    try:
        force = demanded(case)
    except SolveError:
        return False
    if force is None:
        return True
    assert case.effective_length is not None  # or it would not be known
    return case.line_load * case.effective_length >= force * (1.0 - ROUNDING)


def _dashpot(demand: Demand) -> Dashpot:
    """What gives back the restitution: after Kelvin, Ye and others, or Jankowski."""
    impact = demand.impact
    e = impact.restitution
    if e == 1.0:
        return NoDashpot()
    if impact.law == "linear":
        assert impact.stiffness is not None
        ratio = stop.kelvin_damping_ratio.plain(e)
        return LinearDashpot(2.0 * ratio * (impact.stiffness * effective_mass(demand)) ** 0.5)
    if impact.damping == "both ways":
        return InProportion(power_stop.ye_damping.plain(e))
    assert impact.reference_force is not None
    assert impact.reference_approach is not None
    beta = impact.reference_force / impact.reference_approach**1.5
    ratio = power_stop.jankowski_damping_ratio.plain(e)
    return PressedIn(ratio, beta, effective_mass(demand))
