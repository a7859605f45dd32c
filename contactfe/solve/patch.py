"""A contact patch from nodal values: where it lies, how wide it is, values between nodes."""

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import root

from contactfe.solve.elastic import Floats
from contactfe.solve.lines import shape
from contactfe.solve.mortar import local_coordinate

LEAST_PART = 0.06
"""Width, in half-widths, of the narrowest part of a patch that counts by itself."""


def extent(x: Floats, pressure: Floats, weight: Floats) -> tuple[float, float]:
    """Centre and half-width of a patch, in mm, resolved finer than the nodes.

    ``x`` (n,) mm, ``pressure`` (n,) MPa and ``weight`` (n,) mm along the line. Pressure leaves the
    edges of contact like a square root, so p = (c0 + c1 s + c2 s²) √(1 − s²) with s = (x − xc)/a is
    fitted over the inner 85 % of the patch, and xc and a are chosen so that this pressure carries
    the load and its moment. Within 0.1 % of Hertz for solids on meshes of 8 elements across a
    half-width, and within 0.25 % on meshes of 4. Falls back to the outermost touching nodes where
    no such pressure exists.
    """
    touching = np.flatnonzero(pressure > 0.0)
    first, last = x[touching[0]], x[touching[-1]]
    middle, half = (first + last) / 2.0, (last - first) / 2.0
    inner = touching[np.abs(x[touching] - middle) < 0.85 * half]
    load = float(weight @ pressure)
    moment = float(weight @ (pressure * (x - middle)))
    if len(inner) < 3:
        return middle, half

    def missing(of: Floats) -> Floats:
        """Load and moment that the fitted pressure lacks, relative."""
        centre, a = middle + half * of[0], half * of[1]
        s = (x[inner] - centre) / a
        root_ = np.sqrt(np.maximum(1.0 - s**2, 0.0))
        c, *_ = np.linalg.lstsq(
            np.column_stack([root_, root_ * s, root_ * s**2]), pressure[inner], rcond=None
        )
        carried = a * np.pi * (c[0] / 2.0 + c[2] / 8.0)
        turned = a**2 * np.pi * c[1] / 8.0 + carried * (centre - middle)
        return np.array([carried / load - 1.0, (turned - moment) / (load * half)])

    found = root(missing, np.array([0.0, 1.0]), tol=1e-10)
    shift, stretch = found.x
    if not (found.success and abs(shift) < 0.15 and 0.87 < stretch < 1.15):
        return float(middle), float(half)
    return float(middle + half * shift), float(half * stretch)


def runs(x: Floats, regime: NDArray[np.int8], half_width: float) -> list[tuple[int, float, float]]:
    """Parts of a patch that do the same, from left to right: regime, first and last x, mm.

    ``x`` (n,) mm and ``regime`` (n,) are those of the touching nodes. A part narrower than
    ``LEAST_PART`` half-widths counts with its neighbours: where traction comes near the bound of
    friction without passing it, single nodes reach it by the errors of the mesh.
    """
    starts = np.flatnonzero(np.diff(regime, prepend=regime[0] - 1))
    parts = [[int(regime[a]), a, b] for a, b in zip(starts, [*starts[1:], len(x)], strict=True)]

    def width(part: list[int]) -> float:
        low = x[0] if part[1] == 0 else (x[part[1] - 1] + x[part[1]]) / 2.0
        high = x[-1] if part[2] == len(x) else (x[part[2] - 1] + x[part[2]]) / 2.0
        return float(high - low)

    while len(parts) > 1:
        k = min(range(len(parts)), key=lambda i: width(parts[i]))
        if width(parts[k]) >= LEAST_PART * half_width:
            break
        parts[k][0] = parts[k - 1][0] if k > 0 else parts[1][0]
        joined = [parts[0]]
        for part in parts[1:]:
            if part[0] == joined[-1][0]:
                joined[-1] = [part[0], joined[-1][1], part[2]]
            else:
                joined.append(part)
        parts = joined
    return [(of, float(x[a]), float(x[b - 1])) for of, a, b in parts]


def between(x: Floats, values: Floats, at: Floats) -> Floats:
    """Values (n,) at the nodes ``x`` of a line, read at any ``at`` (m,); 0 beyond its ends."""
    # In order of x, ends and middles of the edges take turns.
    edges = len(x) // 2
    k = np.clip(np.searchsorted(x[::2], at, side="right") - 1, 0, edges - 1)
    nodes = np.stack([2 * k, 2 * k + 2, 2 * k + 1])
    phi = shape(local_coordinate(at[:, None], x[nodes])[:, 0])
    inside = (at >= x[0]) & (at <= x[-1])
    return np.where(inside, (phi * values[nodes]).sum(axis=0), 0.0)
