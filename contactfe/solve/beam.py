"""How beam shear and torsion spread over a section of any shape and of several materials.

A post that cantilevers along z under a shear that grows along it holds each slice by the change of
its shear stresses. St-Venant's problem gives their spread: with the curvature growing as κ′ per mm,
σz = −E κ′·(x, y) z, the warping w of the section satisfies, weakly and over all materials at once,

    ∫ G (∇w + d)·∇φ = −∫ E κ′·(x, y) φ  for every φ,    τ = G (∇w + d),

where d = ν(κx(x² − y²)/2 + κy xy, κx xy + κy(y² − x²)/2) is what lateral contraction adds, and
x, y are measured from the centroid weighted by E. Torsion is the same with d = (−y, x) and no
right side. The resultants of the stresses are exact whatever the mesh. Source: St-Venant's flexure
and torsion as in A. E. H. Love, A Treatise on the Mathematical Theory of Elasticity, 4th ed.,
chapters XIV and XV (from memory, not seen); the weak form over several materials is derived here.
Where Poisson's ratios of bonded materials differ, the plane stresses that make their contractions
agree are left out.
"""

from collections.abc import Mapping

import numpy as np
from scipy.sparse import coo_matrix
from skfem import Basis, ElementTriP2, MeshTri2

from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.ordering import elimination_order, factored
from contactfe.solve.parts import parts_of


def shear_patterns(
    mesh: MeshTri2, material: Elastic | Mapping[str, Elastic]
) -> tuple[Floats, Floats, Floats]:
    """Nodal loads (2N,) of unit force along x, of unit force along y, and of a unit torque.

    The torque is that of St-Venant torsion; forces act through the shear centre. In N and N mm.
    """
    basis = Basis(mesh, ElementTriP2(), intorder=5)
    dx = basis.dx
    E, G, nu = _moduli(mesh, material)
    X = np.asarray(basis.global_coordinates())
    centroid = (E * dx * X).sum(axis=(1, 2)) / (E * dx).sum()
    x, y = X - centroid[:, None, None]
    phi = np.stack([np.asarray(basis.basis[i][0]) for i in range(6)])  # (6, elements or 1, points)
    grad = np.stack([basis.basis[i][0].grad for i in range(6)])  # (6, 2, elements, points)
    nodes = mesh.dofs.element_dofs
    n = mesh.doflocs.shape[1]

    local = np.einsum("iaep,jaep,ep->ije", grad, grad, G * dx, optimize=True)
    rows, columns = np.repeat(nodes, 6, axis=0), np.tile(nodes, (6, 1))
    K = coo_matrix((local.reshape(36, -1).ravel(), (rows.ravel(), columns.ravel())), (n, n)).tocsc()
    # Warping is known but for a constant: the node of zero that is left out takes it.
    free = elimination_order(mesh)[:-1]
    factor = factored(K[free][:, free])

    def gathered(contributions: Floats) -> Floats:
        weights = contributions.reshape(6, -1).ravel()
        return np.bincount(nodes.ravel(), weights, minlength=n).astype(np.float64)

    def stress(d: Floats, source: Floats) -> Floats:
        """τzx, τzy (2, elements, points) at the integration points."""
        right = gathered(
            -np.einsum("iep,ep->ie", phi + 0.0 * dx, source * dx)
            - np.einsum("iaep,aep,ep->ie", grad, d, G * dx, optimize=True)
        )
        w = np.zeros(n)
        w[free] = factor.solve(right[free])
        tau: Floats = G * (np.einsum("iaep,ie->aep", grad, w[nodes], optimize=True) + d)
        return tau

    def as_load(tau: Floats) -> Floats:
        load = [gathered(np.einsum("iep,ep->ie", phi + 0.0 * dx, t * dx)) for t in tau]
        return np.column_stack(load).ravel()

    second = np.array(
        [[(E * dx * p * q).sum() for p in (x, y)] for q in (x, y)]
    )  # bending stiffnesses: a force along x may bend an unsymmetric section both ways
    loads = []
    for direction in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
        kx, ky = np.linalg.solve(second, direction)
        d = nu * np.stack(
            [kx * (x**2 - y**2) / 2 + ky * x * y, kx * x * y + ky * (y**2 - x**2) / 2]
        )
        loads.append(as_load(-stress(d, E * (kx * x + ky * y))))
    tau = stress(np.stack([-y, x]), np.zeros_like(x))
    torque = float(((x * tau[1] - y * tau[0]) * dx).sum())
    return loads[0], loads[1], as_load(tau / torque)


def _moduli(
    mesh: MeshTri2, material: Elastic | Mapping[str, Elastic]
) -> tuple[Floats, Floats, Floats]:
    """E, G and ν of every element, (elements, 1)."""
    E, G, nu = (np.empty((mesh.t.shape[1], 1)) for _ in range(3))
    for part in parts_of(mesh, material):
        E[part.elements] = part.material.young
        G[part.elements] = part.material.mu
        nu[part.elements] = part.material.poisson
    return E, G, nu
