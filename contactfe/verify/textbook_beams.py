"""Beams and thick rings that textbooks work out in full, beside the hand formulas.

The beams on an elastic foundation of Boresi and Schmidt and of Ugural and Fenster, as published
companions to the books give them: programs that work the printed examples. The books themselves
were not seen, and the numbers that only they print are those of the companions.
"""

import math
from functools import partial

from contactfe.hand import cantilever, ring, winkler
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import LAST_PRINTED

_BORESI = (
    "A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials, example {}: a published"
    " companion seen, the book not"
)
_UGURAL = (
    "A. C. Ugural and S. K. Fenster, Advanced Strength and Applied Elasticity, example 9.4: a"
    " published companion seen, the book not"
)
_MANUAL = (
    "validation manual of an open-source finite element code, straight beam of round section under"
    " a unit force at its tip, printed value after Timoshenko: seen"
)
_RING = (
    "Mechanical Engineer's Data Handbook, p. 29, thick ring under two loads: formula seen; value"
    " computed here"
)

_printed = partial(hand_row, why=LAST_PRINTED, absolute=True)

_RAIL = "rail of 200 GPa and 36.9e6 mm⁴ on a bed of 14 N/mm², wheels of 170 kN"
_RAIL_BENDING, _RAIL_BED, _WHEEL, _APART = 200e3 * 36.9e6, 14.0, 170e3, 1700.0
_RAIL_LENGTH = winkler.characteristic_length(_RAIL_BENDING, _RAIL_BED)
_TO_STRESS = 99.1 / 36.9e6  # MPa per N mm: distance of the farthest fibre over I


def _rail_moment(*places: float) -> float:
    """Moment, N mm, under a wheel with others so far away, mm."""
    return sum(float(winkler.moment(x, _WHEEL, _RAIL_LENGTH)) for x in places)


def _rail_deflection(*places: float) -> float:
    return sum(float(winkler.deflection(x, _WHEEL, _RAIL_LENGTH, _RAIL_BED)) for x in places)


_THREE = "three wheels 1.7 m apart"
_RAIL_ROWS = tuple(
    _printed(
        key=f"rail-{key}",
        case=f"{what}: {_RAIL}",
        source=_BORESI.format(example),
        published=published,
        tool=tool,
        allowed=5e-3,
        unit=unit,
    )
    for key, what, example, published, tool, unit in (
        ("deflection", "deflection under one wheel", "10.1a", 5.04,
            lambda: winkler.deflection_under_load(_WHEEL, _RAIL_LENGTH, _RAIL_BED, "bonded"), "mm"),
        ("moment", "moment under one wheel", "10.1a", 51.21,
            lambda: winkler.moment_under_load(_WHEEL, _RAIL_LENGTH, "bonded") / 1e6, "kNm"),
        ("stress", "stress under one wheel", "10.1a", 137.54,
            lambda: _rail_moment(0.0) * _TO_STRESS, "MPa"),
        ("three-deflection", f"deflection under the middle one of {_THREE}", "10.1b", 7.86,
            lambda: _rail_deflection(0.0, _APART, _APART), "mm"),
        ("three-moment", f"moment under an outer one of {_THREE}", "10.1b", 37.02,
            lambda: _rail_moment(0.0, _APART, 2 * _APART) / 1e6, "kNm"),
        ("three-stress", f"stress under an outer one of {_THREE}", "10.1b", 99.42,
            lambda: _rail_moment(0.0, _APART, 2 * _APART) * _TO_STRESS, "MPa"),
    )
)  # fmt: skip

_SPRINGS = "beam of 72 GPa and 2.45e6 mm⁴ on springs of 110 N/mm every 1.1 m, 12 kN"
_SPRINGS_BED = 110.0 / 1100.0
_SPRINGS_LENGTH = winkler.characteristic_length(72e3 * 2.45e6, _SPRINGS_BED)


def _sprung(place: float) -> float:
    return float(winkler.deflection(place, 12e3, _SPRINGS_LENGTH, _SPRINGS_BED))


_SPRINGS_ROWS = (
    *(
        _printed(
            key=f"springs-deflection-{place:g}",
            case=f"deflection {place / 1e3:g} m from the load: {_SPRINGS}",
            source=_BORESI.format("10.2"),
            published=published,
            tool=partial(_sprung, place),
            allowed=5.1e-3,
            unit="mm",
        )
        for place, published in ((0.0, 36.81), (1100.0, 26.35), (2200.0, 11.41), (3300.0, 2.24))
    ),
    _printed(
        key="springs-moment",
        case=f"moment under the load: {_SPRINGS}",
        source=_BORESI.format("10.2"),
        published=4.89,
        tool=lambda: winkler.moment_under_load(12e3, _SPRINGS_LENGTH, "bonded") / 1e6,
        allowed=5e-3,
        unit="kNm",
    ),
    _printed(
        key="springs-stress",
        case=f"stress 50 mm from the axis under the load: {_SPRINGS}",
        source=_BORESI.format("10.2"),
        published=99.78,
        tool=lambda: float(winkler.moment(0.0, 12e3, _SPRINGS_LENGTH)) * 50.0 / 2.45e6,
        allowed=5.1e-3,
        unit="MPa",
    ),
)

_STEEL = "beam of 206.8 GPa and 6e6 mm⁴ on springs of 10 N/mm every 1.5 m, 6.7 kN"
_STEEL_BED = 10.0 / 1500.0
_STEEL_LENGTH = winkler.characteristic_length(206.8e3 * 6e6, _STEEL_BED)
_STEEL_ROWS = (
    _printed(
        key="long-beam-decay",
        case=f"1 over the characteristic length: {_STEEL}",
        source=_UGURAL,
        published=0.19144,
        tool=lambda: 1e3 / _STEEL_LENGTH,
        allowed=5e-6,
        unit="1/m",
    ),
    _printed(
        key="long-beam-stress",
        case=f"stress 50 mm from the axis under the load: {_STEEL}",
        source=_UGURAL,
        published=72.91,
        tool=lambda: winkler.moment_under_load(6700.0, _STEEL_LENGTH, "bonded") * 50.0 / 6e6,
        allowed=5e-3,
        unit="MPa",
    ),
    _printed(
        key="long-beam-deflection",
        case=f"deflection under the load: {_STEEL}",
        source=_UGURAL,
        published=0.10,
        tool=lambda: (
            winkler.deflection_under_load(6700.0, _STEEL_LENGTH, _STEEL_BED, "bonded") / 1e3
        ),
        allowed=5e-3,
        unit="m",
    ),
)


def _thick_ring(outside: float, wall: float) -> float:
    """R²/(R² + h²) of a rectangular wall, h² = R³/t · ln((2R + t)/(2R − t)) − R²."""
    R, t = outside - wall / 2, wall
    return R**2 / (R**3 / t * math.log((2 * R + t) / (2 * R - t)))


_OTHER_ROWS = (
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

ROWS: tuple[Row, ...] = (*_RAIL_ROWS, *_SPRINGS_ROWS, *_STEEL_ROWS, *_OTHER_ROWS)
