"""The motion that ends in the impact: what moves, what closes the gap, and what it then meets."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

LawName = Literal["linear", "power", "section"]
"""Force of the contact against its approach: a spring, a power law, or the section's own curve."""

Damping = Literal["both ways", "pressing in"]
"""Where the dashpot of a power law works: all through the impact, or while the approach grows."""


@dataclass(frozen=True)
class Damper:
    """Dampers of one kind that hold the bumper, each of force F1 (v/v1)^α.

    ``angle`` lies between their axis and the direction of the impact: both the velocity along them
    and their force in that direction are its cosine of what they would be.
    """

    reference_force: float  # N, of one of them
    reference_velocity: float  # mm/s
    exponent: float
    angle: float = 0.0  # rad
    count: int = 1

    @property
    def along(self) -> float:
        """Cosine of the angle: share of velocity and force that counts along the impact."""
        return math.cos(self.angle)


@dataclass(frozen=True)
class ContactLaw:
    """How post and plate press on one another during the impact, over their whole contact."""

    law: LawName
    stiffness: float | None = None  # N/mm, of the linear law
    reference_force: float | None = None  # N at reference_approach, of the power law
    reference_approach: float | None = None  # mm
    exponent: float | None = None  # of the power law
    restitution: float = 1.0  # velocity of parting over that of meeting; 1 without any damping
    damping: Damping = "both ways"


@dataclass(frozen=True)
class Motion:
    """Lengths in mm, times in s, masses in t, forces in N.

    Either the velocity at closure is stated, or displacement and period, which give it.
    """

    gap: float
    mass: float  # that moves with the floor
    contact_law: ContactLaw
    displacement: float | None = None  # expected without the stop
    period: float | None = None  # effective, of the isolation system
    velocity: float | None = None  # mm/s at closure of the gap
    dampers: tuple[Damper, ...] = ()
    bumper_mass: float = 0.0
    bumper_spring: float = 0.0  # N/mm, that returns the bumper

    @property
    def held(self) -> bool:
        """Whether dampers or a spring hold the bumper; if nothing does it is a fixed stop."""
        return bool(self.dampers) or self.bumper_spring > 0.0
