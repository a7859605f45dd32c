"""The sliding contact and the one that is pushed and slips in part, beside the classical papers.

McEwen, Smith and Liu for sliding; Cattaneo and Mindlin for partial slip. Their formulas were
evaluated apart from this package, peaks by a search on a grid.
"""

from functools import partial

from contactfe.hand import partial_slip, sliding
from contactfe.verify.line_contact import COMPONENTS
from contactfe.verify.row import Row, field_row, hand_row
from contactfe.verify.sources import JOHNSON, PARTIAL_SLIP, SMITH_LIU, VALUE_COMPUTED, VALUE_DIGIT

_GRID = "found on a grid of 0.002 a"

_FRICTION_POINT = (0.872060, 0.161413, -0.455011)


def _by_friction(component: int) -> float:
    return float(sliding.friction_stress(-0.7, 0.2, 1.0, 1.0)[component])


_FRICTION = tuple(
    field_row(
        key=f"sliding-field-{key}",
        case=f"{component} over µ p0 under tangential traction alone at x = −0.7 a, z = 0.2 a",
        source=SMITH_LIU + VALUE_COMPUTED,
        published=value,
        tool=partial(_by_friction, i),
        allowed=5.1e-7,
        absolute=True,
        why=VALUE_DIGIT,
    )
    for i, ((key, component), value) in enumerate(zip(COMPONENTS, _FRICTION_POINT, strict=True))
)


_SLIDING_PEAKS = ((0.1, 0.5654), (0.2, 0.5900), (0.25, 0.6093), (1.0 / 3.0, 0.7149), (0.5, 0.9747))
"""Friction, and peak von Mises stress over p0, ν = 0.3."""


def _sliding_peak(friction: float, result: int) -> float:
    return sliding.peak_von_mises(1.0, friction, 0.3, "plane strain")[result]


_SLIDING = (
    hand_row(
        key="sliding-edge-tension",
        case="Tension behind the contact over p0, friction 1/3",
        source=JOHNSON.format("section 7.1"),
        published=2.0 / 3.0,
        tool=lambda: float(sliding.edge_stress(1.0, 1.0 / 3.0)),
        allowed=1e-12,
        why="rounding",
    ),
    *(
        hand_row(
            key=f"sliding-{friction:.3g}-von-mises",
            case=f"Peak von Mises stress over p0, sliding, friction {friction:.3g}, ν = 0.3",
            source=SMITH_LIU + "; peak computed here",
            published=value,
            tool=partial(_sliding_peak, friction, 0),
            allowed=1e-4,
            absolute=True,
            why=_GRID,
        )
        for friction, value in _SLIDING_PEAKS
    ),
    *(
        hand_row(
            key=f"sliding-0.2-{name}",
            case=f"{what} over half-width, friction 0.2, ν = 0.3",
            source=SMITH_LIU + "; peak computed here",
            published=place,
            tool=partial(_sliding_peak, 0.2, result),
            allowed=0.01,
            absolute=True,
            why=f"{_GRID}; flat maximum",
        )
        for result, name, what, place in (
            (1, "ahead", "That peak ahead of the middle", 0.55),
            (2, "depth", "Depth of that peak", 0.57),
        )
    ),
)


def _traction(at_stick: bool) -> float:
    """Over µ p0, in the middle or at the border of the part that sticks, pushed by µq/2."""
    x = partial_slip.stick_half_width(1.0, 0.5) if at_stick else 0.0
    return float(partial_slip.traction(x, 1.0, 1.0 / 0.3, 0.3, 0.5))


_SLIPS = tuple(
    hand_row(
        key=f"partial-slip-{name}",
        case=f"{what}, a contact pushed by {mobilised:g} µq",
        source=PARTIAL_SLIP + VALUE_COMPUTED,
        published=value,
        tool=tool,
        allowed=5.1e-5,
        absolute=True,
        why=VALUE_DIGIT,
    )
    for name, what, mobilised, value, tool in (
        (
            "stick",
            "Half-width that sticks over that of contact",
            0.25,
            0.8660,
            lambda: partial_slip.stick_half_width(1.0, 0.25),
        ),
        ("middle", "Traction in the middle over µ p0", 0.5, 0.2929, lambda: _traction(False)),
        ("border", "Traction where sticking ends over µ p0", 0.5, 0.7071, lambda: _traction(True)),
    )
)


ROWS: tuple[Row, ...] = (*_FRICTION, *_SLIDING, *_SLIPS)
