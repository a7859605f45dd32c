"""Stress along a straight line through a body, between nodes as the elements have it."""

import numpy as np
from numpy.typing import NDArray

from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField

_INSIDE = -1e-2
"""Least area coordinate of a point that still counts as in an element: curved edges bulge."""


def stress_at(field: StressField, points: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """Stress (n, 4) MPa at points (2, n) mm, and whether (n,) they lie in the body.

    Elements count as straight when they are looked for, so that a point between a curved edge and
    its chord is read from the nearest element; a point at a node has the stress of the node.
    """
    nodes = field.mesh.dofs.element_dofs
    corners = field.mesh.doflocs[:, nodes[:3]]  # (2, 3, elements)
    low, high = corners.min(axis=1), corners.max(axis=1)
    room = 0.05 * (high - low).max(axis=0)
    least, most = points.min(axis=1, keepdims=True), points.max(axis=1, keepdims=True)
    near = np.flatnonzero(((low - room <= most) & (high + room >= least)).all(axis=0))
    if len(near) == 0:
        return np.zeros((points.shape[1], 4)), np.zeros(points.shape[1], dtype=bool)
    origin, *others = np.moveaxis(corners[:, :, near], 1, 0)
    sides = np.stack([other - origin for other in others], axis=1)  # (2, 2, near)
    inverse = np.linalg.inv(np.moveaxis(sides, 2, 0))
    second = np.einsum("eij,jep->iep", inverse, points[:, None, :] - origin[:, :, None])
    areas = np.concatenate([1.0 - second.sum(axis=0, keepdims=True), second])  # (3, near, points)
    within = areas.min(axis=0)
    best = within.argmax(axis=0)
    each = np.arange(points.shape[1])
    l0, l1, l2 = areas[:, best, each]
    shapes = np.stack(
        [
            l0 * (2 * l0 - 1), l1 * (2 * l1 - 1), l2 * (2 * l2 - 1),
            4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0,
        ]
    )  # fmt: skip
    stress = np.einsum("kp,kpc->pc", shapes, field.stress[nodes[:, near[best]]])
    return stress, within[best, each] >= _INSIDE
