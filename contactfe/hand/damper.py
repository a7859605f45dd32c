"""A fluid viscous damper: its force against a velocity, and the energy that it takes in a cycle.

Its coefficient, whose unit would depend on the exponent, is given as a force at a stated velocity:
1000 kN(s/m)^0.4 is 1000 kN at 1 m/s. Units are coherent: N, mm and s.
"""

import math
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula

SOFTEST_EXPONENT, STIFFEST_EXPONENT = 0.3, 2.0
"""Velocity exponents of fluid viscous dampers: common practice, no source; seismic ones to 1."""

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    "velocity": ("v", "velocity"),
    "frequency": ("ω", "frequency"),
    "amplitude": ("u0", "length"),
    "reference_force": ("F1", "force"),
    "reference_velocity": ("v1", "velocity"),
    "exponent": ("α", None),
}


def _damper_exponents(_: float, **given: Any) -> tuple[Limit, ...]:
    return (
        at_least("α", given["exponent"], SOFTEST_EXPONENT),
        at_most("α", given["exponent"], STIFFEST_EXPONENT),
    )


@formula(
    name="force of the viscous damper",
    symbol="Fd",
    form="{reference_force}·({velocity}/{reference_velocity})^({exponent})",
    dimension="force",
    given=_SYMBOLS,
    limits=_damper_exponents,
    source="the law of fluid viscous dampers, F = C·v^α: common practice, no source",
)
def damper_force(
    velocity: float, reference_force: float, reference_velocity: float, exponent: float
) -> float:
    """Force Fd, N, of a viscous damper against a velocity: F1 (v/v1)^α.

    ``velocity`` v in mm/s; ``reference_force`` F1 in N is that at ``reference_velocity`` v1 in
    mm/s, so C = F1/v1^α. Raises ValueError for a negative velocity, or a force, reference velocity
    or exponent that is not positive.

    Source: common practice, no source. Range: α from 0.3 to 2.

    >>> print(damper_force(700.0, 1000e3, 1000.0, 0.4) / 1e3)
    867.04
    """
    check.not_negative(velocity=velocity)
    check.positive(
        reference_force=reference_force, reference_velocity=reference_velocity, exponent=exponent
    )
    return float(reference_force * (velocity / reference_velocity) ** exponent)


def _cycle(**given: Any) -> dict[str, Given]:
    return {"cycle": Given("λ", _cycle_factor(given["exponent"]))}


@formula(
    name="energy that the damper takes in a cycle",
    symbol="Wd",
    form=(
        "{cycle}·{reference_force}·{amplitude}"
        "·({frequency}·{amplitude}/{reference_velocity})^({exponent})"
    ),
    dimension="energy",
    given=_SYMBOLS,
    limits=_damper_exponents,
    parts=_cycle,
    note="λ = 4·2^α·Γ(1 + α/2)²/Γ(2 + α): 4 for α = 0, π for α = 1",
    source="the work of the damper's force in harmonic motion, derived here",
)
def damper_energy(
    frequency: float,
    amplitude: float,
    reference_force: float,
    reference_velocity: float,
    exponent: float,
) -> float:
    """Energy Wd, N mm, that a viscous damper takes in one cycle of harmonic motion.

    λ F1 u0 (ωu0/v1)^α. ``frequency`` ω in rad/s, ``amplitude`` u0 in mm; the rest, range and errors
    as in :func:`damper_force`.

    Source: derived here: λ is 4∫cos^(1+α) over a quarter turn, 4·2^α Γ²(1 + α/2)/Γ(2 + α).

    >>> print(damper_energy(2.0, 400.0, 1000e3, 1000.0, 1.0) / 1e6)
    1005.31
    """
    check.positive(
        frequency=frequency,
        amplitude=amplitude,
        reference_force=reference_force,
        reference_velocity=reference_velocity,
        exponent=exponent,
    )
    speed = frequency * amplitude / reference_velocity
    return float(_cycle_factor(exponent) * reference_force * amplitude * speed**exponent)


def _cycle_factor(exponent: float) -> float:
    return 4 * 2**exponent * math.gamma(1 + exponent / 2) ** 2 / math.gamma(2 + exponent)
