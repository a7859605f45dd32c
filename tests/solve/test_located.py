"""Where points lie in a mesh of quadratic triangles."""

import numpy as np
import pytest
from bodies import block, member_mesh

from contactfe.solve.located import located

BORE = 50.0
RADIUS = 75.0


@pytest.fixture(scope="module")
def tube():
    return member_mesh(RADIUS, BORE, 4.0)


def quadratic(x, y):
    return 3.0 - 2.0 * x + 0.5 * y + 0.7 * x**2 - 1.1 * x * y + 0.3 * y**2


def within(rng, low, high, count):
    """Points (2, count) of a ring about the centre, by radius."""
    r = np.sqrt(rng.uniform(low**2, high**2, count))
    phi = rng.uniform(0.0, 2.0 * np.pi, count)
    return np.stack([r * np.sin(phi), RADIUS - r * np.cos(phi)])


def test_a_quadratic_field_is_read_exactly_where_edges_are_straight():
    mesh = block(np.array([0.0, 0.5, 2.0, 3.0]), np.array([0.0, 1.0, 1.2, 2.0]), "bottom", "top")
    points = np.random.default_rng(1).uniform([[0.0], [0.0]], [[3.0], [2.0]], (2, 400))
    at = located(mesh, points)
    assert at.inside.all()
    assert at.read(quadratic(*mesh.doflocs)) == pytest.approx(quadratic(*points), abs=1e-12)


def test_several_values_are_read_at_once():
    mesh = block(np.linspace(0, 2, 4), np.linspace(0, 1, 3), "bottom", "top")
    x, y = points = np.array([[0.3, 1.7, 1.0], [0.2, 0.9, 0.5]])
    values = np.stack([mesh.doflocs.T, mesh.doflocs.T**2], axis=2)
    found = located(mesh, points).read(values)
    assert found == pytest.approx(np.stack([[x, x**2], [y, y**2]]).transpose(2, 0, 1), abs=1e-12)


def test_a_node_has_its_own_value(tube):
    at = located(tube, tube.doflocs)
    assert at.inside.all()
    # Those in the middle of curved edges as well, 0.2 mm off the chords.
    values = np.random.default_rng(2).normal(size=tube.doflocs.shape[1])
    assert at.read(values) == pytest.approx(values, abs=1e-9)


def test_a_place_is_read_exactly_in_curved_elements_too(tube):
    points = within(np.random.default_rng(5), BORE + 0.1, RADIUS - 0.1, 2000)
    assert located(tube, points).read(tube.doflocs.T) == pytest.approx(points.T, abs=1e-9)


def test_a_smooth_field_of_a_tube_is_read_all_over(tube):
    # Edges bulge, and the elements are coarse: 0.03 % measured of the greatest.
    points = within(np.random.default_rng(3), BORE, RADIUS, 2000)
    at = located(tube, points)
    exact = quadratic(*points)
    assert np.abs(at.read(quadratic(*tube.doflocs)) - exact).max() < 1e-3 * np.abs(exact).max()


@pytest.mark.parametrize("radius", [BORE, RADIUS])
def test_curved_boundaries_are_inside(tube, radius):
    phi = np.linspace(0.0, 2.0 * np.pi, 400)
    at = located(tube, np.stack([radius * np.sin(phi), RADIUS - radius * np.cos(phi)]))
    assert at.inside.all()
    # Edges are parabolas: 2e-4 mm off the circle.
    assert at.read(tube.doflocs[0]) == pytest.approx(radius * np.sin(phi), abs=1e-3)


def test_bore_and_outside_are_not_inside(tube):
    rng = np.random.default_rng(4)
    assert not located(tube, within(rng, 0.0, 0.95 * BORE, 300)).inside.any()
    assert not located(tube, within(rng, 1.05 * RADIUS, 2.0 * RADIUS, 300)).inside.any()


def test_a_point_outside_is_read_from_the_nearest_element():
    mesh = block(np.linspace(0, 2, 5), np.linspace(0, 1, 3), "bottom", "top")
    at = located(mesh, np.array([[1.1], [1.05]]))
    assert not at.inside.any()
    corners = mesh.doflocs[:, at.nodes[:3, 0]]
    assert corners[1].max() == 1.0
    assert corners[0].min() <= 1.1 <= corners[0].max()


def test_a_mesh_of_few_elements():
    mesh = block(np.array([0.0, 1.0]), np.array([0.0, 1.0]), "bottom", "top")
    points = np.array([[0.2, 0.8], [0.7, 0.1]])
    assert located(mesh, points).read(mesh.doflocs[0]) == pytest.approx(points[0], abs=1e-12)
