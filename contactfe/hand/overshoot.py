"""How far the contact force overshoots the dampers' when a floor strikes a bumper of some mass.

The bumper, of mass m, is at rest; the floor, very heavy beside it, strikes it at velocity v through
a contact of stiffness k. Dampers hold the bumper with the force F0 at that velocity. The bumper
must first be brought up to speed, and the contact force rises above F0 meanwhile. Units are
coherent, with masses in tonnes.

Valid for an elastic contact and a bumper that nothing but its dampers holds.
"""

import math
from functools import partial
from typing import Annotated

from contactfe.hand.formula import at_most, formula, limited, shown
from contactfe.hand.quantities import POSITIVE, UNCHECKED, Force, Length, Mass, Number, Stiffness
from contactfe.hand.quantities import Velocity as AnyVelocity

_of_bumper = partial(
    formula,
    symbols={
        "velocity": "v", "mass": "m", "stiffness": "k", "damper_force": "F0",
        "reference_force": "F1", "reference_penetration": "δ1",
    },
)  # fmt: skip

Velocity = Annotated[AnyVelocity, POSITIVE]
DamperForce = Annotated[Force, POSITIVE]

SMALLEST_EXPONENT = 0.1
"""Velocity exponent up to which a damper counts as one of unvarying force: common practice, no
source."""


def linear_damper_ratio(
    velocity: float, damper_force: float, stiffness: float, mass: float
) -> float:
    """Damping ratio ξ of a bumper on a linear damper, F0/(2v√(km)): at 1 nothing overshoots.

    ``velocity`` v in mm/s, ``damper_force`` F0 at it in N, ``stiffness`` k in N/mm, ``mass`` m in
    t. Source: derived here.

    >>> print(linear_damper_ratio(700.0, 2.8e6, 500e3, 10.0))
    0.894427
    """
    return damper_force / (2 * velocity * math.sqrt(stiffness * mass))


@_of_bumper(
    "peak force on a bumper with a linear damper",
    "F",
    note="ξ = F0/(2·v·√(k·m)), φ = arccos(ξ), c = exp(−(π − φ)·ξ/√(1 − ξ²)); c = 0 for ξ of 1 and"
    " more",
    source="the equation of motion at unvarying velocity of the floor, derived here",
)
def linear_damper_peak(
    velocity: Velocity, damper_force: DamperForce, stiffness: Stiffness, mass: Mass
) -> Force:
    """Peak contact force on a bumper whose damper is linear.

    With δ the approach, m δ'' + C δ' + k δ = C v from δ = 0, δ' = v, where C = F0/v. About its rest
    at F0/k it swings by δ − F0/k = (v/ω) e^−ξωt at the first peak, which lies at ωd t = π − φ.

    >>> print(linear_damper_peak(700.0, 1e6, 500e3, 10.0) / 1e6)
    1.826071
    """
    ratio = linear_damper_ratio(velocity, damper_force, stiffness, mass)
    factor = shown("factor", _overshoots(ratio), "c")
    return damper_force + factor * velocity * math.sqrt(stiffness * mass)


def _overshoots(ratio: float) -> float:
    if ratio >= 1:
        return 0.0
    phase = math.acos(ratio)
    return math.exp(-(math.pi - phase) * ratio / math.sqrt(1 - ratio**2))


@_of_bumper("bound of the force on a bumper with any damper", "F", source="energy, derived here")
def damper_bound(
    velocity: Velocity, damper_force: DamperForce, stiffness: Stiffness, mass: Mass
) -> Force:
    """Force that no damper lets the contact exceed.

    Whatever the exponents of the dampers, as long as their force grows with velocity, and whether
    the floor slows down or not. While the approach δ grows, the bumper is slower than v and its
    dampers have less than F0, so m δ'' ≤ F0 − kδ, and m v²/2 + F0 δ ≥ kδ²/2 at the peak; F = kδ.

    >>> print(damper_bound(700.0, 1e6, 500e3, 10.0) / 1e6)
    2.85742
    """
    return damper_force + math.sqrt(damper_force**2 + stiffness * mass * velocity**2)


@_of_bumper(
    "peak force on a bumper with dampers of unvarying force",
    "F",
    source="a mass held by dry friction, derived here",
)
def friction_peak(
    velocity: Velocity,
    damper_force: DamperForce,
    stiffness: Stiffness,
    mass: Mass,
    exponent: Annotated[Number, UNCHECKED, "α"] = 0.0,
) -> Force:
    """Peak contact force in the limit of dampers whose force does not depend on velocity.

    The exponent of the dampers sets the range of the limit. The bumper holds still until kδ = F0;
    from there the approach swings about F0/k, which it passes at the velocity v.

    >>> print(friction_peak(700.0, 1e6, 500e3, 10.0) / 1e6)
    2.56525
    """
    limited(at_most("α", exponent, SMALLEST_EXPONENT))
    return damper_force + velocity * math.sqrt(stiffness * mass)


@_of_bumper(
    "bound of the force on a bumper with any damper, power law",
    "F",
    note="F = F1·(δ/δ1)ⁿ at the root of F1·δ1/(n + 1)·(δ/δ1)^(n + 1) = F0·δ + m·v²/2",
    source="energy, derived here",
)
def power_damper_bound(
    velocity: Velocity,
    damper_force: DamperForce,
    mass: Mass,
    reference_force: Annotated[Force, POSITIVE],
    reference_penetration: Length,
    contact_exponent: Annotated[Number, POSITIVE, "n"],
) -> Force:
    """The same bound for a contact of the force F1 (δ/δ1)ⁿ.

    >>> print(power_damper_bound(700.0, 1e6, 10.0, 500e3, 1.0, 1.0) / 1e6)
    2.85742
    """
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
