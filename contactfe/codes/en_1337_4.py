"""EN 1337-4, Structural bearings, roller bearings: load of a roller per length of contact.

From memory, not seen. The form holds in any coherent units.
"""

from types import MappingProxyType

from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import EUROPEAN_STEEL, steel_contact
from contactfe.hand import check
from contactfe.hand.formula import formula

ROLLER = Clause(
    key="en_1337_4.roller",
    standard="EN 1337-4",
    edition="2004",
    number="resistance of rollers, N'Rk = 23 R fu²/Ed",
    title="load of a roller per length",
    written_for="Steel rollers of structural bearings between flat plates, in the ultimate limit"
    " state; they turn slowly, by no more than 0.05 rad, without friction in mind.",
    carries="The geometry is that of a post on a plate, but the rule is no yield check: it puts the"
    " Hertz pressure at 2.0 fu, far past first yield. A blow, drag along the plate, the bending of"
    " a tube and of the plate are not in it.",
    reach="by analogy",
    level="strength",
    text="from memory, not seen",
)

SYMBOLS: Symbols = MappingProxyType(
    {
        "tensile_strength": ("fu", "stress"),
        "young": ("Ed", "stress"),
        "gamma_m": ("γm", None),
    }
)
"""Symbols of EN 1337, in all of its parts."""


@formula(
    name="design resistance of a roller, per length",
    symbol="N'Rd",
    form="23·{radius}·{tensile_strength}²/({young}·{gamma_m}²)",
    dimension="line load",
    source="EN 1337-4:2004, resistance of rollers: from memory, not seen",
    given=SYMBOLS,
)
def roller_resistance(
    radius: float, tensile_strength: float, young: float = EUROPEAN_STEEL, gamma_m: float = 1.0
) -> float:
    """Design resistance N'Rd = 23 R fu²/(Ed γm²), N/mm, with R in mm, fu and Ed in MPa.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1337-4:2004, from memory, not seen.

    >>> print(roller_resistance(75.0, 490.0))
    1972.25
    """
    check.positive(radius=radius, tensile_strength=tensile_strength, young=young)
    check.partial_factor(gamma_m=gamma_m)
    return 23 * radius * tensile_strength**2 / (young * gamma_m**2)


def roller(
    line_load: float,
    radius: float,
    tensile_strength: float,
    young: float = EUROPEAN_STEEL,
    gamma_m: float = 1.0,
    poisson: float = 0.3,
) -> ClauseCheck:
    """Load of a roller per length against 23 R fu²/(Ed γm²).

    ``line_load`` N'Ed in N/mm; ``radius`` R of the contact in mm; ``tensile_strength`` fu of the
    weaker part and ``young`` Ed in MPa; ``gamma_m`` γm is an NDP (nationally determined parameter),
    recommended 1.0; ``poisson`` for the scope: the coefficient is that of steel. Raises ValueError
    for a negative load, values that are not positive, a partial factor below 1, or ν outside
    [0, 0.5].

    Source: EN 1337-4:2004, from memory, not seen.

    >>> print(round(roller(1000.0, 75.0, 490.0).ratio, 4))
    0.507
    """
    return ClauseCheck(
        clause=ROLLER,
        demand=stated("line load", "N'Ed", line_load, "line load"),
        resistance=roller_resistance.worked(radius, tensile_strength, young, gamma_m),
        scope=steel_contact(young, poisson),
    )
