"""What an impact comes to: its peaks, its energies, and what it gives back."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from contactfe.impact.energy import Energies, check_balance, energies
from contactfe.impact.history import Peak, peaks
from contactfe.impact.motion import Floats
from contactfe.impact.response import Response


@dataclass(frozen=True)
class Outcome:
    """The outcome of an impact.

    ``peak_contact_force``, ``peak_damper_force``, ``peak_approach`` and ``peak_travel`` are peaks
    of the force between post and plate and of that of all dampers in the direction of the impact
    (N), of the approach and of the displacement of the floor after closure (mm); ``bumper_speed``
    (mm/s) and ``bumper_displacement`` (mm) are the greatest velocity and displacement of the bumper
    in that direction, the latter until it comes to rest by itself where it runs ahead at the end.
    ``at_peak_contact_force`` and ``at_end`` are the energies at the peak of the contact force and
    at the end.
    """

    response: Response
    peak_contact_force: Peak
    peak_damper_force: Peak
    peak_approach: Peak
    peak_travel: Peak
    bumper_speed: float
    bumper_displacement: float
    at_peak_contact_force: Energies
    at_end: Energies

    @property
    def largest_error(self) -> float:
        """Largest error of the energies at the peak and at the end, over the energy at closure."""
        impact = self.response.impact
        return max(abs(self.at_peak_contact_force.error(impact)), abs(self.at_end.error(impact)))

    @property
    def restitution(self) -> float | None:
        """What a fixed stop gives back, that the floor left again; None of others."""
        response = self.response
        if response.impact.bumper is not None or response.end != "parted":
            return None
        return -self._velocity(response.duration) / response.impact.velocity

    @property
    def slowed(self) -> float:
        """Share of its velocity that the floor has lost at the peak of the contact force."""
        return 1.0 - self._velocity(self.peak_contact_force.time) / self.response.impact.velocity

    def _velocity(self, time: float) -> float:
        phase = next(phase for phase in self.response.phases if time <= phase.times[-1])
        return float(phase.at(np.array([time]))[1, 0])


def outcome(response: Response) -> Outcome:
    """The outcome of an impact. Raises SolveError where its energies do not add up to 0.1 %."""
    contact, damper, approach, floor, bumper, speed = peaks(
        response,
        ("contact_force", "damper_force", "approach", "floor", "bumper", "bumper_speed"),
    )
    at_peak, at_end = energies(response, contact.time), energies(response, response.over)
    check_balance(response, at_peak, at_end)
    return Outcome(
        response, contact, damper, approach, floor, speed.value,
        max(bumper.value, _rest_of_the_bumper(response)), at_peak, at_end,
    )  # fmt: skip


def _rest_of_the_bumper(response: Response) -> float:
    """Where a bumper that moves on at the end comes to rest, mm; 0 where none does.

    m w dw = −(Fd(w) + ks y) dy, from its velocity at the end down to none.
    """
    impact = response.impact
    bumper, last = impact.bumper, response.phases[-1]
    if bumper is None or bumper.mass == 0.0 or not bumper.held:
        return 0.0
    y, w = map(float, last.at(last.times[-1:])[2:, 0])
    if w <= 0.0:
        return 0.0
    stiffness = bumper.spring / bumper.mass
    if y < 0.0:  # on its way back to the middle, where dampers would take some of its speed
        y, w = 0.0, math.hypot(w, math.sqrt(stiffness) * y)
    if not bumper.dampers:
        return math.hypot(y, w / math.sqrt(stiffness))

    def further(slower: float, at: Floats) -> list[float]:
        v = max(w - slower, impact.at_rest)
        return [bumper.mass * v / (impact.damper_force(v) + bumper.spring * max(float(at[0]), 0.0))]

    return float(solve_ivp(further, (0.0, w), [y], rtol=1e-8, atol=1e-9).y[0, -1])
