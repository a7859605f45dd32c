import json
from dataclasses import replace

import numpy as np
import pytest
from alignments import bent, case, stated
from figures import heads
from saying import figures, only, said

from contactfe.assess.results import Doubling, Pair
from contactfe.case import case_from_dict
from contactfe.report.details import details
from contactfe.report.document import document
from contactfe.report.envelope_record import row_fingerprint
from contactfe.report.figures.draw import figures_of
from contactfe.report.figures.ink import settings
from contactfe.report.figures.length import length_figure
from contactfe.report.figures.panels import NAMED
from contactfe.report.inputs import inputs
from contactfe.report.length import NOTE, length_data, length_tables
from contactfe.report.page import WIDEST, as_text
from contactfe.report.words import how_held


def printed(of, results) -> str:
    return as_text(length_tables(of, results), WIDEST)


def changed(**fields):
    (result,) = bent().sections
    return replace(result, length=replace(result.length, **fields))


def test_the_table_has_mean_and_peak_and_where_it_is():
    text = printed(bent().case, bent().sections)
    (row,) = (line for line in text.splitlines() if line.startswith("solid 150 "))
    share = bent().sections[0].length
    assert row.split()[2:5] == [f"{share.peak_line_load:.0f}", f"{share.peak_over_mean:.2f}", "370"]
    assert "mean line load 937.5 N/mm" in text
    assert f"{np.degrees(share.doubling[0].tilt):.3f}" in row
    tables = list(length_tables(bent().case, bent().sections))
    assert only(tables, NOTE)
    assert only(tables, "solid 150", "0.05 deg: ", "0.15 deg: ")


def test_the_table_is_in_the_units_asked_for():
    us = case(report={"units": "US customary"})
    text = printed(us, bent().sections)
    assert "[kip/in]" in text
    assert "[kip·in]" in text
    assert "N/mm" not in text
    assert " 5.353 kip/in" in text  # 937.5 N/mm


def test_the_table_says_what_it_does_not_know():
    result = changed(doubling=(Doubling(None, "it cannot be"), Doubling(0.01)))
    assert only(length_tables(bent().case, [result]), "solid 150", "twice", "it cannot be")


def test_the_moment_at_the_peak_stands_beside_the_one_checked():
    pair = Pair(np.radians(0.15), 410.0, 800.0, 22e6)
    result = changed(moment_at_peak=0.0, moment_used=22e6, worst_pair=pair)
    text = printed(bent().case, [result])
    (row,) = (line for line in text.splitlines() if line.startswith("solid 150 "))
    assert row.split()[8:10] == ["0", "22.00"]
    note = only(length_tables(bent().case, [result]), "stressed most at a tilt")
    assert figures(note)[1:] == [0.15, 410.0, 800.0, 22.0]
    data = length_data(result)
    assert (data["moment_at_peak"], data["moment_used"]) == (0.0, 22e6)
    assert data["worst_pair"] == {
        "tilt": pair.tilt, "place": 410.0, "line_load": 800.0, "moment": 22e6
    }  # fmt: skip


def test_where_the_peak_is_worst_no_other_pair_is_named():
    result = changed(worst_pair=None)
    assert "stressed most at a tilt" not in printed(bent().case, [result])
    assert length_data(result)["worst_pair"] is None


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_the_table_fits_the_page_with_long_names(units):
    of = case(report={"units": units})
    (result,) = bent().sections
    long = replace(result, section=replace(result.section, name="solid of a very long name, 150"))
    lines = printed(of, [long]).splitlines()
    rule = next(k for k, line in enumerate(lines) if line.startswith("──"))
    assert lines[rule - 3].rstrip().endswith("doubled  doubled")
    assert lines[rule - 1].rstrip().endswith(f"[{of.display.angle.name}]")
    assert lines[rule - 1].count(f"[{of.display.moment.name}]") == 2


def test_an_even_load_has_no_table_no_figure_and_null():
    (result,) = bent().sections
    even = replace(result, length=None)
    assert printed(bent().case, [even]) == ""
    assert length_data(replace(bent().sections[0], length=None)) is None
    assert "length.png" not in figures_of(replace(case(), alignment=None))
    assert "length.png" in figures_of(case())


def test_the_document_holds_the_whole_share():
    content = json.loads(json.dumps(document(bent()), allow_nan=False))
    (section,) = content["sections"]
    share = section["length"]
    assert content["case"]["along"] == pytest.approx(
        {
            "tilt": np.radians(0.1),
            "misalignment": np.radians(0.05),
            "assumed": False,
            "tolerance": 0.0,
        }
    )
    assert section["line_load"] == share["peak_line_load"] == max(share["line_load"])
    assert share["peak_over_mean"] == pytest.approx(share["peak_line_load"] / 937.5)
    assert np.trapezoid(share["line_load"], share["z"]) == pytest.approx(150e3)
    assert len(share["z"]) == len(share["deflection"]) == len(share["approach"])
    assert [d["why_not"] for d in share["doubling"]] == [None, None]
    assert share["force_balance"] <= 1e-10


def test_the_details_begin_with_it():
    relief, length, *_ = details(bent(), bent().sections)
    assert str(relief.title).startswith("Over the length of the contact")
    assert str(length.title).startswith("Along the post")


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_the_figure_draws_load_and_post(units):
    of = case_from_dict(stated(report={"units": units}))
    comparison = replace(bent(), case=of)
    tilted = changed(
        approach=tuple(-a for a in bent().sections[0].length.approach), parted_length=9.0
    )
    tilted = replace(tilted, section=replace(tilted.section, name="another"))
    shown = (bent().sections[0], tilted)
    with settings():
        figure = length_figure(comparison, shown)
    upper, _, lower, _ = figure.axes
    share = bent().sections[0].length
    load, length = of.display.line_load, of.display.length
    assert [name for name, _ in heads(figure)] == [r.section.name for r in shown]
    named = [ln for ax in (upper, lower) for ln in ax.get_lines() if ln.get_gid() == NAMED]
    styles = [(k.get_color(), k.get_linestyle(), k.is_dashed()) for k in named]
    assert len(set(styles)) == len(styles) == 3  # no two things look alike
    assert "\n" not in upper.get_ylabel() + lower.get_ylabel()
    line, mean, *_ = upper.get_lines()
    np.testing.assert_allclose(line.get_xdata(), length.of(np.array(share.z)))
    np.testing.assert_allclose(line.get_ydata(), load.of(np.array(share.line_load)))
    np.testing.assert_allclose(mean.get_ydata(), load.of(937.5))
    (mark,) = (ln for ln in upper.get_lines() if ln.get_marker() == "o")
    assert mark.get_data() == (
        pytest.approx([length.of(share.peak_from_root)]),
        pytest.approx([load.of(share.peak_line_load)]),
    )
    post, face = lower.get_lines()
    np.testing.assert_allclose(post.get_ydata(), length.of(np.array(share.deflection)))
    distance = face.get_ydata() - post.get_ydata()
    np.testing.assert_allclose(distance, length.of(np.array(share.approach)), rtol=1e-9)
    assert upper.get_ylabel().endswith(f"[{load.name}]")
    assert lower.get_xlabel().endswith(f"[{length.name}]")
    (caption,) = figure.artists
    texts = " ".join(
        t.get_text().replace("\n", " ")
        for t in (caption, *(t for ax in figure.axes for t in ax.texts))
    )
    assert "parted over" in texts
    assert of.display.force.text(150e3) in texts


def test_the_pages_call_the_load_a_mean():
    assert "937.5 N/mm on average" in how_held(case())
    assert "on average" not in how_held(replace(case(), alignment=None))
    assert only(inputs(case()), "unbent post", "tilt 0.1 deg", "off by up to 0.05 deg", "mean")


def test_rows_of_another_tilt_are_others():
    at = case()
    (section,) = at.sections
    prints = {
        row_fingerprint(of, section)
        for of in (
            at,
            case(alignment={"tilt": "0.2 deg", "misalignment": "0.05 deg"}),
            case(cantilever={"length": "460 mm"}),
            replace(at, alignment=None),
        )
    }
    assert len(prints) == 4


@pytest.mark.parametrize("name", ["load_line.png", "sections.png"])
def test_captions_have_the_axial_stress_where_von_mises_has_it(name):
    for result, there in (
        (bent().sections[0], True),
        (replace(bent().sections[0], length=None), True),  # under an even load
        (replace(bent().sections[0], axial_stress=0.0), False),
    ):  # fmt: skip
        of = replace(bent(), sections=(result,))
        with settings():
            (text,) = figures_of(of.case)[name](of, of.sections).artists
        assert bool(said(text.get_text(), "von Mises", "axial stress")) == there
