import re
import sys
import threading
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import matplotlib
import numpy as np
import pytest
from figures import check_legend, heads
from matplotlib import colormaps
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection, QuadMesh
from matplotlib.colors import to_rgb
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from matplotlib.tri import TriContourSet
from PIL import Image

from contactfe.assess.compare import compare
from contactfe.assess.places import SECOND_CONTACT, SECOND_EDGE
from contactfe.assess.results import Along
from contactfe.case import case_from_dict
from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.figures import FIGURES, figures_of, save_figures
from contactfe.report.figures.along import stress_at
from contactfe.report.figures.choice import chosen, shown_of
from contactfe.report.figures.convergence import convergence_figure, history
from contactfe.report.figures.ink import ACROSS, ALONG, INK, STRESS, save_png, settings
from contactfe.report.figures.load_line import infill_profile, profile
from contactfe.report.figures.panels import caption, head, legend, minus, panels
from contactfe.report.figures.plates import drawn
from contactfe.report.figures.spots import off_centre, spots

MESHES = Path(__file__).parents[2] / "meshes"


def _single(comparison):
    return replace(comparison, sections=comparison.sections[1:])


def _many(comparison):
    """Six sections, made of two solved ones under other names."""
    solid, tube = comparison.sections
    sections = tuple(
        replace(r, section=replace(r.section, name=f"{r.section.name} no. {k}"))
        for k, r in enumerate((tube, tube, solid, tube, solid, tube))
    )
    names = tuple(r.section.name for r in sections)
    return replace(comparison, sections=sections, by_concentration=names[::-1])


@pytest.fixture(scope="module")
def single(comparison):
    return _single(comparison)


@pytest.fixture(scope="module")
def many(comparison):
    return _many(comparison)


@pytest.fixture(scope="module")
def own() -> object:
    """A section drawn elsewhere, struck squarely."""
    steel = {"young": "210 GPa", "poisson": 0.3, "yield": "420 MPa"}
    section = {
        "name": "ribbed", "outside_diameter": "160 mm", "mesh": str(MESHES / "ribbed-tube.msh")
    }  # fmt: skip
    return compare(
        case_from_dict(
            {
                "title": "An invented section",
                "post": {"held_by": "beam shear"} | steel,
                "plate": {"width": "300 mm", "thickness": "50 mm", "held_by": "rigid base"} | steel,
                "load": {"line_load": "1.2 kN/mm"},
                "section": [section],
            }
        )
    )


def _four(comparison):
    """The same section four times, as many as a figure has room for."""
    (result,) = comparison.sections
    sections = tuple(
        replace(result, section=replace(result.section, name=f"{result.section.name} {k}"))
        for k in range(4)
    )
    names = tuple(r.section.name for r in sections)
    return replace(comparison, sections=sections, by_concentration=names)


def _with_zones(comparison, *zones):
    """The first section with other zones in its first patch."""
    result = comparison.sections[0]
    patch = replace(result.patch, zones=zones)
    sections = (replace(result, patches=(patch, *result.patches[1:])),)
    return replace(comparison, sections=sections)


def _drawn(name, comparison):
    with settings():
        figure = figures_of(comparison.case)[name](comparison, chosen(comparison))
        FigureCanvasAgg(figure).draw()
    return figure


def _settings_now():
    """All but the backend: to ask for it would import pyplot."""
    return {key: matplotlib.rcParams[key] for key in matplotlib.rcParams if key != "backend"}


def _texts(figure):
    """Every text seen, with its box in pixels, without the line that leads from it."""
    texts = [*figure.texts, *figure.artists]
    for of in figure.legends:
        texts += of.get_texts()
    for ax in figure.axes:
        texts += [*ax.texts, ax.xaxis.label, ax.yaxis.label]
        for axis in (ax.xaxis, ax.yaxis):
            texts += [
                tick.label1
                for tick in axis.get_major_ticks()
                if tick.label1.get_visible()
                and axis.get_view_interval().min()
                <= tick.get_loc()
                <= axis.get_view_interval().max()
            ]
    return [(t.get_text(), Text.get_window_extent(t)) for t in texts if t.get_text()]


@pytest.mark.parametrize("name", FIGURES)
@pytest.mark.parametrize("units", ["comparison", "us"])
@pytest.mark.parametrize("sections", [_single, lambda comparison: comparison, _many])
def test_no_text_lies_on_another_or_leaves_the_page(name, units, sections, request):
    _check_texts(_drawn(name, sections(request.getfixturevalue(units))))


@pytest.mark.parametrize("case", ["corner", "oblique", "own"])
@pytest.mark.parametrize("sections", [lambda comparison: comparison, _four])
def test_nor_does_it_in_cases_with_more_to_show(case, sections, request):
    comparison = sections(request.getfixturevalue(case))
    for name in figures_of(comparison.case):
        _check_texts(_drawn(name, comparison))


def _check_texts(figure):
    texts = _texts(figure)
    for (a, box), (b, other) in combinations(texts, 2):
        overlap = (
            min(box.x1, other.x1) - max(box.x0, other.x0),
            min(box.y1, other.y1) - max(box.y0, other.y0),
        )
        assert min(overlap) <= 1.0, (a, b)
    for text, box in texts:
        assert figure.bbox.x0 <= box.x0 <= box.x1 <= figure.bbox.x1, text
        assert box.y1 <= figure.bbox.y1, text  # legend and caption hang below


@pytest.mark.parametrize("case", ["comparison", "corner", "oblique"])
def test_every_axis_has_a_unit(case, request):
    comparison = request.getfixturevalue(case)
    for name in figures_of(comparison.case):
        labels = [
            label
            for ax in _drawn(name, comparison).axes
            for label in (ax.get_xlabel(), ax.get_ylabel())
            if label
        ]
        assert labels
        assert all("[" in label for label in labels)


def test_each_column_has_the_head_of_its_section(comparison):
    """Name, size, and the figures in the note are those of the section drawn below them."""
    of = {
        "pressure.png": lambda r: (words.pair(r.half_width, SI.length),),
        "load_line.png": lambda r: (),
        "sections.png": lambda r: (f"K = {words.pair(r.stress_concentration)}",),
    }
    assert set(of) == set(FIGURES)
    for name, figures in of.items():
        found = heads(_drawn(name, comparison))
        assert [title for title, _ in found] == [r.section.name for r in comparison.sections]
        for (_, note), result in zip(found, comparison.sections, strict=True):
            for part in (words.size(result.section, SI), *figures(result)):
                assert part in note


def test_the_legend_has_each_kind_of_line_once_as_it_is_drawn(comparison, corner, oblique):
    for of in (comparison, corner, oblique):
        for name in {"pressure.png", "load_line.png", *figures_of(of.case)} - {"sections.png"}:
            assert len(check_legend(_drawn(name, of))) > 2


def test_pressure_is_drawn_as_computed_and_as_by_hertz(comparison):
    figure = _drawn("pressure.png", comparison)
    for result, ax in zip(comparison.sections, figure.axes[:2], strict=True):
        nodes, curve, hertz, _ = ax.lines
        np.testing.assert_array_equal(nodes.get_xdata(), result.reading.state.patch.x)
        np.testing.assert_array_equal(nodes.get_ydata(), result.reading.state.patch.pressure)
        assert max(curve.get_ydata()) == pytest.approx(result.peak_pressure.value, rel=1e-3)
        assert max(hertz.get_ydata()) == pytest.approx(result.hand_value("hertz_peak_pressure"))
        assert any(
            words.pair(result.peak_pressure, SI.stress) in text.get_text() for text in ax.texts
        )


def test_the_difference_to_hertz_is_small_in_the_middle(comparison):
    figure = _drawn("pressure.png", comparison)
    for ax in figure.axes[2:]:
        x, rest = ax.lines[1].get_data()
        assert abs(rest[np.argmin(np.abs(x))]) < 1.0


def test_hertz_is_drawn_about_the_middle_of_the_patch(oblique):
    (result,) = oblique.sections
    assert off_centre(result.patch)
    upper = _drawn("pressure.png", oblique).axes[0]
    x, pressure = next(line for line in upper.lines if "Hertz" in line.get_label()).get_data()
    # The points drawn lie 1/200 of the axis, or 0.007 half-widths, apart.
    step = 0.007 * result.half_width.value
    assert x[np.argmax(pressure)] == pytest.approx(result.patch.centre.value, abs=step)
    assert sum(upper.get_xlim()) / 2 == pytest.approx(result.patch.centre.value)


@pytest.mark.parametrize("case", ["oblique", "corner"])
def test_traction_and_its_bound_are_drawn_with_their_signs(case, request):
    comparison = request.getfixturevalue(case)
    (result,) = comparison.sections
    friction = comparison.case.contact.friction
    panels = _drawn("pressure.png", comparison).axes[::2]
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
    figure = _drawn("pressure.png", comparison)
    assert not any("traction" in line.get_label() for ax in figure.axes for line in ax.lines)
    assert not any(isinstance(p, Rectangle) for ax in figure.axes for p in ax.patches)


def test_parts_that_stick_and_slip_are_named_and_look_unalike(oblique):
    a = oblique.sections[0].half_width.value
    zones = (Along("slip", -a, -0.99 * a), Along("stick", -0.99 * a, 0.1 * a))
    partly = _with_zones(oblique, *zones, Along("slip", 0.1 * a, a))
    upper = _drawn("pressure.png", partly).axes[0]
    bands = [p for p in upper.patches if isinstance(p, Rectangle)]
    spans = [(p.get_x(), p.get_x() + p.get_width()) for p in bands]
    np.testing.assert_allclose(spans, [(-a, -0.99 * a), (-0.99 * a, 0.1 * a), (0.1 * a, a)])
    assert [bool(p.get_hatch()) for p in bands] == [True, False, True]
    labels = [band.get_label() for band in bands]
    assert labels == ["slips", "sticks", "slips"]


def test_a_corner_has_a_pair_of_panels_for_each_patch(corner):
    (result,) = corner.sections
    figure = _drawn("pressure.png", corner)
    assert len(figure.axes) == 4
    for number, state in enumerate(result.reading.state.patches):
        upper, lower = figure.axes[2 * number : 2 * number + 2]
        np.testing.assert_array_equal(upper.lines[0].get_ydata(), state.pressure)
        np.testing.assert_array_equal(lower.lines[1].get_xdata(), state.x)
        peak = words.pair(result.patches[number].peak_pressure, SI.stress)
        assert any(peak in text.get_text() for text in upper.texts)
    assert "second plate" in figure.axes[3].get_xlabel()


def test_stress_between_nodes_is_that_of_quadratic_elements(comparison):
    field = comparison.sections[0].reading.member_field

    def quadratic(x, y):
        return np.array([x**2, x * y, 3.0 - y**2, 1.0 + x - y]).T

    rng = np.random.default_rng(1)
    radius, angle = 50.0 * np.sqrt(rng.random(200)), 2 * np.pi * rng.random(200)
    points = np.array([radius * np.cos(angle), 60.0 + radius * np.sin(angle)])
    made = replace(field, stress=quadratic(*field.mesh.doflocs))
    stress, inside = stress_at(made, points)
    assert inside.all()
    # Elements inside are straight and hold a quadratic as it is; its values go to 10⁴.
    np.testing.assert_allclose(stress, quadratic(*points), atol=1e-8)


def test_beyond_a_body_there_is_no_stress(comparison):
    tube = comparison.sections[1].reading.member_field
    in_bore = np.array([[0.0, 0.0], [21.0, 60.0]])
    assert not stress_at(tube, in_bore)[1].any()
    assert not stress_at(tube, np.array([[500.0], [0.0]]))[1].any()
    in_wall = np.array([[0.0, 0.0], [0.0, 19.9]])
    assert stress_at(tube, in_wall)[1].all()


def test_the_load_line_shows_the_field_at_its_nodes(comparison):
    figure = _drawn("load_line.png", comparison)
    for result, near in zip(comparison.sections, figure.axes[:2], strict=True):
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
        most = 2e-3 * result.peak_pressure.value
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
    most = 0.01 * result.peak_pressure.value
    assert filled.along[0] == pytest.approx(line.along[-1], abs=most)
    lower = _drawn("load_line.png", corner).axes[1]
    dotted = [line for line in lower.lines if "infill" in line.get_label()]
    assert [line.get_linestyle() for line in dotted] == [":"] * 3
    np.testing.assert_array_equal(dotted[2].get_ydata(), filled.von_mises)
    assert lower.get_xlim()[1] == pytest.approx(radius)


def test_without_infill_the_load_line_ends_with_the_steel(comparison, oblique, own):
    assert infill_profile(comparison.sections[1]) is None
    figure = _drawn("load_line.png", comparison)
    ends = [ax.get_xlabel() for ax in figure.axes[2:]]
    assert ends == ["depth to the centre [mm]", "depth to the bore [mm]"]
    assert "core" in _drawn("load_line.png", oblique).axes[1].get_xlabel()
    lower = _drawn("load_line.png", own).axes[1]
    assert "hole" in lower.get_xlabel()
    # The ribbed tube of meshes/make.py has a wall of 20 mm; points lie 1.5 % of it apart.
    assert lower.get_xlim()[1] == pytest.approx(20.0, rel=0.015)


def test_exact_values_stand_at_the_end_of_the_load_line(comparison):
    figure = _drawn("load_line.png", comparison)
    solid, tube = figure.axes[2:]
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


def test_peaks_are_marked_with_value_and_place(comparison):
    figure = _drawn("sections.png", comparison)
    for k, result in enumerate(comparison.sections):
        whole, contact = figure.axes[k], figure.axes[2 + k]
        assert any(f"{result.member.peak.value:.0f} MPa" == t.get_text() for t in whole.texts)
        post, plate = (t.get_text() for t in contact.texts)
        assert words.peak(result.member, SI) in post
        assert words.peak(result.plate, SI) in plate
        assert f"{result.member.peak.at.depth / result.half_width.value:.2f} a deep" in post


def test_all_sections_share_one_stress_scale(comparison):
    figure = _drawn("sections.png", comparison)
    shaded = [c for ax in figure.axes for c in ax.collections if c.get_array() is not None]
    limits = {c.get_clim() for c in shaded if c.get_cmap().name == STRESS}
    most = max(max(r.member.peak.value, r.plate.peak.value) for r in comparison.sections)
    assert limits == {(0.0, most)}
    bar = figure.axes[-1]
    (colours,) = (c for c in bar.collections if isinstance(c, QuadMesh))
    steps = np.linspace(0.0, most, 9)
    assert colours.get_cmap().name == STRESS
    np.testing.assert_allclose(colours.norm(steps), shaded[0].norm(steps))


def test_isolines_are_those_of_the_bar_and_dashes_those_of_each_body(comparison):
    case = replace(comparison.case, yield_margin=2.0)
    result = comparison.sections[1]
    figure = _drawn("sections.png", replace(comparison, case=case, sections=(result,)))
    contact, bar = figure.axes[1:]
    found = [list(c.levels) for c in contact.collections if isinstance(c, TriContourSet)]
    lines = [list(bar.get_xticks())] * 2
    allowed = [body.material.yield_strength / 2.0 for _, body in result.bodies]
    assert allowed == [210.0, 345.0]
    assert found == [lines[0], [allowed[0]], lines[1], [allowed[1]]]
    marks = [ln.get_xdata()[0] for ln in bar.lines if ln.get_marker() == "v"]
    assert marks == allowed


def test_peaks_at_a_contact_are_marked_from_the_middle_of_its_patch(corner):
    (result,) = corner.sections
    _, first, second, _ = _drawn("sections.png", corner).axes
    for number, (ax, spot) in enumerate(zip((first, second), spots(result), strict=True)):
        zones = {SECOND_CONTACT, SECOND_EDGE} if number else {"contact zone", "edge of contact"}
        post = next(p for p in result.member.places if p.at.zone in zones)
        plate = result.patches[number].plate
        marks = [
            (float(line.get_xdata()[0]), float(line.get_ydata()[0]))
            for line in ax.lines
            if line.get_marker() == "o"
        ]
        # The second plate stands at x = R: along it is +y, and into the post −x.
        radius = result.section.radius
        x, y = post.at.x, post.at.y
        local = (y - radius, radius - x) if number else (x, y)
        expected = [
            ((local[0] - spot.centre) / spot.half_width, local[1] / spot.half_width),
            ((plate.peak.at.x - spot.centre) / spot.half_width, plate.peak.at.y / spot.half_width),
        ]
        np.testing.assert_allclose(marks, expected)
        texts = [t.get_text() for t in ax.texts]
        assert f"{expected[0][0]:+.2f} a".replace("-", "−") in texts[0]
        assert words.peak(plate, SI) in texts[1]


def test_a_place_needs_a_sign_only_where_both_sides_differ(comparison, oblique, corner, own):
    plain = comparison.case
    assert plain.symmetric(comparison.sections[0].section)
    one_sided = [plain.at(replace(plain.contact, offset=1.0))]
    one_sided.append(plain.at(replace(plain.contact, angle=0.1, friction=0.1)))
    for case in (*one_sided, oblique.case, corner.case):
        assert not case.symmetric(comparison.sections[0].section)
    # Without friction the direction of motion matters to nobody, and straight on friction neither.
    for contact in ({"angle": 0.1}, {"friction": 0.1}):
        case = plain.at(replace(plain.contact, **contact))
        assert case.symmetric(comparison.sections[0].section)
    assert not own.case.symmetric(own.sections[0].section)
    for comparison_, signed in ((comparison, False), (oblique, True)):
        _, *others = _drawn("sections.png", comparison_).axes
        contact = others[len(comparison_.sections) - 1]
        texts = [t.get_text() for t in contact.texts]
        assert [bool(re.search(r"deep, at [+−]\d", text)) for text in texts] == [signed] * 2


def _faces(ax):
    """The ends of the level lines at y = 0 in a panel of the whole."""
    level = [line for line in ax.lines if len(line.get_xdata()) > 2 and not any(line.get_ydata())]
    return [(min(line.get_xdata()), max(line.get_xdata())) for line in level]


def test_a_plate_is_drawn_where_it_is(comparison):
    case = comparison.case
    # 100 mm to each side of its middle, which lies at x = −20.
    narrow = replace(
        case, plate=replace(case.plate, width=200.0), contact=replace(case.contact, offset=20.0)
    )
    whole = _drawn("sections.png", replace(comparison, case=narrow)).axes[0]
    assert _faces(whole) == [pytest.approx((-120.0, 80.0))]
    assert whole.get_xlim()[0] < -120.0
    # One of 300 mm goes beyond the view at both sides.
    ((left, right),) = _faces(_drawn("sections.png", comparison).axes[0])
    assert -96.0 < left < -94.0
    assert 94.0 < right < 96.0


def test_cut_edges_of_a_plate_wave():
    whole = drawn((-100.0, 50.0), (-120.0, 120.0), 40.0, 60.0, 1.0)
    assert (whole.left, whole.right, whole.depth, whole.cut) == (-100.0, 50.0, 40.0, frozenset())
    assert np.ptp(whole.edges["right"][0]) == 0.0
    cut = drawn((-100.0, 150.0), (-120.0, 120.0), 80.0, 60.0, 1.0)
    assert (cut.right, cut.depth, cut.cut) == (120.0, 60.0, {"right", "back"})
    right, back = cut.edges["right"][0], cut.edges["back"][1]
    # A wave of ±1 mm about a line 1.5 mm inside, so that it never leaves the part drawn.
    assert (right.min(), right.max()) == pytest.approx((117.5, 119.5), abs=1e-2)
    assert (back.min(), back.max()) == pytest.approx((-59.5, -57.5), abs=1e-2)
    starts = [line[:, 0] for line in cut.edges.values()]
    ends = [line[:, -1] for line in cut.edges.values()]
    for end, start in zip(ends, [*starts[1:], starts[0]], strict=True):
        np.testing.assert_allclose(end, start, atol=1e-9)


def test_a_corner_shows_both_plates_and_the_infill(corner):
    (result,) = corner.sections
    whole = _drawn("sections.png", corner).axes[0]
    shaded = [c for c in whole.collections if c.get_array() is not None]
    shaded = [c for c in shaded if c.get_cmap().name == STRESS and hasattr(c, "_triangulation")]
    assert len(shaded) == 4
    radius = result.section.radius
    post, infill, first, second = ((c._triangulation.x, c._triangulation.y) for c in shaded)
    assert max(np.hypot(infill[0], infill[1] - radius)) <= result.section.geometry.bore / 2 * (
        1 + 1e-9
    )
    assert max(np.hypot(post[0], post[1] - radius)) <= radius * (1 + 1e-9)
    assert max(first[1]) <= 1e-9
    assert min(second[0]) >= radius * (1 - 1e-9)
    # Each plate is coloured up to its edges as drawn, which a cut makes wavy, and no further.
    for collection, axis, face in ((shaded[2], 1, 0.0), (shaded[3], 0, radius)):
        area = collection.get_clip_path().get_fully_transformed_path().vertices
        places = whole.transData.inverted().transform(area)[:, axis]
        nearest = min(places) if axis == 0 else max(places)
        assert nearest == pytest.approx(face, abs=1e-6)
    upright = [
        line for line in whole.lines
        if len(line.get_xdata()) > 2 and np.allclose(line.get_xdata(), radius)
    ]  # fmt: skip
    assert len(upright) == 1
    assert min(upright[0].get_ydata()) > 0.0  # short of the first plate
    assert max(_faces(whole)[0]) < radius


def test_the_outline_of_an_own_mesh_is_that_of_its_mesh(own):
    (result,) = own.sections
    whole = _drawn("sections.png", own).axes[0]
    (edges,) = [
        c for c in whole.collections if type(c) is LineCollection and len(c.get_segments()) > 20
    ]
    points = np.concatenate(edges.get_segments())
    r = np.hypot(points[:, 0], points[:, 1] - result.section.radius)
    # Its rim of 80 mm and its bolt hole of 10 mm, as meshes/make.py draws them.
    assert (r.min(), r.max()) == pytest.approx((10.0, 80.0), rel=1e-6)
    assert len(edges.get_segments()) == len(result.reading.member_field.mesh.boundary_facets())


@pytest.mark.parametrize("case", ["corner", "oblique"])
def test_captions_name_what_is_not_plain(case, request):
    comparison = request.getfixturevalue(case)
    for name in FIGURES:
        (text,) = _drawn(name, comparison).artists
        caption = " ".join(text.get_text().split())
        assert minus(words.contact(comparison.case)) in caption
        assert words.corner(comparison.case) in caption
        if name == "sections.png":
            assert words.post_held(comparison.case) in caption
            assert words.plate_held(comparison.case) in caption


def test_convergence_is_drawn_where_an_accuracy_is_asked_for(comparison, oblique, tmp_path):
    assert list(figures_of(comparison.case)) == list(FIGURES)
    assert list(figures_of(oblique.case)) == [*FIGURES, "convergence.png"]
    written = [p.name for p in save_figures(oblique, tmp_path)]
    assert written == [p for p in figures_of(oblique.case) if (tmp_path / p).is_file()]
    with pytest.raises(ValueError, match="no accuracy"):
        convergence_figure(comparison, chosen(comparison))


def test_every_level_has_its_peak_and_uncertainty(oblique):
    (result,) = oblique.sections
    (ax,) = _drawn("convergence.png", oblique).axes
    assert ax.get_xscale() == "log"
    band = next(p for p in ax.patches if p.get_label() == "accuracy asked for")
    low, high = band.get_y(), band.get_y() + band.get_height()
    assert (low, high) == pytest.approx((-5.0, 5.0))
    assert len(ax.containers) == 2
    for number, container in enumerate(ax.containers):
        values = history(result, number)
        line, _, (bars,) = container.lines
        np.testing.assert_array_equal(line.get_ydata(), [v.value for v in values])
        # Marks are set apart by a few per cent.
        unknowns = [level.unknowns for level in result.levels]
        np.testing.assert_allclose(line.get_xdata(), unknowns, rtol=0.05)
        peak, uncertainty = result.levels[-1].peaks[number]
        assert values[-1].value == 0.0
        assert values[-1].uncertainty == pytest.approx(100.0 * uncertainty / peak)
        coarse, _ = result.levels[0].peaks[number]
        assert values[0].value == pytest.approx(100.0 * (coarse - peak) / peak)
        assert np.isnan(values[0].uncertainty)
        last = bars.get_segments()[-1]
        assert np.ptp(last[:, 1]) == pytest.approx(2.0 * values[-1].uncertainty)


def test_figures_are_files_of_the_same_bytes_each_time(comparison, tmp_path):
    for run in ("a", "b"):
        (tmp_path / run).mkdir()
        assert [p.name for p in save_figures(comparison, tmp_path / run)] == list(FIGURES)
    for name in FIGURES:
        first, second = (tmp_path / run / name for run in ("a", "b"))
        assert first.read_bytes() == second.read_bytes()
        with Image.open(first) as image:
            assert 800 < image.width < 2000
            assert 500 < image.height < 1600
            assert set(image.info) <= {"dpi"}


def test_a_saved_figure_holds_its_legend_and_the_last_line_of_its_caption(tmp_path):
    with settings():
        figure, ((ax,),) = panels(1, 3.0, (1.0,))
        ax.plot([0.0, 1.0], [0.0, 1.0], label="a line")
        legend(figure, [ax], 1)
        caption(figure, "of some words " * 20 + "and the last.")
        save_png(figure, tmp_path / "a.png")
    (text,), box = figure.artists, figure.artists[0].get_window_extent()
    lines = text.get_text().split("\n")
    assert lines[-1].endswith("and the last.")
    with Image.open(tmp_path / "a.png") as image:
        dark = np.asarray(image.convert("L")).min(axis=1) < 128
    edge = 0.08 * figure.dpi
    assert len(dark) == pytest.approx(figure.bbox.y1 - box.y0 + 2 * edge, abs=2)
    rows = np.flatnonzero(dark)
    assert 0.5 * edge < len(dark) - 1 - rows[-1] < 3 * edge
    # The caption and the line of the legend stand apart below the panel, line by line.
    below = np.flatnonzero(np.diff(dark[-round(figure.bbox.y0 - box.y0 + edge) :].astype(int)) == 1)
    assert len(below) == len(lines) + 1


def test_the_user_s_settings_neither_matter_nor_change(comparison, tmp_path):
    save_figures(comparison, tmp_path)
    plain = (tmp_path / "pressure.png").read_bytes()
    with matplotlib.rc_context({"font.size": 30, "axes.grid": True, "lines.linewidth": 9}):
        before = _settings_now()
        save_figures(comparison, tmp_path)
        assert _settings_now() == before
    assert (tmp_path / "pressure.png").read_bytes() == plain


def test_figures_can_be_drawn_in_threads_and_need_no_pyplot(comparison, tmp_path):
    before, pyplot = _settings_now(), "matplotlib.pyplot" in sys.modules
    faults = []

    def draw(folder):
        try:
            save_figures(comparison, folder)
        except Exception as error:
            faults.append(error)

    threads = []
    for k in range(3):
        (tmp_path / str(k)).mkdir()
        threads.append(threading.Thread(target=draw, args=(tmp_path / str(k),)))
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not faults
    assert _settings_now() == before
    assert ("matplotlib.pyplot" in sys.modules) == pyplot
    assert len({(tmp_path / str(k) / "load_line.png").read_bytes() for k in range(3)}) == 1


def test_names_in_scripts_that_the_font_lacks_are_drawn_without_a_warning(single, tmp_path):
    result = single.sections[0]
    other = replace(result, section=replace(result.section, name="鋼管 120 " + "x" * 90))
    save_figures(replace(single, sections=(other,)), tmp_path)


def test_four_sections_at_most_are_chosen(comparison, many):
    assert chosen(comparison) == comparison.sections
    assert shown_of(comparison, chosen(comparison)) == ""
    names = [r.section.name.split("no. ")[1] for r in chosen(many)]
    # The first solid is number 2; the best by K are 5, 4 and 3.
    assert names == ["2", "3", "4", "5"]
    assert "4 of 6 sections" in shown_of(many, chosen(many))


def _lightness(colour):
    linear = np.where(
        np.asarray(colour) <= 0.04045,
        np.asarray(colour) / 12.92,
        ((np.asarray(colour) + 0.055) / 1.055) ** 2.4,
    )
    luminance = linear @ [0.2126, 0.7152, 0.0722]
    return 116 * np.cbrt(luminance) - 16


def test_stress_colours_darken_evenly():
    lightness = _lightness(colormaps[STRESS].colors)
    steps = -np.diff(lightness)
    assert lightness[0] > 90
    assert lightness[-1] < 25
    assert steps.min() > 0.5 * steps.mean()
    assert steps.max() < 1.6 * steps.mean()


def test_curves_differ_in_lightness():
    across, along, mises = sorted(_lightness(to_rgb(c)) for c in (ACROSS, ALONG, INK))
    assert min(along - across, mises - along) > 15


def test_a_head_is_cut_to_its_panel_and_a_caption_breaks_its_longest_words():
    figure, ((ax,),) = panels(1, 2.0, (1.0,))
    for name in ("W" * 80, "iiii " * 60, "stop on grid line A, level 2, tube 120 x 25"):
        head(ax, name, "of any lines")
        kept, note = ax.texts[-2:]
        begin, end = kept.get_text().split("…")
        assert min(len(begin), len(end)) >= 6
        assert name.startswith(begin)
        assert name.rstrip().endswith(end)
        FigureCanvasAgg(figure).draw()
        assert 0.8 * ax.bbox.width < kept.get_window_extent().width < 1.1 * ax.bbox.width
        assert kept.get_window_extent().y0 > note.get_window_extent().y0
    head(ax, "short")
    assert ax.texts[-2].get_text() == "short"
    caption(figure, "x" * 500 + " $5")
    FigureCanvasAgg(figure).draw()
    (text,) = figure.artists
    assert "".join(text.get_text().split()) == "x" * 500 + "$5"
