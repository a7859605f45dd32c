import meshio
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse.linalg import splu
from skfem import Basis, ElementTriP2, FacetBasis

from contactfe.errors import InputError, SolveError
from contactfe.section import refine as module
from contactfe.section.body import to_skfem
from contactfe.section.quadratic import edges_of, least_jacobians, with_groups
from contactfe.section.refine import refine
from contactfe.solve.elastic import Elastic, gradients, stiffness

R, BORE, SEAM = 80.0, 40.0, 60.0


def ring(across=2, around=16):
    """A coarse ring with arcs on its circles and on the seam between two materials."""
    r = np.linspace(BORE, R, across + 1)
    angle = np.linspace(-np.pi, np.pi, around, endpoint=False)
    points = (r[:, None, None] * np.stack([np.sin(angle), -np.cos(angle)], axis=1)[None]).reshape(
        -1, 2
    )
    i, j = np.meshgrid(np.arange(across), np.arange(around), indexing="ij")
    a, b = i * around + j, i * around + (j + 1) % around
    c, d = a + around, b + around
    corners = np.vstack([np.stack(t, axis=-1).reshape(-1, 3) for t in ((a, c, d), (a, d, b))])
    corners = corners[:, [0, 1, 2]].astype(np.int64)
    edges = edges_of(corners)
    reach = np.hypot(*points[edges.ends].transpose(2, 0, 1))
    middles = points[edges.ends].mean(axis=1)
    arc = np.abs(np.diff(reach, axis=1)[:, 0]) < 1e-9
    middles[arc] *= (reach[arc, 0] / np.hypot(*middles[arc].T))[:, None]
    number = len(points) + np.arange(len(edges.ends))

    def line(keep):
        ends = edges.ends[keep]
        return np.column_stack([ends, number[keep]])

    lower = (points[edges.ends][:, :, 1] < 0.0).all(axis=1)
    lines = {
        "contact": line((reach > R - 1.0).all(axis=1) & lower),
        "bore": line((reach < BORE + 1.0).all(axis=1)),
        "seam": line((np.abs(reach - SEAM) < 1.0).all(axis=1)),
    }
    triangles = np.hstack([corners, number[edges.of_triangle]])
    outer = np.hypot(*points[corners].mean(axis=1).T) > SEAM
    surfaces = {"member": outer, "infill": ~outer}
    return with_groups(
        np.vstack([points, middles]) + np.array([0.0, R]), triangles, surfaces, lines
    )


def near_contact(x, y):
    return 0.5 + 0.3 * np.hypot(x, y)


def even(size):
    return lambda x, _: np.full_like(x, size)


def line_nodes(mesh, name):
    return np.unique(mesh.cells_dict["line3"][mesh.cell_sets_dict[name]["line3"]])


def surface_area(mesh, name):
    elements = mesh.cell_sets_dict[name]["triangle6"]
    return float(Basis(to_skfem(mesh), ElementTriP2(), elements=elements, intorder=4).dx.sum())


def length(mesh, name):
    body = to_skfem(mesh)
    return float(
        FacetBasis(body, ElementTriP2(), facets=body.boundaries[name], intorder=8).dx.sum()
    )


@pytest.fixture(scope="module")
def fine():
    return refine(ring(), near_contact, R)


def test_no_element_is_longer_than_asked_for(fine):
    corners = fine.points[fine.cells_dict["triangle6"][:, :3]]
    longest = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2).max(axis=1)
    wanted = near_contact(*corners.mean(axis=1).T)
    assert (longest <= wanted).all()
    # And it is local: a tenth of what even elements of the least size would take.
    assert len(corners) < 0.1 * np.pi * (R**2 - BORE**2) / (0.25 * longest.min() ** 2)


def test_areas_and_lengths_converge_to_those_of_the_circles():
    # Parabolas with their three nodes on an arc: errors like the fourth power of its angle.
    angle = np.arctan2(*(ring().points[line_nodes(ring(), "contact")] - [0.0, R]).T * [[1], [-1]])
    arc = R * np.ptp(angle)

    def errors(mesh):
        return np.array(
            [
                surface_area(mesh, "member") / (np.pi * (R**2 - SEAM**2)) - 1.0,
                surface_area(mesh, "infill") / (np.pi * (SEAM**2 - BORE**2)) - 1.0,
                length(mesh, "contact") / arc - 1.0,
                length(mesh, "bore") / (2.0 * np.pi * BORE) - 1.0,
                length(mesh, "seam") / (2.0 * np.pi * SEAM) - 1.0,
            ]
        )  # fmt: skip

    coarse, fine = (errors(refine(ring(), even(size), R)) for size in (8.0, 4.0))
    assert np.abs(coarse).max() < 3e-7
    assert coarse / fine == pytest.approx(16.0, rel=0.1)


def test_arcs_stay_on_their_circles(fine):
    for name, radius in (("contact", R), ("bore", BORE), ("seam", SEAM)):
        x, y = fine.points[line_nodes(fine, name)].T
        assert np.hypot(x, y - R) == pytest.approx(radius, rel=1e-12)
    # The outer circle beyond the contact line has no name, and stays round as well.
    body = to_skfem(fine)
    facets = body.boundary_facets()
    x, y = body.doflocs[
        :, np.concatenate([body.facets[:, facets].ravel(), body.dofs.facet_dofs[0, facets]])
    ]
    reach = np.hypot(x, y - R)
    assert np.where(reach > SEAM, reach / R, reach / BORE) == pytest.approx(1.0, rel=1e-12)


def test_groups_are_whole_and_nothing_hangs(fine):
    triangles = fine.cells_dict["triangle6"]
    edges = edges_of(triangles[:, :3])
    body = to_skfem(fine)
    # The boundary is that of the ring: a hanging node would open it.
    x, y = fine.points[np.unique(edges.ends[edges.sides == 1])].T
    assert set(np.round(np.hypot(x, y - R), 6)) == {R, BORE}
    members = [fine.cell_sets_dict[name]["triangle6"] for name in ("member", "infill")]
    assert sorted(np.concatenate(members)) == list(range(len(triangles)))
    # The seam is where the materials meet, and all of it.
    kind = np.zeros(len(triangles))
    kind[members[0]] = 1
    sum_of_kinds = np.bincount(edges.of_triangle.ravel(), np.repeat(kind, 3))
    meet = edges.ends[(edges.sides == 2) & (sum_of_kinds == 1)]
    seam = fine.cells_dict["line3"][fine.cell_sets_dict["seam"]["line3"]]
    assert sorted(map(tuple, np.sort(seam[:, :2], axis=1))) == sorted(map(tuple, meet))
    assert set(body.boundaries) == {"contact", "bore", "seam"}
    assert set(np.unique(triangles)) == set(range(len(fine.points)))


def test_elements_stay_sound(fine):
    points, triangles = fine.points, fine.cells_dict["triangle6"]
    corners = points[triangles[:, :3]]
    longest = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2).max(axis=1)
    # The coarse triangles have least / longest² of 0.35 or more; splitting at the longest edge
    # keeps at least half of the least angle (Rosenberg and Stenger, SIAM J. Numer. Anal. 12, 1975:
    # from memory, not seen).
    assert (least_jacobians(points, triangles) / longest**2).min() > 0.15


def test_a_linear_field_is_in_balance(fine):
    # Patch test: nodal forces of a uniform strain vanish inside.
    body = to_skfem(fine)
    at = gradients(body)
    steel = Elastic(200e3, 0.3)
    each = np.ones(body.nelements)
    K = stiffness(body, steel.lam * each, steel.mu * each, at)
    x, y = body.doflocs
    exact = np.column_stack([1e-3 * x + 2e-3 * y, -3e-3 * x + 4e-3 * y]).ravel()
    rim = np.unique(
        np.concatenate(
            [
                body.facets[:, body.boundary_facets()].ravel(),
                body.dofs.facet_dofs[0, body.boundary_facets()],
            ]
        )
    )
    held = np.concatenate([2 * rim, 2 * rim + 1])
    free = np.setdiff1d(np.arange(len(exact)), held)
    found = exact.copy()
    found[free] = splu(K[free][:, free].tocsc()).solve(-K[free][:, held] @ exact[held])
    # Rounding of a factor whose elements differ in size by a factor of 50.
    assert found == pytest.approx(exact, abs=1e-10 * np.abs(exact).max())


def test_a_drawn_curve_that_is_no_arc_about_the_centre_keeps_its_shape():
    # One edge bent to a parabola: its pieces lie on it, so area and curve are exactly kept.
    points = np.array([[0, 0], [10, 0], [0, 8], [5, -1], [5, 4], [0, 4]], float)
    mesh = with_groups(
        points,
        np.arange(6)[None],
        {"member": np.array([True])},
        {"hold": np.array([[1, 0, 3]])},
    )
    fine = refine(mesh, even(1.0), 50.0)
    x, y = fine.points[line_nodes(fine, "hold")].T
    assert len(x) >= 33
    assert y == pytest.approx(-4.0 * (x / 10.0) * (1.0 - x / 10.0), abs=1e-12)
    assert surface_area(fine, "member") == pytest.approx(surface_area(mesh, "member"), rel=1e-12)


def test_a_mesh_that_is_fine_enough_stays_as_it_is():
    mesh = ring()
    same = refine(mesh, even(1e3), R)
    assert np.array_equal(same.points, mesh.points)
    assert np.array_equal(same.cells_dict["triangle6"], mesh.cells_dict["triangle6"])
    assert {k: {t: list(n) for t, n in v.items()} for k, v in same.cell_sets_dict.items()} == {
        k: {t: list(n) for t, n in v.items()} for k, v in mesh.cell_sets_dict.items()
    }


@settings(max_examples=15, deadline=None)
@given(st.floats(-1.0, 1.0), st.floats(0.0, 1.0), st.floats(1.0, 4.0), st.floats(0.2, 0.6))
def test_any_zone_may_be_refined(across, up, least, growth):
    x0, y0 = across * R, up * 2 * R
    fine = refine(ring(), lambda x, y: least + growth * np.hypot(x - x0, y - y0), R)
    points, triangles = fine.points, fine.cells_dict["triangle6"]
    assert least_jacobians(points, triangles).min() > 0.0
    edges = edges_of(triangles[:, :3])
    x, y = points[np.unique(edges.ends[edges.sides == 1])].T
    assert set(np.round(np.hypot(x, y - R), 6)) == {R, BORE}
    # Unrefined arcs of 22.5 degrees lose 5e-5 of a full circle's area, twice that of a ring's.
    assert surface_area(fine, "member") == pytest.approx(np.pi * (R**2 - SEAM**2), rel=2e-4)


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan])
def test_sizes_that_cannot_be(bad):
    with pytest.raises(InputError, match="must be positive, not"):
        refine(ring(), lambda _, y: np.where(y > 70.0, bad, 5.0), R)


def test_sizes_that_are_never_reached(monkeypatch):
    monkeypatch.setattr(module, "MOST_TRIANGLES", 5000)
    with pytest.raises(InputError, match="more than 5000 triangles"):
        refine(ring(), even(0.1), R)
    monkeypatch.setattr(module, "MOST_PASSES", 3)
    with pytest.raises(SolveError, match="in 3 passes"):
        refine(ring(), near_contact, R)


def test_an_element_that_turns_over_is_an_error():
    # Drawn folded: the base is bent past half the height.
    points = np.array([[0, 0], [10, 0], [5, 4], [5, 2.5], [7.5, 2], [2.5, 2]], float)
    mesh = with_groups(points, np.arange(6)[None], {"member": np.array([True])}, {})
    with pytest.raises(SolveError, match=r"turned over \d+ elements, the first at"):
        refine(mesh, even(6.0), 50.0)


def test_blocks_and_groups_of_a_read_mesh_are_found():
    # Several blocks of one type, groups over more than one of them, points in space.
    whole = ring()
    t, lines = whole.cells_dict["triangle6"], whole.cells_dict["line3"]
    outer = whole.cell_sets_dict["member"]["triangle6"]
    inner = whole.cell_sets_dict["infill"]["triangle6"]
    none = np.array([], int)
    mesh = meshio.Mesh(
        np.column_stack([whole.points, np.zeros(len(whole.points))]),
        [
            ("triangle6", t[outer]),
            ("line3", lines[:5]),
            ("triangle6", t[inner]),
            ("line3", lines[5:9]),
        ],
        cell_sets={
            "member": [np.arange(len(outer)), none, none, none],
            "infill": [none, none, np.arange(len(inner)), none],
            "hold": [none, np.arange(5), none, np.arange(4)],
        },
    )
    fine = refine(mesh, even(12.0), R)
    assert surface_area(fine, "infill") == pytest.approx(np.pi * (SEAM**2 - BORE**2), rel=5e-5)
    assert length(fine, "hold") == pytest.approx(
        length(mesh, "hold"), rel=5e-5
    )  # as arcs, not parabolas
