from concurrent.futures import ThreadPoolExecutor

import gmsh
import meshio
import numpy as np
import pytest
from skfem import Basis, ElementTriP2

from contactfe.errors import ContactfeError
from contactfe.section.body import to_skfem
from contactfe.section.grading import ACROSS, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline

MEMBERS = [
    MemberOutline(75.0, 0.0),
    MemberOutline(75.0, 0.0, lower_half=True),
    MemberOutline(75.0, 50.0),
    MemberOutline(75.0, 50.0, lower_half=True),
    MemberOutline(75.0, 72.0),
    MemberOutline(75.0, 1.0),
]


def area(mesh) -> float:
    return float(Basis(mesh, ElementTriP2(), intorder=4).dx.sum())


@pytest.fixture(scope="module", params=MEMBERS, ids=str)
def meshed(request):
    outline = request.param
    return outline, mesh_member(outline, member_grading(outline, 1.2, 2.0))


def test_area_is_that_of_the_outline(meshed):
    # Quadratic edges follow the circles: error like the fourth power of the arc's angle.
    outline, mesh = meshed
    whole = np.pi * (outline.radius**2 - outline.bore_radius**2)
    assert area(to_skfem(mesh)) == pytest.approx(whole / (2 if outline.lower_half else 1), rel=2e-4)


def test_named_groups_lie_where_they_say(meshed):
    outline, mesh = meshed
    body = to_skfem(mesh)
    expected = {"contact", "outside"}
    expected |= {"bore"} if outline.bore_radius else set()
    expected |= {"midplane"} if outline.lower_half else set()
    assert set(body.boundaries) == expected
    for name, facets in body.boundaries.items():
        assert len(facets) > 0
        nodes = np.concatenate([body.facets[:, facets].ravel(), body.dofs.facet_dofs[0, facets]])
        x, y = body.doflocs[:, nodes]
        r = np.hypot(x, y - outline.radius)
        if name == "midplane":
            assert y == pytest.approx(outline.radius, abs=1e-9)
        else:
            # Middle nodes too: a straightened arc would fail here.
            rim = outline.bore_radius if name == "bore" else outline.radius
            assert r == pytest.approx(rim, rel=1e-12)
        if name == "contact":
            assert np.abs(x).max() == pytest.approx(1.7 * 1.2)  # candidate reach of 1.7 half-widths


def test_every_boundary_edge_has_one_name(meshed):
    body = to_skfem(meshed[1])
    named = np.concatenate(list(body.boundaries.values()))
    assert len(named) == len(set(named))
    assert set(named) == set(body.boundary_facets())


def test_mesh_is_its_own_mirror_image(meshed):
    points = meshed[1].points[:, :2]
    order = np.lexsort(np.round(points, 9).T)
    image = points * [-1.0, 1.0]
    assert points[order] == pytest.approx(image[np.lexsort(np.round(image, 9).T)], abs=1e-12)


def test_triangles_turn_the_same_way_and_none_is_flat(meshed):
    t = meshed[1].cells_dict["triangle6"][:, :3]
    a, b, c = (meshed[1].points[t[:, k], :2] for k in range(3))
    u, v = b - a, c - a
    doubled = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    assert doubled.min() > 0.0
    longest = np.max([np.linalg.norm(e, axis=1) for e in (u, v, c - b)], axis=0)
    assert (doubled / longest**2).min() > 0.2  # a needle has next to none


def test_no_node_is_unused(meshed):
    assert set(np.unique(meshed[1].cells_dict["triangle6"])) == set(range(len(meshed[1].points)))


def test_elements_at_the_contact_have_the_size_asked_for():
    outline = MemberOutline(75.0, 50.0)
    for scale in (1.0, 2.0):
        body = to_skfem(mesh_member(outline, member_grading(outline, 1.2, scale)))
        x = np.unique(body.doflocs[0, np.unique(body.facets[:, body.boundaries["contact"]])])
        middle = np.diff(x[np.abs(x) < 0.5])
        assert middle.mean() == pytest.approx(scale * 1.2 / ACROSS, rel=0.15)


def test_points_the_results_are_read_at_are_nodes():
    for outline, points in (
        (MemberOutline(75.0, 0.0), [(0.0, 0.0), (0.0, 75.0)]),
        (MemberOutline(75.0, 50.0), [(0.0, 0.0), (0.0, 25.0), (50.0, 75.0)]),
        (MemberOutline(75.0, 50.0, lower_half=True), [(0.0, 25.0), (50.0, 75.0)]),
    ):
        p = mesh_member(outline, member_grading(outline, 1.2, 2.0)).points[:, :2]
        for point in points:
            assert np.linalg.norm(p - point, axis=1).min() < 1e-9


def test_plate_covers_its_rectangle_and_the_members_contact_line():
    outline = PlateOutline(300.0, 40.0)
    body = to_skfem(mesh_plate(outline, plate_grading(outline, 1.2, 2.0)))
    assert area(body) == pytest.approx(300.0 * 40.0, rel=1e-12)
    x, y = body.doflocs[:, np.unique(body.facets[:, body.boundaries["contact"]])]
    assert y == pytest.approx(0.0)
    assert np.abs(x).max() > member_grading(MemberOutline(75.0, 0.0), 1.2).reach
    assert set(body.boundaries) == {"contact", "face", "edge", "back"}


def test_outlines_that_cannot_be():
    with pytest.raises(ValueError, match="bore_radius"):
        MemberOutline(75.0, 75.0)
    with pytest.raises(ValueError, match="width and thickness"):
        PlateOutline(0.0, 5.0)


def test_meshes_survive_an_open_file_format(tmp_path):
    outline = MemberOutline(75.0, 50.0)
    mesh = mesh_member(outline, member_grading(outline, 1.2, 3.0))
    meshio.write(tmp_path / "m.vtu", meshio.Mesh(mesh.points, [mesh.cells[0]]))
    back = meshio.read(tmp_path / "m.vtu")
    assert area(to_skfem(back)) == pytest.approx(area(to_skfem(mesh)), rel=1e-12)


def test_a_named_edge_that_is_no_edge_is_an_error():
    points = np.array(
        [[0, 0], [1, 0], [0, 1], [0.5, 0], [0.5, 0.5], [0, 0.5], [2, 2], [3, 3], [2.5, 2.5]]
    )
    cells = [("triangle6", np.array([[0, 1, 2, 3, 4, 5]])), ("line3", np.array([[0, 7, 3]]))]
    mesh = meshio.Mesh(points, cells, cell_sets={"contact": [np.array([], int), np.array([0])]})
    with pytest.raises(ContactfeError, match="contact"):
        to_skfem(mesh)
    with pytest.raises(ContactfeError, match="triangle6"):
        to_skfem(meshio.Mesh(points[:3], [("triangle", np.array([[0, 1, 2]]))]))


def test_the_plate_is_fine_under_the_contact_and_coarse_elsewhere():
    outline = PlateOutline(300.0, 40.0)
    grading = plate_grading(outline, 1.2)
    mesh = mesh_plate(outline, grading)
    t = mesh.cells_dict["triangle6"][:, :3]
    corners = mesh.points[t][:, :, :2]
    centre = corners.mean(axis=1)
    edge = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2).mean(axis=1)
    under = np.hypot(centre[:, 0], centre[:, 1] + 0.7 * 1.2) < 0.3 * 1.2
    assert edge[under].mean() == pytest.approx(1.2 / ACROSS, rel=0.2)
    assert edge[np.abs(centre[:, 0]) > 100.0].mean() > 0.5 * grading.far


def test_two_threads_mesh_without_disturbing_each_other():
    outlines = [MemberOutline(75.0, bore) for bore in (0.0, 30.0, 40.0, 50.0, 60.0)]

    def points(outline):
        return mesh_member(outline, member_grading(outline, 1.2, 2.0)).points

    alone = [points(o) for o in outlines]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(points, outlines * 3))
    for k, mesh in enumerate(together):
        assert np.array_equal(mesh, alone[k % len(outlines)])


def test_a_model_and_options_of_the_users_own_are_left_alone():
    outline = MemberOutline(75.0, 50.0)
    mesh_member(outline, member_grading(outline, 1.2, 3.0))  # starts gmsh
    gmsh.model.add("theirs")
    gmsh.option.setNumber("Mesh.Algorithm", 5)
    mesh_member(outline, member_grading(outline, 1.2, 3.0))
    assert gmsh.model.getCurrent() == "theirs"
    assert gmsh.option.getNumber("Mesh.Algorithm") == 5
    gmsh.model.remove()
    gmsh.finalize()  # as a notebook may
    assert len(mesh_member(outline, member_grading(outline, 1.2, 3.0)).points) > 100
