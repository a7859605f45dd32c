"""How far two bodies in line contact come together, and how stiff the contact is.

In plane elasticity the displacement of a half-space under a line load grows without end with depth,
as its logarithm. So an approach means nothing without its datum, the point whose movement towards
the contact is meant: the centre of a round, or a depth in the plate. Each formula states its own.

All take the half-width a of the contact, that of :func:`.hertz.half_width` for the pair of bodies;
each body then enters by its own radius, modulus and Poisson's ratio, so unlike materials are
covered where there is no friction. E' and ν' are the plane ones: E/(1 − ν²) and ν/(1 − ν) in plane
strain, E and ν in plane stress. An approach is positive where the bodies come nearer.

The bending of a plate and the flattening of a tube as a ring are not in it; they come on top.
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Given, Limit, at_least, at_most, formula
from contactfe.hand.hertz import LARGEST_PATCH
from contactfe.hand.stress import plane_modulus, plane_poisson

LEAST_DEPTH = 5.0
"""Depth in half-widths from which ln(2d/a) stands for the whole integral of strain below a Hertz
pressure: 0.8 % low there for ν = 0.5, 0.6 % for ν = 0.3; measured against the integral of the
stresses of :func:`.hertz.axis_stress`."""

_JOHNSON = (
    "K. L. Johnson, Contact Mechanics, 1985, section 5.6: from memory, not seen; derived anew here"
)
_ROARK = (
    "Young, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1 case 2: from memory, not"
    " seen"
)
_PLANE = "E' = E/(1 − ν²) and ν' = ν/(1 − ν) in plane strain, E' = E and ν' = ν in plane stress"


def _of_one(**given: Any) -> dict[str, Given]:
    body = given["young"], given["poisson"], given["state"]
    return {
        "E_plane": Given("E'", plane_modulus(*body), "stress"),
        "nu_plane": Given("ν'", plane_poisson(*body[1:])),
    }


def _of_two(**given: Any) -> dict[str, Given]:
    state = given["state"]
    moduli = [plane_modulus(given[f"young_{i}"], given[f"poisson_{i}"], state) for i in (1, 2)]
    return {
        "E_1": Given("E1'", moduli[0], "stress"),
        "E_2": Given("E2'", moduli[1], "stress"),
        "nu_2": Given("ν2'", plane_poisson(given["poisson_2"], state)),
    }


def _round(_: object, **given: Any) -> list[Limit]:
    return [at_most("a/R", np.divide(given["half_width"], given["radius"]), LARGEST_PATCH)]


def _deep(_: object, **given: Any) -> list[Limit]:
    return [at_least("d/a", np.divide(given["depth"], given["half_width"]), LEAST_DEPTH)]


def _round_and_deep(_: object, **given: Any) -> list[Limit]:
    return _round(_, **given) + _deep(_, **given)


def _two_rounds(_: object, **given: Any) -> list[Limit]:
    curvature = np.divide(1.0, given["radius_1"]) + np.divide(1.0, given["radius_2"])
    return [at_most("a/R", np.multiply(given["half_width"], curvature), LARGEST_PATCH)]


def _cylinder(radius: ArrayLike, half_width: ArrayLike) -> Array:
    """2 ln(4R/a) − 1: the approach of centre and contact, times πE'/q."""
    check.positive(radius=radius, half_width=half_width)
    size: Array = 2 * np.log(np.divide(np.multiply(4.0, radius), half_width)) - 1
    return size


def _plate(depth: ArrayLike, half_width: ArrayLike, nu_plane: float) -> Array:
    """2 ln(2d/a) − ν': the approach of a deep point and the contact, times πE'/q."""
    check.positive(depth=depth, half_width=half_width)
    size: Array = 2 * np.log(np.divide(np.multiply(2.0, depth), half_width)) - nu_plane
    return size


@formula(
    name="approach of a solid round's centre to its contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(4·{radius}/{half_width}) − 1)",
    dimension="length",
    limits=_round,
    parts=_of_one,
    note=_PLANE,
    source=_JOHNSON,
)
def cylinder(
    line_load: ArrayLike,
    radius: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of the centre of a solid round to the middle of its contact.

    δ = q/(πE') (2 ln(4R/a) − 1). Datum: the centre of the round, which an equal line load presses
    from the opposite side. ``line_load`` q in N/mm, ``radius`` R of this round and ``half_width`` a
    in mm, of any shapes that broadcast; ``young`` E in MPa and ``poisson`` ν of this round. Raises
    ValueError for a negative load, a length or modulus that is not positive, ν outside [0, 0.5] or
    an unknown state. Valid for a/R up to about 0.1, where it is 1.0 % low for ν' = 0 and 0.7 % for
    ν' = 0.3 (measured against the exact field of a disc with this pressure on its rim).

    Source: K. L. Johnson, Contact Mechanics, 1985, section 5.6 — from memory, not seen; derived
    anew here: the integral of strain along the radius under Hertz pressure, the opposite line load
    and the even tension q/(πR) of a disc between them. The terms in ν cancel.

    >>> print(cylinder(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.014690
    """
    check.not_negative(line_load=line_load)
    modulus = plane_modulus(young, poisson, state)
    approach: Array = np.divide(line_load, np.pi * modulus) * _cylinder(radius, half_width)
    return approach


@formula(
    name="approach of a point in the plate to the contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(2·{depth}/{half_width}) − {nu_plane})",
    dimension="length",
    limits=_deep,
    parts=_of_one,
    note=_PLANE,
    source=_JOHNSON,
)
def plate(
    line_load: ArrayLike,
    depth: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    state: State,
) -> Array:
    """Approach, mm, of a point below the contact in a thick plate to the middle of the contact.

    δ = q/(πE') (2 ln(2d/a) − ν'). Datum: the point on the load line at the ``depth`` d, mm, in a
    half-space. ``line_load`` q in N/mm, ``half_width`` a in mm, of any shapes that broadcast;
    ``young`` E in MPa and ``poisson`` ν of the plate. Raises ValueError for a negative load, a
    length or modulus that is not positive, ν outside [0, 0.5] or an unknown state. Valid for d/a
    of 5 or more (:data:`LEAST_DEPTH`).

    Source: K. L. Johnson, Contact Mechanics, 1985, section 5.6 — from memory, not seen; derived
    anew here: the integral of strain down the axis under Hertz pressure, for d much above a.

    >>> print(plate(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.013509
    """
    check.not_negative(line_load=line_load)
    modulus = plane_modulus(young, poisson, state)
    nu_plane = plane_poisson(poisson, state)
    approach: Array = np.divide(line_load, np.pi * modulus) * _plate(depth, half_width, nu_plane)
    return approach


@formula(
    name="shortening of a solid round between two flats",
    symbol="ΔD",
    form="2·{line_load}/(π·{E_plane})·(2·ln(4·{radius}/{half_width}) − 1)",
    dimension="length",
    limits=_round,
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

    ΔD = 2q/(πE') (2 ln(4R/a) − 1), twice :func:`cylinder`. Datum: the middles of the two contacts,
    one to the other; how far the flats give way is not in it. Arguments, errors, range and source
    as there.

    >>> print(between_flats(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.029379
    """
    shortening: Array = 2 * cylinder.plain(line_load, radius, half_width, young, poisson, state)
    return shortening


@formula(
    name="approach of the centres of two solid rounds",
    symbol="δ",
    form="{line_load}/π·((2·ln(4·{radius_1}/{half_width}) − 1)/{E_1}"
    " + (2·ln(4·{radius_2}/{half_width}) − 1)/{E_2})",
    dimension="length",
    limits=_two_rounds,
    parts=_of_two,
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

    The sum of :func:`cylinder` for the two. Datum: centre to centre, each round pressed from its
    far side by an equal line load. ``radius_1``, ``radius_2`` and ``half_width`` in mm,
    ``line_load`` q in N/mm, of any shapes that broadcast; Young's moduli in MPa. Errors and source
    as there. Valid for a/R up to about 0.1 with 1/R = 1/R1 + 1/R2.

    >>> print(two_cylinders(1e3, 50.0, 50.0, 0.538202, 200e3, 0.3, 200e3, 0.3, "plane strain"))
    0.031387
    """
    one = cylinder.plain(line_load, radius_1, half_width, young_1, poisson_1, state)
    approach: Array = one + cylinder.plain(
        line_load, radius_2, half_width, young_2, poisson_2, state
    )
    return approach


@formula(
    name="approach of a solid post's centre and a depth of the plate",
    symbol="δ",
    form="{line_load}/π·((2·ln(4·{radius}/{half_width}) − 1)/{E_1}"
    " + (2·ln(2·{depth}/{half_width}) − {nu_2})/{E_2})",
    dimension="length",
    limits=_round_and_deep,
    parts=_of_two,
    note=_PLANE,
    source=_JOHNSON,
)
def post_on_plate(
    line_load: ArrayLike,
    radius: ArrayLike,
    depth: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    state: State,
) -> Array:
    """Approach, mm, of the centre of a solid post and a point below it in a thick plate.

    The sum of :func:`cylinder` with the post's ``young_1`` and ``poisson_1`` and :func:`plate`
    with the plate's ``young_2`` and ``poisson_2``. Datum: the post's centre and the point at the
    ``depth`` d, mm, on the load line. Other arguments, errors, range and source as there.

    >>> print(post_on_plate(1e3, 50.0, 50.0, 0.761133, 2e5, 0.3, 2e5, 0.3, "plane strain"))
    0.028199
    """
    post = cylinder.plain(line_load, radius, half_width, young_1, poisson_1, state)
    approach: Array = post + plate.plain(line_load, depth, half_width, young_2, poisson_2, state)
    return approach


@formula(
    name="secant stiffness of a solid post on a plate",
    symbol="ks",
    form="π/((2·ln(4·{radius}/{half_width}) − 1)/{E_1}"
    " + (2·ln(2·{depth}/{half_width}) − {nu_2})/{E_2})",
    dimension="line stiffness",
    limits=_round_and_deep,
    parts=_of_two,
    note=_PLANE,
    source=_JOHNSON,
)
def secant_stiffness(
    radius: ArrayLike,
    depth: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    state: State,
) -> Array:
    """Line load over approach q/δ, N/mm per mm, of a solid post on a thick plate.

    δ and its datum are those of :func:`post_on_plate`, as are arguments, errors, range and source.
    The load enters by the half-width that it makes.

    >>> print(secant_stiffness(50.0, 50.0, 0.761133, 2e5, 0.3, 2e5, 0.3, "plane strain"))
    35462.4
    """
    return 1 / post_on_plate.plain(
        1.0, radius, depth, half_width, young_1, poisson_1, young_2, poisson_2, state
    )


@formula(
    name="tangent stiffness of a solid post on a plate",
    symbol="kt",
    form="π/((2·ln(4·{radius}/{half_width}) − 2)/{E_1}"
    " + (2·ln(2·{depth}/{half_width}) − {nu_2} − 1)/{E_2})",
    dimension="line stiffness",
    limits=_round_and_deep,
    parts=_of_two,
    note=_PLANE,
    source=_JOHNSON + "; its slope derived here",
)
def tangent_stiffness(
    radius: ArrayLike,
    depth: ArrayLike,
    half_width: ArrayLike,
    young_1: float,
    poisson_1: float,
    young_2: float,
    poisson_2: float,
    state: State,
) -> Array:
    """Slope dq/dδ, N/mm per mm, at the load that makes this half-width, of a post on a plate.

    δ and its datum are those of :func:`post_on_plate`, as are arguments, errors, range and source.
    As a grows with √q, each 2 ln(…/a) loses 1 (derived here). It exceeds the secant stiffness by a
    tenth or so: a line contact is much closer to linear than one of spheres.

    >>> print(tangent_stiffness(50.0, 50.0, 0.761133, 2e5, 0.3, 2e5, 0.3, "plane strain"))
    39522.2
    """
    post = (_cylinder(radius, half_width) - 1) / plane_modulus(young_1, poisson_1, state)
    nu_plane = plane_poisson(poisson_2, state)
    below = (_plate(depth, half_width, nu_plane) - 1) / plane_modulus(young_2, poisson_2, state)
    slope: Array = np.pi / (post + below)
    return slope


@formula(
    name="shortening of a solid round between two flats, handbook form",
    symbol="ΔD",
    form="4·{line_load}·(1 − {poisson}²)/(π·{young})·(1/3 + ln(2·(2·{radius})/(2·{half_width})))",
    dimension="length",
    limits=_round,
    source=_ROARK,
)
def handbook_between_flats(
    line_load: ArrayLike, radius: ArrayLike, half_width: ArrayLike, young: float, poisson: float
) -> Array:
    """Shortening, mm, of a solid round between two flats as a handbook gives it, in plane strain.

    ΔD = 4q(1 − ν²)/(πE) (1/3 + ln(2D/b)) with D = 2R and the full width b = 2a. For comparison:
    its constant is another than that of :func:`between_flats`, whose datum, arguments and errors
    it has, and which agrees with the exact disc; it is about 3 % more.

    Source: Young, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1 case 2 — from memory,
    not seen.

    >>> print(handbook_between_flats(1000.0, 50.0, 0.761133, 200e3, 0.3))
    0.030191
    """
    shortening: Array = 2 * _handbook(line_load, radius, half_width, young, poisson)
    return shortening


@formula(
    name="approach of the centres of two solid rounds, handbook form",
    symbol="δ",
    form="2·{line_load}·(1 − {poisson}²)/(π·{young})"
    "·(2/3 + ln(2·(2·{radius_1})/(2·{half_width})) + ln(2·(2·{radius_2})/(2·{half_width})))",
    dimension="length",
    limits=_two_rounds,
    source=_ROARK,
)
def handbook_two_cylinders(
    line_load: ArrayLike,
    radius_1: ArrayLike,
    radius_2: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
) -> Array:
    """Approach, mm, of the centres of two solid rounds of one material, as a handbook gives it.

    δ = 2q(1 − ν²)/(πE) (2/3 + ln(2D1/b) + ln(2D2/b)) with D = 2R and the full width b = 2a, in
    plane strain. For comparison, as :func:`handbook_between_flats`, whose source it shares; datum,
    arguments and errors as :func:`two_cylinders`.

    >>> print(handbook_two_cylinders(1000.0, 50.0, 50.0, 0.538202, 200e3, 0.3))
    0.032199
    """
    one = _handbook(line_load, radius_1, half_width, young, poisson)
    approach: Array = one + _handbook(line_load, radius_2, half_width, young, poisson)
    return approach


def _handbook(
    line_load: ArrayLike, radius: ArrayLike, half_width: ArrayLike, young: float, poisson: float
) -> Array:
    """The handbook's share of one round: 2q(1 − ν²)/(πE) (1/3 + ln(2D/b))."""
    check.not_negative(line_load=line_load)
    check.positive(radius=radius, half_width=half_width)
    modulus = plane_modulus(young, poisson, "plane strain")
    share: Array = np.multiply(2.0, line_load) / (np.pi * modulus)
    return share * (1 / 3 + np.log(np.divide(np.multiply(2.0, radius), half_width)))


@formula(
    name="approach of a steel roller and its raceway",
    symbol="δ",
    form="3.84·10^(−5)·{force}^(0.9)/{length}^(0.8)",
    dimension="length",
    given={"force": ("Q", "force")},
    note="an empirical formula in N and mm, for steel rollers",
    source="Palmgren, Ball and Roller Bearing Engineering, 1959: from memory, not seen",
    units="SI",
)
def palmgren_roller(force: ArrayLike, length: ArrayLike) -> Array:
    """Approach, mm, of a steel roller and its raceway by Palmgren's empirical formula.

    δ = 3.84e-5 Q^0.9 / L^0.8 with the ``force`` Q in N and the effective ``length`` L in mm, of any
    shapes that broadcast. Datum: the roller's axis and the body of the raceway, with no depth
    named; the diameter does not enter. For steel only, and for comparison: some 8 % more than
    :func:`post_on_plate` for a bar of 100 mm at 1000 N/mm and a depth of 50 mm. Raises ValueError
    for a negative force or a length that is not positive.

    Source: Palmgren, Ball and Roller Bearing Engineering, 1959 — from memory, not seen.

    >>> print(palmgren_roller(100e3, 100.0))
    0.030502
    """
    check.not_negative(force=force)
    check.positive(length=length)
    approach: Array = 3.84e-5 * np.power(force, 0.9) / np.power(length, 0.8)
    return approach
