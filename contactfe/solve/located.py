"""Where points lie in a mesh of quadratic triangles, and so what its nodes give there."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from skfem import MeshTri2

from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints

_INSIDE = -1e-2
"""Least area coordinate of a point that still counts as in an element: curved edges bulge."""

_STEPS = 3
"""Of Newton's method, from a straight element to its curved one: its edges bulge little."""

_NEAREST = 16
"""Elements about a point, by their middles, of which one has it: sizes change slowly in a mesh."""


@dataclass(frozen=True)
class Located:
    """Nodes (6, n) of the element that each of n points is in, and their shape functions there.

    ``inside`` (n,) says whether it is: a point that is not is read from the nearest element.
    """

    nodes: Ints
    shapes: Floats
    inside: NDArray[np.bool_]

    def read(self, values: Floats) -> Floats:
        """Nodal ``values`` (N, ...) at the points (n, ...)."""
        there: Floats = np.einsum("kp,kp...->p...", self.shapes, values[self.nodes])
        return there


def located(mesh: MeshTri2, points: Floats) -> Located:
    """Where points (2, n) mm lie in a mesh.

    Elements count as straight when one is looked for; the place in it is that of its curved edges,
    so that a point at a node has the value of the node.
    """
    nodes = mesh.dofs.element_dofs
    corners = mesh.doflocs[:, nodes[:3]]  # (2, 3, elements)
    count = min(_NEAREST, nodes.shape[1])
    _, near = cKDTree(corners.mean(axis=1).T).query(points.T, count)
    near = near.reshape(-1, count).T  # (near, points)
    a, b, c = (corners[:, k][:, near] for k in range(3))  # (2, near, points)
    offset = points[:, None, :] - a
    (ux, uy), (vx, vy), (dx, dy) = b - a, c - a, offset
    area = ux * vy - uy * vx
    l1, l2 = (dx * vy - dy * vx) / area, (ux * dy - uy * dx) / area
    areas = np.stack([1.0 - l1 - l2, l1, l2])
    best = areas.min(axis=0).argmax(axis=0)
    each = np.arange(points.shape[1])
    found = nodes[:, near[best, each]]
    l1, l2 = areas[1:, best, each]
    x = mesh.doflocs[:, found]  # (2, 6, points)
    for _ in range(_STEPS):
        shapes, by_l1, by_l2 = _shapes(l1, l2)
        (dx, dy), (ux, uy), (vx, vy) = ((x * of).sum(axis=1) for of in (shapes, by_l1, by_l2))
        dx, dy = points[0] - dx, points[1] - dy
        area = ux * vy - uy * vx
        l1, l2 = l1 + (dx * vy - dy * vx) / area, l2 + (ux * dy - uy * dx) / area
    inside = np.stack([1.0 - l1 - l2, l1, l2]).min(axis=0) >= _INSIDE
    return Located(found, _shapes(l1, l2)[0], inside)


def _shapes(l1: Floats, l2: Floats) -> tuple[Floats, Floats, Floats]:
    """Shape functions (6, n) of a quadratic triangle, and their slopes by two of its areas."""
    l0, nil = 1.0 - l1 - l2, np.zeros_like(l1)
    value = [
        l0 * (2 * l0 - 1), l1 * (2 * l1 - 1), l2 * (2 * l2 - 1),
        4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0,
    ]  # fmt: skip
    by_l1 = [1 - 4 * l0, 4 * l1 - 1, nil, 4 * (l0 - l1), 4 * l2, -4 * l2]
    by_l2 = [1 - 4 * l0, nil, 4 * l2 - 1, -4 * l1, 4 * l1, 4 * (l0 - l2)]
    return np.stack(value), np.stack(by_l1), np.stack(by_l2)
