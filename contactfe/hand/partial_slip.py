"""Line contact pressed together, then pushed sideways by less than full friction.

The normal load q stays as it is while the tangential load Q grows from nothing and stays below µq.
The edges of the contact slip then, and its middle, |x| < c, sticks. Everything follows from the
part of the friction that is used, Q/(µq) from 0 to 1, here ``mobilised``.

Valid for two bodies of one material, and as :mod:`.hertz` is; Q grows and does not turn back. If
normal and tangential load grow together in a fixed ratio below µ, nothing slips (Mindlin and
Deresiewicz, Journal of Applied Mechanics 20 (1953) — from memory, not seen).

Source of both functions: Cattaneo, Rendiconti dell'Accademia dei Lincei 27 (1938); Mindlin, Journal
of Applied Mechanics 16 (1949); K. L. Johnson, Contact Mechanics, 1985, section 7.2 — from memory,
not seen.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, hertz
from contactfe.hand.check import Array


def stick_half_width(half_width: float, mobilised: float) -> float:
    """Half-width c, mm, of the strip in the middle that sticks: c = a √(1 − Q/(µq)).

    ``half_width`` a in mm. Raises ValueError for a half-width that is not positive or a ratio
    outside [0, 1].

    >>> print(stick_half_width(2.0, 0.75))
    1.0
    """
    check.positive(half_width=half_width)
    if not 0 <= mobilised <= 1:
        raise ValueError(
            f"mobilised = {mobilised!r} is not allowed: it must lie in [0, 1], as the tangential "
            "load over friction × line load does"
        )
    return float(half_width * np.sqrt(1 - mobilised))


def traction(
    x: ArrayLike, half_width: float, peak_pressure: float, friction: float, mobilised: float
) -> Array:
    """Tangential traction, MPa, towards +x on the body considered, at x mm from the middle.

    µp0 √(1 − x²/a²) where it slips, less (c/a) µp0 √(1 − x²/c²) where it sticks; 0 outside. ``x``
    of any shape, which the result has; ``half_width`` a in mm, ``peak_pressure`` p0 in MPa. Raises
    ValueError as :func:`stick_half_width`, and for a negative pressure or friction.

    >>> print(traction([0.0, 0.5, 0.8], 1.0, 800.0, 0.25, 0.75))
    [100.  173.205 120.   ]
    """
    check.not_negative(friction=friction)
    q0 = friction * peak_pressure
    slip = hertz.pressure(x, half_width, q0)
    c = stick_half_width(half_width, mobilised)
    return slip - hertz.pressure(x, c, q0 * c / half_width) if c > 0 else slip
