"""How far two bodies in line contact come together, and how stiff a post on its plate is.

The sums of what :mod:`.approach` has of each body, with its datum for each; its remarks hold here.
"""

from typing import Any, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.approach import (
    JOHNSON,
    LAYER,
    LAYER_SOURCE,
    PLANE,
    SOLID_CONSTANT,
    SOLID_SOURCE,
    PlateHeldBy,
    layer,
    narrow,
    of_one,
    plate_constant,
    small_on_one,
    solid,
    solid_constant,
    strip,
)
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Given, Limit, at_most, formula
from contactfe.hand.hertz import LARGEST_PATCH
from contactfe.hand.stress import plane_modulus

_BOTH_CONSTANTS = (
    f"C1 of the post: {SOLID_CONSTANT}, ν and ν' of the post; C2 of the plate: {LAYER} on a rigid"
    f" base, {LAYER} − 2·ln(2) on its edges; {PLANE}"
)


def _moduli(**given: Any) -> dict[str, Given]:
    state = given["state"]
    moduli = [plane_modulus(given[f"young_{i}"], given[f"poisson_{i}"], state) for i in (1, 2)]
    return {
        "E_1": Given("E1'", moduli[0], "stress"),
        "E_2": Given("E2'", moduli[1], "stress"),
    }


def _of_post_and_plate(**given: Any) -> dict[str, Given]:
    post = solid_constant(given["poisson_1"], given["post_held_by"], given["state"])
    return {
        **_moduli(**given),
        "constant_1": Given("C1", post),
        "constant_2": Given("C2", plate_constant(given["plate_held_by"])),
    }


def small_on_two(_: object, **given: Any) -> list[Limit]:
    """The same beside the relative radius of two rounds, ``radius_1`` and ``radius_2``."""
    curvature = np.divide(1.0, given["radius_1"]) + np.divide(1.0, given["radius_2"])
    return [at_most("a/R", np.multiply(given["half_width"], curvature), LARGEST_PATCH)]


def _small_and_narrow(_: object, **given: Any) -> list[Limit]:
    return [*small_on_one(_, **given), narrow(given["plate_held_by"], **given)]


@formula(
    name="shortening of a solid round between two flats",
    symbol="ΔD",
    form="2·{line_load}/(π·{E_plane})·(2·ln(4·{radius}/{half_width}) − 1)",
    dimension="length",
    limits=small_on_one,
    parts=of_one,
    note=PLANE,
    source=JOHNSON,
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

    ΔD = 2q/(πE') (2 ln(4R/a) − 1), twice :func:`.approach.solid` under diametral loads. Datum: the
    middles of the two contacts, one to the other; how far the flats give way is not in it.
    Arguments, errors, range and source as there.

    >>> print(between_flats(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.029379
    """
    one = solid.plain(line_load, radius, half_width, young, poisson, "diametral", state)
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
    note=PLANE,
    source=JOHNSON,
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

    The sum of :func:`.approach.solid` for the two. Datum: centre to centre, each round pressed from
    its far side by an equal line load. ``radius_1``, ``radius_2`` and ``half_width`` in mm,
    ``line_load`` q in N/mm, of any shapes that broadcast; Young's moduli in MPa. Errors and source
    as there. Valid for a/R up to about 0.1 with 1/R = 1/R1 + 1/R2.

    >>> print(two_cylinders(1e3, 50.0, 50.0, 0.538202, 200e3, 0.3, 200e3, 0.3, "plane strain"))
    0.031387
    """
    bodies = (
        (radius_1, half_width, young_1, poisson_1),
        (radius_2, half_width, young_2, poisson_2),
    )
    one, other = (solid.plain(line_load, *body, "diametral", state) for body in bodies)
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
    source=f"post, {SOLID_SOURCE}; plate: {LAYER_SOURCE}",
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

    The sum of :func:`.approach.solid` with the post's ``young_1`` and ``poisson_1``, and of
    :func:`.approach.layer` ("rigid base") or :func:`.approach.strip` ("edges") with the plate's
    ``young_2`` and ``poisson_2``. Datum: the post's middle, and the plate's base or, between edges,
    its back right under the load. Other arguments, errors, range and source as there; ValueError as
    well for an unknown support of the plate.

    >>> steel = (200e3, 0.3, 200e3, 0.3)
    >>> held = ("beam shear", "rigid base", "plane strain")
    >>> print(post_on_plate(1000.0, 50.0, 50.0, 0.761133, *steel, *held))
    0.028222
    """
    body = (young_1, poisson_1, post_held_by, state)
    post = solid.plain(line_load, radius, half_width, *body)
    check.positive(thickness=thickness)
    check.one_of("plate_held_by", plate_held_by, get_args(PlateHeldBy))
    below = layer if plate_held_by == "rigid base" else strip
    approach: Array = post + below.plain(
        line_load, thickness, half_width, young_2, poisson_2, state
    )
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
    source=f"post, {SOLID_SOURCE}; plate: {LAYER_SOURCE}",
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
    >>> held = ("beam shear", "rigid base", "plane strain")
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
    source=f"post, {SOLID_SOURCE}; plate: {LAYER_SOURCE}; the slope of both derived here",
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
    >>> held = ("beam shear", "rigid base", "plane strain")
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
