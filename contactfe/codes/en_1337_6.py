"""EN 1337-6, Structural bearings, rocker bearings: load of a contact at a point.

From memory, not seen. The form holds in any coherent units.
"""

from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.codes.en_1337_4 import SYMBOLS
from contactfe.codes.scope import EUROPEAN_STEEL, steel_contact
from contactfe.hand import check
from contactfe.hand.formula import formula

POINT_ROCKER = Clause(
    key="en_1337_6.point_rocker",
    standard="EN 1337-6",
    edition="2004",
    number="resistance of point rockers, NRk = 220 R² fu³/Ed²",
    title="load of a contact at a point",
    intended_for="Steel point rockers of structural bearings, a dome on a flat, in the ultimate"
    " limit state.",
    applies_here="Applies only to a post with a domed end or face that touches at a point, not to a"
    " straight round on a flat plate.",
    applicability="by analogy",
    level="strength",
    text="from memory, not seen",
)


@formula(
    name="design resistance of a contact at a point",
    symbol="NRd",
    form="220·{radius}²·{tensile_strength}³/({young}²·{gamma_m}³)",
    dimension="force",
    source="EN 1337-6:2004, resistance of point rockers: from memory, not seen",
    given=SYMBOLS,
    note="The power of γm follows that of fu; it is unconfirmed and does not count at γm = 1.",
)
def point_resistance(
    radius: float, tensile_strength: float, young: float = EUROPEAN_STEEL, gamma_m: float = 1.0
) -> float:
    """Design resistance NRd = 220 R² fu³/(Ed² γm³), N, with R in mm, fu and Ed in MPa.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1337-6:2004, from memory, not seen; the power of γm is taken as that of fu and unconfirmed.

    >>> print(point_resistance(75.0, 490.0))
    3301.375
    """
    check.positive(radius=radius, tensile_strength=tensile_strength, young=young)
    check.partial_factor(gamma_m=gamma_m)
    return 220 * radius**2 * tensile_strength**3 / (young**2 * gamma_m**3)


def point_rocker(
    force: float,
    radius: float,
    tensile_strength: float,
    young: float = EUROPEAN_STEEL,
    gamma_m: float = 1.0,
    poisson: float = 0.3,
) -> ClauseCheck:
    """Load of a dome on a flat against 220 R² fu³/(Ed² γm³).

    ``force`` NEd in N; ``radius`` R of the dome in mm; ``tensile_strength`` fu of the weaker part
    and ``young`` Ed in MPa; ``gamma_m`` γm is an NDP (nationally determined parameter), recommended
    1.0; ``poisson`` for the scope: the coefficient is that of steel. Raises ValueError for a
    negative force, values that are not positive, a partial factor below 1, or ν outside [0, 0.5].

    Source: EN 1337-6:2004, from memory, not seen.

    >>> print(round(point_rocker(1000.0, 75.0, 490.0).ratio, 4))
    0.3029
    """
    return ClauseCheck(
        clause=POINT_ROCKER,
        demand=stated("force", "NEd", force, "force"),
        resistance=point_resistance.worked(radius, tensile_strength, young, gamma_m),
        scope=steel_contact(young, poisson),
    )
