"""A bumper plate on a smooth rigid base: an elastic layer under the line load of the post.

Such a base does not give way at all, so the load goes straight through the thickness. All is for
one millimetre along the post, and valid where the plate reaches far enough beyond the load and the
contact is narrow (:func:`layer_limits`). Both figures are the same in either plane state and for
any ν. The plate stays on its base, which pulls a little from 1.34 t on.
"""

from functools import partial

from contactfe.hand import check
from contactfe.hand.formula import Limit, at_least, at_most, formula
from contactfe.hand.quantities import Length, LineLoad, Pressure, Stress

RIGID_BASE_PRESSURE = 0.91949
"""∫ 2(sinh k + k cosh k)/(sinh 2k + 2k) dk over π, k from 0 to ∞."""

RIGID_BASE_STRESS = 0.24868
"""∫ 2(k cosh k − sinh k)/(sinh 2k + 2k) dk over π, k from 0 to ∞."""

_formula = partial(
    formula,
    source="the exact field of an infinite elastic layer on a smooth rigid base, by Fourier"
    " transform, derived here",
)


@_formula("peak pressure on a smooth rigid base", "pb")
def rigid_base_pressure(line_load: LineLoad, thickness: Length) -> Pressure:
    """Peak pressure on the base, right under the load; positive in compression.

    It is 44 % more than in a half-plane at that depth.
    """
    return RIGID_BASE_PRESSURE * line_load / thickness


@_formula("stress at the back on a smooth rigid base", "σx")
def rigid_base_stress(line_load: LineLoad, thickness: Length) -> Stress:
    """Stress along the back, right under the load: a tension, for there the plate spreads."""
    return RIGID_BASE_STRESS * line_load / thickness


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
