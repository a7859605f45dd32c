import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementTriP2, ElementVector, MeshTri2
from skfem.helpers import ddot, eye, sym_grad, trace

from contactfe.solve.elastic import Elastic, gradients, stiffness

# Never ν = 1/4 (λ = μ) or ν = 0 alone: swapped constants would not show.
MATERIALS = [
    Elastic(210e3, 0.3),
    Elastic(70e3, 0.33),
    Elastic(200e3, 0.3, "plane stress"),
    Elastic(30e3, 0.2, "plane stress"),
]


def curved_mesh() -> MeshTri2:
    return MeshTri2.init_circle(3)


def of_one(mesh, material):
    """The stiffness of a body of one material."""
    every = np.ones(mesh.t.shape[1])
    return stiffness(mesh, material.lam * every, material.mu * every, gradients(mesh))


@pytest.mark.parametrize("material", MATERIALS, ids=str)
def test_stiffness_equals_the_bilinear_form_of_scikit_fem(material):
    # Independent: scikit-fem assembles the form 2μ ε:ε + λ tr ε tr ε pair by pair.
    mesh = curved_mesh()

    @BilinearForm
    def form(u, v, w):
        strain = sym_grad(u)
        stress = 2.0 * material.mu * strain + material.lam * eye(trace(strain), 2)
        return ddot(stress, sym_grad(v))

    expected = form.assemble(Basis(mesh, ElementVector(ElementTriP2()), intorder=2))
    ours = of_one(mesh, material)
    assert abs(ours - expected).max() < 1e-12 * abs(expected).max()


@pytest.mark.parametrize("material", MATERIALS, ids=str)
def test_constants_give_youngs_modulus_and_poissons_ratio_back(material):
    # Uniaxial stress s along x: in plane stress εx = s/E, εy = −νs/E; in plane strain the same with
    # E/(1−ν²) and ν/(1−ν). Textbook plane elasticity; common practice, no source.
    E, nu = material.along_surface
    ex, ey = 1.0 / E, -nu / E
    sx = 2 * material.mu * ex + material.lam * (ex + ey)
    sy = 2 * material.mu * ey + material.lam * (ex + ey)
    assert sx == pytest.approx(1.0, rel=1e-12)
    assert sy == pytest.approx(0.0, abs=1e-12)


def test_rigid_motions_cost_no_force():
    mesh = curved_mesh()
    K = of_one(mesh, MATERIALS[0])
    x, y = mesh.doflocs
    for motion in ((1 + 0 * x, 0 * x), (0 * x, 1 + 0 * x), (-y, x)):
        force = K @ np.column_stack(motion).ravel()
        assert np.abs(force).max() < 1e-9 * abs(K).max()


def test_each_element_has_its_own_material():
    # The stiffness is a sum over elements, so that of two materials is the sum of the halves.
    mesh = curved_mesh()
    soft, hard = MATERIALS[1], MATERIALS[0]
    left = mesh.p[0, mesh.t].mean(axis=0) < 0.1
    lam, mu = (np.where(left, getattr(soft, of), getattr(hard, of)) for of in ("lam", "mu"))
    at = gradients(mesh)
    zero = np.zeros(left.size)
    parts = stiffness(mesh, np.where(left, soft.lam, zero), np.where(left, soft.mu, zero), at)
    parts = parts + stiffness(
        mesh, np.where(left, zero, hard.lam), np.where(left, zero, hard.mu), at
    )
    assert abs(stiffness(mesh, lam, mu, at) - parts).max() < 1e-12 * abs(parts).max()
    assert 0 < left.sum() < left.size
