"""How much a tube changes its diameters under a line load, as a thick or as a thin ring.

Two changes are given: along the load, a shortening and so negative, and across it, a lengthening.
They are those of the mean circle; the dent of the contact itself is not in them.

Under beam shear both are half those under diametral loads. Mirror the tube across its level
diameter and the load is at the other side, with the same changes of diameter; add both and the beam
shears cancel, which leaves diametral loads. That holds for any ring, thick or thin.
"""

from typing import Any

import numpy as np

from contactfe.hand import check
from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import Given, formula
from contactfe.hand.ring import (
    SHIFT_NOTE,
    THINNEST,
    TUBE,
    k1,
    k2,
    neutral_shift,
    shift_parts,
    wall_limit,
)
from contactfe.hand.stress import plane_modulus

THICKEST = 0.33
"""Wall over mean radius up to which the thick ring keeps within 5 % of the exact change of the
bore's diameter at ν = 0.3; in plane strain at ν = 0.5 it is 10.5 % high there. Measured against
:func:`.thick_ring.bore_change_along` and its like across."""

_SOURCE = (
    "W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1: from memory,"
    " not seen; beam shear: half of it, derived here"
)
_NOTE = (
    "R = ro − h/2; c = 1 under diametral loads, 1/2 under beam shear; E' = E in plane stress,"
    " E/(1 − ν²) in plane strain"
)


def _parts(**given: Any) -> dict[str, Given]:
    radius, wall = given["radius"], given["wall"]
    poisson, state = given["poisson"], given["state"]
    return {
        **shift_parts(**given),
        "young": Given("E'", plane_modulus(given["young"], poisson, state), "stress"),
        "share": Given("c", _share(given["held_by"])),
        "k1": Given("k1", k1.plain(radius, wall, poisson, state)),
        "k2": Given("k2", k2.plain(radius, wall)),
    }


@formula(
    name="change of diameter along the load, thick ring",
    symbol="ΔDv",
    form="−{share}·{line_load}·{mean_radius}²/({young}·{wall}·{shift})·({k1}·π/4 − 2·{k2}²/π)",
    dimension="length",
    given=TUBE,
    parts=_parts,
    limits=lambda _, **given: [wall_limit(given["radius"], given["wall"], THICKEST)],
    source=_SOURCE,
    note=f"{_NOTE}; {SHIFT_NOTE}; k1 and k2 of a thick ring",
)
def change_along(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Change of diameter along the load, mm, of a tube as a thick ring; negative, it shortens.

    −(q R²/(E' h e))(k1 π/4 − 2 k2²/π) under diametral loads, half of it under beam shear.
    ``line_load`` q in N/mm, outside ``radius`` and ``wall`` h in mm, ``young`` E in MPa. Raises
    ValueError for a negative load, a modulus that is not positive, a wall not between 0 and the
    radius, ν outside [0, 0.5], an unknown state or support.

    Valid for h/R up to 0.33, see :data:`THICKEST`. Against :func:`.thick_ring.bore_change_along`
    it is high at ν = 0.3 by 0.3, 1.4, 4, 9, 16 % for walls of 0.1, 0.2, 0.3, 0.4, 0.5 radius in
    plane stress, by 0.4, 2, 5, 11, 20 % in plane strain.

    Source: W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1 — from
    memory, not seen — with R³/I written as R²/(h e), as is right for a curved beam. It follows by
    Castigliano's theorem from the energy of one (tested here): half the integral over φ of
    (M²/e − 2MN + RN²)/(E'h) + FRV²/(Gh).

    >>> print(change_along(1000.0, 84.15, 20.0, 200e3, 0.3, "diametral", "plane strain"))
    -0.4655
    """
    scale = _scale(line_load, radius, wall, young, poisson, held_by, state)
    bend, mean = k1.plain(radius, wall, poisson, state), k2.plain(radius, wall)
    return 0.0 - scale * (bend * np.pi / 4 - 2 * mean**2 / np.pi)  # no load gives 0, not −0


@formula(
    name="change of diameter across the load, thick ring",
    symbol="ΔDh",
    form="{share}·{line_load}·{mean_radius}²/({young}·{wall}·{shift})·({k1}/2 − {k2} + 2·{k2}²/π)",
    dimension="length",
    given=TUBE,
    parts=_parts,
    limits=lambda _, **given: [wall_limit(given["radius"], given["wall"], THICKEST)],
    source=_SOURCE,
    note=f"{_NOTE}; {SHIFT_NOTE}; k1 and k2 of a thick ring",
)
def change_across(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Change of diameter across the load, mm, of a tube as a thick ring; positive, it lengthens.

    (q R²/(E' h e))(k1/2 − k2 + 2 k2²/π) under diametral loads, half of it under beam shear.
    Arguments, errors, range and source are those of :func:`change_along`. Against
    :func:`.thick_ring.bore_change_across` it is high at ν = 0.3 by 0.1, 0.6, 1.5, 3, 6 % for walls
    of 0.1, 0.2, 0.3, 0.4, 0.5 radius in plane stress, by 0.2, 1, 3, 5, 10 % in plane strain.

    >>> print(change_across(1000.0, 84.15, 20.0, 200e3, 0.3, "diametral", "plane strain"))
    0.3942
    """
    scale = _scale(line_load, radius, wall, young, poisson, held_by, state)
    bend, mean = k1.plain(radius, wall, poisson, state), k2.plain(radius, wall)
    return scale * (bend / 2 - mean + 2 * mean**2 / np.pi)


@formula(
    name="change of diameter along the load, thin ring",
    symbol="ΔDv",
    form="−{share}·12·{line_load}·{mean_radius}³/({young}·{wall}³)·(π/4 − 2/π)",
    dimension="length",
    given=TUBE,
    parts=_parts,
    limits=lambda _, **given: [wall_limit(given["radius"], given["wall"], THINNEST)],
    source=_SOURCE,
    note=_NOTE,
)
def thin_change_along(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Change of diameter along the load, mm, of a tube as a thin ring: −0.1488 qR³/(E'I).

    I = h³/12 per length; half of it under beam shear. Arguments, errors and source are those of
    :func:`change_along`. Valid for h/R up to 0.1, where against the exact change of the bore it is
    low by 1.4 %; by 6, 13, 31 % for walls of 0.2, 0.3, 0.5 radius.

    >>> print(thin_change_along(1000.0, 84.15, 7.0, 200e3, 0.3, "diametral", "plane strain"))
    -12.424
    """
    scale = _thin_scale(line_load, radius, wall, young, poisson, held_by, state)
    return 0.0 - scale * (np.pi / 4 - 2 / np.pi)  # no load gives 0, not −0


@formula(
    name="change of diameter across the load, thin ring",
    symbol="ΔDh",
    form="{share}·12·{line_load}·{mean_radius}³/({young}·{wall}³)·(2/π − 1/2)",
    dimension="length",
    given=TUBE,
    parts=_parts,
    limits=lambda _, **given: [wall_limit(given["radius"], given["wall"], THINNEST)],
    source=_SOURCE,
    note=_NOTE,
)
def thin_change_across(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Change of diameter across the load, mm, of a tube as a thin ring: 0.1366 qR³/(E'I).

    I = h³/12 per length; half of it under beam shear. Arguments, errors, source and range are
    those of :func:`thin_change_along`. Against the exact change of the bore it is low by 0.3 % at
    a wall of 0.1 radius; by 1, 3, 11 % for walls of 0.2, 0.3, 0.5 radius.

    >>> print(thin_change_across(1000.0, 84.15, 7.0, 200e3, 0.3, "diametral", "plane strain"))
    11.408
    """
    return _thin_scale(line_load, radius, wall, young, poisson, held_by, state) * (2 / np.pi - 0.5)


def _share(held_by: HeldBy) -> float:
    return 1.0 if held_by == "diametral" else 0.5


def _scale(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Common factor c q R²/(E' h e), mm."""
    check.not_negative(line_load=line_load)
    check.holding(held_by)
    shift = neutral_shift.plain(radius, wall)
    stiffness = plane_modulus(young, poisson, state) * wall * shift
    return _share(held_by) * line_load * (radius - wall / 2) ** 2 / stiffness


def _thin_scale(
    line_load: float,
    radius: float,
    wall: float,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> float:
    """Common factor c q R³/(E' I), mm."""
    check.not_negative(line_load=line_load)
    check.tube_wall(radius, wall)
    check.holding(held_by)
    stiffness = plane_modulus(young, poisson, state) * wall**3 / 12
    return _share(held_by) * line_load * (radius - wall / 2) ** 3 / stiffness
