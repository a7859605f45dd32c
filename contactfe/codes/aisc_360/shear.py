"""AISC 360-22, G5: shear of a hollow post, and of a solid one by analogy."""

import math
from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.aisc_360.common import AISC, STEEL, Method, available, designed, listed
from contactfe.codes.clause import Sides
from contactfe.codes.scope import steel_modulus
from contactfe.hand import round_section
from contactfe.hand.quantities import Area, Force, Length, Share, Stress


@AISC.formula("shear buckling stress with the length", "Fcr,a", "eq. G5-2a")
def shear_buckling_with_length(
    shear_length: Annotated[Length, "Lv"],
    outside_diameter: Length,
    wall: Length,
    young: Stress = STEEL,
) -> Stress:
    """Lv is the distance from the greatest to zero shear."""
    tube.fits(outside_diameter, wall)
    slenderness = (outside_diameter / wall) ** (5 / 4)
    return float(1.60 * young / (math.sqrt(shear_length / outside_diameter) * slenderness))


@AISC.formula("shear buckling stress of the wall", "Fcr,b", "eq. G5-2b")
def shear_buckling_of_wall(outside_diameter: Length, wall: Length, young: Stress = STEEL) -> Stress:
    """The stress whatever the length."""
    tube.fits(outside_diameter, wall)
    return float(0.78 * young / (outside_diameter / wall) ** (3 / 2))


@AISC.formula("critical shear stress", "Fcr", "G5")
def critical_shear_stress(
    long_tube_stress: Annotated[Stress, "Fcr,a"],
    short_tube_stress: Annotated[Stress, "Fcr,b"],
    yield_strength: Stress,
) -> Stress:
    """The larger of eqs G5-2a and G5-2b, bounded by shear yield."""
    return min(max(long_tube_stress, short_tube_stress), 0.6 * yield_strength)


@AISC.formula("nominal shear strength of a round hollow section", "Vn", "eq. G5-1")
def round_hss_shear_strength(critical_stress: Stress, area: Area) -> Force:
    """Strength by the mean stress over half of the section."""
    return critical_stress * area / 2


@AISC.clause(
    "aisc_360.g5",
    "G5, eqs G5-1 and G5-2",
    "shear of round hollow sections",
    intended_for="Beams of round hollow section with thin walls: 0.6 Fy reached at the neutral"
    " axis, or shear buckling of the wall.",
    applies_here="Applies to a tubular post between the contact and its root. In a thick wall only"
    " the mean stress over the neutral axis is below the 2V/Ag that it takes. The peak, at the"
    " bore, is above: by 4 % at a bore of 0.9 of the diameter, 15 % at two thirds and up to 38 % at"
    " less. It covers neither the force that a short contact length puts into the wall nor the"
    " torsion from friction at the contact.",
    applicability="as written",
    level="strength",
)
def round_hss_shear(
    shear: Force,
    outside_diameter: Length,
    wall: Length,
    shear_length: Annotated[Length, "Lv"],
    yield_strength: Stress,
    method: Method = "LRFD",
    young: Stress = STEEL,
    design_share: Share = 1.0,
) -> Sides:
    """Lv is the distance from the greatest to zero shear, of a cantilever its length.

    ``design_share`` is that of the nominal ``wall`` which counts (:func:`design_wall`, B4.2).

    >>> print(round_hss_shear(300e3, 219.1, 10.0, 800.0, 345.0).resistance)
    φVn = φ·Vn = 0.9·679899 N = 611909 N
    """
    first, wall = designed(outside_diameter, wall, design_share)
    bore = tube.bore(outside_diameter, wall)
    A = replace(round_section.area.worked(outside_diameter, bore), symbol="Ag")
    long = shear_buckling_with_length.worked(shear_length, outside_diameter, wall, young)
    short = shear_buckling_of_wall.worked(outside_diameter, wall, young)
    critical = critical_shear_stress.worked(long.value, short.value, yield_strength)
    nominal = round_hss_shear_strength.worked(critical.value, A.value)
    return Sides(
        demand=shear,
        resistance=available(nominal, method, phi=0.90, omega=1.67),
        steps=(*first, A, long, short, critical, nominal),
        scope=(*steel_modulus(young), *listed(yield_strength, "hollow section")),
    )


@AISC.formula(
    "shear strength of a solid round by analogy",
    "Vn",
    "G5",
    derived="0.6 Fy at the neutral axis, where beam theory gives 4V/(3A)",
)
def solid_round_shear_strength(area: Area, yield_strength: Stress) -> Force:
    """Strength by the measure of G5, for which the Specification has no clause."""
    return 0.6 * yield_strength * 3 * area / 4


@AISC.clause(
    "aisc_360.g5_solid_by_analogy",
    "G5 by analogy",
    "shear of solid rounds, by analogy",
    intended_for="No clause of chapter G names solid rounds. G5 takes the strength of a thin tube"
    " as reached when the beam shear is 0.6 Fy at the neutral axis, V = 0.6 Fy A/2; here a solid"
    " round is taken by the same measure.",
    applies_here="Applies to a solid post between the contact and its root as far as the analogy"
    " holds. It is on the safe side of the full section at 0.6 Fy. It does not cover the torsion"
    " from friction at the contact.",
    applicability="by analogy",
    level="strength",
)
def solid_round_shear(
    shear: Force, diameter: Length, yield_strength: Stress, method: Method = "LRFD"
) -> Sides:
    """φ and Ω are as in G5.

    >>> print(solid_round_shear(300e3, 150.0, 345.0).resistance)
    φVn = φ·Vn = 0.9·2743494 N = 2469145 N
    """
    A = replace(round_section.area.worked(diameter), symbol="Ag")
    nominal = solid_round_shear_strength.worked(A.value, yield_strength)
    return Sides(
        demand=shear,
        resistance=available(nominal, method, phi=0.90, omega=1.67),
        steps=(A, nominal),
        scope=listed(yield_strength, "bar"),
    )
