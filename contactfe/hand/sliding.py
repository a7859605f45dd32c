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

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, hertz, stress
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Limit, at_most, formula, limited, shown
from contactfe.hand.quantities import (
    Friction,
    Lengths,
    LineLoads,
    Number,
    Poisson,
    Pressure,
    Stress,
    Stresses,
)
from contactfe.hand.search import greatest

LARGEST_FRICTION = 1.0
"""Coulomb's coefficient up to which it is one: dry metals stay below it unless they seize; common
practice, no source. The searches of these formulas have been tried up to 3."""

_FIELD = (
    "McEwen, Philosophical Magazine 40 (1949); Smith and Liu, Journal of Applied Mechanics 20"
    " (1953): from memory, not seen; peak derived here"
)


def plausible_friction(friction: ArrayLike) -> Limit:
    """The limit on Coulomb's coefficient."""
    return at_most("µ", friction, LARGEST_FRICTION)


def friction_stress(
    x: ArrayLike, z: ArrayLike, half_width: float, peak_traction: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, in a half-space under the tangential traction alone.

    The traction is q0 √(1 − x²/a²) towards +x on the body considered. ``x`` along the surface and
    depth ``z`` >= 0, mm, of any shapes that broadcast, as each result is; ``half_width`` a in mm,
    ``peak_traction`` q0 in MPa. Tension positive; τxz is positive on the face of outward normal +x
    where it acts towards +z, so at the surface it is minus the traction. The same in plane strain
    and plane stress. Raises ValueError for a negative depth or traction, or a half-width that is
    not positive.

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

    The sum of :func:`.hertz.stress_field` and :func:`friction_stress`, with axes, signs and errors
    as there, and ValueError for negative friction.
    """
    check.not_negative(friction=friction)
    sx, sz, txz = hertz.stress_field(x, z, half_width, peak_pressure)
    shear = friction_stress(x, z, half_width, friction * peak_pressure)
    return sx + shear[0], sz + shear[1], txz + shear[2]


@formula(
    "tension at the edge of a sliding contact",
    "σx",
    source="K. L. Johnson, Contact Mechanics, 1985, section 7.1: from memory, not seen",
)
def edge_stress(peak_pressure: Pressure, friction: Friction) -> Stress:
    """Stress along the surface where the contact ends behind: the greatest tension of the field.

    Ahead it is as large and compressive.
    """
    limited(plausible_friction(friction))
    return 2 * friction * peak_pressure


@formula(
    "peak von Mises stress in full sliding",
    "σvM",
    part=0,
    note="c by µ, ν and the plane state: √(k²(1 + µ²) + 3µ²) with k = 1 − 2ν (1 in plane stress),"
    " at the surface, or the greatest value below it, found by a search of the field",
    source=_FIELD,
)
def peak_von_mises(
    peak_pressure: Pressure, friction: Friction, poisson: Poisson, state: State
) -> tuple[Stress, Number, Number]:
    """Greatest von Mises stress in a body that slides, and its place x/a, z/a.

    Below the surface the peak lies ahead of the middle and comes nearer as µ grows; at µ = 0.263
    (plane strain, ν = 0.3) the surface takes over. For ν = 0.5 it is then the same all along the
    contact, and the place that of smaller ν. Value to rounding, place below the surface to 1e-6 of
    a.

    >>> print(*peak_von_mises(1.0, 0.2, 0.3, "plane strain"))
    0.589993 0.55334 0.56598
    """
    ratio, x, z = _peak(float(friction), float(poisson), state)
    c = shown("c", ratio, "c")
    limited(plausible_friction(friction))
    return c * peak_pressure, x, z


@cache
def _peak(friction: float, poisson: float, state: State) -> tuple[float, float, float]:
    """The peak for p0 = 1 and its place; kept, as a search takes some hundredths of a second.

    At the surface, with x = a sin φ, σ² = p0²(k²(cos φ + µ sin φ)² + 3µ²), which peaks at
    x = µa/√(1 + µ²) (derived here).
    """
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
    "line load at first yield in full sliding",
    "qY",
    note="c: peak von Mises stress over peak pressure, by µ, ν and the plane state",
    source=_FIELD + "; load by K. L. Johnson, Contact Mechanics, 1985, eq. 6.6: from memory,"
    " not seen",
)
def first_yield_line_load(
    yield_strength: Stresses,
    radius: Lengths,
    E_star: Stresses,
    friction: Friction,
    poisson: Poisson,
    state: State,
) -> LineLoads:
    """Line load at which the first point of a sliding body yields after von Mises.

    ν and state are those of the body that yields, as a half-space: neither plate bending nor ring
    bending is in it. Without friction it is :func:`.hertz.first_yield_line_load`.

    >>> print(first_yield_line_load(345.0, 50.0, 200e3 / 1.82, 0.2, 0.3, "plane strain"))
    488.8
    """
    c = shown("c", _peak(float(friction), float(poisson), state)[0], "c")
    q = np.pi * radius * (yield_strength / c) ** 2 / E_star
    limited(hertz.small_patch(q, radius, E_star), plausible_friction(friction))
    return q
