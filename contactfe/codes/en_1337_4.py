"""EN 1337-4, Structural bearings, roller bearings: load of a roller per length of contact.

Seen in a public extract of a textbook that gives the clause. The form holds in any coherent units.
"""

from types import MappingProxyType

from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import EUROPEAN_STEEL, steel_contact
from contactfe.hand import check
from contactfe.hand.formula import Limit, at_least, at_most, formula
from contactfe.hand.quantities import Length, LineLoad, PartialFactor, Stress

TEXTBOOK = (
    "E. Ellobody, Finite Element Analysis and Design of Steel and Steel-Concrete Composite Bridges,"
    " 2014, eqs 3.131 to 3.133: seen in a public extract"
)

LEAST_YIELD = 240.0
"""Least yield strength, MPa, of rollers and plates: seen in the same textbook."""

LENGTHS = (2.0, 6.0)
"""Least and greatest length of a roller over its diameter: seen in the same textbook."""

ALIKE = 0.9
"""Ratio of ultimate strengths down to which two parts pass for the same nominal strength, as the
thickness bands of one grade differ by no more: common practice, no source."""

ROLLER = Clause(
    key="en_1337_4.roller",
    standard="EN 1337-4",
    edition="2004 with AC:2007",
    number="resistance of rollers, N'Rk = 23 R fu²/Ed",
    title="load of a roller per length",
    intended_for="Steel rollers of structural bearings between flat plates, in the ultimate limit"
    " state; they turn slowly, by no more than 0.05 rad, without friction in mind. A roller is 2 to"
    " 6 diameters long, of carbon steel of a least yield strength (see the scope), and roller and"
    " plates have the same nominal strength and hardness.",
    applies_here="The geometry is that of a post on a plate, but the rule is no yield check: it"
    " puts the Hertz pressure at 2.0 fu, far past first yield. It does not cover an impact,"
    " friction along the plate, or the bending of a tube or of the plate.",
    applicability="by analogy",
    level="strength",
    text="seen in a public extract of a textbook",
)

SYMBOLS: Symbols = MappingProxyType(
    {
        "tensile_strength": "fu",
        "young": "Ed",
        "gamma_m": "γm",
    }
)
"""Symbols of EN 1337, in all of its parts."""


@formula(
    "design resistance of a roller, per length",
    "N'Rd",
    source=f"EN 1337-4:2004, resistance of rollers: {TEXTBOOK}",
    symbols=SYMBOLS,
)
def roller_resistance(
    radius: Length,
    tensile_strength: Stress,
    young: Stress = EUROPEAN_STEEL,
    gamma_m: PartialFactor = 1.0,
) -> LineLoad:
    """Design resistance N'Rd = 23 R fu²/(Ed γm²), N/mm, with R in mm, fu and Ed in MPa.

    >>> print(roller_resistance(75.0, 490.0))
    1972.25
    """
    return 23 * radius * tensile_strength**2 / (young * gamma_m**2)


def roller(
    line_load: float,
    radius: float,
    tensile_strength: float,
    young: float = EUROPEAN_STEEL,
    gamma_m: float = 1.0,
    poisson: float = 0.3,
    scope: tuple[Limit, ...] = (),
) -> ClauseCheck:
    """Load of a roller per length against 23 R fu²/(Ed γm²).

    ``line_load`` N'Ed in N/mm; ``radius`` R of the contact in mm; ``tensile_strength`` fu of the
    weaker part and ``young`` Ed in MPa; ``gamma_m`` γm is an NDP (nationally determined parameter),
    recommended 1.0; ``poisson`` for the scope: the coefficient is that of steel. ``scope`` is what
    :func:`roller_scope` says of length and steels. Raises ValueError for a negative load, values
    that are not positive, a partial factor below 1, or ν outside [0, 0.5].

    Source: EN 1337-4:2004, seen in a textbook.

    >>> print(round(roller(1000.0, 75.0, 490.0).ratio, 4))
    0.507
    """
    return ClauseCheck(
        clause=ROLLER,
        demand=stated("line load", "N'Ed", line_load, "line load"),
        resistance=roller_resistance.worked(radius, tensile_strength, young, gamma_m),
        scope=(*steel_contact(young, poisson), *scope),
    )


def roller_scope(
    radius: float,
    length: float | None,
    strengths: tuple[float, float],
    yield_strength: float,
) -> tuple[Limit, ...]:
    """What the clause asks of a roller and its plate beside the load.

    ``radius`` and ``length`` of the contact line in mm, None where it is not stated: it then counts
    as 0, so that the clause gives no verdict. ``strengths`` are the ultimate strengths of the two
    parts and ``yield_strength`` the lower of their yield strengths, MPa. Raises ValueError for
    values that are not positive. Source: EN 1337-4:2004, seen in a textbook; for strengths that are
    nearly the same see :data:`ALIKE`.

    >>> print(*roller_scope(75.0, 200.0, (470.0, 450.0), 345.0), sep="; ")
    L/D, the contact line over the diameter = 1.333, at least 2; L/D, the contact line over the
    diameter = 1.333, at most 6; fu of the weaker part over that of the stronger = 0.9574, at least
    0.9; fy = 345, at least 240
    """
    check.positive(radius=radius, tensile_strength=strengths, yield_strength=yield_strength)
    if length is None:
        what, slender = "L/D, the contact line, which is not stated, over the diameter", 0.0
    else:
        check.positive(length=length)
        what, slender = "L/D, the contact line over the diameter", length / (2 * radius)
    least, most = LENGTHS
    alike = min(strengths) / max(strengths)
    return (
        at_least(what, slender, least),
        at_most(what, slender, most),
        at_least("fu of the weaker part over that of the stronger", alike, ALIKE),
        at_least("fy", yield_strength, LEAST_YIELD, "stress"),
    )
