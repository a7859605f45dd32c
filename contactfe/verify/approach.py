"""How far bodies in line contact come together, and the stiffness of it.

Beside Johnson's text and integrals of exact fields; the formulas of handbooks stand beside them.
Where a source prints no value its formula was evaluated apart from this package.
"""

from contactfe.hand import approach, approach_pair, hertz
from contactfe.hand.check import HeldBy, State
from contactfe.verify.line_contact import BAR, E_STAR
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import (
    EXACT_LAYER,
    EXACT_ROUND,
    JOHNSON,
)

_STRAIN = "value computed here as the integral of strain between contact and datum"
_SECTION = JOHNSON.format("section 5.6")
_STEEL = (200e3, 0.3)


def _half_width(radius: float) -> float:
    """Half-width, mm, of a contact of this relative radius, steel at 1000 N/mm."""
    return float(hertz.half_width(1000.0, radius, E_STAR))


def _solid(held_by: HeldBy) -> float:
    a = _half_width(50.0)
    return float(approach.solid(1000.0, 50.0, a, *_STEEL, held_by, "plane strain"))


_FOURIER = "value computed here as the integral of Fourier's transform"
_BODIES = (50.0, 50.0, _half_width(50.0), *_STEEL, *_STEEL)
"""The post's radius and the plate's thickness, mm, the half-width, and both steels."""
_ON_A_BASE: tuple[HeldBy, approach.PlateHeldBy, State] = (
    "beam shear",
    "rigid base",
    "plane strain",
)
_ON_EDGES: tuple[HeldBy, approach.PlateHeldBy, State] = ("diametral", "edges", "plane strain")
"""How post and plate are held, and the plane state."""


ROWS: tuple[Row, ...] = (
    hand_row(
        key="approach-solid-opposed",
        case=f"Approach of the middle to the contact at 1000 N/mm, diametral, {BAR}",
        source=f"{_SECTION}; {_STRAIN}",
        published=0.0146897,
        tool=lambda: _solid("diametral"),
        allowed=1e-4,
        why="terms in (a/R)²",
        unit="mm",
    ),
    hand_row(
        key="approach-solid-beam-shear",
        case=f"Approach of the middle to the contact at 1000 N/mm, beam shear, {BAR}",
        source=f"{EXACT_ROUND}; {_STRAIN}",
        published=0.0136628,
        tool=lambda: _solid("beam shear"),
        allowed=1e-4,
        why="terms in (a/R)²",
        unit="mm",
    ),
    hand_row(
        key="approach-layer",
        case=f"Approach of the base of a plate of 50 mm to the contact at 1000 N/mm, {BAR}",
        source=f"{EXACT_LAYER}; {_FOURIER}",
        published=0.0145598,
        tool=lambda: float(
            approach.layer(1000.0, 50.0, _half_width(50.0), *_STEEL, "plane strain")
        ),
        allowed=1e-4,
        why="terms in (a/t)²",
        unit="mm",
    ),
    hand_row(
        key="approach-strip",
        case="Approach of the back of a plate of 50 mm on its edges to the contact at 1000 N/mm,"
        f" {BAR}",
        source=f"{EXACT_LAYER}; {_FOURIER}",
        published=0.0125523,
        tool=lambda: float(
            approach.strip(1000.0, 50.0, _half_width(50.0), *_STEEL, "plane strain")
        ),
        allowed=1e-4,
        why="terms in (a/t)²",
        unit="mm",
    ),
    hand_row(
        key="approach-tangent-stiffness",
        case="Tangent stiffness of a post, beam shear, on a plate of 50 mm on a rigid base"
        f" at 1000 N/mm, {BAR}",
        source=f"{EXACT_ROUND}; {EXACT_LAYER}; value computed here from integrals of strain",
        published=39485.1,
        tool=lambda: float(approach_pair.tangent_stiffness(*_BODIES, *_ON_A_BASE)),
        allowed=1e-4,
        why="terms in (a/R)² and (a/t)²",
        unit="N/mm/mm",
    ),
    hand_row(
        key="approach-tangent-stiffness-on-edges",
        case="Tangent stiffness of a post, diametral, and a plate of 50 mm on edges at 1000 N/mm,"
        f" {BAR}",
        source=f"{EXACT_ROUND}; {EXACT_LAYER}; value computed here from integrals of strain",
        published=41075.6,
        tool=lambda: float(approach_pair.tangent_stiffness(*_BODIES, *_ON_EDGES)),
        allowed=1e-4,
        why="terms in (a/R)² and (a/t)²",
        unit="N/mm/mm",
    ),
)
