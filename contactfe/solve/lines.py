"""Quadratic edges, and lines made of them: node numbers, shape functions, local axes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from skfem import MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats

Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Frame:
    """Axes of a contact line: ``origin`` at the first point of contact, mm, in the body's axes.

    ``tangent`` is the unit vector along the plate; the normal, a quarter turn on from it, points
    into the member.
    """

    origin: tuple[float, float] = (0.0, 0.0)
    tangent: tuple[float, float] = (1.0, 0.0)

    @property
    def axes(self) -> Floats:
        """Tangent and normal (2, 2), a row each."""
        tx, ty = self.tangent
        return np.array([[tx, ty], [-ty, tx]])

    def local(self, points: Floats) -> Floats:
        """Points (2, ...) of the body's axes in the axes of the line, mm."""
        return np.tensordot(self.axes, points - self._origin(points), axes=1)

    def outside(self, points: Floats) -> Floats:
        """Points (2, ...) of the line's axes in the axes of the body, mm."""
        return np.tensordot(self.axes.T, points, axes=1) + self._origin(points)

    def _origin(self, points: Floats) -> Floats:
        return np.array(self.origin).reshape((2,) + (1,) * (points.ndim - 1))


@dataclass(frozen=True)
class ContactLine:
    """A line on which contact is looked for: nodes in order of ``x`` (n,), mm along the plate.

    ``edges`` (3, k) are positions in ``nodes`` of each edge's first end, second end and middle.
    """

    group: str
    frame: Frame
    nodes: Ints
    x: Floats
    edges: Ints


def contact_line(mesh: MeshTri2, group: str, frame: Frame) -> ContactLine:
    """The line of a named group. Raises SolveError where the group is empty."""
    along = frame.local(mesh.doflocs)[0]
    ends = edge_nodes(mesh, group_facets(mesh, group))
    swap = along[ends[0]] > along[ends[1]]
    ends[:2, swap] = ends[1::-1, swap]
    nodes = np.unique(ends)
    nodes = nodes[np.argsort(along[nodes])]
    position = np.full(mesh.doflocs.shape[1], -1)
    position[nodes] = np.arange(len(nodes))
    return ContactLine(group, frame, nodes, along[nodes], position[ends])


def group_nodes(mesh: MeshTri2, name: str) -> Ints:
    """Nodes on a named group of edges. Raises SolveError where the group is empty."""
    return np.unique(edge_nodes(mesh, group_facets(mesh, name)))


def edge_nodes(mesh: MeshTri2, facets: Ints) -> Ints:
    """Node numbers (3, edges) of quadratic edges: two ends, then the middle."""
    return np.vstack([mesh.facets[:, facets], mesh.dofs.facet_dofs[0, facets]]).astype(np.intp)


def shape(xi: Floats) -> Floats:
    """Quadratic edge functions (3, ...) on [-1, 1]: first end, second end, middle."""
    return np.stack([xi * (xi - 1) / 2, xi * (xi + 1) / 2, 1 - xi**2])


def shape_slope(xi: Floats) -> Floats:
    """Derivatives (3, ...) of the quadratic edge functions with respect to ξ."""
    return np.stack([xi - 0.5, xi + 0.5, -2.0 * xi])


def group_facets(mesh: MeshTri2, name: str) -> Ints:
    """Numbers of the edges of a named group. Raises SolveError where the group is empty."""
    facets = (mesh.boundaries or {}).get(name, np.array([], dtype=np.intp))
    if len(facets) == 0:
        raise SolveError(f"the mesh has no edges in group {name!r}")
    return np.asarray(facets, dtype=np.intp)
