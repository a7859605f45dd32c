"""The greatest value of a smooth stress measure over a rectangle below the contact."""

from collections.abc import Callable

import numpy as np

from contactfe.hand.check import Array

Range = tuple[float, float]


def greatest(
    measure: Callable[[Array, Array], Array], along: Range, down: Range
) -> tuple[float, float, float]:
    """Greatest value of ``measure(x, z)`` and its place x, z.

    ``along`` and ``down`` are the ranges of x and z. A grid of 121 by 121 points finds the hill,
    and grids of 41 by 41 climb it: each spans four old steps to each side of the best point so
    far, so that a slanting ridge is followed too, and none leaves the rectangle. Neither slopes
    nor a starting point are needed. A hill narrower than a hundredth of the rectangle can be
    missed.

    Seven grids narrow the place by 5⁷; as a peak is flat, its value is then known to rounding and
    its place to about 1e-7 of the rectangle.

    Source: common practice, no source.

    >>> print(*greatest(lambda x, z: 2 - (x - 0.3)**2 - 4 * (z - 0.7)**2, (0.0, 1.0), (0.0, 1.0)))
    2.0 0.3 0.7
    """
    x, z = np.linspace(*along, 121), np.linspace(*down, 121)
    value, at_x, at_z = _best(measure, x, z)
    for _ in range(7):
        x = _closer(at_x, x, along)
        z = _closer(at_z, z, down)
        value, at_x, at_z = _best(measure, x, z)
    return value, at_x, at_z


def _best(
    measure: Callable[[Array, Array], Array], x: Array, z: Array
) -> tuple[float, float, float]:
    values = measure(x[:, None], z[None, :])
    i, j = np.unravel_index(values.argmax(), values.shape)
    return float(values[i, j]), float(x[i]), float(z[j])


def _closer(at: float, grid: Array, within: Range) -> Array:
    """Grid over four old steps to each side of a point, cut off where the rectangle ends."""
    reach = 4 * (grid[1] - grid[0])
    return np.linspace(max(at - reach, within[0]), min(at + reach, within[1]), 41)
