"""Elastic line contact of a round on a flat, after Hertz: size, pressure, stress field, yield.

The half-width a and the peak pressure p0 say everything: lengths scale with a, stresses with p0.
x runs along the surface from the middle of the contact, z is the depth into the body, y runs along
the post.

Valid while a is small beside the radius (a/R below about 0.1), the wall and the plate; without
friction, or for two bodies of one material, whose surfaces then exert no friction on each other.

On the axis x = 0 all stresses take one simple form. With z = a sinh u and t = tanh u,

    σx, σz, σy = −p0 e⁻ᵘ (1 − t, 1 + t, 2ν),        e⁻ᵘ = √((1 − t)/(1 + t)),

so the depth of each peak is the root of a polynomial in t and needs no search (derived here).
"""

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Limit, at_most, formula, limited, shown
from contactfe.hand.quantities import (
    UNCHECKED,
    Length,
    Lengths,
    LineLoads,
    Number,
    Poisson,
    Pressure,
    Stress,
    Stresses,
)

LARGEST_PATCH = 0.1
"""Half-width over radius up to which a round is a half-space at its contact; a much less than R is
the usual bound of Hertz theory: common practice, no source."""

CLOSEST_SOCKET = 10.0
"""Relative radius over that of the round up to which a socket counts as wide. The half-width in it
is a/R1 = 2 p0/E*·R/R1 of the round, and 2 p0/E* = 0.011 at first yield of a steel of 345 MPa, so
a/R1 comes to 0.1 at R/R1 of about 9: derived here, rounded up. In a closer socket the contact
wraps around the round."""

_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, {}: from memory, not seen"


def small_patch(line_load: ArrayLike, radius: ArrayLike, E_star: ArrayLike) -> Limit:
    """The limit on a/R under a line load in N/mm, with ``radius`` R in mm and ``E_star`` in MPa.

    >>> print(small_patch(1000.0, 50.0, 200e3 / 1.82))
    a/R = 0.01522, at most 0.1
    """
    return _narrow(half_width.plain(line_load, radius, E_star), radius)


def _narrow(half_width: ArrayLike, radius: ArrayLike) -> Limit:
    return at_most("a/R", np.divide(half_width, radius), LARGEST_PATCH)


@formula("contact modulus", "E*", source=_JOHNSON.format("section 4.2"))
def contact_modulus(
    young_1: Stress, poisson_1: Poisson, young_2: Stress, poisson_2: Poisson, state: State
) -> Stress:
    """Contact modulus of two touching bodies.

    In plane stress ν counts as 0: each strip is taken as stressed in its own plane only.

    >>> print(contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain"))
    109890.1
    """
    long = state == "plane strain"
    poisson_1 = shown("poisson_1", poisson_1 if long else 0.0)
    poisson_2 = shown("poisson_2", poisson_2 if long else 0.0)
    return 1 / ((1 - poisson_1**2) / young_1 + (1 - poisson_2**2) / young_2)


@formula("relative radius", "R", source=_JOHNSON.format("section 4.2"))
def relative_radius(radius_1: Length, radius_2: Annotated[Length, UNCHECKED] = np.inf) -> Length:
    """Radius of the round that meets a flat as these two rounds meet each other.

    A flat has an infinite radius, a socket a negative one. Raises ValueError where the two would
    not touch along a single line: a socket that is not larger than the round.

    >>> print(relative_radius(50.0, 50.0), relative_radius(50.0, -75.0))
    25.0 150.0
    """
    if np.isnan(radius_2) or -radius_1 <= radius_2 <= 0:
        raise ValueError(
            f"radius_2 = {radius_2!r} is not allowed: it must be positive (a round), infinite "
            f"(a flat) or less than {-radius_1!r} (a socket)"
        )
    R = 1 / (1 / radius_1 + 1 / radius_2)
    limited(at_most("R/R1", R / radius_1, CLOSEST_SOCKET))
    return R


@formula("half-width of the contact", "a", source=_JOHNSON.format("section 4.2(c), eq. 4.43"))
def half_width(line_load: LineLoads, radius: Lengths, E_star: Stresses) -> Lengths:
    """Half the width of the contact.

    >>> print(half_width(1000.0, 50.0, 200e3 / 1.82))
    0.76113
    """
    a = np.sqrt(4 * line_load * radius / (np.pi * E_star))
    limited(_narrow(a, radius))
    return a


@formula("peak pressure", "p0", source=_JOHNSON.format("section 4.2(c), eq. 4.45"))
def peak_pressure(line_load: LineLoads, radius: Lengths, E_star: Stresses) -> Stresses:
    """Contact pressure in the middle, positive in compression: 4/π times the mean of q/(2a).

    >>> print(peak_pressure(1000.0, 50.0, 200e3 / 1.82))
    836.41
    """
    limited(small_patch(line_load, radius, E_star))
    return np.sqrt(line_load * E_star / (np.pi * radius))


def pressure(x: ArrayLike, half_width: float, peak_pressure: float) -> Array:
    """Contact pressure p, MPa, positive in compression, at x mm from the middle of the contact.

    p = p0 √(1 − x²/a²) inside, 0 outside; ``x`` of any shape, which the result has. Raises
    ValueError for a half-width that is not positive or a negative pressure.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 4.2(c), eq. 4.44 — from memory, not
    seen.

    >>> print(pressure([0.0, 0.6, 2.0], 1.0, 800.0))
    [800. 640.   0.]
    """
    _contact(half_width, peak_pressure)
    s = np.asarray(x, dtype=float) / half_width
    return peak_pressure * np.sqrt(np.clip((1 - s) * (1 + s), 0.0, None))


def stress_field(
    x: ArrayLike, z: ArrayLike, half_width: float, peak_pressure: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, anywhere in a half-space under the Hertz pressure.

    ``x`` along the surface and depth ``z`` >= 0 into the body, mm, of any shapes that broadcast;
    each result has the broadcast shape. Tension positive; τxz is positive on the face of outward
    normal +x where it acts towards +z. The same in plane strain and plane stress. Raises
    ValueError for a negative depth or pressure, or a half-width that is not positive.

    Source: McEwen, Philosophical Magazine 40 (1949), and K. L. Johnson, Contact Mechanics,
    1985, eqs 4.49 — from memory, not seen. Written here with one function of ζ = x − iz (derived
    here): w = √(a² − ζ²) = m + in holds McEwen's m and n, and with Z = −p0 a/(w + iζ), whose
    derivative is Z' = −iZ/w, the field is σx, σz = Re Z ± z Im Z', τxz = −z Re Z'. The two parts of
    w + iζ are sums of terms of one sign, so the error stays at rounding of the local stress,
    however deep the point.

    >>> print(*stress_field(0.3, 0.5, 1.0, 1.0))
    -0.329716 -0.841995 -0.107117
    """
    _contact(half_width, peak_pressure)
    check.not_negative(z=z)
    s, z = np.broadcast_arrays(
        np.asarray(x, dtype=float) / half_width, np.asarray(z, dtype=float) / half_width
    )
    # The field is even in x, its shear odd: with |x| every part of w and ζ is positive.
    side, s = np.sign(s), np.abs(s)
    w = np.sqrt((1 - s) * (1 + s) + z**2 + 2j * s * z)
    Z = -peak_pressure / (w.real + z + 1j * (w.imag + s))
    # At the edge of contact Z' is unbounded but zZ' vanishes.
    zdZ = z * (-1j * Z / np.where(w == 0, 1.0, w))
    return Z.real + zdZ.imag, Z.real - zdZ.imag, -side * zdZ.real


def axis_stress(z: ArrayLike, half_width: float, peak_pressure: float) -> tuple[Array, Array]:
    """Principal stresses σx (across) and σz (along), MPa, below the middle of the contact.

    Depth ``z`` >= 0 in mm, of any shape, which both results have; tension positive. Raises
    ValueError for a negative depth or pressure, or a half-width that is not positive.

    Source: K. L. Johnson, Contact Mechanics, 1985, eqs 4.46 — from memory, not seen: σz = −p0/c
    and σx = −p0((1 + 2s²)/c − 2s) with s = z/a, c = √(1 + s²); the latter is evaluated as
    −p0/(c(c + s)²), the same without cancellation (derived here).

    >>> print(*axis_stress(1.0, 1.0, 1.0))
    -0.1213 -0.7071
    """
    _contact(half_width, peak_pressure)
    check.not_negative(z=z)
    s = np.asarray(z, dtype=float) / half_width
    c = np.hypot(1.0, s)
    # Taken from 0, so that no pressure gives 0, not −0.
    return 0.0 - peak_pressure / (c * (c + s) ** 2), 0.0 - peak_pressure / c


@formula(
    "peak von Mises stress",
    "σvM",
    part=0,
    note="c by ν and the plane state: √((k² + 3t²)(1 − t)/(1 + t)) with k = 1 − 2ν (1 in plane"
    " stress) and t the largest root of 3t³ + 3t² − 3t + k² = 0, at the depth a·t/√(1 − t²); or k,"
    " at the surface, where that is greater",
    source=_JOHNSON.format("eqs 4.46") + "; peak derived here",
)
def peak_von_mises(
    peak_pressure: Pressure, poisson: Poisson, state: State
) -> tuple[Stress, Number]:
    """Greatest von Mises stress in a body under Hertz pressure, and its depth z/a.

    In plane strain at ν = 0.3 it is 0.558 p0 at 0.704 a; in plane stress it is p0 itself, at the
    surface. It lies on the axis, whose stresses are those of :func:`axis_stress`: with k = 1 − 2ν
    (k = 1 in plane stress) σ² = p0²(k² + 3t²)(1 − t)/(1 + t), greatest where
    3t³ + 3t² − 3t + k² = 0, whose largest root is t = (4 cos(θ/3) − 1)/3, cos θ = −(11 + 9k²)/16.
    For k² above 5/9, and for a peak below k p0, the surface governs.

    >>> print(*peak_von_mises(1.0, 0.3, "plane strain"))
    0.55752 0.7043
    """
    c, depth = _von_mises_ratio(poisson, state)
    c = shown("c", c, "c")
    return c * peak_pressure, depth


def _von_mises_ratio(poisson: float, state: State) -> tuple[float, float]:
    k = 1.0 if state == "plane stress" else 1 - 2 * poisson
    if 9 * k**2 <= 5:
        t = (4 * np.cos(np.arccos(-(11 + 9 * k**2) / 16) / 3) - 1) / 3
        inside = np.sqrt((k**2 + 3 * t**2) * (1 - t) / (1 + t))
        if inside > k:
            return float(inside), _depth(t)
    return k, 0.0


@formula(
    "greatest shear stress",
    "τmax",
    part=0,
    note="c by ν and the plane state: in the plane g^(5/2) at the depth a·√g with g = (√5 − 1)/2;"
    " across it (1 + t − 2ν)/2·√((1 − t)/(1 + t)) with t² + t = 2ν (ν = 0 in plane stress), where"
    " that is greater",
    source=_JOHNSON.format("eqs 4.46–4.47") + "; peaks derived here",
)
def peak_max_shear(
    peak_pressure: Pressure, poisson: Poisson, state: State
) -> tuple[Stress, Number]:
    """Greatest shear stress of any plane in a body under Hertz pressure, and its depth z/a.

    The textbook value 0.3003 p0 at 0.786 a is the shear in the plane x–z and governs in plane
    strain for ν above 0.2423. Below that, and always in plane stress (p0/2 at the surface), the
    shear between z and y, along the post, is greater. It lies on the axis, whose stresses are those
    of :func:`axis_stress`: in the plane the shear is p0 t e⁻ᵘ, greatest where t is the golden
    section g; across it, p0 (1 + t − 2ν)e⁻ᵘ/2 is greatest where t² + t = 2ν.

    >>> print(*peak_max_shear(1.0, 0.3, "plane strain"))
    0.300283 0.786151
    """
    c, depth = _max_shear_ratio(poisson, state)
    c = shown("c", c, "c")
    return c * peak_pressure, depth


def _max_shear_ratio(poisson: float, state: State) -> tuple[float, float]:
    nu = 0.0 if state == "plane stress" else poisson
    g = (np.sqrt(5) - 1) / 2
    t = (np.sqrt(1 + 8 * nu) - 1) / 2
    across = (1 - t**2) / 2 * np.sqrt((1 - t) / (1 + t))
    ratio, depth = max((g**2.5, np.sqrt(g)), (across, _depth(t)))
    return float(ratio), float(depth)


@formula(
    "line load at first yield",
    "qY",
    note="c: peak von Mises stress over peak pressure, by ν and the plane state",
    source=_JOHNSON.format("section 6.1, eqs 6.4–6.6"),
)
def first_yield_line_load(
    yield_strength: Stresses, radius: Lengths, E_star: Stresses, poisson: Poisson, state: State
) -> LineLoads:
    """Line load at which the first point below the contact yields after von Mises.

    ν and state are those of the body that yields, as a half-space: neither plate bending nor ring
    bending is in it. The pressure is then that at which :func:`peak_von_mises` reaches Y.

    >>> print(first_yield_line_load(345.0, 50.0, 200e3 / 1.82, 0.3, "plane strain"))
    547.4
    """
    c = shown("c", _von_mises_ratio(poisson, state)[0], "c")
    q = np.pi * radius * (yield_strength / c) ** 2 / E_star
    limited(small_patch(q, radius, E_star))
    return q


def _contact(half_width: float, peak_pressure: float) -> None:
    check.positive(half_width=half_width)
    check.not_negative(peak_pressure=peak_pressure)


def _depth(t: float) -> float:
    """Depth sinh u in half-widths where tanh u = t."""
    return float(t / np.sqrt(1 - t**2))
