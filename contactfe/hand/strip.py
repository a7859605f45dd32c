"""A bumper plate held along two edges as a strip in bending under the line load of the post.

x runs across the span from the middle of the plate, so its edges are at −L/2 and L/2 and the load
is at ``offset``, of either sign. Deflection w is positive away from the post, the way the load
pushes; bending moment M is positive where it stretches the back, the face away from the post. All
is for one millimetre along the post. How far the strip gives way is in :mod:`.strip_deflection`.

Supports of the edges. "supported": no deflection, free to turn. "clamped": neither deflects nor
turns. Both free to draw in, so the strip resists by bending alone. On line springs, free to turn,
it bends as "supported". With a finite ``shear_stiffness`` the strip yields in shear too
(Timoshenko's beam).

Functions of x or of the edges are for arrays; those that a reader would check by hand (the moment
under the load, the moment at a clamped edge) are formulas of their own.

Valid for a span of at least four thicknesses, and a load at least two thicknesses from an edge
(:func:`geometry_limits`). What the load does at its own place is not bending: :func:`back_stress`
corrects the stress opposite. The load is a line: a contact of some width bends the strip a little
less (:func:`patch_limits`).
"""

from typing import Annotated, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Limit, at_least, at_most, formula, shown
from contactfe.hand.quantities import (
    ANY,
    NOT_NEGATIVE,
    BendingStiffness,
    Length,
    LineLoad,
    LineLoads,
    MomentPerLength,
    MomentsPerLength,
    Number,
    Poisson,
    Stress,
    Stresses,
)

Edges = Literal["supported", "clamped"]
"""How both edges of a strip are held: free to turn, or not."""

LOCAL_BACK_STRESS = 0.26138
"""Part of q/t by which the stress at the back, under a line load q, stays below that of bending."""

SLENDEREST = 4.0
"""Least span, in thicknesses, of a plate that is taken as a strip in bending: common practice, no
source."""

ROARK = (
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
    check_load(0.0, span, offset)
    near = span / 2 - abs(offset)
    return (
        at_least("L/t", span / thickness, SLENDEREST),
        at_least("distance of the load from the nearer edge over t", near / thickness, 2.0),
    )


def patch_limits(half_width: float, thickness: float) -> tuple[Limit, ...]:
    """How narrow the contact is beside the thickness: a/t.

    ``half_width`` a and ``thickness`` t in mm. Spread as Hertz's pressure, the load bends the strip
    by 2qa/(3π) less; at the bound and a span of four thicknesses that is 2 % of qL/4 (derived
    here). Raises ValueError for a size that is not positive.
    """
    check.positive(half_width=half_width, thickness=thickness)
    return (at_most("a/t", half_width / thickness, 0.1),)


@formula(
    "bending stiffness of the plate",
    "D",
    note="in plane stress without (1 − ν²)",
    source="S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.,"
    " chapter 1: from memory, not seen",
)
def bending_stiffness(
    thickness: Length, young: Stress, poisson: Poisson, state: State
) -> BendingStiffness:
    """Bending stiffness, N mm²/mm; in plane strain that of a plate long along the post.

    >>> print(bending_stiffness(50.0, 200e3, 0.3, "plane strain") / 1e9)
    2.28938
    """
    poisson = shown("poisson", poisson if state == "plane strain" else 0.0)
    return young * thickness**3 / (12 * (1 - poisson**2))


@formula(
    "shear stiffness of the plate",
    "S",
    source="Timoshenko's beam; 5/6 by the energy of the parabolic shear stress, derived here",
)
def shear_stiffness(thickness: Length, young: Stress, poisson: Poisson) -> LineLoad:
    """Shear stiffness of the rectangle, in both plane states.

    The mean square of its parabolic shear stress is 6/5 of the square of the mean.

    >>> print(shear_stiffness(50.0, 200e3, 0.3) / 1e6)
    3.20513
    """
    return 5 / 6 * young / (2 * (1 + poisson)) * thickness


def shear_ratio(span: float, bending_stiffness: float, shear_stiffness: float) -> float:
    """Ratio Φ = 12D/(SL²): the stiffness in bending beside that in shear; 0 for S without bound.

    ``span`` L in mm, ``bending_stiffness`` D in N mm²/mm, ``shear_stiffness`` S in N/mm. Raises
    ValueError for one that is not positive. Source: Timoshenko's beam.

    >>> print(shear_ratio(400.0, 2.28938e9, 3.20513e6))
    0.05357
    """
    check.positive(span=span, bending_stiffness=bending_stiffness)
    if shear_stiffness != np.inf:
        check.positive(shear_stiffness=shear_stiffness)
    return 12 * bending_stiffness / (shear_stiffness * span**2)


def reactions(
    line_load: float, span: float, offset: float, edges: Edges, shear_ratio: float = 0.0
) -> tuple[float, float, float, float]:
    """Reactions (N/mm) of the edges at −L/2 and L/2, then the moments M there (N mm/mm).

    ``line_load`` q in N/mm, ``span`` L and ``offset`` in mm. The reactions push towards the post;
    clamped edges have negative moments, supported ones none. ``shear_ratio`` Φ is that of
    :func:`shear_ratio`, 0 without shear; it matters only to clamped edges under a load off the
    middle. Raises ValueError for a negative load or ratio, a span that is not
    positive, an offset not between the edges or an unknown support.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1, cases 1d and
    1e — from memory, not seen; with shear derived here, from no turn and no deflection between the
    clamped edges.

    >>> print(*reactions(1000.0, 400.0, 100.0, "supported"))
    250.0 750.0 0.0 0.0
    >>> print(*reactions(1000.0, 400.0, 100.0, "clamped"))
    156.25 843.75 -18750.0 -56250.0
    """
    check_load(line_load, span, offset)
    check.not_negative(shear_ratio=shear_ratio)
    check.one_of("edges", edges, get_args(Edges))
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
    s, past = stations(x, span, offset)
    force, _, start, _ = reactions(line_load, span, offset, edges, shear_ratio)
    return start + force * s - line_load * past


Offset = Annotated[Length, ANY]
"""Of the load from the middle of the plate, of either sign."""

ShearRatio = Annotated[Number, NOT_NEGATIVE, "Φ"]


def from_edges(span: float, offset: float) -> tuple[float, float]:
    """Distances of the load from the farther edge and the nearer one, shown as a and b."""
    near = span / 2 - abs(offset)
    return shown("far", span - near, "a", "length"), shown("near", near, "b", "length")


FROM_EDGES = "a and b are the distances of the load from the farther and the nearer edge"
SHEAR_RATIO = "Φ = 12·D/(S·L²); without shear Φ = 0"


@formula(
    "bending moment under the load, edges free to turn",
    "M",
    note=FROM_EDGES,
    source=ROARK.format("case 1e"),
)
def supported_moment(line_load: LineLoad, span: Length, offset: Offset) -> MomentPerLength:
    """Bending moment under the load between supported edges: it stretches the back.

    It is statics and holds for any strip; what :func:`bending_stress` makes of it needs
    :func:`geometry_limits`. Raises ValueError, as all of these, for an offset beyond the edges.

    >>> print(supported_moment(1000.0, 400.0, 0.0))
    100000.0
    """
    check_load(line_load, span, offset)
    far, near = from_edges(span, offset)
    return line_load * far * near / span


@formula(
    "bending moment under the load, clamped edges",
    "M",
    note=f"{FROM_EDGES}; {SHEAR_RATIO} and M = 2·q·a²·b²/L³",
    source=ROARK.format("case 1d") + "; with shear derived here",
)
def clamped_moment(
    line_load: LineLoad, span: Length, offset: Offset, shear_ratio: ShearRatio
) -> MomentPerLength:
    """Bending moment under the load between clamped edges: it stretches the back.

    Shear matters off the middle only: it brings M towards half that of supported edges.

    >>> print(clamped_moment(1000.0, 400.0, 0.0, 0.0))
    50000.0
    """
    check_load(line_load, span, offset)
    far, near = from_edges(span, offset)
    share = (2 * far * near / span**2 + shear_ratio / 2) / (1 + shear_ratio)
    return line_load * far * near / span * share


@formula(
    "bending moment at the nearer clamped edge",
    "Me",
    note=f"{FROM_EDGES}; {SHEAR_RATIO} and Me = −q·a²·b/L²",
    source=ROARK.format("case 1d") + "; with shear derived here",
)
def edge_moment(
    line_load: LineLoad, span: Length, offset: Offset, shear_ratio: ShearRatio
) -> MomentPerLength:
    """Bending moment at the clamped edge nearer to the load: negative, it stretches the face.

    >>> print(edge_moment(1000.0, 400.0, 100.0, 0.0))
    -56250.0
    """
    check_load(line_load, span, offset)
    far, near = from_edges(span, offset)
    return -line_load * far * near / span * ((far / span + shear_ratio / 2) / (1 + shear_ratio))


@formula("bending stress at the back", "σx", source="beam theory")
def bending_stress(moment: MomentsPerLength, thickness: Length) -> Stresses:
    """Bending stress at the back, tension positive.

    The impacted face has the opposite stress, to which the contact adds its own. In plane strain
    the stress along the post is ν times as large (:func:`.stress.out_of_plane`).

    >>> print(bending_stress(100e3, 50.0))
    240.0
    """
    return 6 * moment / thickness**2


@formula(
    "stress at the back under the load",
    "σx",
    source="the exact field of an infinite elastic strip, derived here; the classical value is"
    " 0.266: Seewald and von Kármán, in Timoshenko and Goodier, Theory of Elasticity, 3rd ed.: from"
    " memory, not seen",
)
def back_stress(moment: MomentsPerLength, line_load: LineLoads, thickness: Length) -> Stresses:
    """Stress at the back right under the load, by the moment there; tension positive.

    A line load spreads through the thickness before it bends the strip, so the back is stretched a
    little less than a beam: by (q/(πt)) ∫ (2k sinh k/(sinh² k − k²) − 6/k²) dk, k from 0 to ∞. The
    same in plane strain and plane stress. From a span of two thicknesses on it holds to 0.1 % of
    6M/t².

    >>> print(back_stress(100e3, 1000.0, 50.0))
    234.77
    """
    return 6 * moment / thickness**2 - LOCAL_BACK_STRESS * line_load / thickness


def stations(x: ArrayLike, span: float, offset: float) -> tuple[Array, Array]:
    """Distance from the edge −L/2, and from the load for what lies past it, else 0."""
    check_load(0.0, span, offset)
    s = np.asarray(x, dtype=float) + span / 2
    if not np.all((s >= 0) & (s <= span)):
        raise ValueError(
            f"x = {x!r} is not allowed: it must lie on the strip, within ±{span / 2!r}"
        )
    return s, np.clip(s - (span / 2 + offset), 0.0, None)


def check_load(line_load: float, span: float, offset: float) -> None:
    """Raise ValueError for a negative load, a span that is not positive or a load off the strip."""
    check.not_negative(line_load=line_load)
    check.positive(span=span)
    if not -span / 2 < offset < span / 2:
        raise ValueError(
            f"offset = {offset!r} is not allowed: the load must lie between the edges at "
            f"±{span / 2!r}"
        )
