"""EN 1993-1-1, 6.2.1(5): yield at a point of post or plate. Seen in open-source libraries."""

import math

from contactfe.codes.clause import UNITY, Clause, ClauseCheck
from contactfe.codes.en_1993_1_1.common import EDITION, SEEN, SOURCE, STANDARD, SYMBOLS
from contactfe.codes.scope import european_strength
from contactfe.hand import check
from contactfe.hand.formula import formula

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


@formula(
    name="design strength",
    symbol="fyd",
    form="{yield_strength}/{gamma_M0}",
    dimension="stress",
    source=SOURCE.format("6.2.1(5)"),
    given=SYMBOLS,
)
def design_strength(yield_strength: float, gamma_M0: float = 1.0) -> float:
    """Strength fy/γM0, MPa.

    Raises ValueError for values that are not positive or a partial factor below 1.

    Source: EN 1993-1-1:2005, 6.2.1(5), seen in open-source libraries.

    >>> print(design_strength(355.0), design_strength(355.0, 1.1))
    355.0 322.727
    """
    check.positive(yield_strength=yield_strength)
    check.partial_factor(gamma_M0=gamma_M0)
    return yield_strength / gamma_M0


@formula(
    name="yield criterion",
    symbol="f",
    form="({stress_x}/{design_strength})² + ({stress_z}/{design_strength})²"
    " − ({stress_x}/{design_strength})·({stress_z}/{design_strength})"
    " + 3·({shear_stress}/{design_strength})²",
    dimension=None,
    source=SOURCE.format("eq. 6.1"),
    given=SYMBOLS,
)
def yield_criterion(
    stress_x: float, stress_z: float, shear_stress: float, design_strength: float
) -> float:
    """Left side of eq. 6.1, the square of von Mises stress over strength; 1 at first yield.

    Longitudinal σx and transverse σz, tension positive, and shear τ, all in MPa. Raises ValueError
    for stresses that are not finite or a strength that is not positive. Source: EN 1993-1-1:2005,
    eq. 6.1, seen in open-source libraries.

    >>> print(yield_criterion(200.0, -100.0, 50.0, 355.0))
    0.614957
    """
    for name, value in (("stress_x", stress_x), ("stress_z", stress_z), ("shear", shear_stress)):
        if not math.isfinite(value):
            raise ValueError(f"{name} = {value!r} is not allowed: it must be finite")
    check.positive(design_strength=design_strength)
    x, z, t = (stress / design_strength for stress in (stress_x, stress_z, shear_stress))
    return x * x + z * z - x * z + 3 * t * t


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
