"""Stress along the load line as it is drawn."""

from dataclasses import replace

import numpy as np
import pytest
from figures import figure_of

from contactfe.report.figures.choice import chosen
from contactfe.report.figures.load_line import infill_profile, profile
from contactfe.solve.located import located


def test_stress_between_nodes_is_that_of_quadratic_elements(comparison):
    field = comparison.sections[0].reading.member_field

    def quadratic(x, y):
        return np.array([x**2, x * y, 3.0 - y**2, 1.0 + x - y]).T

    rng = np.random.default_rng(1)
    radius, angle = 50.0 * np.sqrt(rng.random(200)), 2 * np.pi * rng.random(200)
    points = np.array([radius * np.cos(angle), 60.0 + radius * np.sin(angle)])
    made = replace(field, stress=quadratic(*field.mesh.doflocs))
    at = located(made.mesh, points)
    stress = at.read(made.stress)
    assert at.inside.all()
    # Elements inside are straight and hold a quadratic as it is; its values go to 10⁴.
    np.testing.assert_allclose(stress, quadratic(*points), atol=1e-8)


def test_beyond_a_body_there_is_no_stress(comparison):
    tube = comparison.sections[1].reading.member_field
    in_bore = np.array([[0.0, 0.0], [21.0, 60.0]])
    assert not located(tube.mesh, in_bore).inside.any()
    assert not located(tube.mesh, np.array([[500.0], [0.0]])).inside.any()
    in_wall = np.array([[0.0, 0.0], [0.0, 19.9]])
    assert located(tube.mesh, in_wall).inside.all()


def test_the_load_line_shows_the_field_at_its_nodes(comparison):
    figure = figure_of("load_line.png", comparison)
    for result, near in zip(chosen(comparison), figure.axes[:2], strict=True):
        field, line = result.reading.member_field, profile(result)
        end = result.section.wall or result.section.radius
        assert line.depth[0] == 0.0
        assert line.depth[-1] == pytest.approx(end)
        for drawn_line, stress in zip(
            near.lines[:3], (line.across, line.along, line.von_mises), strict=True
        ):
            depth = np.asarray(drawn_line.get_xdata()) * result.half_width.value
            np.testing.assert_allclose(depth, line.depth)
            np.testing.assert_array_equal(drawn_line.get_ydata(), stress)
        x, y = field.mesh.doflocs
        nodes = np.flatnonzero((x == 0.0) & (y <= end))
        # The points drawn lie 1.5 % of their depth apart, and the field bends between them.
        most = 2e-3 * result.peak_contact_pressure.value
        for of_line, of_nodes in (
            (line.across, field.stress[nodes, 0]),
            (line.along, field.stress[nodes, 1]),
            (line.von_mises, field.von_mises[nodes]),
        ):
            read = np.interp(y[nodes], line.depth, of_line)
            np.testing.assert_allclose(read, of_nodes, atol=most)


def test_an_infill_continues_the_load_line_to_the_centre(corner):
    (result,) = corner.sections
    wall, radius = result.section.wall, result.section.radius
    line, filled = profile(result), infill_profile(result)
    assert line.depth[-1] == pytest.approx(wall)
    assert (filled.depth[0], filled.depth[-1]) == pytest.approx((wall, radius))
    # What presses on the bond along the load is the same on both sides of it; recovered apart on
    # either side, within a hundredth of the pressure that goes in.
    most = 0.01 * result.peak_contact_pressure.value
    assert filled.along[0] == pytest.approx(line.along[-1], abs=most)
    lower = figure_of("load_line.png", corner).axes[1]
    dotted = [line for line in lower.lines if "infill" in line.get_label()]
    assert [line.get_linestyle() for line in dotted] == [":"] * 3
    np.testing.assert_array_equal(dotted[2].get_ydata(), filled.von_mises)
    assert lower.get_xlim()[1] == pytest.approx(radius)


def test_without_infill_the_load_line_ends_with_the_steel(comparison, oblique, own):
    assert infill_profile(comparison.sections[1]) is None
    figure = figure_of("load_line.png", comparison)
    ends = [ax.get_xlabel() for ax in figure.axes[2:]]
    assert ends == ["depth to the bore [mm]", "depth to the centre [mm]"]
    assert "core" in figure_of("load_line.png", oblique).axes[1].get_xlabel()
    lower = figure_of("load_line.png", own).axes[1]
    assert "hole" in lower.get_xlabel()
    # The ribbed tube of meshes/make.py has a wall of 20 mm; points lie 1.5 % of it apart.
    assert lower.get_xlim()[1] == pytest.approx(20.0, rel=0.015)


def test_exact_values_stand_at_the_end_of_the_load_line(comparison):
    figure = figure_of("load_line.png", comparison)
    tube, solid = figure.axes[2:]
    marks = [[line for line in ax.lines if line.get_marker() == "s"] for ax in (solid, tube)]
    assert [len(m) for m in marks] == [2, 1]
    line, result = profile(comparison.sections[1]), comparison.sections[1]
    assert marks[1][0].get_data() == ([line.depth[-1]], [result.hand_value("ring_bore_under_load")])
    figure.draw_without_rendering()
    for ax, count in ((solid, 2), (tube, 1)):
        (text,) = (t for t in ax.texts if t.get_gid() == "exact")
        assert text.get_text().count("□ exact σ") == count
        box = text.get_window_extent()
        for curve in ax.lines:  # none runs through it
            assert not box.count_contains(curve.get_transform().transform(curve.get_xydata()))


def test_an_exact_value_beyond_the_scale_is_written_and_not_drawn(comparison):
    """As where a post is held back along its length, and a slice alone would bend by far more."""
    tube = comparison.sections[1]
    hand = tuple(
        replace(one, step=replace(one.step, worked=replace(one.step.worked, value=1e4)))
        if one.key == "ring_bore_under_load"
        else one
        for one in tube.hand_checks
    )
    far = replace(tube, hand_checks=hand)
    of = replace(comparison, sections=(far,))
    assert far.hand_value("ring_bore_under_load") == 1e4
    lower = figure_of("load_line.png", of).axes[1]
    assert lower.get_ylim()[1] < 1e3
    assert not [line for line in lower.lines if line.get_marker() == "s"]
    (text,) = (t for t in lower.texts if t.get_gid() == "exact")
    assert text.get_text() == "↑ exact σx 10000 MPa"
