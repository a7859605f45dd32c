"""Factors of a body's equations, its nodes eliminated by nested dissection by place.

The elements are halved again and again, across the longer side of where they lie. Nodes that two
halves share come after those of either half, so that the halves do not fill each other in. Source:
A. George, SIAM J. Numer. Anal. 10 (1973), from memory, not seen; that elements are halved by their
middles is a choice made here. On the graded meshes of posts and plates it fills in two fifths more
than minimum degree and takes a little less time, as the order itself is found faster; and, what
matters more, some nodes may be kept for the end, where the factors hold what is left between them.
"""

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import SuperLU, splu
from skfem import MeshTri2

from contactfe.solve.lines import Ints

_SMALLEST = 8
"""Elements in a part that is not halved again, at most."""


def elimination_order(
    mesh: MeshTri2, last: Ints | None = None, elements: Ints | None = None
) -> Ints:
    """Numbers of all nodes (N,) in the order of elimination, those named ``last`` at its end.

    Of some ``elements`` alone, it is that of their nodes.
    """
    of = mesh.dofs.element_dofs  # (6, elements)
    of = of if elements is None else of[:, elements]
    part, halvings = _parts(mesh.doflocs[:, of].mean(axis=1))
    # A node that only elements of one part have belongs to it; else to the smallest whole that has
    # all its elements. In binary, the number of a whole is what its parts' numbers begin with.
    first = np.full(mesh.doflocs.shape[1], np.iinfo(part.dtype).max, dtype=part.dtype)
    final = np.zeros_like(first)
    nodes, parts = of.ravel(), np.tile(part, len(of))
    np.minimum.at(first, nodes, parts)
    np.maximum.at(final, nodes, parts)
    unlike = first ^ final
    height = np.zeros_like(first)
    for digit in range(halvings):
        height[unlike >> digit > 0] += 1
    end = ((first >> height) + 1) << height  # one more than the last part of that whole
    kept = np.zeros(len(first), dtype=bool)
    if last is not None:
        kept[last] = True
    order = np.lexsort((height, end, kept))
    return order if elements is None else order[np.isin(order, nodes)]


def factored(matrix: csc_matrix) -> SuperLU:
    """Factors of a symmetric, definite matrix, eliminated in the order that it is in.

    Raises RuntimeError for a singular one.
    """
    return splu(
        matrix, permc_spec="NATURAL", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )


def _parts(middle: np.ndarray) -> tuple[Ints, int]:
    """The part of each element, whose middles (2, n) are given, and how often they were halved."""
    n = middle.shape[1]
    halvings = max(int(np.ceil(np.log2(n / _SMALLEST))), 0)
    bounds = np.array([0, n])
    order = np.arange(n)
    for _ in range(halvings):
        start, size = bounds[:-1], np.diff(bounds)
        placed = middle[:, order]
        extent = np.maximum.reduceat(placed, start, axis=1)
        extent -= np.minimum.reduceat(placed, start, axis=1)
        of = np.repeat(np.arange(len(size)), size)
        along = placed[np.argmax(extent, axis=0)[of], np.arange(n)]
        order = order[np.lexsort((along, of))]
        bounds = np.sort(np.concatenate([bounds, start + size // 2]))
    part = np.empty(n, dtype=np.int64)
    part[order] = np.repeat(np.arange(len(bounds) - 1), np.diff(bounds))
    return part, halvings
