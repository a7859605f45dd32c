"""A tube under a line load as a ring: moment and normal force, thick-ring factors.

The load q pushes inward on the outside at angle 0. It is balanced either by the same load opposite
("diametral") or by the change of beam shear along the post ("beam shear"), a tangential flow
q sin φ/(πR) along the mean circle. The stresses that follow are in :mod:`.ring_stress`.

Tubes are given by their outside ``radius`` ro and ``wall`` h; R = ro − h/2 is the mean radius,
rn = h/ln(ro/ri) the neutral one and e = R − rn the eccentricity between the two.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Dimension, Given, Limit, at_most, formula
from contactfe.hand.stress import plane_poisson

THINNEST = 0.1
"""Wall over mean radius up to which a tube is a thin ring: the usual bound of straight-beam bending
(common practice, no source). There the hoop stress at the bore is low by 2 % under the load and by
4 % at 90°, measured against :func:`.thick_ring.bore_hoop` at ν = 0.3."""

LARGEST_ECCENTRICITY = 0.04
"""e/R up to which the moment at 90° keeps within 3 % of that of the exact field, which is a wall of
half the outside radius: measured against :func:`.thick_ring.stress` at ν = 0.3."""

_TERMS = 40
"""Powers that the series of :func:`neutral_shift` stops at: 3^−38 is lost in rounding."""

SHEAR_SHAPE = 1.2
"""F of a rectangular section, 6/5: how much more than an even one its shear stress deforms it."""

TUBE: Mapping[str, tuple[str, Dimension | None]] = {"radius": ("ro", "length")}
"""Symbol of the outside radius, where R is the mean one."""

_ROARK = (
    "W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2: from memory, not seen"
)
STATICS = (
    "diametral: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1,"
    " from memory, not seen; beam shear: statics and the energy of a curved beam, derived here"
)


class _Shares(NamedTuple):
    """M = qR(mean k2 + moment_cos cos φ − sin sin φ), N = −q(normal_cos cos φ + sin sin φ)."""

    mean: float
    moment_cos: float
    normal_cos: float
    sin: Array


def _shares(phi: Array, held_by: HeldBy) -> _Shares:
    if held_by == "diametral":
        return _Shares(1 / np.pi, 0.0, 0.0, np.full_like(phi, 0.5))
    return _Shares(1 / (2 * np.pi), 1 / (4 * np.pi), 3 / (4 * np.pi), (1 - phi / np.pi) / 2)


def folded(angle: ArrayLike) -> Array:
    """The same place between the load and the point opposite: φ from 0 to π."""
    folded: Array = np.abs((np.asarray(angle, dtype=float) + np.pi) % (2 * np.pi) - np.pi)
    return folded


def _share_parts(**given: Any) -> dict[str, Given]:
    phi = folded(given["angle"])
    shares = _shares(phi, given["held_by"])
    return {
        "angle": Given("φ", float(phi), "angle"),
        "mean": Given("m", shares.mean),
        "moment_cos": Given("c", shares.moment_cos),
        "normal_cos": Given("c", shares.normal_cos),
        "sin": Given("s", float(shares.sin)),
    }


@formula(
    name="bending moment in the ring",
    symbol="M",
    form="{line_load}·{mean_radius}·({mean}·(1 − {eccentricity}/{mean_radius})"
    " + {moment_cos}·cos({angle}) − {sin}·sin({angle}))",
    dimension="moment per length",
    given={"angle": ("φ", "angle"), "eccentricity": ("e", "length")},
    parts=_share_parts,
    limits=lambda _, **given: [
        at_most(
            "e/R",
            np.divide(given["eccentricity"], given["mean_radius"]),
            LARGEST_ECCENTRICITY,
        )
    ],
    source=STATICS,
    note="positive where it stretches the bore; φ from the load, 0 to π; diametral: m = 1/π, c = 0,"
    " s = 1/2; beam shear: m = 1/(2π), c = 1/(4π), s = (1 − φ/π)/2; e = 0 for a thin ring",
)
def bending_moment(
    line_load: float,
    mean_radius: float,
    angle: ArrayLike,
    held_by: HeldBy,
    eccentricity: float = 0.0,
) -> Array:
    """Bending moment M in a ring, N mm/mm, at angles from the load; positive: stretches the bore.

    Arguments, errors and source are those of :func:`section_forces`, whose first result it is.

    >>> print(bending_moment(1.0, 1.0, 0.0, "diametral"))
    0.318310
    """
    check.not_negative(line_load=line_load)
    check.positive(mean_radius=mean_radius)
    check.holding(held_by)
    if not 0 <= eccentricity < mean_radius:
        raise ValueError(
            f"eccentricity = {eccentricity!r} is not allowed: it must lie in "
            f"[0, mean_radius = {mean_radius!r})"
        )
    k2 = 1 - eccentricity / mean_radius
    phi = folded(angle)
    shares = _shares(phi, held_by)
    wave = shares.moment_cos * np.cos(phi) - shares.sin * np.sin(phi)
    moment: Array = line_load * mean_radius * (shares.mean * k2 + wave)
    return moment


@formula(
    name="normal force in the ring",
    symbol="N",
    form="−{line_load}·({normal_cos}·cos({angle}) + {sin}·sin({angle}))",
    dimension="line load",
    given={"angle": ("φ", "angle")},
    parts=_share_parts,
    source=STATICS,
    note="tension positive; φ from the load, 0 to π; diametral: c = 0, s = 1/2; beam shear:"
    " c = 3/(4π), s = (1 − φ/π)/2",
)
def normal_force(line_load: float, angle: ArrayLike, held_by: HeldBy) -> Array:
    """Normal force N in a ring, N/mm, at angles from the load; tension positive.

    Arguments, errors and source are those of :func:`section_forces`, whose second result it is.
    Exact by statics under diametral loads, and at 90° under beam shear; elsewhere the beam shear is
    taken along the mean circle, by which N opposite the load is high by 0.3, 4, 13 % for walls of
    0.1, 0.3, 0.5 radius, measured against :func:`.thick_ring.stress`.

    >>> print(normal_force(1.0, 0.0, "beam shear"))
    -0.238732
    """
    check.not_negative(line_load=line_load)
    check.holding(held_by)
    phi = folded(angle)
    shares = _shares(phi, held_by)
    pressed = line_load * (shares.normal_cos * np.cos(phi) + shares.sin * np.sin(phi))
    normal: Array = 0.0 - pressed  # so that none is written 0, not −0
    return normal


def section_forces(
    line_load: float,
    mean_radius: float,
    angle: ArrayLike,
    held_by: HeldBy,
    eccentricity: float = 0.0,
) -> tuple[Array, Array]:
    """Bending moment M (N mm/mm) and normal force N (N/mm) in a ring, at angles from the load.

    ``line_load`` q in N/mm, ``mean_radius`` R in mm, ``angle`` φ in radians from the load line, of
    any shape, which both results have. M is positive where it stretches the bore, N in tension.
    ``eccentricity`` e in mm, from the mean circle inward to the neutral one, is 0 for a thin ring;
    for a thick one it lowers the mean moment by the factor k2 = 1 − e/R. Raises ValueError for a
    negative load, a radius that is not positive, e not in [0, R), or an unknown support.

    For 0 <= φ <= π:

        diametral     M = qR(k2/π − sin φ/2),  N = −q sin φ/2
        beam shear  M = qR(k2/(2π) + cos φ/(4π) − (1 − φ/π) sin φ/2),
                    N = −q(3 cos φ/(4π) + (1 − φ/π) sin φ/2)

    so under the load M = 0.318 qR and 0.239 qR for a thin ring.

    Source: diametral, W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case
    1 — from memory, not seen. Beam shear derived here, by statics and the energy of a curved beam:
    the half ring does not rotate, ∫(M − eN)dφ = 0, nor part at the load line, ∫M cos φ dφ = 0;
    shear deformation drops out of both.

    >>> print(*section_forces(1.0, 1.0, 0.0, "beam shear"))
    0.238732 -0.238732
    """
    moment = bending_moment.plain(line_load, mean_radius, angle, held_by, eccentricity)
    return moment, normal_force.plain(line_load, angle, held_by)


@formula(
    name="eccentricity of the neutral circle",
    symbol="e",
    form="{radius} − {wall}/2 − {wall}/ln({radius}/({radius} − {wall}))",
    dimension="length",
    given=TUBE,
    source="Winkler and Bach's curved beam: any text on strength of materials",
)
def neutral_shift(radius: float, wall: float) -> float:
    """Distance e = R − h/ln(ro/ri), mm, of the neutral circle inward of the mean one.

    Outside ``radius`` ro and ``wall`` h in mm. Raises ValueError for a wall not between 0 and the
    radius.

    Source: the Winkler–Bach curved beam, any text on strength of materials. Stresses linear in the
    change of angle over r balance at rn, where ∫(r − rn)/r dr = 0.

    >>> print(neutral_shift(84.15, 21.95))
    0.5520
    """
    check.tube_wall(radius, wall)
    mean = radius - wall / 2
    if wall > radius / 2:
        return float(mean - wall / np.log(radius / (radius - wall)))
    # In a thin ring mean and neutral radius cancel to their last digits. With x = h/(2R),
    # ln(ro/ri) = 2 artanh x and e/R = 1 − x/artanh x, where artanh x = x + x³/3 + x⁵/5 + …
    x = wall / (2 * mean)
    beyond = sum(x**n / n for n in range(3, _TERMS, 2))
    return float(mean * beyond / (x + beyond))


def wall_limit(radius: float, wall: float, bound: float) -> Limit:
    """How thick the wall is beside the mean radius, h/R; outside ``radius`` and ``wall`` in mm."""
    return at_most("h/R", wall / (radius - wall / 2), bound)


def shift_parts(**given: Any) -> dict[str, Given]:
    """R and e of the tube in ``given``, as parts of a form."""
    radius, wall = given["radius"], given["wall"]
    return {
        "mean_radius": Given("R", radius - wall / 2, "length"),
        "shift": Given("e", neutral_shift.plain(radius, wall), "length"),
    }


SHIFT_NOTE = "R = ro − h/2 and e = R − h/ln(ro/ri)"


@formula(
    name="hoop-stress deformation factor",
    symbol="α",
    form="{shift}/{mean_radius}",
    dimension=None,
    given=TUBE,
    parts=shift_parts,
    source=_ROARK,
    note=SHIFT_NOTE,
)
def hoop_factor(radius: float, wall: float) -> float:
    """Factor α = e/R of a thick ring: how much the normal force turns its sections.

    Outside ``radius`` and ``wall`` in mm. Raises ValueError for a wall not between 0 and the
    radius.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 — from memory,
    not seen.

    >>> print(hoop_factor(84.15, 21.95))
    0.00754
    """
    return neutral_shift.plain(radius, wall) / (radius - wall / 2)


def _shear_parts(**given: Any) -> dict[str, Given]:
    nu = plane_poisson(given["poisson"], given["state"])
    return {"poisson": Given("ν'", nu), "shape": Given("F", SHEAR_SHAPE), **shift_parts(**given)}


@formula(
    name="shear deformation factor",
    symbol="β",
    form="2·{shape}·(1 + {poisson})·{shift}/{mean_radius}",
    dimension=None,
    given=TUBE,
    parts=_shear_parts,
    source=_ROARK,
    note=SHIFT_NOTE + "; F = 6/5 of a rectangle; ν' = ν in plane stress, ν/(1 − ν) in plane strain",
)
def shear_factor(radius: float, wall: float, poisson: float, state: State) -> float:
    """Factor β = 2F(1 + ν')e/R of a thick ring: how much shear deforms it beside bending.

    Outside ``radius`` and ``wall`` in mm; F = 6/5. ν' is ν in plane stress and ν/(1 − ν) in plane
    strain, which makes E'/G = 2(1 + ν') with the stiffer E' = E/(1 − ν²) of a long tube. Raises
    ValueError for a wall not between 0 and the radius, ν outside [0, 0.5] or an unknown state.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 — from memory,
    not seen — for plane stress; plane strain derived here.

    >>> print(shear_factor(84.15, 21.95, 0.3, "plane stress"))
    0.02354
    """
    return 2 * SHEAR_SHAPE * (1 + plane_poisson(poisson, state)) * hoop_factor.plain(radius, wall)


@formula(
    name="thick-ring factor of bending and shear",
    symbol="k1",
    form="1 − {alpha} + {beta}",
    dimension=None,
    given=TUBE,
    parts=lambda **given: {
        "alpha": Given("α", hoop_factor.plain(given["radius"], given["wall"])),
        "beta": Given("β", shear_factor.plain(**given)),
    },
    source=_ROARK,
    note="α = e/R and β = 2F(1 + ν')e/R",
)
def k1(radius: float, wall: float, poisson: float, state: State) -> float:
    """Factor k1 = 1 − α + β of a thick ring, 1 for a thin one. See :func:`shear_factor`.

    >>> print(k1(84.15, 21.95, 0.3, "plane stress"))
    1.01599
    """
    alpha, beta = hoop_factor.plain(radius, wall), shear_factor.plain(radius, wall, poisson, state)
    return 1 - alpha + beta


@formula(
    name="thick-ring factor of the mean moment",
    symbol="k2",
    form="1 − {alpha}",
    dimension=None,
    given=TUBE,
    parts=lambda **given: {"alpha": Given("α", hoop_factor.plain(**given))},
    source=_ROARK,
    note="α = e/R",
)
def k2(radius: float, wall: float) -> float:
    """Factor k2 = 1 − α of a thick ring, 1 for a thin one. See :func:`hoop_factor`.

    >>> print(k2(84.15, 21.95))
    0.99246
    """
    return 1 - hoop_factor.plain(radius, wall)
