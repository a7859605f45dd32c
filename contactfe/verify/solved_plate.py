"""Plates held at their edges solved by finite elements, beside beam theory with shear.

The stress of the back under the load has a local correction on top of bending.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from contactfe.hand import approach, hertz, strip, strip_deflection, strip_friction
from contactfe.solve.reactions import Reaction
from contactfe.verify import cases
from contactfe.verify.cases import Solution
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import COMPUTED, EXACT_LAYER, MESH

STRIPS: tuple[tuple[cases.Edges, float], ...] = tuple(
    (kind, offset)
    for kind in ("simply supported", "clamped", "elastic supports")
    for offset in (0.0, 60.0, -120.0)
)
"""How the plate is held, and where it is struck, mm from its middle."""

_D = float(strip.bending_stiffness(cases.THICKNESS, 200e3, 0.3, "plane strain"))
_S = float(strip.shear_stiffness(cases.THICKNESS, 200e3, 0.3))
SHEAR_RATIO = strip.shear_ratio(cases.SPAN, _D, _S)
"""What shear adds to the bending of the strip, as contactfe.hand.strip takes it."""

_STRIP = "beam theory with shear, κ = 5/6 (contactfe.hand.strip): common practice; computed here"
_COUPLE = "beam theory, the couple derived here (contactfe.hand.strip_friction); computed here"
_BACK = "beam theory, and a local correction derived here (contactfe.hand.strip); computed here"


def beam_edges(kind: cases.Edges) -> strip.Edges:
    """The edges of the strip in bending; elastic supports settle it, and do not bend it."""
    return "clamped" if kind == "clamped" else "supported"


def _strip(kind: cases.Edges, offset: float) -> Iterator[Row]:
    span, t, q = cases.SPAN, cases.THICKNESS, cases.STRIP_LOAD
    edges, clamped = beam_edges(kind), kind == "clamped"
    row = partial(solved_row, solve=f"strip {kind} {offset:g}")
    where = "middle" if not offset else f"{abs(offset):g} mm {'right' if offset > 0.0 else 'left'}"
    key, of = f"fe-strip-{kind}-{where}".replace(" ", "-"), f"plate, {kind}, struck {where}"

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
    if kind == "elastic supports":
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
    if (kind, offset) == ("simply supported", 0.0):
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


FRICTION = 0.4
WITH_FRICTION: tuple[tuple[cases.Edges, float, float], ...] = (
    ("simply supported", 0.0, FRICTION),
    ("simply supported", -120.0, FRICTION),
    ("simply supported", -120.0, -FRICTION),
    ("clamped", -120.0, FRICTION),
    ("clamped", -120.0, -FRICTION),
)
"""How the plate is held, where it is struck, and the friction on it, its sign the sense."""


def _sheared_at(x: float, kind: cases.Edges, offset: float, friction: float) -> tuple[float, float]:
    """Moment, N mm/mm, and axial force, N/mm, at x mm from the middle, of the strip under friction.

    The load's moment and that of the couple, and the share of the friction force, tension positive.
    """
    span, q, edges, phi = cases.SPAN, cases.STRIP_LOAD, beam_edges(kind), SHEAR_RATIO
    couple = strip_friction.couple(q, abs(friction), cases.THICKNESS)
    start, before, after, end = strip_friction.couple_moments(
        float(np.copysign(couple, friction)), span, offset, edges, phi
    )
    half, beyond = span / 2, x > offset
    ends = ((offset, half), (after, end)) if beyond else ((-half, offset), (start, before))
    bent = strip.moment(x, q, span, offset, edges, phi) + np.interp(x, *ends)
    of_left = (half - offset) / span if kind == "clamped" else 0.5
    return float(bent), friction * q * (of_left - float(beyond))


def _with_friction(kind: cases.Edges, offset: float, friction: float) -> Iterator[Row]:
    q, t = cases.STRIP_LOAD, cases.THICKNESS
    clamped, sense = kind == "clamped", "right" if friction > 0.0 else "left"
    row = partial(solved_row, solve=f"strip {kind} {offset:g} {friction:g}")
    where = "middle" if not offset else f"{abs(offset):g} mm left"
    key = f"fe-strip-{kind}-{where}-dragged-{sense}".replace(" ", "-")
    of = f"plate, {kind}, struck {where}, with friction of {abs(friction):g} to the {sense}"
    # Towards the farther edge, away from the load.
    place = offset + 100.0
    moment, thrust = _sheared_at(place, kind, offset, friction)
    start, from_left = _sheared_at(-cases.SPAN / 2, kind, offset, friction)
    before, _ = _sheared_at(offset, kind, offset, friction)
    clamp = "the clamp holds means over the face"

    def found() -> Solution:
        return cases.held_plate(kind, offset, friction)

    def stress(depth: float) -> float:
        x, _, along = cases.back_of_plate(found(), offset, depth)
        return float(np.interp(place, x, along))

    def edge(side: str) -> Reaction:
        return {r.place: r for r in found().state.patch.reactions}[f"{side} edge"]

    for face, side, depth in (("back", 1.0, t), ("impacted face", -1.0, 0.0)):
        yield row(
            key=f"{key}-{face.replace(' ', '-')}",
            case=f"Stress of the {face} 100 mm beside the load, {of}",
            source=_COUPLE,
            published=side * 6 * moment / t**2 + thrust / t,
            tool=partial(stress, depth),
            allowed=(1.5e-2 if clamped else 1e-3) * 6 * before / t**2,
            absolute=True,
            why=f"{clamp}; 1.4 % measured" if clamped else f"{MESH}; 0.04 % measured",
            unit="MPa",
        )
    yield row(
        key=f"{key}-reaction",
        case=f"Reaction of the left edge, {of}",
        source=_COUPLE,
        published=(before - start) / (cases.SPAN / 2 + offset),
        tool=lambda: edge("left").across,
        allowed=(4e-3 if clamped else 5e-4) * q,
        absolute=True,
        why=clamp if clamped else "the patch is 0.1 mm off",
        unit="N/mm",
    )
    yield row(
        key=f"{key}-thrust",
        case=f"Share of the left edge in the friction force, {of}",
        source=_COUPLE,
        published=-from_left,
        tool=lambda: edge("left").along,
        allowed=2.5e-2 * q if clamped else 1e-6 * q,
        absolute=True,
        why="the clamp stops the plate where the dent widens it: 2.2 % of q measured"
        if clamped
        else "equilibrium",
        unit="N/mm",
    )
    if clamped:
        yield row(
            key=f"{key}-moment-left",
            case=f"Moment of the left edge, the nearer one, {of}",
            source=_COUPLE,
            published=-start,
            tool=lambda: edge("left").moment,
            allowed=1.5e-2,
            why=f"{clamp}; 0.9 % measured",
            unit="N·mm/mm",
        )


ROWS: tuple[Row, ...] = (
    *(row for kind, offset in STRIPS for row in _strip(kind, offset)),
    *(row for of in WITH_FRICTION for row in _with_friction(*of)),
)
