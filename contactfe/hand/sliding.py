"""Line contact that slides: stress under Hertz pressure p and the friction traction µp with it.

x runs along the surface from the middle of the contact, z is the depth into the body considered.
The friction acts on that body towards +x: its side x > 0 lies ahead and is pressed together, its
side x < 0 lies behind and is stretched. On the other body the friction acts towards −x, so its
field is the mirror image, with x and τxz of opposite sign.

Valid as :mod:`.hertz` is, while the pressure stays that of Hertz: for two bodies of one material
friction does not change it; for unlike ones their normal and tangential movements are coupled and
that coupling is left out here. Friction coefficients up to 1 (:data:`LARGEST_FRICTION`).
"""

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, hertz, stress
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Given, Limit, at_most, formula
from contactfe.hand.search import greatest

LARGEST_FRICTION = 1.0
"""Coulomb's coefficient up to which it is one: dry metals stay below it unless they seize; common
practice, no source. The searches of these formulas have been tried up to 3."""

_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, section 7.1: from memory, not seen"
_FIELD = (
    "McEwen, Philosophical Magazine 40 (1949); Smith and Liu, Journal of Applied Mechanics 20"
    " (1953): from memory, not seen; peak derived here"
)


def plausible_friction(friction: ArrayLike) -> Limit:
    """The limit on Coulomb's coefficient.

    >>> print(plausible_friction(0.3))
    µ = 0.3, at most 1
    """
    return at_most("µ", friction, LARGEST_FRICTION)


def _rubs(_: object, **given: Any) -> list[Limit]:
    return [plausible_friction(given["friction"])]


def _rubs_on_a_small_patch(q: Array, **given: Any) -> list[Limit]:
    patch = hertz.small_patch(q, given["radius"], given["E_star"])
    return [patch, plausible_friction(given["friction"])]


def _peak_part(**given: Any) -> dict[str, Given]:
    ratio, _, _ = _peak(float(given["friction"]), float(given["poisson"]), given["state"])
    return {"c": Given("c", ratio)}


def friction_stress(
    x: ArrayLike, z: ArrayLike, half_width: float, peak_traction: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, in a half-space under the tangential traction alone.

    The traction is q0 √(1 − x²/a²) towards +x on the body considered. ``x`` along the surface and
    depth ``z`` >= 0, mm, of any shapes that broadcast; ``half_width`` a in mm, ``peak_traction``
    q0 in MPa. Each result has the broadcast shape. Tension positive; τxz is positive on the face
    of outward normal +x where it acts towards +z, so at the surface it is minus the traction. The
    same in plane strain and plane stress. Raises ValueError for a negative depth or traction, or a
    half-width that is not positive.

    Source: Smith and Liu, Journal of Applied Mechanics 20 (1953), and K. L. Johnson, Contact
    Mechanics, 1985, section 7.1 — from memory, not seen. Written here by the Hertz field of the
    same peak (derived here): σz = τ and τxz = σ, where σ and τ are the σx and τxz of
    :func:`.hertz.stress_field`, and σx = −2 Im Z − τ with its function Z, because σx + σz is
    harmonic with Hertz's 2 Re Z as its conjugate.

    >>> print(*friction_stress(0.3, 0.5, 1.0, 1.0))
    -0.216604 -0.107117 -0.329716
    """
    across, _, shear = hertz.stress_field(x, z, half_width, peak_traction)
    s, depth = np.broadcast_arrays(
        np.asarray(x, dtype=float) / half_width, np.asarray(z, dtype=float) / half_width
    )
    # As in the Hertz field, |x| makes every part a sum of terms of one sign. Im Z is odd in x.
    side, s = np.sign(s), np.abs(s)
    w = np.sqrt((1 - s) * (1 + s) + depth**2 + 2j * s * depth)
    v = w.real + depth + 1j * (w.imag + s)
    conjugate = peak_traction * side * v.imag / (v.real**2 + v.imag**2)
    return -2 * conjugate - shear, shear, across


def stress_field(
    x: ArrayLike, z: ArrayLike, half_width: float, peak_pressure: float, friction: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, in a half-space under Hertz pressure p and the traction µp.

    ``x`` along the surface and depth ``z`` >= 0, mm, of any shapes that broadcast; ``half_width``
    a in mm, ``peak_pressure`` p0 in MPa, ``friction`` µ of 0 or more. Each result has the
    broadcast shape. The traction acts towards +x on the body considered; signs as in
    :func:`friction_stress`. Raises ValueError for a negative depth, pressure or friction, or a
    half-width that is not positive.

    Source: the sum of :func:`.hertz.stress_field` and :func:`friction_stress`.

    >>> print(*stress_field(0.3, 0.5, 1.0, 1.0, 0.5))
    -0.438017 -0.895553 -0.271975
    """
    check.not_negative(friction=friction)
    sx, sz, txz = hertz.stress_field(x, z, half_width, peak_pressure)
    shear = friction_stress(x, z, half_width, friction * peak_pressure)
    return sx + shear[0], sz + shear[1], txz + shear[2]


def surface_stress(x: ArrayLike, half_width: float, peak_pressure: float, friction: float) -> Array:
    """Stress σx, MPa, along the surface, at x mm from the middle of the contact.

    −p − 2µp0 x/a inside, with p the pressure there, and −2µp0 (x/a ∓ √(x²/a² − 1)) outside, the
    upper sign ahead (x > a), the lower behind (x < −a). With σz = −p and τxz = −µp it is the whole
    state there. ``x`` of any shape, which the result has; ``half_width`` a in mm,
    ``peak_pressure`` p0 in MPa. Tension positive. Raises ValueError for a negative pressure or
    friction, or a half-width that is not positive.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 7.1 — from memory, not seen.

    >>> print(surface_stress([-1.0, 0.0, 1.0, 1.25], 1.0, 800.0, 0.25))
    [ 400. -800. -400. -200.]
    """
    check.not_negative(friction=friction)
    pressure = hertz.pressure(x, half_width, peak_pressure)
    s = np.asarray(x, dtype=float) / half_width
    inside, outside = np.minimum(np.abs(s), 1.0), np.maximum(np.abs(s), 1.0)
    # 1/(s + √(s² − 1)) is s − √(s² − 1) without the loss of digits far from the contact.
    form = inside / (outside + np.sqrt((outside - 1) * (outside + 1)))
    tangential: Array = 2 * friction * peak_pressure * np.sign(s) * form
    return -pressure - tangential


def axis_stress(
    z: ArrayLike, half_width: float, peak_pressure: float, friction: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, below the middle of the contact.

    Friction leaves σx and σz there as they are and adds τxz = µ σx. Depth ``z`` >= 0 in mm, of any
    shape, which each result has; ``half_width`` a in mm, ``peak_pressure`` p0 in MPa. Tension
    positive. Raises ValueError for a negative depth, pressure or friction, or a half-width that is
    not positive.

    Source: :func:`.hertz.axis_stress` and the field of :func:`friction_stress` at x = 0 (derived
    here).

    >>> print(*axis_stress(1.0, 1.0, 1.0, 0.3))
    -0.12132 -0.707107 -0.0363961
    """
    check.not_negative(friction=friction)
    sx, sz = hertz.axis_stress(z, half_width, peak_pressure)
    return sx, sz, friction * sx


@formula(
    name="tension at the edge of a sliding contact",
    symbol="σx",
    form="2·{friction}·{peak_pressure}",
    dimension="stress",
    limits=_rubs,
    source=_JOHNSON,
)
def edge_stress(peak_pressure: ArrayLike, friction: ArrayLike) -> Array:
    """Stress σx, MPa, at the surface where the contact ends behind, x = −a: +2µp0.

    It is the greatest tension of the field; ahead, at x = +a, σx is as large and compressive.
    ``peak_pressure`` p0 in MPa and ``friction`` µ of any shapes that broadcast. Raises ValueError
    for a negative pressure or friction.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 7.1 — from memory, not seen.

    >>> print(edge_stress(800.0, 0.25))
    400.0
    """
    check.not_negative(peak_pressure=peak_pressure, friction=friction)
    product: Array = np.multiply(peak_pressure, friction, dtype=float)
    return 2 * product


@formula(
    name="peak von Mises stress in full sliding",
    symbol="σvM",
    form="{c}·{peak_pressure}",
    dimension="stress",
    limits=_rubs,
    part=0,
    parts=_peak_part,
    note="c by µ, ν and the plane state: √(k²(1 + µ²) + 3µ²) with k = 1 − 2ν (1 in plane stress),"
    " at the surface, or the greatest value below it, found by a search of the field",
    source=_FIELD,
)
def peak_von_mises(
    peak_pressure: float, friction: float, poisson: float, state: State
) -> tuple[float, float, float]:
    """Greatest von Mises stress, MPa, in a body that slides, and its place x/a, z/a.

    ``peak_pressure`` p0 in MPa, ``friction`` µ. Below the surface the peak lies ahead of the
    middle and comes nearer as µ grows; at µ = 0.263 (plane strain, ν = 0.3) the surface takes
    over. For ν = 0.5 it is then the same all along the contact, and the place that of smaller ν.
    Value to rounding, place below the surface to 1e-6 of a. Raises ValueError for a negative
    pressure or friction, ν outside [0, 0.5] or an unknown state.

    Source: the field of :func:`stress_field`. At the surface, with x = a sin φ, k = 1 − 2ν (k = 1
    in plane stress), σ² = p0²(k²(cos φ + µ sin φ)² + 3µ²), so the peak is p0 √(k²(1 + µ²) + 3µ²)
    at x = µa/√(1 + µ²) (derived here). Below it, a search.

    >>> print(*peak_von_mises(1.0, 0.2, 0.3, "plane strain"))
    0.589993 0.55334 0.56598
    >>> print(*peak_von_mises(1.0, 0.5, 0.3, "plane strain"))
    0.974679 0.447214 0.0
    """
    check.not_negative(peak_pressure=peak_pressure, friction=friction)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    ratio, x, z = _peak(float(friction), float(poisson), state)
    return ratio * peak_pressure, x, z


@cache
def _peak(friction: float, poisson: float, state: State) -> tuple[float, float, float]:
    """The peak for p0 = 1 and its place; kept, as a search takes some hundredths of a second."""
    k = 1.0 if state == "plane stress" else 1 - 2 * poisson
    surface = np.sqrt(k**2 * (1 + friction**2) + 3 * friction**2)

    def measure(x: Array, z: Array) -> Array:
        return stress.von_mises(*stress_field(x, z, 1.0, 1.0, friction), poisson, state)

    # A peak shallower than 0.1 a, found only above µ = 0.38, is lower than that at the surface.
    inside, x, z = greatest(measure, (0.0, 1.2), (0.1, 1.3))
    if inside > surface:
        return inside, x, z
    return float(surface), float(friction / np.hypot(1, friction)), 0.0


@formula(
    name="peak pressure at first yield in full sliding",
    symbol="pY",
    form="{yield_strength}/{c}",
    dimension="stress",
    limits=_rubs,
    parts=_peak_part,
    note="c: peak von Mises stress over peak pressure, by µ, ν and the plane state",
    source=_FIELD,
)
def first_yield_peak_pressure(
    yield_strength: ArrayLike, friction: float, poisson: float, state: State
) -> Array:
    """Peak pressure p0, MPa, at which the first point of a sliding body yields after von Mises.

    ``yield_strength`` Y in MPa, of any shape, which the result has; ν and state are those of the
    body that yields. Raises ValueError for a strength that is not positive, negative friction, ν
    outside [0, 0.5] or an unknown state.

    Source: the pressure at which :func:`peak_von_mises` reaches Y.

    >>> print(first_yield_peak_pressure(345.0, 0.2, 0.3, "plane strain"))
    584.75
    """
    check.positive(yield_strength=yield_strength)
    ratio, _, _ = peak_von_mises.plain(1.0, friction, poisson, state)
    return np.divide(yield_strength, ratio, dtype=float)


@formula(
    name="line load at first yield in full sliding",
    symbol="qY",
    form="π·{radius}·({yield_strength}/{c})²/{E_star}",
    dimension="line load",
    limits=_rubs_on_a_small_patch,
    parts=_peak_part,
    note="c: peak von Mises stress over peak pressure, by µ, ν and the plane state",
    source=_FIELD + "; load by K. L. Johnson, Contact Mechanics, 1985, eq. 6.6: from memory,"
    " not seen",
)
def first_yield_line_load(
    yield_strength: ArrayLike,
    radius: ArrayLike,
    E_star: ArrayLike,
    friction: float,
    poisson: float,
    state: State,
) -> Array:
    """Line load q, N/mm, at which the first point of a sliding body yields after von Mises.

    ``yield_strength`` Y in MPa, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast; q = πR p0²/E* with p0 of :func:`first_yield_peak_pressure`. Raises ValueError for a
    strength, radius or modulus that is not positive, negative friction, ν outside [0, 0.5] or an
    unknown state.

    Source: as :func:`.hertz.first_yield_line_load`, which it equals at µ = 0. A half-space:
    neither plate bending nor ring bending is in it. Valid for a/R up to about 0.1 under that load.

    >>> print(first_yield_line_load(345.0, 50.0, 200e3 / 1.82, 0.2, 0.3, "plane strain"))
    488.8
    """
    check.positive(radius=radius, E_star=E_star)
    p0 = first_yield_peak_pressure.plain(yield_strength, friction, poisson, state)
    load: Array = np.pi * p0**2 * np.divide(radius, E_star)
    return load
