"""What holds of every figure: text, units, heads, legends, captions and files."""

import io
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from xml.etree import ElementTree

import matplotlib
import numpy as np
import pytest
from figures import check_legend, check_texts, figure_of, four_of, heads, many_of
from matplotlib.text import Text
from PIL import Image

from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.figures import save_figures
from contactfe.report.figures.choice import chosen, shown_of
from contactfe.report.figures.draw import ALT, FIGURES, figures, figures_of
from contactfe.report.figures.drawn import drawn, picture
from contactfe.report.figures.ink import save_png, settings
from contactfe.report.figures.panels import caption, caption_of, legend, minus, panels


def _settings_now():
    """All but the backend: to ask for it would import pyplot."""
    return {key: matplotlib.rcParams[key] for key in matplotlib.rcParams if key != "backend"}


@pytest.mark.parametrize("name", FIGURES)
@pytest.mark.parametrize("of", ["comparison", "single", "us", "many in us"])
def test_no_text_lies_on_another_or_leaves_the_page(name, of, comparison, single, us):
    all_of = {"comparison": comparison, "single": single, "us": us, "many in us": many_of(us)}
    check_texts(figure_of(name, all_of[of]))


@pytest.mark.parametrize("case", ["corner", "oblique", "own"])
@pytest.mark.parametrize("sections", [lambda comparison: comparison, four_of])
def test_nor_does_it_in_cases_with_more_to_show(case, sections, request):
    comparison = sections(request.getfixturevalue(case))
    for name in figures_of(comparison.case):
        check_texts(figure_of(name, comparison))


@pytest.mark.parametrize("case", ["comparison", "corner", "oblique"])
def test_every_axis_has_a_unit(case, request):
    comparison = request.getfixturevalue(case)
    for name in figures_of(comparison.case):
        labels = [
            label
            for ax in figure_of(name, comparison).axes
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
    for name, shown in of.items():
        found = heads(figure_of(name, comparison))
        assert [title for title, _ in found] == list(comparison.by_concentration)
        for (_, note), result in zip(found, chosen(comparison), strict=True):
            for part in (words.size(result.section, SI), *shown(result)):
                assert part in note


def test_the_legend_has_each_kind_of_line_once_as_it_is_drawn(comparison, corner, oblique):
    for of in (comparison, corner, oblique):
        for name in {"pressure.png", "load_line.png", *figures_of(of.case)} - {"sections.png"}:
            assert len(check_legend(figure_of(name, of))) >= 2


@pytest.mark.parametrize("case", ["corner", "oblique"])
def test_captions_name_what_is_not_plain(case, request):
    comparison = request.getfixturevalue(case)
    for name in FIGURES:
        (text,) = figure_of(name, comparison).artists
        caption = " ".join(text.get_text().split())
        assert minus(words.contact(comparison.case)) in caption
        assert words.corner(comparison.case) in caption
        if name == "sections.png":
            assert words.post_held(comparison.case) in caption
            assert words.plate_held(comparison.case) in caption


@pytest.fixture(scope="module")
def saved(comparison, tmp_path_factory):
    """The files of the comparison."""
    folder = tmp_path_factory.mktemp("saved")
    assert [p.name for p in save_figures(comparison, folder)] == list(FIGURES)
    return {name: folder / name for name in FIGURES}


def test_figures_are_files_of_a_fair_size(saved):
    for path in saved.values():
        with Image.open(path) as image:
            assert 800 < image.width < 2000
            assert 500 < image.height < 1600
            assert set(image.info) <= {"dpi"}


@pytest.mark.parametrize("name", FIGURES)
def test_a_picture_is_the_figure_without_its_caption_which_stands_apart(
    name, comparison, saved, tmp_path
):
    of, draw = (comparison, chosen(comparison)), FIGURES[name]
    found = picture(draw, *of, dots=200)
    assert found.alt == ALT[draw](*of)
    with settings():
        made = draw(*of)
        assert found.caption == caption_of(made)
        made.artists[0].remove()
        save_png(made, tmp_path / "a.png")
    assert found.png == (tmp_path / "a.png").read_bytes()
    with Image.open(io.BytesIO(found.png)) as image, Image.open(saved[name]) as file:
        assert image.width == file.width
        assert image.height < file.height - 30
    with Image.open(io.BytesIO(picture(draw, *of, dots=100).png)) as image:
        assert image.width == pytest.approx(6.693 * 100, abs=1)


def test_a_saved_figure_holds_its_legend_and_the_last_line_of_its_caption(tmp_path):
    with settings():
        figure, ((ax,),) = panels(1, (1.0,))
        ax.plot([0.0, 1.0], [0.0, 1.0], label="a line")
        legend(figure, [ax])
        caption(figure, "of some words " * 20 + "and the last.")
        save_png(figure, tmp_path / "a.png")
    (text,), box = figure.artists, figure.artists[0].get_window_extent()
    lines = text.get_text().split("\n")
    assert lines[-1].endswith("and the last.")
    with Image.open(tmp_path / "a.png") as image:
        dark = np.asarray(image.convert("L")).min(axis=1) < 128
    edge = 0.04 * figure.dpi
    assert len(dark) == pytest.approx(figure.bbox.y1 - box.y0 + edge, abs=2)
    rows = np.flatnonzero(dark)
    assert 0.5 * edge < len(dark) - 1 - rows[-1] < 3 * edge
    # The caption and the line of the legend stand apart below the panel, line by line.
    below = np.flatnonzero(np.diff(dark[-round(figure.bbox.y0 - box.y0 + edge) :].astype(int)) == 1)
    assert len(below) == len(lines) + 1


def test_the_user_s_settings_neither_matter_nor_change(comparison, saved, tmp_path):
    """The files are the same to the last byte."""
    with matplotlib.rc_context({"font.size": 30, "axes.grid": True, "lines.linewidth": 9}):
        before = _settings_now()
        save_figures(comparison, tmp_path)
        assert _settings_now() == before
    for name, path in saved.items():
        assert (tmp_path / name).read_bytes() == path.read_bytes()


def test_figures_can_be_drawn_in_threads_and_need_no_pyplot(comparison, saved, tmp_path):
    before, pyplot = _settings_now(), "matplotlib.pyplot" in sys.modules
    folders = [tmp_path / "a", tmp_path / "b"]
    for folder in folders:
        folder.mkdir()
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lambda folder: save_figures(comparison, folder), folders))
    assert _settings_now() == before
    assert ("matplotlib.pyplot" in sys.modules) == pyplot
    for folder in folders:
        assert (folder / "load_line.png").read_bytes() == saved["load_line.png"].read_bytes()


def test_names_in_scripts_that_the_font_lacks_are_drawn_without_a_warning(single, tmp_path):
    result = single.sections[0]
    other = replace(result, section=replace(result.section, name="鋼管 120 " + "x" * 90))
    named = replace(single, sections=(other,), by_concentration=(other.section.name,))
    save_figures(named, tmp_path)
    assert all("鋼管" in one.alt for one in figures(named))


def test_four_sections_at_most_are_chosen(comparison, many):
    assert [r.section.name for r in chosen(comparison)] == list(comparison.by_concentration)
    assert shown_of(comparison, chosen(comparison)) == ""
    names = [r.section.name.split("no. ")[1] for r in chosen(many)]
    assert names == ["5", "4", "3", "2"]
    assert "4 of 6 sections" in shown_of(many, chosen(many))
    # The first solid is number 2, wherever it stands.
    ranked = ("4", "3", "1", "5", "0", "2")
    by_number = {name[-1]: name for name in many.by_concentration}
    last = replace(many, by_concentration=tuple(by_number[k] for k in ranked))
    assert [r.section.name[-1] for r in chosen(last)] == ["4", "3", "1", "2"]


@pytest.mark.parametrize("case", ["comparison", "corner", "oblique", "us"])
def test_a_document_has_each_figure_as_svg_with_caption_and_words(case, request):
    comparison = request.getfixturevalue(case)
    found = [*figures(comparison)]
    assert len(found) == len(figures_of(comparison.case))
    for one in found:
        made = drawn(one, text=False)
        assert made == drawn(one, text=False)  # to the last letter
        root = ElementTree.fromstring(made.svg)
        # 170 mm wide and no higher than half a page of A4, in points.
        assert float(root.get("width").removesuffix("pt")) == pytest.approx(170.0 / 25.4 * 72.0)
        assert float(root.get("height").removesuffix("pt")) < 148.0 / 25.4 * 72.0
        with settings():
            (alone,) = one.draw().artists
        assert comparison.case.title in " ".join(alone.get_text().split())
        assert comparison.case.title not in made.caption  # which the page has above it
        assert "\n" not in made.caption + one.alt
        assert "<text" in drawn(one, text=True).svg
        assert "<text" not in made.svg
        for name in comparison.by_concentration:
            assert name in one.alt


def test_no_type_is_less_than_seven_points(comparison, corner, oblique, us):
    for of in (comparison, corner, oblique, us, many_of(us)):
        for name in figures_of(of.case):
            sizes = [t.get_fontsize() for t in figure_of(name, of).findobj(Text) if t.get_text()]
            assert min(sizes) >= 7.0
