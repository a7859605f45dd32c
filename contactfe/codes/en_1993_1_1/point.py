"""EN 1993-1-1, 6.2.1(5): yield at a point of post or plate."""

from contactfe.codes.clause import UNITY, Sides
from contactfe.codes.en_1993_1_1.common import EN_1993_1_1
from contactfe.codes.scope import european_strength
from contactfe.hand.quantities import Number, PartialFactor, SignedStress, Stress


@EN_1993_1_1.formula("design strength", "fyd", "6.2.1(5)")
def design_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Yield strength to design with."""
    return yield_strength / gamma_M0


@EN_1993_1_1.formula("yield criterion", "f", "eq. 6.1")
def yield_criterion(
    stress_x: SignedStress,
    stress_z: SignedStress,
    shear_stress: SignedStress,
    design_strength: Stress,
) -> Number:
    """The square of von Mises stress over strength; 1 at first yield.

    Longitudinal σx and transverse σz, tension positive.
    """
    x, z, t = stress_x / design_strength, stress_z / design_strength, shear_stress / design_strength
    return x**2 + z**2 - x * z + 3 * t**2


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_1_5",
    "6.2.1(5), eq. 6.1",
    "yield at a critical point of a section",
    intended_for="A point of a member's cross section under longitudinal, transverse and shear"
    " stress, by elastic verification.",
    applies_here="Applies to the post away from the contact, as at its root, and to the back and"
    " the edges of the plate. Right below the contact all three normal stresses count and the form"
    " with two does not hold.",
    applicability="as written",
    level="strength",
)
def yield_at_a_point(
    stress_x: SignedStress,
    stress_z: SignedStress,
    shear_stress: SignedStress,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """Stresses σx along and σz across the member, tension positive.

    >>> print(round(yield_at_a_point(200.0, -100.0, 50.0, 355.0).ratio, 4))
    0.615
    """
    strength = design_strength.worked(yield_strength, gamma_M0)
    return Sides(
        demand=yield_criterion.worked(stress_x, stress_z, shear_stress, strength.value),
        resistance=UNITY,
        grows="as the load squared",
        steps=(strength,),
        scope=european_strength(yield_strength),
    )
