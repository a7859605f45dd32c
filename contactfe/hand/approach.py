"""How far two bodies in line contact come together, and how stiff the contact is.

In plane elasticity the displacement of a half-space under a line load grows without end with depth,
as its logarithm. So an approach means nothing without its datum, the point whose movement towards
the contact is meant, and depends on how the body is held. Each formula states both:

- :func:`solid`, the middle of a round, pressed from its far side or held by beam shear;
- :func:`layer`, the base of a plate that lies on a smooth rigid base;
- :func:`strip`, the back of a plate that is held at its edges, right under the load;
- :func:`half_space`, a point at a depth of a body without end.

All take the half-width a of the contact, that of :func:`.hertz.half_width` for the pair of bodies;
each body then enters by its own modulus and Poisson's ratio, so unlike materials are covered where
there is no friction. E' and ν' are the plane ones: E/(1 − ν²) and ν/(1 − ν) in plane strain, E and
ν in plane stress. An approach is positive where the bodies come nearer.

The bending of a plate and the flattening of a tube as a ring are not in it; they come on top.
"""

from math import log
from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Given, Limit, at_least, at_most, formula
from contactfe.hand.hertz import LARGEST_PATCH
from contactfe.hand.stress import plane_modulus, plane_poisson

PlateHeldBy = Literal["rigid base", "edges"]
"""What a plate under the contact lies on: a smooth rigid base, or its edges alone."""

LEAST_DEPTH = 5.0
"""Depth in half-widths from which ln(2d/a) stands for the whole integral of strain below a Hertz
pressure: 0.8 % low there for ν = 0.5, 0.6 % for ν = 0.3; measured against the integral of the
stresses of :func:`.hertz.axis_stress`."""

LAYER = 1.68294
"""πE'δ/q less 2 ln(t/a), of a layer on a smooth rigid base; the integral in :func:`layer`."""

WIDEST_ON_A_LAYER = 0.2
"""Half-width over the thickness of a layer up to which 2 ln(t/a) + 1.68294 stands for the whole
integral: 0.2 % low there, measured against the integral. A strip is two layers of half its
thickness, so its bound is half of it."""

LEAST_REACH = 1.0
"""Distance of the load from the plate's edge, in thicknesses, down to which a plate is as good as
endless: there its approach is 0.7 % more on a rigid base, 0.03 % more on edges free to turn and
1.4 % less between clamped ones (solved by finite elements for t = 160 a)."""

JOHNSON = (
    "K. L. Johnson, Contact Mechanics, 1985, section 5.6: from memory, not seen; derived anew here"
)
SOLID_SOURCE = f"diametral: {JOHNSON}; beam shear: the exact field of a solid round, derived here"
LAYER_SOURCE = "the exact field of an infinite elastic layer, by Fourier transform, derived here"
PLANE = "E' = E/(1 − ν²) and ν' = ν/(1 − ν) in plane strain, E' = E and ν' = ν in plane stress"
SOLID_CONSTANT = (
    "diametral C = 2·ln(2) − 1; beam shear C = −ν' − 3/4 − s + ν'·(5/4 + T − s) with"
    " c = 1 + ν' − 2·(1 − ν)/(1 + ν), s = −c/48 − (5 + 4·ν)/(8·(1 + ν)) and"
    " T = (1 + ν')/8 − c/6 − (3 + 2·ν)/(2·(1 + ν))"
)


def of_one(**given: Any) -> dict[str, Given]:
    """The plane constants of a body, which its ``young``, ``poisson`` and ``state`` determine."""
    body = given["young"], given["poisson"], given["state"]
    return {
        "E_plane": Given("E'", plane_modulus(*body), "stress"),
        "nu_plane": Given("ν'", plane_poisson(*body[1:])),
    }


def _of_a_solid(**given: Any) -> dict[str, Given]:
    constant = solid_constant(given["poisson"], given["held_by"], given["state"])
    return {**of_one(**given), "constant": Given("C", constant)}


def small_on_one(_: object, **given: Any) -> list[Limit]:
    """That a patch of this ``half_width`` is small beside the ``radius`` of the round."""
    return [at_most("a/R", np.divide(given["half_width"], given["radius"]), LARGEST_PATCH)]


def _deep(_: object, **given: Any) -> list[Limit]:
    return [at_least("d/a", np.divide(given["depth"], given["half_width"]), LEAST_DEPTH)]


def narrow(held_by: PlateHeldBy, **given: Any) -> Limit:
    """That a patch of this ``half_width`` is narrow beside the ``thickness`` of the plate."""
    bound = WIDEST_ON_A_LAYER if held_by == "rigid base" else WIDEST_ON_A_LAYER / 2
    return at_most("a/t", np.divide(given["half_width"], given["thickness"]), bound)


def reach_limit(thickness: float, edge_distance: float) -> Limit:
    """How far a plate of that ``thickness``, mm, reaches beyond the load, see :data:`LEAST_REACH`.

    ``edge_distance`` in mm is that of the load from the nearer edge. Raises ValueError for a size
    that is not positive.
    """
    check.positive(thickness=thickness, edge_distance=edge_distance)
    what = "distance of the load from the nearer edge over t"
    return at_least(what, edge_distance / thickness, LEAST_REACH)


def solid_constant(poisson: float, held_by: HeldBy, state: State) -> float:
    """C of 2 ln(2R/a) + C, the approach of a round's middle to its contact times πE'/q."""
    check.holding(held_by)
    n = plane_poisson(poisson, state)
    if held_by == "diametral":
        return 2 * log(2.0) - 1
    # What is left of the field along the radius r = uR when that of a line load on a half-space is
    # taken off, times πR/q: (1 + u)/2 + (cubic in u) in σr, (1 + 3u)/2 + (another) in σθ. The two
    # cubics are those of thick_ring for a bore of 0; s is the integral of the one, T of their sum.
    c = 1 + n - 2 * (1 - poisson) / (1 + poisson)
    s = -c / 48 - (5 + 4 * poisson) / (8 * (1 + poisson))
    T = (1 + n) / 8 - c / 6 - (3 + 2 * poisson) / (2 * (1 + poisson))
    return -n - 3 / 4 - s + n * (5 / 4 + T - s)


def plate_constant(held_by: PlateHeldBy) -> float:
    """C of 2 ln(t/a) + C, the approach of a plate's back to the contact times πE'/q."""
    check.one_of("plate_held_by", held_by, get_args(PlateHeldBy))
    return LAYER if held_by == "rigid base" else LAYER - 2 * log(2.0)


def _approach(
    line_load: ArrayLike, size: ArrayLike, half_width: ArrayLike, constant: float, modulus: float
) -> Array:
    """q/(πE') (2 ln(size/a) + C), mm."""
    check.not_negative(line_load=line_load)
    check.positive(half_width=half_width)
    approach: Array = np.divide(line_load, np.pi * modulus) * (
        2 * np.log(np.divide(size, half_width)) + constant
    )
    return approach


@formula(
    name="approach of a solid round's middle to its contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(2·{radius}/{half_width}) + {constant})",
    dimension="length",
    limits=small_on_one,
    parts=_of_a_solid,
    note=f"{SOLID_CONSTANT}; {PLANE}",
    source=SOLID_SOURCE,
)
def solid(
    line_load: ArrayLike,
    radius: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> Array:
    """Approach, mm, of the middle of a solid round to the middle of its contact.

    δ = q/(πE') (2 ln(2R/a) + C). Datum: the middle of the round. Diametral, an equal line load
    presses from the other side and C = 2 ln 2 − 1; under beam shear C depends on ν: −7/48 for
    ν = 0 and, in plane strain, −0.3227 for 0.3 and −7/12 for 0.5. ``line_load`` q in N/mm,
    ``radius`` R of this round and ``half_width`` a in mm, of any shapes that broadcast; ``young`` E
    in MPa and ``poisson`` ν of this round. Raises ValueError for a negative load, a length or
    modulus that is not positive, ν outside [0, 0.5], an unknown state or support. Valid for
    a/R up to about 0.1, where it is 1.1 % low or less (measured against the exact field of a round
    with this pressure on its rim).

    Source: diametral, K. L. Johnson, Contact Mechanics, 1985, section 5.6 — from memory, not seen;
    derived anew here: the integral of strain along the radius under Hertz pressure, the opposite
    line load and the even tension q/(πR) of a disc between them. The terms in ν cancel. Beam shear
    derived here: the same integral of the field of :func:`.thick_ring.stress`, where they do not.

    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "diametral", "plane strain"))
    0.014690
    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "beam shear", "plane strain"))
    0.013663
    """
    check.positive(radius=radius)
    constant = solid_constant(poisson, held_by, state)
    modulus = plane_modulus(young, poisson, state)
    return _approach(line_load, np.multiply(2.0, radius), half_width, constant, modulus)


@formula(
    name="approach of a plate's rigid base to the contact",
    symbol="δ",
    form=f"{{line_load}}/(π·{{E_plane}})·(2·ln({{thickness}}/{{half_width}}) + {LAYER})",
    dimension="length",
    limits=lambda _, **given: [narrow("rigid base", **given)],
    parts=of_one,
    note=PLANE,
    source=LAYER_SOURCE,
)
def layer(
    line_load: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of the base of a plate on a rigid base to the middle of the contact above it.

    δ = q/(πE') (2 ln(t/a) + 1.68294), whatever ν. Datum: the smooth rigid base that the plate lies
    on. ``line_load`` q in N/mm, ``thickness`` t and ``half_width`` a in mm, of any shapes that
    broadcast; ``young`` E in MPa and ``poisson`` ν of the plate. Raises ValueError for a negative
    load, a length or modulus that is not positive, ν outside [0, 0.5] or an unknown state. Valid
    for a/t up to 0.2 (:data:`WIDEST_ON_A_LAYER`) and away from the edges (:func:`reach_limit`).

    Source: the exact field of an infinite elastic layer (derived here), by Fourier transform:
    (2q/(πE')) ∫ g 2J1(ka/t)/(ka/t) dk/k, k from 0 to ∞, with g = (cosh 2k − 1)/(sinh 2k + 2k), for
    a much less than t.

    >>> print(layer(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.014560
    """
    check.positive(thickness=thickness)
    modulus = plane_modulus(young, poisson, state)
    return _approach(line_load, thickness, half_width, LAYER, modulus)


@formula(
    name="approach of a plate's back to the contact, held at its edges",
    symbol="δ",
    form=f"{{line_load}}/(π·{{E_plane}})·(2·ln({{thickness}}/(2·{{half_width}})) + {LAYER})",
    dimension="length",
    limits=lambda _, **given: [narrow("edges", **given)],
    parts=of_one,
    note=PLANE,
    source=LAYER_SOURCE,
)
def strip(
    line_load: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of the back of a plate held at its edges to the middle of the contact.

    δ = q/(πE') (2 ln(t/a) + 1.68294 − 2 ln 2), whatever ν. Datum: the point of the back right under
    the load; how far the back itself goes down is the bending of the plate
    (:mod:`.strip_deflection`). Arguments and errors as in :func:`layer`. Valid for a/t up to 0.1
    and away from the edges (:func:`reach_limit`).

    Source: derived here. Half the load on the impacted face and half on the back, both towards the
    middle, squeeze the plate as two layers of half the thickness under half the load each; the
    other halves, both the same way, bend it and leave its thickness under the load as it was.

    >>> print(strip(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.012552
    """
    check.positive(thickness=thickness)
    constant, modulus = plate_constant("edges"), plane_modulus(young, poisson, state)
    return _approach(line_load, thickness, half_width, constant, modulus)


@formula(
    name="approach of a point in a half-space to the contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(2·{depth}/{half_width}) − {nu_plane})",
    dimension="length",
    limits=_deep,
    parts=of_one,
    note=PLANE,
    source=JOHNSON,
)
def half_space(
    line_load: ArrayLike,
    depth: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of a point below the contact in a half-space to the middle of the contact.

    δ = q/(πE') (2 ln(2d/a) − ν'). Datum: the point on the load line at the ``depth`` d, mm. With
    the thickness of a plate for d it is 7 % less than :func:`layer` and 8 % more than :func:`strip`
    (t = 66 a, ν = 0.3), as neither is without end. ``line_load`` q in N/mm, ``half_width`` a
    in mm, of any shapes that broadcast; ``young`` E in MPa and ``poisson`` ν of the body. Raises
    ValueError for a negative load, a length or modulus that is not positive, ν outside [0, 0.5] or
    an unknown state. Valid for d/a of 5 or more (:data:`LEAST_DEPTH`).

    Source: K. L. Johnson, Contact Mechanics, 1985, section 5.6 — from memory, not seen; derived
    anew here: the integral of strain down the axis under Hertz pressure, for d much above a.

    >>> print(half_space(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.013509
    """
    check.positive(depth=depth)
    modulus = plane_modulus(young, poisson, state)
    constant = -plane_poisson(poisson, state)
    return _approach(line_load, np.multiply(2.0, depth), half_width, constant, modulus)
