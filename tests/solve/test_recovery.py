"""Stress recovered from known displacements, on one material and across two."""

import numpy as np
import pytest
from bodies import STEEL, block, member, plate, two_edges
from skfem import MeshTri, MeshTri2

from contactfe.solve.condense import condense
from contactfe.solve.elastic import Elastic
from contactfe.solve.field import stress_field
from contactfe.solve.lines import group_nodes
from contactfe.solve.recovery import Solved, known, recover, surface
from contactfe.solve.supports import Hold

SOFT = Elastic(30e3, 0.2)


def stack():
    """Soft below y = 0, hard above, touched from below and bonded at all other sides."""
    plain = MeshTri.init_tensor(np.linspace(-1, 1, 7), np.linspace(-1, 1, 7))
    mesh = MeshTri2.from_mesh(plain)
    height = mesh.p[1, mesh.t].mean(axis=0)
    below = mesh.facets_satisfying(lambda p: np.isclose(p[1], -1.0))
    return mesh.with_boundaries(
        {
            "contact": below,
            "others": np.setdiff1d(mesh.boundary_facets(), below),
        }
    ).with_subdomains(
        {
            "hard": np.flatnonzero(height > 0.0).astype(np.int32),
            "soft": np.flatnonzero(height < 0.0).astype(np.int32),
        }
    )


def test_the_jump_of_stress_along_a_bond_is_recovered_on_both_sides():
    # The same stretch e along the bond and the same traction across it: σy = −p and τ in both, and
    # σx jumps. Plane strain, by Hooke's law in each.
    mesh = stack()
    nodes = group_nodes(mesh, "others")
    hold = Hold(np.sort(np.concatenate([2 * nodes, 2 * nodes + 1])), bonded=("others",))
    materials = {"hard": STEEL, "soft": SOFT}
    body = condense(mesh, materials, hold, tangential=True)
    e, p, t = 1e-3, 120.0, 35.0
    x, y = mesh.doflocs
    ux, uy, sx = e * x, np.zeros_like(y), {}
    for name, of, side in (("hard", STEEL, y > 0.0), ("soft", SOFT, y <= 0.0)):
        across = (-p - of.lam * e) / (of.lam + 2.0 * of.mu)
        uy[side] += across * y[side]
        ux[side] += t / of.mu * y[side]
        sx[name] = (of.lam + 2.0 * of.mu) * e + of.lam * across
    contact = np.zeros((x.size, 2))
    contact[body.contact] = (-t, p)  # on the face of outward normal −y
    solved = Solved(body, np.column_stack([ux, uy]).ravel(), contact, np.zeros(0))
    assert abs(sx["hard"] / sx["soft"]) > 3.0
    for part in body.parts:
        found = recover(solved, part)
        exact = np.array([sx[part.name], -p, t])
        assert np.abs(found - exact).max() < 1e-9 * 200.0
        field = stress_field(solved, part)
        out = part.material.poisson * (sx[part.name] - p)
        assert field.stress[:, 2] == pytest.approx(np.full(len(field.stress), out), rel=1e-9)
        assert field.displacement[:, 0] == pytest.approx(ux[part.nodes])


@pytest.mark.parametrize("wrong", ["pressure", "traction"])
def test_known_tractions_shape_the_stress_at_the_surface(wrong):
    # The same displacements with another traction said to act: only the surface follows it.
    mesh = block(np.linspace(-1, 1, 9), np.linspace(0, 2, 9), "bottom", "top")
    nodes = group_nodes(mesh, "top")
    hold = Hold(np.sort(np.concatenate([2 * nodes, 2 * nodes + 1])), bonded=("top",))
    body = condense(mesh, STEEL, hold)
    contact = np.zeros((mesh.doflocs.shape[1], 2))
    contact[body.contact, 1 if wrong == "pressure" else 0] = 100.0
    (part,) = body.parts
    stress = recover(Solved(body, np.zeros(body.unknowns), contact, np.zeros(0)), part)
    inner = np.abs(mesh.doflocs[0]) < 0.5
    at_face = inner & (mesh.doflocs[1] == 0.0)
    deep = inner & (mesh.doflocs[1] > 1.0) & (mesh.doflocs[1] < 1.6)
    component, sign = (1, -1.0) if wrong == "pressure" else (2, -1.0)
    assert np.abs(sign * stress[at_face, component] / 100.0 - 1.0).max() < 0.1
    assert np.abs(stress[deep]).max() < 1e-9


def test_a_linear_stress_is_recovered_exactly_inside_and_at_the_surface():
    # Pure bending: σx = c y, plane stress, ν = 0.3; ux = c x y / E, uy = −c (x² + ν y²) / 2E.
    steel = Elastic(200e3, 0.3, "plane stress")
    mesh = block(np.linspace(-2, 2, 9), np.linspace(-0.5, 0.5, 4), "bottom", "top")
    ends = mesh.facets_satisfying(lambda p: np.isclose(np.abs(p[0]), 2.0))
    mesh = mesh.with_boundaries(dict(mesh.boundaries) | {"ends": ends})
    nodes = group_nodes(mesh, "ends")
    hold = Hold(np.sort(np.concatenate([2 * nodes, 2 * nodes + 1])), bonded=("ends",))
    body = condense(mesh, steel, hold)
    x, y = mesh.doflocs
    c, E = 300.0, steel.young
    u = np.column_stack([c * x * y / E, -c * (x**2 + 0.3 * y**2) / (2.0 * E)]).ravel()
    (part,) = body.parts
    stress = recover(Solved(body, u, np.zeros((x.size, 2)), np.zeros(0)), part)
    assert stress[:, 0] == pytest.approx(c * y, abs=1e-8)
    assert np.abs(stress[:, 1:]).max() < 1e-8


def test_contact_on_a_round_acts_on_its_slanting_edges():
    # Contact integrates pressure along the plate, and an edge of the round is longer than its
    # shadow there: the traction on it is less, so that the load is the same. This line of contact
    # goes up to 44 degrees.
    body = member(75.0, 50.0, 23.0, "beam shear", 2.0)
    (part,), mesh = body.parts, body.mesh
    contact = np.zeros((mesh.doflocs.shape[1], 2))
    contact[body.contact, 1] = 100.0
    solved = Solved(body, np.zeros(body.unknowns), contact, np.zeros(len(body.hold.supports)))
    at = surface(body, part)
    ends = mesh.p[:, mesh.facets[:, at.facets]]
    length = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=0)
    load = (known(solved, part, at)[..., 1].sum(axis=1) * length / 2.0).sum()
    line = mesh.doflocs[0, body.contact]
    # Edges taken as chords: 0.1 % of their length.
    assert load == pytest.approx(100.0 * np.ptp(line), rel=2e-3)
    assert np.ptp(line) > 75.0


def test_a_support_of_two_edges_acts_on_both():
    # Half of a thrust of 300 N/mm over 60 mm at each edge: 2.5 MPa along the plate.
    body = plate(300.0, 60.0, 2.0, two_edges, 3.0)
    (part,), amplitudes = body.parts, np.array([0.0, 0.0, 300.0])
    nothing = np.zeros((body.unknowns // 2, 2))
    at = surface(body, part)
    values = known(Solved(body, nothing.ravel(), nothing, amplitudes), part, at)
    x = at.x[..., 0]
    for edge in (np.isclose(x, -150.0), np.isclose(x, 150.0)):
        assert edge.sum() >= 4
        assert values[edge, 0] == pytest.approx(np.full(edge.sum(), 2.5))
    assert np.abs(values[np.abs(x) < 149.0, 0]).max() == 0.0
