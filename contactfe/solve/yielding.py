"""A body of one steel that may yield: forces, tangent stiffness and energy at its Gauss points.

Elements are the quadratic triangles of :mod:`.elastic` with their three Gauss points. They do not
lock as plastic flow becomes incompressible: under a flat punch in plane strain the limit is met
from above, 2.8 % over at 8 elements to the half-width and 1.5 % at 16. A mean dilatation for each
element, tried beside it, meets that limit to 0.3 % at 8, but lets plastic strain of neighbouring
points differ without bound where flow is contained, as under a contact; so it is not used. The
pressure of neighbouring points does scatter by some 5 % of the yield strength in unconfined flow:
stress is read as the mean of the elements about a node.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import csc_matrix
from skfem import ElementTriP2
from skfem.quadrature import get_quadrature

from contactfe.solve.condense import CondensedBody
from contactfe.solve.elastic import Floats, Ints
from contactfe.solve.plasticity import (
    IN_PLANE,
    Plastic,
    PlasticState,
    Returned,
    deviator,
    plane_tangent,
    product,
    returned,
    trace,
    virgin,
)


@dataclass(frozen=True)
class YieldingBody:
    """A condensed body whose steel yields.

    ``beside`` (elements, 3, 6) MPa per N/mm of line load is stress that bending of the post and the
    neighbours of the slice add, as the elastic verdict has it: it yields with the rest, and its
    strain is prescribed.
    """

    body: CondensedBody
    law: Plastic
    beside: Floats

    @property
    def points(self) -> tuple[int, int]:
        """Elements and Gauss points of each."""
        elements, points = self.body.gradients.dx.shape
        return elements, points

    @property
    def area(self) -> Floats:
        """Area (elements, 3) that each Gauss point stands for, mm²."""
        return self.body.gradients.dx

    @property
    def virgin(self) -> PlasticState:
        """The state before anything has yielded."""
        return virgin(self.points)

    @cached_property
    def nodes(self) -> Ints:
        """Nodes (elements, 6)."""
        return np.asarray(self.body.mesh.dofs.element_dofs.T, dtype=np.intp)

    @cached_property
    def dofs(self) -> Ints:
        """Degrees of freedom (elements, 12), node after node."""
        found: Ints = (2 * self.nodes[:, :, None] + np.arange(2)).reshape(len(self.nodes), 12)
        return found

    @cached_property
    def strains(self) -> Floats:
        """Strain εxx, εyy, γxy of unit displacements (elements, 3 points, 3, 12)."""
        slope = self.body.gradients.grad.transpose(0, 3, 1, 2)  # (elements, points, nodes, 2)
        B = np.zeros((*slope.shape[:2], 3, 6, 2))
        B[:, :, 0, :, 0] = B[:, :, 2, :, 1] = slope[..., 0]
        B[:, :, 1, :, 1] = B[:, :, 2, :, 0] = slope[..., 1]
        return B.reshape(*slope.shape[:2], 3, 12)

    @cached_property
    def places(self) -> Ints:
        """Where the entries (elements, 144) of element matrices lie among those of the whole."""
        K = self.body.stiffness
        columns = np.repeat(np.arange(K.shape[1]), np.diff(K.indptr))
        keys = columns * K.shape[0] + K.indices
        rows = np.repeat(self.dofs, 12, axis=1)
        wanted = np.tile(self.dofs, (1, 12)) * K.shape[0] + rows
        order = np.argsort(keys)
        found: Ints = order[np.searchsorted(keys, wanted, sorter=order)]
        return found


def yielding_body(body: CondensedBody, law: Plastic, beside: Floats | None = None) -> YieldingBody:
    """A body of one steel, whole and not folded, as one that yields."""
    if len(body.parts) > 1 or body.fold is not None:
        raise ValueError("a body that yields is of one steel, and whole")
    if beside is None:
        beside = np.zeros((*body.gradients.dx.shape, 6))
    return YieldingBody(body, law, beside)


def displaced(of: YieldingBody, u: Floats, state: PlasticState, line_load: float) -> Returned:
    """The steel at a displacement u (2N,) mm reached from a state, under a line load, N/mm."""
    plane = np.einsum("epkj,ej->epk", of.strains, u[of.dofs], optimize=True)
    strain = np.zeros((*plane.shape[:2], 6))
    strain[..., :2], strain[..., 3] = plane[..., :2], plane[..., 2] / 2.0
    return returned(of.law, strain, state, line_load * of.beside)


def inner_forces(of: YieldingBody, stress: Floats, line_load: float) -> Floats:
    """Nodal forces (2N,) of a stress (elements, 3, 6), N/mm.

    What is beside the plane is in equilibrium by itself.
    """
    plane = (stress - line_load * of.beside)[..., IN_PLANE] * of.area[..., None]
    forces: Floats = np.einsum("epk,epkj->ej", plane, of.strains, optimize=True)
    total = np.bincount(of.dofs.ravel(), forces.ravel(), minlength=of.body.unknowns)
    return np.asarray(total, dtype=np.float64)


def tangent(of: YieldingBody, at: Returned) -> csc_matrix:
    """The consistent tangent stiffness (2N, 2N): the elastic one where nothing yields."""
    softer = np.flatnonzero(at.yields.any(axis=1))
    K = of.body.stiffness.copy()
    if len(softer):
        less = plane_tangent(of.law, at.soft[softer] - 1.0, at.along[softer], at.normal[softer])
        less = less * of.area[softer][..., None, None]
        B = of.strains[softer]
        change = (B.swapaxes(-1, -2) @ less @ B).sum(axis=1).reshape(len(softer), -1)
        K.data += np.bincount(of.places[softer].ravel(), change.ravel(), minlength=K.nnz)
    return K


def stored(of: YieldingBody, stress: Floats, state: PlasticState) -> float:
    """Energy stored in the steel, N mm/mm: elastic, and that of linear hardening."""
    law = of.law
    elastic = product(deviator(stress), deviator(stress)) / (4.0 * law.elastic.mu)
    elastic += trace(stress) ** 2 / (18.0 * law.bulk)
    hardened = law.isotropic * state.equivalent**2 / 2.0
    if law.kinematic > 0.0:
        hardened += 0.75 * product(state.back, state.back) / law.kinematic
    return float(((elastic + hardened) * of.area).sum())


def dissipated(of: YieldingBody, before: PlasticState, at: Returned) -> float:
    """Energy turned into heat by a step, N mm/mm: what the plastic strain takes and does not store.

    By the stress at the end of the step, as the return is.
    """
    law, state = of.law, at.state
    taken = product(at.stress - state.back, state.strain - before.strain)
    taken -= law.isotropic * state.equivalent * (state.equivalent - before.equivalent)
    return float((taken * of.area).sum())


def at_nodes(of: YieldingBody, values: Floats) -> Floats:
    """Values (elements, 3, ...) at Gauss points as values (N, ...) at nodes.

    In each element the plane through its three points; at a node the mean of its elements, each by
    its area.
    """
    x = of.body.gradients.x.transpose(1, 2, 0)  # (elements, 3, 2)
    ones = np.ones((*x.shape[:2], 1))
    plane = np.linalg.solve(np.concatenate([ones, x], axis=-1), values.reshape(*x.shape[:2], -1))
    at = of.body.mesh.doflocs.T[of.nodes]
    there = np.concatenate([np.ones((*at.shape[:2], 1)), at], axis=-1) @ plane
    weight = np.repeat(of.area.sum(axis=1)[:, None], 6, axis=1)
    nodes, count = of.nodes.ravel(), of.body.unknowns // 2
    total = np.bincount(nodes, weight.ravel(), minlength=count)
    found = np.stack(
        [
            np.bincount(nodes, (weight * component).ravel(), minlength=count) / total
            for component in np.moveaxis(there, -1, 0)
        ],
        axis=-1,
    )
    return found.reshape(count, *values.shape[2:])


def at_points(values: Floats, nodes: Ints) -> Floats:
    """Nodal values (N, ...) at the Gauss points (elements, 3, ...) of elements of ``nodes``."""
    X, _ = get_quadrature(ElementTriP2.refdom, 2)
    shapes = np.stack([ElementTriP2().lbasis(X, i)[0] for i in range(6)])  # (6, points)
    there: Floats = np.einsum("ip,ei...->ep...", shapes, values[nodes])
    return there
