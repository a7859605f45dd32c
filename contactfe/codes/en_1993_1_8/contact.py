"""EN 1993-1-8, 3.13.2(3): contact stress of a round on a flat, by analogy with a pin in service.

Seen in a public extract.
"""

import math
from typing import Annotated

from contactfe.codes.clause import Clause, ClauseCheck
from contactfe.codes.en_1993_1_8.common import (
    EDITION,
    SEEN,
    SOURCE,
    STANDARD,
    SYMBOLS,
)
from contactfe.codes.scope import EUROPEAN_STEEL, european_strength, steel_contact
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Length, LineLoad, PartialFactor, Stress

FLAT_CONTACT = Clause(
    key="en_1993_1_8.flat_contact_by_analogy",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2(3) by analogy",
    title="contact stress of a round on a flat, by analogy",
    intended_for="The clause is for a pin in its hole in service. Here its hole is widened until it"
    " is a flat, and the same limit of 2.5 fy is kept. No clause says so.",
    applies_here="The stress is the Hertz pressure of a post on a plate. The limit is that of a"
    " steady service load and lies above first yield (1.79 fy) and shakedown (2.31 fy).",
    applicability="by analogy",
    level="service",
    text=SEEN,
)


@formula(
    "contact stress of a round on a flat",
    "σh,Ed",
    source="derived here: EN 1993-1-8:2005, eq. 3.15 (seen in a public extract) with d d0 for d²"
    " and a hole that grows without bound",
)
def flat_contact_stress(
    line_load: Annotated[LineLoad, "qEd,ser"],
    diameter: Annotated[Length, "d"],
    young: Stress = EUROPEAN_STEEL,
) -> Stress:
    """Contact stress 0.591 √(E q/d), MPa, with q in N/mm, d in mm and E in MPa.

    >>> print(flat_contact_stress(1000.0, 150.0))
    699.2806
    """
    return 0.591 * math.sqrt(young * line_load / diameter)


@formula("contact strength in service", "fh,Rd", source=SOURCE.format("eq. 3.16"), symbols=SYMBOLS)
def contact_strength(yield_strength: Stress, gamma_M6_ser: PartialFactor = 1.0) -> Stress:
    """Strength fh,Rd = 2.5 fy/γM6,ser, MPa.

    >>> print(contact_strength(355.0))
    887.5
    """
    return 2.5 * yield_strength / gamma_M6_ser


def flat_contact_by_analogy(
    line_load: float,
    diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
    young: float = EUROPEAN_STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """Contact stress of a round on a flat against 2.5 fy/γM6,ser, by analogy with 3.13.2(3).

    ``line_load`` in service in N/mm, ``diameter`` of the post in mm; the rest as
    usual. The ratio grows with the root of the load. Raises ValueError for a negative
    load, values that are not positive, a partial factor below 1, or ν outside [0, 0.5].

    Source: derived here from EN 1993-1-8:2005, eqs 3.14 to 3.16 (seen); see :data:`FLAT_CONTACT`.

    >>> print(round(flat_contact_by_analogy(1000.0, 150.0, 355.0).ratio, 4))
    0.7879
    """
    return ClauseCheck(
        clause=FLAT_CONTACT,
        demand=flat_contact_stress.worked(line_load, diameter, young),
        resistance=contact_strength.worked(yield_strength, gamma_M6_ser),
        scope=(
            *european_strength(yield_strength),
            *steel_contact(young, poisson),
        ),
        grows="as the root of the load",
    )
