"""How hard a mass strikes a stop whose force grows with a power of the penetration.

The force between two bodies in contact grows so: F1 (δ/δ1)ⁿ, with n = 1 for a spring and 1.5 for
Hertz's contact at a point; for a line contact n is about 1.1, and that of the whole post lower
still. Without damping, and with the damping laws that give back a stated restitution e, the
velocity at which the two part over that at which they met. Penetration δ is counted from the
closing of the gap. The stiffness, whose unit would depend on the exponent, is given as a force at
a stated penetration. Units are coherent, with masses in tonnes.

Valid as :mod:`.stop`: for one impact of one mass that nothing else drives meanwhile, on a stop that
weighs little beside the mass.
"""

import math
from functools import partial
from typing import Annotated

from scipy.special import lambertw

from contactfe.hand.formula import Limit, at_least, at_most, formula, limited, shown
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Force,
    Length,
    Mass,
    Number,
    Share,
    Velocity,
)

_of_stop = partial(
    formula,
    symbols={
        "velocity": "v", "mass": "m", "reference_force": "F1", "reference_penetration": "δ1",
        "exponent": "n", "restitution": "e", "damping": "ζ",
    },
)  # fmt: skip
_by_energy = partial(_of_stop, source="energy, derived here")

ReferenceForce = Annotated[Force, POSITIVE]
Exponent = Annotated[Number, POSITIVE]
Damping = Annotated[Number, NOT_NEGATIVE]


def _of_contacts(exponent: float) -> tuple[Limit, Limit]:
    """Exponents between which elastic contacts lie."""
    return at_least("n", exponent, 1.0), at_most("n", exponent, 1.5)


@_by_energy("peak force of a stop with a power law", "F")
def power_peak_force(
    velocity: Velocity,
    mass: Mass,
    reference_force: ReferenceForce,
    reference_penetration: Length,
    exponent: Exponent,
) -> Force:
    """Peak force without damping: where the strain energy F1 δ1/(n + 1) (δ/δ1)^(n+1) is mv²/2.

    >>> print(power_peak_force(700.0, 2000.0, 500e3, 1.0, 1.0) / 1e6)
    22.1359
    """
    limited(*_of_contacts(exponent))
    share = (exponent + 1) * mass * velocity**2 / (2 * reference_force * reference_penetration)
    return float(reference_force * share ** (exponent / (exponent + 1)))


@_of_stop(
    "damping of a Hertz stop, after Ye and others",
    "ζ",
    source="K. Ye, L. Li and H. Zhu, Earthquake Engineering and Structural Dynamics 38 (2009),"
    " doi 10.1002/eqe.883: form seen; range by the restitution that it returns, derived here",
)
def ye_damping(restitution: Share) -> Number:
    """Damping ζ of the force F1 (δ/δ1)ⁿ (1 + ζ δ'/v).

    It gives back 0.470 for 0.5, 0.630 for 0.65 and 0.789 for 0.8 (:func:`damped_restitution`): at
    most 0.03 too little from e = 0.5 on, its range here.

    >>> print(ye_damping(0.65))
    0.86154
    """
    limited(at_least("e", restitution, 0.5))
    return 8 / 5 * (1 - restitution) / restitution


@_of_stop(
    "damping ratio of a stop damped while it is pressed in, after Jankowski",
    "ξ",
    source="R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006),"
    " doi 10.1002/eqe.537: form seen; range measured against the equation of motion",
)
def jankowski_damping_ratio(restitution: Share) -> Number:
    """Damping ratio of the force βδ^1.5 + 2ξ√(β√δ m) δ', damped while δ grows only.

    Integrated, it gives back e to 0.01 from e = 0.3 on, its range here (measured in the tests).

    >>> print(jankowski_damping_ratio(0.65))
    0.37284
    """
    limited(at_least("e", restitution, 0.3))
    low = restitution * (restitution * (9 * math.pi - 16) + 16)
    return 9 * math.sqrt(5) / 2 * (1 - restitution**2) / low


@_by_energy(
    "restitution that a damped power law gives back",
    "e",
    note="the root of ζ·(1 + e) = ln((1 + ζ)/(1 − ζ·e)) between 0 and 1",
)
def damped_restitution(damping: Damping) -> Number:
    """Restitution that the force F1 (δ/δ1)ⁿ (1 + ζ δ'/v) gives back, whatever n, F1, m and v.

    With y = 1 − ζe the root reads y e⁻ʸ = (1 + ζ)e^−(1 + ζ), which Lambert's function solves:
    u du/(1 + ζu) over the velocities u = δ'/v from 1 to 0 and from 0 to −e is the same work.

    >>> print(damped_restitution(0.5625))
    0.72524
    """
    if damping < 1e-3:
        # Where Lambert's function branches rounding grows; the series is good to 1e-9.
        return 1 - 2 / 3 * damping + 4 / 9 * damping**2
    y = -lambertw(-(1 + damping) * math.exp(-(1 + damping))).real
    return float((1 - y) / damping)


@_by_energy(
    "peak penetration of a damped stop with a power law",
    "δ",
    note="c = 2·(ζ − ln(1 + ζ))/ζ², 1 for ζ = 0: the share of the energy that is not damped",
)
def damped_peak_penetration(
    velocity: Velocity,
    mass: Mass,
    reference_force: ReferenceForce,
    reference_penetration: Length,
    exponent: Exponent,
    damping: Damping,
) -> Length:
    """How far a stop of force F1 (δ/δ1)ⁿ (1 + ζ δ'/v) gives way; without damping for ζ = 0.

    >>> print(damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, 0.5625))
    0.96645
    """
    limited(*_of_contacts(exponent))
    kept = shown("kept", _kept(damping), "c")
    energy = (exponent + 1) * mass * velocity**2 * kept
    share = energy / (2 * reference_force * reference_penetration)
    return float(reference_penetration * share ** (1 / (exponent + 1)))


def _kept(damping: float) -> float:
    """Share of the energy of the impact that the stop stores, 2(ζ − ln(1 + ζ))/ζ²."""
    if damping < 0.1:
        # Where the difference cancels, its series 2/2 − 2ζ/3 + 2ζ²/4 − …, to rounding.
        return sum(2 * (-damping) ** k / (k + 2) for k in range(17))
    return 2 * (damping - math.log1p(damping)) / damping**2
