"""The approach of bodies in line contact as handbooks give it, beside :mod:`.approach`.

A handbook's constant for solid rounds, and an empirical formula for steel rollers. Neither is what
the exact field of a disc gives; :mod:`.approach` says what an approach is and what its datum.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.approach import small_on_one
from contactfe.hand.approach_pair import small_on_two
from contactfe.hand.check import Array
from contactfe.hand.formula import formula
from contactfe.hand.stress import plane_modulus

_ROARK = (
    "Young, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1 case 2: from memory, not"
    " seen"
)


@formula(
    name="shortening of a solid round between two flats, handbook form",
    symbol="ΔD",
    form="4·{line_load}·(1 − {poisson}²)/(π·{young})·(1/3 + ln(2·(2·{radius})/(2·{half_width})))",
    dimension="length",
    limits=small_on_one,
    source=_ROARK,
)
def between_flats(
    line_load: ArrayLike, radius: ArrayLike, half_width: ArrayLike, young: float, poisson: float
) -> Array:
    """Shortening, mm, of a solid round between two flats as a handbook gives it, in plane strain.

    ΔD = 4q(1 − ν²)/(πE) (1/3 + ln(2D/b)) with D = 2R and the full width b = 2a. For comparison: its
    constant is another than that of :func:`.approach_pair.between_flats`, whose datum, arguments
    and errors it has, and which agrees with the exact disc; it is about 3 % more.

    Source: Young, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1 case 2 — from memory,
    not seen.

    >>> print(between_flats(1000.0, 50.0, 0.761133, 200e3, 0.3))
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
    limits=small_on_two,
    source=_ROARK,
)
def two_cylinders(
    line_load: ArrayLike,
    radius_1: ArrayLike,
    radius_2: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
) -> Array:
    """Approach, mm, of the centres of two solid rounds of one material, as a handbook gives it.

    δ = 2q(1 − ν²)/(πE) (2/3 + ln(2D1/b) + ln(2D2/b)) with D = 2R and the full width b = 2a, in
    plane strain. For comparison, as :func:`between_flats`, whose source it shares; datum,
    arguments and errors as :func:`.approach_pair.two_cylinders`.

    >>> print(two_cylinders(1000.0, 50.0, 50.0, 0.538202, 200e3, 0.3))
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
    :func:`.approach_pair.post_on_plate` for a bar of 100 mm held by beam shear, at 1000 N/mm, on a
    plate of 50 mm on a rigid base. Raises ValueError for a negative force or a length that is not
    positive.

    Source: Palmgren, Ball and Roller Bearing Engineering, 1959 — from memory, not seen.

    >>> print(palmgren_roller(100e3, 100.0))
    0.030502
    """
    check.not_negative(force=force)
    check.positive(length=length)
    approach: Array = 3.84e-5 * np.power(force, 0.9) / np.power(length, 0.8)
    return approach
