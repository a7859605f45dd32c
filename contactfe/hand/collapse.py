"""Plastic collapse of a tube crushed between two flat plates, as a ring with four hinges.

Hinges form under both plates and at both sides. This is the load at which the tube as a whole gives
way, for diametral loads only. It lies far above first yield, and beside the strength of the contact
itself it is one of several limits.
"""

import numpy as np

from contactfe.hand import check
from contactfe.hand.check import State
from contactfe.hand.formula import at_least, formula, limited, shown
from contactfe.hand.quantities import Length, LineLoad, MomentPerLength, Stress

SMALLEST_BORE = 0.8
"""Bore over outside radius down to which hinges are short beside the radius (common practice, no
source); for a thicker tube the load is an estimate. The normal force lowers the moment of a hinge
by the square of h/D, 1 % there."""


@formula(
    "plastic moment of the wall",
    "Mp",
    source="any text on plastic bending; 2/√3 is von Mises' yield in plane strain",
    note="c = 2/√3 for a long tube (plane strain), 1 for a short ring (plane stress)",
)
def plastic_moment(yield_strength: Stress, wall: Length, state: State) -> MomentPerLength:
    """Moment at which the wall yields through.

    In plane strain it cannot strain along the tube and yields after von Mises at 2Y/√3.
    """
    constraint = shown("constraint", 2 / np.sqrt(3) if state == "plane strain" else 1.0, "c")
    return constraint * yield_strength * wall**2 / 4


@formula(
    "collapse load between two plates",
    "P0",
    source="J. A. DeRuntz and P. G. Hodge, J. Appl. Mech. 30 (1963) 391–395: from memory, not seen,"
    " and derived again here",
    symbols={"radius": "ro"},
    note="Mp is the plastic moment of the wall",
)
def collapse_load(yield_strength: Stress, radius: Length, wall: Length, state: State) -> LineLoad:
    """Line load at which a tube of that outside radius begins to collapse.

    By the balance of a quarter ring: half the load at the lever of the mean radius against two
    hinges.

    >>> print(collapse_load(345.0, 84.15, 15.0, "plane strain"))
    1169.4
    """
    check.tube_wall(radius, wall)
    Mp = plastic_moment.plain(yield_strength, wall, state)
    moment = shown("moment", Mp, "Mp", "moment per length")
    limited(at_least("ri/ro", (radius - wall) / radius, SMALLEST_BORE))
    return 8 * moment / (2 * radius - wall)
