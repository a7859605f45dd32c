"""The plate as a strip between its edges, on a Winkler bed and on a rigid base, beside handbooks.

Roark's and Hetényi's formulas, and the exact strip and layer by Fourier's series and transform.
Where a source prints no value its formula was evaluated apart from this package.
"""

from functools import partial

import numpy as np
from scipy.integrate import quad

from contactfe.hand import layer, strip, strip_deflection
from contactfe.verify.row import Row, field_row, hand_row
from contactfe.verify.sources import GIVEN_DIGIT

_ROARK = (
    "W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1 case {}: from memory,"
    " not seen; value computed here"
)
_SEEWALD = (
    "Seewald and von Kármán, in S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed.:"
    " 0.133 q over half the thickness, from memory, not seen"
)
_STRIP = "the exact elastic strip by a Fourier series, derived and computed here"
_LAYER = "the exact elastic layer by Fourier transform, derived here; integrated by the row"
_FLAMANT = (
    "K. L. Johnson, Contact Mechanics, 1985, eqs 4.46: formula from memory, not seen; value"
    " computed here"
)

_PLATE = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
_LOAD = (1000.0, 400.0)  # q, L of the plate: 1000 N/mm on a span of 400 mm, 50 mm thick
_OFF = 80.0  # 280 mm from one edge, 120 mm from the other
_HOUSE = "plate 400 x 50 mm, 1000 N/mm, 200 GPa, ν = 0.3"

_hand = partial(hand_row, why=GIVEN_DIGIT)


def _deflection(offset: float, edges: strip.Edges, stiffness: float = _PLATE) -> float:
    return float(strip_deflection.deflection(offset, *_LOAD, offset, edges, stiffness))


def _over_beam(slender: float) -> float:
    """Stress at the back under the load over that of the beam, span of so many thicknesses."""
    moment = strip.supported_moment(1.0, slender, 0.0)
    return float(strip.back_stress(moment, 1.0, 1.0) / strip.bending_stress(moment, 1.0))


def _layer_pressure() -> float:
    def transform(k: float) -> float:
        return float(2 * (np.sinh(k) + k * np.cosh(k)) / (np.sinh(2 * k) + 2 * k))

    return float(quad(transform, 1e-9, 60.0, limit=200)[0] / np.pi)


def _layer_stress() -> float:
    def transform(k: float) -> float:
        return float(2 * (k * np.cosh(k) - np.sinh(k)) / (np.sinh(2 * k) + 2 * k))

    return float(quad(transform, 1e-9, 60.0, limit=200)[0] / np.pi)


_STRIP_ROWS = (
    _hand(
        key="strip-supported-moment",
        case=f"moment under the load in the middle, edges free to turn: {_HOUSE}",
        source=_ROARK.format("1e, qL/4"),
        published=100000.0,
        tool=lambda: strip.supported_moment(*_LOAD, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-supported-stress",
        case=f"bending stress of that moment: {_HOUSE}",
        source="beam theory, 6M/t²; value computed here",
        published=240.0,
        tool=lambda: float(strip.bending_stress(100e3, 50.0)),
        allowed=1e-12,
        why="rounding",
        unit="MPa",
    ),
    _hand(
        key="strip-supported-deflection",
        case=f"deflection under the load in the middle, edges free to turn: {_HOUSE}",
        source=_ROARK.format("1e, qL³/(48D)"),
        published=0.5824,
        tool=lambda: _deflection(0.0, "supported"),
        allowed=5e-5,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-plane-stress-deflection",
        case="the same of a beam of 1 mm, plane stress",
        source=_ROARK.format("1e, qL³/(48EI)"),
        published=0.640,
        tool=lambda: _deflection(
            0.0, "supported", strip.bending_stiffness(50.0, 200e3, 0.3, "plane stress")
        ),
        allowed=5e-4,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-clamped-moment",
        case=f"moment under the load in the middle, clamped edges: {_HOUSE}",
        source=_ROARK.format("1d, qL/8"),
        published=50000.0,
        tool=lambda: strip.clamped_moment(*_LOAD, 0.0, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-deflection",
        case=f"deflection under the load in the middle, clamped edges: {_HOUSE}",
        source=_ROARK.format("1d, qL³/(192D)"),
        published=0.1456,
        tool=lambda: _deflection(0.0, "clamped"),
        allowed=5e-5,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-off-middle-deflection",
        case="deflection under a load at 280 and 120 mm from the edges, free to turn",
        source=_ROARK.format("1e, q a²b²/(3DL)"),
        published=0.41094,
        tool=lambda: _deflection(_OFF, "supported"),
        allowed=5e-6,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-off-middle-slope",
        case="slope under that load",
        source=_ROARK.format("1e, q ab(b − a)/(3DL)"),
        published=-1.9569e-3,
        tool=lambda: float(strip_deflection.slope(_OFF, *_LOAD, _OFF, "supported", _PLATE)),
        allowed=5e-8,
        absolute=True,
        unit="rad",
    ),
    _hand(
        key="strip-clamped-edge-moment",
        case="moment at the nearer of two clamped edges, load at 280 and 120 mm",
        source=_ROARK.format("1d, −q a²b/L²"),
        published=-58800.0,
        tool=lambda: strip.edge_moment(*_LOAD, _OFF, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-far-moment",
        case="moment at the farther edge",
        source=_ROARK.format("1d, −q ab²/L²"),
        published=-25200.0,
        tool=lambda: strip.reactions(*_LOAD, _OFF, "clamped")[2],
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-off-middle-deflection",
        case="deflection under that load, clamped edges",
        source=_ROARK.format("1d, q a³b³/(3DL³)"),
        published=0.086298,
        tool=lambda: _deflection(_OFF, "clamped"),
        allowed=5e-7,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-local-back-stress",
        case="stress at the back under a line load, less that of bending: 1000 N/mm on 50 mm",
        source=_SEEWALD,
        published=-5.32,
        tool=lambda: float(strip.back_stress(0.0, 1000.0, 50.0)),
        allowed=0.02,
        why="the classical series keeps 0.133 where the exact strip has 0.1307",
        unit="MPa",
    ),
    *(
        field_row(
            key=f"strip-exact-over-beam-{slender}",
            case=f"stress at the back over that of the beam, span of {slender} thicknesses",
            source=_STRIP,
            published=ratio,
            tool=partial(_over_beam, float(slender)),
            allowed=5.1e-5,
            why=GIVEN_DIGIT,
            absolute=True,
        )
        for slender, ratio in ((4, 0.9564), (6, 0.9710), (10, 0.9826), (20, 0.9913))
    ),
)


_BED_ROWS = (
    field_row(
        key="layer-base-pressure",
        case="layer on a smooth rigid base: peak pressure over line load over thickness",
        source=_LAYER,
        published=_layer_pressure,
        tool=lambda: layer.rigid_base_pressure(1.0, 1.0),
        allowed=1e-5,
        why="rounded coefficient",
    ),
    field_row(
        key="layer-base-stress",
        case="the same: stress along the base under the load over line load over thickness",
        source=_LAYER,
        published=_layer_stress,
        tool=lambda: layer.rigid_base_stress(1.0, 1.0),
        allowed=2e-5,
        why="rounded coefficient",
    ),
)


ROWS: tuple[Row, ...] = (*_STRIP_ROWS, *_BED_ROWS)
