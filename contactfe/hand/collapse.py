"""Plastic collapse of a tube crushed between two flat plates, as a ring with four hinges.

Hinges form under both plates and at both sides. As the ring flattens the contact points move apart
under each plate, which shortens the lever of the load: it has to grow.

This is the load at which the tube as a whole gives way, for diametral loads only. It lies far above
first yield, and beside the strength of the contact itself it is one of several limits.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np

from contactfe.hand import check
from contactfe.hand.check import State
from contactfe.hand.formula import Given, Limit, at_least, at_most, formula
from contactfe.hand.ring import TUBE

SMALLEST_BORE = 0.8
"""Bore over outside radius down to which hinges are short beside the radius (common practice, no
source); for a thicker tube the load is an estimate."""

FURTHEST = 0.5
"""Shortening over mean diameter up to which the ring is taken to crush without hardening (common
practice, no source); steel hardens, so the load beyond is higher."""

_DERUNTZ = (
    "J. A. DeRuntz and P. G. Hodge, J. Appl. Mech. 30 (1963) 391–395: from memory, not seen, and"
    " derived again here"
)


def _constraint(state: State) -> float:
    return 2 / np.sqrt(3) if state == "plane strain" else 1.0


def _constraint_part(**given: Any) -> dict[str, Given]:
    return {"constraint": Given("c", float(_constraint(given["state"])))}


_CONSTRAINT = "c = 2/√3 for a long tube (plane strain), 1 for a short ring (plane stress)"


@formula(
    name="plastic moment of the wall",
    symbol="Mp",
    form="{constraint}·{yield_strength}·{wall}²/4",
    dimension="moment per length",
    parts=_constraint_part,
    source="any text on plastic bending; 2/√3 is von Mises' yield in plane strain",
    note=_CONSTRAINT,
)
def plastic_moment(yield_strength: float, wall: float, state: State) -> float:
    """Moment Mp, N mm/mm, at which the wall yields through: Y h²/4, 2/√3 of it in plane strain.

    ``yield_strength`` Y in MPa, ``wall`` h in mm. Raises ValueError for a value that is not
    positive or an unknown state.

    Source: any text on plastic bending. In plane strain the wall cannot strain along the tube and
    yields after von Mises at 2Y/√3.

    >>> print(plastic_moment(345.0, 21.95, "plane stress"))
    41555.5
    """
    check.positive(yield_strength=yield_strength, wall=wall)
    check.plane_state(state)
    return float(_constraint(state) * yield_strength * wall**2 / 4)


def _thin_enough(_: float, **given: Any) -> Iterator[Limit]:
    yield at_least("ri/ro", (given["radius"] - given["wall"]) / given["radius"], SMALLEST_BORE)


@formula(
    name="collapse load between two plates",
    symbol="P0",
    form="8·{moment}/(2·{radius} − {wall})",
    dimension="line load",
    given=TUBE,
    parts=lambda **given: {
        "moment": Given(
            "Mp",
            plastic_moment.plain(given["yield_strength"], given["wall"], given["state"]),
            "moment per length",
        )
    },
    limits=_thin_enough,
    source=_DERUNTZ,
    note="Mp is the plastic moment of the wall",
)
def collapse_load(yield_strength: float, radius: float, wall: float, state: State) -> float:
    """Line load P0, N/mm, at which a tube between two flat plates begins to collapse: 8 Mp/D.

    D = 2ro − h is the mean diameter, Mp that of :func:`plastic_moment`. ``yield_strength`` in MPa,
    outside ``radius`` and ``wall`` in mm. Raises ValueError for a strength that is not positive, a
    wall not between 0 and the radius, or an unknown state.

    Valid for diametral loads on thin tubes, bore ratio 0.8 and above, see :data:`SMALLEST_BORE`;
    the normal force lowers Mp by the square of h/D, 1 % at 0.8.

    Source: J. A. DeRuntz and P. G. Hodge, J. Appl. Mech. 30 (1963) 391–395 — from memory, not seen.
    By the balance of a quarter ring: half the load at the lever R against two hinges.

    >>> print(collapse_load(345.0, 84.15, 15.0, "plane strain"))
    1169.4
    """
    check.tube_wall(radius, wall)
    moment = plastic_moment.plain(yield_strength, wall, state)
    return 8 * moment / (2 * radius - wall)


@formula(
    name="crushing load between two plates",
    symbol="P",
    form="{collapse}/√(1 − ({shortening}/{mean_diameter})²)",
    dimension="line load",
    given={
        "collapse": ("P0", "line load"),
        "shortening": ("δ", "length"),
        "mean_diameter": ("D", "length"),
    },
    limits=lambda _, **given: [
        at_most("δ/D", given["shortening"] / given["mean_diameter"], FURTHEST)
    ],
    source=_DERUNTZ,
    note="P0 at the start of collapse; δ is how much the plates have come nearer",
)
def crushing_load(collapse: float, shortening: float, mean_diameter: float) -> float:
    """Line load P, N/mm, of a collapsing tube when two flat plates have come δ nearer.

    P0/√(1 − (δ/D)²). ``collapse`` P0 in N/mm, of :func:`collapse_load`; ``shortening`` δ and
    ``mean_diameter`` D in mm. Raises ValueError for a load or diameter that is not positive, or δ
    not in [0, D).

    Rigid, then perfectly plastic; hardening comes on top, see :data:`FURTHEST`.

    Source: J. A. DeRuntz and P. G. Hodge, J. Appl. Mech. 30 (1963) 391–395 — from memory, not seen.
    Each quarter turns stiffly by θ about the hinge at the side and touches the plate above its own
    centre, so δ = D sin θ and the lever of the load is R cos θ.

    >>> print(crushing_load(1000.0, 30.0, 100.0))
    1048.3
    """
    check.positive(collapse=collapse, mean_diameter=mean_diameter)
    if not 0 <= shortening < mean_diameter:
        raise ValueError(
            f"shortening = {shortening!r} is not allowed: it must lie in "
            f"[0, mean_diameter = {mean_diameter!r})"
        )
    return float(collapse / np.sqrt(1 - (shortening / mean_diameter) ** 2))
