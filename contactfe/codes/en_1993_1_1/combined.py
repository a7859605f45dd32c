"""EN 1993-1-1, 6.2.8: bending of a round post reduced for its shear.

Seen in open-source libraries.
"""

from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.clause import Clause, ClauseCheck, Growth, stated
from contactfe.codes.en_1993_1_1.bending import classified
from contactfe.codes.en_1993_1_1.common import EDITION, SEEN, SOURCE, STANDARD, SYMBOLS
from contactfe.codes.en_1993_1_1.shear import shear_resistance, tube_shear_area
from contactfe.codes.scope import european_strength
from contactfe.hand import round_section
from contactfe.hand.formula import formula
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Area,
    Force,
    Moment,
    Number,
    PartialFactor,
    SectionModulus,
    Stress,
)

BENDING_WITH_SHEAR = Clause(
    key="en_1993_1_1.6_2_8",
    standard=STANDARD,
    edition=EDITION,
    number="6.2.8(2) and (3), eq. 6.29",
    title="bending of a round section with shear",
    intended_for="Members under bending and shear together. Half the shear resistance costs"
    " nothing; above that the yield strength is reduced, here over the whole section and not only"
    " the shear area, which is on the safe side. A solid round takes the elastic shear resistance,"
    " 3/4 A at the shear strength, for want of a plastic one.",
    applies_here="Applies to the post at its root. In a post longer than twice its diameter nothing"
    " is deducted: at its full moment the shear is less than half the resistance. It does not cover"
    " torsion (6.2.7) from friction at the contact.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula(
    "shear area of a solid round, elastic",
    "Av",
    source=SOURCE.format("eq. 6.20 with S/(I t) of a solid round at its middle"),
    symbols=SYMBOLS,
)
def solid_shear_area(area: Area) -> Area:
    """Area 3A/4, mm², that gives the elastic shear resistance of a solid round of area A in mm².

    >>> print(solid_shear_area(1000.0))
    750.0
    """
    return 3 * area / 4


@formula("reduction for shear", "ρ", source=SOURCE.format("6.2.8(2) and (3)"), symbols=SYMBOLS)
def shear_reduction(shear: Force, shear_resistance: Annotated[Force, POSITIVE]) -> Number:
    """Reduction ρ = (2 V/VRd − 1)² of the yield strength, 0 up to half the shear resistance.

    Forces in N.

    >>> print(shear_reduction(40.0, 100.0), shear_reduction(75.0, 100.0))
    0 0.25
    """
    return max(2 * shear / shear_resistance - 1, 0) ** 2


@formula(
    "moment resistance with shear",
    "MV,Rd",
    source=SOURCE.format("6.2.8(3), eq. 6.29, over the whole section"),
    symbols=SYMBOLS,
)
def reduced_moment_resistance(
    reduction: Annotated[Number, NOT_NEGATIVE],
    modulus: SectionModulus,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Moment:
    """Resistance (1 − ρ) W fy/γM0, N·mm, with W in mm³ and fy in MPa; 0 for ρ beyond 1.

    >>> print(reduced_moment_resistance(0.25, 1000.0, 355.0))
    266250.0
    """
    return max(1 - reduction, 0) * modulus * yield_strength / gamma_M0


def bending_with_shear(
    moment: float,
    shear: float,
    outside_diameter: float,
    yield_strength: float,
    wall: float | None = None,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.8: bending of a tube or, without a ``wall``, a solid round, reduced for shear.

    ``moment`` MEd in N·mm, ``shear`` VEd in N, sizes in mm, ``yield_strength`` fy in MPa;
    ``gamma_M0`` is an NDP, recommended 1.0. A shear force beyond the shear resistance leaves no
    moment: the ratio is infinite. The ratio grows as the load while the shear stays below half its
    resistance, and faster beyond. Raises ValueError for negative demands, values that are not
    positive, a wall that does not fit or a partial factor below 1.

    Source: EN 1993-1-1:2005, 6.2.8, eq. 6.29, seen in open-source libraries.

    >>> print(round(bending_with_shear(100e6, 700e3, 219.1, 355.0, 10.0).ratio, 4))
    1.075
    """
    modulus, steps, scope = classified(outside_diameter, wall, yield_strength)
    A = round_section.area.worked(outside_diameter, tube.bore(outside_diameter, wall))
    shear_area = (solid_shear_area if wall is None else tube_shear_area).worked(A.value)
    resistance = shear_resistance.worked(shear_area.value, yield_strength, gamma_M0)
    if wall is None:
        resistance = replace(resistance, name="elastic shear resistance", symbol="Vel,Rd")
    reduction = shear_reduction.worked(shear, resistance.value)
    demand = stated("moment", "MEd", moment, "moment")
    whole = reduced_moment_resistance.plain(0.0, modulus.value, yield_strength, gamma_M0)
    grows, load_factor = _growth(moment / whole, shear / resistance.value)
    return ClauseCheck(
        clause=BENDING_WITH_SHEAR,
        demand=demand,
        resistance=reduced_moment_resistance.worked(
            reduction.value, modulus.value, yield_strength, gamma_M0
        ),
        steps=(*steps, A, shear_area, resistance, reduction),
        scope=(*scope, *european_strength(yield_strength)),
        grows=grows,
        load_factor=load_factor,
    )


def _growth(moment: float, shear: float) -> tuple[Growth, float | None]:
    """How the ratio grows, and where not as the load, the factor k on both that takes it to 1.

    Moment m and shear v are over their resistances. While k v <= 1/2 the ratio is k m. Beyond,
    k m = 1 − (2 k v − 1)² = 4 k v (1 − k v), so k = (1 − m/(4 v))/v (derived here).
    """
    if moment >= 2 * shear:
        return ("as the load", None) if shear <= 0.5 else ("faster than the load", 1 / moment)
    return "faster than the load", (1 - moment / (4 * shear)) / shear
