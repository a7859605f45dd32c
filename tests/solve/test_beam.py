"""Spread of beam shear and torsion over a section, as nodal loads."""

import numpy as np
import pytest
from bodies import STEEL, block, member_mesh
from skfem import Basis, ElementTriP2, MeshTri2

from contactfe.hand.flexure import flexure_shear
from contactfe.solve import holds
from contactfe.solve.beam import shear_patterns
from contactfe.solve.condense import condense, imbalance, respond
from contactfe.solve.elastic import Elastic
from contactfe.solve.parts import parts_of

SOFT = Elastic(30e3, 0.2)
RADIUS = 75.0


def components(load):
    return load.reshape(-1, 2).T


def moment(mesh, load, about=(0.0, 0.0)):
    fx, fy = components(load)
    x, y = mesh.doflocs
    return float(((x - about[0]) * fy - (y - about[1]) * fx).sum())


def nodal(mesh, stress):
    """Nodal loads (2N,) of a body force (fx, fy) of (x, y), by quadrature."""
    basis = Basis(mesh, ElementTriP2(), intorder=8)
    fx, fy = stress(*np.asarray(basis.global_coordinates()))
    load = np.zeros((mesh.doflocs.shape[1], 2))
    for i in range(6):
        phi = np.asarray(basis.basis[i][0])
        for axis, f in enumerate((fx, fy)):
            np.add.at(load[:, axis], mesh.dofs.element_dofs[i], (phi * f * basis.dx).sum(axis=1))
    return load.ravel()


@pytest.mark.parametrize("bore", [0.0, 30.0, 60.0])
def test_beam_shear_of_rounds_is_the_closed_form(bore):
    # contactfe.hand.flexure. On these coarse meshes within 0.6 % of the largest nodal load.
    mesh = member_mesh(RADIUS, bore, 2.0, 2.0)
    along, across, _ = shear_patterns(mesh, STEEL)
    upward = nodal(mesh, lambda x, y: flexure_shear(x, y - RADIUS, 1.0, RADIUS, bore, 0.3))
    assert np.abs(across - upward).max() < 1e-2 * np.abs(upward).max()
    turned = nodal(mesh, lambda x, y: flexure_shear(y - RADIUS, x, 1.0, RADIUS, bore, 0.3)[::-1])
    assert np.abs(along - turned).max() < 1e-2 * np.abs(turned).max()


def test_poissons_ratio_matters_to_the_spread():
    mesh = member_mesh(RADIUS, 0.0, 2.0, 2.0)
    spread = [shear_patterns(mesh, Elastic(200e3, nu))[1] for nu in (0.0, 0.45)]
    for nu, load in zip((0.0, 0.45), spread, strict=True):
        exact = nodal(mesh, lambda x, y, nu=nu: flexure_shear(x, y - RADIUS, 1.0, RADIUS, 0.0, nu))
        assert np.abs(load - exact).max() < 1e-2 * np.abs(exact).max()
    assert np.abs(spread[0] - spread[1]).max() > 5e-2 * np.abs(spread[0]).max()


@pytest.mark.parametrize("bore", [0.0, 50.0])
def test_torsion_of_rounds_is_a_stress_along_circles(bore):
    # τ = T r / J with J = π(R⁴ − ri⁴)/2: common practice, no source. No warping, so the mesh's
    # circles are the only error.
    mesh = member_mesh(RADIUS, bore, 2.0, 2.0)
    _, _, torque = shear_patterns(mesh, STEEL)
    J = np.pi * (RADIUS**4 - bore**4) / 2.0
    exact = nodal(mesh, lambda x, y: (-(y - RADIUS) / J, x / J))
    assert np.abs(torque - exact).max() < 1e-4 * np.abs(exact).max()


def test_torsion_of_a_rectangle_by_its_series():
    # J = a b³ (1/3 − 0.21 b/a (1 − b⁴/12 a⁴)) and the like; here the field itself, by Fourier's
    # series of Prandtl's stress function (Timoshenko and Goodier, Theory of Elasticity, 3rd ed.,
    # chapter on torsion: from memory, not seen): greatest stress 4.80 T/b³ for a square.
    mesh = block(np.linspace(-0.5, 0.5, 21), np.linspace(-0.5, 0.5, 21), "bottom", "top")
    _, _, torque = shear_patterns(mesh, STEEL)

    def square(x, y):
        tx, ty = -2.0 * (y + 0.0), np.zeros_like(x)
        for n in range(1, 60, 2):
            k, sign = n * np.pi, (-1) ** ((n - 1) // 2)
            rate = 8.0 / (n**2 * np.pi**2) * sign / np.cosh(k / 2.0)
            ty = ty + rate * np.sinh(k * x) * np.cos(k * y)
            tx = tx + rate * np.cosh(k * x) * np.sin(k * y)
        return tx, ty

    exact = nodal(mesh, square)
    exact /= moment(mesh, exact)
    assert np.abs(torque - exact).max() < 5e-3 * np.abs(exact).max()


@pytest.fixture(scope="module")
def filled():
    return member_mesh(RADIUS, 50.0, 2.0, 2.0, filled=True)


def test_infill_equal_to_the_steel_is_a_solid(filled):
    both = shear_patterns(filled, {"steel": STEEL, "infill": STEEL})
    for one, other in zip(both, shear_patterns(filled, STEEL), strict=True):
        assert one == pytest.approx(other, rel=1e-9, abs=1e-12)


def test_a_vanishing_infill_carries_nothing(filled):
    soft = Elastic(200e3 * 1e-9, 0.3)
    patterns = shear_patterns(filled, {"steel": STEEL, "infill": soft})
    inside = np.hypot(filled.doflocs[0], filled.doflocs[1] - RADIUS) < 49.0
    for load in patterns:
        assert np.abs(load.reshape(-1, 2)[inside]).max() < 1e-7 * np.abs(load).max()
    # And the steel then carries what a tube does: closed form.
    tube = nodal_on_steel(filled, 50.0)
    assert np.abs(patterns[1] - tube).max() < 1e-2 * np.abs(tube).max()


def nodal_on_steel(mesh, bore):
    def stress(x, y):
        inside = np.hypot(x, y - RADIUS) < bore
        kept = flexure_shear(
            np.where(inside, RADIUS, x), np.where(inside, RADIUS, y) - RADIUS,
            1.0, RADIUS, bore, 0.3,
        )  # fmt: skip
        return tuple(np.where(inside, 0.0, t) for t in kept)

    return nodal(mesh, stress)


def test_resultants_of_a_composite_are_exact(filled):
    # By the equations of St-Venant, whatever the mesh: forces to rounding.
    along, across, torque = shear_patterns(filled, {"steel": STEEL, "infill": SOFT})
    for load, force in ((along, (1.0, 0.0)), (across, (0.0, 1.0)), (torque, (0.0, 0.0))):
        assert components(load).sum(axis=1) == pytest.approx(force, abs=1e-10)
    assert moment(filled, torque, (0.0, RADIUS)) == pytest.approx(1.0, rel=1e-10)
    # By symmetry both forces act through the centre: to the mesh's own symmetry.
    assert abs(moment(filled, across, (0.0, RADIUS))) < 1e-9
    assert abs(moment(filled, along, (0.0, RADIUS))) < 1e-4


def test_shear_centre_of_a_half_round():
    # 8 (3 + 4ν) R / 15 π (1 + ν) from the centre of the circle (Timoshenko and Goodier, Theory of
    # Elasticity, 3rd ed., semicircular bars: from memory, not seen). For ν = 0, where the twist
    # about one point or another makes no difference: 0.5093 R.
    disc = MeshTri2.init_circle(4)
    right = np.flatnonzero(disc.p[0, disc.t].mean(axis=0) > 0.0).astype(np.int32)
    left = np.setdiff1d(np.arange(disc.t.shape[1]), right).astype(np.int32)
    disc = disc.with_subdomains({"right": right, "left": left})
    half = parts_of(disc, {"right": STEEL, "left": STEEL})[0].mesh
    assert half.doflocs[0].min() == pytest.approx(0.0, abs=1e-12)
    along, across, _ = shear_patterns(half, Elastic(200e3, 0.0))
    assert moment(half, across) == pytest.approx(8.0 / (5.0 * np.pi), rel=2e-3)
    assert abs(moment(half, along)) < 1e-6  # on its axis of symmetry
    assert components(along).sum(axis=1) == pytest.approx([1.0, 0.0], abs=1e-10)


def test_a_section_without_symmetry_is_held_in_equilibrium():
    # Two materials side by side, under a load off any centre.
    mesh = block(np.linspace(0, 3, 7), np.linspace(0, 2, 5), "bottom", "top")
    middle = mesh.p[:, mesh.t].mean(axis=1)
    corner = (middle[0] > 1.0) & (middle[1] > 0.5)
    mesh = mesh.with_subdomains(
        {
            "steel": np.flatnonzero(~corner).astype(np.int32),
            "infill": np.flatnonzero(corner).astype(np.int32),
        }
    )
    material = {"steel": STEEL, "infill": SOFT}
    body = condense(mesh, material, holds.beam_shear(mesh, material), tangential=True)
    load = np.zeros(body.unknowns)
    load[2 * body.contact[1]] = 40.0
    load[2 * body.contact[1] + 1] = 100.0
    u, r = respond(body, load)
    assert imbalance(body, load, u, r) < 1e-11
    total = load + body.supported.patterns.T @ r
    assert components(total).sum(axis=1) == pytest.approx([0.0, 0.0], abs=1e-9)
    assert moment(mesh, total) == pytest.approx(0.0, abs=1e-9)


def test_a_force_on_a_section_without_symmetry_is_that_force_alone():
    # Bending about axes that are not the principal ones: a force along x bends both ways.
    mesh = block(np.linspace(0, 3, 7), np.linspace(0, 2, 5), "bottom", "top")
    x, y = mesh.p[:, mesh.t].mean(axis=1)
    corner = (x > 1.0) & (y > 0.5)
    groups = {"steel": np.flatnonzero(~corner), "infill": np.flatnonzero(corner)}
    mesh = mesh.with_subdomains({name: k.astype(np.int32) for name, k in groups.items()})
    along, across, torque = shear_patterns(mesh, {"steel": STEEL, "infill": SOFT})
    for load, force in ((along, (1.0, 0.0)), (across, (0.0, 1.0)), (torque, (0.0, 0.0))):
        assert components(load).sum(axis=1) == pytest.approx(force, abs=1e-10)


@pytest.mark.parametrize("first", ["steel", "infill"])
def test_each_material_contracts_by_its_own_poissons_ratio(filled, first):
    # An infill that carries nothing leaves the tube's closed form, whatever its own ratio is.
    steel, soft = Elastic(200e3, 0.3), Elastic(200e3 * 1e-9, 0.0)
    materials = {"steel": steel, "infill": soft}
    ordered = {name: materials[name] for name in (first, *materials)}
    across = shear_patterns(filled, ordered)[1]
    tube = nodal_on_steel(filled, 50.0)
    assert np.abs(across - tube).max() < 1e-2 * np.abs(tube).max()
