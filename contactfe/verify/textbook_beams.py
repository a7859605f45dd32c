"""Beams and thick rings as handbooks and others work them out, beside the hand formulas."""

import math
from functools import partial

from contactfe.hand import cantilever, ring
from contactfe.verify.row import Row, hand_row

_MANUAL = (
    "validation manual of an open-source finite element code, straight beam of round section under"
    " a unit force at its tip, printed value after Timoshenko: seen"
)
_RING = (
    "Mechanical Engineer's Data Handbook, p. 29, thick ring under two loads: formula seen; value"
    " computed here"
)


def _thick_ring(outside: float, wall: float) -> float:
    """R²/(R² + h²) of a rectangular wall, h² = R³/t · ln((2R + t)/(2R − t)) − R²."""
    R, t = outside - wall / 2, wall
    return R**2 / (R**3 / t * math.log((2 * R + t) / (2 * R - t)))


ROWS: tuple[Row, ...] = (
    hand_row(
        key="round-cantilever-tip",
        case="tip of a solid round of 200 mm, 2 m long, 200 GPa, ν = 0.3, under 1 N",
        source=_MANUAL,
        published=1.70730812619e-4,
        tool=lambda: cantilever.deflection(1.0, 2000.0, 200.0, 0.0, 200e3, 0.3),
        allowed=2.5e-4,
        why="its shear coefficient is 6/7; here it is 0.8864, after Cowper",
        unit="mm",
    ),
    *(
        hand_row(
            key=f"thick-ring-moment-{round(1000 * wall)}",
            case=f"moment under the load over that of a thin ring, wall {wall:g} of the outside"
            " radius",
            source=_RING,
            published=_thick_ring(1.0, wall),
            tool=partial(ring.k2, 1.0, wall),
            allowed=1e-9,
            why="the same formula, written with another length",
        )
        for wall in (0.238, 0.346, 0.5)
    ),
)
