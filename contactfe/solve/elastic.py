"""Plane elasticity of one body on scikit-fem's quadratic triangles: its stiffness.

Scalar P2 degrees of freedom double as node numbers: node k lies at ``mesh.doflocs[:, k]`` and its
displacement components are the degrees of freedom 2k (along x) and 2k + 1 (along y).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix
from skfem import Basis, ElementTriP2, MeshTri2

from contactfe.hand.check import State

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Elastic:
    """Isotropic linear elasticity in a plane: Young's modulus in MPa, Poisson's ratio, state."""

    young: float
    poisson: float
    state: State = "plane strain"

    @property
    def mu(self) -> float:
        """Shear modulus μ = E / 2(1 + ν), MPa."""
        return self.young / (2.0 * (1.0 + self.poisson))

    @property
    def lam(self) -> float:
        """In-plane first Lamé constant, MPa.

        Eν/(1+ν)(1−2ν) in plane strain, Eν/(1−ν²) in plane stress.
        """
        E, nu = self.young, self.poisson
        if self.state == "plane strain":
            return E * nu / ((1.0 + nu) * (1.0 - 2.0 * nu))
        return E * nu / (1.0 - nu**2)

    @property
    def along_surface(self) -> tuple[float, float]:
        """(E′, ν′) of σt − ν′σn = E′ε for the stretch ε of a surface, MPa and 1."""
        E, nu = self.young, self.poisson
        return (E / (1.0 - nu**2), nu / (1.0 - nu)) if self.state == "plane strain" else (E, nu)


@dataclass(frozen=True)
class Gradients:
    """P2 shape-function gradients at three Gauss points of each element.

    ``grad`` is (elements, 6 nodes, 2, 3 points), ``dx`` (elements, 3), ``x`` (2, elements, 3).
    Three points integrate the stiffness of a straight-sided element exactly, and stress sampled
    there is more accurate than elsewhere in a quadratic triangle, so stress recovery starts from
    the same points.
    """

    grad: Floats
    dx: Floats
    x: Floats


def gradients(mesh: MeshTri2) -> Gradients:
    """Evaluate the P2 gradients of ``mesh`` once, for stiffness and stress alike."""
    basis = Basis(mesh, ElementTriP2(), intorder=2)
    grad = np.stack([basis.basis[i][0].grad for i in range(6)])  # (6, 2, elements, points)
    return Gradients(
        np.ascontiguousarray(grad.transpose(2, 0, 1, 3)),
        basis.dx,
        np.asarray(basis.global_coordinates()),
    )


def stiffness(
    mesh: MeshTri2, lam: Floats, mu: Floats, at: Gradients, elements: Ints | None = None
) -> csc_matrix:
    """Stiffness matrix (2N, 2N), N/mm per mm of length, of Lamé constants (elements,) in MPa.

    That of some ``elements`` alone, by their numbers, where these are given.

    All element matrices come from one batch of products ∫ ∂φi/∂xa ∂φj/∂xb, which is several times
    as fast as evaluating the bilinear form for each pair of vector shape functions.
    """
    of = slice(None) if elements is None else elements
    G = at.grad[of].reshape(-1, 12, 3)
    ne = len(G)
    H = ((G * at.dx[of][:, None, :]) @ G.transpose(0, 2, 1)).reshape(ne, 6, 2, 6, 2)
    lam, mu = lam[of][:, None, None, None, None], mu[of][:, None, None, None, None]
    K = lam * H + mu * H.transpose(0, 1, 4, 3, 2)
    shear = mu[..., 0, 0] * (H[:, :, 0, :, 0] + H[:, :, 1, :, 1])
    K[:, :, 0, :, 0] += shear
    K[:, :, 1, :, 1] += shear
    nodes = mesh.dofs.element_dofs.T[of]
    dofs = (2 * nodes[:, :, None] + np.arange(2, dtype=nodes.dtype)).reshape(ne, 12)
    rows = np.repeat(dofs, 12, axis=1).ravel()
    columns = np.tile(dofs, (1, 12)).ravel()
    n = 2 * mesh.doflocs.shape[1]
    return coo_matrix((K.ravel(), (rows, columns)), shape=(n, n)).tocsc()
