"""How the peak contact force changes with the motion that the case states.

Harmonic motion closes the gap g at ω√(D² − g²), which falls to zero as g nears the displacement D:
near there a small change of D changes the force by much. So the force is found at a tenth less and
a tenth more of D as well, and at the pseudo-velocity ωD, the greatest velocity of that harmonic
motion. The last is no bound for an earthquake.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from contactfe.case.impact import velocity_at_closure
from contactfe.case.motion import Motion
from contactfe.errors import SolveError
from contactfe.hand import closure

SHARE = 0.1
"""What is taken off the displacement, and put on it, over it."""

SENSITIVE = 0.2
"""Rise of the force, over it, with that much more displacement, from which on the page warns: the
force then grows twice as fast as the displacement; a choice made here."""

Key = Literal["displacement_minus_10_percent", "displacement_plus_10_percent", "pseudo_velocity"]


@dataclass(frozen=True)
class Nearby:
    """A motion near the one stated, and the peak contact force that it gives.

    ``displacement`` in mm, ``velocity_at_closure`` in mm/s, 0 where the gap stays open;
    ``peak_contact_force`` in N, 0 there, None where it was not found, ``not_found`` giving the
    reason.
    """

    key: Key
    displacement: float
    velocity_at_closure: float
    peak_contact_force: float | None = None
    not_found: str | None = None


def nearby(motion: Motion, pseudo: bool = True) -> tuple[Nearby, ...]:
    """The motions near a stated one, least velocity first, their forces not found yet.

    ``pseudo`` has the pseudo-velocity among them. None where the case states the velocity at
    closure: the force is about proportional to that.
    """
    if motion.displacement is None or motion.period is None:
        return ()
    D = motion.displacement
    less, more = (1.0 - SHARE) * D, (1.0 + SHARE) * D
    top = closure.pseudo_velocity.plain(closure.circular_frequency.plain(motion.period), D)
    found: tuple[Nearby, ...] = (
        Nearby("displacement_minus_10_percent", less, _velocity(motion, less)),
        Nearby("displacement_plus_10_percent", more, _velocity(motion, more)),
        Nearby("pseudo_velocity", D, top),
    )
    found = found if pseudo else found[:2]
    return tuple(sorted(found, key=lambda one: one.velocity_at_closure))


def _velocity(motion: Motion, displacement: float) -> float:
    if displacement <= motion.gap:
        return 0.0
    return velocity_at_closure(replace(motion, displacement=displacement))


def with_forces(
    motion: Motion, force_at: Callable[[float], float], pseudo: bool = True
) -> tuple[Nearby, ...]:
    """The same with their forces; ``force_at`` gives one, N, at a velocity at closure, mm/s.

    One that raises SolveError leaves the others, and the motion stated, their answer.
    """
    found = []
    for one in nearby(motion, pseudo):
        try:
            force = force_at(one.velocity_at_closure) if one.velocity_at_closure > 0.0 else 0.0
        except SolveError as error:
            found.append(replace(one, not_found=str(error)))
        else:
            found.append(replace(one, peak_contact_force=force))
    return tuple(found)


def sensitive(found: tuple[Nearby, ...], force: float) -> bool:
    """Whether more displacement raises a peak contact force, N, by more than :data:`SENSITIVE`.

    A force that was not found for it is beyond the range of the model, and counts as more.
    """
    more = [one.peak_contact_force for one in found if one.key == "displacement_plus_10_percent"]
    return any(of is None or of > (1.0 + SENSITIVE) * force for of in more)
