"""Line contact pressed together, then pushed sideways by less than full friction.

The normal load q stays as it is while the tangential load Q grows from nothing and stays below µq.
The edges of the contact slip then, and its middle, |x| < c, sticks. Everything follows from the
part of the friction that is used, Q/(µq), here ``mobilised``.

The traction is that of full sliding less one of the same form on the strip that sticks. Axes and
signs as in :mod:`.sliding`: the traction acts towards +x on the body considered.

Valid for two bodies of one material, and as :mod:`.hertz` is; Q grows and does not turn back. If
normal and tangential load grow together in a fixed ratio below µ, nothing slips: the traction is
then Q/q times the pressure, the field that of :mod:`.sliding` with Q/q for µ (Mindlin and
Deresiewicz, Journal of Applied Mechanics 20 (1953) — from memory, not seen).
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, hertz, sliding
from contactfe.hand.check import Array
from contactfe.hand.formula import Limit, formula
from contactfe.hand.sliding import plausible_friction

_SHARE = {"mobilised": ("Q/(µq)", None)}
_SOURCE = (
    "Cattaneo, Rendiconti dell'Accademia dei Lincei 27 (1938); Mindlin, Journal of Applied"
    " Mechanics 16 (1949); K. L. Johnson, Contact Mechanics, 1985, section 7.2: from memory, not"
    " seen"
)


def _rubs(_: object, **given: Any) -> list[Limit]:
    return [plausible_friction(given["friction"])]


@formula(
    name="part of the friction that is used",
    symbol="Q/(µq)",
    form="{tangential_load}/({friction}·{line_load})",
    dimension=None,
    limits=_rubs,
    given={"tangential_load": ("Q", "line load")},
    source="definition",
)
def mobilised_friction(line_load: float, tangential_load: float, friction: float) -> float:
    """Part Q/(µq) of the friction that is used, from 0 to 1, where the contact slides.

    ``line_load`` q and ``tangential_load`` Q in N/mm. Raises ValueError for a line load or
    friction that is not positive, a negative tangential load, or one above µq, which cannot be
    held.

    Source: definition.

    >>> print(mobilised_friction(1000.0, 150.0, 0.3))
    0.5
    """
    check.positive(line_load=line_load, friction=friction)
    check.not_negative(tangential_load=tangential_load)
    if tangential_load > friction * line_load:
        raise ValueError(
            f"tangential_load = {tangential_load!r} is not allowed: it must be at most "
            f"friction × line_load = {friction * line_load!r}, where the contact slides"
        )
    return min(tangential_load / (friction * line_load), 1.0)


@formula(
    name="half-width of the strip that sticks",
    symbol="c",
    form="{half_width}·√(1 − {mobilised})",
    dimension="length",
    given=_SHARE,
    source=_SOURCE,
)
def stick_half_width(half_width: float, mobilised: float) -> float:
    """Half-width c, mm, of the strip in the middle that sticks: c = a √(1 − Q/(µq)).

    ``half_width`` a in mm, ``mobilised`` Q/(µq). Raises ValueError for a half-width that is not
    positive or a ratio outside [0, 1].

    Source: Cattaneo, Rendiconti dell'Accademia dei Lincei 27 (1938); Mindlin, Journal of Applied
    Mechanics 16 (1949); K. L. Johnson, Contact Mechanics, 1985, section 7.2 — from memory, not
    seen.

    >>> print(stick_half_width(2.0, 0.75))
    1.0
    """
    check.positive(half_width=half_width)
    _share(mobilised)
    return float(half_width * np.sqrt(1 - mobilised))


def traction(
    x: ArrayLike, half_width: float, peak_pressure: float, friction: float, mobilised: float
) -> Array:
    """Tangential traction, MPa, towards +x on the body considered, at x mm from the middle.

    µp0 √(1 − x²/a²) where it slips, less (c/a) µp0 √(1 − x²/c²) where it sticks, |x| < c; 0
    outside. ``x`` of any shape, which the result has; ``half_width`` a in mm, ``peak_pressure`` p0
    in MPa, ``mobilised`` Q/(µq). Raises ValueError for a half-width that is not positive, a
    negative pressure or friction, or a ratio outside [0, 1].

    Source: as :func:`stick_half_width`.

    >>> print(traction([0.0, 0.5, 0.8], 1.0, 800.0, 0.25, 0.75))
    [100.  173.205 120.   ]
    """
    check.not_negative(friction=friction)
    q0 = friction * peak_pressure
    slip = hertz.pressure(x, half_width, q0)
    c = stick_half_width.plain(half_width, mobilised)
    return slip - hertz.pressure(x, c, q0 * c / half_width) if c > 0 else slip


def stress_field(
    x: ArrayLike,
    z: ArrayLike,
    half_width: float,
    peak_pressure: float,
    friction: float,
    mobilised: float,
) -> tuple[Array, Array, Array]:
    """Stresses σx, σz, τxz, MPa, in a half-space under Hertz pressure and this traction.

    ``x`` along the surface and depth ``z`` >= 0, mm, of any shapes that broadcast; ``half_width``
    a in mm, ``peak_pressure`` p0 in MPa, ``mobilised`` Q/(µq). Each result has the broadcast
    shape; signs as in :func:`.sliding.friction_stress`. Raises ValueError for a negative depth,
    pressure or friction, a half-width that is not positive, or a ratio outside [0, 1].

    Source: the field of full sliding less that of the second traction (derived here).

    >>> print(*stress_field(-1.0, 0.0, 1.0, 1.0, 0.25, 0.75))
    0.433013 0.0 0.0
    """
    full = sliding.stress_field(x, z, half_width, peak_pressure, friction)
    c = stick_half_width.plain(half_width, mobilised)
    if c == 0:
        return full
    held = sliding.friction_stress(x, z, c, friction * peak_pressure * c / half_width)
    return full[0] - held[0], full[1] - held[1], full[2] - held[2]


@formula(
    name="tension at the edge of a contact in partial slip",
    symbol="σx",
    form="2·{friction}·{peak_pressure}·√({mobilised})",
    dimension="stress",
    limits=_rubs,
    given=_SHARE,
    source=_SOURCE + "; derived here from its two tractions",
)
def edge_stress(peak_pressure: float, friction: float, mobilised: float) -> float:
    """Stress σx, MPa, at the surface where the contact ends behind, x = −a: 2µp0 √(Q/(µq)).

    ``peak_pressure`` p0 in MPa, ``mobilised`` Q/(µq). It is the greatest tension of the field;
    ahead, at x = +a, σx is as large and compressive. Raises ValueError for a negative pressure or
    friction, or a ratio outside [0, 1].

    Source: the two fields of :func:`stress_field` at x = −a (derived here): 2µp0 less
    2µp0 (1 − √(1 − c²/a²)).

    >>> print(edge_stress(800.0, 0.25, 0.25))
    200.0
    """
    _share(mobilised)
    return float(sliding.edge_stress.plain(peak_pressure, friction) * np.sqrt(mobilised))


def _share(mobilised: float) -> None:
    if not 0 <= mobilised <= 1:
        raise ValueError(
            f"mobilised = {mobilised!r} is not allowed: it must lie in [0, 1], as the tangential "
            "load over friction × line load does"
        )
