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

from contactfe.solve.elastic import Elastic, Floats, Ints
from contactfe.solve.fold import Fold
from contactfe.solve.ordering import elimination_order, factored
from contactfe.solve.parts import parts_of

Materials = Elastic | Mapping[str, Elastic]


def shear_patterns(mesh: MeshTri2, material: Materials) -> tuple[Floats, Floats, Floats]:
    """Nodal loads (2N,) of unit force along x, of unit force along y, and of a unit torque.

    The torque is that of St-Venant torsion; forces act through the shear centre. In N and N mm.
    """
    of = _Warping(mesh, material)
    x, y = of.x
    second = np.array(
        [[(of.young * p * q).sum() for p in (x, y)] for q in (x, y)]
    )  # bending stiffnesses: a force along x may bend an unsymmetric section both ways
    along, across = (of.sheared(*np.linalg.solve(second, direction)) for direction in np.eye(2))
    tau = of.stress(np.stack([-y, x]))
    torque = float(((x * tau[1] - y * tau[0]) * of.dx).sum())
    return along, across, of.as_load(tau / torque)


def across_pattern(mesh: MeshTri2, material: Materials, fold: Fold) -> Floats:
    """Nodal load (2N,) of unit force along y on a section that folds on x = 0, of its right half.

    Warping is symmetric too, so nothing crosses the axis.
    """
    of = _Warping(mesh, material, fold.elements)
    return fold.forces(of.sheared(0.0, 0.5 / float((of.young * of.x[1] ** 2).sum())))


class _Warping:
    """The warping of a section, or of the ``elements`` at the right of its axis of symmetry, x = 0.

    ``x`` (2, elements, points) mm is measured from the centroid, ``dx`` and ``young``, E dx, are
    weights of the points.
    """

    def __init__(self, mesh: MeshTri2, material: Materials, elements: Ints | None = None) -> None:
        basis = Basis(mesh, ElementTriP2(), intorder=5, elements=elements)
        of = slice(None) if elements is None else elements
        E, self._G, self._nu = (moduli[of] for moduli in _moduli(mesh, material))
        self.dx = basis.dx
        self.young = E * self.dx
        X = np.asarray(basis.global_coordinates())
        centroid = (self.young * X).sum(axis=(1, 2)) / self.young.sum()
        if elements is not None:
            centroid[0] = 0.0
        self.x: Floats = X - centroid[:, None, None]
        self._phi = np.stack([np.asarray(basis.basis[i][0]) for i in range(6)]) + 0.0 * self.dx
        # (6, 2, elements, points)
        self._grad = np.stack([basis.basis[i][0].grad for i in range(6)])
        self._nodes = nodes = mesh.dofs.element_dofs[:, of]
        self._n = n = mesh.doflocs.shape[1]
        local = np.einsum(
            "iaep,jaep,ep->ije", self._grad, self._grad, self._G * self.dx, optimize=True
        )
        rows, columns = np.repeat(nodes, 6, axis=0).ravel(), np.tile(nodes, (6, 1)).ravel()
        K = coo_matrix((local.reshape(36, -1).ravel(), (rows, columns)), (n, n)).tocsc()
        # Warping is known but for a constant: the node of zero that is left out takes it.
        self._free = elimination_order(mesh, elements=elements)[:-1]
        self._factor = factored(K[self._free][:, self._free])

    def sheared(self, kx: float, ky: float) -> Floats:
        """Nodal load (2N,) that holds a slice whose curvatures grow by (kx, ky) per mm."""
        x, y = self.x
        d = self._nu * np.stack(
            [kx * (x**2 - y**2) / 2 + ky * x * y, kx * x * y + ky * (y**2 - x**2) / 2]
        )
        return self.as_load(-self._stress(d, self.young * (kx * x + ky * y)))

    def stress(self, d: Floats) -> Floats:
        """τzx, τzy (2, elements, points) of torsion."""
        return self._stress(d, np.zeros_like(self.dx))

    def _stress(self, d: Floats, source: Floats) -> Floats:
        """τzx, τzy (2, elements, points) of a section without warping sheared by d."""
        grad, nodes = self._grad, self._nodes
        right = self._gathered(
            -np.einsum("iep,ep->ie", self._phi, source)
            - np.einsum("iaep,aep,ep->ie", grad, d, self._G * self.dx, optimize=True)
        )
        w = np.zeros(self._n)
        w[self._free] = self._factor.solve(right[self._free])
        tau: Floats = self._G * (np.einsum("iaep,ie->aep", grad, w[nodes], optimize=True) + d)
        return tau

    def as_load(self, tau: Floats) -> Floats:
        """Nodal load (2N,) of a body force, N/mm³, as large as stresses (2, elements, points)."""
        load = [self._gathered(np.einsum("iep,ep->ie", self._phi, t * self.dx)) for t in tau]
        return np.column_stack(load).ravel()

    def _gathered(self, contributions: Floats) -> Floats:
        weights = contributions.reshape(6, -1).ravel()
        return np.bincount(self._nodes.ravel(), weights, minlength=self._n).astype(np.float64)


def _moduli(mesh: MeshTri2, material: Materials) -> tuple[Floats, Floats, Floats]:
    """E, G and ν of every element, (elements, 1)."""
    E, G, nu = (np.empty((mesh.t.shape[1], 1)) for _ in range(3))
    for part in parts_of(mesh, material):
        E[part.elements] = part.material.young
        G[part.elements] = part.material.mu
        nu[part.elements] = part.material.poisson
    return E, G, nu
