"""AISC 360-22, G5: shear of a hollow post, and of a solid one by analogy.

Seen in a public copy.
"""

import math
from dataclasses import replace
from types import MappingProxyType
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.aisc_360.common import (
    EDITION,
    FY,
    SEEN,
    STANDARD,
    STEEL,
    TEXT_SEEN,
    Method,
    available,
    designed,
    listed,
)
from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import steel_modulus
from contactfe.hand import check, round_section
from contactfe.hand.formula import formula
from contactfe.hand.quantities import UNCHECKED, Area, Force, Length, Stress

ROUND_HSS_SHEAR = Clause(
    key="aisc_360.g5",
    standard=STANDARD,
    edition=EDITION,
    number="G5, eqs G5-1 and G5-2",
    title="shear of round hollow sections",
    intended_for="Beams of round hollow section with thin walls: 0.6 Fy reached at the neutral"
    " axis, or shear buckling of the wall.",
    applies_here="Applies to a tubular post between the contact and its root. In a thick wall only"
    " the mean stress over the neutral axis is below the 2V/Ag that it takes. The peak, at the"
    " bore, is above: by 4 % at a bore of 0.9 of the diameter, 15 % at two thirds and up to 38 % at"
    " less. It covers neither the force that a short contact length puts into the wall nor the"
    " torsion from friction at the contact.",
    applicability="as written",
    level="strength",
    text=SEEN,
)
_SHEAR: Symbols = MappingProxyType(
    {
        **FY,
        "shear_length": "Lv",
        "area": "Ag",
        "critical_stress": "Fcr",
        "long_tube_stress": "Fcr,a",
        "short_tube_stress": "Fcr,b",
    }
)


@formula(
    "shear buckling stress with the length",
    "Fcr,a",
    source=TEXT_SEEN.format("eq. G5-2a"),
    symbols=_SHEAR,
)
def shear_buckling_with_length(
    shear_length: Length,
    outside_diameter: Annotated[Length, UNCHECKED],
    wall: Annotated[Length, UNCHECKED],
    young: Stress = STEEL,
) -> Stress:
    """Critical stress 1.60 E/(√(Lv/D) (D/t)^(5/4)), MPa.

    Lv, the distance from the greatest to zero shear, D and t in mm, E in MPa.

    >>> print(shear_buckling_with_length(800.0, 200.0, 2.0))
    505.96
    """
    tube.fits(outside_diameter, wall)
    length, slenderness = shear_length / outside_diameter, outside_diameter / wall
    return 1.60 * young / (math.sqrt(length) * math.pow(slenderness, 5 / 4))


@formula(
    "shear buckling stress of the wall",
    "Fcr,b",
    source=TEXT_SEEN.format("eq. G5-2b"),
    symbols=_SHEAR,
)
def shear_buckling_of_wall(
    outside_diameter: Annotated[Length, UNCHECKED],
    wall: Annotated[Length, UNCHECKED],
    young: Stress = STEEL,
) -> Stress:
    """Critical stress 0.78 E/(D/t)^(3/2), MPa, with D and t in mm, E in MPa.

    >>> print(shear_buckling_of_wall(200.0, 2.0))
    156.0
    """
    tube.fits(outside_diameter, wall)
    return 0.78 * young / math.pow(outside_diameter / wall, 3 / 2)


@formula("critical shear stress", "Fcr", source=TEXT_SEEN.format("G5"), symbols=_SHEAR)
def critical_shear_stress(
    long_tube_stress: Stress, short_tube_stress: Stress, yield_strength: Stress
) -> Stress:
    """Fcr, MPa: the larger of eqs G5-2a and G5-2b, but not more than 0.6 Fy.

    >>> print(critical_shear_stress(300.0, 156.0, 345.0))
    207.0
    """
    return min(max(long_tube_stress, short_tube_stress), 0.6 * yield_strength)


@formula(
    "nominal shear strength of a round hollow section",
    "Vn",
    source=TEXT_SEEN.format("eq. G5-1"),
    symbols=_SHEAR,
)
def round_hss_shear_strength(critical_stress: Stress, area: Area) -> Force:
    """Nominal strength Vn = Fcr Ag/2, N, with Fcr in MPa and Ag in mm².

    >>> print(round_hss_shear_strength(207.0, 1000.0))
    103500.0
    """
    return critical_stress * area / 2


def round_hss_shear(
    shear: float,
    outside_diameter: float,
    wall: float,
    shear_length: float,
    yield_strength: float,
    method: Method = "LRFD",
    young: float = STEEL,
    design_share: float = 1.0,
) -> ClauseCheck:
    """G5: shear of a round hollow section; φ = 0.90, Ω = 1.67.

    ``shear`` in N; ``outside_diameter`` D, nominal ``wall`` and ``shear_length`` Lv, the distance
    from the greatest to zero shear (of a cantilever its length), in mm; ``yield_strength`` Fy and
    ``young`` E in MPa; ``design_share`` is that of the wall which counts (:func:`design_wall`).
    Raises ValueError for a negative force, values that are not positive, a wall that does not fit,
    a share outside (0, 1] or an unknown method.

    Source: AISC 360-22, B4.2, G1 and G5, eqs G5-1, G5-2a and G5-2b, seen in a public copy.

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
    return ClauseCheck(
        clause=ROUND_HSS_SHEAR,
        demand=stated("shear", "V", shear, "force"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(*first, A, long, short, critical, nominal),
        scope=(*steel_modulus(young), *listed(yield_strength, "hollow section")),
    )


SOLID_ROUND_SHEAR = Clause(
    key="aisc_360.g5_solid_by_analogy",
    standard=STANDARD,
    edition=EDITION,
    number="G5 by analogy",
    title="shear of solid rounds, by analogy",
    intended_for="No clause of chapter G names solid rounds. G5 takes the strength of a thin tube"
    " as reached when the beam shear is 0.6 Fy at the neutral axis, V = 0.6 Fy A/2; here a solid"
    " round is taken by the same measure.",
    applies_here="Applies to a solid post between the contact and its root as far as the analogy"
    " holds. It is on the safe side of the full section at 0.6 Fy. It does not cover the torsion"
    " from friction at the contact.",
    applicability="by analogy",
    level="strength",
    text=SEEN,
)


@formula(
    "shear strength of a solid round by analogy",
    "Vn",
    source="derived here: 0.6 Fy of AISC 360-22, G5 (seen in a public copy) at the neutral axis,"
    " where beam theory gives 4V/(3A)",
    symbols=_SHEAR,
)
def solid_round_shear_strength(area: Area, yield_strength: Stress) -> Force:
    """Strength Vn = 0.6 Fy · 3A/4, N, by analogy with G5; A in mm² and Fy in MPa.

    >>> print(solid_round_shear_strength(1000.0, 345.0))
    155250.0
    """
    return 0.6 * yield_strength * 3 * area / 4


def solid_round_shear(
    shear: float, diameter: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """Shear of a solid round by analogy with G5; φ = 0.90, Ω = 1.67 as there.

    ``shear`` in N, ``diameter`` in mm, ``yield_strength`` Fy in MPa. The Specification has no
    clause for it; see :data:`SOLID_ROUND_SHEAR`. Raises ValueError for a negative force, values
    that are not positive or an unknown method.

    Source: derived here, by analogy with AISC 360-22, G5 (seen in a public copy).

    >>> print(solid_round_shear(300e3, 150.0, 345.0).resistance)
    φVn = φ·Vn = 0.9·2743494 N = 2469145 N
    """
    check.positive(diameter=diameter)
    A = replace(round_section.area.worked(diameter), symbol="Ag")
    nominal = solid_round_shear_strength.worked(A.value, yield_strength)
    return ClauseCheck(
        clause=SOLID_ROUND_SHEAR,
        demand=stated("shear", "V", shear, "force"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(A, nominal),
        scope=listed(yield_strength, "bar"),
    )
