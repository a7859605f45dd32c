"""EN 1993-1-1, 6.2.8: bending of a round post reduced for its shear."""

from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.clause import Growth, Sides
from contactfe.codes.en_1993_1_1.bending import classified
from contactfe.codes.en_1993_1_1.common import EN_1993_1_1
from contactfe.codes.en_1993_1_1.shear import shear_resistance, tube_shear_area
from contactfe.codes.scope import european_strength
from contactfe.hand import round_section
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Area,
    Force,
    Length,
    Moment,
    Number,
    PartialFactor,
    SectionModulus,
    Stress,
)


@EN_1993_1_1.formula(
    "shear area of a solid round, elastic",
    "Av",
    "eq. 6.20 with S/(I t) of a solid round at its middle",
)
def solid_shear_area(area: Area) -> Area:
    """The area that gives the elastic shear resistance."""
    return 3 * area / 4


@EN_1993_1_1.formula("reduction for shear", "ρ", "6.2.8(2) and (3)")
def shear_reduction(shear: Force, shear_resistance: Annotated[Force, POSITIVE]) -> Number:
    """By what share the yield strength is reduced: nothing up to half the shear resistance."""
    return max(2 * shear / shear_resistance - 1, 0) ** 2


@EN_1993_1_1.formula(
    "moment resistance with shear", "MV,Rd", "6.2.8(3), eq. 6.29, over the whole section"
)
def reduced_moment_resistance(
    reduction: Annotated[Number, NOT_NEGATIVE],
    modulus: SectionModulus,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Moment:
    """None is left for a reduction beyond 1."""
    return max(1 - reduction, 0) * modulus * yield_strength / gamma_M0


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_8",
    "6.2.8(2) and (3), eq. 6.29",
    "bending of a round section with shear",
    intended_for="Members under bending and shear together. Half the shear resistance costs"
    " nothing; above that the yield strength is reduced, here over the whole section and not only"
    " the shear area, which is on the safe side. A solid round takes the elastic shear resistance,"
    " 3/4 A at the shear strength, for want of a plastic one.",
    applies_here="Applies to the post at its root. In a post longer than twice its diameter nothing"
    " is deducted: at its full moment the shear is less than half the resistance. It does not cover"
    " torsion (6.2.7) from friction at the contact.",
    applicability="as written",
    level="strength",
)
def bending_with_shear(
    moment: Moment,
    shear: Force,
    outside_diameter: Length,
    yield_strength: Stress,
    wall: Length | None = None,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """A shear force beyond the shear resistance leaves no moment: the ratio is infinite.

    The ratio grows as the load while the shear stays below half its resistance, and faster beyond.

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
    strength = modulus.value, yield_strength, gamma_M0
    whole = reduced_moment_resistance.plain(0.0, *strength)
    grows, load_factor = _growth(moment / whole, shear / resistance.value)
    return Sides(
        demand=moment,
        resistance=reduced_moment_resistance.worked(reduction.value, *strength),
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
