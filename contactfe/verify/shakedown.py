"""The shakedown limit of a contact under repeated impact, beside Johnson's text and by Melan.

In plane strain where a row does not say otherwise. Where a source prints no value its formula was
evaluated apart from this package.
"""

from functools import partial

from contactfe.hand import shakedown
from contactfe.hand.check import State
from contactfe.verify.line_contact import BAR, E_STAR
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import JOHNSON, LAST_PRINTED, VALUE_COMPUTED, VALUE_DIGIT

_SHAKEDOWN_VALUES = (
    (0.1, 0.3, 3.56),
    (0.2, 0.3, 3.20),
    (0.3, 0.3, 2.90),
    (0.35, 0.5, 2.77),
)
"""Friction, ν, p0 over shear strength, where a place below the surface governs."""
_MELAN = (
    "Melan's theorem, residual stresses free at each depth, derived here; value found here by"
    " another search"
)


def _shakes_down(friction: float, poisson: float, state: State = "plane strain") -> float:
    """p0 over shear strength at the limit."""
    return 1.0 / shakedown.least_strength(friction, poisson, state)[0]


ROWS: tuple[Row, ...] = (
    hand_row(
        key="shakedown-rolling",
        case="p0 over shear strength at the shakedown limit without friction",
        source=JOHNSON.format("section 9.2"),
        published=4.00,
        tool=lambda: _shakes_down(0.0, 0.3),
        allowed=5e-3,
        absolute=True,
        why=LAST_PRINTED,
    ),
    *(
        hand_row(
            key=f"shakedown-{friction:g}",
            case=f"p0 over shear strength at the shakedown limit, friction {friction:g},"
            f" ν = {poisson:g}",
            source=JOHNSON.format("section 9.2") + "; field of McEwen and Smith and Liu searched"
            " here on a grid",
            published=value,
            tool=partial(_shakes_down, friction, poisson),
            allowed=5.1e-3,
            absolute=True,
            why=VALUE_DIGIT,
        )
        for friction, poisson, value in _SHAKEDOWN_VALUES
    ),
    hand_row(
        key="shakedown-surface-incompressible",
        case="p0 over shear strength at the shakedown limit, friction 0.5, ν = 0.5: 1/µ",
        source=JOHNSON.format("section 9.2"),
        published=2.0,
        tool=lambda: _shakes_down(0.5, 0.5),
        allowed=1e-9,
        why="rounding",
    ),
    *(
        hand_row(
            key=f"shakedown-surface-{friction:g}-{poisson:g}",
            case=f"p0 over shear strength at the shakedown limit after von Mises, friction"
            f" {friction:g}, ν = {poisson:g}",
            source=_MELAN,
            published=value,
            tool=partial(_shakes_down, friction, poisson),
            allowed=3e-4,
            why="places along the surface",
        )
        for friction, poisson, value in (
            (0.367, 0.3, 2.5054),
            (0.5, 0.3, 1.8819),
            (0.367, 0.2, 2.2872),
        )
    ),
    *(
        hand_row(
            key=f"shakedown-plane-stress-{friction:g}",
            case=f"p0 over shear strength at the shakedown limit after von Mises, friction"
            f" {friction:g}, plane stress",
            source="Melan's theorem, residual stress along the surface free at each depth, derived"
            " here; value found here by another search",
            published=value,
            tool=partial(_shakes_down, friction, 0.3, "plane stress"),
            allowed=3e-4,
            why="places along the surface",
        )
        for friction, value in ((0.0, 2.0), (0.2, 1.8570), (0.5, 1.3609))
    ),
    hand_row(
        key="shakedown-bar-load",
        case=f"Line load at the shakedown limit of 345 MPa without friction, {BAR}",
        source=JOHNSON.format("section 9.2 and eq. 6.6") + VALUE_COMPUTED,
        published=907.4,
        tool=lambda: float(
            shakedown.limit_line_load(345.0, 50.0, E_STAR, 0.0, 0.3, "plane strain")
        ),
        allowed=0.05,
        absolute=True,
        why=VALUE_DIGIT,
        unit="N/mm",
    ),
)
