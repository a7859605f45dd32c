"""A bumper plate held along two edges as a strip in bending under the line load of the post.

x runs across the span from the middle of the plate, so its edges are at −L/2 and L/2 and the load
is at ``offset``, of either sign. Deflection w is positive away from the post, the way the load
pushes; bending moment M is positive where it stretches the back, the face away from the post. All
is for one millimetre along the post.

Four ways to hold the edges. "supported": no deflection, free to turn. "clamped": neither deflects
nor turns. Both free to draw in, so the strip carries by bending alone. On line springs, free to
turn: the strip as "supported", and the movement of :func:`settlement` added. With a finite
``shear_stiffness`` the strip yields in shear too (Timoshenko's beam).

Functions of x or of the edges are for arrays; those that a reader would check by hand (the moment
and the deflection under the load, the moment at a clamped edge) are formulas of their own.

Valid for small slopes, a span of at least four thicknesses, and a load at least two thicknesses
from an edge (:func:`geometry_limits`). What the load does at its own place is not bending: the
dent of the contact comes in addition, and :func:`back_stress` corrects the stress opposite. An edge
that cannot draw in adds a membrane pull, left out here, once w reaches about half the thickness
(:func:`movement_limits`). The load is a line: a contact of some width bends the strip a little less
(:func:`patch_limits`).
"""

from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Given, Limit, at_least, at_most, formula

Edges = Literal["supported", "clamped"]
"""How both edges of a strip are held: free to turn, or not."""

LOCAL_BACK_STRESS = 0.26138
"""Part of q/t by which the stress at the back, under a line load q, stays below that of bending."""

SLENDEREST = 4.0
"""Least span, in thicknesses, of a plate that is taken as a strip in bending: common practice, no
source."""

_ROARK = (
    "W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, {}: from memory, not"
    " seen"
)


def geometry_limits(thickness: float, span: float, offset: float) -> tuple[Limit, ...]:
    """How slender the strip is and how far the load stays from the edges, in thicknesses.

    ``thickness`` t, ``span`` L and ``offset`` in mm. To be added, by :meth:`.Worked.also`, to
    figures of this module, whose own arguments do not tell the thickness. Raises ValueError for a
    thickness or span that is not positive, or an offset not between the edges.

    Source of the bounds: common practice, no source; at a span of four thicknesses the stress of
    :func:`back_stress` holds to 0.1 % (measured against the exact strip in the tests).
    """
    check.positive(thickness=thickness)
    _load(0.0, span, offset)
    near = span / 2 - abs(offset)
    return (
        at_least("L/t", span / thickness, SLENDEREST),
        at_least("distance of the load from the nearer edge over t", near / thickness, 2.0),
    )


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


def patch_limits(half_width: float, thickness: float) -> tuple[Limit, ...]:
    """How narrow the contact is beside the thickness: a/t.

    ``half_width`` a and ``thickness`` t in mm. Spread as Hertz's pressure, the load bends the strip
    by 2qa/(3π) less; at the bound and a span of four thicknesses that is 2 % of qL/4 (derived
    here). Raises ValueError for a size that is not positive.
    """
    check.positive(half_width=half_width, thickness=thickness)
    return (at_most("a/t", half_width / thickness, 0.1),)


def _without_poisson(**given: Any) -> dict[str, Given]:
    return {"poisson": Given("ν", given["poisson"] if given["state"] == "plane strain" else 0.0)}


@formula(
    name="bending stiffness of the plate",
    symbol="D",
    form="{young}·{thickness}³/(12·(1 − {poisson}²))",
    dimension="bending stiffness",
    parts=_without_poisson,
    note="in plane stress without (1 − ν²)",
    source=(
        "S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., chapter 1:"
        " from memory, not seen"
    ),
)
def bending_stiffness(thickness: float, young: float, poisson: float, state: State) -> float:
    """Bending stiffness D, N mm²/mm: E't³/12.

    ``thickness`` t in mm, ``young`` E in MPa. E' = E/(1 − ν²) in plane strain, a plate long along
    the post; E in plane stress. Raises ValueError for a thickness or modulus that is not positive,
    ν outside [0, 0.5] or an unknown state.

    Source: S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., chapter 1
    — from memory, not seen.

    >>> print(bending_stiffness(50.0, 200e3, 0.3, "plane strain") / 1e9)
    2.28938
    """
    check.positive(thickness=thickness, young=young)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    square = poisson**2 if state == "plane strain" else 0.0
    return young / (1 - square) * thickness**3 / 12


@formula(
    name="shear stiffness of the plate",
    symbol="S",
    form="5/6·{young}/(2·(1 + {poisson}))·{thickness}",
    dimension="line load",
    source="Timoshenko's beam; 5/6 by the energy of the parabolic shear stress, derived here",
)
def shear_stiffness(thickness: float, young: float, poisson: float) -> float:
    """Shear stiffness S, N/mm, of the rectangle: κGt with κ = 5/6 and G = E/(2(1 + ν)).

    ``thickness`` t in mm, ``young`` E in MPa; the same in both plane states. Raises ValueError for
    a thickness or modulus that is not positive, or ν outside [0, 0.5].

    Source: Timoshenko's beam; κ by the energy of the parabolic shear stress of a rectangle, whose
    mean square is 6/5 of the square of its mean (derived here).

    >>> print(shear_stiffness(50.0, 200e3, 0.3) / 1e6)
    3.20513
    """
    check.positive(thickness=thickness, young=young)
    check.poisson_ratio(poisson=poisson)
    return 5 / 6 * young / (2 * (1 + poisson)) * thickness


def reactions(
    line_load: float, span: float, offset: float, edges: Edges, shear_ratio: float = 0.0
) -> tuple[float, float, float, float]:
    """Reactions (N/mm) of the edges at −L/2 and L/2, then the moments M there (N mm/mm).

    ``line_load`` q in N/mm, ``span`` L and ``offset`` in mm. The reactions push towards the post;
    clamped edges have negative moments, supported ones none. ``shear_ratio`` is 12D/(SL²), the
    stiffness in bending beside that in shear, 0 without shear; it matters only to clamped edges
    under a load off the middle. Raises ValueError for a negative load or ratio, a span that is not
    positive, an offset not between the edges or an unknown way of holding.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, cases 1d and
    1e — from memory, not seen; with shear derived here, from no turn and no deflection between the
    clamped edges.

    >>> print(*reactions(1000.0, 400.0, 100.0, "supported"))
    250.0 750.0 0.0 0.0
    >>> print(*reactions(1000.0, 400.0, 100.0, "clamped"))
    156.25 843.75 -18750.0 -56250.0
    """
    _load(line_load, span, offset)
    check.not_negative(shear_ratio=shear_ratio)
    if edges not in get_args(Edges):
        raise ValueError(
            f"edges = {edges!r} is not allowed: it must be one of "
            + ", ".join(map(repr, get_args(Edges)))
        )
    left, right = span / 2 + offset, span / 2 - offset
    near, far = line_load * right / span, line_load * left / span
    if edges == "supported":
        return near, far, 0.0, 0.0
    clamped = right * (span + 2 * left) / span**2, left * (span + 2 * right) / span**2
    force = near * (clamped[0] + shear_ratio) / (1 + shear_ratio)
    other = far * (clamped[1] + shear_ratio) / (1 + shear_ratio)
    return force, other, (near * right - force * span) / 2, (far * left - other * span) / 2


def moment(
    x: ArrayLike,
    line_load: float,
    span: float,
    offset: float,
    edges: Edges,
    shear_ratio: float = 0.0,
) -> Array:
    """Bending moment M, N mm/mm, at x mm from the middle: greatest under the load, x = offset.

    There it is q l r/L between supported edges and 2q l² r²/L³ between clamped ones (without
    shear), l and r being the distances of the load from the edges. ``x`` of any shape, which the
    result has; the rest as in :func:`reactions`. Raises ValueError as it does, and for x beyond
    the edges.

    Source: statics.

    >>> print(moment([0.0, 200.0], 1000.0, 400.0, 0.0, "supported"))
    [100000. 0.]
    >>> print(moment([0.0, 200.0], 1000.0, 400.0, 0.0, "clamped"))
    [ 50000. -50000.]
    """
    s, past = _stations(x, span, offset)
    force, _, start, _ = reactions(line_load, span, offset, edges, shear_ratio)
    return start + force * s - line_load * past


def _from_edges(**given: Any) -> dict[str, Given]:
    """The distances of the load from the edges, which the printed forms are written in."""
    near = given["span"] / 2 - abs(given["offset"])
    return {
        "near": Given("b", near, "length"),
        "far": Given("a", given["span"] - near, "length"),
    }


_FROM_EDGES = "a and b are the distances of the load from the farther and the nearer edge"
_SHEAR_RATIO = "Φ = 12·D/(S·L²); without shear Φ = 0"


@formula(
    name="bending moment under the load, edges free to turn",
    symbol="M",
    form="{line_load}·{far}·{near}/{span}",
    dimension="moment per length",
    parts=_from_edges,
    note=_FROM_EDGES,
    source=_ROARK.format("case 1e"),
)
def supported_moment(line_load: float, span: float, offset: float) -> float:
    """Bending moment M, N mm/mm, under the load between supported edges: qab/L.

    qL/4 in the middle; a and b are the distances of the load from the edges. Arguments and errors
    as in :func:`reactions`. Positive: it stretches the back. It is statics and holds for any
    strip; what :func:`bending_stress` makes of it needs :func:`geometry_limits`.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1e — from
    memory, not seen.

    >>> print(supported_moment(1000.0, 400.0, 0.0))
    100000.0
    """
    return float(moment(offset, line_load, span, offset, "supported"))


@formula(
    name="bending moment under the load, clamped edges",
    symbol="M",
    form=(
        "{line_load}·{far}·{near}/{span}"
        "·(2·{far}·{near}/{span}² + {shear_ratio}/2)/(1 + {shear_ratio})"
    ),
    dimension="moment per length",
    given={"shear_ratio": ("Φ", None)},
    parts=_from_edges,
    note=f"{_FROM_EDGES}; {_SHEAR_RATIO} and M = 2·q·a²·b²/L³",
    source=_ROARK.format("case 1d") + "; with shear derived here",
)
def clamped_moment(line_load: float, span: float, offset: float, shear_ratio: float) -> float:
    """Bending moment M, N mm/mm, under the load between clamped edges: 2qa²b²/L³ without shear.

    qL/8 in the middle. ``shear_ratio`` is Φ = 12D/(SL²), 0 without shear, which matters off the
    middle only: it brings M towards half that of supported edges. Arguments and errors as in
    :func:`reactions`. Positive: it stretches the back.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1d — from
    memory, not seen; with shear derived here from :func:`reactions`.

    >>> print(clamped_moment(1000.0, 400.0, 0.0, 0.0))
    50000.0
    """
    return float(moment(offset, line_load, span, offset, "clamped", shear_ratio))


@formula(
    name="bending moment at the nearer clamped edge",
    symbol="Me",
    form=("−{line_load}·{far}·{near}/{span}·({far}/{span} + {shear_ratio}/2)/(1 + {shear_ratio})"),
    dimension="moment per length",
    given={"shear_ratio": ("Φ", None)},
    parts=_from_edges,
    note=f"{_FROM_EDGES}; {_SHEAR_RATIO} and Me = −q·a²·b/L²",
    source=_ROARK.format("case 1d") + "; with shear derived here",
)
def edge_moment(line_load: float, span: float, offset: float, shear_ratio: float) -> float:
    """Bending moment, N mm/mm, at the clamped edge nearer to the load: −qa²b/L² without shear.

    The greater of the two edge moments; negative, so it stretches the struck face. −qL/8 for a load
    in the middle. Arguments and errors as in :func:`clamped_moment`, whose source holds here too.

    >>> print(edge_moment(1000.0, 400.0, 100.0, 0.0))
    -56250.0
    """
    return min(reactions(line_load, span, offset, "clamped", shear_ratio)[2:])


def deflection(
    x: ArrayLike,
    line_load: float,
    span: float,
    offset: float,
    edges: Edges,
    bending_stiffness: float,
    shear_stiffness: float = np.inf,
) -> Array:
    """Deflection w, mm, away from the post, at x mm from the middle of the plate.

    ``line_load`` q in N/mm, ``span`` L and ``offset`` in mm, ``bending_stiffness`` D in N mm²/mm.
    Shear is left out unless ``shear_stiffness`` S, N/mm, is given: in the middle of supported
    edges it adds qL/(4S) to qL³/(48D). ``x`` of any shape, which the result has. Raises ValueError
    for a negative load, a span or stiffness that is not positive, an offset not between the edges,
    x beyond them or an unknown way of holding.

    Source: w' = φ + V/S, Dφ' = −M and M' = V, integrated from the edge (derived here).

    >>> D = bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(deflection(0.0, 1000.0, 400.0, 0.0, "supported", D))
    0.5824
    >>> print(deflection(0.0, 1000.0, 400.0, 0.0, "clamped", D))
    0.1456
    """
    s, past = _stations(x, span, offset)
    ratio = _shear_ratio(span, bending_stiffness, shear_stiffness)
    force, _, start, _ = reactions(line_load, span, offset, edges, ratio)
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
    parts=_from_edges,
    note=_FROM_EDGES,
    source=_ROARK.format("case 1e") + "; the part of shear derived here",
)
def supported_deflection(
    line_load: float, span: float, offset: float, bending_stiffness: float, shear_stiffness: float
) -> float:
    """Deflection w, mm, under the load between supported edges: qa²b²/(3DL) + qab/(SL).

    In the middle qL³/(48D) + qL/(4S). Arguments and errors as in :func:`deflection`, with shear.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1e — from
    memory, not seen; the part of shear derived here.

    >>> D = bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(supported_deflection(1000.0, 400.0, 0.0, D, shear_stiffness(50.0, 200e3, 0.3)))
    0.6136
    """
    check.positive(shear_stiffness=shear_stiffness)
    return float(
        deflection(offset, line_load, span, offset, "supported", bending_stiffness, shear_stiffness)
    )


def _from_clamps(**given: Any) -> dict[str, Given]:
    ratio = _shear_ratio(given["span"], given["bending_stiffness"], given["shear_stiffness"])
    return {**_from_edges(**given), "shear_ratio": Given("Φ", ratio)}


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
    note=f"{_FROM_EDGES}; {_SHEAR_RATIO} and w = q·a³·b³/(3·D·L³)",
    source=_ROARK.format("case 1d") + "; with shear derived here",
)
def clamped_deflection(
    line_load: float, span: float, offset: float, bending_stiffness: float, shear_stiffness: float
) -> float:
    """Deflection w, mm, under the load between clamped edges: qa³b³/(3DL³) and shear.

    In the middle qL³/(192D) + qL/(4S). Arguments and errors as in :func:`deflection`, with shear.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, case 1d — from
    memory, not seen; with shear derived here: the strip on supports, bent back by the edge moments.

    >>> D = bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(clamped_deflection(1000.0, 400.0, 0.0, D, shear_stiffness(50.0, 200e3, 0.3)))
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
    edges: Edges,
    bending_stiffness: float,
    shear_stiffness: float = np.inf,
) -> Array:
    """Slope dw/dx at x mm from the middle of the plate, radians.

    Under a load at a positive offset it is negative: the plate falls away from the post towards
    its middle. A round of radius R then touches at about −R·slope from its lowest point, nearer
    the edge. Shear turns the two sides of the load unlike; the slope at the load itself is their
    mean. Arguments, shapes and errors as in :func:`deflection`.

    Source: the derivative of :func:`deflection`.

    >>> D = bending_stiffness(50.0, 200e3, 0.3, "plane strain")
    >>> print(1e3 * slope(50.0, 1000.0, 400.0, 50.0, "supported", D))
    -1.365
    """
    s, past = _stations(x, span, offset)
    ratio = _shear_ratio(span, bending_stiffness, shear_stiffness)
    force, _, start, _ = reactions(line_load, span, offset, edges, ratio)
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
    s, _ = _stations(x, span, offset)
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
    _load(line_load, span, offset)
    check.positive(spring=spring)
    return 2 * line_load * offset / (spring * span**2)


@formula(
    name="bending stress at the back",
    symbol="σx",
    form="6·{moment}/{thickness}²",
    dimension="stress",
    source="beam theory",
)
def bending_stress(moment: ArrayLike, thickness: float) -> Array:
    """Bending stress σx, MPa, at the back: 6M/t², tension positive.

    ``moment`` M in N mm/mm, of any shape, which the result has; ``thickness`` t in mm. The struck
    face has the opposite stress, to which the contact adds its own. In plane strain the stress
    along the post is ν times as large (:func:`.stress.out_of_plane`). Raises ValueError for a
    thickness that is not positive.

    Source: beam theory.

    >>> print(bending_stress(100e3, 50.0))
    240.0
    """
    check.positive(thickness=thickness)
    return 6 * np.asarray(moment, dtype=float) / thickness**2


@formula(
    name="stress at the back under the load",
    symbol="σx",
    form=f"6·{{moment}}/{{thickness}}² − {LOCAL_BACK_STRESS}·{{line_load}}/{{thickness}}",
    dimension="stress",
    source=(
        "the exact field of an infinite elastic strip, derived here; the classical value is 0.266:"
        " Seewald and von Kármán, in Timoshenko and Goodier, Theory of Elasticity, 3rd ed.: from"
        " memory, not seen"
    ),
)
def back_stress(moment: ArrayLike, line_load: ArrayLike, thickness: float) -> Array:
    """Stress σx, MPa, at the back right under the load: 6M/t² − 0.26138 q/t.

    ``moment`` M under the load in N mm/mm and ``line_load`` q in N/mm, of any shapes that
    broadcast; ``thickness`` t in mm. Tension positive. A line load spreads through the thickness
    before it bends the strip, so the back is stretched a little less than a beam. The same in
    plane strain and plane stress. From a span of two thicknesses on it holds to 0.1 % of 6M/t².
    Raises ValueError for a negative load or a thickness that is not positive.

    Source: the exact field of an infinite elastic strip less that of the beam (derived here), by
    Fourier transform: (q/(πt)) ∫ (2k sinh k/(sinh² k − k²) − 6/k²) dk, k from 0 to ∞. The
    classical value is 0.266 q/t (0.133 q over half the thickness): Seewald and von Kármán, in
    Timoshenko and Goodier, Theory of Elasticity, 3rd ed., on the bending of a beam by a
    concentrated load — from memory, not seen.

    >>> print(back_stress(100e3, 1000.0, 50.0))
    234.77
    """
    check.not_negative(line_load=line_load)
    bending = bending_stress(moment, thickness)
    return bending - LOCAL_BACK_STRESS * np.divide(line_load, thickness, dtype=float)


def _shear_ratio(span: float, bending_stiffness: float, shear_stiffness: float) -> float:
    check.positive(span=span, bending_stiffness=bending_stiffness)
    if shear_stiffness != np.inf:
        check.positive(shear_stiffness=shear_stiffness)
    return 12 * bending_stiffness / (shear_stiffness * span**2)


def _edge_turn(
    line_load: float, span: float, offset: float, edges: Edges, bending_stiffness: float
) -> float:
    """Turn φ of the section at the edge −L/2, radians."""
    if edges == "clamped":
        return 0.0
    right = span / 2 - offset
    return line_load * right * (span - right) * (span + right) / (6 * span * bending_stiffness)


def _stations(x: ArrayLike, span: float, offset: float) -> tuple[Array, Array]:
    """Distance from the edge −L/2, and from the load for what lies past it, else 0."""
    _load(0.0, span, offset)
    s = np.asarray(x, dtype=float) + span / 2
    if not np.all((s >= 0) & (s <= span)):
        raise ValueError(
            f"x = {x!r} is not allowed: it must lie on the strip, within ±{span / 2!r}"
        )
    return s, np.clip(s - (span / 2 + offset), 0.0, None)


def _load(line_load: float, span: float, offset: float) -> None:
    check.not_negative(line_load=line_load)
    check.positive(span=span)
    if not -span / 2 < offset < span / 2:
        raise ValueError(
            f"offset = {offset!r} is not allowed: the load must lie between the edges at "
            f"±{span / 2!r}"
        )
