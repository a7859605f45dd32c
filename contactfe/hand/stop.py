"""How hard a mass strikes a spring, without and with a dashpot beside it (Kelvin).

A mass m moves at velocity v when the gap closes and is stopped by something of a stiffness k.
Penetration δ is counted from the closing of the gap. The coefficient of restitution e is the
velocity at which the two part over that at which they met. Units are coherent, with masses in
tonnes.

Valid for one impact of one mass that nothing else drives meanwhile, on a stop that stays elastic
and weighs little beside the mass.
"""

import math
from functools import partial
from typing import Annotated

from contactfe.hand import check
from contactfe.hand.formula import formula, shown
from contactfe.hand.quantities import (
    Damping,
    Force,
    Length,
    Mass,
    Number,
    Share,
    Stiffness,
    Time,
    Velocity,
)

_of_stop = partial(
    formula,
    symbols={"velocity": "v", "mass": "m", "stiffness": "k", "restitution": "e"},
)
_linear = partial(_of_stop, source="a mass on a linear spring: energy")
_kelvin = partial(_of_stop, source="free vibration of a damped mass, derived here")

_PHI = "φ = arccos(ξ)"

DampingRatio = Annotated[Number, check.damping_ratio, "ξ"]
"""From 0 to below 1: beyond it nothing swings back."""


@formula("effective mass of two free bodies", "m", source="conservation of momentum")
def effective_mass(mass_1: Annotated[Mass, "m1"], mass_2: Annotated[Mass, "m2"]) -> Mass:
    """Mass that strikes a fixed stop as two free bodies strike each other.

    The velocity is then that of one relative to the other.

    >>> print(effective_mass(2000.0, 6000.0))
    1500.0
    """
    return mass_1 * mass_2 / (mass_1 + mass_2)


@_linear("peak force of a linear stop", "F")
def linear_peak_force(velocity: Velocity, stiffness: Stiffness, mass: Mass) -> Force:
    """Peak force on an elastic stop without damping.

    >>> print(linear_peak_force(700.0, 500e3, 2000.0) / 1e6)
    22.1359
    """
    return velocity * math.sqrt(stiffness * mass)


@_linear("peak penetration of a linear stop", "δ")
def linear_peak_penetration(velocity: Velocity, stiffness: Stiffness, mass: Mass) -> Length:
    """How far an elastic stop gives way.

    >>> print(linear_peak_penetration(700.0, 500e3, 2000.0))
    44.2719
    """
    return velocity * math.sqrt(mass / stiffness)


@_linear("duration of the impact on a linear stop", "tc")
def linear_duration(stiffness: Stiffness, mass: Mass) -> Time:
    """Time from first touch to parting, without damping: half a period.

    >>> print(linear_duration(500e3, 2000.0))
    0.198692
    """
    return math.pi * math.sqrt(mass / stiffness)


@_linear("period of a mass on a linear stop", "T")
def linear_period(stiffness: Stiffness, mass: Mass) -> Time:
    """Period of which an impact without damping lasts half.

    >>> print(linear_period(500e3, 2000.0))
    0.397384
    """
    return 2 * math.pi * math.sqrt(mass / stiffness)


@_of_stop(
    "damping ratio of a Kelvin stop",
    "ξ",
    source="S. A. Anagnostopoulos, Earthquake Engineering and Structural Dynamics 16 (1988): from"
    " memory, not seen; it is that of free vibration, derived here",
)
def kelvin_damping_ratio(restitution: Share) -> Number:
    """Damping ratio of a spring and dashpot side by side, from the restitution they give back.

    The dashpot is 2ξ√(km). The impact is followed until the penetration is back at zero; near its
    end the dashpot then holds the mass back. A stop that cannot pull lets go before and gives back
    more, :func:`kelvin_restitution`.

    >>> print(kelvin_damping_ratio(0.65))
    0.13585
    """
    return math.log(1 / restitution) / math.sqrt(math.pi**2 + math.log(restitution) ** 2)


@_kelvin("dashpot of a Kelvin stop", "c")
def kelvin_dashpot(stiffness: Stiffness, mass: Mass, damping_ratio: DampingRatio) -> Damping:
    """Coefficient of the dashpot beside a spring: force over velocity.

    >>> print(kelvin_dashpot(500e3, 2000.0, 0.13585) / 1e3)
    8.59191
    """
    return 2 * damping_ratio * math.sqrt(stiffness * mass)


@_of_stop(
    "time step that finds the peak force within 1 %",
    "Δt",
    symbols={"period": "T"},
    source="derived here: measured with average acceleration and with central differences",
)
def time_step(period: Time, damping_ratio: DampingRatio) -> Time:
    """Step of an analysis that integrates an impact on a spring, without or with a dashpot.

    Without a dashpot the gap closes within a step, and the peak lies between two, for which 50 of
    them in a period do. The force of a dashpot begins all at once at closure, and the step in which
    it does is off by a share of ξΔt/T.

    >>> print(time_step(0.4, 0.0), time_step(0.4, 0.13585))
    0.008 0.00245369
    """
    return period / max(50, 1200 * damping_ratio)


@_kelvin("restitution of a Kelvin stop that cannot pull", "e", note=_PHI)
def kelvin_restitution(damping_ratio: DampingRatio) -> Number:
    """Restitution of a spring and dashpot that let go of the mass where they would pull it.

    The force is zero at ωd t = 2φ.

    >>> print(kelvin_restitution(0.13585))
    0.67475
    """
    phase = shown("phase", math.acos(damping_ratio), "φ", "angle")
    return math.exp(-2 * phase * damping_ratio / math.sqrt(1 - damping_ratio**2))


@_kelvin("peak penetration of a Kelvin stop", "δ", note=_PHI)
def kelvin_peak_penetration(
    velocity: Velocity, stiffness: Stiffness, mass: Mass, damping_ratio: DampingRatio
) -> Length:
    """How far a spring and dashpot give way.

    >>> print(kelvin_peak_penetration(700.0, 500e3, 2000.0, 0.13585))
    36.3664
    """
    phase = shown("phase", math.acos(damping_ratio), "φ", "angle")
    decay = math.exp(-phase * damping_ratio / math.sqrt(1 - damping_ratio**2))
    return velocity * math.sqrt(mass / stiffness) * decay


@_kelvin(
    "peak force of a Kelvin stop",
    "F",
    note=f"c = exp(−(3·φ − π)·ξ/√(1 − ξ²)), {_PHI}; above ξ = 0.5 the dashpot at first touch"
    " governs, c = 2·ξ",
)
def kelvin_peak_force(
    velocity: Velocity, stiffness: Stiffness, mass: Mass, damping_ratio: DampingRatio
) -> Force:
    """Peak force of a spring and dashpot.

    The acceleration is greatest at ωd t = 3φ − π; for ξ above 0.5 at first touch.

    >>> print(kelvin_peak_force(700.0, 500e3, 2000.0, 0.13585) / 1e6)
    18.8756
    """
    factor = shown("factor", _force_factor(damping_ratio), "c")
    return factor * velocity * math.sqrt(stiffness * mass)


def _force_factor(damping_ratio: float) -> float:
    if damping_ratio > 0.5:
        return 2 * damping_ratio
    swing = 3 * math.acos(damping_ratio) - math.pi
    return math.exp(-swing * damping_ratio / math.sqrt(1 - damping_ratio**2))
