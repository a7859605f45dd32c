"""A bumper plate held along two edges as a strip in bending under the line load of the post.

x runs across the span from the middle of the plate, so its edges are at −L/2 and L/2 and the load
is at ``offset``, of either sign. Deflection w is positive away from the post, the way the load
pushes; bending moment M is positive where it stretches the back, the face away from the post. All
is for one millimetre along the post.

Four ways to hold the edges. "supported": no deflection, free to turn. "clamped": neither deflects
nor turns. Both free to draw in, so the strip carries by bending alone. On line springs, free to
turn: the strip as "supported", and the movement of :func:`settlement` added. With a finite
``shear_stiffness`` the strip yields in shear too (Timoshenko's beam).

Valid for small slopes, a span of at least four thicknesses, and a load at least two thicknesses
from an edge. What the load does at its own place is not bending: the dent of the contact comes in
addition, and :func:`back_stress` corrects the stress opposite. An edge that cannot draw in adds a
membrane pull, left out here, once w reaches about half the thickness.
"""

from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State

Edges = Literal["supported", "clamped"]
"""How both edges of a strip are held: free to turn, or not."""

LOCAL_BACK_STRESS = 0.26138
"""Part of q/t by which the stress at the back, under a line load q, stays below that of bending."""


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
