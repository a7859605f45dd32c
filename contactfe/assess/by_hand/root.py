"""What a post hands on to whatever holds its root: forces, moments and torque."""

import math
from dataclasses import dataclass

from contactfe.assess.by_hand.impacted import plates
from contactfe.case import Case, Section
from contactfe.hand import resultant


@dataclass(frozen=True)
class RootResultants:
    """Forces, N, and moments, N mm, on what holds the root, by the normal forces of the plates.

    ``force_normal`` is away from the first plate. ``force_along`` is along it: friction either way,
    and in a corner the force of the second plate too. Each bends the root with the ``lever``, mm,
    in its own direction. All friction counts as at work across the post, the same for the
    ``torque`` about its axis, either way; ``force`` and ``moment`` are the resultants. Friction
    along the axis of the post, from a floor that rises, would be in place of that across it and is
    left out.
    """

    force_normal: float
    force_along: float
    torque: float
    lever: float

    @property
    def force(self) -> float:
        """Resultant force, N."""
        return math.hypot(self.force_normal, self.force_along)

    @property
    def moment(self) -> float:
        """Resultant bending moment, N mm."""
        return self.force * self.lever

    @property
    def moment_of_normal(self) -> float:
        """Bending moment of the force away from the first plate, N mm."""
        return self.force_normal * self.lever

    @property
    def moment_of_along(self) -> float:
        """That of the force along it."""
        return self.force_along * self.lever


def root_resultants(case: Case, section: Section, force: float | None = None) -> RootResultants:
    """The resultants at the root by a normal force of the first plate, N: without it the case's.

    The second plate of a corner has its force in the same proportion as in the case. Where a load
    is spread unevenly along the post, its lever is that of the case, whatever the force.

    The case has a [cantilever].
    """
    assert case.cantilever is not None
    mu, forces = case.contact.friction, normal_forces(case)
    share = 1.0 if force is None else force / forces[0]
    first, second = share * forces[0], share * sum(forces[1:])
    return RootResultants(
        force_normal=first + mu * second,
        force_along=second + mu * first,
        torque=resultant.friction_torque.plain(first + second, mu, section.radius),
        lever=root_lever(case),
    )


def normal_forces(case: Case) -> tuple[float, ...]:
    """Normal force of each plate on the post, N."""
    return tuple(
        resultant.normal_force.plain(plate.mean, plate.contact_length or 0.0)
        for plate in plates(case)
    )


def root_lever(case: Case) -> float:
    """Distance from the root to the resultant of the contact, mm."""
    assert case.cantilever is not None
    return case.cantilever.length if case.spread is None else case.spread.lever
