"""EN 1993-1-1, 6.2.1(5): yield at a point of post or plate. Seen in open-source libraries."""

from contactfe.codes.clause import UNITY, Clause, ClauseCheck
from contactfe.codes.en_1993_1_1.common import EDITION, SEEN, SOURCE, STANDARD, SYMBOLS
from contactfe.codes.scope import european_strength
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Number, PartialFactor, SignedStress, Stress

YIELD_AT_A_POINT = Clause(
    key="en_1993_1_1.6_2_1_5",
    standard=STANDARD,
    edition=EDITION,
    number="6.2.1(5), eq. 6.1",
    title="yield at a critical point of a section",
    intended_for="A point of a member's cross section under longitudinal, transverse and shear"
    " stress, by elastic verification.",
    applies_here="Applies to the post away from the contact, as at its root, and to the back and"
    " the edges of the plate. Right below the contact all three normal stresses count and the form"
    " with two does not hold.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula("design strength", "fyd", source=SOURCE.format("6.2.1(5)"), symbols=SYMBOLS)
def design_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Strength fy/γM0, MPa.

    >>> print(design_strength(355.0), design_strength(355.0, 1.1))
    355.0 322.727
    """
    return yield_strength / gamma_M0


@formula("yield criterion", "f", source=SOURCE.format("eq. 6.1"), symbols=SYMBOLS)
def yield_criterion(
    stress_x: SignedStress,
    stress_z: SignedStress,
    shear_stress: SignedStress,
    design_strength: Stress,
) -> Number:
    """Left side of eq. 6.1, the square of von Mises stress over strength; 1 at first yield.

    Longitudinal σx and transverse σz, tension positive, and shear τ, all in MPa.

    >>> print(yield_criterion(200.0, -100.0, 50.0, 355.0))
    0.614957
    """
    x, z = stress_x / design_strength, stress_z / design_strength
    return x**2 + z**2 - x * z + 3 * (shear_stress / design_strength) ** 2


def yield_at_a_point(
    stress_x: float,
    stress_z: float,
    shear_stress: float,
    yield_strength: float,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.1(5): yield at a point under two normal stresses and a shear stress.

    Stresses σx along and σz across the member, tension positive, and τ, in MPa; ``yield_strength``
    fy in MPa; ``gamma_M0`` is an NDP, recommended 1.0. The ratio grows with the square of the
    stresses. Raises ValueError for stresses that are not finite, values that are not positive or a
    partial factor below 1.

    Source: EN 1993-1-1:2005, 6.2.1(5), eq. 6.1, seen in open-source libraries.

    >>> print(round(yield_at_a_point(200.0, -100.0, 50.0, 355.0).ratio, 4))
    0.615
    """
    strength = design_strength.worked(yield_strength, gamma_M0)
    return ClauseCheck(
        clause=YIELD_AT_A_POINT,
        demand=yield_criterion.worked(stress_x, stress_z, shear_stress, strength.value),
        resistance=UNITY,
        grows="as the load squared",
        steps=(strength,),
        scope=european_strength(yield_strength),
    )
