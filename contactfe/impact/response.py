"""The first impact: the equation of motion integrated from the closing of the gap to parting.

Each contact is followed until its force falls to zero, for nothing pulls. A light bumper may be
knocked ahead of the floor and met again, or follow it as it moves back and catch up with it: that
is the same impact. It ends where the floor moves back and the bumper, by the energy that it has,
can reach it no more, or nothing holds the bumper; or where what is left of the energy is a
millionth, as where dampers alone bring a floor to rest. What comes later, when the floor has been
at the other side, is not followed.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from itertools import count
from typing import Any, Literal

import numpy as np
from scipy.integrate import solve_ivp

from contactfe.errors import SolveError
from contactfe.impact.motion import Floats, Impact, State

End = Literal["parted", "at rest", "still moving"]
"""How an impact ends; a floor is still moving where dampers slow it for very long."""

Change = Callable[[float, State], list[float]]
"""The rates of the state at a time."""

TOLERANCE, SLOW_TOLERANCE = 1e-10, 1e-7
"""Relative error allowed in a step, of each part of the state: at first, and once it is slow."""

_QUICK = 50.0
"""Swings of the contact after which an impact counts as slow: the bumper then goes with the floor
and dampers slow both. Until then LSODA follows it, which goes over to an implicit method where the
dampers are stiff, as those of a small exponent are at rest, and back where they are not; after that
Radau's method, whose steps grow where LSODA's would keep to swings that have died away."""

_SPENT = 1e-6
_LONGEST = 20.0
"""Bound on an impact, over the times that its springs swing and its dampers slow in."""

_ENOUGH_CONTACTS = 20
"""Contacts after which an impact on dampers alone is followed no further: as the floor only slows,
and met the bumper at rest at first, none that comes is harder than those that the bound covers."""

_MOST_CONTACTS = 250
_NEXT_TO_ZERO = 1e-300

MOST_EVALUATIONS = 200_000
"""Of the equation of motion in a phase: some 2 s, and a hundred times those of common impacts."""

_PULL = 1e-6
"""Force below zero within a contact, over its peak, from which on a parting was stepped over."""


@dataclass(frozen=True)
class Phase:
    """A stretch of the impact in which the two touch, or in which they are apart.

    ``times`` (n,) s are those of the integrator's steps, ``at`` gives the states (k, m) at times
    (m,) between. ``met`` mm/s is the velocity of approach with which the contact began. ``last``
    says whether they meet or part at its end, or the impact does; if not, another phase goes on.
    """

    touching: bool
    last: bool
    met: float
    times: Floats
    at: Callable[[Floats], Floats]


@dataclass(frozen=True)
class Response:
    """The response to an impact: the phases of contact and of parting, and how it ends."""

    impact: Impact
    phases: tuple[Phase, ...]
    end: End

    @property
    def duration(self) -> float:
        """Time from closure up to which it was followed, s."""
        return float(self.phases[-1].times[-1])

    @property
    def over(self) -> float:
        """Time from closure at which the two last touched, s; the end where they have not parted.

        The end of an impact that parted may be later: until then they could have met again.
        """
        if self.end != "parted":
            return self.duration
        return max(float(phase.times[-1]) for phase in self.phases if phase.touching)

    @property
    def contacts(self) -> int:
        """How often the two came to touch."""
        return sum(phase.touching and phase.last for phase in self.phases)


def integrate(impact: Impact) -> Response:
    """Integrate an impact until it ends.

    Raises SolveError where the integrator fails, or the impact does not end.
    """
    bound = _LONGEST * _time_scale(impact)
    bumper = impact.bumper
    slowed = bumper is not None and bool(bumper.dampers)
    most = _ENOUGH_CONTACTS if slowed and not (bumper and bumper.spring) else _MOST_CONTACTS
    phases: list[Phase] = []
    state: State = impact.start
    time, touching, contacts, end = 0.0, True, 0, None
    while end is None:
        more, why = _while(impact, state, time, touching, bound)
        phases += more
        time, state = float(phases[-1].times[-1]), phases[-1].at(phases[-1].times[-1:])[:, 0]
        end = _end(impact, state, touching, why)
        contacts += touching
        if end is None and contacts >= most:
            end = "still moving"
        touching = not touching
    if end == "still moving" and not (slowed and contacts < _MOST_CONTACTS):
        raise SolveError(
            f"the impact: not over after {time:.4g} s and {contacts} contacts; a dashpot"
            " (restitution) or a damper would calm it"
        )
    return Response(impact, tuple(phases), end)


def _end(impact: Impact, state: State, touching: bool, why: int | None) -> End | None:
    """How the impact ends with a phase, by the event that ended that; None where it goes on."""
    if why is None:
        return "still moving"
    if touching and why == 1:
        return "at rest"
    if not touching:
        return "parted" if why > 0 else None
    free = impact.bumper is None or not impact.bumper.held
    return "parted" if free or _out_of_reach(impact, state) <= 0.0 else None


def _while(
    impact: Impact, state: State, time: float, touching: bool, bound: float
) -> tuple[list[Phase], int | None]:
    """Until the two part or meet, and which event it was.

    That is 0 for parting or meeting, 1 or 2 for the end of the impact, None for its bound.
    """
    met = max(float(impact.approach(state)[1]), impact.at_rest) if touching else impact.velocity
    quick = min(_QUICK * _swing(impact), bound)
    found, why = _run(impact, state, (time, time + quick), touching, met, True)
    if why is None and quick < bound:
        slow, why = _run(impact, found.y[:, -1], (time + quick, time + bound), touching, met, False)
        return [
            Phase(touching, False, met, found.t, found.sol),
            Phase(touching, True, met, slow.t, slow.sol),
        ], why
    return [Phase(touching, True, met, found.t, found.sol)], why


def _run(
    impact: Impact, state: State, span: tuple[float, float], touching: bool, met: float, quick: bool
) -> tuple[Any, int | None]:
    """The state integrated over a span until an event: with steps in which nothing pulls unseen."""
    length = impact.velocity * _swing(impact)
    scale = np.array([length, impact.velocity, length, impact.velocity][: len(state)])
    tolerance = TOLERANCE if quick else SLOW_TOLERANCE
    longest, change = np.inf, _bounded(impact.change(touching, met))
    for _ in range(4):
        try:
            with warnings.catch_warnings(action="ignore"):  # what failed is in the message below
                found = solve_ivp(
                    change, span, state, method="LSODA" if quick else "Radau",
                    events=_while_touching(impact, met) if touching else _while_apart(impact),
                    dense_output=True, rtol=tolerance, atol=1e-3 * tolerance * scale,
                    max_step=longest,
                )  # fmt: skip
        except (RuntimeError, ValueError) as error:  # of the search for an event
            raise SolveError(f"the impact: parting or meeting was not found: {error}") from error
        if not found.success:
            raise SolveError(f"the impact: the motion was not integrated: {found.message}")
        if not touching or (pulled := _pulled(impact, met, found)) is None:
            return found, next((k for k, at in enumerate(found.t_events) if len(at)), None)
        longest = pulled / 4.0
        if longest <= 0.0:  # both at the same time, to the last bit
            break
    raise SolveError(
        "the impact: contact and parting follow too close on one another to be resolved"
    )


def _bounded(change: Change) -> Change:
    """The same, until it has been asked too often. Raises SolveError then."""
    asked = count()

    def bounded(time: float, state: State) -> list[float]:
        if next(asked) >= MOST_EVALUATIONS:
            raise SolveError(
                f"the impact: the motion was not integrated within {MOST_EVALUATIONS} evaluations;"
                " masses, stiffnesses and dampers are too far apart"
            )
        return change(time, state)

    return bounded


def _while_touching(impact: Impact, met: float) -> list[Any]:
    least = _SPENT * impact.energy

    def parting(_: float, state: State) -> float:
        return impact.contact.pressing(*impact.approach(state), met)

    def spent(_: float, state: State) -> float:
        moving = 0.5 * impact.mass * float(state[1]) ** 2
        if moving > least:  # what else there is, is not asked for in every step
            return moving
        return impact.left(state, impact.contact_force(state, met)) - least

    _ends(parting, -1.0)
    _ends(spent, -1.0)
    damped = impact.bumper is not None and impact.bumper.dampers
    return [parting, spent] if damped else [parting]


def _while_apart(impact: Impact) -> list[Any]:
    def meeting(_: float, state: State) -> float:
        approach, rate = map(float, impact.approach(state))
        if approach <= 0.0:
            return min(approach, -_NEXT_TO_ZERO)
        return impact.contact.pressing(approach, rate, impact.velocity)

    def gone(_: float, state: State) -> float:
        return _out_of_reach(impact, state)

    def coming_again(_: float, state: State) -> float:
        return float(state[1])

    _ends(meeting, 1.0)
    _ends(gone, -1.0)
    _ends(coming_again, 1.0)
    return [meeting, gone, coming_again]


def _out_of_reach(impact: Impact, state: State) -> float:
    """Not positive where the floor moves back and the bumper can no more catch up with it.

    A bumper on a spring comes back as far as its energy lets it, and its dampers take from that.
    One on dampers alone only slows, so that a floor which is faster stays so; were it the damping
    of the isolation that slowed it, they would no more than touch.
    """
    bumper, x, velocity = impact.bumper, float(state[0]), float(state[1])
    assert bumper is not None
    y = float(state[2])
    rate = float(state[3]) if bumper.mass > 0.0 else 0.0
    if bumper.spring == 0.0:
        return velocity - min(rate, 0.0)
    if bumper.mass > 0.0:
        furthest = -math.sqrt(bumper.mass / bumper.spring * rate**2 + y**2)
    else:
        furthest = min(y, 0.0)  # without inertia it does not go past its place of rest
    return max(velocity, (x - furthest) / _swing(impact))


def _ends(event: Any, direction: float) -> None:
    event.terminal, event.direction = True, direction


def _pulled(impact: Impact, met: float, found: Any) -> float | None:
    """The step in which a contact would have pulled unseen, s; None where it never did."""
    forces = impact.contact.force(*impact.approach(found.sol(between(found.t, 6))), met)
    if np.min(forces) >= -_PULL * np.max(forces):
        return None
    step = int(np.argmin(forces)) // 6
    return float(found.t[min(step + 1, len(found.t) - 1)] - found.t[step])


def between(times: Floats, parts: int) -> Floats:
    """Times with each step between them cut into that many parts."""
    inside = np.arange(parts) / parts
    cut = (times[:-1, None] + np.diff(times)[:, None] * inside).ravel()
    return np.append(cut, times[-1])


def _swing(impact: Impact) -> float:
    """The time that the contact takes to stop the body struck or striking, s, or a part of it."""
    mass = impact.mass
    if impact.bumper is not None and impact.bumper.mass > 0.0:
        mass = mass * impact.bumper.mass / (mass + impact.bumper.mass)
    return _approach_storing(impact, 0.5 * mass * impact.velocity**2) / impact.velocity


def _approach_storing(impact: Impact, energy: float) -> float:
    """An approach, mm, that stores that energy, N mm, within a factor of two."""
    approach = 1.0
    while impact.contact.elastic.stored(approach) < energy:
        approach *= 2.0
    while impact.contact.elastic.stored(approach / 2.0) > energy:
        approach /= 2.0
    return approach


def _time_scale(impact: Impact) -> float:
    """The time that springs swing and dampers slow the floor in, s."""
    total = _approach_storing(impact, impact.energy) / impact.velocity
    if (bumper := impact.bumper) is not None:
        if bumper.spring > 0.0:
            total += math.sqrt((impact.mass + bumper.mass) / bumper.spring)
        if bumper.dampers:
            force = impact.damper_force(impact.velocity)
            total += impact.mass * impact.velocity / force
    return total
