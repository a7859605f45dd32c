"""How far the contact force overshoots the dampers' when a floor strikes a bumper of some mass.

The bumper, of mass m, is at rest; the floor, very heavy beside it, strikes it at velocity v through
a contact of stiffness k. Dampers hold the bumper with the force F0 at that velocity. The bumper
must first be brought up to speed, and the contact force rises above F0 meanwhile. Units are
coherent, with masses in tonnes.

Valid for an elastic contact and a bumper that nothing but its dampers holds.
"""

import math
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_most, formula

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    "velocity": ("v", "velocity"),
    "mass": ("m", "mass"),
    "stiffness": ("k", "stiffness"),
    "damper_force": ("F0", "force"),
    "exponent": ("α", None),
    "reference_force": ("F1", "force"),
    "reference_penetration": ("δ1", "length"),
    "contact_exponent": ("n", None),
}

SMALLEST_EXPONENT = 0.1
"""Velocity exponent up to which a damper counts as one of unvarying force: common practice, no
source."""


def linear_damper_ratio(
    velocity: float, damper_force: float, stiffness: float, mass: float
) -> float:
    """Damping ratio ξ of a bumper on a linear damper, F0/(2v√(km)): at 1 nothing overshoots.

    ``velocity`` v in mm/s, ``damper_force`` F0 at it in N, ``stiffness`` k in N/mm, ``mass`` m in
    t. Raises ValueError for one that is not positive. Source: derived here.

    >>> print(linear_damper_ratio(700.0, 2.8e6, 500e3, 10.0))
    0.894427
    """
    _check(velocity, damper_force, stiffness, mass)
    return damper_force / (2 * velocity * math.sqrt(stiffness * mass))


def _linear_parts(**given: Any) -> dict[str, Given]:
    ratio = linear_damper_ratio(**given)
    return {"factor": Given("c", _overshoots(ratio))}


@formula(
    name="peak force on a bumper with a linear damper",
    symbol="F",
    form="{damper_force} + {factor}·{velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_SYMBOLS,
    parts=_linear_parts,
    note=(
        "ξ = F0/(2·v·√(k·m)), φ = arccos(ξ), c = exp(−(π − φ)·ξ/√(1 − ξ²)); c = 0 for ξ of 1 and"
        " more"
    ),
    source="the equation of motion at unvarying velocity of the floor, derived here",
)
def linear_damper_peak(
    velocity: float, damper_force: float, stiffness: float, mass: float
) -> float:
    """Peak contact force F, N, on a bumper whose damper is linear: F0 + v√(km) e^−(π − φ)ξ/√(1−ξ²).

    With ξ = F0/(2v√(km)) and cos φ = ξ; for ξ of 1 and more nothing overshoots and F is F0.
    Arguments and errors as in :func:`linear_damper_ratio`.

    Source: derived here. With δ the approach, m δ'' + C δ' + k δ = C v from δ = 0, δ' = v, where
    C = F0/v. About its rest at F0/k it swings by δ − F0/k = (v/ω) e^−ξωt at the first peak, which
    lies at ωd t = π − φ.

    >>> print(linear_damper_peak(700.0, 1e6, 500e3, 10.0) / 1e6)
    1.826071
    """
    ratio = linear_damper_ratio(velocity, damper_force, stiffness, mass)
    return damper_force + _overshoots(ratio) * velocity * math.sqrt(stiffness * mass)


def _overshoots(ratio: float) -> float:
    if ratio >= 1:
        return 0.0
    phase = math.acos(ratio)
    return math.exp(-(math.pi - phase) * ratio / math.sqrt(1 - ratio**2))


@formula(
    name="bound of the force on a bumper with any damper",
    symbol="F",
    form="{damper_force} + √({damper_force}² + {stiffness}·{mass}·{velocity}²)",
    dimension="force",
    given=_SYMBOLS,
    source="energy, derived here",
)
def damper_bound(velocity: float, damper_force: float, stiffness: float, mass: float) -> float:
    """Force F, N, that no damper lets the contact exceed: F0 + √(F0² + kmv²).

    Whatever the exponents of the dampers, as long as their force grows with velocity, and whether
    the floor slows down or not. Arguments and errors as in :func:`linear_damper_ratio`.

    Source: energy, derived here. While the approach δ grows, the bumper is slower than v and its
    dampers have less than F0, so m δ'' ≤ F0 − kδ, and m v²/2 + F0 δ ≥ kδ²/2 at the peak; F = kδ.

    >>> print(damper_bound(700.0, 1e6, 500e3, 10.0) / 1e6)
    2.85742
    """
    _check(velocity, damper_force, stiffness, mass)
    return damper_force + math.sqrt(damper_force**2 + stiffness * mass * velocity**2)


def _slight(_: float, **given: Any) -> tuple[Limit, ...]:
    return (at_most("α", given["exponent"], SMALLEST_EXPONENT),)


@formula(
    name="peak force on a bumper with dampers of unvarying force",
    symbol="F",
    form="{damper_force} + {velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_SYMBOLS,
    limits=_slight,
    source="a mass held by dry friction, derived here",
)
def friction_peak(
    velocity: float,
    damper_force: float,
    stiffness: float,
    mass: float,
    exponent: float = 0.0,  # noqa: ARG001, of the range alone
) -> float:
    """Peak contact force F, N, in the limit of dampers that do not mind velocity: F0 + v√(km).

    ``exponent`` α of the dampers sets the range of the limit: α up to 0.1. Other
    arguments and errors as in :func:`linear_damper_ratio`.

    Source: derived here. The bumper holds still until kδ = F0; from there the approach swings about
    F0/k, which it passes at the velocity v.

    >>> print(friction_peak(700.0, 1e6, 500e3, 10.0) / 1e6)
    2.56525
    """
    _check(velocity, damper_force, stiffness, mass)
    return damper_force + velocity * math.sqrt(stiffness * mass)


@formula(
    name="bound of the force on a bumper with any damper, power law",
    symbol="F",
    form=None,
    dimension="force",
    given=_SYMBOLS,
    note="F = F1·(δ/δ1)ⁿ at the root of F1·δ1/(n + 1)·(δ/δ1)^(n + 1) = F0·δ + m·v²/2",
    source="energy, derived here",
)
def power_damper_bound(
    velocity: float,
    damper_force: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    contact_exponent: float,
) -> float:
    """The same bound, N, for a contact of the force F1 (δ/δ1)ⁿ.

    At the root of F1 δ1/(n + 1) (δ/δ1)^(n+1) = F0 δ + mv²/2. ``reference_force`` F1 in N is that at
    ``reference_penetration`` δ1 in mm, ``contact_exponent`` is n; the rest as in
    :func:`damper_bound`. Raises ValueError for an argument that is not positive.

    Source: energy, derived here, as :func:`damper_bound`.

    >>> print(power_damper_bound(700.0, 1e6, 10.0, 500e3, 1.0, 1.0) / 1e6)
    2.85742
    """
    check.positive(
        velocity=velocity,
        damper_force=damper_force,
        mass=mass,
        reference_force=reference_force,
        reference_penetration=reference_penetration,
        contact_exponent=contact_exponent,
    )
    n = contact_exponent
    # With u = δ/δ1: u^(n + 1) = b u + c. The left less the right is convex, so Newton's method
    # comes down to the root from any u above it.
    b = (n + 1) * damper_force / reference_force
    c = (n + 1) * mass * velocity**2 / (2 * reference_force * reference_penetration)
    u = max((2 * b) ** (1 / n), (2 * c) ** (1 / (n + 1)))
    for _ in range(100):
        step = (u ** (n + 1) - b * u - c) / ((n + 1) * u**n - b)
        u -= step
        if abs(step) < 1e-14 * u:
            break
    return float(reference_force * u**n)


def _check(velocity: float, damper_force: float, stiffness: float, mass: float) -> None:
    check.positive(velocity=velocity, damper_force=damper_force, stiffness=stiffness, mass=mass)
