"""Hoop stress of a tube under a line load, as a thin ring or as a curved beam.

The ring has no radius of contact: near the load the stress is that of a line, so only the bore, a
wall away from it, is meant there. Moments and normal forces are those of :mod:`.ring`, whose words
and symbols hold here too. Angles are from the load line, tension is positive.

How far both are off the exact hoop stress at the bore, :func:`.thick_ring.bore_hoop` at ν = 0.3, in
percent, for walls of 0.1, 0.2, 0.3, 0.5 radius:

- thin ring, low as the inner fibres are short: 2, 4, 6, 11 under diametral loads and 2, 3, 5, 10
  under beam shear below the load; 4, 8, 13, 25 at 90° from it;
- curved beam, high below the load, as it leaves out the load's own local pressure: 1.5, 3, 5, 10
  under diametral loads, 2, 5, 8, 16 under beam shear; low by 3 at most at 90°.
"""

from collections.abc import Iterator, Mapping
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import HeldBy
from contactfe.hand.formula import Limit, at_least, formula, limited, shown
from contactfe.hand.quantities import Angles, Length, LineLoad, Stresses
from contactfe.hand.ring import (
    STATICS,
    THINNEST,
    bending_moment,
    folded,
    neutral_shift,
    normal_force,
    wall_limit,
)

Surface = Literal["bore", "outside"]

CURVED_BEAM: Mapping[str, float] = {"diametral": 0.68, "beam shear": 0.44}
"""Wall over mean radius up to which a curved beam keeps within 10 % of the exact hoop stress at the
bore, under the load and at 90°: measured against :func:`.thick_ring.bore_hoop` at ν = 0.3."""

CLEAR_OF_THE_LOAD = 0.6
"""Distance from the load along the outside, in walls, beyond which ring formulas hold there too:
the curved beam to 10 % of the greatest stress at the bore, within its range. Measured against
:func:`.thick_ring.stress`; nearer by, the stress is that of the load's own contact."""


def _range(
    bound: float, radius: float, wall: float, angle: ArrayLike, held_by: HeldBy, surface: Surface
) -> Iterator[Limit]:
    """How thick the wall is, and on the outside how clear of the loads."""
    yield wall_limit(radius, wall, bound)
    if surface == "outside":
        phi = folded(angle)
        nearest = np.minimum(phi, np.pi - phi) if held_by == "diametral" else phi
        what = "φ·ro/h, distance from the load on the outside"
        yield at_least(what, nearest * radius / wall, CLEAR_OF_THE_LOAD)


@formula(
    "hoop stress, thin ring",
    "σθ",
    source=STATICS,
    symbols={"radius": "ro"},
    note="M and N of the ring of R = ro − h/2; s = 1 at the bore, −1 outside",
)
def thin_ring_hoop(
    line_load: LineLoad,
    radius: Length,
    wall: Length,
    angle: Angles,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Stresses:
    """Hoop stress of a tube taken as a thin ring, with straight-beam bending.

    Range: :data:`.ring.THINNEST` and, on the outside, :data:`CLEAR_OF_THE_LOAD`.
    """
    check.tube_wall(radius, wall)
    M = bending_moment.plain(line_load, radius - wall / 2, angle, held_by)
    moment = shown("moment", M, "M", "moment per length")
    normal = shown("normal", normal_force.plain(line_load, angle, held_by), "N", "line load")
    inward = shown("inward", 1.0 if surface == "bore" else -1.0, "s")
    limited(*_range(THINNEST, radius, wall, angle, held_by, surface))
    return normal / wall + inward * 6 * moment / wall**2


@formula(
    "hoop stress, curved beam",
    "σθ",
    source="Winkler and Bach's curved beam: any text on strength of materials; M and N: " + STATICS,
    symbols={"radius": "ro"},
    note="M and N of the ring of R = ro − h/2 with e = R − rn, rn = h/ln(ro/ri); r = ri at the"
    " bore, ro outside",
)
def curved_beam_hoop(
    line_load: LineLoad,
    radius: Length,
    wall: Length,
    angle: Angles,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Stresses:
    """Hoop stress of a tube taken as a curved beam.

    The beam shear is lumped on the mean circle, and its mean moment corrected by k2 as that of
    diametral loads (derived here). Range: :data:`CURVED_BEAM`, :data:`CLEAR_OF_THE_LOAD`.

    >>> print(curved_beam_hoop(1000.0, 84.15, 21.95, 0.0, "diametral"))
    319.7
    """
    check.tube_wall(radius, wall)
    mean_radius = shown("mean_radius", radius - wall / 2, "R", "length")
    shift = shown("shift", neutral_shift.plain(radius, wall), "e", "length")
    M = bending_moment.plain(line_load, mean_radius, angle, held_by, shift)
    moment = shown("moment", M, "M", "moment per length")
    normal = shown("normal", normal_force.plain(line_load, angle, held_by), "N", "line load")
    neutral = shown("neutral", mean_radius - shift, "rn", "length")
    r = shown("r", radius - wall if surface == "bore" else radius, "r", "length")
    limited(*_range(CURVED_BEAM[held_by], radius, wall, angle, held_by, surface))
    return normal / wall + moment * (neutral - r) / (wall * shift * r)
