import sys
import threading
from dataclasses import replace
from itertools import combinations

import matplotlib
import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from PIL import Image

from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.figures import FIGURES, save_figures
from contactfe.report.figures.choice import chosen, shown_of
from contactfe.report.figures.ink import ACROSS, ALONG, INK, settings, stress_colours
from contactfe.report.figures.load_line import profile
from contactfe.report.figures.sheet import round_steps, shortened, wrapped


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


def _drawn(name, comparison):
    with settings():
        figure = FIGURES[name](comparison, chosen(comparison))
        FigureCanvasAgg(figure).draw()
    return figure


def _settings_now():
    """All but the backend: to ask for it would import pyplot."""
    return {key: matplotlib.rcParams[key] for key in matplotlib.rcParams if key != "backend"}


def _texts(figure):
    """Every text seen, with its box in pixels."""
    texts = list(figure.texts)
    for legend in figure.legends:
        texts += legend.get_texts()
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
    return [(t.get_text(), t.get_window_extent()) for t in texts if t.get_text()]


@pytest.mark.parametrize("name", FIGURES)
@pytest.mark.parametrize("units", ["comparison", "us"])
@pytest.mark.parametrize("sections", [_single, lambda comparison: comparison, _many])
def test_no_text_lies_on_another_or_leaves_the_page(name, units, sections, request):
    figure = _drawn(name, sections(request.getfixturevalue(units)))
    texts = _texts(figure)
    for (a, box), (b, other) in combinations(texts, 2):
        overlap = (
            min(box.x1, other.x1) - max(box.x0, other.x0),
            min(box.y1, other.y1) - max(box.y0, other.y0),
        )
        assert min(overlap) <= 1.0, (a, b)
    for text, box in texts:
        assert figure.bbox.x0 <= box.x0 <= box.x1 <= figure.bbox.x1, text
        assert figure.bbox.y0 <= box.y0 <= box.y1 <= figure.bbox.y1, text


@pytest.mark.parametrize("name", FIGURES)
def test_every_axis_has_a_unit(name, comparison):
    labels = [
        label
        for ax in _drawn(name, comparison).axes
        for label in (ax.get_xlabel(), ax.get_ylabel())
        if label
    ]
    assert labels
    assert all("[" in label for label in labels)


def test_pressure_is_drawn_as_computed_and_as_by_hertz(comparison):
    figure = _drawn("pressure.png", comparison)
    for result, ax in zip(comparison.sections, figure.axes[::2], strict=True):
        nodes, curve, hertz, _ = ax.lines
        np.testing.assert_array_equal(nodes.get_xdata(), result.reading.state.x)
        np.testing.assert_array_equal(nodes.get_ydata(), result.reading.state.pressure)
        assert max(curve.get_ydata()) == pytest.approx(result.peak_pressure.value, rel=1e-3)
        assert max(hertz.get_ydata()) == pytest.approx(result.hand_value("hertz_peak_pressure"))
        assert any(
            words.pair(result.peak_pressure, SI.stress) in text.get_text() for text in ax.texts
        )


def test_the_difference_to_hertz_is_small_in_the_middle(comparison):
    figure = _drawn("pressure.png", comparison)
    for ax in figure.axes[1::2]:
        x, rest = ax.lines[1].get_data()
        assert abs(rest[np.argmin(np.abs(x))]) < 1.0


def test_the_load_line_shows_the_field_at_its_nodes(comparison):
    figure = _drawn("load_line.png", comparison)
    for result, near in zip(comparison.sections, figure.axes[::2], strict=True):
        field = result.reading.member_field
        across, along, mises = near.lines[:3]
        depth = np.asarray(across.get_xdata()) * result.half_width.value
        end = result.section.wall or result.section.radius
        assert depth[0] == 0.0
        assert depth[-1] == pytest.approx(end)
        for d, sx, sy, vm in zip(
            depth, across.get_ydata(), along.get_ydata(), mises.get_ydata(), strict=True
        ):
            (node,) = np.flatnonzero(
                (field.mesh.doflocs[0] == 0.0) & np.isclose(field.mesh.doflocs[1], d, atol=1e-9)
            )
            assert (sx, sy, vm) == (*field.stress[node, :2], field.von_mises[node])


def test_exact_values_stand_at_the_end_of_the_load_line(comparison):
    figure = _drawn("load_line.png", comparison)
    solid, tube = figure.axes[1::2]
    marks = [[line for line in ax.lines if line.get_marker() == "s"] for ax in (solid, tube)]
    assert [len(m) for m in marks] == [2, 1]
    line, result = profile(comparison.sections[1]), comparison.sections[1]
    assert marks[1][0].get_data() == ([line.depth[-1]], [result.hand_value("ring_bore_under_load")])


def test_peaks_are_marked_with_value_and_place(comparison):
    figure = _drawn("sections.png", comparison)
    for k, result in enumerate(comparison.sections):
        whole, contact = figure.axes[2 * k : 2 * k + 2]
        assert any(f"{result.member.peak.von_mises:.0f} MPa" == t.get_text() for t in whole.texts)
        post, plate = (t.get_text() for t in contact.texts)
        assert words.peak(result.member, SI) in post
        assert words.peak(result.plate, SI) in plate
        assert f"{result.member.peak.depth / result.half_width.value:.2f} a deep" in post


def test_all_sections_share_one_stress_scale(comparison):
    figure = _drawn("sections.png", comparison)
    shaded = [c for ax in figure.axes for c in ax.collections if c.get_array() is not None]
    limits = {c.get_clim() for c in shaded if c.get_cmap().name == "stress"}
    most = max(max(r.member.peak.von_mises, r.plate.peak.von_mises) for r in comparison.sections)
    assert limits == {(0.0, most)}


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
    lightness = _lightness(stress_colours().colors)
    steps = -np.diff(lightness)
    assert lightness[0] > 93
    assert lightness[-1] < 25
    assert steps.min() > 0.5 * steps.mean()
    assert steps.max() < 1.6 * steps.mean()


def test_curves_differ_in_lightness():
    across, along, mises = sorted(_lightness(to_rgb(c)) for c in (ACROSS, ALONG, INK))
    assert min(along - across, mises - along) > 15


def test_steps_are_round():
    assert [round_steps(v, 5) for v in (487.0, 100.0, 0.9)] == [100.0, 20.0, 0.2]


def test_text_fits_its_width():
    assert shortened("short", 2.0, 8.0) == "short"
    assert len(shortened("x" * 100, 2.0, 8.0)) == len(wrapped("x" * 100, 2.0)[0]) == 31
