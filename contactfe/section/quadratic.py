"""What a triangle mesh is made of: its edges, its quadratic shape, its named groups.

Triangles are rows of node numbers in meshio's order: three corners, then the middle nodes of the
edges between corners 0-1, 1-2 and 2-0. Edges are numbered once, by their end nodes.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import meshio
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]

_LATTICE = np.array([(i / 4, j / 4) for i in range(5) for j in range(5 - i)])
"""Where the Jacobian of an element is looked at: 15 points evenly over the reference triangle,
corners included, where a quadratic element turns over first."""


@dataclass(frozen=True)
class Edges:
    """The edges of a triangle mesh, each once.

    ``ends`` is (edges, 2), the lower node number first; ``of_triangle`` is (triangles, 3), the
    edges between corners 0-1, 1-2 and 2-0.
    """

    ends: Ints
    of_triangle: Ints

    @property
    def sides(self) -> Ints:
        """Number of triangles at each edge, (edges,): 1 on the boundary, 2 inside."""
        return np.bincount(self.of_triangle.ravel(), minlength=len(self.ends))

    def find(self, ends: Ints) -> Ints:
        """Number of the edge between each pair of nodes (k, 2), in either order; -1 for none."""
        below = np.int64(max(self.ends.max(), ends.max(initial=0)) + 1)
        known = self.ends[:, 0] * below + self.ends[:, 1]  # ascending, as the edges are sorted
        wanted = ends.min(axis=1) * below + ends.max(axis=1)
        place = np.minimum(np.searchsorted(known, wanted), len(known) - 1)
        return np.where(known[place] == wanted, place, -1)


def edges_of(triangles: Ints) -> Edges:
    """Edges of triangles given by their corners (n, 3), or by all their nodes (n, 6)."""
    pairs = np.sort(triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    ends, number = np.unique(pairs, axis=0, return_inverse=True)
    return Edges(ends.astype(np.int64), number.reshape(-1, 3).astype(np.int64))


def doubled_areas(points: Floats, triangles: Ints) -> Floats:
    """Twice the area of each straight-sided triangle (n,), negative where it turns clockwise."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    u, v = b - a, c - a
    return np.asarray(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])


def curved_area(points: Floats, triangles: Ints) -> float:
    """Area of quadratic triangles (n, 6), curved edges included."""
    # A parabola over a chord encloses 2/3 of the chord times the rise of its middle.
    total = float(doubled_areas(points, triangles).sum()) / 2.0
    for first, second, middle in ((0, 1, 3), (1, 2, 4), (2, 0, 5)):
        a, b, m = (points[triangles[:, k]] for k in (first, second, middle))
        chord, rise = b - a, m - (a + b) / 2.0
        total += 2.0 / 3.0 * float((rise[:, 0] * chord[:, 1] - rise[:, 1] * chord[:, 0]).sum())
    return total


def least_jacobians(points: Floats, triangles: Ints) -> Floats:
    """Least Jacobian determinant of each quadratic triangle (n,), as found at 15 points of it.

    It is twice the area for a straight-sided element; an element is usable where it is positive.
    """
    s, t = _LATTICE.T
    r = 1.0 - s - t
    zero = np.zeros_like(s)
    along_s = np.array([1 - 4 * r, 4 * s - 1, zero, 4 * (r - s), 4 * t, -4 * t])
    along_t = np.array([1 - 4 * r, zero, 4 * t - 1, -4 * s, 4 * s, 4 * (r - t)])
    nodes = points[triangles]
    xs, ys = np.einsum("enc,np->cep", nodes, along_s)
    xt, yt = np.einsum("enc,np->cep", nodes, along_t)
    return np.asarray((xs * yt - ys * xt).min(axis=1))


def with_groups(
    points: Floats, triangles: Ints, surfaces: Mapping[str, Mask], lines: Mapping[str, Ints]
) -> meshio.Mesh:
    """Mesh of quadratic triangles with its named groups.

    ``surfaces`` marks the triangles (n,) of each named part; ``lines`` gives the edges (k, 3) of
    each named line: two ends and the middle node. Both become ``cell_sets``.
    """
    cells = [("triangle6", triangles), *(("line3", edges) for edges in lines.values())]
    sets = {}
    none = np.array([], dtype=int)
    for name, mask in surfaces.items():
        sets[name] = [np.flatnonzero(mask), *(none for _ in lines)]
    for k, (name, edges) in enumerate(lines.items(), start=1):
        sets[name] = [np.arange(len(edges)) if j == k else none for j in range(len(cells))]
    return meshio.Mesh(points, cells, cell_sets=sets)
