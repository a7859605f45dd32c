"""The figures of strikes beyond first yield: their curves are those that were solved."""

from dataclasses import replace

import numpy as np
import pytest
from figures import check_legend, check_texts, heads, line_of
from overloads import SOLID, TUBE, changed, no_strike, solved, spanned, unsolved
from restated import restated

from contactfe.report.figures.draw import figures, write_figures
from contactfe.report.figures.ink import lay_out, settings
from contactfe.report.figures.overload import overload_figure, section_figure


def drawn(draw, *of):
    with settings():
        figure = draw(*of)
        lay_out(figure)
        figure.draw_without_rendering()
    return figure


@pytest.mark.parametrize("name", [SOLID, TUBE])
def test_the_loop_and_the_dents_of_a_section_are_those_solved(name):
    of = spanned()
    section = of.section(name)
    figure = drawn(section_figure, of, section)
    check_texts(figure)
    check_legend(figure)
    assert [title for title, _ in heads(figure)] == [name]
    _, dents, loop, _ = figure.axes  # and the bar of colours
    up = line_of(loop, "loading")
    assert up.get_xdata() == pytest.approx(section.loading.approach)
    assert up.get_ydata() == pytest.approx(section.loading.line_load)
    (strike,) = section.strikes
    down = line_of(loop, "1.5 × first yield")
    assert down.get_ydata() == pytest.approx(strike.unloading[0])
    assert down.get_xdata()[-1] == pytest.approx(strike.values["approach_left"].value)
    deepest = [1e-3 * line.get_ydata().max() for line in dents.get_lines() if len(line.get_xdata())]
    assert deepest == pytest.approx(
        [strike.values[f"{body}_dent_depth"].value for body in ("post", "plate")]
    )
    low, high = dents.get_ylim()
    assert low > high  # downwards
    marks = {line.get_label() for line in loop.get_lines()}
    assert ("reserve ends" in marks) == (name == TUBE)


@pytest.mark.parametrize("name", [SOLID, TUBE])
def test_the_plastic_zone_is_filled_where_its_points_are_and_nowhere_else(name):
    of = solved()
    section = of.section(name)
    zone, *_ = drawn(section_figure, of, section).axes
    filled = 0.0
    for contours in zone.collections:
        for path in contours.get_paths():
            for part in path.to_polygons():
                x, y = np.asarray(part).T
                filled += 0.5 * (np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1]))
    # Points at the rim stand for area beyond it as well.
    area = sum(sum(zone.area) for zone in section.zones)
    assert 0.6 * area < abs(filled) < 1.05 * area


def test_the_dents_of_all_sections_over_the_load():
    of = spanned()
    figure = drawn(overload_figure, of)
    check_texts(figure)
    check_legend(figure)
    (ax,) = figure.axes
    for section in of.sections:
        line = line_of(ax, section.section)
        assert line.get_ydata()[-1] == pytest.approx(1e3 * section.strikes[0].dent.value, rel=1e-6)
        assert line.get_xdata()[-1] == pytest.approx(section.solved_to)


def test_a_dent_too_small_to_be_seen_stands_on_the_axis_in_any_unit():
    of = solved()
    loading = of.section(TUBE).loading
    none = tuple(tuple(1e-6 * depth for depth in dents) for dents in loading.dents)
    least = changed(loading=replace(loading, dents=none))
    for result in (least, replace(least, case=restated(of.case, report_units="US customary"))):
        (ax,) = drawn(overload_figure, result).axes
        line = line_of(ax, TUBE)
        assert list(line.get_ydata()) == [pytest.approx(ax.get_ylim()[0])]


@pytest.mark.parametrize("of", [unsolved, no_strike])
def test_what_was_not_solved_is_said_and_not_drawn(tmp_path, of):
    of = of()
    written = [path.name for path in write_figures(of, tmp_path)]
    assert written == ["overload.png", "overload-solid-120.png", "overload-tube-120-x-20.png"]
    everything = drawn(overload_figure, of)
    assert TUBE not in {line.get_label() for line in everything.axes[0].get_lines()}
    panels = drawn(section_figure, of, of.section(TUBE)).axes
    assert all("not solved" in {text.get_text() for text in ax.texts} for ax in panels)


def test_every_figure_is_told_in_words():
    alts = [figure.alt for figure in figures(spanned())]
    assert len(alts) == 3
    assert all(name in alts[0] for name in (SOLID, TUBE))
    assert TUBE in alts[2]
