"""EN 1993-1-1, 6.2.6: shear of a round post. Seen in open-source libraries."""

import math

from contactfe.codes import tube
from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.codes.en_1993_1_1.common import EDITION, SEEN, SOURCE, STANDARD, SYMBOLS
from contactfe.codes.scope import european_strength
from contactfe.hand import check, round_section
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Area, Force, PartialFactor, Stress

TUBE_SHEAR = Clause(
    key="en_1993_1_1.6_2_6_tube",
    standard=STANDARD,
    edition=EDITION,
    number="6.2.6(2) and (3)g, eq. 6.18",
    title="shear of a circular hollow section",
    intended_for="Shear of members of circular hollow section with a wall of even thickness, with"
    " the whole wall at yield.",
    applies_here="Applies to a tubular post between the contact and its root. It covers neither the"
    " force that a short contact length puts into the wall nor torsion (6.2.7) from friction at the"
    " contact.",
    applicability="as written",
    level="strength",
    text=SEEN,
)

SOLID_SHEAR = Clause(
    key="en_1993_1_1.6_2_6_solid",
    standard=STANDARD,
    edition=EDITION,
    number="6.2.6(4), eqs 6.19 and 6.20",
    title="shear of a solid round, elastic",
    intended_for="Shear at a critical point of any section, by elastic verification; no shear area"
    " is given for a solid round, so this is the form that covers it.",
    applies_here="Applies to a solid post between the contact and its root. It does not cover"
    " torsion (6.2.7) from friction at the contact.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula(
    "shear area of a circular hollow section",
    "Av",
    source=SOURCE.format("6.2.6(3)g"),
    symbols=SYMBOLS,
)
def tube_shear_area(area: Area) -> Area:
    """Shear area Av = 2A/π, mm², of a tube of area A in mm².

    >>> print(tube_shear_area(1000.0))
    636.6198
    """
    return 2 * area / math.pi


@formula("plastic shear resistance", "Vpl,Rd", source=SOURCE.format("eq. 6.18"), symbols=SYMBOLS)
def shear_resistance(
    shear_area: Area, yield_strength: Stress, gamma_M0: PartialFactor = 1.0
) -> Force:
    """Resistance Vpl,Rd = Av fy/(√3 γM0), N, with Av in mm² and fy in MPa.

    >>> print(shear_resistance(1000.0, 355.0))
    204959.3
    """
    return shear_area * yield_strength / (math.sqrt(3) * gamma_M0)


@formula(
    "greatest shear stress of a solid round",
    "τEd",
    source=SOURCE.format("eq. 6.20 with S/(I t) of a solid round at its middle"),
    symbols=SYMBOLS,
)
def solid_shear_stress(shear: Force, area: Area) -> Stress:
    """Stress τEd = VEd S/(I t) = 4V/(3A), MPa, in the middle of a solid round, V in N, A in mm².

    >>> print(solid_shear_stress(3000.0, 100.0))
    40.0
    """
    return 4 * shear / (3 * area)


@formula("shear strength", "τRd", source=SOURCE.format("eq. 6.19"), symbols=SYMBOLS)
def shear_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Strength fy/(√3 γM0), MPa.

    >>> print(shear_strength(355.0))
    204.9593
    """
    return yield_strength / (math.sqrt(3) * gamma_M0)


def tube_shear(
    shear: float,
    outside_diameter: float,
    wall: float,
    yield_strength: float,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.6: plastic shear of a circular hollow section.

    ``shear`` VEd in N, sizes in mm, ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP,
    recommended 1.0. Raises ValueError for a negative force, values that are not positive, a wall
    that does not fit or a partial factor below 1.

    Source: EN 1993-1-1:2005, 6.2.6(2) and (3)g, eq. 6.18, seen in open-source libraries.

    >>> print(tube_shear(300e3, 219.1, 10.0, 355.0).resistance)
    Vpl,Rd = Av·fy/(√(3)·γM0) = 4182 mm²·355 MPa/(√(3)·1) = 857140 N
    """
    A = round_section.area.worked(outside_diameter, tube.bore(outside_diameter, wall))
    shear_area = tube_shear_area.worked(A.value)
    return ClauseCheck(
        clause=TUBE_SHEAR,
        demand=stated("shear", "VEd", shear, "force"),
        resistance=shear_resistance.worked(shear_area.value, yield_strength, gamma_M0),
        steps=(A, shear_area),
        scope=european_strength(yield_strength),
    )


def solid_shear(
    shear: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> ClauseCheck:
    """6.2.6(4): greatest shear stress of a solid round against fy/(√3 γM0).

    ``shear`` VEd in N, ``diameter`` in mm, ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP,
    recommended 1.0. Raises ValueError for a negative force, values that are not positive or a
    partial factor below 1.

    Source: EN 1993-1-1:2005, 6.2.6(4), eqs 6.19 and 6.20, seen in open-source libraries.

    >>> print(solid_shear(300e3, 150.0, 355.0).demand)
    τEd = 4·VEd/(3·A) = 4·300000 N/(3·17671 mm²) = 22.635 MPa
    """
    check.positive(diameter=diameter)
    A = round_section.area.worked(diameter)
    return ClauseCheck(
        clause=SOLID_SHEAR,
        demand=solid_shear_stress.worked(shear, A.value),
        resistance=shear_strength.worked(yield_strength, gamma_M0),
        steps=(A,),
        scope=european_strength(yield_strength),
    )
