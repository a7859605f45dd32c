"""The relief over the contact: its table, its figure, its data, and what the reason says of it."""

import json
from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest
from figures import check_legend, heads
from restated import restated
from saying import figures, only

from contactfe.assess.compare import compare
from contactfe.case import case_from_dict
from contactfe.case.alignment import Strip
from contactfe.report.document import document
from contactfe.report.figures.draw import figures_of
from contactfe.report.figures.ink import settings
from contactfe.report.figures.relief import relief_figure
from contactfe.report.page import WIDEST, as_text
from contactfe.report.reason import reason
from contactfe.report.relief import NOTE, SHARP_END, relief_data, relief_tables
from contactfe.report.words import cautions

STATED = {
    "title": "invented for a test",
    "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "600 MPa"},
    "plate": {
        "width": "400 mm", "thickness": "60 mm", "held_by": "rigid base",
        "young": "210 GPa", "poisson": 0.3, "yield": "600 MPa",
    },
    "load": {"force": "225 kN", "contact_length": "150 mm"},
    "section": [
        {"name": "solid", "outside_diameter": "150 mm"},
        {"name": "tube", "outside_diameter": "150 mm", "wall": "25 mm"},
    ],
}  # fmt: skip


@cache
def short():
    return compare(case_from_dict(STATED))


def row(text, name):
    (found,) = (line for line in text.splitlines() if line.startswith(f"{name} "))
    return found.split()[1:]


def test_the_table_has_the_finite_contact_beside_the_long_one():
    tables = list(relief_tables(short().case, short().sections))
    text = as_text(tables, WIDEST)
    tube = short().section("tube")
    cells = row(text, "tube")
    assert cells[0] == "1.00"
    at = tube.values
    assert float(cells[3]) == pytest.approx(at["participation"].value, abs=0.006)
    known = [share for share in tube.relief.participation if share is not None]
    assert [float(c) for c in cells[4:6]] == pytest.approx([min(known), max(known)], abs=0.006)
    keys = ("post_peak", "slice_post_peak", "stress_concentration", "slice_stress_concentration")
    assert [float(c) for c in cells[6:10]] == pytest.approx([at[k].value for k in keys], rel=2e-3)
    assert row(text, "solid")[3:6] == ["–", "–", "–"]
    for part in (NOTE, SHARP_END, "[cantilever] tip"):
        assert only(tables, part)


def test_a_stated_tip_leaves_no_remark_on_it():
    stated = replace(
        short().section("tube"), relief=replace(short().section("tube").relief, tip_stated=True)
    )
    assert "not stated" not in as_text(relief_tables(short().case, [stated]), WIDEST)


def test_a_contact_that_counts_as_long_has_no_table():
    long = replace(short().section("tube"), relief=None)
    assert list(relief_tables(short().case, [long])) == []
    assert relief_data(None) is None


def test_the_data_are_numbers_along_the_contact():
    data = json.loads(json.dumps(document(short())))
    solid, tube = (section["relief"] for section in data["sections"])
    assert solid["participation"] is None
    assert len(tube["z"]) == len(tube["participation"]) == len(tube["line_load"])
    assert (tube["z"][0], tube["z"][-1]) == pytest.approx((-75.0, 75.0))
    assert tube["line_load"] == pytest.approx([1500.0] * len(tube["z"]))
    values = data["sections"][1]["values"]
    assert values["participation"]["unit"] == "1"
    ends = tube["participation"][0], tube["participation"][len(tube["z"]) // 2]
    assert ends[0] < ends[1]
    assert values["slice_bore_hoop_under_load"]["value"] == pytest.approx(212.4, rel=3e-3)


def test_the_reason_names_both_peaks_and_the_share():
    best = short().section(short().least_concentration)
    said = reason(short())
    if best.section.name == "tube":
        share = best.values["participation"].value
        assert f"{100 * share:.0f} %" in said
        assert f"{best.values['slice_post_peak'].value:.0f} MPa" in said
    else:
        assert "“tube” would seem the best" in said


def shared(place, **relief):
    """The tube alone, as one that shares its load: half of the peak at one end of the contact."""
    tube = short().section("tube")
    run = replace(tube.relief, place=place, z=(-75.0, 75.0), line_load=(1000.0, 2000.0), **relief)
    length = SimpleNamespace(peak_line_load=2000.0, peak_over_mean=4 / 3)
    ratio = float(np.interp(place, run.z, run.line_load)) / short().case.line_load
    post = replace(tube.reading.post, strip=Strip(place, (ratio,)))
    reading = replace(tube.reading, post=post)
    result = replace(tube, relief=run, length=length, reading=reading)
    return replace(short(), sections=(result,), by_concentration=("tube",))


@pytest.mark.parametrize(("place", "percent"), [(-75.0, 50.0), (0.0, 75.0)])
def test_the_reason_names_the_line_load_where_the_post_is_stressed_most(place, percent):
    text = reason(shared(place))
    assert only(text, "Hertz", "peak line load")
    assert figures(only(text, "stressed most", "peak line load"))[0] == percent


def test_the_reason_of_an_even_load_names_no_peak_line_load():
    assert "peak line load" not in reason(short())


def test_the_caution_of_a_finite_contact_is_not_that_of_a_slice():
    case = short().case
    finite, by_hand = (cautions(case, evenly=evenly)[0] for evenly in (False, True))
    assert "sharp ends" in finite
    assert "no ends" not in finite
    assert "no ends" in by_hand
    stated = restated(case, line_load=1500.0, contact_length=None)
    assert cautions(stated)[0] == by_hand


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_the_figure_draws_share_and_line_load(units):
    case = case_from_dict({**STATED, "report": {"units": units}})
    comparison = replace(short(), case=case)
    assert "relief.png" in figures_of(case)
    with settings():
        figure = relief_figure(comparison, comparison.sections)
    tube = comparison.section("tube").relief
    upper, lower = figure.axes[1], figure.axes[3]
    drawn = next(line for line in upper.lines if len(line.get_xdata()) == len(tube.z))
    np.testing.assert_allclose(drawn.get_ydata(), np.array(tube.participation, dtype=float))
    assert lower.lines[0].get_ydata() == pytest.approx(
        case.display.line_load.of(np.array(tube.line_load))
    )
    assert heads(figure)[0][0] == "solid"
    check_legend(figure)


def test_solids_alone_have_no_figure_of_it():
    solid = {**STATED, "section": STATED["section"][:1]}
    assert "relief.png" not in figures_of(case_from_dict(solid))
    plane = {**STATED, "model": {"state": "plane stress"}}
    assert "relief.png" not in figures_of(case_from_dict(plane))
