"""EN 1337-4, Structural bearings, roller bearings: load of a roller per length of contact.

The form holds in any coherent units.
"""

from typing import Annotated

from contactfe.codes.clause import Sides, Standard
from contactfe.codes.scope import EUROPEAN_STEEL, steel_contact
from contactfe.hand.formula import Limit, at_least, at_most
from contactfe.hand.quantities import Length, LineLoad, PartialFactor, Poisson, Stress

EN_1337_4 = Standard(
    name="EN 1337-4",
    edition="2004 with AC:2007",
    cited="EN 1337-4:2004",
    text="seen in a public extract of a textbook",
    symbols={
        "line_load": "N'Ed",
        "tensile_strength": "fu",
        "yield_strength": "fy",
        "young": "Ed",
        "gamma_m": "γm",
    },
)

LEAST_YIELD = 240.0
"""Least yield strength, MPa, of rollers and plates."""

LENGTHS = (2.0, 6.0)
"""Least and greatest length of a roller over its diameter."""

ALIKE = 0.9
"""Ratio of ultimate strengths down to which two parts pass for the same nominal strength, as the
thickness bands of one grade differ by no more: common practice, no source."""


@EN_1337_4.formula(
    "design resistance of a roller, per length",
    "N'Rd",
    "resistance of rollers, as E. Ellobody, Finite Element Analysis and Design of Steel and"
    " Steel-Concrete Composite Bridges, 2014, gives it in eqs 3.131 to 3.133",
)
def roller_resistance(
    radius: Length,
    tensile_strength: Stress,
    young: Stress = EUROPEAN_STEEL,
    gamma_m: PartialFactor = 1.0,
) -> LineLoad:
    """Resistance by the ultimate strength of the weaker part."""
    return 23 * radius * tensile_strength**2 / (young * gamma_m**2)


@EN_1337_4.clause(
    "en_1337_4.roller",
    "resistance of rollers, N'Rk = 23 R fu²/Ed",
    "load of a roller per length",
    intended_for="Steel rollers of structural bearings between flat plates, in the ultimate limit"
    " state; they turn slowly, by no more than 0.05 rad, without friction in mind. A roller is 2 to"
    " 6 diameters long, of carbon steel of a least yield strength (see the scope), and roller and"
    " plates have the same nominal strength and hardness.",
    applies_here="The geometry is that of a post on a plate, but the rule is no yield check: it"
    " puts the Hertz pressure at 2.0 fu, far past first yield. It does not cover an impact,"
    " friction along the plate, or the bending of a tube or of the plate.",
    applicability="by analogy",
    level="strength",
)
def roller(
    line_load: LineLoad,
    radius: Length,
    tensile_strength: Stress,
    other_strength: Annotated[Stress, "fu"] | None = None,
    yield_strength: Stress | None = None,
    length: Length | None = None,
    young: Stress = EUROPEAN_STEEL,
    gamma_m: PartialFactor = 1.0,
    poisson: Poisson = 0.3,
) -> Sides:
    """The lower fu of both parts counts, and fy is the lower of theirs.

    ``length`` is that of the contact line. A length or strength that is not stated counts as 0, so
    that the clause gives no verdict. γm is an NDP (nationally determined parameter), recommended
    1.0.

    >>> print(*roller(1000.0, 75.0, 450.0, 470.0, 345.0, 200.0).exceeded)
    L/D, the contact line over the diameter = 1.333, at least 2
    """
    weaker, stronger = sorted((tensile_strength, other_strength or tensile_strength))
    alike = weaker / stronger if other_strength else 0.0
    return Sides(
        demand=line_load,
        resistance=roller_resistance.worked(radius, weaker, young, gamma_m),
        scope=(
            *steel_contact(young, poisson),
            *_slender(radius, length),
            at_least("fu of the weaker part over that of the stronger", alike, ALIKE),
            at_least("fy", yield_strength or 0.0, LEAST_YIELD, "stress"),
        ),
    )


def _slender(radius: float, length: float | None) -> tuple[Limit, ...]:
    what = "" if length else ", which is not stated,"
    what, slender = f"L/D, the contact line{what} over the diameter", (length or 0.0) / (2 * radius)
    least, most = LENGTHS
    return at_least(what, slender, least), at_most(what, slender, most)
