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

PlateHeldBy = Literal["bedded", "edges"]
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

_JOHNSON = (
    "K. L. Johnson, Contact Mechanics, 1985, section 5.6: from memory, not seen; derived anew here"
)
_SOLID = f"opposed: {_JOHNSON}; beam shear: the exact field of a solid round, derived here"
_LAYER = "the exact field of an infinite elastic layer, by Fourier transform, derived here"
_PLANE = "E' = E/(1 − ν²) and ν' = ν/(1 − ν) in plane strain, E' = E and ν' = ν in plane stress"
_SOLID_CONSTANT = (
    "opposed C = 2·ln(2) − 1; beam shear C = −ν' − 3/4 − s + ν'·(5/4 + T − s) with"
    " c = 1 + ν' − 2·(1 − ν)/(1 + ν), s = −c/48 − (5 + 4·ν)/(8·(1 + ν)) and"
    " T = (1 + ν')/8 − c/6 − (3 + 2·ν)/(2·(1 + ν))"
)
_BOTH_CONSTANTS = (
    f"C1 of the post: {_SOLID_CONSTANT}, ν and ν' of the post; C2 of the plate: {LAYER} bedded,"
    f" {LAYER} − 2·ln(2) on its edges; {_PLANE}"
)


def _of_one(**given: Any) -> dict[str, Given]:
    body = given["young"], given["poisson"], given["state"]
    return {
        "E_plane": Given("E'", plane_modulus(*body), "stress"),
        "nu_plane": Given("ν'", plane_poisson(*body[1:])),
    }


def _of_a_solid(**given: Any) -> dict[str, Given]:
    constant = _solid_constant(given["poisson"], given["held_by"], given["state"])
    return {**_of_one(**given), "constant": Given("C", constant)}


def _moduli(**given: Any) -> dict[str, Given]:
    state = given["state"]
    moduli = [plane_modulus(given[f"young_{i}"], given[f"poisson_{i}"], state) for i in (1, 2)]
    return {
        "E_1": Given("E1'", moduli[0], "stress"),
        "E_2": Given("E2'", moduli[1], "stress"),
    }


def _of_post_and_plate(**given: Any) -> dict[str, Given]:
    post = _solid_constant(given["poisson_1"], given["post_held_by"], given["state"])
    return {
        **_moduli(**given),
        "constant_1": Given("C1", post),
        "constant_2": Given("C2", _plate_constant(given["plate_held_by"])),
    }


def small_on_one(_: object, **given: Any) -> list[Limit]:
    """That a patch of this ``half_width`` is small beside the ``radius`` of the round."""
    return [at_most("a/R", np.divide(given["half_width"], given["radius"]), LARGEST_PATCH)]


def small_on_two(_: object, **given: Any) -> list[Limit]:
    """The same beside the relative radius of two rounds, ``radius_1`` and ``radius_2``."""
    curvature = np.divide(1.0, given["radius_1"]) + np.divide(1.0, given["radius_2"])
    return [at_most("a/R", np.multiply(given["half_width"], curvature), LARGEST_PATCH)]


def _deep(_: object, **given: Any) -> list[Limit]:
    return [at_least("d/a", np.divide(given["depth"], given["half_width"]), LEAST_DEPTH)]


def _narrow(held_by: PlateHeldBy, **given: Any) -> Limit:
    bound = WIDEST_ON_A_LAYER if held_by == "bedded" else WIDEST_ON_A_LAYER / 2
    return at_most("a/t", np.divide(given["half_width"], given["thickness"]), bound)


def _small_and_narrow(_: object, **given: Any) -> list[Limit]:
    return [*small_on_one(_, **given), _narrow(given["plate_held_by"], **given)]


def reach_limit(thickness: float, edge_distance: float) -> Limit:
    """How far a plate of that ``thickness``, mm, reaches beyond the load, see :data:`LEAST_REACH`.

    ``edge_distance`` in mm is that of the load from the nearer edge. Raises ValueError for a size
    that is not positive.
    """
    check.positive(thickness=thickness, edge_distance=edge_distance)
    what = "distance of the load from the nearer edge over t"
    return at_least(what, edge_distance / thickness, LEAST_REACH)


def _solid_constant(poisson: float, held_by: HeldBy, state: State) -> float:
    """C of 2 ln(2R/a) + C, the approach of a round's middle to its contact times πE'/q."""
    check.holding(held_by)
    n = plane_poisson(poisson, state)
    if held_by == "opposed":
        return 2 * log(2.0) - 1
    # What is left of the field along the radius r = uR when that of a line load on a half-space is
    # taken off, times πR/q: (1 + u)/2 + (cubic in u) in σr, (1 + 3u)/2 + (another) in σθ. The two
    # cubics are those of thick_ring for a bore of 0; s is the integral of the one, T of their sum.
    c = 1 + n - 2 * (1 - poisson) / (1 + poisson)
    s = -c / 48 - (5 + 4 * poisson) / (8 * (1 + poisson))
    T = (1 + n) / 8 - c / 6 - (3 + 2 * poisson) / (2 * (1 + poisson))
    return -n - 3 / 4 - s + n * (5 / 4 + T - s)


def _plate_constant(held_by: PlateHeldBy) -> float:
    """C of 2 ln(t/a) + C, the approach of a plate's back to the contact times πE'/q."""
    check.one_of("plate_held_by", held_by, get_args(PlateHeldBy))
    return LAYER if held_by == "bedded" else LAYER - 2 * log(2.0)


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
    note=f"{_SOLID_CONSTANT}; {_PLANE}",
    source=_SOLID,
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

    δ = q/(πE') (2 ln(2R/a) + C). Datum: the middle of the round. Opposed, an equal line load
    presses from the other side and C = 2 ln 2 − 1; under beam shear C depends on ν: −7/48 for
    ν = 0 and, in plane strain, −0.3227 for 0.3 and −7/12 for 0.5. ``line_load`` q in N/mm,
    ``radius`` R of this round and ``half_width`` a in mm, of any shapes that broadcast; ``young`` E
    in MPa and ``poisson`` ν of this round. Raises ValueError for a negative load, a length or
    modulus that is not positive, ν outside [0, 0.5], an unknown state or way of holding. Valid for
    a/R up to about 0.1, where it is 1.1 % low or less (measured against the exact field of a round
    with this pressure on its rim).

    Source: opposed, K. L. Johnson, Contact Mechanics, 1985, section 5.6 — from memory, not seen;
    derived anew here: the integral of strain along the radius under Hertz pressure, the opposite
    line load and the even tension q/(πR) of a disc between them. The terms in ν cancel. Beam shear
    derived here: the same integral of the field of :func:`.thick_ring.stress`, where they do not.

    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "opposed", "plane strain"))
    0.014690
    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "beam shear", "plane strain"))
    0.013663
    """
    check.positive(radius=radius)
    constant = _solid_constant(poisson, held_by, state)
    modulus = plane_modulus(young, poisson, state)
    return _approach(line_load, np.multiply(2.0, radius), half_width, constant, modulus)


@formula(
    name="approach of a plate's rigid base to the contact",
    symbol="δ",
    form=f"{{line_load}}/(π·{{E_plane}})·(2·ln({{thickness}}/{{half_width}}) + {LAYER})",
    dimension="length",
    limits=lambda _, **given: [_narrow("bedded", **given)],
    parts=_of_one,
    note=_PLANE,
    source=_LAYER,
)
def layer(
    line_load: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of the base of a bedded plate to the middle of the contact above it.

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
    limits=lambda _, **given: [_narrow("edges", **given)],
    parts=_of_one,
    note=_PLANE,
    source=_LAYER,
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

    Source: derived here. Half the load on the struck face and half on the back, both towards the
    middle, squeeze the plate as two layers of half the thickness under half the load each; the
    other halves, both the same way, bend it and leave its thickness under the load as it was.

    >>> print(strip(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.012552
    """
    check.positive(thickness=thickness)
    constant, modulus = _plate_constant("edges"), plane_modulus(young, poisson, state)
    return _approach(line_load, thickness, half_width, constant, modulus)


@formula(
    name="approach of a point in a half-space to the contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(2·{depth}/{half_width}) − {nu_plane})",
    dimension="length",
    limits=_deep,
    parts=_of_one,
    note=_PLANE,
    source=_JOHNSON,
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


@formula(
    name="shortening of a solid round between two flats",
    symbol="ΔD",
    form="2·{line_load}/(π·{E_plane})·(2·ln(4·{radius}/{half_width}) − 1)",
    dimension="length",
    limits=small_on_one,
    parts=_of_one,
    note=_PLANE,
    source=_JOHNSON,
)
def between_flats(
    line_load: ArrayLike,
    radius: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Shortening, mm, of the diameter of a solid round pressed between two equal flats.

    ΔD = 2q/(πE') (2 ln(4R/a) − 1), twice :func:`solid` under opposed loads. Datum: the middles of
    the two contacts, one to the other; how far the flats give way is not in it. Arguments, errors,
    range and source as there.

    >>> print(between_flats(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.029379
    """
    one = solid.plain(line_load, radius, half_width, young, poisson, "opposed", state)
    shortening: Array = 2 * one
    return shortening


@formula(
    name="approach of the middles of two solid rounds",
    symbol="δ",
    form="{line_load}/π·((2·ln(4·{radius_1}/{half_width}) − 1)/{E_1}"
    " + (2·ln(4·{radius_2}/{half_width}) − 1)/{E_2})",
    dimension="length",
    limits=small_on_two,
    parts=_moduli,
    note=_PLANE,
    source=_JOHNSON,
)
def two_cylinders(
    line_load: ArrayLike,
    radius_1: ArrayLike,
    radius_2: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    state: State,
) -> Array:
    """Approach, mm, of the centres of two solid parallel rounds that touch along a line.

    The sum of :func:`solid` for the two. Datum: centre to centre, each round pressed from its
    far side by an equal line load. ``radius_1``, ``radius_2`` and ``half_width`` in mm,
    ``line_load`` q in N/mm, of any shapes that broadcast; Young's moduli in MPa. Errors and source
    as there. Valid for a/R up to about 0.1 with 1/R = 1/R1 + 1/R2.

    >>> print(two_cylinders(1e3, 50.0, 50.0, 0.538202, 200e3, 0.3, 200e3, 0.3, "plane strain"))
    0.031387
    """
    bodies = (
        (radius_1, half_width, young_1, poisson_1),
        (radius_2, half_width, young_2, poisson_2),
    )
    one, other = (solid.plain(line_load, *body, "opposed", state) for body in bodies)
    approach: Array = one + other
    return approach


@formula(
    name="approach of a solid post's middle and its plate",
    symbol="δ",
    form="{line_load}/π·((2·ln(2·{radius}/{half_width}) + {constant_1})/{E_1}"
    " + (2·ln({thickness}/{half_width}) + {constant_2})/{E_2})",
    dimension="length",
    limits=_small_and_narrow,
    parts=_of_post_and_plate,
    note=_BOTH_CONSTANTS,
    source=f"post, {_SOLID}; plate: {_LAYER}",
)
def post_on_plate(
    line_load: ArrayLike,
    radius: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    post_held_by: HeldBy,
    plate_held_by: PlateHeldBy,
    state: State,
) -> Array:
    """Approach, mm, of the middle of a solid post and its plate.

    The sum of :func:`solid` with the post's ``young_1`` and ``poisson_1``, and of :func:`layer`
    ("bedded") or :func:`strip` ("edges") with the plate's ``young_2`` and ``poisson_2``. Datum: the
    post's middle, and the plate's base or, between edges, its back right under the load. Other
    arguments, errors, range and source as there; ValueError as well for an unknown way of holding
    the plate.

    >>> steel = (200e3, 0.3, 200e3, 0.3)
    >>> held = ("beam shear", "bedded", "plane strain")
    >>> print(post_on_plate(1000.0, 50.0, 50.0, 0.761133, *steel, *held))
    0.028222
    """
    body = (young_1, poisson_1, post_held_by, state)
    post = solid.plain(line_load, radius, half_width, *body)
    check.positive(thickness=thickness)
    constant, modulus = _plate_constant(plate_held_by), plane_modulus(young_2, poisson_2, state)
    approach: Array = post + _approach(line_load, thickness, half_width, constant, modulus)
    return approach


@formula(
    name="secant stiffness of a solid post on its plate",
    symbol="ks",
    form="π/((2·ln(2·{radius}/{half_width}) + {constant_1})/{E_1}"
    " + (2·ln({thickness}/{half_width}) + {constant_2})/{E_2})",
    dimension="line stiffness",
    limits=_small_and_narrow,
    parts=_of_post_and_plate,
    note=_BOTH_CONSTANTS,
    source=f"post, {_SOLID}; plate: {_LAYER}",
)
def secant_stiffness(
    radius: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    post_held_by: HeldBy,
    plate_held_by: PlateHeldBy,
    state: State,
) -> Array:
    """Line load over approach q/δ, N/mm per mm, of a solid post on its plate.

    δ and its datum are those of :func:`post_on_plate`, as are arguments, errors, range and source.
    The load enters by the half-width that it makes.

    >>> steel = (200e3, 0.3, 200e3, 0.3)
    >>> held = ("beam shear", "bedded", "plane strain")
    >>> print(secant_stiffness(50.0, 50.0, 0.761133, *steel, *held))
    35433.0
    """
    return 1 / post_on_plate.plain(
        1.0, radius, thickness, half_width, young_1, poisson_1, young_2, poisson_2, post_held_by,
        plate_held_by, state,
    )  # fmt: skip


@formula(
    name="tangent stiffness of a solid post on its plate",
    symbol="kt",
    form="π/((2·ln(2·{radius}/{half_width}) + {constant_1} − 1)/{E_1}"
    " + (2·ln({thickness}/{half_width}) + {constant_2} − 1)/{E_2})",
    dimension="line stiffness",
    limits=_small_and_narrow,
    parts=_of_post_and_plate,
    note=_BOTH_CONSTANTS,
    source=f"post, {_SOLID}; plate: {_LAYER}; the slope of both derived here",
)
def tangent_stiffness(
    radius: ArrayLike,
    thickness: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    post_held_by: HeldBy,
    plate_held_by: PlateHeldBy,
    state: State,
) -> Array:
    """Slope dq/dδ, N/mm per mm, at the load that makes this half-width, of a post on its plate.

    δ and its datum are those of :func:`post_on_plate`, as are arguments, errors, range and source.
    As a grows with √q, each 2 ln(…/a) loses 1 (derived here). It exceeds the secant stiffness by a
    tenth or so: a line contact is much closer to linear than one of spheres.

    >>> steel = (200e3, 0.3, 200e3, 0.3)
    >>> held = ("beam shear", "bedded", "plane strain")
    >>> print(tangent_stiffness(50.0, 50.0, 0.761133, *steel, *held))
    39485.6
    """
    secant = secant_stiffness.plain(
        radius, thickness, half_width, young_1, poisson_1, young_2, poisson_2, post_held_by,
        plate_held_by, state,
    )  # fmt: skip
    lost = 1 / plane_modulus(young_1, poisson_1, state) + 1 / plane_modulus(
        young_2, poisson_2, state
    )
    slope: Array = 1 / (1 / secant - lost / np.pi)
    return slope
