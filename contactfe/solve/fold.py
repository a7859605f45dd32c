"""A body symmetric to x = 0 under loads that are so too, folded: its right half stands for it.

The half is the body's own right elements under half the loads of the nodes on the axis, which may
not leave it. Vectors keep the size and the numbers of the whole, with zeros at the left.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix
from skfem import MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints
from contactfe.solve.parts import Part, part_of
from contactfe.solve.supports import Hold, Support

_ALIKE = 1e-12
"""Share of a pattern of force, squared, that may differ from its mirror image by rounding."""


@dataclass(frozen=True)
class HalfPart:
    """The right half of a part: stress of the whole is read off ``part``.

    It has as many elements beyond the axis as the stress at the axis is recovered from. Node k of
    the whole part takes the stress of node ``source[k]``, with the other shear where ``left[k]``.
    """

    part: Part
    source: Ints
    left: NDArray[np.bool_]


@dataclass(frozen=True)
class Fold:
    """How a body folds on its axis: ``image`` (N,) is the number of each node's mirror image.

    ``elements`` are those at the right, ``axis`` the nodes on the axis, ``left`` (N,) marks those
    beyond it. ``images`` (2N,) and ``signs`` (2N,) are the same for degrees of freedom, ``shares``
    (2N,) how much of a symmetric load the half has: half on the axis, none at the left.
    """

    image: Ints
    elements: Ints
    axis: Ints
    left: NDArray[np.bool_]
    images: Ints
    signs: Floats
    shares: Floats

    def half(self, load: Floats) -> Floats:
        """The half's share (2N, ...) of loads, of which only the symmetric part counts."""
        share: Floats = (load + self.of_each(load)) * _column(self.shares / 2.0, load)
        return share

    def half_at(self, forces: csc_matrix, dofs: Ints) -> Floats:
        """The half's share (k, m) of forces (2N, m) at some degrees of freedom (k,)."""
        rows = forces.tocsr()
        both = rows[dofs].toarray() + self.signs[dofs, None] * rows[self.images[dofs]].toarray()
        share: Floats = self.shares[dofs, None] / 2.0 * both
        return share

    def image_of(self, forces: csc_matrix) -> Floats:
        """Which of m forces of unit size (2N, m) is the mirror image of which: (m, m)."""
        there = forces.tocsr()[self.images].multiply(self.signs[:, None])
        image: Floats = (forces.T @ there).toarray()
        return image

    def whole(self, u: Floats) -> Floats:
        """The displacement (2N, ...) of the whole, of that of the half."""
        return np.where(_column(self.shares > 0.0, u), u, self.of_each(u))

    def forces(self, half: Floats) -> Floats:
        """Nodal forces (2N,) of the whole, of those of the half."""
        return half + self.of_each(half)

    def of_each(self, load: Floats) -> Floats:
        """The mirror images of loads (2N, ...)."""
        image: Floats = load[self.images] * _column(self.signs, load)
        return image

    def hold(self, hold: Hold) -> tuple[Hold, Floats]:
        """The hold of the half, and the reactions (s, t) of the whole's supports that its own are.

        Nodes of the axis stay on it. Supports that answer no symmetric load drop out.
        """
        right = ~np.repeat(self.left, 2)
        fixed = np.union1d(hold.fixed[right[hold.fixed]], 2 * self.axis)
        at_rest = np.any(fixed % 2 == 1)  # along y: along x and in rotation the axis holds it
        pins = np.array([] if at_rest else [2 * self.axis[0] + 1], dtype=np.intp)
        C = np.array([support.load for support in hold.supports]).reshape(-1, len(right))
        D = np.array([support.compliance for support in hold.supports])
        apart = C - self.of_each(C.T).T
        size, V = np.linalg.eigh(apart @ apart.T)
        alike = V[:, size < _ALIKE * (C * C).sum()]
        gives, turn = np.linalg.eigh(alike.T * D @ alike)  # each gives way by itself
        alike = alike @ turn
        loads = self.half((alike.T @ C).T).T
        supports = tuple(
            Support("half", load, float(d) / 2.0) for load, d in zip(loads, gives, strict=True)
        )
        return Hold(fixed, supports, pins), alike

    def half_part(self, mesh: MeshTri2, part: Part) -> HalfPart:
        """The right half of a part of the body's ``mesh``."""
        t, x = part.mesh.t, part.mesh.doflocs[0]
        kept = np.isin(part.elements, self.elements)
        near = np.flatnonzero(x == 0.0)
        for _ in range(2):  # patches of few elements reach to the neighbours of neighbours
            beside = np.isin(t, near).any(axis=0)
            near = np.unique(t[:, beside])
        alone = part_of(mesh, part.name, part.material, part.elements[kept | beside])
        place = np.full(len(self.image), -1)
        place[alone.nodes] = np.arange(len(alone.nodes))
        left = self.left[part.nodes]
        return HalfPart(alone, place[np.where(left, self.image[part.nodes], part.nodes)], left)


def fold_of(mesh: MeshTri2) -> Fold:
    """How a mesh folds on x = 0. Raises SolveError for one that is not its own mirror image."""
    x, y = mesh.doflocs
    one, other = np.lexsort((x, y)), np.lexsort((-x, y))
    elements = np.flatnonzero(mesh.doflocs[0, mesh.dofs.element_dofs].mean(axis=0) > 0.0)
    alike = np.array_equal(x[one], -x[other]) and np.array_equal(y[one], y[other])
    if not alike or 2 * len(elements) != mesh.t.shape[1]:
        raise SolveError("a mesh is not its own mirror image at x = 0")
    image = np.empty(len(x), dtype=np.intp)
    image[one] = other
    images = np.column_stack([2 * image, 2 * image + 1]).ravel()
    signs = np.tile([-1.0, 1.0], len(x))
    shares = np.repeat(np.select([x > 0.0, x == 0.0], [1.0, 0.5], 0.0), 2)
    return Fold(image, elements, np.flatnonzero(x == 0.0), x < 0.0, images, signs, shares)


def _column(of_each: NDArray[Any], beside: Floats) -> NDArray[Any]:
    """Numbers (2N,) to go with each column of an array (2N, ...)."""
    return of_each.reshape((-1,) + (1,) * (beside.ndim - 1))
