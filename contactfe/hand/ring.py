"""A tube under a line load as a ring: moment and normal force, thick-ring factors.

The load q pushes inward on the outside at angle 0. It is balanced either by the same load opposite
("diametral") or by the change of beam shear along the post ("beam shear"), a tangential flow
q sin φ/(πR) along the mean circle. The stresses that follow are in :mod:`.ring_stress`.

Tubes are given by their outside ``radius`` ro and ``wall`` h; R = ro − h/2 is the mean radius,
rn = h/ln(ro/ri) the neutral one and e = R − rn the eccentricity between the two, 0 for a thin ring.

Under beam shear two conditions close the ring, derived here from the energy of a curved beam: half
of it does not rotate, ∫(M − eN)dφ = 0, nor part at the load line, ∫M cos φ dφ = 0; shear
deformation drops out of both. Under the load M comes to 0.318 qR under diametral loads and 0.239 qR
under beam shear for a thin ring.
"""

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Limit, at_most, formula, limited, shown, written_as
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    Angles,
    Length,
    LineLoad,
    LineLoads,
    MomentsPerLength,
)
from contactfe.hand.stress import plane_poisson

THINNEST = 0.1
"""Wall over mean radius up to which a tube is a thin ring: the usual bound of straight-beam bending
(common practice, no source). There the hoop stress at the bore is low by 2 % under the load and by
4 % at 90°, measured against :func:`.thick_ring.bore_hoop` at ν = 0.3."""

LARGEST_ECCENTRICITY = 0.04
"""e/R up to which the moment at 90° keeps within 3 % of that of the exact field, which is a wall of
half the outside radius: measured against :func:`.thick_ring.stress` at ν = 0.3."""

SHEAR_SHAPE = 1.2
"""F of a rectangular section, 6/5: how much more than an even one its shear stress deforms it."""

STATICS = (
    "diametral: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1,"
    " from memory, not seen; beam shear: statics and the energy of a curved beam, derived here"
)
SHIFT_NOTE = "R = ro − h/2 and e = R − h/ln(ro/ri)"

_TERMS = 40
"""Powers that the series of :func:`neutral_shift` stops at: 3^−38 is lost in rounding."""


def folded(angle: ArrayLike) -> Array:
    """The same place between the load and the point opposite: φ from 0 to π."""
    folded: Array = np.abs((np.asarray(angle, dtype=float) + np.pi) % (2 * np.pi) - np.pi)
    return folded


def _sine_share(phi: Array, held_by: HeldBy) -> Array:
    return np.full_like(phi, 0.5) if held_by == "diametral" else (1 - phi / np.pi) / 2


@formula(
    "bending moment in the ring",
    "M",
    source=STATICS,
    symbols={"eccentricity": "e"},
    note="positive where it stretches the bore; φ from the load, 0 to π; diametral: m = 1/π, c = 0,"
    " s = 1/2; beam shear: m = 1/(2π), c = 1/(4π), s = (1 − φ/π)/2; e = 0 for a thin ring",
)
def bending_moment(
    line_load: LineLoad,
    mean_radius: Length,
    angle: Angles,
    held_by: HeldBy,
    eccentricity: Annotated[Length, NOT_NEGATIVE] = 0.0,
) -> MomentsPerLength:
    """Bending moment at angles from the load; positive where it stretches the bore.

    Raises ValueError for an eccentricity, from the mean circle inward to the neutral one, that is
    not below the mean radius.
    """
    if eccentricity >= mean_radius:
        raise ValueError(
            f"eccentricity = {eccentricity!r} is not allowed: it must lie in "
            f"[0, mean_radius = {mean_radius!r})"
        )
    angle = shown("angle", folded(angle), "φ", "angle")
    opposed = held_by == "diametral"
    mean = shown("mean", 1 / np.pi if opposed else 1 / (2 * np.pi), "m")
    moment_cos = shown("moment_cos", 0.0 if opposed else 1 / (4 * np.pi), "c")
    sin = shown("sin", _sine_share(angle, held_by), "s")
    limited(at_most("e/R", eccentricity / mean_radius, LARGEST_ECCENTRICITY))
    return (
        line_load
        * mean_radius
        * (
            mean * (1 - eccentricity / mean_radius)
            + moment_cos * np.cos(angle)
            - sin * np.sin(angle)
        )
    )


@formula(
    "normal force in the ring",
    "N",
    source=STATICS,
    note="tension positive; φ from the load, 0 to π; diametral: c = 0, s = 1/2; beam shear:"
    " c = 3/(4π), s = (1 − φ/π)/2",
)
def normal_force(line_load: LineLoad, angle: Angles, held_by: HeldBy) -> LineLoads:
    """Normal force at angles from the load; tension positive.

    Exact by statics under diametral loads, and at 90° under beam shear; elsewhere the beam shear is
    taken along the mean circle, by which N opposite the load is high by 0.3, 4, 13 % for walls of
    0.1, 0.3, 0.5 radius, measured against :func:`.thick_ring.stress`.
    """
    angle = shown("angle", folded(angle), "φ", "angle")
    normal_cos = shown("normal_cos", 0.0 if held_by == "diametral" else 3 / (4 * np.pi), "c")
    sin = shown("sin", _sine_share(angle, held_by), "s")
    return 0.0 - line_load * (normal_cos * np.cos(angle) + sin * np.sin(angle))


@formula(
    "eccentricity of the neutral circle",
    "e",
    source="Winkler and Bach's curved beam: any text on strength of materials",
    symbols={"radius": "ro"},
)
def neutral_shift(radius: Length, wall: Length) -> Length:
    """Distance of the neutral circle inward of the mean one.

    Stresses linear in the change of angle over r balance there: ∫(r − rn)/r dr = 0.

    >>> print(neutral_shift(84.15, 21.95))
    0.5520
    """
    check.tube_wall(radius, wall)
    shift: float = radius - wall / 2 - wall / np.log(radius / (radius - wall))
    return written_as(shift, shift if wall > radius / 2 else _shift_in_series(radius, wall))


def _shift_in_series(radius: float, wall: float) -> float:
    """The same for a thin ring, where mean and neutral radius cancel to their last digits.

    With x = h/(2R), ln(ro/ri) = 2 artanh x and e/R = 1 − x/artanh x, artanh x = x + x³/3 + x⁵/5 + …
    """
    mean = radius - wall / 2
    x = wall / (2 * mean)
    beyond = sum(x**n / n for n in range(3, _TERMS, 2))
    return mean * beyond / (x + beyond)


def wall_limit(radius: float, wall: float, bound: float) -> Limit:
    """How thick the wall is beside the mean radius, h/R; outside ``radius`` and ``wall`` in mm."""
    return at_most("h/R", wall / (radius - wall / 2), bound)


def k1(radius: float, wall: float, poisson: float, state: State) -> float:
    """Factor 1 − α + β of bending and shear in a thick ring, 1 for a thin one.

    β = 2F(1 + ν')α, with α as in :func:`k2`. In plane strain ν' = ν/(1 − ν), which makes
    E'/G = 2(1 + ν') with the stiffer E' of a long tube (derived here). Sizes, errors and source as
    there.
    """
    mean = k2(radius, wall)
    return mean + 2 * SHEAR_SHAPE * (1 + plane_poisson(poisson, state)) * (1 - mean)


def k2(radius: float, wall: float) -> float:
    """Factor 1 − α of the mean moment in a thick ring, 1 for a thin one; α = e/R.

    Outside ``radius`` and ``wall`` in mm. Raises ValueError for a wall not between 0 and the
    radius. Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 — from
    memory, not seen.
    """
    return 1 - neutral_shift.plain(radius, wall) / (radius - wall / 2)
