"""Repeated loading above first yield: up to which pressure yielding stops after a few strikes.

Above first yield the first strikes leave residual stresses. If some field of them keeps every
later state within yield, yielding comes to an end and the steel answers elastically from then on
(Melan's theorem, for an elastic and perfectly plastic body). Above the limit each strike adds to
the strain.

The load of these formulas traverses the surface: it passes over every place. Residual stresses
that are the same everywhere along the surface can then only be σx and σy, not σz or τxz, so
|τxz| <= k must hold by itself, with k the shear strength; and where it does, σx and σy can be
found that bring the rest within yield.

What it means for a stop (derived here, by the same theorem). The residual field found for a
traversing load also serves strikes at one place or at any number of places, of any size up to the
limit, with any friction up to µ in either direction: they are all among the states it covers or
lie between them. So below the limit, repeated strikes cease to yield the contact. It is safe, not
exact, for strikes that always meet the same place, where residual σz and τxz can help too; the
hardening of steel and the flattening of the first strikes help in either case. The first strikes
do yield: the limit is no elastic check, and says nothing of fatigue.

Plane strain and a half-space under Hertz pressure: neither plate bending nor ring bending is in it.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, sliding
from contactfe.hand.check import Array
from contactfe.hand.search import greatest


def orthogonal_shear(friction: float) -> tuple[float, float, float]:
    """Greatest |τxz|/p0 under Hertz pressure p and the traction µp, and its place x/a, z/a.

    Without friction 1/4 at x = ±0.866 a, z = 0.5 a. With it the place ahead governs, until at
    µ = 0.367 the traction itself, µ at the middle of the surface, is greater. Raises ValueError
    for negative friction.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 9.2 — from memory, not seen; found here
    by a search of :func:`.sliding.stress_field`.

    >>> print(*orthogonal_shear(0.2))
    0.312269 0.863686 0.414692
    """
    check.not_negative(friction=friction)

    def measure(x: Array, z: Array) -> Array:
        _, _, shear = sliding.stress_field(x, z, 1.0, 1.0, friction)
        size: Array = np.abs(shear)
        return size

    inside, x, z = greatest(measure, (0.0, 1.2), (0.1, 1.3))
    return (inside, x, z) if inside > friction else (friction, 0.0, 0.0)


def limit_peak_pressure(yield_strength: ArrayLike, friction: float) -> Array:
    """Peak pressure p0, MPa, up to which a body shakes down under a load that traverses.

    4k without friction, which is 2.31 times the yield strength and 1.29 times the pressure at
    first yield (ν = 0.3); k/µ above µ = 0.367. ``yield_strength`` Y in MPa, of any shape, which
    the result has; k = Y/√3 after von Mises. Raises ValueError for a strength that is not positive
    or negative friction.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 9.2 — from memory, not seen:
    p0 = k/max(|τxz|/p0). Residual σx and σy sought depth by depth for ν = 0.3 (derived here)
    confirm it where a place below the surface governs, and at the surface after Tresca with the
    same k. After von Mises the surface allows less, from µ = 0.31 on: 8 % less than k/µ at
    µ = 0.367, 6 % less at 0.5.

    >>> print(limit_peak_pressure(345.0, 0.0))
    796.74
    """
    check.positive(yield_strength=yield_strength)
    ratio, _, _ = orthogonal_shear(friction)
    p0: Array = np.divide(yield_strength, np.sqrt(3) * ratio, dtype=float)
    return p0


def limit_line_load(
    yield_strength: ArrayLike, radius: ArrayLike, E_star: ArrayLike, friction: float
) -> Array:
    """Line load q, N/mm, up to which a body shakes down under a load that traverses.

    ``yield_strength`` Y in MPa, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast; q = πR p0²/E* with p0 of :func:`limit_peak_pressure`, whose source and limits hold
    here too. Raises ValueError for a strength, radius or modulus that is not positive, or negative
    friction.

    >>> print(limit_line_load(345.0, 50.0, 200e3 / 1.82, 0.0))
    907.4
    """
    check.positive(radius=radius, E_star=E_star)
    p0 = limit_peak_pressure(yield_strength, friction)
    load: Array = np.pi * p0**2 * np.divide(radius, E_star)
    return load
