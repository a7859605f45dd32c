import numpy as np
import pytest
from bodies import block, plate_mesh
from hypothesis import given
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.solve.lines import (
    Frame,
    contact_line,
    edge_nodes,
    group_nodes,
    shape,
    shape_slope,
)

BESIDE = Frame((75.0, 75.0), (0.0, 1.0))


@given(st.floats(-np.pi, np.pi), st.floats(-100, 100), st.floats(-100, 100))
def test_a_frame_takes_points_there_and_back(angle, x, y):
    frame = Frame((x, y), (float(np.cos(angle)), float(np.sin(angle))))
    points = np.random.default_rng(1).normal(size=(2, 4, 3))
    assert frame.outside(frame.local(points)) == pytest.approx(points, abs=1e-12)
    assert frame.local(np.array([x, y])) == pytest.approx([0.0, 0.0], abs=1e-13)
    assert np.linalg.det(frame.axes) == pytest.approx(1.0)  # a turn, not a mirror


def test_axes_of_a_plate_beside_the_member():
    # It stands upright at the right: along it is up, into the member is to the left.
    tangent, normal = BESIDE.axes
    assert tangent == pytest.approx([0.0, 1.0])
    assert normal == pytest.approx([-1.0, 0.0])
    assert BESIDE.local(np.array([0.0, 80.0])) == pytest.approx([5.0, 75.0])


def test_a_line_is_in_order_with_its_edges():
    mesh = plate_mesh(300.0, 60.0, 2.0, 3.0, offset=20.0, centre=0.5)
    line = contact_line(mesh, "contact", Frame())
    assert np.all(np.diff(line.x) > 0.0)
    assert mesh.doflocs[0, line.nodes] == pytest.approx(line.x)
    assert mesh.doflocs[1, line.nodes] == pytest.approx(0.0)
    first, last, middle = line.x[line.edges]
    assert np.all((first < middle) & (middle < last))
    assert np.sum(last - first) == pytest.approx(line.x[-1] - line.x[0])


def test_a_line_seen_from_the_other_side_runs_the_other_way():
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    here = contact_line(mesh, "contact", Frame())
    there = contact_line(mesh, "contact", Frame((1.0, 0.0), (-1.0, 0.0)))
    assert np.array_equal(there.nodes, here.nodes[::-1])
    assert there.x == pytest.approx(1.0 - here.x[::-1])
    first, last, _ = there.x[there.edges]
    assert np.all(first < last)


@pytest.mark.parametrize(
    "find", [group_nodes, lambda mesh, name: contact_line(mesh, name, Frame())]
)
def test_a_group_without_edges_is_an_error(find):
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    with pytest.raises(SolveError, match="'bore'"):
        find(mesh, "bore")


def test_nodes_of_edges_are_two_ends_and_the_middle():
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    first, last, middle = mesh.doflocs[:, edge_nodes(mesh, mesh.boundaries["contact"])].swapaxes(
        0, 1
    )
    assert middle == pytest.approx((first + last) / 2.0)
    assert len(group_nodes(mesh, "contact")) == 7


def test_shapes_are_one_at_their_own_node():
    assert shape(np.array([-1.0, 1.0, 0.0])) == pytest.approx(np.eye(3))


def test_slopes_are_derivatives_of_the_shapes():
    xi, step = np.linspace(-1, 1, 7), 1e-6
    numeric = (shape(xi + step) - shape(xi - step)) / (2 * step)
    assert shape_slope(xi) == pytest.approx(numeric, abs=1e-8)
