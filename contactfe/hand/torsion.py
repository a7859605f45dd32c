"""Torsion of a round post, as drag along a plate exerts it, beside bending and shear."""

import math

from contactfe.hand import check
from contactfe.hand.formula import Dimension, formula
from contactfe.hand.round_section import ROUND

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    **ROUND,
    "torque": ("T", "moment"),
    "bending": ("σb", "stress"),
    "shear": ("τ", "stress"),
    "twist": ("τT", "stress"),
}


@formula(
    name="shear stress of torsion at the outside",
    symbol="τT",
    form="16·{torque}·{outside_diameter}/(π·({outside_diameter}⁴ − {bore}⁴))",
    dimension="stress",
    given=_SYMBOLS,
    source="Coulomb's torsion of round shafts, any text on strength of materials",
)
def torsion_stress(torque: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Shear stress τT, MPa, at the outside of a round under a torque T, N mm: 16TD/(π(D⁴ − d⁴)).

    Diameters in mm, ``bore`` 0 of a solid. Raises ValueError for a negative torque, a diameter that
    is not positive or a bore not in [0, D).

    >>> print(torsion_stress(6.75e6, 150.0))
    10.186
    """
    check.not_negative(torque=torque)
    check.round_section(outside_diameter / 2, bore / 2)
    return 16 * torque * outside_diameter / (math.pi * (outside_diameter**4 - bore**4))


@formula(
    name="von Mises stress at the root with torsion",
    symbol="σv",
    form="max(√({bending}² + 3·{twist}²), √(3)·({shear} + {twist}))",
    dimension="stress",
    given=_SYMBOLS,
    source="criterion of von Mises; a bound, as the peaks of shear and torsion may lie apart",
)
def von_mises_with_torsion(bending: float, shear: float, twist: float) -> float:
    """Bound on the von Mises stress, MPa, of bending σb, beam shear τ and torsion τT together.

    At the farthest fibre bending and torsion act, at the neutral axis beam shear and torsion; that
    their peaks lie at one place there is on the safe side. All in MPa, none negative, or
    ValueError.

    >>> print(von_mises_with_torsion(250.0, 14.0, 10.0))
    250.599
    """
    check.not_negative(bending=bending, shear=shear, twist=twist)
    return max(math.hypot(bending, math.sqrt(3) * twist), math.sqrt(3) * (shear + twist))
