"""EN 1993-1-8, 4.5.3.3: the fillet weld at the root of the post, by the simplified method.

From memory, not seen, but for eq. 4.2 and Table 4.1, seen in open-source libraries.
"""

import math
from types import MappingProxyType
from typing import Annotated

from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.en_1993_1_8.common import EDITION, STANDARD
from contactfe.hand.formula import at_least, at_most, formula
from contactfe.hand.quantities import POSITIVE, Length, LineLoad, Number, PartialFactor, Stress

_SOURCE = "EN 1993-1-8:2005, {}: from memory, not seen"

FILLET_WELD = Clause(
    key="en_1993_1_8.4_5_3_3",
    standard=STANDARD,
    edition=EDITION,
    number="4.5.3.3, eqs 4.2 to 4.4",
    title="strength of fillet welds, simplified method",
    intended_for="Fillet welds under predominantly static load: the resultant force per length of"
    " weld, whatever its direction, against the shear strength of the throat.",
    applies_here="Applies to the weld all round at the post's root, with the force per length of"
    " beam theory. The strength fu is that of the post: the part at its root must not be weaker. It"
    " covers neither fatigue nor repeated impact.",
    applicability="as written",
    level="strength",
    text="from memory, not seen",
)
LEAST_THROAT = 3.0
"""Least throat, mm, of a fillet weld that counts: 4.5.2(2), from memory, not seen."""

CORRELATION = (0.8, 1.0)
"""Least and greatest factor βw of Table 4.1, of S235 and S460: seen in an open-source library."""

_SYMBOLS: Symbols = MappingProxyType(
    {
        "tensile_strength": "fu",
        "correlation": "βw",
        "gamma_M2": "γM2",
        "throat": "a",
    }
)


@formula(
    "resistance of a fillet weld, per length",
    "Fw,Rd",
    source=_SOURCE.format("eqs 4.3 and 4.4"),
    symbols=_SYMBOLS,
)
def weld_resistance(
    throat: Length,
    tensile_strength: Stress,
    correlation: Annotated[Number, POSITIVE],
    gamma_M2: PartialFactor = 1.25,
) -> LineLoad:
    """Resistance Fw,Rd = (fu/√3)/(βw γM2) a, N/mm; throat a in mm, fu of the weaker part in MPa.

    >>> print(weld_resistance(5.0, 470.0, 0.9))
    1206.02
    """
    return tensile_strength / (math.sqrt(3) * correlation * gamma_M2) * throat


def fillet_weld(
    line_load: float,
    throat: float,
    tensile_strength: float,
    correlation: float,
    gamma_M2: float = 1.25,
) -> ClauseCheck:
    """4.5.3.3: resultant force per length of a fillet weld, by the simplified method.

    ``line_load`` Fw,Ed in N/mm of weld, ``throat`` a in mm, ``tensile_strength`` fu of the weaker
    part in MPa (that of the post where the part at its root is not weaker), ``correlation`` βw of
    Table 4.1 (0.8 for S235, 0.85 for S275, 0.9 for S355, 1.0 for S420 and S460, seen);
    ``gamma_M2`` is an NDP, recommended 1.25. Raises ValueError for a negative load, values that are
    not positive or a partial factor below 1.

    Source: EN 1993-1-8:2005, 4.5.3.3, eqs 4.2 (seen in an open-source library) to 4.4, from memory.

    >>> print(round(fillet_weld(500.0, 5.0, 470.0, 0.9).ratio, 4))
    0.4146
    """
    least, greatest = CORRELATION
    return ClauseCheck(
        clause=FILLET_WELD,
        demand=stated("line load", "Fw,Ed", line_load, "line load"),
        resistance=weld_resistance.worked(throat, tensile_strength, correlation, gamma_M2),
        scope=(
            at_least("throat", throat, LEAST_THROAT, "length"),
            at_least("βw", correlation, least),
            at_most("βw", correlation, greatest),
        ),
    )
