"""The circle that points lie on."""

import numpy as np
from scipy.optimize import least_squares

from contactfe.section.quadratic import Floats


def fitted_circle(points: Floats) -> tuple[Floats, float]:
    """Centre (2,) and radius of the least squares circle of ``points`` (n, 2), not on one line.

    Least squares of |p - c|² - r², which is linear in the centre and r² - |c|² (derived here).
    """
    middle = points.mean(axis=0)
    scale = np.ptp(points, axis=0).max()
    p = (points - middle) / scale
    rows = np.column_stack([2.0 * p, np.ones(len(p))])
    (x, y, rest), *_ = np.linalg.lstsq(rows, (p**2).sum(axis=1), rcond=None)
    return middle + scale * np.array([x, y]), float(scale * np.sqrt(rest + x**2 + y**2))


def fitted_diameter(points: Floats) -> float | None:
    """Diameter of the least squares circle; None if the points (n, 2) lie on a straight line."""
    if len(points) < 3:
        return None
    across = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    if across[1] <= 1e-9 * across[0]:
        return None
    return 2.0 * fitted_circle(points)[1]


def circle_of_radius(points: Floats, radius: float) -> tuple[Floats, float]:
    """Centre (2,) of the circle of given ``radius`` nearest to ``points`` (n, 2), not on one line;
    and how far off that circle the farthest point lies.

    Nearest by least squares of the distances to the circle, started from the side on which the
    circle through the points has its centre.
    """
    middle = points.mean(axis=0)
    towards = fitted_circle(points)[0] - middle
    start = middle + radius * towards / np.linalg.norm(towards)
    fit = least_squares(
        lambda centre: np.linalg.norm(points - centre, axis=1) / radius - 1.0,
        start,
        x_scale=radius,
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    )
    return np.asarray(fit.x), float(np.abs(fit.fun).max() * radius)
