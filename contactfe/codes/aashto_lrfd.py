"""AASHTO LRFD Bridge Design Specifications, 14.7.1.4: contact stress of rockers and rollers.

The form holds in any coherent units, so the US customary and the SI form are the same.
"""

from contactfe.codes.clause import Sides, Standard
from contactfe.codes.scope import steel_contact
from contactfe.hand.quantities import Length, LineLoad, Poisson, Stress

STEEL = 200e3
"""Young's modulus, MPa, of the Specifications (29 000 ksi): from memory, not seen."""

AASHTO = Standard(
    name="AASHTO LRFD",
    edition="7th edition, 2014",
    cited="AASHTO LRFD, 7th edition, 2014",
    text="from memory, not seen",
    symbols={"effective_diameter": "D", "yield_strength": "Fy", "young": "Es"},
    newer="10th edition, 2024 (from memory, not seen); whether 14.7.1.4 changed was not seen",
)


@AASHTO.formula("service load of a cylinder, per length", "PS/W", "eq. 14.7.1.4-1")
def cylinder_limit(
    effective_diameter: Length, yield_strength: Stress, young: Stress = STEEL
) -> LineLoad:
    """Largest service load per length of a cylinder on a flat, whose D is its diameter D1.

    The equation has D = D1/(1 − D1/D2), with a D2 without bound for a flat.
    """
    return 8 * effective_diameter * yield_strength**2 / young


@AASHTO.clause(
    "aashto_lrfd.14_7_1_4_cylinder",
    "14.7.1.4, eq. 14.7.1.4-1",
    "contact stress of cylindrical surfaces",
    intended_for="Rockers and rollers of bridge bearings, at the service limit state, without"
    " friction.",
    applies_here="The geometry is that of a post on a plate. It puts the Hertz pressure at 1.67 Fy,"
    " which is first yield below the surface after Tresca: a limit for loads that recur daily, and"
    " a cautious one for a single impact.",
    applicability="by analogy",
    level="service",
)
def cylinder(
    line_load: LineLoad,
    diameter: Length,
    yield_strength: Stress,
    young: Stress = STEEL,
    poisson: Poisson = 0.3,
) -> Sides:
    """Fy is that of the weaker part; there is no resistance factor.

    >>> print(cylinder(1000.0, 150.0, 345.0).resistance)
    PS/W = 8·D·Fy²/Es = 8·150 mm·(345 MPa)²/200000 MPa = 714.15 N/mm
    """
    return Sides(
        demand=line_load,
        resistance=cylinder_limit.worked(diameter, yield_strength, young),
        scope=steel_contact(young, poisson),
    )
