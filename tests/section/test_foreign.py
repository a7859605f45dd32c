import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import meshio
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skfem import Basis, ElementTriP2

from contactfe.errors import InputError
from contactfe.section.body import to_skfem
from contactfe.section.foreign import read_section, require_hold
from contactfe.section.quadratic import edges_of, least_jacobians

RIBBED = Path(__file__).parents[2] / "meshes" / "ribbed-tube.msh"
R, BORE, REACH = 80.0, 50.0, 0.5


@dataclass
class Drawn:
    """A ring about (0, 0) in mm, lowest at (0, -R), ready to be spoilt and written."""

    points: np.ndarray
    triangles: np.ndarray
    lines: dict
    surfaces: dict = field(default_factory=dict)

    def group(self, name, keep):
        """Name the boundary edges whose two ends ``keep`` says yes to."""
        edges = edges_of(self.triangles[:, :3])
        ends = edges.ends[edges.sides == 1]
        self.lines[name] = ends[keep(*self.points[ends].transpose(2, 0, 1)).all(axis=1)]

    def mesh(self):
        """With the groups as cell data, as .vtu and .xdmf hold them."""
        kind = "triangle" if self.triangles.shape[1] == 3 else "triangle6"
        cells = [(kind, self.triangles), *(("line", ends) for ends in self.lines.values())]
        data = {
            name: [
                mask.astype(np.int32),
                *(np.zeros(len(e), np.int32) for e in self.lines.values()),
            ]
            for name, mask in self.surfaces.items()
        }
        for name in self.lines:
            data[name] = [
                np.zeros(len(self.triangles), np.int32),
                *(np.full(len(e), n == name, np.int32) for n, e in self.lines.items()),
            ]
        points = self.points
        if points.shape[1] == 2:
            points = np.column_stack([points, np.zeros(len(points))])
        return meshio.Mesh(points, cells, cell_data=data)

    def write(self, folder, name="drawn.vtu"):
        meshio.write(folder / name, self.mesh())
        return folder / name


def ring(across=4, around=64, quadratic=False, radius=R, bore=BORE, reach=REACH):
    """Quadratic ones have their middle nodes on the chords, as a careless program leaves them."""
    r = np.linspace(bore, radius, across + 1)
    angle = np.linspace(-np.pi, np.pi, around, endpoint=False)
    points = (r[:, None, None] * np.stack([np.sin(angle), -np.cos(angle)], axis=1)[None]).reshape(
        -1, 2
    )
    i, j = np.meshgrid(np.arange(across), np.arange(around), indexing="ij")
    a, b = i * around + j, i * around + (j + 1) % around
    c, d = a + around, b + around
    triangles = np.vstack(
        [np.stack(t, axis=-1).reshape(-1, 3) for t in ((a, c, d), (a, d, b))]
    ).astype(np.int64)
    drawn = Drawn(points, triangles, {})
    drawn.group(
        "contact",
        lambda x, y: (np.hypot(x, y) > 0.9 * radius) & (np.arctan2(np.abs(x), -y) < reach),
    )
    drawn.group("bore", lambda x, y: np.hypot(x, y) < 1.001 * bore)
    if quadratic:
        edges = edges_of(triangles)
        drawn.triangles = np.hstack([triangles, len(points) + edges.of_triangle])
        drawn.points = np.vstack([points, points[edges.ends].mean(axis=1)])
    drawn.surfaces["member"] = np.ones(len(triangles), bool)
    return drawn


def area(mesh):
    return float(Basis(to_skfem(mesh), ElementTriP2(), intorder=4).dx.sum())


def nodes(mesh, name):
    return mesh.points[np.unique(mesh.cells_dict["line3"][mesh.cell_sets_dict[name]["line3"]])]


def assert_on_circle(mesh, name, radius, centre=R):
    x, y = nodes(mesh, name).T
    assert np.hypot(x, y - centre) == pytest.approx(radius, rel=1e-12)


def refused(drawn, folder, match, unit=1.0, radius=R):
    path = drawn.write(folder)
    with pytest.raises(InputError, match=match) as caught:
        read_section(path, unit, radius)
    assert str(caught.value).startswith(f"{path}: ")
    assert "\n" not in str(caught.value)


# What is read


@pytest.mark.parametrize("quadratic", [False, True])
def test_a_ring_comes_out_round_in_our_axes(tmp_path, quadratic):
    mesh = read_section(ring(quadratic=quadratic).write(tmp_path), 1.0, R)
    assert_on_circle(mesh, "contact", R)
    assert_on_circle(mesh, "bore", BORE)
    # Chords are left where there is no group: the outer circle beyond the contact line.
    turn = 2 * np.pi / 64
    chords = np.sum(ring().lines["contact"].shape[0])
    lost = (64 - chords) * R**2 / 2 * (turn - np.sin(turn))
    # Parabolas instead of arcs: error like the fourth power of the arc's angle.
    assert area(mesh) == pytest.approx(np.pi * (R**2 - BORE**2) - lost, rel=1e-6)
    assert set(mesh.cell_sets) == {"member", "contact", "bore"}
    assert least_jacobians(mesh.points, mesh.cells_dict["triangle6"]).min() > 0.0
    body = to_skfem(mesh)
    assert len(body.boundaries["contact"]) == chords
    assert len(body.boundaries["bore"]) == 64


@given(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3), st.sampled_from([1.0, 25.4, 1000.0]))
def test_where_and_in_what_unit_it_is_drawn_changes_nothing(tmp_path_factory, x, y, unit):
    folder = tmp_path_factory.mktemp("drawn")
    drawn = ring(across=2, around=48)
    plain = read_section(drawn.write(folder), 1.0, R)
    drawn.points = drawn.points / unit + [x, y]
    moved = read_section(drawn.write(folder), unit, R)
    # Rounding of coordinates up to 1e3 drawing units of 1 m, over the half height of the arc.
    assert moved.points == pytest.approx(plain.points, abs=1e-7)
    assert np.array_equal(moved.cells_dict["triangle6"], plain.cells_dict["triangle6"])


def test_the_stored_example():
    mesh = read_section(RIBBED, 1.0, 80.0)
    require_hold(mesh, RIBBED)
    assert set(mesh.cell_sets) == {"member", "contact", "bore", "hold"}
    assert_on_circle(mesh, "contact", 80.0, 80.0)
    assert_on_circle(mesh, "bore", 60.0, 80.0)
    x, y = nodes(mesh, "hold").T
    assert np.hypot(x, y - 80.0) == pytest.approx(10.0, rel=1e-9)  # drawn there, not moved
    angle = np.degrees(np.arctan2(*(nodes(mesh, "contact") - [0.0, 80.0]).T * [[1], [-1]]))
    assert (angle.min(), angle.max()) == pytest.approx((-15.0, 15.0))
    assert np.abs(mesh.points).min(axis=0)[0] < 1e-9
    assert 1500 <= len(mesh.cells_dict["triangle6"]) <= 3000


@pytest.mark.parametrize("version", [2.2, 4.1])
@pytest.mark.parametrize("binary", [0, 1])
def test_gmsh_files_of_both_versions(tmp_path, version, binary):
    path = tmp_path / "again.msh"
    code = f"""
import gmsh
gmsh.initialize(argv=["-noenv"], readConfigFiles=False)
gmsh.option.setNumber("General.Terminal", 0)
gmsh.open({str(RIBBED)!r})
gmsh.option.setNumber("Mesh.MshFileVersion", {version})
gmsh.option.setNumber("Mesh.Binary", {binary})
gmsh.write({str(path)!r})
"""
    subprocess.run([sys.executable, "-c", code], check=True)  # a process of its own: options stay
    one, two = read_section(RIBBED, 1.0, 80.0), read_section(path, 1.0, 80.0)
    assert area(two) == pytest.approx(area(one), rel=1e-12)
    for name in one.cell_sets:
        kind = "triangle6" if name == "member" else "line3"
        assert len(one.cell_sets_dict[name][kind]) == len(two.cell_sets_dict[name][kind])


def test_gmsh_groups_that_overlap(tmp_path):
    # .msh 2.2 lists an element once for each of its groups; .msh 4.1 numbers them by entity.
    code = f"""
import gmsh
gmsh.initialize(argv=["-noenv"], readConfigFiles=False)
gmsh.option.setNumber("General.Terminal", 0)
geo = gmsh.model.geo
c = geo.addPoint(0, 0, 0)
p = [geo.addPoint(*xy, 0) for xy in ((-48, -64), (0, -80), (48, -64), (0, 80))]
arcs = [geo.addCircleArc(a, c, b) for a, b in zip(p, p[1:] + p[:1])]
faces = [geo.addPlaneSurface([geo.addCurveLoop(arcs)])]
geo.synchronize()
gmsh.model.addPhysicalGroup(2, faces, name="all")
gmsh.model.addPhysicalGroup(2, faces, name="member")
gmsh.model.addPhysicalGroup(1, arcs[:2], name="contact")
gmsh.model.addPhysicalGroup(1, arcs[:2], name="also")
gmsh.option.setNumber("Mesh.MeshSizeMax", 12)
gmsh.option.setNumber("Mesh.ElementOrder", 2)
gmsh.model.mesh.generate(2)
for version, name in ((2.2, "two.msh"), (4.1, "four.msh")):
    gmsh.option.setNumber("Mesh.MshFileVersion", version)
    gmsh.write({str(tmp_path)!r} + "/" + name)
gmsh.option.setNumber("Mesh.SaveAll", 1)
gmsh.write({str(tmp_path)!r} + "/everything.msh")
"""
    subprocess.run([sys.executable, "-c", code], check=True)
    two, four = (read_section(tmp_path / f"{n}.msh", 1.0, 80.0) for n in ("two", "four"))
    assert area(two) == pytest.approx(np.pi * 80.0**2, rel=1e-4)
    assert area(four) == pytest.approx(area(two), rel=1e-12)
    assert len(two.cells_dict["line3"]) == len(four.cells_dict["line3"]) > 4
    with pytest.raises(InputError, match="no physical group; save only"):
        read_section(tmp_path / "everything.msh", 1.0, 80.0)


def test_xdmf_as_meshio_writes_it(tmp_path):
    drawn = ring()
    plain = read_section(drawn.write(tmp_path), 1.0, R)
    meshio.write(tmp_path / "ring.xdmf", drawn.mesh())
    mesh = read_section(tmp_path / "ring.xdmf", 1.0, R)
    assert mesh.points == pytest.approx(plain.points, abs=1e-9)
    assert set(mesh.cell_sets) == set(plain.cell_sets)


def test_xdmf_of_linear_triangles_and_lines(tmp_path, monkeypatch):
    drawn = ring()
    plain = read_section(drawn.write(tmp_path), 1.0, R)
    path = _write_xdmf(drawn, tmp_path)
    mesh = read_section(path, 1.0, R)
    assert mesh.points == pytest.approx(plain.points, abs=1e-9)
    assert set(mesh.cell_sets) == set(plain.cell_sets)
    path.write_text(path.read_text().replace("\n4 ", "\n36 "))
    with pytest.raises(InputError, match="linear triangles only"):
        read_section(path, 1.0, R)
    monkeypatch.setitem(sys.modules, "h5py", None)
    with pytest.raises(InputError, match="needs the package h5py"):
        read_section(path, 1.0, R)


def _write_xdmf(drawn, folder):
    mesh = drawn.mesh()
    rows = [f"4 {a} {b} {c}" for a, b, c in drawn.triangles]
    rows += [f"2 2 {a} {b}" for ends in drawn.lines.values() for a, b in ends]

    def item(values, shape, kind):
        return (
            f'<DataItem DataType="{kind}" Precision="8" Format="XML" Dimensions="{shape}">'
            f"\n{values}\n</DataItem>"
        )

    text = "\n".join(rows)
    points = "\n".join(" ".join(f"{v:.16e}" for v in p) for p in mesh.points)
    data = "".join(
        f'<Attribute Name="{name}" Center="Cell">'
        + item(" ".join(map(str, np.concatenate(v))), len(rows), "Int")
        + "</Attribute>"
        for name, v in mesh.cell_data.items()
    )
    path = folder / "drawn.xdmf"
    path.write_text(
        '<Xdmf Version="3.0"><Domain><Grid Name="Grid">'
        f'<Geometry GeometryType="XYZ">{item(points, f"{len(mesh.points)} 3", "Float")}</Geometry>'
        f'<Topology TopologyType="Mixed">{item(text, len(text.split()), "Int")}</Topology>'
        f"{data}</Grid></Domain></Xdmf>"
    )
    return path


def test_a_second_material(tmp_path):
    drawn = ring(across=6)
    del drawn.lines["bore"]
    depth = np.hypot(*drawn.points[drawn.triangles].mean(axis=1).T)
    drawn.surfaces = {"member": depth > 60.0, "infill": depth <= 60.0}
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    counts = [len(mesh.cell_sets_dict[n]["triangle6"]) for n in ("member", "infill")]
    assert counts == [4 * 128, 2 * 128]
    steel = mesh.points[mesh.cells_dict["triangle6"][mesh.cell_sets_dict["member"]["triangle6"]]]
    assert np.hypot(*(steel - [0.0, R]).reshape(-1, 2).T).min() > 59.9
    drawn.surfaces["infill"][:] = True
    refused(drawn, tmp_path, r"512 triangles are both 'member' and 'infill'")
    drawn.surfaces = {"member": depth > 60.0}
    refused(drawn, tmp_path, "256 of 768 triangles are neither")
    drawn.surfaces = {"member": depth <= 60.0, "infill": depth > 60.0}
    refused(drawn, tmp_path, "'contact' must lie on the boundary of 'member'; 10 edges do not")


def test_a_bore_that_is_filled(tmp_path):
    drawn = ring(across=6)
    depth = np.hypot(*drawn.points[drawn.triangles].mean(axis=1).T)
    drawn.surfaces = {"member": depth > 60.0, "infill": depth <= 60.0}
    edges = edges_of(drawn.triangles)
    seam = np.abs(np.hypot(*drawn.points.T) - 60.0) < 0.01
    drawn.lines["bore"] = edges.ends[seam[edges.ends].all(axis=1)]
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    assert_on_circle(mesh, "bore", 60.0)
    drawn.group("contact", lambda x, y: (np.hypot(x, y) < 51.0) & (y < -10.0))
    refused(drawn, tmp_path, "'contact' must lie on the boundary of 'member'", radius=BORE)
    # Steel around a core of infill that is struck through: the seam is no outer boundary.
    drawn.lines["contact"] = drawn.lines.pop("bore")
    refused(drawn, tmp_path, "'contact' must lie on the outer boundary, not on 'infill'")


def test_a_section_without_a_hole_has_no_bore(tmp_path):
    drawn = ring()
    del drawn.lines["bore"]
    assert set(read_section(drawn.write(tmp_path), 1.0, R).cell_sets) == {"member", "contact"}


def test_a_bore_that_is_no_circle_about_the_centre_stays_as_drawn(tmp_path):
    drawn = ring()
    inner = np.hypot(*drawn.points.T) < BORE * 1.001
    drawn.points[inner] *= [1.02, 1.0]
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    edge = mesh.cells_dict["line3"][mesh.cell_sets_dict["bore"]["line3"]]
    assert mesh.points[edge[:, 2]] == pytest.approx(mesh.points[edge[:, :2]].mean(axis=1))
    # An octagon has its corners on a circle too.
    octagon = ring(around=8, reach=1.2)
    mesh = read_section(octagon.write(tmp_path), 1.0, R)
    edge = mesh.cells_dict["line3"][mesh.cell_sets_dict["bore"]["line3"]]
    assert mesh.points[edge[:, 2]] == pytest.approx(mesh.points[edge[:, :2]].mean(axis=1))
    assert_on_circle(mesh, "contact", R)


def test_points_with_six_digits_are_put_on_the_circle(tmp_path):
    drawn = ring(quadratic=True)
    drawn.points = np.round(drawn.points + 17.0, 4)
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    assert_on_circle(mesh, "contact", R)
    assert_on_circle(mesh, "bore", np.hypot(*(nodes(mesh, "bore") - [0.0, R]).T).mean())


def test_a_short_arc_of_few_digits_is_still_round(tmp_path):
    # Rounding to 1e-3 mm is 1.4 % of the height of this arc, of 0.036 mm.
    drawn = ring(around=720, reach=0.031)
    drawn.points = np.round(drawn.points, 3)
    assert_on_circle(read_section(drawn.write(tmp_path), 1.0, R), "contact", R)


def test_triangles_that_all_turn_clockwise_are_turned(tmp_path):
    for quadratic, flip in ((False, [0, 2, 1]), (True, [0, 2, 1, 5, 4, 3])):
        drawn = ring(quadratic=quadratic)
        plain = read_section(drawn.write(tmp_path), 1.0, R)
        drawn.triangles = drawn.triangles[:, flip]
        turned = read_section(drawn.write(tmp_path), 1.0, R)
        assert area(turned) == pytest.approx(area(plain), rel=1e-12)
        assert least_jacobians(turned.points, turned.cells_dict["triangle6"]).min() > 0.0


def test_nodes_that_nothing_uses_are_dropped(tmp_path):
    drawn = ring()
    drawn.points = np.vstack([[[500.0, 500.0]], drawn.points])
    drawn.triangles = drawn.triangles + 1
    drawn.lines = {name: ends + 1 for name, ends in drawn.lines.items()}
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    assert set(np.unique(mesh.cells_dict["triangle6"])) == set(range(len(mesh.points)))


def test_a_section_that_is_to_be_held_must_say_where(tmp_path):
    mesh = read_section(ring().write(tmp_path), 1.0, R)
    with pytest.raises(InputError, match=r"own\.vtu: has no group 'hold'"):
        require_hold(mesh, Path("own.vtu"))


def test_hold_may_lie_inside_the_section(tmp_path):
    drawn = ring()
    edges = edges_of(drawn.triangles)
    middle = np.abs(np.hypot(*drawn.points.T) - 65.0) < 0.01
    drawn.lines["hold"] = edges.ends[middle[edges.ends].all(axis=1)]
    mesh = read_section(drawn.write(tmp_path), 1.0, R)
    require_hold(mesh, Path("own.vtu"))
    assert len(to_skfem(mesh).boundaries["hold"]) == 64


# What is refused: the file


@pytest.mark.parametrize("suffix", ["msh", "vtu", "xdmf"])
@pytest.mark.parametrize("content", ["", "not a mesh", "$MeshFormat\n4.1 0 8\n$EndMeshFormat\n"])
def test_a_file_that_is_no_mesh(tmp_path, suffix, content, capsys):
    path = tmp_path / f"broken.{suffix}"
    path.write_text(content)
    with pytest.raises(InputError, match=rf"broken\.{suffix}: cannot be read as a mesh: \S"):
        read_section(path, 1.0, R)
    assert capsys.readouterr().out == ""


def test_files_that_are_absent_unknown_or_in_pieces(tmp_path):
    with pytest.raises(InputError, match="there is no such file"):
        read_section(tmp_path / "gone.msh", 1.0, R)
    (tmp_path / "part.step").write_text("")
    with pytest.raises(InputError, match=r"must end in \.msh, \.vtu, \.xdmf, not in '\.step'"):
        read_section(tmp_path / "part.step", 1.0, R)
    path = ring().write(tmp_path)
    path.write_bytes(path.read_bytes().replace(b"</Piece>", b"</Piece><Piece></Piece>"))
    with pytest.raises(InputError, match="more than one piece"):
        read_section(path, 1.0, R)
    drawn = ring()
    drawn.triangles[0, 0] = len(drawn.points)
    refused(drawn, tmp_path, "triangle cells with nodes that are not in the file")
    lines = RIBBED.read_text().splitlines()
    at = lines.index("$Nodes")
    lines[at + 1] = str(int(lines[at + 1]) - 1)
    del lines[at + 2]
    (tmp_path / "short.msh").write_text("\n".join(lines) + "\n")
    with pytest.raises(InputError, match="nodes that are not in the file"):
        read_section(tmp_path / "short.msh", 1.0, 80.0)


@pytest.mark.parametrize(("unit", "radius"), [(0.0, R), (np.nan, R), (1.0, -1.0), (1.0, np.inf)])
def test_lengths_that_cannot_be(tmp_path, unit, radius):
    with pytest.raises(InputError, match="must be a positive length"):
        read_section(ring().write(tmp_path), unit, radius)


# What is refused: cells and groups


def test_other_cells_than_one_kind_of_triangle(tmp_path):
    mesh = ring().mesh()
    for extra, match in (
        (("quad", np.array([[0, 1, 2, 3]])), "cells of type quad; only triangles"),
        (("tetra", np.array([[0, 1, 2, 3]])), "cells of type tetra"),
        (("triangle6", np.array([[0, 1, 2, 3, 4, 5]])), "mixes triangles of 3 and 6 nodes"),
    ):
        cells = [*mesh.cells, extra]
        data = {name: [*blocks, np.zeros(1, int)] for name, blocks in mesh.cell_data.items()}
        meshio.write(tmp_path / "m.vtu", meshio.Mesh(mesh.points, cells, cell_data=data))
        with pytest.raises(InputError, match=match):
            read_section(tmp_path / "m.vtu", 1.0, R)
    meshio.write(tmp_path / "m.vtu", meshio.Mesh(mesh.points, mesh.cells[1:]))
    with pytest.raises(InputError, match="holds no triangles"):
        read_section(tmp_path / "m.vtu", 1.0, R)


def test_groups_that_are_missing_or_empty(tmp_path):
    drawn = ring()
    contact = drawn.lines.pop("contact")
    refused(drawn, tmp_path, "has no group 'contact'; groups found: bore, member")
    drawn.lines["contact"] = contact[:0]
    refused(drawn, tmp_path, "group 'contact' holds no lines")
    drawn = ring()
    drawn.surfaces = {}
    refused(drawn, tmp_path, "has no group 'member'; groups found: bore, contact")
    drawn.surfaces = {"member": np.zeros(len(drawn.triangles), bool)}
    refused(drawn, tmp_path, "group 'member' holds no triangles")
    path = tmp_path / "bare.msh"
    drawn = ring().mesh()
    numbers = [np.zeros(len(block), int) for block in drawn.cells]
    data = {"gmsh:physical": numbers, "gmsh:geometrical": numbers}
    meshio.write(path, meshio.Mesh(drawn.points, drawn.cells, cell_data=data), file_format="gmsh22")
    with pytest.raises(InputError, match="groups found: none"):
        read_section(path, 1.0, R)


def test_lines_that_are_not_where_they_must_be(tmp_path):
    drawn = ring()
    lowest = np.argmin(drawn.points[:, 1])
    drawn.lines["contact"] = np.vstack([drawn.lines["contact"], [[lowest, lowest + 5]]])
    refused(drawn, tmp_path, "'contact' holds a line that is not an edge of a triangle, at")
    drawn = ring()
    drawn.points = np.vstack([drawn.points, [[0.0, 0.0]]])
    drawn.lines["hold"] = np.array([[0, len(drawn.points) - 1]])
    refused(drawn, tmp_path, "'hold' holds a line that is not an edge of a triangle")
    drawn = ring()
    drawn.lines["bore"] = edges_of(drawn.triangles).ends[:40]
    refused(drawn, tmp_path, "'bore' must lie on the boundary")
    drawn = ring()
    drawn.lines["hold"] = drawn.lines["contact"][:2]
    refused(drawn, tmp_path, "groups 'contact' and 'hold' have 2 edges in common")


# What is refused: the triangles


def test_a_drawing_that_is_not_planar_or_not_finite(tmp_path):
    drawn = ring()
    drawn.points = np.column_stack([drawn.points, np.linspace(0.0, 5.0, len(drawn.points))])
    refused(drawn, tmp_path, "not planar: z runs from 0 to 5")
    drawn.points[:, 2] = 7.0
    assert read_section(drawn.write(tmp_path), 1.0, R).points.shape[1] == 2
    drawn.points[3, 0] = np.nan
    refused(drawn, tmp_path, "not numbers")


def test_triangles_that_turn_over_are_flat_or_overlap(tmp_path):
    drawn = ring()
    drawn.triangles[[7, 9]] = drawn.triangles[[7, 9]][:, [0, 2, 1]]
    refused(
        drawn, tmp_path, r"2 of 512 triangles turn clockwise, the first at \(.*\) of the drawing"
    )
    drawn = ring()
    drawn.points[70] = (drawn.points[71] + drawn.points[69]) / 2.0
    drawn.points[6] = drawn.points[70]
    refused(drawn, tmp_path, "have no area, the first at")
    drawn = ring()
    far = len(drawn.points)
    drawn.points = np.vstack([drawn.points, [[0.0, -70.0]]])
    a, b = drawn.lines["contact"][3]
    third = [[a, b, far]] if drawn.points[a, 0] < drawn.points[b, 0] else [[b, a, far]]
    two = drawn.triangles
    drawn.triangles = np.vstack([two, third])
    drawn.surfaces["member"] = np.ones(len(drawn.triangles), bool)
    refused(drawn, tmp_path, "triangles overlap at 1 edges, the first at")
    # A third triangle at an edge inside.
    edges = edges_of(two)
    a, b = edges.ends[(edges.sides == 2) & (drawn.points[edges.ends][:, :, 1] < -60.0).all(axis=1)][
        0
    ]
    middle = drawn.points[[a, b]].mean(axis=0)
    across = (drawn.points[b] - drawn.points[a]) @ [[0.0, 1.0], [-1.0, 0.0]]
    drawn.points[far] = middle + 0.3 * across
    drawn.triangles = np.vstack([two, [[a, b, far]]])
    refused(drawn, tmp_path, "triangles overlap at 1 edges, the first at")


def test_curved_triangles_that_fold_over(tmp_path):
    drawn = ring(quadratic=True)
    a, b, middle = drawn.triangles[5, [0, 1, 3]]
    drawn.points[middle] = 0.9 * drawn.points[a] + 0.1 * drawn.points[b]
    refused(drawn, tmp_path, r"2 curved triangles fold over .* the first at")


def test_parts_cracks_and_hanging_nodes(tmp_path):
    apart = ring()
    n = len(apart.points)
    apart.points = np.vstack([apart.points, apart.points * 0.5])
    apart.triangles = np.vstack([apart.triangles, apart.triangles + n])
    apart.surfaces["member"] = np.ones(len(apart.triangles), bool)
    refused(apart, tmp_path, "falls into 2 parts")

    for quadratic in (False, True):
        crack = ring(quadratic=quadratic)
        twin = np.flatnonzero(
            np.isclose(np.hypot(*crack.points.T), 57.5) & (crack.points[:, 0] > 0)
        )
        outside = np.hypot(*crack.points[crack.triangles[:, :3]].mean(axis=1).T) > 57.5
        number = np.arange(len(crack.points))
        number[twin] = len(number) + np.arange(len(twin))
        crack.points = np.vstack([crack.points, crack.points[twin]])
        crack.triangles[outside] = number[crack.triangles[outside]]
        refused(crack, tmp_path, "lie in one place|do not share the middle node")

    hanging = ring()
    # Split one triangle of two along their common edge: its neighbour keeps the whole edge.
    edges = edges_of(hanging.triangles)
    shared = int(np.flatnonzero(edges.sides == 2)[40])
    owner = int(np.flatnonzero((edges.of_triangle == shared).any(axis=1))[0])
    local = int(np.flatnonzero(edges.of_triangle[owner] == shared)[0])
    a, b, c = np.roll(hanging.triangles[owner], -local)
    middle = len(hanging.points)
    hanging.points = np.vstack([hanging.points, hanging.points[[a, b]].mean(axis=0)])
    hanging.triangles = np.vstack(
        [np.delete(hanging.triangles, owner, axis=0), [[a, middle, c], [middle, b, c]]]
    )
    hanging.surfaces["member"] = np.ones(len(hanging.triangles), bool)
    refused(hanging, tmp_path, "1 nodes hang on the edge of a larger triangle, the first at")


def test_a_quadratic_triangle_beside_two_small_ones(tmp_path):
    # The middle node of the large edge is a corner of the small triangles: it looks joined.
    drawn = ring(quadratic=True)
    corners = drawn.triangles[:, :3]
    edges = edges_of(corners)
    shared = int(np.flatnonzero(edges.sides == 2)[40])
    owner = int(np.flatnonzero((edges.of_triangle == shared).any(axis=1))[0])
    local = int(np.flatnonzero(edges.of_triangle[owner] == shared)[0])
    a, b, c = np.roll(corners[owner], -local)
    ab, bc, ca = np.roll(drawn.triangles[owner, 3:], -local)
    n, p = len(drawn.points), drawn.points
    drawn.points = np.vstack([p, (p[a] + p[ab]) / 2, (p[b] + p[ab]) / 2, (p[c] + p[ab]) / 2])
    drawn.triangles = np.vstack(
        [
            np.delete(drawn.triangles, owner, axis=0),
            [[a, ab, c, n, n + 2, ca], [ab, b, c, n + 1, bc, n + 2]],
        ]
    )
    drawn.surfaces["member"] = np.ones(len(drawn.triangles), bool)
    refused(drawn, tmp_path, "1 nodes hang on the edge of a larger triangle")


# What is refused: the contact line


def test_a_wrong_unit_or_diameter_is_told_from_the_points(tmp_path):
    refused(ring(), tmp_path, r"fit a diameter of 4064 mm.*1 unit = 25\.4 mm", unit=25.4)
    refused(ring(), tmp_path, r"diameter 162 mm \(allowed.*fit a diameter of 160 mm", radius=81.0)
    # On a short arc, where a wrong diameter hardly moves a point.
    short = ring(around=720, reach=0.06)
    refused(short, tmp_path, "fit a diameter of 160 mm", radius=81.0)
    assert read_section(short.write(tmp_path), 1.0, R)


def test_contact_points_off_the_circle(tmp_path):
    drawn = ring()
    drawn.points[drawn.lines["contact"][4, 0]] *= 1.002
    refused(drawn, tmp_path, "lies up to 0.1[0-9]+ mm off a circle")
    drawn = ring(quadratic=True)
    edges = edges_of(drawn.triangles)
    at = edges.find(drawn.lines["contact"])[4]
    middle = drawn.triangles[:, 3:][edges.of_triangle == at][0]
    chord = drawn.points[middle].copy()  # its middle is 0.12 % inside the circle
    for moved in (1.004, 0.998):
        drawn.points[middle] = moved * chord
        refused(drawn, tmp_path, "middle nodes of group 'contact'")


def test_a_contact_line_that_is_straight(tmp_path):
    drawn = ring()
    a, b = drawn.lines["contact"][2]
    drawn.lines["contact"] = np.array([[a, b]])
    refused(drawn, tmp_path, "lies on a straight line")


@pytest.mark.parametrize(
    ("turn", "limits"),
    [(np.pi / 2, r"6\d° to 11\d°"), (0.6, r"\d+° to 6\d°"), (np.pi, r"15\d° to 20\d°")],
)
def test_a_contact_line_that_is_not_lowest(tmp_path, turn, limits):
    drawn = ring()
    c, s = np.cos(turn), np.sin(turn)
    drawn.points = drawn.points @ np.array([[c, s], [-s, c]])
    refused(drawn, tmp_path, rf"'contact' runs from -?{limits}.*turn the drawing")


def test_a_contact_line_with_a_gap_or_on_a_hole(tmp_path):
    drawn = ring()
    order = np.argsort(drawn.points[drawn.lines["contact"]].mean(axis=1)[:, 0])
    drawn.lines["contact"] = drawn.lines["contact"][np.delete(order, 3)]
    refused(drawn, tmp_path, "must be one unbroken line")
    drawn = ring()
    drawn.group("contact", lambda x, y: (np.hypot(x, y) < 51.0) & (y < -40.0))
    del drawn.lines["bore"]
    refused(drawn, tmp_path, "outer boundary, not on that of a hole", radius=BORE)


def test_a_section_that_reaches_below_its_contact_line(tmp_path):
    drawn = ring(reach=0.3)
    drawn.points[np.arctan2(np.abs(drawn.points[:, 0]), -drawn.points[:, 1]) > 0.45] *= 1.3
    refused(drawn, tmp_path, r"reaches \d+\.\d* mm below its contact line")


def test_triangles_too_coarse_to_be_made_round(tmp_path):
    # A skin thinner than the height of the arcs that its chords of 22.5 degrees stand for.
    drawn = ring(across=1, around=16, bore=77.5, reach=1.3)
    drawn.group("contact", lambda x, y: (np.hypot(x, y) > 79.0) & (np.arctan2(np.abs(x), -y) < 1.3))
    refused(drawn, tmp_path, "fold over when the contact line or the bore is made round")


def test_gmsh_is_not_needed_to_read():
    code = f"""
import sys; sys.modules["gmsh"] = None
from pathlib import Path
from contactfe.section.foreign import read_section
print(len(read_section(Path({str(RIBBED)!r}), 1.0, 80.0).points))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) > 3000
