"""AISC 360-22, J2.4: the fillet weld at the root of the post.

Seen in a public copy; the numbers of its equations, illegible there, are as remembered.
"""

import math
from typing import Annotated

from contactfe.codes.aisc_360.common import (
    EDITION,
    SEEN,
    STANDARD,
    TEXT_SEEN,
    Method,
    available,
)
from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.hand.formula import formula
from contactfe.hand.quantities import POSITIVE, UNCHECKED, Angle, Number, Stress

FILLET_WELD = Clause(
    key="aisc_360.j2_4",
    standard=STANDARD,
    edition=EDITION,
    number="J2.4, eqs J2-4 and J2-5",
    title="strength of fillet welds",
    intended_for="Fillet welds under static load: the resultant stress on the throat against that"
    " of the weld metal.",
    applies_here="Applies to the weld all round at the post's root, with the throat stress of beam"
    " theory. It covers neither the base metal beside the weld, nor fatigue, nor repeated impact.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula(
    "directional strength factor",
    "kds",
    source=TEXT_SEEN.format("eq. J2-5, its number unconfirmed"),
)
def directional_factor(angle: Annotated[Angle, UNCHECKED, "θ"]) -> Number:
    """Factor 1.0 + 0.50 sin^1.5 θ for a force at θ rad, 0 to π/2, from the weld's axis.

    >>> print(directional_factor(math.pi / 2))
    1.5
    """
    if not 0 <= angle <= math.pi / 2:
        raise ValueError(f"angle = {angle!r} is not allowed: it must lie in [0, π/2] rad")
    return 1.0 + 0.50 * math.pow(math.sin(angle), 1.5)


@formula(
    "nominal strength of a fillet weld, per area of its throat",
    "Fnw·kds",
    source=TEXT_SEEN.format("eq. J2-4, its number unconfirmed, with Fnw of Table J2.5"),
)
def weld_stress(
    electrode_strength: Annotated[Stress, "FEXX"], factor: Annotated[Number, POSITIVE, "kds"]
) -> Stress:
    """Nominal strength over throat area Fnw kds, MPa, with Fnw = 0.60 FEXX; FEXX in MPa.

    >>> print(weld_stress(480.0, 1.0))
    288.0
    """
    return 0.60 * electrode_strength * factor


def fillet_weld(
    throat_stress: float, electrode_strength: float, method: Method = "LRFD", angle: float = 0.0
) -> ClauseCheck:
    """J2.4: resultant stress on the throat of a fillet weld; φ = 0.75, Ω = 2.00.

    ``throat_stress`` and ``electrode_strength`` FEXX in MPa, ``angle`` θ in rad of the force from
    the weld's axis. Leave it at 0 for a weld all round a post: the angle changes along it, and the
    factor may be counted only where the strains of all parts of the weld fit together. Raises
    ValueError for a negative stress, a strength that is not positive, an angle outside [0, π/2] or
    an unknown method.

    Source: AISC 360-22, J2.4, eqs J2-4 and J2-5, and Table J2.5, seen in a public copy.

    >>> print(fillet_weld(120.0, 480.0).resistance)
    φFnw·kds = φ·Fnw·kds = 0.75·288 MPa = 216 MPa
    """
    factor = directional_factor.worked(angle)
    nominal = weld_stress.worked(electrode_strength, factor.value)
    return ClauseCheck(
        clause=FILLET_WELD,
        demand=stated("throat stress", "fw", throat_stress, "stress"),
        resistance=available(nominal, method, 0.75, 2.0),
        steps=(factor, nominal),
    )
