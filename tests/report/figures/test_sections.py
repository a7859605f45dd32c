"""The stressed sections as they are drawn."""

import warnings
from dataclasses import replace

import numpy as np
import pytest
from figures import figure_of
from matplotlib.collections import LineCollection, QuadMesh
from matplotlib.tri import TriContourSet
from restated import restated
from saying import said

from contactfe.assess.places import SECOND_CONTACT, SECOND_EDGE
from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.ink import STRESS, save_figure, save_png, settings
from contactfe.report.figures.panels import caption_of
from contactfe.report.figures.plates import drawn
from contactfe.report.figures.sections import scale_of, sections_alt, sections_figure
from contactfe.report.figures.spots import spots


def test_peaks_are_marked_with_value_and_place(comparison):
    figure = figure_of("sections.png", comparison)
    for k, result in enumerate(chosen(comparison)):
        whole, contact = figure.axes[k], figure.axes[2 + k]
        assert any(
            f"{result.member.peak_von_mises.value:.0f} MPa" == t.get_text() for t in whole.texts
        )
        post, plate = (t.get_text() for t in contact.texts)
        assert words.peak(result.member, SI) in post
        assert words.peak(result.plate, SI) in plate


def test_all_sections_share_one_stress_scale(comparison):
    figure = figure_of("sections.png", comparison)
    shaded = [c for ax in figure.axes for c in ax.collections if c.get_array() is not None]
    limits = {c.get_clim() for c in shaded if c.get_cmap().name == STRESS}
    most = max(
        max(r.member.peak_von_mises.value, r.plate.peak_von_mises.value)
        for r in comparison.sections
    )
    assert limits == {(0.0, most)}
    bar = figure.axes[-1]
    (colours,) = (c for c in bar.collections if isinstance(c, QuadMesh))
    steps = np.linspace(0.0, most, 9)
    assert colours.get_cmap().name == STRESS
    np.testing.assert_allclose(colours.norm(steps), shaded[0].norm(steps))


def _shading(figure):
    """What is coloured by stress in the panels, and the bar."""
    *panels, bar = figure.axes
    return [c for ax in panels for c in ax.collections if hasattr(c, "_triangulation")], bar


def test_a_scale_fixed_at_its_own_end_changes_nothing(comparison, tmp_path):
    shown = chosen(comparison)
    own = scale_of(shown)
    assert own == max(body.peak_von_mises.value for r in shown for _, body in r.bodies)
    for name, fixed in (("free", ()), ("fixed", (own,)), ("less", (0.999 * own,))):
        save_figure(tmp_path / name, sections_figure, comparison, shown, *fixed)
    free = (tmp_path / "free").read_bytes()
    assert (tmp_path / "fixed").read_bytes() == free
    assert (tmp_path / "less").read_bytes() != free


@pytest.mark.parametrize("times", [0.02, 0.5, 1.7, 40.0])
def test_on_a_fixed_scale_colours_mean_the_same_and_what_is_beyond_is_said(times, us, tmp_path):
    """From where all that is stressed is beyond it to where no isoline is reached, in ksi."""
    shown = chosen(us)
    most = times * scale_of(shown)
    with settings(), warnings.catch_warnings():
        warnings.simplefilter("error")
        figure = sections_figure(us, shown, most)
        save_png(figure, tmp_path / "a.png")
    shaded, bar = _shading(figure)
    ksi = 6.894757293168361
    for colours in shaded:
        assert colours.get_clim() == pytest.approx((0.0, most / ksi))
        assert colours.get_cmap().name == STRESS
        top, over = (colours.to_rgba(of * most / ksi) for of in (1.0, 9.0))
        assert top == over
    assert bar.get_xlim() == pytest.approx((0.0, most / ksi))
    levels = [list(c.levels) for ax in figure.axes for c in ax.collections
              if isinstance(c, TriContourSet) and len(c.levels) > 1]  # fmt: skip
    assert bool(levels) is (times < 40.0)  # 40 times as far the first level is beyond every peak
    assert all(of == list(bar.get_xticks()) for of in levels)
    beyond = times < 1.0
    assert (bar._colorbar.extend == "max") is beyond
    end = us.case.display.stress.text(most)
    assert bool(said(caption_of(figure), "colours", end)) is beyond
    assert end in sections_alt(us, shown, most)


def test_isolines_are_those_of_the_bar_and_dashes_those_of_each_body(comparison):
    case = restated(comparison.case, yield_margin=2.0)
    result = comparison.sections[1]
    figure = figure_of("sections.png", replace(comparison, case=case, sections=(result,)))
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
    _, first, second, _ = figure_of("sections.png", corner).axes
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
            (
                (plate.peak_von_mises.at.x - spot.centre) / spot.half_width,
                plate.peak_von_mises.at.y / spot.half_width,
            ),
        ]
        np.testing.assert_allclose(marks, expected)
        texts = [t.get_text() for t in ax.texts]
        assert words.peak(plate, SI) in texts[1]


def test_which_contacts_are_alike_on_both_sides(comparison, oblique, corner, own):
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
    whole = figure_of("sections.png", replace(comparison, case=narrow)).axes[0]
    assert _faces(whole) == [pytest.approx((-120.0, 80.0))]
    assert whole.get_xlim()[0] < -120.0
    # One of 300 mm goes beyond the view at both sides.
    ((left, right),) = _faces(figure_of("sections.png", comparison).axes[0])
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
    whole = figure_of("sections.png", corner).axes[0]
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
    whole = figure_of("sections.png", own).axes[0]
    (edges,) = [
        c for c in whole.collections if type(c) is LineCollection and len(c.get_segments()) > 20
    ]
    points = np.concatenate(edges.get_segments())
    r = np.hypot(points[:, 0], points[:, 1] - result.section.radius)
    # Its rim of 80 mm and its bolt hole of 10 mm, as meshes/make.py draws them.
    assert (r.min(), r.max()) == pytest.approx((10.0, 80.0), rel=1e-6)
    assert len(edges.get_segments()) == len(result.reading.member_field.mesh.boundary_facets())
