"""Torsion of a round post, as friction along a plate exerts it, beside bending and shear."""

import math
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, formula
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


def _where(**given: Any) -> dict[str, Given]:
    bending, shear, twist = (float(given[name]) for name in ("bending", "shear", "twist"))
    left = bending**2 - 3 * shear**2
    sine = 1.0 if 3 * shear * twist >= left else 3 * shear * twist / left
    return {"sine": Given("s", sine)}


@formula(
    name="von Mises stress at the root with torsion",
    symbol="σv",
    form="√({bending}²·(1 − {sine}²) + 3·({twist} + {shear}·{sine})²)",
    dimension="stress",
    given=_SYMBOLS,
    parts=_where,
    note="s is the sine of the angle from the farthest fibre at which it is greatest,"
    " 3·τ·τT/(σb² − 3·τ²), but at most 1, the neutral axis",
    source="criterion of von Mises round the section: derived here",
)
def von_mises_with_torsion(bending: float, shear: float, twist: float) -> float:
    """Greatest von Mises stress, MPa, of bending σb, beam shear τ and torsion τT together.

    At the angle α from the farthest fibre, bending is σb cos α, beam shear τ sin α and torsion τT,
    all taken at one radius: exact for a thin wall, on the safe side for a thick one and a solid,
    whose beam shear is greatest at the bore and torsion outside. All in MPa, none negative, or
    ValueError.

    Source: derived here, as the maximum over α.

    >>> print(von_mises_with_torsion(250.0, 14.0, 10.0))
    250.605
    """
    check.not_negative(bending=bending, shear=shear, twist=twist)
    s = _where(bending=bending, shear=shear, twist=twist)["sine"].value
    assert isinstance(s, float)
    return math.hypot(bending * math.sqrt(1 - s**2), math.sqrt(3) * (twist + shear * s))
