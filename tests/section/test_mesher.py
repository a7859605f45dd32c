import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import gmsh
import meshio
import numpy as np
import pytest
from skfem import Basis, ElementTriP2, FacetBasis

from contactfe.errors import ContactfeError
from contactfe.section import mesher
from contactfe.section.body import to_skfem
from contactfe.section.grading import ACROSS, Patch, member_grading, plate_grading, size_at
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline

AHEAD = Patch(0.0, 1.2)

SQUARE = [  # met squarely, so that the mesh is its own mirror image
    (MemberOutline(75.0, 0.0), AHEAD, None),
    (MemberOutline(75.0, 0.0, lower_half=True), AHEAD, None),
    (MemberOutline(75.0, 50.0), AHEAD, None),
    (MemberOutline(75.0, 50.0, lower_half=True), AHEAD, None),
    (MemberOutline(75.0, 72.0), AHEAD, None),
    (MemberOutline(75.0, 1.0), AHEAD, None),
    (MemberOutline(75.0, 50.0, filled=True), AHEAD, None),
    (MemberOutline(75.0, 50.0, lower_half=True, filled=True), AHEAD, None),
    (MemberOutline(75.0, 70.0, filled=True), AHEAD, None),
]

ASIDE = [
    (MemberOutline(75.0, 50.0), Patch(2.0, 1.2), None),
    (MemberOutline(75.0, 50.0, lower_half=True), Patch(-3.0, 1.2), None),
    (MemberOutline(75.0, 50.0, lower_half=True, filled=True), Patch(3.0, 1.2), None),
    (MemberOutline(75.0, 0.0), AHEAD, AHEAD),
    (MemberOutline(75.0, 50.0, filled=True), Patch(1.5, 1.2), Patch(-4.0, 0.8)),
]


def area(mesh, elements=None) -> float:
    return float(Basis(mesh, ElementTriP2(), elements=elements, intorder=4).dx.sum())


def group_points(body, name) -> np.ndarray:
    """Nodes on a group of edges, middle nodes too: (2, n)."""
    facets = body.boundaries[name]
    nodes = np.concatenate([body.facets[:, facets].ravel(), body.dofs.facet_dofs[0, facets]])
    return body.doflocs[:, np.unique(nodes)]


def group_length(body, name) -> float:
    return float(FacetBasis(body, ElementTriP2(), facets=body.boundaries[name]).dx.sum())


@pytest.fixture(scope="module", params=SQUARE + ASIDE, ids=str)
def meshed(request):
    outline, patch, side = request.param
    return (
        outline, patch, side,
        mesh_member(outline, member_grading(outline, patch, 2.0, side=side)),
    )  # fmt: skip


def test_areas_are_those_of_the_outline(meshed):
    # Quadratic edges follow the circles: error like the fourth power of the arc's angle.
    outline, _, _, mesh = meshed
    body = to_skfem(mesh)
    share = 0.5 if outline.lower_half else 1.0
    steel = share * np.pi * (outline.radius**2 - outline.bore_radius**2)
    assert area(body, body.subdomains["steel"]) == pytest.approx(steel, rel=2e-4)
    if outline.filled:
        infill = share * np.pi * outline.bore_radius**2
        assert area(body, body.subdomains["infill"]) == pytest.approx(infill, rel=2e-4)
    numbers = np.concatenate(list(body.subdomains.values()))
    assert np.array_equal(np.sort(numbers), np.arange(body.nelements))


def test_named_groups_lie_where_they_say(meshed):
    outline, _, side, mesh = meshed
    body = to_skfem(mesh)
    expected = {"contact", "outside"}
    expected |= {"bore"} if outline.bore_radius else set()
    expected |= {"midplane"} if outline.lower_half else set()
    expected |= {"contact side"} if side else set()
    assert set(body.boundaries) == expected
    for name in expected:
        x, y = group_points(body, name)
        if name == "midplane":
            assert y == pytest.approx(outline.radius, abs=1e-9)
        else:
            # Middle nodes too: a straightened arc would fail here.
            rim = outline.bore_radius if name == "bore" else outline.radius
            assert np.hypot(x, y - outline.radius) == pytest.approx(rim, rel=1e-12)


def test_groups_have_their_lengths(meshed):
    # A quadratic edge is as long as its arc but for the fourth power of its angle: 2e-4 at the
    # coarsest, half an arc of a small bore.
    outline, _, side, mesh = meshed
    body = to_skfem(mesh)
    share = 0.5 if outline.lower_half else 1.0
    r, c = outline.radius, outline.bore_radius
    outer = ["contact", "outside"] + (["contact side"] if side else [])
    around = sum(group_length(body, name) for name in outer)
    assert around == pytest.approx(share * 2.0 * np.pi * r, rel=2e-4)
    if c:
        assert group_length(body, "bore") == pytest.approx(share * 2.0 * np.pi * c, rel=2e-4)
    if outline.lower_half:
        width = 2.0 * r if outline.filled or not c else 2.0 * (r - c)
        assert group_length(body, "midplane") == pytest.approx(width, rel=1e-12)


def angles(points, radius, start) -> np.ndarray:
    """Angles of points of the rim at the member's centre, radians, ascending from ``start``."""
    return np.sort(np.arctan2(points[1] - radius, points[0]) - start)


def test_the_contact_arc_is_centred_above_the_patch(meshed):
    # Its ends lie a candidate reach of 3 half-widths from the middle, seen along that arc's
    # tangent; a node lies at the middle.
    outline, patch, _, mesh = meshed
    r = outline.radius
    points = group_points(to_skfem(mesh), "contact")
    angle = angles(points, r, -np.pi / 2)
    middle, spread = np.arcsin(patch.centre / r), np.arcsin(3.0 * patch.half_width / r)
    assert angle[[0, -1]] == pytest.approx([middle - spread, middle + spread], abs=1e-12)
    assert np.abs(points[0] - patch.centre).min() < 1e-12


def test_the_side_arc_is_centred_beside_its_patch(meshed):
    outline, _, side, mesh = meshed
    if side is None:
        return
    r = outline.radius
    points = group_points(to_skfem(mesh), "contact side")
    angle = angles(points, r, 0.0)
    middle, spread = np.arcsin(side.centre / r), np.arcsin(3.0 * side.half_width / r)
    assert angle[[0, -1]] == pytest.approx([middle - spread, middle + spread], abs=1e-12)
    assert np.abs(points[1] - r - side.centre).min() < 1e-10
    assert len(angle) > 2 * 2 * 1.35 * ACROSS / 2.0  # as fine as at the plate below, at scale 2


def test_every_boundary_edge_has_one_name(meshed):
    outline, _, _, mesh = meshed
    body = to_skfem(mesh)
    named = np.concatenate(list(body.boundaries.values()))
    assert len(named) == len(set(named))
    inside = set(body.boundaries["bore"]) if outline.filled else set()
    assert set(named) - inside == set(body.boundary_facets())


def test_steel_and_infill_share_the_nodes_of_the_bore(meshed):
    outline, _, _, mesh = meshed
    if not outline.filled:
        return
    body = to_skfem(mesh)
    bore = body.boundaries["bore"]
    in_steel = np.isin(body.f2t[:, bore], body.subdomains["steel"])
    in_infill = np.isin(body.f2t[:, bore], body.subdomains["infill"])
    assert (in_steel.sum(axis=0) == 1).all()
    assert (in_infill.sum(axis=0) == 1).all()


@pytest.mark.parametrize("case", SQUARE, ids=str)
def test_mesh_is_its_own_mirror_image(case):
    outline, patch, _ = case
    points = mesh_member(outline, member_grading(outline, patch, 2.0)).points
    order = np.lexsort(np.round(points, 9).T)
    image = points * [-1.0, 1.0]
    assert points[order] == pytest.approx(image[np.lexsort(np.round(image, 9).T)], abs=1e-12)
    assert (points[np.abs(points[:, 0]) < 1e-6, 0] == 0.0).all()  # on the axis, to the last bit


@pytest.mark.parametrize("bore", [0.0, 50.0])
def test_off_the_axis_the_same_mesh_is_turned_about_the_centre(bore):
    outline = MemberOutline(75.0, bore)
    square = mesh_member(outline, member_grading(outline, AHEAD, 2.0))
    turned = mesh_member(outline, member_grading(outline, Patch(5.0, 1.2), 2.0))
    angle = np.arcsin(5.0 / 75.0)
    rotation = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    expected = [0.0, 75.0] + (square.points - [0.0, 75.0]) @ rotation.T
    assert turned.points == pytest.approx(expected, abs=1e-11)
    for one, two in zip(square.cells, turned.cells, strict=True):
        assert np.array_equal(one.data, two.data)


def jacobians(body) -> np.ndarray:
    """Determinants of the curved elements' maps on a lattice with corners and edges."""
    lattice = [(i / 6, j / 6) for i in range(7) for j in range(7 - i)]
    return body.mapping().detDF(np.array(lattice).T)


def test_no_curved_element_is_folded(meshed):
    # Beside the mean, so that a sliver would show too.
    det = jacobians(to_skfem(meshed[-1]))
    assert (det.min(axis=1) / det.mean(axis=1)).min() > 0.3


def test_triangles_turn_the_same_way_and_none_is_flat(meshed):
    t = meshed[-1].cells_dict["triangle6"][:, :3]
    a, b, c = (meshed[-1].points[t[:, k], :2] for k in range(3))
    u, v = b - a, c - a
    doubled = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    assert doubled.min() > 0.0
    longest = np.max([np.linalg.norm(e, axis=1) for e in (u, v, c - b)], axis=0)
    assert (doubled / longest**2).min() > 0.2  # a needle has next to none


def test_no_node_is_unused(meshed):
    assert set(np.unique(meshed[-1].cells_dict["triangle6"])) == set(range(len(meshed[-1].points)))


def test_elements_at_the_contact_have_the_size_asked_for():
    outline = MemberOutline(75.0, 50.0)
    for scale in (1.0, 2.0):
        body = to_skfem(mesh_member(outline, member_grading(outline, AHEAD, scale)))
        x = np.unique(body.doflocs[0, np.unique(body.facets[:, body.boundaries["contact"]])])
        middle = np.diff(x[np.abs(x) < 0.5])
        assert middle.mean() == pytest.approx(scale * 1.2 / ACROSS, rel=0.15)


def test_points_the_results_are_read_at_are_nodes():
    for outline, points in (
        (MemberOutline(75.0, 0.0), [(0.0, 0.0), (0.0, 75.0)]),
        (MemberOutline(75.0, 50.0), [(0.0, 0.0), (0.0, 25.0), (50.0, 75.0)]),
        (MemberOutline(75.0, 50.0, lower_half=True), [(0.0, 25.0), (50.0, 75.0)]),
    ):
        p = mesh_member(outline, member_grading(outline, AHEAD, 2.0)).points[:, :2]
        for point in points:
            assert np.linalg.norm(p - point, axis=1).min() < 1e-9


PLATES = [  # outline and patch; the first is symmetric, the last near the plate's edge
    (PlateOutline(300.0, 40.0), AHEAD),
    (PlateOutline(300.0, 40.0), Patch(2.5, 1.2)),
    (PlateOutline(400.0, 60.0, 80.0), AHEAD),
    (PlateOutline(400.0, 60.0, -80.0), Patch(-1.7, 1.2)),
    (PlateOutline(400.0, 60.0, 194.0), Patch(1.0, 1.2)),
]


@pytest.fixture(scope="module", params=PLATES, ids=str)
def plate(request):
    outline, patch = request.param
    return outline, patch, to_skfem(mesh_plate(outline, plate_grading(outline, patch, 2.0)))


def test_plate_covers_its_rectangle(plate):
    outline, _, body = plate
    assert area(body) == pytest.approx(outline.width * outline.thickness, rel=1e-12)
    assert area(body, body.subdomains["steel"]) == pytest.approx(area(body))
    x, y = body.doflocs
    assert (x.min(), x.max()) == pytest.approx((outline.left, outline.right))
    assert outline.right - outline.left == pytest.approx(outline.width)
    assert outline.right + outline.left == pytest.approx(-2.0 * outline.offset)
    assert (y.min(), y.max()) == pytest.approx((-outline.thickness, 0.0))
    for corner in ((outline.left, 0.0), (outline.right, -outline.thickness)):
        assert np.hypot(x - corner[0], y - corner[1]).min() < 1e-9


def test_plate_groups_lie_where_they_say(plate):
    outline, patch, body = plate
    assert set(body.boundaries) == {"contact", "face", "back", "left edge", "right edge"}
    named = np.concatenate(list(body.boundaries.values()))
    assert len(named) == len(set(named))
    assert set(named) == set(body.boundary_facets())
    for name, axis, where in (
        ("contact", 1, 0.0),
        ("face", 1, 0.0),
        ("back", 1, -outline.thickness),
        ("left edge", 0, outline.left),
        ("right edge", 0, outline.right),
    ):
        assert group_points(body, name)[axis] == pytest.approx(where, abs=1e-9)
    for name in ("left edge", "right edge"):
        assert group_length(body, name) == pytest.approx(outline.thickness)
    assert group_length(body, "back") == pytest.approx(outline.width)
    # The member's line of 3 half-widths must lie inside the plate's.
    x = np.sort(group_points(body, "contact")[0])
    assert x[[0, -1]] == pytest.approx(patch.centre + np.array([-3.45, 3.45]) * 1.2)


def test_plate_has_nodes_on_the_load_line(plate):
    outline, patch, body = plate
    y = np.sort(body.doflocs[1, body.doflocs[0] == patch.centre])
    assert y[[0, -1]] == pytest.approx([-outline.thickness, 0.0])
    # One behind the other with no gap: the line is made of edges.
    ends = body.doflocs[0][: body.nvertices][body.facets]
    along = np.flatnonzero((ends == patch.centre).all(axis=0))
    heights = body.doflocs[1][: body.nvertices][body.facets[:, along]]
    assert np.abs(np.diff(heights, axis=0)).sum() == pytest.approx(outline.thickness)


def test_no_plate_element_is_folded_or_flat(plate):
    body = plate[2]
    det = jacobians(body)
    ends = body.p[:, body.facets]
    length = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=0)
    longest = length[body.t2f].max(axis=0)
    # 0.87 is equilateral.
    assert (det.min(axis=1) / longest**2).min() > 0.2


def test_plates_at_all_offsets_are_alike_at_the_contact(plate):
    # Halves meshed apart have the same sizes at the contact as the mirrored one.
    _, patch, body = plate
    x = np.sort(group_points(body, "contact")[0]) - patch.centre
    mirrored = PLATES[0][0]
    same = group_points(
        to_skfem(mesh_plate(mirrored, plate_grading(mirrored, AHEAD, 2.0))), "contact"
    )
    assert x == pytest.approx(np.sort(same[0]), abs=1e-9)


def test_a_focus_gets_smaller_elements_in_place():
    # Off the axis and turned: the point is of the section, not of the mesh before its turn.
    outline, patch, point = MemberOutline(75.0, 50.0), Patch(10.0, 1.2), (36.0, 39.5)
    sizes = []
    for focus in ((), (point,)):
        mesh = mesh_member(outline, member_grading(outline, patch, 1.0, focus))
        sizes.append(edge_near(mesh, point, 2.0))
    assert sizes[1] == pytest.approx(sizes[0] / 2.0, rel=0.25)  # of a few elements


def test_a_focus_at_the_back_of_a_plate_costs_little():
    outline, patch, point = PlateOutline(400.0, 60.0, 80.0), Patch(0.3, 1.2), (-20.0, -60.0)
    plain, focused = (
        mesh_plate(outline, plate_grading(outline, patch, 1.0, focus)) for focus in ((), (point,))
    )
    assert edge_near(focused, point, 15.0) < 0.65 * edge_near(plain, point, 15.0)
    assert len(focused.cells[0]) < 1.15 * len(plain.cells[0])


def edge_near(mesh, point, within) -> float:
    """Mean length of the edges of elements whose middle lies near a point, mm."""
    corners = mesh.points[mesh.cells_dict["triangle6"][:, :3]]
    near = np.linalg.norm(corners.mean(axis=1) - point, axis=1) < within
    return float(np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2)[near].mean())


@pytest.mark.parametrize(
    ("outline", "side", "focus"),
    [
        (MemberOutline(75.0, 50.0), None, ((30.0, 40.0),)),
        (MemberOutline(75.0, 70.0, filled=True), None, ()),
        (MemberOutline(75.0, 0.0), Patch(-2.0, 0.9), ()),
    ],
    ids=["focus", "filled", "corner"],
)
def test_gmsh_asks_for_the_sizes_of_the_grading(outline, side, focus, monkeypatch):
    asked = []

    def record(dim, tag, x, y, z, size):
        asked.append((x, y, size))
        return size

    set_sizes = mesher._set_sizes

    def set_and_record(gmsh, grading):
        set_sizes(gmsh, grading)
        gmsh.model.mesh.setSizeCallback(record)

    monkeypatch.setattr(mesher, "_set_sizes", set_and_record)
    grading = member_grading(outline, AHEAD, 2.0, focus, side)
    try:
        mesh_member(outline, grading)
    finally:
        gmsh.model.mesh.removeSizeCallback()
    x, y, size = np.array(asked).T
    assert len(size) > 1000
    # The same formula, so the same but for rounding.
    assert size_at(grading, x, y) == pytest.approx(size, rel=1e-9)


def test_halves_join_whatever_their_numbers_and_rounding():
    # The left half with its nodes numbered backwards; the right with its axis off by rounding.
    outline = PlateOutline(300.0, 40.0)
    grading = plate_grading(outline, AHEAD, 2.0)
    half = mesher._mesh_half(lambda geo: mesher._draw_plate(geo, 150.0, outline, grading), grading)
    back = len(half.points) - 1
    left = replace(
        half,
        points=half.points[::-1],
        triangles=back - half.triangles,
        edges={name: back - edge for name, edge in half.edges.items()},
    )
    right = replace(half, points=half.points + np.array([1e-13, 0.0]))
    body = to_skfem(mesher._joined(right, left, grading.frame))
    assert area(body) == pytest.approx(300.0 * 40.0, rel=1e-12)
    assert set(np.concatenate(list(body.boundaries.values()))) == set(body.boundary_facets())
    assert body.doflocs[1, body.doflocs[0] == 0.0].min() == pytest.approx(-40.0)


def test_halves_that_do_not_meet_are_an_error():
    outline = PlateOutline(300.0, 40.0)
    fine, coarse = (plate_grading(outline, AHEAD, scale) for scale in (1.0, 2.0))
    right, left = (
        mesher._mesh_half(lambda geo, g=g: mesher._draw_plate(geo, 150.0, outline, g), g)
        for g in (fine, coarse)
    )
    with pytest.raises(ContactfeError, match="do not meet"):
        mesher._joined(right, left, fine.frame)


def test_meshes_survive_an_open_file_format(tmp_path):
    outline = MemberOutline(75.0, 50.0)
    mesh = mesh_member(outline, member_grading(outline, AHEAD, 3.0))
    meshio.write(tmp_path / "m.vtu", meshio.Mesh(mesh.points, [mesh.cells[0]]))
    back = meshio.read(tmp_path / "m.vtu")
    assert area(to_skfem(back)) == pytest.approx(area(to_skfem(mesh)), rel=1e-12)


def test_the_plate_is_fine_under_the_contact_and_coarse_elsewhere():
    outline = PlateOutline(300.0, 40.0)
    grading = plate_grading(outline, AHEAD)
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
        return mesh_member(outline, member_grading(outline, AHEAD, 2.0)).points

    alone = [points(o) for o in outlines]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(points, outlines * 3))
    for k, mesh in enumerate(together):
        assert np.array_equal(mesh, alone[k % len(outlines)])


def test_a_model_and_options_of_the_users_own_are_left_alone():
    outline = MemberOutline(75.0, 50.0)
    mesh_member(outline, member_grading(outline, AHEAD, 3.0))  # starts gmsh
    gmsh.model.add("theirs")
    gmsh.option.setNumber("Mesh.Algorithm", 5)
    mesh_member(outline, member_grading(outline, AHEAD, 3.0))
    assert gmsh.model.getCurrent() == "theirs"
    assert gmsh.option.getNumber("Mesh.Algorithm") == 5
    gmsh.model.remove()
    gmsh.finalize()  # as a notebook may
    assert len(mesh_member(outline, member_grading(outline, AHEAD, 3.0)).points) > 100


def test_meshing_leaves_a_broken_pipe_an_error_and_not_a_death():
    # In a process of its own, in which gmsh has not run.
    code = """
import signal
from contactfe.section.grading import Patch, plate_grading
from contactfe.section.mesher import mesh_plate
from contactfe.section.outlines import PlateOutline
before = signal.getsignal(signal.SIGPIPE)
outline = PlateOutline(300.0, 40.0)
mesh_plate(outline, plate_grading(outline, Patch(0.0, 1.2), 3.0))
print(signal.getsignal(signal.SIGPIPE) == before == signal.SIG_IGN)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "True"
