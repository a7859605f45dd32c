"""The equation of motion of floor and bumper, from the closing of the gap on.

    M x'' = −kiso (g + x) − c x' − Fc,    m y'' = Fc − Fd(y') − ks y,    δ = x − y

with x the displacement of the floor after closure, y the bumper's, c the viscous damping of the
isolation, Fc the contact force, never
below zero, and Fd that of the dampers. A bumper without mass moves as its dampers let it: Fd(y') =
Fc − ks y. A fixed stop has y = 0. Units are N, mm, s and t.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from contactfe.hand import check
from contactfe.impact.bumper import AT_REST, Bumper
from contactfe.impact.laws import Contact

Floats = NDArray[np.float64]
State = Floats | list[float]


@dataclass(frozen=True)
class Impact:
    """A floor of ``mass`` t that moves at ``velocity`` mm/s as the gap closes.

    ``isolation`` N/mm is the stiffness that drives it back, 0 for a floor that moves free; its
    force is zero ``gap`` mm before closure. ``damping`` N s/mm is that of the isolation. ``bumper``
    is None for a fixed stop. Raises ValueError for a mass or velocity that is not positive, or
    another figure that is negative.
    """

    mass: float
    velocity: float
    contact: Contact
    bumper: Bumper | None = None
    isolation: float = 0.0
    gap: float = 0.0
    damping: float = 0.0

    def __post_init__(self) -> None:
        check.positive(mass=self.mass, velocity=self.velocity)
        check.not_negative(isolation=self.isolation, gap=self.gap, damping=self.damping)
        if self.contact.damped and self.bumper is not None and self.bumper.mass == 0.0:
            raise ValueError("a bumper without mass takes no contact with a dashpot")

    @property
    def energy(self) -> float:
        """Kinetic energy of the floor as the gap closes, N mm."""
        return 0.5 * self.mass * self.velocity**2

    @property
    def at_rest(self) -> float:
        """Velocity, mm/s, below which the dampers are taken as linear."""
        return AT_REST * self.velocity

    @property
    def start(self) -> list[float]:
        """The state as the gap closes: x, x', and of a bumper y, and y' if it has mass."""
        if self.bumper is None:
            return [0.0, self.velocity]
        return [0.0, self.velocity, 0.0] + ([0.0] if self.bumper.mass > 0.0 else [])

    def isolation_force(self, x: float, velocity: float) -> float:
        """Force of the isolation against the floor, N: of its stiffness and its damping."""
        return self.isolation * (self.gap + x) + self.damping * velocity

    def contact_force(self, state: State, met: float) -> float:
        """Force of the contact law, N, whether it may pull or not."""
        approach, rate = self.approach(state)
        return float(self.contact.force(float(approach), float(rate), met))

    def approach(self, state: Any) -> tuple[Any, Any]:
        """Approach δ, mm, and its rate, mm/s; of a bumper without mass the floor's velocity.

        Of one state, or arrays (m,) of states (k, m).
        """
        if self.bumper is None:
            return state[0], state[1]
        rate = state[1] - state[3] if self.bumper.mass > 0.0 else state[1]
        return state[0] - state[2], rate

    def bumper_velocity(self, state: State, force: float) -> float:
        """Velocity of the bumper, mm/s, under a contact force in N."""
        if self.bumper is None:
            return 0.0
        if self.bumper.mass > 0.0:
            return float(state[3])
        return self.bumper.velocity(force - self.bumper.spring * float(state[2]))

    def damper_force(self, velocity: float) -> float:
        """Force of the dampers, N, at a velocity of the bumper in mm/s, with its sign.

        A bumper without mass has its velocity from the law itself, with no need of a linear part.
        """
        assert self.bumper is not None
        return self.bumper.damper_force(velocity, self.at_rest if self.bumper.mass > 0.0 else 0.0)

    def bumper_motion(self, states: Floats, force: Floats) -> tuple[Floats, Floats]:
        """Velocity of the bumper, mm/s, and force of its dampers, N, of states (k, m): (m,) each.

        ``force`` (m,) N is that of the contact.
        """
        if self.bumper is None:
            return np.zeros(len(force)), np.zeros(len(force))
        pairs = zip(states.T, force.tolist(), strict=True)
        velocity = [self.bumper_velocity(state, one) for state, one in pairs]
        return np.array(velocity), np.array([self.damper_force(w) for w in velocity])

    def change(self, touching: bool, met: float) -> Callable[[float, State], list[float]]:
        """The rate of change of the state, while the two touch or while they are apart."""
        bumper = self.bumper

        def change(_: float, state: State) -> list[float]:
            force = self.contact_force(state, met) if touching else 0.0
            x, velocity = float(state[0]), float(state[1])
            rates = [velocity, -(self.isolation_force(x, velocity) + force) / self.mass]
            if bumper is None:
                return rates
            w = self.bumper_velocity(state, force)
            rates.append(w)
            if bumper.mass > 0.0:
                damped = self.damper_force(w)
                rates.append((force - damped - bumper.spring * float(state[2])) / bumper.mass)
            return rates

        return change

    def left(self, state: State, force: float) -> float:
        """Energy that can still move floor or bumper, N mm: all but that of the isolation."""
        approach, _ = self.approach(state)
        left = 0.5 * self.mass * float(state[1]) ** 2
        left += self.contact.elastic.stored(max(float(approach), 0.0))
        if self.bumper is not None:
            w = self.bumper_velocity(state, force)
            left += 0.5 * self.bumper.mass * w**2 + 0.5 * self.bumper.spring * float(state[2]) ** 2
        return left
