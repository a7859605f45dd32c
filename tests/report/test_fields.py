import meshio
import numpy as np
import pytest

from contactfe.assess.bodies import beside
from contactfe.report.fields import write_fields, write_vtu
from contactfe.report.slugs import slug, unique_slugs
from contactfe.solve.lines import Frame, group_nodes


@pytest.fixture(scope="module")
def tube(comparison):
    return comparison.sections[1]


@pytest.fixture(scope="module")
def written(tube, tmp_path_factory):
    return write_vtu(tube, tmp_path_factory.mktemp("fields"))


def test_the_file_reads_back_with_the_values_of_the_fields(tube, written):
    mesh = meshio.read(written)
    fields = (tube.reading.member_field, tube.reading.patch.field)
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


def _gap(points, moved, result, number, frame):
    """Gap between post and plate ``number`` as drawn displaced, in the plate's axes."""
    reading = result.reading
    state, post = reading.state.patches[number], reading.member_field.mesh
    start = {0: len(reading.member_field.von_mises)}
    start[1] = len(points) - len(reading.patches[number].field.von_mises)
    group = ("contact", "contact side")[number]
    line = group_nodes(post, group)
    face = start[number] + group_nodes(reading.patches[number].field.mesh, "contact")
    on_post, on_plate = frame.local(moved[line, :2].T), frame.local(moved[face, :2].T)
    order, across = np.argsort(on_plate[0]), np.argsort(frame.local(points[line, :2].T)[0])
    gap = on_post[1] - np.interp(on_post[0], on_plate[0, order], on_plate[1, order])
    return gap[across], state


def test_bodies_drawn_displaced_touch_and_do_not_cross(tube, written):
    mesh = meshio.read(written)
    moved = mesh.points + mesh.point_data["displacement [mm]"]
    gap, state = _gap(mesh.points, moved, tube, 0, Frame())
    approach = tube.reading.state.approach
    assert np.abs(gap[state.pressure > 0.0]).max() < 1e-2 * approach
    assert gap.min() > -1e-2 * approach


@pytest.fixture(scope="module")
def filled(corner):
    return corner.sections[0]


@pytest.fixture(scope="module")
def cornered(filled, tmp_path_factory):
    return meshio.read(write_vtu(filled, tmp_path_factory.mktemp("corner")))


def test_a_corner_stands_in_the_axes_of_the_section(filled, cornered):
    (body,) = cornered.cell_data["body"]
    middle = cornered.points[cornered.cells_dict["triangle6"]].mean(axis=1)
    assert set(body) == {0, 1, 2, 3}
    centre = np.array([0.0, filled.section.radius])
    r = np.hypot(*(middle[:, :2] - centre).T)
    assert np.all(middle[body == 1, 1] < 0.0)
    assert np.all(middle[body == 3, 0] > filled.section.radius)
    assert np.all(r[body == 2] < filled.section.geometry.bore / 2)
    assert np.all((r[body == 0] > 0.99 * filled.section.geometry.bore / 2) & (r[body == 0] < 60.0))
    # As high as the plate is wide, its middle 5 mm below the centre of the post.
    y = cornered.points[cornered.cells_dict["triangle6"][body == 3].ravel(), 1]
    assert (y.min(), y.max()) == pytest.approx((60.0 - 5.0 - 150.0, 60.0 - 5.0 + 150.0))


@pytest.mark.parametrize(("number", "frame"), [(0, Frame()), (1, beside(60.0))])
def test_in_a_corner_both_plates_touch_the_post_displaced(filled, cornered, number, frame):
    moved = cornered.points + cornered.point_data["displacement [mm]"]
    gap, state = _gap(cornered.points, moved, filled, number, frame)
    approach = filled.reading.state.approach
    assert np.abs(gap[state.pressure > 0.0]).max() < 1e-2 * approach
    assert gap.min() > -1e-2 * approach


def test_the_stress_of_the_second_plate_is_turned(filled, cornered):
    field = filled.reading.patches[1].field
    part = slice(len(cornered.points) - len(field.von_mises), None)
    data = {key: values[part] for key, values in cornered.point_data.items()}
    x, y, z, t = field.stress.T
    # Along the plate is up, y; a quarter turn changes the sign of the shear stress.
    np.testing.assert_allclose(data["stress x [MPa]"], y)
    np.testing.assert_allclose(data["stress y [MPa]"], x)
    np.testing.assert_allclose(data["stress z [MPa]"], z)
    np.testing.assert_allclose(data["shear stress xy [MPa]"], -t)
    np.testing.assert_array_equal(data["von Mises stress [MPa]"], field.von_mises)
    moved = data["displacement [mm]"]
    np.testing.assert_allclose(moved[:, 0], -field.displacement[:, 1])
    np.testing.assert_allclose(moved[:, 1], field.displacement[:, 0])


def test_the_infill_moves_with_the_steel(filled, cornered):
    """Bonded, and in the same axes: both have the same displacement along the bore."""
    post, infill = filled.reading.member_field, filled.reading.infill_field
    plate = filled.reading.patches[0].field
    first = len(post.von_mises) + len(plate.von_mises)
    steel, inside = slice(len(post.von_mises)), slice(first, first + len(infill.von_mises))
    points, moved = cornered.points, cornered.point_data["displacement [mm]"]
    rows = {tuple(np.round(p, 6)): d for p, d in zip(points[steel], moved[steel], strict=True)}
    shared = [
        (rows[tuple(np.round(p, 6))], d)
        for p, d in zip(points[inside], moved[inside], strict=True)
        if tuple(np.round(p, 6)) in rows
    ]
    assert len(shared) > 50
    np.testing.assert_allclose(*map(np.array, zip(*shared, strict=True)), atol=1e-12)


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
