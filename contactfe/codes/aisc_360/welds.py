"""AISC 360-22, J2.4: the fillet weld at the root of the post.

The numbers of its equations, illegible in the copy that was seen, are as remembered.
"""

import math
from typing import Annotated

from contactfe.codes.aisc_360.common import AISC, Method, available
from contactfe.codes.clause import Sides
from contactfe.hand.quantities import POSITIVE, Angle, Number, Pressure, Stress


@AISC.formula("directional strength factor", "kds", "eq. J2-5, its number unconfirmed")
def directional_factor(angle: Annotated[Angle, "θ"]) -> Number:
    """Factor for a force at θ from the weld's axis. Raises ValueError outside 0 to π/2."""
    if not 0 <= angle <= math.pi / 2:
        raise ValueError(f"angle = {angle!r} is not allowed: it must lie in [0, π/2] rad")
    return float(1.0 + 0.50 * math.sin(angle) ** (1.5))


@AISC.formula(
    "nominal strength of a fillet weld, per area of its throat",
    "Fnw·kds",
    "eq. J2-4, its number unconfirmed, with Fnw of Table J2.5",
)
def weld_stress(
    electrode_strength: Annotated[Stress, "FEXX"], factor: Annotated[Number, "kds", POSITIVE]
) -> Stress:
    """Strength with Fnw = 0.60 FEXX."""
    return 0.60 * electrode_strength * factor


@AISC.clause(
    "aisc_360.j2_4",
    "J2.4, eqs J2-4 and J2-5",
    "strength of fillet welds",
    intended_for="Fillet welds under static load: the resultant stress on the throat against that"
    " of the weld metal.",
    applies_here="Applies to the weld all round at the post's root, with the throat stress of beam"
    " theory. It covers neither the base metal beside the weld, nor fatigue, nor repeated impact.",
    applicability="as written",
    level="strength",
)
def fillet_weld(
    throat_stress: Annotated[Pressure, "fw"],
    electrode_strength: Annotated[Stress, "FEXX"],
    method: Method = "LRFD",
    angle: Annotated[Angle, "θ"] = 0.0,
) -> Sides:
    """θ is the angle of the force from the weld's axis, 0 to π/2.

    Leave it at 0 for a weld all round a post: the angle changes along it, and the factor may be
    counted only where the strains of all parts of the weld fit together.

    >>> print(fillet_weld(120.0, 480.0).resistance)
    φFnw·kds = φ·Fnw·kds = 0.75·288 MPa = 216 MPa
    """
    factor = directional_factor.worked(angle)
    nominal = weld_stress.worked(electrode_strength, factor.value)
    return Sides(
        demand=throat_stress,
        resistance=available(nominal, method, phi=0.75, omega=2.00),
        steps=(factor, nominal),
    )
