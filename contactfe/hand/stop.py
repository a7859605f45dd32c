"""How hard a mass strikes a spring, without and with a dashpot beside it (Kelvin).

A mass m moves at velocity v when the gap closes and is stopped by something of a stiffness k.
Penetration δ is counted from the closing of the gap. The coefficient of restitution e is the
velocity at which the two part over that at which they met. Units are coherent, with masses in
tonnes.

Valid for one impact of one mass that nothing else drives meanwhile, on a stop that stays elastic
and weighs little beside the mass.
"""

import math
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, formula

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    "velocity": ("v", "velocity"),
    "mass": ("m", "mass"),
    "mass_1": ("m1", "mass"),
    "mass_2": ("m2", "mass"),
    "stiffness": ("k", "stiffness"),
    "restitution": ("e", None),
    "damping_ratio": ("ξ", None),
}

_LINEAR = "a mass on a linear spring: energy"
_FREE = "free vibration of a damped mass, derived here"
_ANAGNOSTOPOULOS = (
    "S. A. Anagnostopoulos, Earthquake Engineering and Structural Dynamics 16 (1988): from memory,"
    " not seen; it is that of free vibration, derived here"
)

_PHI = "φ = arccos(ξ)"


@formula(
    name="effective mass of two free bodies",
    symbol="m",
    form="{mass_1}·{mass_2}/({mass_1} + {mass_2})",
    dimension="mass",
    given=_SYMBOLS,
    source="conservation of momentum",
)
def effective_mass(mass_1: float, mass_2: float) -> float:
    """Mass m, t, that strikes a fixed stop as two free bodies strike each other: m1m2/(m1 + m2).

    Both in tonnes. Raises ValueError for a mass that is not positive. Source: conservation of
    momentum; v is then the velocity of one relative to the other.

    >>> print(effective_mass(2000.0, 6000.0))
    1500.0
    """
    check.positive(mass_1=mass_1, mass_2=mass_2)
    return mass_1 * mass_2 / (mass_1 + mass_2)


@formula(
    name="peak force of a linear stop",
    symbol="F",
    form="{velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_SYMBOLS,
    source=_LINEAR,
)
def linear_peak_force(velocity: float, stiffness: float, mass: float) -> float:
    """Peak force F, N, on an elastic stop without damping: v√(km).

    ``velocity`` v in mm/s, ``stiffness`` k in N/mm, ``mass`` m in t. Raises ValueError for a
    negative velocity, or a stiffness or mass that is not positive.

    Source: energy.

    >>> print(linear_peak_force(700.0, 500e3, 2000.0) / 1e6)
    22.1359
    """
    _check(velocity, stiffness, mass)
    return velocity * math.sqrt(stiffness * mass)


@formula(
    name="peak penetration of a linear stop",
    symbol="δ",
    form="{velocity}·√({mass}/{stiffness})",
    dimension="length",
    given=_SYMBOLS,
    source=_LINEAR,
)
def linear_peak_penetration(velocity: float, stiffness: float, mass: float) -> float:
    """How far an elastic stop gives way, mm: v√(m/k). Arguments and errors as
    :func:`linear_peak_force`. Source: energy.

    >>> print(linear_peak_penetration(700.0, 500e3, 2000.0))
    44.2719
    """
    _check(velocity, stiffness, mass)
    return velocity * math.sqrt(mass / stiffness)


@formula(
    name="duration of the impact on a linear stop",
    symbol="tc",
    form="π·√({mass}/{stiffness})",
    dimension="time",
    given=_SYMBOLS,
    source=_LINEAR,
)
def linear_duration(stiffness: float, mass: float) -> float:
    """Time tc, s, from first touch to parting, without damping: π√(m/k), half a period.

    Arguments and errors as in :func:`linear_peak_force`.

    >>> print(linear_duration(500e3, 2000.0))
    0.198692
    """
    _check(0.0, stiffness, mass)
    return math.pi * math.sqrt(mass / stiffness)


@formula(
    name="damping ratio of a Kelvin stop",
    symbol="ξ",
    form="−ln({restitution})/√(π² + ln({restitution})²)",
    dimension=None,
    given=_SYMBOLS,
    source=_ANAGNOSTOPOULOS,
)
def kelvin_damping_ratio(restitution: float) -> float:
    """Damping ratio ξ of a spring and dashpot side by side, from the restitution e they give back.

    −ln e/√(π² + ln² e): the dashpot is 2ξ√(km). The impact is followed until the penetration is
    back at zero; near its end the dashpot then holds the mass back. A stop that cannot pull lets go
    before and gives back more, :func:`kelvin_restitution`. Raises ValueError for e not in (0, 1].

    Source: S. A. Anagnostopoulos, Earthquake Engineering and Structural Dynamics 16 (1988) — from
    memory, not seen; it is that of free vibration, derived here.

    >>> print(kelvin_damping_ratio(0.65))
    0.13585
    """
    check.restitution(restitution=restitution)
    decay = abs(math.log(restitution))
    return decay / math.hypot(math.pi, decay)


def _phase(**given: Any) -> dict[str, Given]:
    return {"phase": Given("φ", math.acos(given["damping_ratio"]), "angle")}


@formula(
    name="restitution of a Kelvin stop that cannot pull",
    symbol="e",
    form="exp(−2·{phase}·{damping_ratio}/√(1 − {damping_ratio}²))",
    dimension=None,
    given=_SYMBOLS,
    parts=_phase,
    note=_PHI,
    source=_FREE,
)
def kelvin_restitution(damping_ratio: float) -> float:
    """Restitution e of a spring and dashpot that let go of the mass where they would pull it.

    exp(−2φξ/√(1 − ξ²)) with cos φ = ξ. Raises ValueError for ξ not in [0, 1).

    Source: free vibration of a damped mass, derived here: the force is zero at ωd t = 2φ.

    >>> print(kelvin_restitution(0.13585))
    0.67475
    """
    phase, decay = _swing(damping_ratio)
    return math.exp(-2 * phase * decay)


@formula(
    name="peak penetration of a Kelvin stop",
    symbol="δ",
    form=("{velocity}·√({mass}/{stiffness})·exp(−{phase}·{damping_ratio}/√(1 − {damping_ratio}²))"),
    dimension="length",
    given=_SYMBOLS,
    parts=_phase,
    note=_PHI,
    source=_FREE,
)
def kelvin_peak_penetration(
    velocity: float, stiffness: float, mass: float, damping_ratio: float
) -> float:
    """How far a spring and dashpot give way, mm: v√(m/k) exp(−φξ/√(1 − ξ²)), cos φ = ξ.

    Arguments and errors as in :func:`linear_peak_force`, and for ξ not in [0, 1).

    Source: free vibration of a damped mass, derived here.

    >>> print(kelvin_peak_penetration(700.0, 500e3, 2000.0, 0.13585))
    36.3664
    """
    _check(velocity, stiffness, mass)
    phase, decay = _swing(damping_ratio)
    return velocity * math.sqrt(mass / stiffness) * math.exp(-phase * decay)


def _force_factor(damping_ratio: float) -> float:
    if damping_ratio > 0.5:
        return 2 * damping_ratio
    phase, decay = _swing(damping_ratio)
    return math.exp(-(3 * phase - math.pi) * decay)


@formula(
    name="peak force of a Kelvin stop",
    symbol="F",
    form="{factor}·{velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_SYMBOLS,
    parts=lambda **given: {"factor": Given("c", _force_factor(given["damping_ratio"]))},
    note=(
        f"c = exp(−(3·φ − π)·ξ/√(1 − ξ²)), {_PHI}; above ξ = 0.5 the dashpot at first touch"
        " governs, c = 2·ξ"
    ),
    source=_FREE,
)
def kelvin_peak_force(
    velocity: float, stiffness: float, mass: float, damping_ratio: float
) -> float:
    """Peak force F, N, of a spring and dashpot: v√(km) exp(−(3φ − π)ξ/√(1 − ξ²)), cos φ = ξ.

    For ξ above 0.5 the force is greatest at first touch, 2ξ v√(km). Arguments and errors as in
    :func:`kelvin_peak_penetration`.

    Source: free vibration of a damped mass, derived here: its acceleration is greatest at
    ωd t = 3φ − π.

    >>> print(kelvin_peak_force(700.0, 500e3, 2000.0, 0.13585) / 1e6)
    18.8756
    """
    _check(velocity, stiffness, mass)
    _swing(damping_ratio)
    return _force_factor(damping_ratio) * velocity * math.sqrt(stiffness * mass)


@formula(
    name="duration of the impact on a Kelvin stop",
    symbol="tc",
    form="π·√({mass}/({stiffness}·(1 − {damping_ratio}²)))",
    dimension="time",
    given=_SYMBOLS,
    source=_FREE,
)
def kelvin_duration(stiffness: float, mass: float, damping_ratio: float) -> float:
    """Time tc, s, until the penetration of a spring and dashpot is back at zero.

    π√(m/k)/√(1 − ξ²). Arguments and errors as in :func:`kelvin_peak_penetration`.

    Source: free vibration of a damped mass, derived here.

    >>> print(kelvin_duration(500e3, 2000.0, 0.13585))
    0.200551
    """
    _check(0.0, stiffness, mass)
    _swing(damping_ratio)
    return math.pi * math.sqrt(mass / (stiffness * (1 - damping_ratio**2)))


def _swing(damping_ratio: float) -> tuple[float, float]:
    """Phase φ = arccos ξ, and ξ/√(1 − ξ²) by which the motion decays for each radian of ωd t."""
    if not 0 <= damping_ratio < 1:
        raise ValueError(f"damping_ratio = {damping_ratio!r} is not allowed: it must lie in [0, 1)")
    return math.acos(damping_ratio), damping_ratio / math.sqrt(1 - damping_ratio**2)


def _check(velocity: float, stiffness: float, mass: float) -> None:
    check.not_negative(velocity=velocity)
    check.positive(stiffness=stiffness, mass=mass)
