"""EN 1993-1-1, 6.2.7 and 6.2.8: bending of a round post with its shear and its torsion."""

import math
from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.clause import Growth, Sides
from contactfe.codes.en_1993_1_1.bending import classified
from contactfe.codes.en_1993_1_1.common import EN_1993_1_1
from contactfe.codes.en_1993_1_1.point import design_strength
from contactfe.codes.en_1993_1_1.shear import (
    shear_resistance,
    shear_strength,
    solid_shear_stress,
    tube_shear_area,
)
from contactfe.codes.scope import european_strength
from contactfe.hand import round_section, torsion
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Area,
    Force,
    Length,
    Moment,
    Number,
    PartialFactor,
    Pressure,
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
    " torsion from friction at the contact, which 6.2.7 does.",
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


def _growth(moment: float, shear: float, twist: float = 0.0) -> tuple[Growth, float | None]:
    """How the ratio grows, and where not as the load, the factor k on all that takes it to 1.

    Moment m, shear v and torsion t are over their resistances. The shear counts by u = k v/(1 − k
    t). While u <= 1/2 the ratio is k m. Beyond, k m = 1 − (2u − 1)² = 4u(1 − u), so that
    m (1 − k t)² = 4 v (1 − k (v + t)), whose larger root it is, and without torsion
    k = (1 − m/(4 v))/v (derived here).
    """
    if moment >= 2 * shear + twist:
        half = shear <= 0.5 * (1 - twist)
        return ("as the load", None) if half else ("faster than the load", 1 / moment)
    if twist == 0.0:
        return "faster than the load", (1 - moment / (4 * shear)) / shear
    a = moment * twist**2
    b = 4 * shear * (shear + twist) - 2 * moment * twist
    c = moment - 4 * shear
    root = math.sqrt(max(b**2 - 4 * a * c, 0.0))
    # Of two forms of the same root, the one that takes no difference of like numbers.
    return "faster than the load", -2 * c / (b + root) if b > 0 else (root - b) / (2 * a)


@EN_1993_1_1.formula(
    "plastic shear resistance with torsion",
    "Vpl,T,Rd",
    "6.2.7(9), eq. 6.28",
    text="from memory, not seen",
)
def twisted_shear_resistance(
    twist: Annotated[Pressure, "τt,Ed"],
    shear_strength: Annotated[Stress, "τRd"],
    shear_resistance: Force,
) -> Force:
    """What the stress of torsion leaves of the shear resistance of a tube, if anything."""
    return max(1 - twist / shear_strength, 0) * shear_resistance


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_7_tube",
    "6.2.7(9) and 6.2.8(4), eqs 6.28 and 6.29",
    "bending of a tube with shear and torsion",
    intended_for="Members under bending, shear and torsion together: the shear resistance is"
    " reduced for torsion, and the moment resistance for what shear takes of that.",
    applies_here="Applies to a tubular post at its root, with the torque of friction at the"
    " contact and its stress at the outside of the wall. Force and moment count all friction across"
    " the post, the torque as well, at the same time.",
    applicability="as written",
    level="strength",
    text="from memory, not seen",
)
def tube_combined(
    moment: Moment,
    shear: Force,
    torque: Annotated[Moment, "TEd"],
    outside_diameter: Length,
    wall: Length,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """Torsion that uses up the wall, or shear what torsion leaves, leaves no moment.

    >>> print(round(tube_combined(100e6, 500e3, 30e6, 219.1, 10.0, 355.0).ratio, 4))
    0.8597
    """
    modulus, steps, scope = classified(outside_diameter, wall, yield_strength)
    bore = tube.bore(outside_diameter, wall)
    shear_area = tube_shear_area.worked(round_section.area(outside_diameter, bore))
    whole = shear_resistance.worked(shear_area.value, yield_strength, gamma_M0)
    twist = torsion.torsion_stress.worked(torque, outside_diameter, bore)
    strength = shear_strength.worked(yield_strength, gamma_M0)
    left = twisted_shear_resistance.worked(twist.value, strength.value, whole.value)
    reduction = () if left.value == 0.0 else (shear_reduction.worked(shear, left.value),)
    rho = reduction[0].value if reduction else 1.0
    of = modulus.value, yield_strength, gamma_M0
    resistance = reduced_moment_resistance.plain(0.0, *of)
    grows, load_factor = _growth(
        moment / resistance, shear / whole.value, twist.value / strength.value
    )
    return Sides(
        demand=moment,
        resistance=reduced_moment_resistance.worked(rho, *of),
        steps=(*steps, shear_area, whole, twist, strength, left, *reduction),
        scope=(*scope, *european_strength(yield_strength)),
        grows=grows,
        load_factor=load_factor,
    )


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_7_solid",
    "6.2.7(5), with 6.2.1(5), eq. 6.1",
    "bending of a solid round with shear and torsion, elastic",
    intended_for="Members under bending, shear and torsion together, by elastic verification at a"
    " critical point.",
    applies_here="Applies to a solid post at its root, with the torque of friction at the contact:"
    " the root of eq. 6.1 at the worst point round the section, for which shear and torsion count"
    " with their greatest stress at one radius. Force and moment count all friction across the"
    " post, the torque as well, at the same time.",
    applicability="as written",
    level="strength",
    text="from memory, not seen",
)
def solid_combined(
    moment: Moment,
    shear: Force,
    torque: Annotated[Moment, "TEd"],
    diameter: Length,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """The greatest von Mises stress counts.

    >>> print(round(solid_combined(50e6, 300e3, 10e6, 150.0, 355.0).ratio, 4))
    0.4319
    """
    W = round_section.elastic_modulus.worked(diameter)
    bending = bending_stress.worked(moment, W.value)
    beam = solid_shear_stress.worked(shear, round_section.area(diameter))
    twist = torsion.torsion_stress.worked(torque, diameter)
    return Sides(
        demand=torsion.von_mises_with_torsion.worked(bending.value, beam.value, twist.value),
        resistance=design_strength.worked(yield_strength, gamma_M0),
        steps=(W, bending, beam, twist),
        scope=european_strength(yield_strength),
    )


@EN_1993_1_1.formula("bending stress at the farthest fibre", "σx,Ed", "6.2.1(5)")
def bending_stress(moment: Moment, modulus: Annotated[SectionModulus, "Wel"]) -> Pressure:
    """Stress of beam theory."""
    return moment / modulus
