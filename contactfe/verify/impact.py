"""Impacts that are integrated here as `contactfe impact` does, for the rows of impact.toml."""

from functools import cache
from typing import Literal

from contactfe.hand import closure, power_stop, stop
from contactfe.impact.history import history, peak
from contactfe.impact.laws import Contact, InProportion, LinearDashpot, PowerLaw, PressedIn, Spring
from contactfe.impact.motion import Impact
from contactfe.impact.response import Response, integrate

Law = Literal["Kelvin", "Ye", "Jankowski"]


@cache
def _response(law: Law, e: float) -> Response:
    """An impact of unit mass and velocity on a fixed stop of unit stiffness, integrated."""
    hertz = PowerLaw(1.0, 1.0, 1.5)
    contact = {
        "Kelvin": Contact(Spring(1.0), LinearDashpot(2 * stop.kelvin_damping_ratio(e))),
        "Ye": Contact(hertz, InProportion(power_stop.ye_damping(e))),
        "Jankowski": Contact(hertz, PressedIn(power_stop.jankowski_damping_ratio(e), 1.0, 1.0)),
    }[law]
    return integrate(Impact(1.0, 1.0, contact))


def returned(law: Law, restitution: float) -> float:
    """Velocity after the impact over that before it, at a law damped for this restitution."""
    return -float(history(_response(law, restitution)).floor_velocity[-1])


def peak_of(law: Law, restitution: float, of: Literal["contact_force", "approach"]) -> float:
    """Greatest force or penetration of that impact."""
    return peak(_response(law, restitution), of).value


def linear_peak_force(velocity: float, stiffness: float, mass: float) -> float:
    """Greatest force, N, of a mass, t, on a linear stop."""
    found = integrate(Impact(mass, velocity, Contact(Spring(stiffness))))
    return peak(found, "contact_force").value


def rest_without_stop(damping: float) -> float:
    """Displacement at which a damped floor comes to rest on next to no stop, mm: 450 as stated."""
    mass, gap, frequency = 2000.0, 300.0, closure.circular_frequency(3.0)
    velocity = closure.damped_closure_velocity(frequency, 450.0, gap, damping)
    found = integrate(
        Impact(
            mass, velocity, Contact(Spring(1e-6)), isolation=mass * frequency**2, gap=gap,
            damping=2.0 * damping * mass * frequency,
        )
    )  # fmt: skip
    return gap + peak(found, "floor").value
