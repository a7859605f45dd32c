"""Where the energy of an impact is at a time: found apart from the integration, to check it.

What dampers, dashpot and the damping of the isolation have taken is the integral of force times
velocity over the motion as it was found, by Gauss's rule within each step; everything else follows
from the state alone. That the sum is the energy at closure is a check on the motion, its forces and
its partings.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass

import numpy as np

from contactfe.errors import SolveError
from contactfe.impact.motion import Floats, Impact
from contactfe.impact.response import Phase, Response

LARGEST_ERROR = 1e-3
"""Error of the balance, over the energy of the impact, from which on a response is refused."""


@dataclass(frozen=True)
class Energies:
    """Where the energy is, N mm, since the gap closed."""

    floor: float  # kinetic
    bumper: float  # kinetic
    isolation: float  # work against its stiffness since closure
    isolation_damping: float  # taken by it
    bumper_spring: float
    contact: float  # elastic
    dampers: float  # taken by them
    dashpot: float  # taken by the contact's, with what it lets go where the two part under load

    @property
    def total(self) -> float:
        """The sum, N mm."""
        return float(sum(astuple(self)))

    def error(self, impact: Impact) -> float:
        """The sum over the energy at closure, less 1."""
        return self.total / impact.energy - 1.0


def energies(response: Response, time: float) -> Energies:
    """Where the energy is at a time of an impact, s."""
    impact = response.impact
    dampers = dashpot = damping = 0.0
    for phase in response.phases:
        until = np.append(phase.times[phase.times < time], min(time, phase.times[-1]))
        more = _taken(impact, phase, until)
        dampers, dashpot, damping = dampers + more[0], dashpot + more[1], damping + more[2]
        if time <= phase.times[-1]:
            break
        if impact.contact.damped and phase.last:
            # A contact that parts under load keeps it in its spring, for its dashpot to take.
            stored = _stored(impact, phase.at(phase.times[-1:]))
            dashpot += stored if phase.touching else -stored
    state = phase.at(np.array([time]))
    ended = time == response.over and response.end == "parted"
    stored = _stored(impact, state)
    touching = phase.touching and not ended
    if ended and phase.touching:
        dashpot += stored
    approach, rate = impact.approach(state)
    force = float(impact.contact.force(approach, rate, phase.met)[0]) if phase.touching else 0.0
    x, v = float(state[0, 0]), float(state[1, 0])
    mass = spring = y = 0.0
    if impact.bumper is not None:
        mass, spring, y = impact.bumper.mass, impact.bumper.spring, float(state[2, 0])
    w = impact.bumper_velocity(state[:, 0], force)
    return Energies(
        floor=0.5 * impact.mass * v**2,
        bumper=0.5 * mass * w**2,
        isolation=impact.isolation * x * (impact.gap + 0.5 * x),
        isolation_damping=damping,
        bumper_spring=0.5 * spring * y**2,
        contact=stored if touching else 0.0,
        dampers=dampers,
        dashpot=dashpot,
    )


def check_balance(response: Response, *at: Energies) -> None:
    """Raise SolveError where the energies of an impact do not add up to the energy at closure."""
    worst = max((energy.error(response.impact) for energy in at), key=abs)
    if not abs(worst) <= LARGEST_ERROR:
        raise SolveError(
            f"the impact: the energies add up to {100 * (1 + worst):.4g} % of the energy at closure"
        )


def _stored(impact: Impact, state: Floats) -> float:
    approach, _ = impact.approach(state)
    return impact.contact.elastic.stored(max(float(approach[0]), 0.0))


def _taken(impact: Impact, phase: Phase, until: Floats) -> tuple[float, float, float]:
    """What dampers, dashpot and isolation take in a phase, between times (n,), N mm."""
    points, weights = np.polynomial.legendre.leggauss(5)
    half = np.diff(until)[:, None] / 2.0
    times = (until[:-1, None] + half * (1.0 + points)).ravel()
    if len(times) == 0:
        return 0.0, 0.0, 0.0
    weight = (half * weights).ravel()
    states = phase.at(times)
    approach, rate = impact.approach(states)
    elastic = impact.contact.elastic.force(approach)
    dashpot, force = 0.0, np.zeros(len(times))
    if phase.touching:
        held = impact.contact.dashpot.force(approach, rate, elastic, phase.met)
        dashpot, force = float(weight @ (held * rate)), elastic + held
    velocity, damped = impact.bumper_motion(states, force)
    isolation = impact.damping * float(weight @ states[1] ** 2)
    return float(weight @ (damped * velocity)), dashpot, isolation
