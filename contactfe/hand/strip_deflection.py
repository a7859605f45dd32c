"""How far a plate held along two edges gives way under the post: deflection, slope and settlement.

The strip, its axes and the supports of its edges are those of :mod:`.strip`. On line springs it is
the strip as "supported", and the movement of :func:`settlement` added. Functions of x are for
arrays; what a reader would check by hand, the deflection under the load, is a formula of its own.

Valid as there, and for small slopes. The dent of the contact comes in addition. An edge that cannot
draw in adds a membrane pull, left out here, once w reaches about half the thickness
(:func:`movement_limits`).
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, strip
from contactfe.hand.check import Array
from contactfe.hand.formula import Given, Limit, at_most, formula


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
    name="deflection under the load, edges free to turn",
    symbol="w",
    form=(
        "{line_load}·{far}²·{near}²/(3·{bending_stiffness}·{span})"
        " + {line_load}·{far}·{near}/({shear_stiffness}·{span})"
    ),
    dimension="length",
    parts=strip.from_edges,
    note=strip.FROM_EDGES,
    source=strip.ROARK.format("case 1e") + "; the part of shear derived here",
)
def supported_deflection(
    line_load: float, span: float, offset: float, bending_stiffness: float, shear_stiffness: float
) -> float:
    """Deflection w, mm, under the load between supported edges: qa²b²/(3DL) + qab/(SL).

    In the middle qL³/(48D) + qL/(4S). Arguments and errors as in :func:`deflection`, with shear.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1e — from
    memory, not seen; the part of shear derived here.

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(supported_deflection(1000.0, 400.0, 0.0, D, strip.shear_stiffness(50.0, 200e3, 0.3)))
    0.6136
    """
    check.positive(shear_stiffness=shear_stiffness)
    return float(
        deflection(offset, line_load, span, offset, "supported", bending_stiffness, shear_stiffness)
    )


def _from_clamps(**given: Any) -> dict[str, Given]:
    ratio = strip.shear_ratio(given["span"], given["bending_stiffness"], given["shear_stiffness"])
    return {**strip.from_edges(**given), "shear_ratio": Given("Φ", ratio)}


@formula(
    name="deflection under the load, clamped edges",
    symbol="w",
    form=(
        "{line_load}·{far}²·{near}²/(6·{bending_stiffness}·{span})"
        "·(2·{far}·{near}/{span}² + {shear_ratio}/2)/(1 + {shear_ratio})"
        " + {line_load}·{far}·{near}/({shear_stiffness}·{span})"
    ),
    dimension="length",
    parts=_from_clamps,
    note=f"{strip.FROM_EDGES}; {strip.SHEAR_RATIO} and w = q·a³·b³/(3·D·L³)",
    source=strip.ROARK.format("case 1d") + "; with shear derived here",
)
def clamped_deflection(
    line_load: float, span: float, offset: float, bending_stiffness: float, shear_stiffness: float
) -> float:
    """Deflection w, mm, under the load between clamped edges: qa³b³/(3DL³) and shear.

    In the middle qL³/(192D) + qL/(4S). Arguments and errors as in :func:`deflection`, with shear.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1d — from
    memory, not seen; with shear derived here: the strip on supports, bent back by the edge moments.

    >>> D = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(clamped_deflection(1000.0, 400.0, 0.0, D, strip.shear_stiffness(50.0, 200e3, 0.3)))
    0.1768
    """
    check.positive(shear_stiffness=shear_stiffness)
    return float(
        deflection(offset, line_load, span, offset, "clamped", bending_stiffness, shear_stiffness)
    )


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
    name="movement of the plate on its springs, under the load",
    symbol="ws",
    form="{line_load}/(2·{spring}) + 2·{line_load}·{offset}²/({spring}·{span}²)",
    dimension="length",
    source="statics, derived here",
)
def settlement_under_load(line_load: float, span: float, offset: float, spring: float) -> float:
    """Movement, mm, under the load, of a strip that moves as a rigid body on springs at its edges.

    q/(2k) in the middle. Arguments, errors and source as in :func:`settlement`.

    >>> print(settlement_under_load(1000.0, 400.0, 100.0, 5000.0))
    0.125
    """
    return float(settlement(offset, line_load, span, offset, spring))


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
