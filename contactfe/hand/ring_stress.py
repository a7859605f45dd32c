"""Hoop stress of a tube under a line load, as a thin ring or as a curved beam.

The ring has no radius of contact: near the load the stress is that of a line, so only the bore, a
wall away from it, is meant there. Moments and normal forces are those of :mod:`.ring`, whose words
and symbols hold here too.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy
from contactfe.hand.formula import Given, Limit, at_least, formula
from contactfe.hand.ring import (
    STATICS,
    THINNEST,
    TUBE,
    folded,
    neutral_shift,
    section_forces,
    shift_parts,
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


def _clear(angle: ArrayLike, radius: float, wall: float, held_by: HeldBy) -> Limit:
    """That a place on the outside is clear of the loads."""
    phi = folded(angle)
    nearest = np.minimum(phi, np.pi - phi) if held_by == "diametral" else phi
    what = "φ·ro/h, distance from the load on the outside"
    return at_least(what, nearest * radius / wall, CLEAR_OF_THE_LOAD)


def _ring_limits(bound: float, **given: Any) -> Iterator[Limit]:
    radius, wall = given["radius"], given["wall"]
    yield wall_limit(radius, wall, bound)
    if given["surface"] == "outside":
        yield _clear(given["angle"], radius, wall, given["held_by"])


def _thin_parts(**given: Any) -> dict[str, Given]:
    q, at, held_by = given["line_load"], given["angle"], given["held_by"]
    moment, normal = section_forces(q, given["radius"] - given["wall"] / 2, at, held_by)
    return {
        "moment": Given("M", float(moment), "moment per length"),
        "normal": Given("N", float(normal), "line load"),
        "inward": Given("s", 1.0 if given["surface"] == "bore" else -1.0),
    }


@formula(
    name="hoop stress, thin ring",
    symbol="σθ",
    form="{normal}/{wall} + {inward}·6·{moment}/{wall}²",
    dimension="stress",
    given={**TUBE, "angle": ("φ", "angle")},
    parts=_thin_parts,
    limits=lambda _, **given: _ring_limits(THINNEST, **given),
    source=STATICS,
    note="M and N of the ring of R = ro − h/2; s = 1 at the bore, −1 outside",
)
def thin_ring_hoop(
    line_load: float,
    radius: float,
    wall: float,
    angle: ArrayLike,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Array:
    """Hoop stress, MPa, of a tube taken as a thin ring: ±6M/h² + N/h.

    ``line_load`` q in N/mm, outside ``radius`` and ``wall`` h in mm, ``angle`` in radians from the
    load line, of any shape, which the result has; tension positive, + at the bore. Raises
    ValueError for a negative load, a wall not between 0 and the radius, or an unknown support
    or surface.

    Valid for h/R up to 0.1 and, on the outside, clear of the load by 0.6 of a wall; see
    :data:`.ring.THINNEST` and :data:`CLEAR_OF_THE_LOAD`.

    Source: :func:`.ring.section_forces` on the mean radius with straight-beam bending. Against
    :func:`.thick_ring.bore_hoop` at ν = 0.3 it is low, as the inner fibres are short: by 2, 4, 6,
    11 % under diametral loads for walls of 0.1, 0.2, 0.3, 0.5 radius, by 2, 3, 5, 10 % under beam
    shear, and by 4, 8, 13, 25 % at 90° from the load.

    >>> print(thin_ring_hoop(1000.0, 100.0, 9.0, 0.0, "diametral"))
    2251.7
    """
    check.tube_wall(radius, wall)
    check.face(surface)
    moment, normal = section_forces(line_load, radius - wall / 2, angle, held_by)
    inward = 1 if surface == "bore" else -1
    return normal / wall + inward * 6 * moment / wall**2


def _curved_parts(**given: Any) -> dict[str, Given]:
    radius, wall = given["radius"], given["wall"]
    parts = shift_parts(**given)
    mean, shift = radius - wall / 2, neutral_shift.plain(radius, wall)
    q, at, held_by = given["line_load"], given["angle"], given["held_by"]
    moment, normal = section_forces(q, mean, at, held_by, shift)
    return {
        **parts,
        "moment": Given("M", float(moment), "moment per length"),
        "normal": Given("N", float(normal), "line load"),
        "neutral": Given("rn", mean - shift, "length"),
        "r": Given("r", radius - wall if given["surface"] == "bore" else radius, "length"),
    }


@formula(
    name="hoop stress, curved beam",
    symbol="σθ",
    form="{normal}/{wall} + {moment}·({neutral} − {r})/({wall}·{shift}·{r})",
    dimension="stress",
    given={**TUBE, "angle": ("φ", "angle")},
    parts=_curved_parts,
    limits=lambda _, **given: _ring_limits(CURVED_BEAM[given["held_by"]], **given),
    source="Winkler and Bach's curved beam: any text on strength of materials; M and N: " + STATICS,
    note="M and N of the ring of R = ro − h/2 with e = R − rn, rn = h/ln(ro/ri); r = ri at the"
    " bore, ro outside",
)
def curved_beam_hoop(
    line_load: float,
    radius: float,
    wall: float,
    angle: ArrayLike,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Array:
    """Hoop stress, MPa, of a tube taken as a curved beam: N/h + M(rn − r)/(h e r).

    ``line_load`` q in N/mm, outside ``radius`` and ``wall`` h in mm, ``angle`` in radians from the
    load line, of any shape, which the result has; tension positive. The neutral circle has radius
    rn = h/ln(ro/ri), e = R − rn off the mean one, and r is the radius of the surface asked for.
    Raises ValueError for a negative load, a wall not between 0 and the radius, or an unknown
    support or surface.

    Valid for h/R up to 0.68 (diametral) or 0.44 (beam shear) and, on the outside, clear of the
    load by 0.6 of a wall; see :data:`CURVED_BEAM` and :data:`CLEAR_OF_THE_LOAD`.

    Source: the Winkler–Bach curved beam, any text on strength of materials, with
    :func:`.ring.section_forces` corrected by k2 = 1 − e/R: W. C. Young, Roark's Formulas for Stress
    and Strain, 7th ed., Table 9.2 — from memory, not seen — for "diametral"; the same correction of
    the mean moment derived here for "beam shear". The beam shear is lumped on the mean circle.
    Against :func:`.thick_ring.bore_hoop` at ν = 0.3 it is high under the load, where it leaves out
    the load's own local pressure: by 1.5, 3, 5, 10 % under diametral loads for walls of 0.1, 0.2,
    0.3, 0.5 radius, by 2, 5, 8, 16 % under beam shear; at 90° it is low by 3 % at most.

    >>> print(curved_beam_hoop(1000.0, 84.15, 21.95, 0.0, "diametral"))
    319.7
    """
    check.tube_wall(radius, wall)
    check.face(surface)
    mean = radius - wall / 2
    shift = neutral_shift.plain(radius, wall)
    moment, normal = section_forces(line_load, mean, angle, held_by, shift)
    r = radius - wall if surface == "bore" else radius
    bending: Array = moment * ((mean - shift - r) / (wall * shift * r))
    return normal / wall + bending
