"""An impact as a time history, and the peaks in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from contactfe.impact.motion import Floats
from contactfe.impact.response import Phase, Response, between

Quantity = Literal["contact_force", "damper_force", "approach", "floor", "bumper", "bumper_speed"]
"""What a peak is looked for of."""

_CUTS = 8
"""Parts that each step is cut into where a peak is looked for."""

_ZOOMS = 4


@dataclass(frozen=True)
class History:
    """Each (n,), from the closing of the gap on; s, mm, mm/s and N.

    ``approach`` is that of the contact, negative where the two are apart; forces are those between
    them and of all dampers along the impact, the latter with the sign of the bumper's velocity.
    Where a phase ends and another begins, the time stands twice.
    """

    time: Floats
    floor: Floats
    floor_velocity: Floats
    bumper: Floats
    bumper_velocity: Floats
    approach: Floats
    contact_force: Floats
    damper_force: Floats

    @property
    def bumper_speed(self) -> Floats:
        """Velocity of the bumper (n,), mm/s, whichever way it moves."""
        return np.abs(self.bumper_velocity)


@dataclass(frozen=True)
class Peak:
    """The greatest value of a quantity, and when, s."""

    value: float
    time: float


def history(response: Response, cuts: int = 1, also: tuple[float, ...] = ()) -> History:
    """The history at the integrator's steps, each cut into parts, and at the times ``also``, s."""
    parts = []
    for phase in response.phases:
        more = [time for time in also if phase.times[0] < time < phase.times[-1]]
        times = np.union1d(between(phase.times, cuts), more)
        parts.append(_part(response, phase, times))
    return _joined(parts)


def thinned(record: History, spacing: float, keep: tuple[float, ...] = ()) -> History:
    """The rows of a history that are ``spacing`` s apart or more, and those at times to keep.

    The first and the last stay, and those at which the time stands twice.
    """
    time = record.time
    chosen = np.isin(time, [time[0], time[-1], *keep])
    chosen[:-1] |= np.diff(time) == 0.0
    chosen[1:] |= np.diff(time) == 0.0
    last = time[0]
    for k, at in enumerate(time):
        if chosen[k] or at - last >= spacing:
            chosen[k], last = True, at
    return History(*(column[chosen] for column in vars(record).values()))


def peaks(response: Response, of: tuple[Quantity, ...]) -> tuple[Peak, ...]:
    """The greatest value of each quantity over the whole impact, to rounding."""
    parts = [_part(response, phase, between(phase.times, _CUTS)) for phase in response.phases]
    found = []
    for quantity in of:
        tops = [float(np.max(getattr(part, quantity))) for part in parts]
        number = int(np.argmax(tops))
        found.append(_zoomed(response, response.phases[number], parts[number], quantity))
    return tuple(found)


def peak(response: Response, of: Quantity) -> Peak:
    """The greatest value of one quantity."""
    return peaks(response, (of,))[0]


def _zoomed(response: Response, phase: Phase, part: History, of: Quantity) -> Peak:
    """The peak of a quantity in a phase, with finer and finer steps about it."""
    top = Peak(-np.inf, 0.0)
    for _ in range(_ZOOMS):
        values, times = getattr(part, of), part.time
        best = int(np.argmax(values))
        top = Peak(float(values[best]), float(times[best]))
        low, high = times[max(best - 1, 0)], times[min(best + 1, len(times) - 1)]
        part = _part(response, phase, np.union1d(np.linspace(low, high, 33), [top.time]))
    return top


def _joined(parts: list[History]) -> History:
    columns = zip(*(vars(part).values() for part in parts), strict=True)
    return History(*map(np.concatenate, columns))


def _part(response: Response, phase: Phase, times: Floats) -> History:
    impact = response.impact
    states = phase.at(times)
    approach, rate = impact.approach(states)
    force = np.zeros(len(times))
    if phase.touching:
        force = np.maximum(impact.contact.force(approach, rate, phase.met), 0.0)
    velocity, damped = impact.bumper_motion(states, force)
    y = 0.0 * times if impact.bumper is None else states[2]
    return History(times, states[0], states[1], y, velocity, approach, force, damped)
