"""AASHTO LRFD Bridge Design Specifications, 14.7.1.4: contact stress of rockers and rollers.

The forms hold in any coherent units, so the US customary and the SI form are the same.
"""

from types import MappingProxyType

from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import steel_contact
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Length, LineLoad, Stress

STEEL = 200e3
"""Young's modulus, MPa, of the Specifications (29 000 ksi): from memory, not seen."""

_STANDARD, _EDITION = "AASHTO LRFD", "7th edition, 2014"
_SOURCE = "AASHTO LRFD, 7th edition, 2014, eq. {}: from memory, not seen"
_SYMBOLS: Symbols = MappingProxyType(
    {
        "effective_diameter": "D",
        "yield_strength": "Fy",
        "young": "Es",
    }
)

CYLINDER = Clause(
    key="aashto_lrfd.14_7_1_4_cylinder",
    standard=_STANDARD,
    edition=_EDITION,
    number="14.7.1.4, eq. 14.7.1.4-1",
    title="contact stress of cylindrical surfaces",
    intended_for="Rockers and rollers of bridge bearings, at the service limit state, without"
    " friction.",
    applies_here="The geometry is that of a post on a plate. It puts the Hertz pressure at 1.67 Fy,"
    " which is first yield below the surface after Tresca: a limit for loads that recur daily, and"
    " a cautious one for a single impact.",
    applicability="by analogy",
    level="service",
    text="from memory, not seen",
)


@formula(
    "service load of a cylinder, per length",
    "PS/W",
    source=_SOURCE.format("14.7.1.4-1"),
    symbols=_SYMBOLS,
)
def cylinder_limit(
    effective_diameter: Length, yield_strength: Stress, young: Stress = STEEL
) -> LineLoad:
    """Largest service load per length 8 D Fy²/Es, N/mm, with D in mm, Fy and Es in MPa.

    >>> print(cylinder_limit(150.0, 345.0))
    714.15
    """
    return 8 * effective_diameter * yield_strength**2 / young


def cylinder(
    line_load: float,
    diameter: float,
    yield_strength: float,
    young: float = STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """14.7.1.4: service load of a cylindrical surface, P_S/W <= 8 D Fy²/Es, on a flat.

    ``line_load`` at the service limit state in N/mm; ``diameter`` D in mm; ``yield_strength`` Fy in
    MPa of the weaker part, ``young`` Es in MPa; ``poisson`` for the scope: the coefficient is that
    of steel. There is no resistance factor. Raises ValueError for a negative load, values that are
    not positive, or ν outside [0, 0.5].

    Source: AASHTO LRFD 2014, 14.7.1.4, eq. 14.7.1.4-1, from memory, not seen.

    >>> print(cylinder(1000.0, 150.0, 345.0).resistance)
    PS/W = 8·D·Fy²/Es = 8·150 mm·(345 MPa)²/200000 MPa = 714.15 N/mm
    """
    return ClauseCheck(
        clause=CYLINDER,
        demand=stated("line load", "q", line_load, "line load"),
        resistance=cylinder_limit.worked(diameter, yield_strength, young),
        scope=steel_contact(young, poisson),
    )
