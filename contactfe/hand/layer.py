"""A bumper plate on a smooth rigid base: an elastic layer under the line load of the post.

Such a base does not give way at all, so the load goes straight through the thickness; a plate on a
base that gives way is the subject of :mod:`.winkler`. All is for one millimetre along the post, and
valid where the plate reaches far enough beyond the load and the contact is narrow
(:func:`layer_limits`). Beside it stands the half-plane, for a base as stiff as the plate.
"""

import numpy as np

from contactfe.hand import check
from contactfe.hand.formula import Limit, at_least, at_most, formula

RIGID_BASE_PRESSURE = 0.91949
"""Peak pressure below a layer on a smooth rigid base under a line load q, over q/t."""

RIGID_BASE_STRESS = 0.24868
"""Stress along that base, at the same place, over q/t."""

_THROUGH_A_LAYER = (
    "the exact field of an infinite elastic layer on a smooth rigid base, by Fourier transform,"
    " derived here"
)


@formula(
    name="peak pressure on a smooth rigid base",
    symbol="pb",
    form=f"{RIGID_BASE_PRESSURE}·{{line_load}}/{{thickness}}",
    dimension="stress",
    source=_THROUGH_A_LAYER,
)
def rigid_base_pressure(line_load: float, thickness: float) -> float:
    """Peak pressure, MPa, on a smooth rigid base below a plate, right under the load: 0.91949 q/t.

    ``line_load`` q in N/mm, ``thickness`` t in mm. Positive in compression; 44 % more than in a
    half-plane at that depth (:func:`half_plane_stress`). The same in both plane states and for any
    ν. The plate stays on its base, which pulls a little from 1.34 t on; the range is that of
    :func:`layer_limits`. Raises ValueError for a negative load or a thickness that is not positive.

    Source: the exact field of an infinite elastic layer (derived here), by Fourier transform:
    (q/(πt)) ∫ 2(sinh k + k cosh k)/(sinh 2k + 2k) dk, k from 0 to ∞.

    >>> print(rigid_base_pressure(1000.0, 50.0))
    18.3898
    """
    check.not_negative(line_load=line_load)
    check.positive(thickness=thickness)
    return RIGID_BASE_PRESSURE * line_load / thickness


@formula(
    name="stress at the back on a smooth rigid base",
    symbol="σx",
    form=f"{RIGID_BASE_STRESS}·{{line_load}}/{{thickness}}",
    dimension="stress",
    source=_THROUGH_A_LAYER,
)
def rigid_base_stress(line_load: float, thickness: float) -> float:
    """Stress σx, MPa, along the back on a smooth rigid base, right under the load: 0.24868 q/t.

    Tension: below the load the plate spreads. Arguments, range and errors as in
    :func:`rigid_base_pressure`.

    Source: the exact field of an infinite elastic layer (derived here), by Fourier transform:
    (q/(πt)) ∫ 2(k cosh k − sinh k)/(sinh 2k + 2k) dk, k from 0 to ∞.

    >>> print(rigid_base_stress(1000.0, 50.0))
    4.9736
    """
    check.not_negative(line_load=line_load)
    check.positive(thickness=thickness)
    return RIGID_BASE_STRESS * line_load / thickness


@formula(
    name="stress across the plate in a half-plane, below the load",
    symbol="σz",
    form="−2·{line_load}/(π·{depth})",
    dimension="stress",
    source="Flamant, in K. L. Johnson, Contact Mechanics, 1985, section 2.2: from memory, not seen",
)
def half_plane_stress(line_load: float, depth: float) -> float:
    """Stress σz, MPa, at a depth below a line load on a half-plane: −2q/(πd).

    What a plate on a base as stiff as itself has; ``line_load`` q in N/mm, ``depth`` d in mm.
    Compression is negative. A contact of half-width a is a line from about d = 4a on, where
    Hertz's field is 3 % less (:func:`.hertz.axis_stress`). Raises ValueError for a negative load or
    a depth that is not positive.

    Source: Flamant, in K. L. Johnson, Contact Mechanics, 1985, section 2.2 — from memory, not seen.

    >>> print(half_plane_stress(1000.0, 50.0))
    -12.7324
    """
    check.not_negative(line_load=line_load)
    check.positive(depth=depth)
    return 0.0 - 2 * line_load / (np.pi * depth)  # no load gives 0, not −0


def layer_limits(thickness: float, edge_distance: float, half_width: float) -> tuple[Limit, ...]:
    """How far a layer on a rigid base reaches beyond the load, and how narrow the contact is.

    All in mm: ``thickness`` t, distance of the load from the nearer edge, ``half_width`` a. Two
    thicknesses off the load the base pulls by 2.2 % of the peak pressure, and less farther out;
    spread over a = t/5 as Hertz's, the load presses 2.5 % less on the base and stretches the back
    5 % less (both measured in the tests). Raises ValueError for a size that is not positive.
    """
    check.positive(thickness=thickness, edge_distance=edge_distance, half_width=half_width)
    reach = edge_distance / thickness
    return (
        at_least("distance of the load from the nearer edge over t", reach, 2.0),
        at_most("a/t", half_width / thickness, 0.2),
    )
