import meshio
import numpy as np
import pytest

from contactfe.report.fields import write_fields, write_vtu
from contactfe.report.slugs import slug, unique_slugs
from contactfe.solve.condense import group_nodes


@pytest.fixture(scope="module")
def tube(comparison):
    return comparison.sections[1]


@pytest.fixture(scope="module")
def written(tube, tmp_path_factory):
    return write_vtu(tube, tmp_path_factory.mktemp("fields"))


def test_the_file_reads_back_with_the_values_of_the_fields(tube, written):
    mesh = meshio.read(written)
    fields = (tube.reading.member_field, tube.reading.plate_field)
    count = sum(field.mesh.doflocs.shape[1] for field in fields)
    assert mesh.points.shape == (count, 3)
    assert set(mesh.cells_dict) == {"triangle6"}
    data = mesh.point_data
    first = fields[0].mesh.doflocs.shape[1]
    for field, part in zip(fields, (slice(first), slice(first, None)), strict=True):
        np.testing.assert_array_equal(mesh.points[part, :2], field.mesh.doflocs.T)
        np.testing.assert_array_equal(data["von Mises stress [MPa]"][part], field.von_mises)
        np.testing.assert_array_equal(data["maximum shear stress [MPa]"][part], field.max_shear)
        np.testing.assert_array_equal(data["stress y [MPa]"][part], field.stress[:, 1])
        np.testing.assert_array_equal(data["shear stress xy [MPa]"][part], field.stress[:, 3])


def test_middles_follow_corners_as_the_format_asks(written):
    mesh = meshio.read(written)
    nodes = mesh.points[mesh.cells_dict["triangle6"]]
    chord = np.stack([nodes[:, i] + nodes[:, (i + 1) % 3] for i in range(3)], axis=1) / 2
    length = np.linalg.norm(nodes[:, 0] - nodes[:, 1], axis=1)
    # On an arc a middle stands off its chord, but by little of the element's length.
    assert np.all(np.linalg.norm(nodes[:, 3:] - chord, axis=2) < 0.1 * length[:, None])


def test_cells_say_which_body_they_are_of(tube, written):
    mesh = meshio.read(written)
    (body,) = mesh.cell_data["body"]
    middle = mesh.points[mesh.cells_dict["triangle6"]].mean(axis=1)
    assert set(body) == {0, 1}
    assert np.all((middle[:, 1] < 0.0) == (body == 1))


def test_bodies_drawn_displaced_touch_and_do_not_cross(tube, written):
    mesh = meshio.read(written)
    moved = mesh.points + mesh.point_data["displacement [mm]"]
    post, plate = tube.reading.member_field.mesh, tube.reading.plate_field.mesh
    first = post.doflocs.shape[1]
    state = tube.reading.state
    line, face = group_nodes(post, "contact"), first + group_nodes(plate, "contact")
    gap = moved[line, 1] - np.interp(moved[line, 0], moved[face, 0], moved[face, 1])
    assert np.abs(gap[state.pressure > 0.0]).max() < 1e-2 * state.approach
    assert gap.min() > -1e-2 * state.approach


def test_writing_and_reading_say_nothing(tube, tmp_path, capfd):
    meshio.read(write_vtu(tube, tmp_path))
    assert capfd.readouterr() == ("", "")


def test_files_are_named_after_sections(comparison, tmp_path):
    names = [path.name for path in write_fields(comparison, tmp_path)]
    assert names == ["solid-120.vtu", "tube-120-x-20.vtu"]


def test_slugs_are_safe_and_differ():
    names = ["a/b", "a b", "A-B", "../..", "鋼管", "x" * 300]
    slugs = unique_slugs(names)
    assert len(set(slugs)) == len(names)
    assert all(set(s) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") for s in slugs)
    assert max(map(len, slugs)) < 80
    assert slug("../..") == "section"
