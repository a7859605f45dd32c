"""Force over approach of a section on its plate, solved, beside sums of exact fields of two bodies.

The exponent of a line contact stands among them: d ln q / d ln δ of the closed form.
"""

import math
from functools import cache, partial

from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import Followed, follow_load
from contactfe.assess.shares import shares
from contactfe.hand import approach, approach_hold, hertz
from contactfe.hand.check import HeldBy, State
from contactfe.verify import cases
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import COMPUTED, EXACT_LAYER, EXACT_ROUND, MESH

_STEEL = (200e3, 0.3)
_STATE: State = "plane strain"
_LOAD, _RADIUS, _THICKNESS = 1000.0, cases.RADIUS, 150.0
_WALL = 5.0

_FIELDS = f"{EXACT_ROUND}, and {EXACT_LAYER}{COMPUTED}"
_RING = (
    "S. P. Timoshenko, Strength of Materials: from memory, not seen; work of the bending moment of"
    " a thin ring{}; computed here"
)


@cache
def _solid(held_by: HeldBy) -> Followed:
    """A solid on a plate so wide that it is as good as endless, on a rigid base."""
    case = cases.round_case(
        2 * _RADIUS, None, _LOAD, plate_size=(900.0, _THICKNESS), held_by=held_by
    )
    return follow_load(case, case.sections[0], Bodies(case))


@cache
def _tube(held_by: HeldBy) -> Followed:
    """A thin tube on a plate, under so small a load that it hardly bends."""
    case = cases.round_case(2 * _RADIUS, _WALL, 60.0, plate_size=(400.0, 60.0), held_by=held_by)
    return follow_load(case, case.sections[0], Bodies(case), scale=2.0)


def _two_bodies(q: float, held_by: HeldBy) -> float:
    """Approach of the hold of the post to the base of the plate, mm."""
    a = float(hertz.half_width(q, _RADIUS, cases.E_STAR))
    post = float(approach_hold.solid(q, _RADIUS, a, *_STEEL, held_by, _STATE))
    return post + float(approach.layer(q, _THICKNESS, a, *_STEEL, _STATE))


def _tangent(q: float, held_by: HeldBy) -> float:
    """Slope of the line load over that approach, N/mm per mm: each body loses 1 of its 2 ln."""
    lost = 2 * q * (1 - 0.3**2) / (math.pi * 200e3)
    return q / (_two_bodies(q, held_by) - lost)


def _thin_ring(factor: float) -> float:
    """How far the hold of a thin tube goes by its bending, mm, at 60 N/mm."""
    bending = 200e3 / (1 - 0.3**2) * _WALL**3 / 12
    return factor * 60.0 * (_RADIUS - _WALL / 2) ** 3 / bending


def _rows_of_solid(held_by: HeldBy) -> tuple[Row, ...]:
    of = f"solid of 150 mm, {held_by}, on a plate of 900 × 150 mm on a rigid base"
    key = f"stiffness-solid-{held_by.replace(' ', '-')}"
    row = partial(solved_row, source=_FIELDS, solve=f"stiffness of a solid, {held_by}")
    approaches = tuple(
        row(
            key=f"{key}-{share:g}",
            case=f"Approach of hold to base at {share * _LOAD:g} N/mm on a curve, {of}",
            published=_two_bodies(share * _LOAD, held_by),
            tool=lambda share=share: float(_solid(held_by).curve.approach_at(share * _LOAD)),
            allowed=1e-3,
            why=f"{MESH}; 0.03 % measured",
            unit="mm",
        )
        for share in (0.1, 1.0)
    )
    exponent = _tangent(_LOAD, held_by) * _two_bodies(_LOAD, held_by) / _LOAD

    def tangent() -> float:
        curve = _solid(held_by).curve
        return float(curve.tangent_at(curve.approach_at(_LOAD)))

    return (
        *approaches,
        row(
            key=f"{key}-tangent",
            case=f"Tangent stiffness at {_LOAD:g} N/mm, {of}",
            published=_tangent(_LOAD, held_by),
            tool=tangent,
            allowed=2e-3,
            why=f"{MESH}; 0.05 % measured",
            unit="N/mm/mm",
        ),
        row(
            key=f"{key}-exponent",
            case=f"Local exponent d ln q / d ln δ at {_LOAD:g} N/mm, {of}",
            published=exponent,
            tool=lambda: tangent() * float(_solid(held_by).curve.approach_at(_LOAD)) / _LOAD,
            allowed=2e-3,
            why=f"{MESH}; a sphere has 1.5",
        ),
    )


def _row_of_tube(held_by: HeldBy, factor: float, words: str) -> Row:
    return solved_row(
        key=f"stiffness-thin-ring-{held_by.replace(' ', '-')}",
        case=f"Share of the ring at 60 N/mm, tube of 150 × 5 mm, {held_by}",
        source=_RING.format(f", {words}"),
        published=_thin_ring(factor),
        tool=lambda: shares(_tube(held_by), 1.0).ring,
        allowed=1.5e-2,
        why="a thin ring leaves out shear and thrust: h/R = 0.07",
        unit="mm",
        solve=f"stiffness of a thin tube, {held_by}",
    )


ROWS: tuple[Row, ...] = (
    *_rows_of_solid("diametral"),
    *_rows_of_solid("beam shear"),
    _row_of_tube(
        "diametral", math.pi / 8 - 1 / math.pi, "diametral loads: (π/8 − 1/π)·q·R³/(E'·I)"
    ),
    _row_of_tube(
        "beam shear", math.pi / 12 - 11 / (16 * math.pi),
        "beam shear: (π/12 − 11/(16·π))·q·R³/(E'·I), derived here",
    ),
)  # fmt: skip
