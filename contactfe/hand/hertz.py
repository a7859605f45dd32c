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

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Given, Limit, at_most, formula

LARGEST_PATCH = 0.1
"""Half-width over radius up to which a round is a half-space at its contact; a much less than R is
the usual bound of Hertz theory: common practice, no source."""

CLOSEST_SOCKET = 10.0
"""Relative radius over that of the round up to which a socket counts as wide. The half-width in it
is a/R1 = 2 p0/E*·R/R1 of the round, and 2 p0/E* = 0.011 at first yield of a steel of 345 MPa, so
a/R1 comes to 0.1 at R/R1 of about 9: derived here, rounded up. In a closer socket the contact
wraps around the round."""

_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, {}: from memory, not seen"


def _modulus_parts(**given: object) -> dict[str, Given]:
    """ν as the plane state takes it: a strip stressed in its own plane only is as one without."""
    counts = given["state"] == "plane strain"
    return {
        name: Given(symbol, float(given[name]) if counts else 0.0)  # type: ignore[arg-type]
        for name, symbol in (("poisson_1", "ν1"), ("poisson_2", "ν2"))
    }


def _small_patch(a: Array, **given: ArrayLike) -> list[Limit]:
    return [at_most("a/R", np.divide(a, given["radius"]), LARGEST_PATCH)]


def small_patch(line_load: ArrayLike, radius: ArrayLike, E_star: ArrayLike) -> Limit:
    """The limit on a/R under a line load in N/mm, with ``radius`` R in mm and ``E_star`` in MPa.

    >>> print(small_patch(1000.0, 50.0, 200e3 / 1.82))
    a/R = 0.01522, at most 0.1
    """
    return _small_patch(half_width.plain(line_load, radius, E_star), radius=radius)[0]


def _loaded_on_a_small_patch(q: Array, **given: ArrayLike) -> list[Limit]:
    return [small_patch(q, given["radius"], given["E_star"])]


def _wide_socket(R: float, **given: float) -> list[Limit]:
    return [at_most("R/R1", R / given["radius_1"], CLOSEST_SOCKET)]


def _pressed_into_a_small_patch(p0: Array, **given: ArrayLike) -> list[Limit]:
    """a/R = 2 p0/E* in every Hertz contact of a line."""
    return [at_most("a/R", np.divide(np.multiply(2.0, p0), given["E_star"]), LARGEST_PATCH)]


@formula(
    name="contact modulus",
    symbol="E*",
    form="1/((1 − {poisson_1}²)/{young_1} + (1 − {poisson_2}²)/{young_2})",
    dimension="stress",
    parts=_modulus_parts,
    source=_JOHNSON.format("section 4.2"),
)
def contact_modulus(
    young_1: float, poisson_1: float, young_2: float, poisson_2: float, state: State
) -> float:
    """Contact modulus E*, MPa, of two touching bodies.

    1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2 in plane strain, 1/E1 + 1/E2 in plane stress; E1, E2 are
    Young's moduli in MPa. Raises ValueError for a modulus that is not positive, ν outside [0, 0.5]
    or an unknown state.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 4.2 — from memory, not seen; for the
    plane stress form each strip is taken as stressed in its own plane only.

    >>> print(contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain"))
    109890.1
    """
    check.positive(young_1=young_1, young_2=young_2)
    check.poisson_ratio(poisson_1=poisson_1, poisson_2=poisson_2)
    check.plane_state(state)
    if state == "plane stress":
        poisson_1 = poisson_2 = 0.0
    return 1 / ((1 - poisson_1**2) / young_1 + (1 - poisson_2**2) / young_2)


@formula(
    name="relative radius",
    symbol="R",
    form="1/(1/{radius_1} + 1/{radius_2})",
    dimension="length",
    limits=_wide_socket,
    source=_JOHNSON.format("section 4.2"),
)
def relative_radius(radius_1: float, radius_2: float = np.inf) -> float:
    """Radius R, mm, of the round that meets a flat as these two rounds meet each other.

    1/R = 1/R1 + 1/R2; a flat has an infinite radius, a socket a negative one. Raises ValueError
    where the two would not touch along a single line (R1 not positive, or the socket not larger
    than the round). Valid for sockets up to R/R1 of 10 (:data:`CLOSEST_SOCKET`).

    Source: K. L. Johnson, Contact Mechanics, 1985, section 4.2 — from memory, not seen.

    >>> print(relative_radius(50.0, 50.0), relative_radius(50.0, -75.0))
    25.0 150.0
    """
    check.positive(radius_1=radius_1)
    if np.isnan(radius_2) or -radius_1 <= radius_2 <= 0:
        raise ValueError(
            f"radius_2 = {radius_2!r} is not allowed: it must be positive (a round), infinite "
            f"(a flat) or less than {-radius_1!r} (a socket)"
        )
    return 1 / (1 / radius_1 + 1 / radius_2)


@formula(
    name="half-width of the contact",
    symbol="a",
    form="√(4·{line_load}·{radius}/(π·{E_star}))",
    dimension="length",
    limits=_small_patch,
    source=_JOHNSON.format("section 4.2(c), eq. 4.43"),
)
def half_width(line_load: ArrayLike, radius: ArrayLike, E_star: ArrayLike) -> Array:
    """Half the width a of the contact, mm: a = √(4qR/(πE*)).

    ``line_load`` q in N/mm, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast. Raises ValueError for a negative load, or a radius or modulus that is not positive.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 4.2(c), eq. 4.43 — from memory, not
    seen. Valid for a/R up to about 0.1.

    >>> print(half_width(1000.0, 50.0, 200e3 / 1.82))
    0.76113
    """
    check.not_negative(line_load=line_load)
    check.positive(radius=radius, E_star=E_star)
    product: Array = np.multiply(line_load, radius, dtype=float)
    return np.sqrt(4 * product / np.multiply(np.pi, E_star))


@formula(
    name="peak pressure",
    symbol="p0",
    form="√({line_load}·{E_star}/(π·{radius}))",
    dimension="stress",
    limits=_pressed_into_a_small_patch,
    source=_JOHNSON.format("section 4.2(c), eq. 4.45"),
)
def peak_pressure(line_load: ArrayLike, radius: ArrayLike, E_star: ArrayLike) -> Array:
    """Contact pressure p0 in the middle, MPa, positive in compression: p0 = √(qE*/(πR)).

    ``line_load`` q in N/mm, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast. It is 4/π times the mean pressure q/(2a). Raises ValueError for a negative load, or
    a radius or modulus that is not positive.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 4.2(c), eq. 4.45 — from memory, not
    seen. Valid for a/R up to about 0.1.

    >>> print(peak_pressure(1000.0, 50.0, 200e3 / 1.82))
    836.41
    """
    check.not_negative(line_load=line_load)
    check.positive(radius=radius, E_star=E_star)
    product: Array = np.multiply(line_load, E_star, dtype=float)
    return np.sqrt(product / np.multiply(np.pi, radius))


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


def _von_mises_part(**given: Any) -> dict[str, Given]:
    return {"c": Given("c", peak_von_mises.plain(1.0, given["poisson"], given["state"])[0])}


def _shear_part(**given: Any) -> dict[str, Given]:
    return {"c": Given("c", peak_max_shear.plain(1.0, given["poisson"], given["state"])[0])}


@formula(
    name="peak von Mises stress",
    symbol="σvM",
    form="{c}·{peak_pressure}",
    dimension="stress",
    part=0,
    parts=_von_mises_part,
    note="c by ν and the plane state: √((k² + 3t²)(1 − t)/(1 + t)) with k = 1 − 2ν (1 in plane"
    " stress) and t the largest root of 3t³ + 3t² − 3t + k² = 0, at the depth a·t/√(1 − t²); or k,"
    " at the surface, where that is greater",
    source=_JOHNSON.format("eqs 4.46") + "; peak derived here",
)
def peak_von_mises(peak_pressure: float, poisson: float, state: State) -> tuple[float, float]:
    """Greatest von Mises stress, MPa, in a body under Hertz pressure, and its depth z/a.

    ``peak_pressure`` p0 in MPa. In plane strain at ν = 0.3 it is 0.558 p0 at 0.704 a; in plane
    stress it is p0 itself, at the surface. It lies on the axis. Raises ValueError for a negative
    pressure, ν outside [0, 0.5] or an unknown state.

    Source: the stresses of :func:`axis_stress`; the peak derived here. With k = 1 − 2ν (k = 1 in
    plane stress) σ² = p0²(k² + 3t²)(1 − t)/(1 + t), greatest where 3t³ + 3t² − 3t + k² = 0, whose
    largest root is t = (4 cos(θ/3) − 1)/3, cos θ = −(11 + 9k²)/16. For k² above 5/9, and for a
    peak below k p0, the surface governs.

    >>> print(*peak_von_mises(1.0, 0.3, "plane strain"))
    0.55752 0.7043
    """
    check.not_negative(peak_pressure=peak_pressure)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    k = 1.0 if state == "plane stress" else 1 - 2 * poisson
    ratio, depth = k, 0.0
    if 9 * k**2 <= 5:
        t = (4 * np.cos(np.arccos(-(11 + 9 * k**2) / 16) / 3) - 1) / 3
        inside = np.sqrt((k**2 + 3 * t**2) * (1 - t) / (1 + t))
        if inside > k:
            ratio, depth = inside, _depth(t)
    return float(ratio * peak_pressure), float(depth)


@formula(
    name="greatest shear stress",
    symbol="τmax",
    form="{c}·{peak_pressure}",
    dimension="stress",
    part=0,
    parts=_shear_part,
    note="c by ν and the plane state: in the plane g^(5/2) at the depth a·√g with g = (√5 − 1)/2;"
    " across it (1 + t − 2ν)/2·√((1 − t)/(1 + t)) with t² + t = 2ν (ν = 0 in plane stress), where"
    " that is greater",
    source=_JOHNSON.format("eqs 4.46–4.47") + "; peaks derived here",
)
def peak_max_shear(peak_pressure: float, poisson: float, state: State) -> tuple[float, float]:
    """Greatest shear stress of any plane, MPa, in a body under Hertz pressure, and its depth z/a.

    ``peak_pressure`` p0 in MPa. The textbook value 0.3003 p0 at 0.786 a is the shear in the plane
    x–z and governs in plane strain for ν above 0.2423. Below that, and always in plane stress
    (p0/2 at the surface), the shear between z and y, along the post, is greater. It lies on the
    axis. Raises ValueError for a negative pressure, ν outside [0, 0.5] or an unknown state.

    Source: the stresses of :func:`axis_stress`; the peaks derived here. In the plane the shear is
    p0 t e⁻ᵘ, greatest where t is the golden section g = (√5 − 1)/2: g^(5/2) p0 at √g a. Across it,
    p0 (1 + t − 2ν)e⁻ᵘ/2 is greatest where t² + t = 2ν.

    >>> print(*peak_max_shear(1.0, 0.3, "plane strain"))
    0.300283 0.786151
    """
    check.not_negative(peak_pressure=peak_pressure)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    nu = 0.0 if state == "plane stress" else poisson
    g = (np.sqrt(5) - 1) / 2
    t = (np.sqrt(1 + 8 * nu) - 1) / 2
    across = (1 - t**2) / 2 * np.sqrt((1 - t) / (1 + t))
    ratio, depth = max((g**2.5, np.sqrt(g)), (across, _depth(t)))
    return float(ratio * peak_pressure), float(depth)


@formula(
    name="line load at first yield",
    symbol="qY",
    form="π·{radius}·({yield_strength}/{c})²/{E_star}",
    dimension="line load",
    limits=_loaded_on_a_small_patch,
    parts=_von_mises_part,
    note="c: peak von Mises stress over peak pressure, by ν and the plane state",
    source=_JOHNSON.format("section 6.1, eqs 6.4–6.6"),
)
def first_yield_line_load(
    yield_strength: ArrayLike, radius: ArrayLike, E_star: ArrayLike, poisson: float, state: State
) -> Array:
    """Line load q, N/mm, at which the first point below the contact yields after von Mises.

    ``yield_strength`` Y in MPa, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast; ν and state are those of the body that yields. q = πR p0²/E* with p0 the pressure at
    which :func:`peak_von_mises` reaches Y. Raises ValueError for a strength, radius or modulus
    that is not positive, ν outside [0, 0.5] or an unknown state.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 6.1, eqs 6.4–6.6 — from memory, not
    seen. A half-space: neither plate bending nor ring bending is in it. Valid for a/R up to about
    0.1 under that load.

    >>> print(first_yield_line_load(345.0, 50.0, 200e3 / 1.82, 0.3, "plane strain"))
    547.4
    """
    check.positive(yield_strength=yield_strength, radius=radius, E_star=E_star)
    ratio, _ = peak_von_mises.plain(1.0, poisson, state)
    p0 = np.asarray(yield_strength, dtype=float) / ratio
    load: Array = np.pi * p0**2 * np.divide(radius, E_star)
    return load


def _contact(half_width: float, peak_pressure: float) -> None:
    check.positive(half_width=half_width)
    check.not_negative(peak_pressure=peak_pressure)


def _depth(t: float) -> float:
    """Depth sinh u in half-widths where tanh u = t."""
    return float(t / np.sqrt(1 - t**2))
