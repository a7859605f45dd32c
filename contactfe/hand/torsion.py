"""Torsion of a round post, as friction along a plate exerts it, beside bending and shear."""

import math
from typing import Annotated

from contactfe.hand import check
from contactfe.hand.formula import formula, shown
from contactfe.hand.quantities import Length, Moment, Pressure, Stress
from contactfe.hand.round_section import Bore


@formula(
    "shear stress of torsion at the outside",
    "τT",
    source="Coulomb's torsion of round shafts, any text on strength of materials",
)
def torsion_stress(
    torque: Annotated[Moment, "T"], outside_diameter: Length, bore: Bore = 0.0
) -> Stress:
    """Shear stress at the outside of a solid (bore 0) or hollow round under a torque.

    >>> print(torsion_stress(6.75e6, 150.0))
    10.186
    """
    check.bore(outside_diameter, bore)
    return 16 * torque * outside_diameter / (math.pi * (outside_diameter**4 - bore**4))


@formula(
    "von Mises stress at the root with torsion",
    "σv",
    note="s is the sine of the angle from the farthest fibre at which it is greatest,"
    " 3·τ·τT/(σb² − 3·τ²), but at most 1, the neutral axis",
    source="criterion of von Mises round the section: derived here",
)
def von_mises_with_torsion(
    bending: Annotated[Pressure, "σb"],
    shear: Annotated[Pressure, "τ"],
    twist: Annotated[Pressure, "τT"],
) -> Stress:
    """Greatest von Mises stress of bending, beam shear and torsion together.

    At the angle α from the farthest fibre, bending is σb cos α, beam shear τ sin α and torsion τT,
    all taken at one radius: exact for a thin wall, on the safe side for a thick one and a solid,
    whose beam shear is greatest at the bore and torsion outside.

    >>> print(von_mises_with_torsion(250.0, 14.0, 10.0))
    250.605
    """
    sine = shown("sine", _sine_of_the_greatest(bending, shear, twist), "s")
    return math.sqrt(bending**2 * (1 - sine**2) + 3 * (twist + shear * sine) ** 2)


def _sine_of_the_greatest(bending: float, shear: float, twist: float) -> float:
    left = bending**2 - 3 * shear**2
    return 1.0 if 3 * shear * twist >= left else 3 * shear * twist / left
