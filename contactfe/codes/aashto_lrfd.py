"""AASHTO LRFD Bridge Design Specifications, 14.7.1.4: contact stress of rockers and rollers.

The forms hold in any coherent units, so the US customary and the SI form are the same.
"""

import math
from types import MappingProxyType

from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import steel_contact
from contactfe.hand import check, hertz
from contactfe.hand.formula import Worked, at_most, formula

STEEL = 200e3
"""Young's modulus, MPa, of the Specifications (29 000 ksi): from memory, not seen."""

_STANDARD, _EDITION = "AASHTO LRFD", "7th edition, 2014"
_SOURCE = "AASHTO LRFD, 7th edition, 2014, eq. {}: from memory, not seen"
_SYMBOLS: Symbols = MappingProxyType(
    {
        "diameter": ("D1", "length"),
        "mating_diameter": ("D2", "length"),
        "effective_diameter": ("D", "length"),
        "yield_strength": ("Fy", "stress"),
        "young": ("Es", "stress"),
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

SPHERE = Clause(
    key="aashto_lrfd.14_7_1_4_sphere",
    standard=_STANDARD,
    edition=_EDITION,
    number="14.7.1.4, eq. 14.7.1.4-2",
    title="contact stress of spherical surfaces",
    intended_for="Bridge bearings with spherical surfaces, at the service limit state, without"
    " friction.",
    applies_here="Applies only to a post with a domed end or face that touches at a point, not to a"
    " straight round on a flat plate.",
    applicability="by analogy",
    level="service",
    text="from memory, not seen",
)


@formula(
    name="effective diameter of a pair",
    symbol="D",
    form="{diameter}/(1 − {diameter}/{mating_diameter})",
    dimension="length",
    source=_SOURCE.format("14.7.1.4-1, its term in D1 and D2"),
    limits=lambda D, **at: [at_most("D/D1", D / at["diameter"], hertz.CLOSEST_SOCKET)],
    given=_SYMBOLS,
)
def effective_diameter(diameter: float, mating_diameter: float) -> float:
    """Diameter D1/(1 − D1/D2), mm, of the roller that meets a flat as this pair meets.

    D1 of the roller in mm; D2 of the mating surface in mm is positive where both curve the same
    way (a socket) and negative where they curve against each other (two rollers). Holds for
    sockets up to D/D1 of 10 (:data:`contactfe.hand.hertz.CLOSEST_SOCKET`, derived there): in a
    closer one the contact wraps around the roller. A sphere's contact is narrower, so the same
    bound serves it. Raises ValueError unless D1 is positive and a
    socket larger than the roller, or for a D2 of 0 or that is not finite.

    Source: AASHTO LRFD 2014, eq. 14.7.1.4-1, from memory, not seen.

    >>> print(effective_diameter(100.0, -100.0), effective_diameter(100.0, 200.0))
    50.0 200.0
    """
    check.positive(diameter=diameter)
    if not math.isfinite(mating_diameter) or 0 <= mating_diameter <= diameter:
        raise ValueError(
            f"mating_diameter = {mating_diameter!r} is not allowed: it must be finite and larger"
            f" than the diameter {diameter} (a socket), or negative (a roller)"
        )
    return diameter / (1 - diameter / mating_diameter)


@formula(
    name="service load of a cylinder, per length",
    symbol="PS/W",
    form="8·{effective_diameter}·{yield_strength}²/{young}",
    dimension="line load",
    source=_SOURCE.format("14.7.1.4-1"),
    given=_SYMBOLS,
)
def cylinder_limit(effective_diameter: float, yield_strength: float, young: float = STEEL) -> float:
    """Largest service load per length 8 D Fy²/Es, N/mm, with D in mm, Fy and Es in MPa.

    Raises ValueError for values that are not positive. Source: AASHTO LRFD 2014, eq. 14.7.1.4-1,
    from memory, not seen.

    >>> print(cylinder_limit(150.0, 345.0))
    714.15
    """
    check.positive(
        effective_diameter=effective_diameter, yield_strength=yield_strength, young=young
    )
    return 8 * effective_diameter * yield_strength**2 / young


@formula(
    name="service load of a sphere",
    symbol="PS",
    form="40·{effective_diameter}²·{yield_strength}³/{young}²",
    dimension="force",
    source=_SOURCE.format("14.7.1.4-2"),
    given=_SYMBOLS,
)
def sphere_limit(effective_diameter: float, yield_strength: float, young: float = STEEL) -> float:
    """Largest service load 40 D² Fy³/Es², N, with D in mm, Fy and Es in MPa.

    Raises ValueError for values that are not positive. Source: AASHTO LRFD 2014, eq. 14.7.1.4-2,
    from memory, not seen.

    >>> print(sphere_limit(150.0, 345.0))
    923.9316
    """
    check.positive(
        effective_diameter=effective_diameter, yield_strength=yield_strength, young=young
    )
    return 40 * effective_diameter**2 * yield_strength**3 / young**2


def cylinder(
    line_load: float,
    diameter: float,
    yield_strength: float,
    mating_diameter: float | None = None,
    young: float = STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """14.7.1.4: service load of a cylindrical surface, P_S/W <= 8 D1/(1 − D1/D2) Fy²/Es.

    ``line_load`` at the service limit state in N/mm; ``diameter`` D1 and ``mating_diameter`` D2 in
    mm, None for a flat, positive for a socket, negative for another roller; ``yield_strength`` Fy
    in MPa of the weaker part, ``young`` Es in MPa; ``poisson`` for the scope: the coefficient is
    that of steel. There is no resistance factor. A socket so close that D/D1 passes 10 is out of
    scope (:func:`effective_diameter`). Raises ValueError for a negative load, values that are not
    positive, a socket that is not larger than the roller, or ν outside [0, 0.5].

    Source: AASHTO LRFD 2014, 14.7.1.4, eq. 14.7.1.4-1, from memory, not seen.

    >>> print(cylinder(1000.0, 150.0, 345.0).resistance)
    PS/W = 8·D·Fy²/Es = 8·150 mm·(345 MPa)²/200000 MPa = 714.15 N/mm
    """
    steps, D = _effective(diameter, mating_diameter)
    return ClauseCheck(
        clause=CYLINDER,
        demand=stated("line load", "q", line_load, "line load"),
        resistance=cylinder_limit.worked(D, yield_strength, young),
        steps=steps,
        scope=steel_contact(young, poisson),
    )


def sphere(
    force: float,
    diameter: float,
    yield_strength: float,
    mating_diameter: float | None = None,
    young: float = STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """14.7.1.4: service load of a spherical surface, P_S <= 40 (D1/(1 − D1/D2))² Fy³/Es².

    ``force`` at the service limit state in N; the rest, and the errors, as for :func:`cylinder`.

    Source: AASHTO LRFD 2014, 14.7.1.4, eq. 14.7.1.4-2, from memory, not seen.

    >>> print(round(sphere(500.0, 150.0, 345.0).ratio, 4))
    0.5412
    """
    steps, D = _effective(diameter, mating_diameter)
    return ClauseCheck(
        clause=SPHERE,
        demand=stated("force", "F", force, "force"),
        resistance=sphere_limit.worked(D, yield_strength, young),
        steps=steps,
        scope=steel_contact(young, poisson),
    )


def _effective(diameter: float, mating: float | None) -> tuple[tuple[Worked, ...], float]:
    if mating is None:
        return (), diameter
    pair = effective_diameter.worked(diameter, mating)
    return (pair,), pair.value
