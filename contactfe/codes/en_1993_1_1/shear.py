"""EN 1993-1-1, 6.2.6: shear of a round post."""

import math

from contactfe.codes import tube
from contactfe.codes.clause import Sides
from contactfe.codes.en_1993_1_1.common import EN_1993_1_1
from contactfe.codes.scope import european_strength
from contactfe.hand import round_section
from contactfe.hand.quantities import Area, Force, Length, PartialFactor, Pressure, Stress


@EN_1993_1_1.formula("shear area of a circular hollow section", "Av", "6.2.6(3)g")
def tube_shear_area(area: Area) -> Area:
    """Shear area of a tube."""
    return 2 * area / math.pi


@EN_1993_1_1.formula("plastic shear resistance", "Vpl,Rd", "eq. 6.18")
def shear_resistance(
    shear_area: Area, yield_strength: Stress, gamma_M0: PartialFactor = 1.0
) -> Force:
    """Resistance with the whole shear area at the shear strength."""
    return shear_area * yield_strength / (math.sqrt(3) * gamma_M0)


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_6_tube",
    "6.2.6(2) and (3)g, eq. 6.18",
    "shear of a circular hollow section",
    intended_for="Shear of members of circular hollow section with a wall of even thickness, with"
    " the whole wall at yield.",
    applies_here="Applies to a tubular post between the contact and its root. It covers neither the"
    " force that a short contact length puts into the wall nor torsion (6.2.7) from friction at the"
    " contact.",
    applicability="as written",
    level="strength",
)
def tube_shear(
    shear: Force,
    outside_diameter: Length,
    wall: Length,
    yield_strength: Stress,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """The plastic resistance counts.

    >>> print(tube_shear(300e3, 219.1, 10.0, 355.0).resistance)
    Vpl,Rd = Av·fy/(√(3)·γM0) = 4182 mm²·355 MPa/(√(3)·1) = 857140 N
    """
    A = round_section.area.worked(outside_diameter, tube.bore(outside_diameter, wall))
    shear_area = tube_shear_area.worked(A.value)
    return Sides(
        demand=shear,
        resistance=shear_resistance.worked(shear_area.value, yield_strength, gamma_M0),
        steps=(A, shear_area),
        scope=european_strength(yield_strength),
    )


@EN_1993_1_1.formula(
    "greatest shear stress of a solid round",
    "τEd",
    "eq. 6.20 with S/(I t) of a solid round at its middle",
)
def solid_shear_stress(shear: Force, area: Area) -> Pressure:
    """Stress VEd S/(I t) in the middle of a solid round."""
    return 4 * shear / (3 * area)


@EN_1993_1_1.formula("shear strength", "τRd", "eq. 6.19")
def shear_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Strength in shear."""
    return yield_strength / (math.sqrt(3) * gamma_M0)


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_6_solid",
    "6.2.6(4), eqs 6.19 and 6.20",
    "shear of a solid round, elastic",
    intended_for="Shear at a critical point of any section, by elastic verification; no shear area"
    " is given for a solid round, so this is the form that covers it.",
    applies_here="Applies to a solid post between the contact and its root. It does not cover"
    " torsion (6.2.7) from friction at the contact.",
    applicability="as written",
    level="strength",
)
def solid_shear(
    shear: Force, diameter: Length, yield_strength: Stress, gamma_M0: PartialFactor = 1.0
) -> Sides:
    """The greatest shear stress counts.

    >>> print(solid_shear(300e3, 150.0, 355.0).demand)
    τEd = 4·VEd/(3·A) = 4·300000 N/(3·17671 mm²) = 22.635 MPa
    """
    A = round_section.area.worked(diameter)
    return Sides(
        demand=solid_shear_stress.worked(shear, A.value),
        resistance=shear_strength.worked(yield_strength, gamma_M0),
        steps=(A,),
        scope=european_strength(yield_strength),
    )
