"""EN 1993-1-1, 6.2.5 and Table 5.2: bending of a round post by the class of its wall."""

import math
from dataclasses import replace

from contactfe.codes import tube
from contactfe.codes.clause import Sides
from contactfe.codes.en_1993_1_1.common import EN_1993_1_1
from contactfe.codes.scope import european_strength
from contactfe.hand import round_section
from contactfe.hand.formula import Limit, Worked, at_most
from contactfe.hand.quantities import (
    Length,
    Moment,
    Number,
    PartialFactor,
    SectionModulus,
    Stress,
)


@EN_1993_1_1.formula("strength ratio of the section classes", "ε", "Table 5.2", units="SI")
def epsilon(yield_strength: Stress) -> Number:
    """By how much the bounds of the classes differ from those of S235."""
    return math.sqrt(235 / yield_strength)


@EN_1993_1_1.formula(
    "class of a tube in bending",
    "class",
    "Table 5.2",
    note="Class 1, 2 or 3 up to D/t = 50 ε², 70 ε² or 90 ε², class 4 beyond.",
)
def tube_class(outside_diameter: Length, wall: Length, yield_strength: Stress) -> Number:
    """Plastic in classes 1 and 2, elastic in class 3; class 4 buckles before it yields.

    >>> tube_class(219.1, 10.0, 355.0), tube_class(508.0, 10.0, 355.0)
    (1, 3)
    """
    ratio = tube.slenderness(outside_diameter, wall)
    bounds = [coefficient * epsilon(yield_strength) ** 2 for coefficient in (50, 70, 90)]
    return 1 + sum(ratio > bound for bound in bounds)


@EN_1993_1_1.formula("moment resistance", "Mc,Rd", "eqs 6.13 and 6.14")
def moment_resistance(
    modulus: SectionModulus, yield_strength: Stress, gamma_M0: PartialFactor = 1.0
) -> Moment:
    """W is Wpl in classes 1 and 2 and Wel in class 3."""
    return modulus * yield_strength / gamma_M0


@EN_1993_1_1.clause(
    "en_1993_1_1.6_2_5",
    "6.2.5, eqs 6.13 and 6.14, Table 5.2",
    "bending of a round section",
    intended_for="Bending of members, with the plastic modulus in classes 1 and 2 and the elastic"
    " one in class 3. A solid round has no wall that could buckle and is taken as class 1.",
    applies_here="Applies to the post as a cantilever. It does not cover the ring bending of the"
    " wall at the contact, which acts at the same time where the contact is near the root.",
    applicability="as written",
    level="strength",
)
def bending(
    moment: Moment,
    outside_diameter: Length,
    yield_strength: Stress,
    wall: Length | None = None,
    gamma_M0: PartialFactor = 1.0,
) -> Sides:
    """Tubes of class 4 are out of scope: EN 1993-1-6 covers them.

    >>> print(bending(100e6, 219.1, 355.0, 10.0).resistance)
    Mc,Rd = W·fy/γM0 = 437561 mm³·355 MPa/1 = 1.5533e+08 N·mm
    """
    modulus, steps, scope = classified(outside_diameter, wall, yield_strength)
    return Sides(
        demand=moment,
        resistance=moment_resistance.worked(modulus.value, yield_strength, gamma_M0),
        steps=steps,
        scope=(*scope, *european_strength(yield_strength)),
    )


def classified(
    outside_diameter: float, wall: float | None, yield_strength: float
) -> tuple[Worked, tuple[Worked, ...], tuple[Limit, ...]]:
    """The section modulus that counts, the steps to it with it as the last, and the class limit."""
    bore = tube.bore(outside_diameter, wall)
    plastic = round_section.plastic_modulus.worked(outside_diameter, bore)
    if wall is None:
        modulus = replace(plastic, symbol="Wpl")
        return modulus, (modulus,), ()
    ratio = tube.slenderness.worked(outside_diameter, wall)
    eps = epsilon.worked(yield_strength)
    elastic = round_section.elastic_modulus.worked(outside_diameter, bore)
    found = tube_class.worked(outside_diameter, wall, yield_strength)
    whole = found.value <= 2
    modulus = replace(plastic, symbol="Wpl") if whole else replace(elastic, symbol="Wel")
    limit = at_most("D/t, class 3", ratio.value, 90 * eps.value**2)
    return modulus, (ratio, eps, found, modulus), (limit,)
