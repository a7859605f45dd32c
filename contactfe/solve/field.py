"""Stress over a body: recovered nodal values, equivalent stresses, and where they peak."""

from dataclasses import dataclass

import numpy as np
from skfem import ElementTriP2, MeshTri2

from contactfe.hand.stress import out_of_plane
from contactfe.solve.condense import CondensedBody
from contactfe.solve.elastic import Floats
from contactfe.solve.recovery import recover


@dataclass(frozen=True)
class StressField:
    """Recovered stress at the nodes of a body.

    ``mesh`` carries node k at ``mesh.doflocs[:, k]``; ``stress`` (N, 4) holds σx, σy, σz, τxy,
    ``displacement`` (N, 2) is measured from the hold's mean travel. MPa, mm, tension positive.
    """

    mesh: MeshTri2
    stress: Floats
    displacement: Floats

    @property
    def von_mises(self) -> Floats:
        """Von Mises stress at the nodes (N,), MPa."""
        return von_mises(self.stress)

    @property
    def max_shear(self) -> Floats:
        """Maximum shear stress at the nodes (N,), MPa, the out-of-plane stress included."""
        return max_shear(self.stress)


@dataclass(frozen=True)
class Samples:
    """Stress at n points all over a body: x, y (mm), von Mises, maximum shear (MPa), each (n,)."""

    x: Floats
    y: Floats
    von_mises: Floats
    max_shear: Floats


def stress_field(body: CondensedBody, u: Floats, contact_pressure: Floats) -> StressField:
    """Stress of a body displaced by ``u`` (2N,) under ``contact_pressure`` (N,) at its nodes."""
    plane = recover(body, u, contact_pressure)
    steel = body.material
    out = out_of_plane(plane[:, 0], plane[:, 1], steel.poisson, steel.state)
    stress = np.column_stack([plane[:, 0], plane[:, 1], out, plane[:, 2]])
    return StressField(body.mesh, stress, u.reshape(-1, 2))


def von_mises(stress: Floats) -> Floats:
    """Von Mises stress of (..., 4) stresses σx, σy, σz, τxy."""
    x, y, z, t = np.moveaxis(stress, -1, 0)
    squared: Floats = 0.5 * ((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) + 3.0 * t**2
    return np.sqrt(squared)


def max_shear(stress: Floats) -> Floats:
    """Half the largest difference of principal stresses of (..., 4) stresses σx, σy, σz, τxy."""
    x, y, z, t = np.moveaxis(stress, -1, 0)
    radius = np.hypot((x - y) / 2, t)
    high, low = np.maximum((x + y) / 2 + radius, z), np.minimum((x + y) / 2 - radius, z)
    shear: Floats = (high - low) / 2
    return shear


def sample(field: StressField, divisions: int = 4) -> Samples:
    """Evaluate a field on a lattice of ``divisions`` per element side: peaks hide between nodes."""
    shapes = _lattice(divisions)  # (6, points)
    nodes = field.mesh.dofs.element_dofs
    values = np.concatenate([field.mesh.doflocs, field.stress.T])[
        :, nodes
    ]  # (6, 6 nodes, elements)
    x, y, *stress = np.einsum("cne,np->cep", values, shapes, optimize=True).reshape(6, -1)
    s = np.stack(stress, axis=-1)
    return Samples(x, y, von_mises(s), max_shear(s))


def _lattice(divisions: int) -> Floats:
    """P2 shape functions (6, points) on a triangle's lattice of ``divisions`` per side."""
    steps = np.arange(divisions + 1) / divisions
    X = np.array([(i, j) for i in steps for j in steps if i + j <= 1 + 1e-12]).T
    element = ElementTriP2()
    return np.stack([element.lbasis(X, i)[0] + np.zeros(X.shape[1]) for i in range(6)])
