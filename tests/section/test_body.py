import meshio
import numpy as np
import pytest
from skfem import Basis, ElementTriP2

from contactfe.errors import ContactfeError
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading
from contactfe.section.mesher import mesh_member
from contactfe.section.outlines import MemberOutline

FILLED = MemberOutline(75.0, 50.0, filled=True)


def filled_mesh() -> meshio.Mesh:
    return mesh_member(FILLED, member_grading(FILLED, Patch(1.0, 1.2), 2.0))


def two_triangles(cells, sets=None) -> meshio.Mesh:
    """A unit square of two quadratic triangles, with further cells and named groups."""
    points = np.array(
        [[0, 0], [1, 0], [1, 1], [0, 1], [0.5, 0], [1, 0.5], [0.5, 1], [0, 0.5], [0.5, 0.5], [2, 2]]
    )
    return meshio.Mesh(points, cells, cell_sets=sets)


LOWER, UPPER = [0, 1, 2, 4, 5, 8], [0, 2, 3, 8, 6, 7]


def test_elements_keep_the_order_of_the_triangles():
    # Where each element lies, and its area by quadrature against that by its nodes; a mesh whose
    # elements were sorted anew would have them at other numbers.
    mesh = filled_mesh()
    body = to_skfem(mesh)
    triangles = mesh.cells_dict["triangle6"]
    middle = mesh.points[triangles[:, :3]].mean(axis=1)
    x, y = body.p[:, body.t].mean(axis=1)
    assert x == pytest.approx(middle[:, 0], abs=1e-12)
    assert y == pytest.approx(middle[:, 1], abs=1e-12)
    rim = mesh.points[triangles[:, [0, 3, 1, 4, 2, 5]]]
    # The signed area inside a closed chain of quadratic arcs (derived here): that of the polygon
    # of its corners, and two thirds of the triangle over each chord.
    a, m, b = rim[:, ::2], rim[:, 1::2], np.roll(rim[:, ::2], -1, axis=1)
    bulge = (2.0 / 3.0) * cross(m - a, b - a)
    expected = (0.5 * cross(a, b) + bulge).sum(axis=1)
    found = Basis(body, ElementTriP2(), intorder=4).dx.sum(axis=1)
    assert found == pytest.approx(expected, rel=1e-9)


def cross(u, v) -> np.ndarray:
    return u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]


def test_groups_of_triangles_become_subdomains():
    body = to_skfem(filled_mesh())
    assert set(body.subdomains) == {"steel", "infill"}
    x, y = body.p[:, body.t].mean(axis=1)
    inside = np.hypot(x, y - 75.0) < 50.0
    assert np.array_equal(np.flatnonzero(inside), body.subdomains["infill"])
    assert np.array_equal(np.flatnonzero(~inside), body.subdomains["steel"])


def test_groups_of_triangles_in_blocks_of_their_own():
    cells = [
        ("triangle6", np.array([LOWER])),
        ("line3", np.array([[0, 1, 4]])),
        ("triangle6", np.array([UPPER])),
    ]
    none, first = np.array([], int), np.array([0])
    sets = {"one": [first, none, none], "two": [none, none, first], "foot": [none, first, none]}
    body = to_skfem(two_triangles(cells, sets))
    assert {k: list(v) for k, v in body.subdomains.items()} == {"one": [0], "two": [1]}
    assert set(body.boundaries) == {"foot"}
    assert body.p[:, body.facets[:, body.boundaries["foot"][0]]].T.tolist() == [[0, 0], [1, 0]]


def test_a_named_edge_may_lie_inside():
    cells = [("triangle6", np.array([LOWER, UPPER])), ("line3", np.array([[2, 0, 8]]))]
    body = to_skfem(two_triangles(cells, {"cut": [np.array([], int), np.array([0])]}))
    (facet,) = body.boundaries["cut"]
    assert sorted(body.f2t[:, facet]) == [0, 1]
    assert body.doflocs[:, body.dofs.facet_dofs[0, facet]].tolist() == [0.5, 0.5]


def test_a_named_edge_that_is_no_edge_is_an_error():
    none, first = np.array([], int), np.array([0])
    cells = [("triangle6", np.array([LOWER, UPPER])), ("line3", np.array([[1, 3, 8]]))]
    with pytest.raises(ContactfeError, match="contact"):
        to_skfem(two_triangles(cells, {"contact": [none, first]}))
    # Nor is one that ends at a node of no triangle.
    cells = [("triangle6", np.array([LOWER, UPPER])), ("line3", np.array([[0, 9, 8]]))]
    with pytest.raises(ContactfeError, match="contact"):
        to_skfem(two_triangles(cells, {"contact": [none, first]}))


def test_a_mesh_without_quadratic_triangles_is_an_error():
    with pytest.raises(ContactfeError, match="triangle6"):
        to_skfem(two_triangles([("triangle", np.array([LOWER[:3]]))]))
