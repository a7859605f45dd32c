"""The curve of one diameter with a wall marked, as it is drawn of few walls and of many."""

import io
import warnings
from dataclasses import replace

import numpy as np
import pytest
from figures import check_texts, line_of
from PIL import Image
from restated import restated
from saying import figures, said
from sizings import AT_EDGE, DATA, case, check, pool

from contactfe.assess.sizing.answers import bands, best, concentration
from contactfe.assess.sizing.record import PLACES, Diameter, SizingResult
from contactfe.assess.sizing.run import size
from contactfe.case import case_from_dict
from contactfe.report.figures.drawn import picture
from contactfe.report.figures.ink import lay_out, settings
from contactfe.report.figures.panels import NAMED, caption_of
from contactfe.report.figures.sizing import curve_alt, curve_figure

INCH = 25.4
KSI = 6.894757293168361


def solved(stated, **how) -> SizingResult:
    with pytest.MonkeyPatch.context() as patch:
        pool(patch, **how)
        return size(stated)


def part(of: Diameter, *walls) -> Diameter:
    """What is known of a diameter while only some of its walls are solved."""
    return replace(
        of,
        walls=walls,
        passing=bands(walls),
        least_concentration=best(
            walls, concentration, lambda w: w.stress_concentration.uncertainty
        ),
    )


def drawn(of: Diameter, stated, present):
    with settings(), warnings.catch_warnings():
        warnings.simplefilter("error")
        figure = curve_figure(of, stated, present)
        lay_out(figure)
        figure.draw_without_rendering()
    return figure


@pytest.fixture(scope="module")
def passing():
    return solved(case())


@pytest.fixture(scope="module")
def us():
    return solved(restated(case(units="US customary"), yield_margin=1.2))


def test_every_line_is_what_it_says_in_the_report_s_units(us):
    (found,) = us.diameters
    strip, _, stress = drawn(found, us.case, INCH).axes
    (mark,) = (line for line in stress.lines if line.get_gid() == "present")
    assert list(mark.get_xdata()) == [1.0, 1.0]
    assert "1.000 in" in [text.get_text() for text in strip.texts]
    for name in ("contact zone", "edge of contact", "bore under load", "bore at side", "plate"):
        line = line_of(stress, name)
        values = [
            wall.plate_peak_von_mises if name == "plate" else wall.places[PLACES.index(name)]
            for wall in found.walls
        ]
        np.testing.assert_allclose(line.get_xdata(), [wall.wall / INCH for wall in found.walls])
        np.testing.assert_allclose(
            KSI * line.get_ydata(), [np.nan if v is None else v.value for v in values], rtol=1e-6
        )
        band = stress.collections[list(stress.get_lines()).index(line)]
        tops = [v.value + v.uncertainty for v in values if v is not None]
        assert KSI * band.get_paths()[0].vertices[:, 1].max() == pytest.approx(max(tops), rel=1e-6)
    edge, zone = line_of(stress, "edge of contact"), line_of(stress, "contact zone")
    there = np.isfinite(edge.get_ydata())
    assert there.tolist() == [wall.share < AT_EDGE for wall in found.walls]
    assert edge.is_dashed()
    assert not zone.is_dashed()
    assert edge.get_zorder() >= zone.get_zorder()  # which it lies upon
    assert KSI * line_of(stress, "allowed").get_ydata() == pytest.approx([460.0 / 1.2] * 2)
    for label in (stress.get_xlabel(), stress.get_ylabel()):
        assert "[in]" in label or "[ksi]" in label


def test_it_marks_what_passes_what_governs_and_the_present_wall(passing):
    (found,) = passing.diameters
    for present, name in (
        (30.0, "30.00 mm"),
        (75.0, "solid"),
        (7.5, "7.500 mm"),
        (2.0, "2.000 mm"),
    ):
        figure = drawn(found, passing.case, present)
        strip, bar, stress = figure.axes
        (line,) = (line for line in stress.lines if line.get_gid() == "present")
        assert list(line.get_xdata()) == [present] * 2
        low, high = stress.get_xlim()
        assert low < min(present, found.walls[0].wall)
        assert high > found.walls[-1].wall
        for row in (strip, bar):
            assert row.get_xlim() == (low, high)
        (mark,) = (text for text in strip.texts if text.get_text() == name)
        box, at = mark.get_window_extent(), stress.transData.transform((present, 0.0))[0]
        assert box.x0 - 1.0 <= at <= box.x1 + 1.0
        assert box.y0 > strip.get_window_extent().y1
        assert said(caption_of(figure), "upright", "present")
    assert not [line for line in drawn(found, passing.case, None).axes[2].lines
                if line.get_gid() == "present"]  # fmt: skip
    (band,) = (patch for patch in bar.patches if patch.get_gid() == "passes")
    assert band.get_x() == pytest.approx(found.passing[0].least.wall)
    assert band.get_x() + band.get_width() == pytest.approx(found.passing[0].most.wall)
    last = max(w.wall for w in found.walls if w.governing_place == "bore under load")
    bore, zone = strip.patches
    assert last < bore.get_x() + bore.get_width() == pytest.approx(zone.get_x())
    assert zone.get_gid() == NAMED
    inside = zone.get_window_extent()
    (text,) = (text for text in strip.texts if text.get_text() == "contact zone")
    assert inside.x0 < text.get_window_extent().x0 < text.get_window_extent().x1 < inside.x1


def few(passing):
    """Walls in whatever order they were asked for, uneven, of the first that are solved."""
    (found,) = passing.diameters
    walls = found.walls
    return [
        part(found, walls[-1]),
        part(found, walls[3]),
        part(found, walls[2], walls[-1]),
        part(found, walls[12], walls[13]),
        part(found, walls[0], walls[5], walls[20]),
        part(found, walls[4], walls[5], walls[-2], walls[-1]),
    ]


def kinds(passing, us):
    """Diameters of every kind, with their cases."""
    steps = case_from_dict(
        DATA
        | {"post": {"held_by": "beam shear", "steel": "EN 10025-2 S355"}}
        | {"sizing": {"wall": {"from": 0.05, "to": 0.5, "count": 5}}}
    )
    failed = solved(case(), refused=0.1)
    (refused,) = failed.diameters
    yield from ((of, passing.case) for of in (*passing.diameters, *few(passing)))
    for result in (
        us,
        failed,
        solved(steps, refused=0.15),
        solved(case("380 MPa", "US customary")),
        solved(case("3000 MPa")),
        solved(case(), hand=lambda _: (check(1.94, key="aisc_360.j2_4"),)),
    ):
        yield result.diameters[0], result.case
    yield part(refused, *[wall for wall in refused.walls if wall.error][:2]), failed.case


def test_no_text_lies_on_another_and_it_keeps_its_size(passing, us):
    """However few walls are solved, whether any passes, and wherever the present one is."""
    count = 0
    for of, stated in kinds(passing, us):
        for present in (None, of.walls[0].wall, 20.0, 60.0, 75.0):
            figure = drawn(of, stated, present)
            check_texts(figure)
            assert 25.4 * figure.get_figheight() == pytest.approx(55.0, abs=2.0)
            assert 25.4 * figure.get_figwidth() == pytest.approx(170.0)
            count += 1
    assert count == 5 * (1 + 6 + 6 + 1)


def test_the_words_have_the_figures(passing, us):
    (found,) = passing.diameters
    at = found.walls[10]
    words = curve_alt(found, passing.case, at.wall)
    least = min(found.walls, key=lambda wall: wall.post_peak_von_mises.value)
    (band,) = found.passing
    ends = (band.least.wall, band.most.wall, least.wall)
    assert f"{at.wall:.2f} mm" in words
    assert {round(v, 1) for v in ends} <= {round(v, 1) for v in figures(words)}
    assert round(at.post_peak_von_mises.value) in figures(words)
    edge = max(wall.wall for wall in found.walls if wall.places[4] is not None)
    assert said(words.replace(";", "."), "edge", f"{edge:.1f} mm")
    assert said(words.replace(";", "."), "present", "passes")
    assert not said(curve_alt(found, passing.case, 60.001).replace(";", "."), "present", "passes")
    assert "present" not in curve_alt(found, passing.case, None)
    for of, stated in kinds(passing, us):
        assert curve_alt(of, stated, 75.0)
        assert bool(said(curve_alt(of, stated, None), "no wall passes")) is not bool(of.passing)


def test_what_was_not_solved_and_what_no_wall_changes_is_said():
    failed, stuck = (
        solved(case(), refused=0.1),
        solved(case(), hand=lambda _: (check(1.94, key="aisc_360.j2_4"),)),
    )
    (of,) = failed.diameters
    count = sum(bool(wall.error) for wall in of.walls)
    assert count > 2
    assert said(
        caption_of(drawn(of, failed.case, None)), "not solved", f"{count} of {len(of.walls)}"
    )
    figure = drawn(stuck.diameters[0], stuck.case, None)
    assert said(caption_of(figure), "AISC J2.4 1.940")
    assert "passes†" in [text.get_text() for text in figure.axes[1].texts]


def test_a_page_has_it_as_a_picture(passing):
    (found,) = passing.diameters
    of = found, passing.case, 30.0
    made = picture(curve_figure, *of, dots=182)
    assert made == picture(curve_figure, *of, dots=182)
    assert made.alt == curve_alt(*of)
    with Image.open(io.BytesIO(made.png)) as image:
        assert image.width == pytest.approx(2 * 610, abs=3)
        assert image.height == pytest.approx(57.0 / 25.4 * 182, abs=20)
