"""EN 1993-1-8, 4.5.3.3 and 4.7.1: the fillet or butt weld at the root of the post.

Eq. 4.2 and Table 4.1 were seen in open-source libraries.
"""

import math
from typing import Annotated

from contactfe.codes.clause import Sides
from contactfe.codes.en_1993_1_8.common import EN_1993_1_8
from contactfe.codes.scope import european_strength
from contactfe.hand import torsion
from contactfe.hand.formula import at_least, at_most
from contactfe.hand.quantities import (
    POSITIVE,
    Length,
    LineLoad,
    Number,
    PartialFactor,
    Pressure,
    Stress,
)

LEAST_THROAT = 3.0
"""Least throat, mm, of a fillet weld that counts: 4.5.2(2), from memory, not seen."""

CORRELATION = (0.8, 1.0)
"""Least and greatest factor βw of Table 4.1, of S235 and S460: seen in an open-source library."""


@EN_1993_1_8.formula(
    "resistance of a fillet weld, per length",
    "Fw,Rd",
    "eqs 4.3 and 4.4",
    text="from memory, not seen",
)
def weld_resistance(
    throat: Length,
    tensile_strength: Stress,
    correlation: Annotated[Number, POSITIVE],
    gamma_M2: PartialFactor = 1.25,
) -> LineLoad:
    """Shear strength of the throat by fu of the weaker part."""
    return tensile_strength / (math.sqrt(3) * correlation * gamma_M2) * throat


@EN_1993_1_8.clause(
    "en_1993_1_8.4_5_3_3",
    "4.5.3.3, eqs 4.2 to 4.4",
    "strength of fillet welds, simplified method",
    intended_for="Fillet welds under predominantly static load: the resultant force per length of"
    " weld, whatever its direction, against the shear strength of the throat.",
    applies_here="Applies to the weld all round at the post's root, with the force per length of"
    " beam theory. The strength fu is that of the post: the part at its root must not be weaker. It"
    " covers neither fatigue nor repeated impact.",
    applicability="as written",
    level="strength",
    text="from memory, not seen",
)
def fillet_weld(
    line_load: Annotated[LineLoad, "Fw,Ed"],
    throat: Length,
    tensile_strength: Stress,
    correlation: Annotated[Number, POSITIVE],
    gamma_M2: PartialFactor = 1.25,
) -> Sides:
    """The lower fu of both parts counts.

    βw is 0.8 for S235, 0.85 for S275, 0.9 for S355 and 1.0 for S420 and S460 (Table 4.1, seen).

    >>> print(round(fillet_weld(500.0, 5.0, 470.0, 0.9).ratio, 4))
    0.4146
    """
    least, greatest = CORRELATION
    return Sides(
        demand=line_load,
        resistance=weld_resistance.worked(throat, tensile_strength, correlation, gamma_M2),
        scope=(
            at_least("throat", throat, LEAST_THROAT, "length"),
            at_least("βw", correlation, least),
            at_most("βw", correlation, greatest),
        ),
    )


@EN_1993_1_8.formula(
    "design strength of the part joined", "fyd", "4.7.1", text="from memory, not seen"
)
def joined_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Strength of the weaker part, to which a weld of full penetration comes up."""
    return yield_strength / gamma_M0


@EN_1993_1_8.clause(
    "en_1993_1_8.4_7_1",
    "4.7.1(1), with 6.2.1(5) of EN 1993-1-1",
    "full penetration butt weld, by the part joined",
    intended_for="Butt welds of full penetration, made with a consumable of at least the yield and"
    " tensile strength of the parent metal: their resistance is that of the weaker part joined.",
    applies_here="Applies to the weld all round at the post's root, with the von Mises stress of"
    " bending, shear and torsion at the face, by elastic theory and without the stress"
    " concentration. The strength is that of the post: the part at its root must not be weaker. The"
    " consumable must be as strong, whether its strength is stated or not. It covers neither"
    " fatigue nor repeated impact, nor the part at the root through its thickness.",
    applicability="as written",
    level="strength",
    text="from memory, not seen",
)
def groove_weld(
    bending: Annotated[Pressure, "σb"],
    shear: Annotated[Pressure, "τ"],
    twist: Annotated[Pressure, "τT"],
    yield_strength: Stress,
    tensile_strength: Stress,
    electrode_strength: Annotated[Stress, "fu,w"] | None = None,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """Stresses of the post at its root, and the strengths of the post.

    An ``electrode_strength`` that is stated is to be at least fu of the post.

    >>> print(round(groove_weld(200.0, 20.0, 10.0, 355.0, 470.0).ratio, 4))
    0.5656
    """
    return Sides(
        demand=torsion.von_mises_with_torsion.worked(bending, shear, twist),
        resistance=joined_strength.worked(yield_strength, gamma_M0),
        scope=(
            *european_strength(yield_strength),
            *(
                ()
                if electrode_strength is None
                else (at_least("fu,w", electrode_strength, tensile_strength, "stress"),)
            ),
        ),
    )
