"""Where the energy of a blow is at a time: found apart from the integration, to check it.

What dampers and dashpot have taken is the integral of force times velocity over the motion as it
was found, by Gauss's rule within each step; everything else follows from the state alone. That the
sum is what the floor brought is a check on the motion, its forces and its partings.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass

import numpy as np

from contactfe.blow.motion import Blow, Floats
from contactfe.blow.strike import Phase, Strike, approaches
from contactfe.errors import SolveError

LARGEST_ERROR = 1e-3
"""Error of the balance, over the energy of the blow, from which on a strike is refused."""


@dataclass(frozen=True)
class Energies:
    """Where the energy is, N mm, since the gap closed."""

    floor: float  # kinetic
    bumper: float  # kinetic
    isolation: float  # work against it since closure
    bumper_spring: float
    contact: float  # elastic
    dampers: float  # taken by them
    dashpot: float  # taken by the contact's, with what it lets go where the two part under load

    @property
    def total(self) -> float:
        """The sum, N mm."""
        return float(sum(astuple(self)))

    def error(self, blow: Blow) -> float:
        """The sum over what the floor brought, less 1."""
        return self.total / blow.energy - 1.0


def energies(strike: Strike, time: float) -> Energies:
    """Where the energy is at a time of a strike, s."""
    blow = strike.blow
    dampers = dashpot = 0.0
    for phase in strike.phases:
        until = np.append(phase.times[phase.times < time], min(time, phase.times[-1]))
        more = _taken(blow, phase, until)
        dampers, dashpot = dampers + more[0], dashpot + more[1]
        if time <= phase.times[-1]:
            break
        if blow.contact.damped and phase.last:
            # A contact that parts under load keeps it in its spring, for its dashpot to take.
            stored = _stored(blow, phase.at(phase.times[-1:]))
            dashpot += stored if phase.touching else -stored
    state = phase.at(np.array([time]))
    ended = time == strike.over and strike.end == "parted"
    stored = _stored(blow, state)
    touching = phase.touching and not ended
    if ended and phase.touching:
        dashpot += stored
    way, rate = approaches(blow, state)
    force = float(blow.contact.force(way, rate, phase.met)[0]) if phase.touching else 0.0
    x, v = float(state[0, 0]), float(state[1, 0])
    mass = spring = y = 0.0
    if blow.bumper is not None:
        mass, spring, y = blow.bumper.mass, blow.bumper.spring, float(state[2, 0])
    w = blow.bumper_velocity(state[:, 0], force)
    return Energies(
        floor=0.5 * blow.mass * v**2,
        bumper=0.5 * mass * w**2,
        isolation=blow.isolation * x * (blow.gap + 0.5 * x),
        bumper_spring=0.5 * spring * y**2,
        contact=stored if touching else 0.0,
        dampers=dampers,
        dashpot=dashpot,
    )


def check_balance(strike: Strike, *at: Energies) -> None:
    """Raise SolveError where the energies of a strike do not add up to what the floor brought."""
    worst = max((energy.error(strike.blow) for energy in at), key=abs)
    if not abs(worst) <= LARGEST_ERROR:
        raise SolveError(
            f"the blow: the energies add up to {100 * (1 + worst):.4g} % of what the floor brought"
        )


def _stored(blow: Blow, state: Floats) -> float:
    way, _ = approaches(blow, state)
    return blow.contact.elastic.stored(max(float(way[0]), 0.0))


def _taken(blow: Blow, phase: Phase, until: Floats) -> tuple[float, float]:
    """What dampers and dashpot take in a phase, between times (n,), N mm."""
    points, weights = np.polynomial.legendre.leggauss(5)
    half = np.diff(until)[:, None] / 2.0
    times = (until[:-1, None] + half * (1.0 + points)).ravel()
    if len(times) == 0:
        return 0.0, 0.0
    weight = (half * weights).ravel()
    states = phase.at(times)
    way, rate = approaches(blow, states)
    elastic = blow.contact.elastic.force(way)
    dashpot, force = 0.0, np.zeros(len(times))
    if phase.touching:
        held = blow.contact.dashpot.force(way, rate, elastic, phase.met)
        dashpot, force = float(weight @ (held * rate)), elastic + held
    if blow.bumper is None:
        return 0.0, dashpot
    w = [blow.bumper_velocity(s, f) for s, f in zip(states.T, force, strict=True)]
    power = [blow.damper_force(one) * one for one in w]
    return float(weight @ power), dashpot
