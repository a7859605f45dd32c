import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.section.body import to_skfem
from contactfe.section.quadratic import doubled_areas, edges_of, least_jacobians, with_groups

CORNERS = np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0], [5.0, 4.0]])
TWO = np.array([[0, 1, 2], [1, 3, 2]])


def raised(points, triangles):
    edges = edges_of(triangles)
    middles = points[edges.ends].mean(axis=1)
    return (
        np.vstack([points, middles]),
        np.hstack([triangles, len(points) + edges.of_triangle]),
        edges,
    )


def test_edges_are_numbered_once_and_found_in_either_order():
    edges = edges_of(TWO)
    assert edges.ends.tolist() == [[0, 1], [0, 2], [1, 2], [1, 3], [2, 3]]
    assert edges.ends[edges.of_triangle[1]].tolist() == [[1, 3], [2, 3], [1, 2]]
    assert edges.sides.tolist() == [1, 1, 2, 1, 1]
    assert edges.find(np.array([[2, 1], [0, 3], [3, 2], [9, 9]])).tolist() == [2, -1, 4, -1]


def test_areas_and_jacobians_of_straight_triangles():
    assert doubled_areas(CORNERS, TWO) == pytest.approx([12.0, 19.0])
    assert doubled_areas(CORNERS, TWO[:, [0, 2, 1]]) == pytest.approx([-12.0, -19.0])
    points, triangles, _ = raised(CORNERS, TWO)
    assert least_jacobians(points, triangles) == pytest.approx([12.0, 19.0])


@given(st.floats(-0.9, 0.9), st.floats(0.05, 0.95))
def test_a_middle_node_may_move_along_its_edge_by_a_quarter_only(across, along):
    # The known limit of the quarter point: the Jacobian at the near corner vanishes there (derived
    # here: it is proportional to 4 along - 1, and to 3 - 4 along at the far corner).
    points, triangles, _ = raised(CORNERS[:3], TWO[:1])
    middle = triangles[0, 3]
    points[middle] = [4.0 * along, 0.0]
    least = least_jacobians(points, triangles)[0]
    assert least == pytest.approx(12.0 * min(4.0 * along - 1.0, 3.0 - 4.0 * along, 1.0), abs=1e-9)
    # Moved square to the edge, into the triangle, by a quarter of its height of 3: by the same law.
    points[middle] = [2.0, 3.0 * across]
    least = least_jacobians(points, triangles)[0]
    assert (least > 0.0) == (across < 0.25)


def test_groups_are_named_edges_and_surfaces():
    points, triangles, edges = raised(CORNERS, TWO)
    line = np.array([[0, 1, len(CORNERS) + edges.find(np.array([[0, 1]]))[0]]])
    mesh = with_groups(points, triangles, {"member": np.array([False, True])}, {"hold": line})
    assert mesh.cell_sets_dict["member"]["triangle6"].tolist() == [1]
    body = to_skfem(mesh)
    assert body.doflocs[1, body.facets[:, body.boundaries["hold"]]] == pytest.approx(0.0)
