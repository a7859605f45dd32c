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


def from_edges(**given: Any) -> dict[str, Given]:
    """The distances of the load from the edges, which the printed forms are written in."""
    near = given["span"] / 2 - abs(given["offset"])
    return {
        "near": Given("b", near, "length"),
        "far": Given("a", given["span"] - near, "length"),
    }


FROM_EDGES = "a and b are the distances of the load from the farther and the nearer edge"
SHEAR_RATIO = "Φ = 12·D/(S·L²); without shear Φ = 0"


@formula(
    name="bending moment under the load, edges free to turn",
    symbol="M",
    form="{line_load}·{far}·{near}/{span}",
    dimension="moment per length",
    parts=from_edges,
    note=FROM_EDGES,
    source=ROARK.format("case 1e"),
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
    parts=from_edges,
    note=f"{FROM_EDGES}; {SHEAR_RATIO} and M = 2·q·a²·b²/L³",
    source=ROARK.format("case 1d") + "; with shear derived here",
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
    parts=from_edges,
    note=f"{FROM_EDGES}; {SHEAR_RATIO} and Me = −q·a²·b/L²",
    source=ROARK.format("case 1d") + "; with shear derived here",
)
def edge_moment(line_load: float, span: float, offset: float, shear_ratio: float) -> float:
    """Bending moment, N mm/mm, at the clamped edge nearer to the load: −qa²b/L² without shear.

    The greater of the two edge moments; negative, so it stretches the impacted face. −qL/8 for a
    load in the middle. Arguments and errors as in :func:`clamped_moment`, whose source holds here
    too.

    >>> print(edge_moment(1000.0, 400.0, 100.0, 0.0))
    -56250.0
    """
    return min(reactions(line_load, span, offset, "clamped", shear_ratio)[2:])


@formula(
    name="bending stress at the back",
    symbol="σx",
    form="6·{moment}/{thickness}²",
    dimension="stress",
    source="beam theory",
)
def bending_stress(moment: ArrayLike, thickness: float) -> Array:
    """Bending stress σx, MPa, at the back: 6M/t², tension positive.

    ``moment`` M in N mm/mm, of any shape, which the result has; ``thickness`` t in mm. The
    impacted face has the opposite stress, to which the contact adds its own. In plane strain the
    stress along the post is ν times as large (:func:`.stress.out_of_plane`). Raises ValueError for
    a thickness that is not positive.

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
