"""A body that yields, at its Gauss points: forces, tangent, energy, and values at nodes."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from bodies import STEEL, block, member, member_mesh
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.solve import holds
from contactfe.solve.condense import condense
from contactfe.solve.elastic import Elastic
from contactfe.solve.plasticity import Plastic
from contactfe.solve.yielding import (
    at_nodes,
    at_points,
    displaced,
    dissipated,
    inner_forces,
    stored,
    tangent,
    yielding_body,
)

Y, H = 345.0, 2e3
E = STEEL.young
LAWS = [Plastic(STEEL, Y), Plastic(STEEL, Y, H), Plastic(STEEL, Y, H, "kinematic")]


@pytest.fixture(scope="module")
def tube():
    """A round tube: its outer edges are curved."""
    return yielding_body(member(75.0, 50.0, 3.0, "beam shear", 4.0), LAWS[1])


@pytest.fixture(scope="module")
def brick():
    """A block of 2 mm by 1 mm of uneven triangles."""
    mesh = block(np.array([-1.0, -0.2, 0.5, 1.0]), np.array([-1.0, -0.6, 0.0]), "top", "back")
    return yielding_body(condense(mesh, STEEL, holds.rigid_base(mesh)), LAWS[1])


def linear(of, slope):
    """Displacement (2N,) of uniform strain: u = slope (2, 2) · x."""
    return (slope @ of.body.mesh.doflocs).T.ravel()


def drawn(of, seed, strain):
    """A displacement without a pattern, of strains about ``strain``."""
    u = np.random.default_rng(seed).normal(size=of.body.unknowns)
    return u * strain / np.abs(np.einsum("epkj,ej->epk", of.strains, u[of.dofs])).max()


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=10, deadline=None)
def test_below_yield_the_forces_are_those_of_the_stiffness(tube, seed):
    u = drawn(tube, seed, 0.5 * Y / E)
    at = displaced(tube, u, tube.virgin, 0.0)
    assert not at.yields.any()
    forces = tube.body.stiffness @ u
    assert inner_forces(tube, at.stress, 0.0) == pytest.approx(
        forces, abs=1e-12 * np.abs(forces).max()
    )
    assert stored(tube, at.stress, at.state) == pytest.approx(u @ forces / 2.0, rel=1e-12)
    assert dissipated(tube, tube.virgin, at) == 0.0
    assert (tangent(tube, at) != tube.body.stiffness).nnz == 0


@pytest.mark.parametrize("law", LAWS)
def test_tangent_of_the_whole_body_is_the_slope_of_its_forces(tube, law):
    # From a state that yielded before, in the direction of a second displacement. Points on the
    # brink of yield, at which the law has a kink, are few: none lies within the step.
    of = replace(tube, law=law, beside=np.random.default_rng(1).normal(size=tube.beside.shape))
    before = displaced(of, drawn(of, 2, 4.0 * Y / E), of.virgin, 20.0)
    u, v = drawn(of, 3, 5.0 * Y / E), drawn(of, 4, Y / E)
    at = displaced(of, u, before.state, 40.0)
    assert 0.2 < at.yields.mean() < 1.0
    step = 1e-6
    ends = [displaced(of, u + sign * step * v, before.state, 40.0) for sign in (1.0, -1.0)]
    assert all((end.yields == at.yields).all() for end in ends)
    slope = np.subtract(*(inner_forces(of, end.stress, 40.0) for end in ends)) / (2.0 * step)
    K = tangent(of, at)
    assert K @ v == pytest.approx(slope, abs=1e-7 * np.abs(slope).max())
    assert abs(K - K.T).max() < 1e-12 * abs(K).max()
    # And not the elastic one, by far more than that.
    assert np.abs(of.body.stiffness @ v - slope).max() > 0.1 * np.abs(slope).max()


def test_uniform_strain_of_the_block_is_one_point_of_steel(brick):
    # Stretched along and squeezed across, in plane strain: pure shear, which yields at Y/√3.
    of = replace(brick, law=LAWS[0])
    strain = 2.0 * (Y / sqrt(3.0)) / (2.0 * STEEL.mu)
    at = displaced(of, linear(of, np.diag([strain, -strain])), of.virgin, 0.0)
    k = Y / sqrt(3.0)
    assert at.stress == pytest.approx(
        np.broadcast_to([k, -k, 0, 0, 0, 0], at.stress.shape), abs=1e-9 * Y
    )
    # k²/2μ is stored and, as half of the strain is plastic, k · strain turned into heat, each over
    # 2 mm².
    assert stored(of, at.stress, at.state) == pytest.approx(2.0 * k**2 / (2.0 * STEEL.mu))
    assert dissipated(of, of.virgin, at) == pytest.approx(2.0 * k * strain)


@pytest.mark.parametrize("law", LAWS)
def test_work_on_the_block_is_what_it_stores_and_turns_into_heat(brick, law):
    # ∫ F·du over a path with a turn in it, by steps so small that the rule of the end, which errs
    # in proportion to them, is within 0.3 %; at twice the steps it errs twice as much.
    def missing(steps):
        of = replace(brick, law=law)
        u, forces = np.zeros(of.body.unknowns), np.zeros(of.body.unknowns)
        state, work, heat = of.virgin, 0.0, 0.0
        path = [linear(of, 8.0 * Y / E * np.array(slope)) for slope in (
            [[1.0, 0.3], [0.0, -0.5]], [[-0.4, 0.0], [1.2, 0.1]]
        )]  # fmt: skip
        for start, end in zip([np.zeros_like(u), path[0]], path, strict=True):
            for share in np.arange(1, steps + 1) / steps:
                v = start + share * (end - start)
                at = displaced(of, v, state, 0.0)
                now = inner_forces(of, at.stress, 0.0)
                work += (forces + now) @ (v - u) / 2.0
                heat += dissipated(of, state, at)
                u, forces, state = v, now, at.state
        assert heat > 0.2 * work
        return (work - heat - stored(of, at.stress, state)) / work

    coarse, fine = missing(100), missing(200)
    assert abs(fine) < 0.003
    assert abs(fine) < 0.6 * abs(coarse)


@pytest.mark.parametrize("component", range(6))
def test_stress_beside_the_plane_alone_yields_at_its_strength(brick, component):
    beside = np.zeros((*brick.points, 6))
    beside[..., component] = 0.5  # MPa per N/mm
    of = yielding_body(brick.body, LAWS[0], beside)
    load = 2.0 * (Y if component < 3 else Y / sqrt(3.0))
    nil = np.zeros(of.body.unknowns)
    below, above = (displaced(of, nil, of.virgin, share * load) for share in (0.999999, 1.000001))
    assert not below.yields.any()
    assert above.yields.all()
    # As long as it is elastic it is in equilibrium by itself.
    assert np.abs(inner_forces(of, below.stress, 0.999999 * load)).max() < 1e-9


def test_bending_beside_the_plane_leaves_less_for_the_plane(brick):
    # σz of the beam and a shear of the plane together: σz² + 3 τ² = Y².
    beside = np.zeros((*brick.points, 6))
    beside[..., 2] = 1.0
    of = yielding_body(brick.body, LAWS[0], beside)
    along = 0.6 * Y
    shear = 0.8 * Y / sqrt(3.0)
    for share, yields in ((0.999999, False), (1.000001, True)):
        slope = np.array([[0.0, share * shear / STEEL.mu], [0.0, 0.0]])
        at = displaced(of, linear(of, slope), of.virgin, along)
        assert at.yields.all() == at.yields.any() == yields


def test_area_and_points_are_those_of_the_mesh(tube, brick):
    assert brick.area.sum() == pytest.approx(2.0, rel=1e-12)
    assert tube.area.sum() == pytest.approx(np.pi * (75.0**2 - 50.0**2), rel=1e-5)
    assert tube.points == (tube.body.mesh.t.shape[1], 3)


@given(st.lists(st.floats(-1.0, 1.0), min_size=6, max_size=6))
@settings(max_examples=20, deadline=None)
def test_values_at_nodes_are_exact_for_linear_fields_and_at_points_for_quadratic(brick, c):
    x, y = brick.body.mesh.doflocs
    p, q = brick.body.gradients.x

    def line(x, y):
        return np.stack([c[0] + c[1] * x + c[2] * y, c[3] + c[4] * x + c[5] * y], axis=-1)

    def square(x, y):
        return c[0] + c[1] * x + c[2] * y + c[3] * x**2 + c[4] * x * y + c[5] * y**2

    assert at_nodes(brick, line(p, q)) == pytest.approx(line(x, y), abs=1e-12)
    assert at_points(square(x, y), brick.nodes) == pytest.approx(square(p, q), abs=1e-12)


def test_values_at_nodes_of_a_curved_body_are_exact_for_linear_fields(tube):
    # Where an edge is curved as well: the planes are of places, not of the unit triangle.
    x, y = tube.body.mesh.doflocs
    p, q = tube.body.gradients.x
    assert at_nodes(tube, 3.0 + p - 2.0 * q) == pytest.approx(3.0 + x - 2.0 * y, abs=1e-10)


def test_what_jumps_between_elements_is_at_their_nodes_the_mean_by_area(brick):
    values = np.random.default_rng(5).normal(size=brick.points[0])
    found = at_nodes(brick, np.repeat(values[:, None], 3, axis=1))
    areas = brick.area.sum(axis=1)
    for node in (0, 7, 20):
        of = (brick.nodes == node).any(axis=1)
        assert found[node] == pytest.approx((areas * values)[of].sum() / areas[of].sum())


def test_a_body_of_two_materials_or_half_of_one_is_refused():
    filled = member_mesh(75.0, 50.0, 3.0, 4.0, filled=True)
    two = {"steel": STEEL, "infill": Elastic(30e3, 0.2)}
    half = member_mesh(75.0, 50.0, 3.0, 4.0)
    for body in (
        condense(filled, two, holds.beam_shear(filled, two)),
        condense(half, STEEL, holds.beam_shear(half, STEEL, True), symmetric=True),
    ):
        with pytest.raises(ValueError, match="whole"):
            yielding_body(body, LAWS[0])
