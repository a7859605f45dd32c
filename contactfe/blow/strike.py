"""The first strike: the equation of motion integrated from the closing of the gap to parting.

Each contact is followed until its force falls to nought, for nothing pulls. A light bumper may be
knocked ahead of the floor and met again, or follow it as it moves back and catch up with it: that
is the same strike. It ends where the floor moves back and the bumper, by the energy that it has,
can reach it no more, or nothing holds the bumper; or where what is left of the energy is a
millionth, as where dampers alone bring a floor to rest. What comes later, when the floor has been
at the other side, is not followed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from scipy.integrate import solve_ivp

from contactfe.blow.motion import Blow, Floats, State
from contactfe.errors import SolveError

End = Literal["parted", "at rest", "still moving"]
"""How a strike ends; a floor is still moving where dampers slow it for very long."""

TOLERANCE, SLOW_TOLERANCE = 1e-10, 1e-7
"""Relative error allowed in a step, of each part of the state: at first, and once it is slow."""

_QUICK = 50.0
"""Swings of the contact after which a strike counts as slow: the bumper then goes with the floor
and dampers slow both. Until then LSODA follows it, which goes over to an implicit method where the
dampers are stiff, as those of a small exponent are at rest, and back where they are not; after that
Radau's method, whose steps grow where LSODA's would keep to swings that have died away."""

_SPENT = 1e-6
_LONGEST = 20.0
"""Bound on a strike, over the times that its springs swing and its dampers slow in."""

_ENOUGH_CONTACTS = 20
"""Contacts after which a strike on dampers alone is not followed on: as the floor only slows, and
met the bumper at rest at first, none that comes is harder than those that the bound covers."""

_MOST_CONTACTS = 250
_NEXT_TO_NOUGHT = 1e-300

_PULL = 1e-6
"""Force below nought within a contact, over its peak, from which on a parting was stepped over."""


@dataclass(frozen=True)
class Phase:
    """A stretch of the strike in which the two touch, or in which they are apart.

    ``times`` (n,) s are those of the integrator's steps, ``at`` gives the states (k, m) at times
    (m,) between. ``met`` mm/s is the velocity of approach with which the contact began. ``last``
    says whether they meet or part at its end, or the strike does; if not, another phase goes on.
    """

    touching: bool
    last: bool
    met: float
    times: Floats
    at: Callable[[Floats], Floats]


@dataclass(frozen=True)
class Strike:
    """A blow and the phases of its first strike."""

    blow: Blow
    phases: tuple[Phase, ...]
    end: End

    @property
    def duration(self) -> float:
        """Time from closure up to which it was followed, s."""
        return float(self.phases[-1].times[-1])

    @property
    def over(self) -> float:
        """Time from closure at which the two last touched, s; the end where they have not parted.

        The end of a strike that parted may be later: until then they could have met again.
        """
        if self.end != "parted":
            return self.duration
        return max(float(phase.times[-1]) for phase in self.phases if phase.touching)

    @property
    def contacts(self) -> int:
        """How often the two came to touch."""
        return sum(phase.touching and phase.last for phase in self.phases)


def strike(blow: Blow) -> Strike:
    """Integrate the first strike of a blow.

    Raises SolveError where the integrator fails, or the strike does not end.
    """
    bound = _LONGEST * _time_scale(blow)
    bumper = blow.bumper
    slowed = bumper is not None and bool(bumper.dampers)
    most = _ENOUGH_CONTACTS if slowed and not (bumper and bumper.spring) else _MOST_CONTACTS
    phases: list[Phase] = []
    state: State = blow.start
    time, touching, contacts, end = 0.0, True, 0, None
    while end is None:
        more, why = _while(blow, state, time, touching, bound)
        phases += more
        time, state = float(phases[-1].times[-1]), phases[-1].at(phases[-1].times[-1:])[:, 0]
        end = _end(blow, state, touching, why)
        contacts += touching
        if end is None and contacts >= most:
            end = "still moving"
        touching = not touching
    if end == "still moving" and not (slowed and contacts < _MOST_CONTACTS):
        raise SolveError(
            f"the blow: not over after {time:.4g} s and {contacts} contacts; a dashpot"
            " (restitution) or a damper would calm it"
        )
    return Strike(blow, tuple(phases), end)


def _end(blow: Blow, state: State, touching: bool, why: int | None) -> End | None:
    """How the strike ends with a phase, by the event that ended that; None where it goes on."""
    if why is None:
        return "still moving"
    if touching and why == 1:
        return "at rest"
    if not touching:
        return "parted" if why > 0 else None
    free = blow.bumper is None or not blow.bumper.held
    return "parted" if free or _out_of_reach(blow, state) <= 0.0 else None


def _while(
    blow: Blow, state: State, time: float, touching: bool, bound: float
) -> tuple[list[Phase], int | None]:
    """Until the two part or meet, and which event it was.

    That is 0 for parting or meeting, 1 or 2 for the end of the strike, None for its bound.
    """
    met = max(blow.approach(state)[1], blow.at_rest) if touching else blow.velocity
    quick = min(_QUICK * _swing(blow), bound)
    found, why = _run(blow, state, (time, time + quick), touching, met, True)
    if why is None and quick < bound:
        slow, why = _run(blow, found.y[:, -1], (time + quick, time + bound), touching, met, False)
        return [
            Phase(touching, False, met, found.t, found.sol),
            Phase(touching, True, met, slow.t, slow.sol),
        ], why
    return [Phase(touching, True, met, found.t, found.sol)], why


def _run(
    blow: Blow, state: State, span: tuple[float, float], touching: bool, met: float, quick: bool
) -> tuple[Any, int | None]:
    """The state integrated over a span until an event: with steps in which nothing pulls unseen."""
    length = blow.velocity * _swing(blow)
    scale = np.array([length, blow.velocity, length, blow.velocity][: len(state)])
    tolerance = TOLERANCE if quick else SLOW_TOLERANCE
    longest = np.inf
    for _ in range(4):
        try:
            found = solve_ivp(
                blow.change(touching, met), span, state, method="LSODA" if quick else "Radau",
                events=_while_touching(blow, met) if touching else _while_apart(blow),
                dense_output=True, rtol=tolerance, atol=1e-3 * tolerance * scale, max_step=longest,
            )  # fmt: skip
        except RuntimeError as error:  # of the search for an event
            raise SolveError(f"the blow: parting or meeting was not found: {error}") from error
        if not found.success:
            raise SolveError(f"the blow: the motion was not integrated: {found.message}")
        if not touching or (pulled := _pulled(blow, met, found)) is None:
            return found, next((k for k, at in enumerate(found.t_events) if len(at)), None)
        longest = pulled / 4.0
    raise SolveError("the blow: contact and parting follow too close on one another to be told")


def _while_touching(blow: Blow, met: float) -> list[Any]:
    least = _SPENT * blow.energy

    def parting(_: float, state: State) -> float:
        return blow.contact.pressing(*blow.approach(state), met)

    def spent(_: float, state: State) -> float:
        moving = 0.5 * blow.mass * float(state[1]) ** 2
        if moving > least:  # what else there is, is not asked for in every step
            return moving
        return blow.left(state, blow.contact_force(state, met)) - least

    _ends(parting, -1.0)
    _ends(spent, -1.0)
    damped = blow.bumper is not None and blow.bumper.dampers
    return [parting, spent] if damped else [parting]


def _while_apart(blow: Blow) -> list[Any]:
    def meeting(_: float, state: State) -> float:
        way, rate = blow.approach(state)
        if way <= 0.0:
            return min(way, -_NEXT_TO_NOUGHT)
        return blow.contact.pressing(way, rate, blow.velocity)

    def gone(_: float, state: State) -> float:
        return _out_of_reach(blow, state)

    def coming_again(_: float, state: State) -> float:
        return float(state[1])

    _ends(meeting, 1.0)
    _ends(gone, -1.0)
    _ends(coming_again, 1.0)
    return [meeting, gone, coming_again]


def _out_of_reach(blow: Blow, state: State) -> float:
    """Not positive where the floor moves back and the bumper can no more catch up with it.

    A bumper on a spring comes back as far as its energy lets it, and its dampers take from that.
    One on dampers alone only slows, so that a floor which is faster stays so.
    """
    bumper, x, velocity = blow.bumper, float(state[0]), float(state[1])
    assert bumper is not None
    y = float(state[2])
    rate = float(state[3]) if bumper.mass > 0.0 else 0.0
    if bumper.spring == 0.0:
        return velocity - min(rate, 0.0)
    if bumper.mass > 0.0:
        furthest = -math.sqrt(bumper.mass / bumper.spring * rate**2 + y**2)
    else:
        furthest = min(y, 0.0)  # without inertia it does not go past its place of rest
    return max(velocity, (x - furthest) / _swing(blow))


def _ends(event: Any, direction: float) -> None:
    event.terminal, event.direction = True, direction


def _pulled(blow: Blow, met: float, found: Any) -> float | None:
    """The step in which a contact would have pulled unseen, s; None where it never did."""
    forces = blow.contact.force(*approaches(blow, found.sol(between(found.t, 6))), met)
    if np.min(forces) >= -_PULL * np.max(forces):
        return None
    step = int(np.argmin(forces)) // 6
    return float(found.t[min(step + 1, len(found.t) - 1)] - found.t[step])


def approaches(blow: Blow, states: Floats) -> tuple[Floats, Floats]:
    """Approach δ (m,), mm, and its rate (m,), mm/s, of states (k, m)."""
    if blow.bumper is None:
        return states[0], states[1]
    rate = states[1] - states[3] if blow.bumper.mass > 0.0 else states[1]
    return states[0] - states[2], rate


def between(times: Floats, parts: int) -> Floats:
    """Times with each step between them cut into that many parts."""
    inside = np.arange(parts) / parts
    cut = (times[:-1, None] + np.diff(times)[:, None] * inside).ravel()
    return np.append(cut, times[-1])


def _swing(blow: Blow) -> float:
    """The time that the contact takes to stop what is struck or strikes, s, or a part of it."""
    mass = blow.mass
    if blow.bumper is not None and blow.bumper.mass > 0.0:
        mass = mass * blow.bumper.mass / (mass + blow.bumper.mass)
    return _way(blow, 0.5 * mass * blow.velocity**2) / blow.velocity


def _way(blow: Blow, energy: float) -> float:
    """An approach, mm, that stores that energy, N mm, within a factor of two."""
    way = 1.0
    while blow.contact.elastic.stored(way) < energy:
        way *= 2.0
    while blow.contact.elastic.stored(way / 2.0) > energy:
        way /= 2.0
    return way


def _time_scale(blow: Blow) -> float:
    """The time that springs swing and dampers slow the floor in, s."""
    total = _way(blow, blow.energy) / blow.velocity
    if (bumper := blow.bumper) is not None:
        if bumper.spring > 0.0:
            total += math.sqrt((blow.mass + bumper.mass) / bumper.spring)
        if bumper.dampers:
            force = blow.damper_force(blow.velocity)
            total += blow.mass * blow.velocity / force
    return total
