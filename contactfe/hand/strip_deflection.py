"""How far a plate held along two edges gives way under the post: deflection, slope and settlement.

The strip, its axes and the supports of its edges are those of :mod:`.strip`. On line springs it is
the strip as "supported", and the movement of :func:`settlement` added. Functions of x are for
arrays; what a reader would check by hand, the deflection under the load, is a formula of its own.

Valid as there, and for small slopes. The dent of the contact comes in addition. An edge that cannot
draw in adds a membrane pull, left out here, once w reaches about half the thickness
(:func:`movement_limits`).
"""

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, strip
from contactfe.hand.check import Array
from contactfe.hand.formula import Limit, at_most, formula, shown
from contactfe.hand.quantities import POSITIVE, BendingStiffness, Length, LineLoad, LineStiffness

ShearStiffness = Annotated[LineLoad, POSITIVE]


def movement_limits(deflection: float, slope: float, thickness: float) -> tuple[Limit, ...]:
    """How far the strip gives way: w/t, above which an edge that cannot draw in pulls, and slope.

    ``deflection`` w and ``thickness`` t in mm, ``slope`` in radians, of either sign. Raises
    ValueError for a thickness that is not positive.

    Source of the bounds: common practice, no source.
    """
    check.positive(thickness=thickness)
    return (
        at_most("w/t", abs(deflection) / thickness, 0.5),
        at_most("slope", abs(slope), 0.05, "angle"),
    )


def deflection(
    x: ArrayLike,
    line_load: float,
    span: float,
    offset: float,
    edges: strip.Edges,
    bending_stiffness: float,
    shear_stiffness: float = np.inf,
) -> Array:
    """Deflection w, mm, away from the post, at x mm from the middle of the plate.

    ``line_load`` q in N/mm, ``span`` L and ``offset`` in mm, ``bending_stiffness`` D in N mm²/mm.
    Shear is left out unless ``shear_stiffness`` S, N/mm, is given: in the middle of supported
    edges it adds qL/(4S) to qL³/(48D). ``x`` of any shape, which the result has. Raises ValueError
    for a negative load, a span or stiffness that is not positive, an offset not between the edges,
    x beyond them or an unknown support.

    Source: w' = φ + V/S, Dφ' = −M and M' = V, integrated from the edge (derived here).

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(deflection(0.0, 1000.0, 400.0, 0.0, "supported", D))
    0.5824
    >>> print(deflection(0.0, 1000.0, 400.0, 0.0, "clamped", D))
    0.1456
    """
    s, past = strip.stations(x, span, offset)
    ratio = strip.shear_ratio(span, bending_stiffness, shear_stiffness)
    force, _, start, _ = strip.reactions(line_load, span, offset, edges, ratio)
    turn = _edge_turn(line_load, span, offset, edges, bending_stiffness)
    bent = start * s**2 / 2 + force * s**3 / 6 - line_load * past**3 / 6
    sheared = force * s - line_load * past
    return turn * s - bent / bending_stiffness + sheared / shear_stiffness


@formula(
    "deflection under the load, edges free to turn",
    "w",
    note=strip.FROM_EDGES,
    source=strip.ROARK.format("case 1e") + "; the part of shear derived here",
)
def supported_deflection(
    line_load: LineLoad,
    span: Length,
    offset: strip.Offset,
    bending_stiffness: BendingStiffness,
    shear_stiffness: ShearStiffness,
) -> Length:
    """Deflection under the load between supported edges.

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(supported_deflection(1000.0, 400.0, 0.0, D, strip.shear_stiffness(50.0, 200e3, 0.3)))
    0.6136
    """
    strip.check_load(line_load, span, offset)
    far, near = strip.from_edges(span, offset)
    bent = line_load * far**2 * near**2 / (3 * bending_stiffness * span)
    return bent + line_load * far * near / (shear_stiffness * span)


@formula(
    "deflection under the load, clamped edges",
    "w",
    note=f"{strip.FROM_EDGES}; {strip.SHEAR_RATIO} and w = q·a³·b³/(3·D·L³)",
    source=strip.ROARK.format("case 1d") + "; with shear derived here",
)
def clamped_deflection(
    line_load: LineLoad,
    span: Length,
    offset: strip.Offset,
    bending_stiffness: BendingStiffness,
    shear_stiffness: ShearStiffness,
) -> Length:
    """Deflection under the load between clamped edges: the strip on supports, bent back by them.

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(clamped_deflection(1000.0, 400.0, 0.0, D, strip.shear_stiffness(50.0, 200e3, 0.3)))
    0.1768
    """
    strip.check_load(line_load, span, offset)
    far, near = strip.from_edges(span, offset)
    ratio = strip.shear_ratio(span, bending_stiffness, shear_stiffness)
    shear_ratio = shown("shear_ratio", ratio, "Φ")
    share = (2 * far * near / span**2 + shear_ratio / 2) / (1 + shear_ratio)
    bent = line_load * far**2 * near**2 / (6 * bending_stiffness * span) * share
    return bent + line_load * far * near / (shear_stiffness * span)


def slope(
    x: ArrayLike,
    line_load: float,
    span: float,
    offset: float,
    edges: strip.Edges,
    bending_stiffness: float,
    shear_stiffness: float = np.inf,
) -> Array:
    """Slope dw/dx at x mm from the middle of the plate, radians.

    Under a load at a positive offset it is negative: the plate falls away from the post towards
    its middle. A round of radius R then touches at about −R·slope from its lowest point, nearer
    the edge. Shear turns the two sides of the load unlike; the slope at the load itself is their
    mean. Arguments, shapes and errors as in :func:`deflection`.

    Source: the derivative of :func:`deflection`.

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(1e3 * slope(50.0, 1000.0, 400.0, 50.0, "supported", D))
    -1.365
    """
    s, past = strip.stations(x, span, offset)
    ratio = strip.shear_ratio(span, bending_stiffness, shear_stiffness)
    force, _, start, _ = strip.reactions(line_load, span, offset, edges, ratio)
    turn = _edge_turn(line_load, span, offset, edges, bending_stiffness)
    bent = start * s + force * s**2 / 2 - line_load * past**2 / 2
    shear = force - line_load * np.heaviside(s - (span / 2 + offset), 0.5)
    return turn - bent / bending_stiffness + shear / shear_stiffness


def settlement(x: ArrayLike, line_load: float, span: float, offset: float, spring: float) -> Array:
    """Deflection, mm, of a strip that moves as a rigid body on springs along its two edges.

    q/(2k) in the middle, and its slope is :func:`tilt`. Add it to the :func:`deflection` of
    "supported" edges. ``spring`` k, N/mm for each mm along the post at each edge (MPa); ``x`` of
    any shape, which the result has. Raises ValueError for a negative load, a span or spring that
    is not positive, an offset not between the edges or x beyond them.

    Source: statics (derived here): each edge gives way by its reaction over k.

    >>> print(settlement([-200.0, 0.0, 200.0], 1000.0, 400.0, 100.0, 5000.0))
    [0.05 0.1 0.15]
    """
    s, _ = strip.stations(x, span, offset)
    turn = tilt(line_load, span, offset, spring)
    return line_load / (2 * spring) + turn * (s - span / 2)


@formula(
    "movement of the plate on its springs, under the load", "ws", source="statics, derived here"
)
def settlement_under_load(
    line_load: LineLoad, span: Length, offset: strip.Offset, spring: LineStiffness
) -> Length:
    """Movement under the load of a strip that moves as a rigid body on springs at its edges.

    >>> print(settlement_under_load(1000.0, 400.0, 100.0, 5000.0))
    0.125
    """
    strip.check_load(line_load, span, offset)
    return line_load / (2 * spring) + 2 * line_load * offset**2 / (spring * span**2)


def tilt(line_load: float, span: float, offset: float, spring: float) -> float:
    """Slope, radians, of the rigid movement of :func:`settlement`: 2q·offset/(kL²).

    Positive for a positive offset: the plate gives way most at the edge nearer the load, which
    counters the slope of bending there. Arguments and errors as in :func:`settlement`, whose
    source holds here too.

    >>> print(1e3 * tilt(1000.0, 400.0, 100.0, 5000.0))
    0.25
    """
    strip.check_load(line_load, span, offset)
    check.positive(spring=spring)
    return 2 * line_load * offset / (spring * span**2)


def _edge_turn(
    line_load: float, span: float, offset: float, edges: strip.Edges, bending_stiffness: float
) -> float:
    """Turn φ of the section at the edge −L/2, radians."""
    if edges == "clamped":
        return 0.0
    right = span / 2 - offset
    return line_load * right * (span - right) * (span + right) / (6 * span * bending_stiffness)
