"""The body that is struck: a bumper of some mass on dampers and a spring.

Its displacement y and velocity w are positive away from the floor that strikes it. Units are N,
mm, s and t.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

from contactfe.hand import check

AT_REST = 1e-6
"""Velocity over that of closure below which a damper's law is taken as linear. Its slope would be
infinite at rest for an exponent below 1, like that of dry friction; so slow, a bumper moves by less
than a millionth of what the floor does, whichever is taken."""


@dataclass(frozen=True)
class Damper:
    """All dampers of one kind, in the direction of the impact: F1 (w/v1)^α against the motion."""

    reference_force: float  # N
    reference_velocity: float  # mm/s
    exponent: float

    def force(self, speed: float) -> float:
        """Force, N, at a speed in mm/s that is not negative."""
        return float(self.reference_force * (speed / self.reference_velocity) ** self.exponent)

    def speed(self, force: float) -> float:
        """The speed, mm/s, at which it has that force, N, which is not negative."""
        share = force / self.reference_force
        return float(self.reference_velocity * share ** (1.0 / self.exponent))


@dataclass(frozen=True)
class Bumper:
    """A bumper of ``mass`` t, none if 0, on dampers and a ``spring`` in N/mm, none if 0.

    Without dampers and spring it is a free mass. Without mass it needs a damper, which the contact
    force moves. Raises ValueError for a negative mass or spring, or for neither mass nor damper.
    """

    mass: float
    spring: float
    dampers: tuple[Damper, ...]

    def __post_init__(self) -> None:
        check.not_negative(mass=self.mass, spring=self.spring)
        for damper in self.dampers:
            check.positive(
                reference_force=damper.reference_force,
                reference_velocity=damper.reference_velocity,
                exponent=damper.exponent,
            )
        if self.mass == 0.0 and not self.dampers:
            raise ValueError("a bumper needs a mass or a damper")

    @property
    def held(self) -> bool:
        """Whether a damper or a spring holds it."""
        return bool(self.dampers) or self.spring > 0.0

    def damper_force(self, velocity: float, at_rest: float) -> float:
        """Force of the dampers, N, with the sign of the velocity, mm/s; linear below ``at_rest``.

        >>> bumper = Bumper(1.0, 0.0, (Damper(1e6, 1000.0, 0.4),))
        >>> print(bumper.damper_force(700.0, 1e-6), bumper.damper_force(-700.0, 1e-6))
        867040.164 -867040.164
        """
        speed = abs(velocity)
        share = 1.0
        if speed < at_rest:
            speed, share = at_rest, speed / at_rest
        force = share * sum(damper.force(speed) for damper in self.dampers)
        return force if velocity >= 0.0 else -force

    def velocity(self, force: float) -> float:
        """The velocity, mm/s, at which the dampers have that force, N; the sign is that of it.

        >>> bumper = Bumper(0.0, 0.0, (Damper(1e6, 1000.0, 0.4), Damper(5e5, 1000.0, 1.0)))
        >>> print(bumper.velocity(bumper.damper_force(700.0, 1e-6)))
        700.0
        """
        size = abs(force)
        if size == 0.0:
            return 0.0
        highest = min(damper.speed(size) for damper in self.dampers)
        if len(self.dampers) > 1:
            highest = self._between(size, highest)
        return highest if force > 0.0 else -highest

    def _between(self, force: float, highest: float) -> float:
        """The root for dampers that share the force; at ``highest`` one has all of it."""
        from scipy.optimize import brentq

        parts = len(self.dampers)
        lowest = min(damper.speed(force / parts) for damper in self.dampers)

        def missing(speed: float) -> float:
            return sum(damper.force(speed) for damper in self.dampers) - force

        # Where one damper takes nearly all, rounding can put the root past an end.
        if missing(lowest) >= 0.0:
            return lowest
        if missing(highest) <= 0.0:
            return highest
        # What is all but at rest is so to the least float.
        near = max(1e-14 * highest, sys.float_info.min)
        return float(brentq(missing, lowest, highest, xtol=near, rtol=1e-14))
