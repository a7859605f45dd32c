"""Contact pressure and traction as they are drawn."""

from dataclasses import replace

import numpy as np
import pytest
from figures import figure_of
from matplotlib.patches import Rectangle

from contactfe.assess.results import Along
from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.spots import off_centre


def _with_zones(comparison, *zones):
    """The first section with other zones in its first patch."""
    result = comparison.sections[0]
    patch = replace(result.contact, zones=zones)
    sections = (replace(result, patches=(patch, *result.patches[1:])),)
    return replace(comparison, sections=sections)


def test_pressure_is_drawn_as_computed_and_as_by_hertz(comparison):
    figure = figure_of("pressure.png", comparison)
    for result, ax in zip(chosen(comparison), figure.axes[:2], strict=True):
        nodes, curve, hertz, _ = ax.lines
        np.testing.assert_array_equal(nodes.get_xdata(), result.reading.state.patch.x)
        np.testing.assert_array_equal(nodes.get_ydata(), result.reading.state.patch.pressure)
        assert max(curve.get_ydata()) == pytest.approx(result.peak_contact_pressure.value, rel=1e-3)
        assert max(hertz.get_ydata()) == pytest.approx(result.hand_value("hertz_peak_pressure"))
        assert any(
            words.pair(result.peak_contact_pressure, SI.stress) in text.get_text()
            for text in ax.texts
        )


def test_the_difference_to_hertz_is_small_in_the_middle(comparison):
    figure = figure_of("pressure.png", comparison)
    for ax in figure.axes[2:]:
        x, rest = ax.lines[1].get_data()
        assert abs(rest[np.argmin(np.abs(x))]) < 1.0


def test_hertz_is_drawn_about_the_middle_of_the_patch(oblique):
    (result,) = oblique.sections
    assert off_centre(result.contact)
    upper = figure_of("pressure.png", oblique).axes[0]
    x, pressure = next(line for line in upper.lines if "Hertz" in line.get_label()).get_data()
    # The points drawn lie 1/200 of the axis, or 0.007 half-widths, apart.
    step = 0.007 * result.half_width.value
    assert x[np.argmax(pressure)] == pytest.approx(result.contact.centre.value, abs=step)
    assert sum(upper.get_xlim()) / 2 == pytest.approx(result.contact.centre.value)


@pytest.mark.parametrize("case", ["oblique", "corner"])
def test_traction_and_its_bound_are_drawn_with_their_signs(case, request):
    comparison = request.getfixturevalue(case)
    (result,) = comparison.sections
    friction = comparison.case.contact.friction
    panels = figure_of("pressure.png", comparison).axes[::2]
    for patch, upper in zip(result.patches, panels, strict=True):
        lines = {line.get_label(): line for line in upper.lines}
        x, traction = lines["traction on the plate, + along it"].get_data()
        # The trapezoidal rule on the points drawn, across the steep ends: within 1 % of μq.
        near = 0.01 * friction * patch.line_load
        assert np.trapezoid(traction, x) == pytest.approx(patch.tangential_load.value, abs=near)
        for label, sign in (("bound, ± friction × pressure", 1.0), ("_the same below", -1.0)):
            bound = np.trapezoid(lines[label].get_ydata(), x)
            assert bound == pytest.approx(sign * friction * patch.line_load, abs=near)


def test_without_friction_no_traction_is_drawn(comparison):
    figure = figure_of("pressure.png", comparison)
    assert not any("traction" in line.get_label() for ax in figure.axes for line in ax.lines)
    assert not any(isinstance(p, Rectangle) for ax in figure.axes for p in ax.patches)


def test_parts_that_stick_and_slip_are_named_and_look_unalike(oblique):
    a = oblique.sections[0].half_width.value
    zones = (Along("slip", -a, -0.99 * a), Along("stick", -0.99 * a, 0.1 * a))
    partly = _with_zones(oblique, *zones, Along("slip", 0.1 * a, a))
    upper = figure_of("pressure.png", partly).axes[0]
    bands = [p for p in upper.patches if isinstance(p, Rectangle)]
    spans = [(p.get_x(), p.get_x() + p.get_width()) for p in bands]
    np.testing.assert_allclose(spans, [(-a, -0.99 * a), (-0.99 * a, 0.1 * a), (0.1 * a, a)])
    assert [bool(p.get_hatch()) for p in bands] == [True, False, True]
    labels = [band.get_label() for band in bands]
    assert labels == ["slips", "sticks", "slips"]


def test_a_corner_has_a_pair_of_panels_for_each_patch(corner):
    (result,) = corner.sections
    figure = figure_of("pressure.png", corner)
    assert len(figure.axes) == 4
    for number, state in enumerate(result.reading.state.patches):
        upper, lower = figure.axes[2 * number : 2 * number + 2]
        np.testing.assert_array_equal(upper.lines[0].get_ydata(), state.pressure)
        np.testing.assert_array_equal(lower.lines[1].get_xdata(), state.x)
        peak = words.pair(result.patches[number].peak_contact_pressure, SI.stress)
        assert any(peak in text.get_text() for text in upper.texts)
    assert "second plate" in figure.axes[3].get_xlabel()
