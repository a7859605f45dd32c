"""Plates held at their edges solved by finite elements, beside beam theory with shear.

The stress of the back under the load has a local correction on top of bending.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from contactfe.hand import approach, hertz, strip, strip_deflection
from contactfe.solve.reactions import Reaction
from contactfe.verify import cases
from contactfe.verify.cases import Solution
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import COMPUTED, EXACT_LAYER, MESH

STRIPS: tuple[tuple[cases.Edges, float], ...] = tuple(
    (kind, offset)
    for kind in ("two edges", "clamped edges", "springs")
    for offset in (0.0, 60.0, -120.0)
)
"""How the plate is held, and where it is struck, mm from its middle."""

_D = float(strip.bending_stiffness(cases.THICKNESS, 200e3, 0.3, "plane strain"))
_S = float(strip.shear_stiffness(cases.THICKNESS, 200e3, 0.3))
SHEAR_RATIO = strip.shear_ratio(cases.SPAN, _D, _S)
"""What shear adds to the bending of the strip, as contactfe.hand.strip takes it."""

_STRIP = "beam theory with shear, κ = 5/6 (contactfe.hand.strip): common practice; computed here"
_BACK = "beam theory, and a local correction derived here (contactfe.hand.strip); computed here"


def beam_edges(kind: cases.Edges) -> strip.Edges:
    """The edges of the strip in bending; springs settle it, and do not bend it."""
    return "clamped" if kind == "clamped edges" else "supported"


def _strip(kind: cases.Edges, offset: float) -> Iterator[Row]:
    span, t, q = cases.SPAN, cases.THICKNESS, cases.STRIP_LOAD
    edges, clamped = beam_edges(kind), kind == "clamped edges"
    row = partial(solved_row, solve=f"strip {kind} {offset:g}")
    where = "middle" if not offset else f"{abs(offset):g} mm {'right' if offset > 0.0 else 'left'}"
    key, of = f"fe-strip-{kind}-{where}".replace(" ", "-"), f"plate on {kind}, struck {where}"

    def found() -> Solution:
        return cases.held_plate(kind, offset)

    def edge(side: str) -> Reaction:
        return {r.place: r for r in found().state.patch.reactions}[f"{side} edge"]

    def under() -> float:
        x, _, stress = cases.back_of_plate(found(), offset)
        return float(stress[np.argmin(np.abs(x - offset))])

    moment = float(strip.moment(offset, q, span, offset, edges, SHEAR_RATIO))
    yield row(
        key=f"{key}-back",
        case=f"Stress of the back under the load, {of}",
        source=_BACK,
        published=float(strip.back_stress(moment, q, t)),
        tool=under,
        allowed=9e-3 if clamped else 5e-4,
        why="the clamp holds means over the face" if clamped else f"{MESH}; 0.014 % measured",
        unit="MPa",
    )
    # Away from the load, where the dent of the contact is not felt, towards the farther edge.
    place = offset + (100.0 if offset <= 0.0 else -100.0)
    exact = float(strip_deflection.deflection(place, q, span, offset, edges, _D, _S))
    if kind == "springs":
        exact += float(strip_deflection.settlement(place, q, span, offset, cases.SPRING))

    def deflection() -> float:
        x, w, _ = cases.back_of_plate(found(), offset)
        return float(np.interp(place, x, w))

    yield row(
        key=f"{key}-deflection",
        case=f"Deflection 100 mm beside the load, {of}",
        source=_STRIP,
        published=exact,
        tool=deflection,
        allowed=1.2e-2,
        why="beam theory at L/t = 9.6; 0.9 % measured",
        unit="mm",
    )
    if (kind, offset) == ("two edges", 0.0):
        a = float(hertz.half_width(q, cases.RADIUS, cases.E_STAR))
        yield row(
            key=f"{key}-approach",
            case=f"Approach of the back under the load to the contact, {of}",
            source=EXACT_LAYER + COMPUTED,
            published=float(approach.strip(q, t, a, 200e3, 0.3, "plane strain")),
            tool=lambda: cases.come_together(found().plate, -t, 0.0),
            allowed=2e-3,
            why="elements of twice the size; 0.08 % measured",
            unit="mm",
        )
    left, _, start, end = strip.reactions(q, span, offset, edges, SHEAR_RATIO)
    if offset:
        yield row(
            key=f"{key}-reaction",
            case=f"Reaction of the left edge, {of}",
            source=_STRIP,
            published=float(left),
            tool=lambda: edge("left").across,
            allowed=(4e-3 if clamped else 5e-4) * q,
            absolute=True,
            why="the clamp holds means over the face" if clamped else "the patch is 0.1 mm off",
            unit="N/mm",
        )
    if clamped:
        # A moment that is negative in the strip turns its left edge counter-clockwise.
        for side, value in (("left", -float(start)), ("right", float(end))):
            yield row(
                key=f"{key}-moment-{side}",
                case=f"Moment of the {side} edge, {of}",
                source=_STRIP,
                published=value,
                tool=lambda side=side: edge(side).moment,
                allowed=1.5e-2 * max(abs(start), abs(end)),
                absolute=True,
                why="the clamp holds means over the face; 0.9 % measured",
                unit="N·mm/mm",
            )


ROWS: tuple[Row, ...] = tuple(row for kind, offset in STRIPS for row in _strip(kind, offset))
