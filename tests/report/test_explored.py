"""What the page says of the section that is moved, at each stage of its answer."""

from dataclasses import replace

import overloads
import pytest
from restated import restated
from sizings import case as sized
from sizings import check

from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.checks import OpenItem
from contactfe.assess.compare import compare
from contactfe.assess.handchecks import HAND_KEYS
from contactfe.assess.sizing.record import Candidate
from contactfe.assess.sizing.trial import attempt
from contactfe.case import Section
from contactfe.case.display import US
from contactfe.report import words
from contactfe.report.blocks import Line, Table
from contactfe.report.explored import GLANCE, at_a_glance, beside, beyond, by_hand, verdicts
from contactfe.report.overload_words import in_fine, left_out
from contactfe.report.table import in_short
from contactfe.report.values import page_labels

TUBE = Section(name="tube", outside_diameter=150.0, wall=25.0)
SIZED = sized()
PLATE = replace(SIZED.plate, steel=replace(SIZED.plate.steel, poisson=0.25))  # not as the post
CASE = replace(SIZED, sections=(TUBE, *SIZED.sections), plate=PLATE)


FORMULAS = {
    "post_peak": "hertz_peak_von_mises",
    "plate_peak": "hertz_peak_von_mises_plate",
    "half_width": "hertz_half_width",
    "peak_pressure": "hertz_peak_pressure",
    "bore_hoop_under_load": "ring_bore_under_load",
}


@pytest.fixture(scope="module")
def solved():
    return compare(CASE)


@pytest.fixture(scope="module")
def hand():
    return section_by_hand(CASE, TUBE)


@pytest.fixture(scope="module")
def trial():
    return attempt(CASE, Candidate(TUBE, 25.0 / 150.0), Bodies(CASE), alone=True)


def rows_of(table):
    (rows,) = table.groups
    assert all(len(row) == len(table.columns) == 4 for row in rows)
    return rows


def figures(rows):
    """The rows of quantities, by their labels."""
    return {row[0]: row[1:] for row in rows if row[0] in page_labels(CASE.display, *GLANCE)}


def test_before_anything_is_solved_there_are_hand_figures_alone(hand):
    verdict, *rows = rows_of(at_a_glance(CASE, hand))
    assert (verdict[1].text, verdict[1].tone) == ("NO VERDICT", "quiet")
    assert verdict[2:] == ("", "")
    assert [row[1:3] for row in rows] == [("", "")] * len(rows)
    found = figures(rows)
    assert len(found) == len(rows) == len(GLANCE)
    of = {key: row[2] for key, row in zip(GLANCE, found.values(), strict=True)}
    for key, formula in FORMULAS.items():
        assert float(of[key]) == pytest.approx(hand.step(formula).worked.value, rel=1e-3)
    assert len(set(of.values())) == len(of)
    K = hand.step("hertz_peak_von_mises").worked.value / (1500.0 / 150.0)
    assert float(of["stress_concentration"]) == pytest.approx(K, abs=0.05)


def test_a_coarse_mesh_gives_three_figures_and_neither_uncertainty_nor_verdict(hand, trial):
    verdict, *rows = rows_of(at_a_glance(CASE, hand, trial))
    assert verdict[1].text == "NO VERDICT"
    assert verdict[2:] == ("", "")
    before = figures(rows_of(at_a_glance(CASE, hand)))
    found = figures(rows)
    assert found.keys() == before.keys()
    K, post, plate, *others = found.values()
    peak = max(place for place in trial.places if place is not None)
    assert float(K[0]) == pytest.approx(peak / 10.0, abs=0.05)
    assert float(post[0]) == pytest.approx(peak, rel=1e-3)
    assert float(plate[0]) == pytest.approx(trial.plate, rel=1e-3)
    assert [row[0] for row in others] == [""] * len(others)
    assert {row[1] for row in found.values()} == {""}
    assert [row[2] for row in found.values()] == [row[2] for row in before.values()]


def test_solved_every_figure_has_its_uncertainty_and_the_verdict_what_is_open(hand, solved):
    verdict, governs, *rows = rows_of(at_a_glance(CASE, hand, solved))
    first = solved.sections[0]
    assert first.section == TUBE
    assert first.verdict == "passes"
    assert (verdict[1].text, verdict[1].tone) == ("passes", "good")
    assert verdict[2] == f"{len(solved.open_items)} OPEN"
    worst = max((c for c in first.checks if c.applies), key=lambda c: c.most)
    assert governs[1] == words.ratio_text(worst.ratio, worst.ratio_uncertainty)
    assert len(rows) == len(GLANCE)
    found = dict(zip(GLANCE, rows, strict=True))
    for key, dimension in (
        ("stress_concentration", None), ("post_peak", "stress"), ("plate_peak", "stress"),
        ("half_width", "length"), ("peak_pressure", "stress"), ("bore_hoop_under_load", "stress"),
    ):  # fmt: skip
        unit = None if dimension is None else CASE.display.unit(dimension)
        pair = words.with_uncertainty(first.values[key], unit)
        assert found[key][1:3] == pair
        assert pair[1]
        if unit is not None:
            assert found[key][0].endswith(f"[{unit.name}]")


def test_what_a_section_has_not_has_no_row(hand):
    solid = replace(CASE, sections=CASE.sections[1:])
    rows = rows_of(at_a_glance(solid, section_by_hand(solid, solid.sections[0])))
    assert len(figures(rows)) == len(GLANCE) - 1  # no bore
    assert len(figures(rows_of(at_a_glance(CASE, hand)))) == len(GLANCE)


def test_figures_are_in_the_units_shown(trial):
    us = restated(CASE, report_units="US customary")
    rows = rows_of(at_a_glance(us, section_by_hand(us, TUBE), trial))
    of = dict(zip(GLANCE, rows[1:], strict=True))
    labels = page_labels(US, *GLANCE)
    assert tuple(row[0] for row in rows[1:]) == labels
    assert [label.rpartition("[")[2] for label in labels] == [
        labels[0], "ksi]", "ksi]", "in]", "ksi]", "ksi]",
    ]  # fmt: skip
    assert float(of["plate_peak"][1]) == pytest.approx(trial.plate / 6.894757, rel=1e-3)
    K = max(place for place in trial.places if place is not None) / 10.0
    assert float(of["stress_concentration"][1]) == pytest.approx(K, abs=0.05)
    hertz = section_by_hand(us, TUBE).step("hertz_half_width").worked.value
    assert float(of["half_width"][3]) == pytest.approx(hertz / 25.4, rel=1e-3)


def test_what_is_accepted_is_not_counted_as_open(hand, solved):
    def still(of):
        rows = rows_of(at_a_glance(CASE, hand, replace(solved, open_items=of)))
        return rows[0][2]

    accepting = restated(CASE, accepted=(("motion", "a reason"),))
    items = [OpenItem("motion", CASE), OpenItem("sharing", CASE), OpenItem("motion", accepting)]
    assert still(tuple(items)) == "2 OPEN"
    assert still((items[2],)) == ""
    assert still(()) == ""


@pytest.mark.parametrize(
    ("ratio", "keys", "words_of"),
    [
        (1.5, {}, ("FAILS", "bad")),
        (0.5, {"missing": "a time history"}, ("NO VERDICT", "bad")),
        (0.5, {}, None),
        (1.5, {"applies": False}, None),
    ],
)
def test_a_stop_that_does_not_pass_stands_beside_the_verdict(hand, solved, ratio, keys, words_of):
    stop = check(ratio, key="stop", body="stop", **keys)
    rows = rows_of(at_a_glance(CASE, hand, replace(solved, checks=(*solved.checks, stop))))
    of_stop = [row[1] for row in rows[1:] if isinstance(row[1], Line)]
    assert [(line.text, line.tone) for line in of_stop] == ([] if words_of is None else [words_of])
    assert rows[0][1].text == "passes"  # that of the section


def test_the_verdict_is_of_the_first_section(hand, solved):
    failing = tuple(
        replace(of, checks=(check(1.5, section=of.section.name),)) if k == 1 else of
        for k, of in enumerate(solved.sections)
    )
    assert rows_of(at_a_glance(CASE, hand, replace(solved, sections=failing)))[0][1].tone == "good"
    failing = failing[::-1]
    assert rows_of(at_a_glance(CASE, hand, replace(solved, sections=failing)))[0][1].tone == "bad"


def test_hand_figures_stand_beside_solved_ones_once_these_are_there(hand, solved):
    (alone,) = by_hand(CASE, hand)
    (both,) = by_hand(CASE, hand, solved.sections[0].hand_checks)
    for table in (alone, both):
        assert all(len(row) == len(table.columns) == 5 for row in table.groups[0])
    assert all(row[3:] == ("", "") for row in alone.groups[0])
    assert all(all(row[2:]) for row in both.groups[0])
    checks = {c.label: c for c in solved.sections[0].hand_checks}
    assert len(both.groups[0]) == len(checks)
    for row in both.groups[0]:
        assert row[4] == f"{100 * checks[row[0]].difference:+.1f} %"
    of = {step.label for step in hand.steps if step.key in HAND_KEYS and step.worked.dimension}
    assert {row[0] for row in alone.groups[0]} == of
    shared = {row[0]: row[:3] for row in both.groups[0]}
    assert shared
    for row in alone.groups[0]:
        assert shared.get(row[0], row[:3]) == row[:3]  # the same figure, in the same unit
    (none,) = by_hand(CASE, hand, ())
    assert none.groups == ((),)


def test_beside_one_another_the_columns_are_those_that_a_page_has_room_for(solved):
    table, why = beside(solved)
    assert isinstance(table, Table)
    whole = in_short(solved, 2)
    kept = [k for k, column in enumerate(whole.columns) if column.drop <= 2]
    assert table.columns == tuple(whole.columns[k] for k in kept)
    assert table.groups == (tuple(tuple(row[k] for k in kept) for row in whole.groups[0]),)
    heads = [column.head.split("\n")[0] for column in table.columns]
    assert heads == ["section", "K", "post's", "governing", "ratio", "verdict"]
    assert [row[0] for row in table.groups[0]] == list(solved.by_concentration)
    assert table.note
    assert isinstance(why, Line)
    assert "tube" in why.text


def test_every_section_has_a_line_of_its_verdict(solved):
    lines = list(verdicts(solved))
    assert [line.tone for line in said_of(lines, "tube")] == ["good"]
    assert [line.tone for line in said_of(lines, "solid 150")] == ["bad"]
    assert len(list(verdicts(replace(solved, open_items=())))) < len(lines)


def said_of(lines, name):
    return [line for line in lines if f"“{name}”" in line.text]


def struck(result, load=800.0):
    """The tube alone, at a load of the case."""
    case = result.case.loaded(load)
    alone = tuple(of for of in result.sections if of.section == overloads.TUBE)
    return replace(result, case=case, sections=alone, by_dent=None, by_reserve=None)


@pytest.mark.parametrize("share", [0.513, 1.25])
def test_strikes_beyond_first_yield_and_how_the_load_stands_to_them(share):
    of = overloads.spanned().section(overloads.TUBE)
    load = share * of.first_yield.value * of.whole
    result = struck(overloads.spanned(), load)
    *lines, table = beyond(result)
    units = result.case.display
    (stands,) = [line.text for line in lines if units.line_load.text(load) in line.text]
    assert f"{share:g} times" in stands
    assert ("elastic" in stands) == (share < 1.0)
    text = " ".join(line.text for line in lines)
    for known in (of.first_yield, of.reserve):
        assert words.pair(known.over(1.0 / of.whole), units.line_load) in text
    ((row,),) = table.groups
    assert len(row) == len(table.columns)
    (strike,) = of.strikes
    dents = [in_fine(strike.values[f"{body}_dent_depth"], units) for body in ("post", "plate")]
    assert list(row[:4]) == ["1.5", units.line_load.number(strike.line_load * of.whole), *dents]
    again = [second.yields for second in strike.second]
    assert any(again) == (row[6] != "no")


def test_a_section_that_is_not_struck_says_why_once():
    result = struck(overloads.unsolved())
    *lines, table = beyond(result)
    (why,) = left_out(result, result.sections)
    assert [line.text for line in lines].count(why) + table.note.count(why) == 1
