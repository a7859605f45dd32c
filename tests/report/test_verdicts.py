"""What pages and documents say of the list of checks and of what is open."""

import json
from dataclasses import replace
from itertools import pairwise

import pytest
from alignments import case
from handcases import SOLID, TUBE, stop
from hypothesis import assume, given
from hypothesis import strategies as st
from restated import restated

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.checks import Check, OpenItem
from contactfe.assess.value import Value
from contactfe.hand.formula import at_most
from contactfe.report.blocks import Line
from contactfe.report.by_hand import by_hand_page
from contactfe.report.hand_document import hand_document
from contactfe.report.open_items import worded
from contactfe.report.page import write_page
from contactfe.report.ranking import places, ranked, ties
from contactfe.report.verdicts import (
    MOST_LINES,
    does_not_apply,
    open_lines,
    ratio_text,
    verdict_data,
    verdict_lines,
)

CASE = stop()
SHIMMED = restated(CASE, accepted=(("tilt", "set by shims on site"),))


def check(name: str, ratio: float, **keys) -> Check:
    key, label = keys.pop("key", "k"), keys.pop("label", f"check of {name}")
    return Check(key, label, "stress", "contact stress", name, "post",
                 ratio, 1.0, "stress", "made up", **keys)  # fmt: skip


def lines(checks, items=(), most=None):
    names = dict.fromkeys(c.section for c in checks if c.section)
    return [line.text for line in verdict_lines(CASE, names, checks, items, most)]


def test_what_fails_comes_first_and_the_worst_of_it_before_the_others():
    checks = [
        check("a", 0.9),
        check("b", 1.2),
        check("c", 1.9),
        check("d", 0.1, missing="no input"),
    ]
    order = [line[1] for line in lines(checks) if line.startswith("“")]
    assert order == ["c", "b", "d", "a"]
    assert any("no input" in line for line in lines(checks))


BEYOND = (at_most("L/D", 3.0, 2.0),)


def test_every_check_that_fails_or_is_above_one_is_named_with_its_verdict():
    """As a root weld at 1.36 out of its scope beside a post that fails by less."""
    fails = [check("a", 1.0 + k / 10.0, key=f"f{k}", label=f"failing {k}") for k in range(1, 6)]
    weld = check("a", 1.36, key="weld", label="root weld", exceeded=BEYOND)
    unknown = check("a", 0.2, key="u", label="of no input", missing="none")
    below = check("a", 0.3, key="b", label="far below", exceeded=BEYOND)
    (line,) = (one for one in lines([below, weld, unknown, *fails]) if one.startswith("“"))
    named = [f"failing {k}, ratio 1.{k}0" for k in range(5, 0, -1)]
    places = [line.index(text) for text in (*named, "root weld, ratio 1.36 NO VERDICT (")]
    assert places == sorted(places)
    assert line.startswith("“a” FAILS")
    assert "far below" not in line
    assert "2 more" in line.partition("root weld")[2]


def test_only_what_passes_is_toned_as_good():
    ratios = {"passes": {}, "fails": {}, "no verdict": {"missing": "no input"}}
    for verdict, keys in ratios.items():
        one = check("a", 1.2 if verdict == "fails" else 0.5, **keys)
        load = check("", 1.2 if verdict == "fails" else 0.5, key="load", **keys)
        many = [replace(one, section=f"s{k}") for k in range(MOST_LINES + 1)]
        found = verdict_lines(CASE, [c.section for c in many], [load, *many], [])
        tones = [block.tone for block in found if isinstance(block, Line) and block.text]
        assert tones == ["good" if verdict == "passes" else "bad"] * (MOST_LINES + 2)


def test_an_answer_has_the_worst_check_of_a_section_and_counts_the_others():
    checks = [check("a", ratio, key=f"k{ratio}", label=f"at {ratio}") for ratio in (1.2, 1.9, 0.4)]
    line, passing = lines([*checks, check("b", 0.5)], most=2)
    assert all(text in line for text in ("“a” FAILS", "at 1.9", "1 more"))
    assert "at 1.2" not in line
    assert "“b”" in passing


def test_a_clause_is_named_in_short_in_a_line_and_in_full_in_its_record():
    clause = check("a", 1.31, key="aashto_lrfd.14_7_1_4_cylinder", label="of a long name: contact")
    clause = replace(clause, kind="clauses", body="post on plate")
    for most in (None, 3):
        (line,) = (one for one in lines([clause], most=most) if one.startswith("“"))
        assert "AASHTO 14.7.1.4, post on plate" in line
        assert clause.label not in line
    assert verdict_data([clause], [])["checks"][0]["label"] == clause.label


def test_many_sections_of_a_verdict_are_gathered():
    checks = [check(f"s{k:02d}", 1.0 + k / 10.0) for k in range(1, 21)]
    found = lines(checks)
    assert len(found) <= MOST_LINES + 4
    assert "s20" in found[1]  # governing first
    assert f"{20 - MOST_LINES} more" in found[MOST_LINES + 1]


def test_open_items_stand_on_the_first_screen(tmp_path):
    found = by_hand(case(alignment=None))
    write_page(by_hand_page(found), tmp_path / "page.txt")
    first = (tmp_path / "page.txt").read_text().splitlines()[:24]
    for item in found.open_items:
        assert any(line.startswith(f"OPEN: {worded(item)[0]}") for line in first), item.key


def test_an_accepted_item_is_printed_with_its_reason():
    item = OpenItem("tilt", SHIMMED)
    (line,) = [line for line in lines([check("a", 0.5)], [item]) if "tilt" in line]
    assert "set by shims on site" in line
    assert "OPEN" not in line


def test_what_covers_a_check_that_does_not_apply_is_named():
    field = check("a", 0.5, key="von_mises_post")
    thick = check("a", 0.1, applies=False, covered_by="von_mises_post")
    (line,) = [block.text for block in does_not_apply([field, thick]) if block.text]
    assert line.index(thick.label) < line.index(field.label, line.index(thick.label) + 1)
    records = verdict_data([field, thick], [])["checks"]
    assert [record["covered_by"] for record in records] == [None, "von_mises_post"]


def test_records_are_plain_and_complete():
    found = by_hand(stop(TUBE, cantilever=(450.0, 6.0, 480.0), friction=0.2, yield_strength=500.0))
    data = json.loads(json.dumps(hand_document(found), allow_nan=False))
    assert len(data["checks"]) == len(found.checks) > 10
    for record, one in zip(data["checks"], found.checks, strict=True):
        assert record["verdict"] == one.verdict
        assert record["ratio"] == pytest.approx(one.ratio)
        assert record["source"]
        assert (record["verdict"] == "no verdict") == bool(record["why"])
    assert [item["key"] for item in data["open_items"]] == [i.key for i in found.open_items]


@pytest.mark.parametrize(
    ("ratio", "uncertainty"),
    [(1.0004, 0.0), (0.9962, 0.0042), (0.9996, 0.0), (0.9962, 0.0036), (1.003, 0.01)],
)
def test_a_ratio_reads_as_its_verdict(ratio, uncertainty):
    one = check("a", ratio, ratio_uncertainty=uncertainty)
    shown = [float(text) for text in ratio_text(one).split(" ± ")]
    assert (round(sum(shown), 9) <= 1.0) == one.passes
    assert shown[0] != 1.0
    assert ratio_text(check("a", 1.0)) == "1.00"


@given(st.floats(0.9, 1.1), st.floats(1e-4, 0.1))
def test_any_ratio_reads_as_its_verdict(ratio, uncertainty):
    one = check("a", ratio, ratio_uncertainty=uncertainty)
    assume(abs(one.most - 1.0) > 1e-7)
    value, beside = map(float, ratio_text(one).split(" ± "))
    assert (round(value + beside, 9) <= 1.0) == one.passes


def test_the_load_has_its_line_whatever_comes_of_it():
    for ratio, verdict in ((0.8, "passes"), (1.0, "passes"), (4.0, "FAILS")):
        found = lines([check("", ratio, key="load"), check("a", 0.5)])
        assert found[1].startswith(f"Load {verdict}")
    assert "4.00" in found[1]


def test_checks_of_the_stop_in_its_motion_are_counted_where_they_pass():
    of = [
        replace(check("", ratio, label=f"stroke at {name}"), kind="motion", dimension="length",
                missing=missing)
        for name, ratio, missing in (
            ("a", 0.2, ""), ("b", 0.9, ""), ("c", 1.5, ""), ("d", 0.3, "it still moves"),
        )
    ]  # fmt: skip
    _, fails, unknown, passing, *_ = lines([*of, check("one", 0.5)])
    for part in ("Stroke at c FAILS", "1.5 mm", "1 mm", "1.50"):
        assert part in fails
    for part in ("Stroke at d NO VERDICT", "it still moves"):
        assert part in unknown
    for part in ("2 checks pass", "stroke at b"):
        assert part in passing


def test_engagement_alone_does_not_stand_for_the_whole_motion():
    """As with a section's own curve, whose impact the other commands do not look at."""
    struck = [
        replace(check("", 0.8, key=name, label=name), kind="motion", limit_state="engagement")
        for name in ("a", "b")
    ]
    stroke = replace(struck[0], key="s", limit_state="damper stroke")
    alone, both = (lines([*of, check("one", 0.5)])[1] for of in (struck, [*struck, stroke]))
    assert "2 checks pass" in alone
    assert "motion" not in alone
    assert "Stop in its motion: 3 checks pass" in both


def test_uncertainties_and_reasons_are_in_the_lines_and_the_records():
    sure, unsure = check("a", 1.2), check("b", 1.3, ratio_uncertainty=0.04)
    item = OpenItem("tilt", SHIMMED, ("b",))
    found = lines([sure, unsure], [item])
    assert any("1.30 ± 0.04" in line for line in found)
    assert not any("1.20 ±" in line for line in found)
    data = verdict_data([sure, unsure], [item, replace(item, case=CASE)])
    assert [record["ratio_uncertainty"] for record in data["checks"]] == [0.0, 0.04]
    assert [record["accepted"] for record in data["open_items"]] == ["set by shims on site", None]
    assert [record["sections"] for record in data["open_items"]] == [["b"], ["b"]]


def test_an_even_load_is_said_to_be_stated_where_it_is():
    for distribution, count in (("even", 1), (None, 0)):
        of = restated(CASE, distribution=distribution)
        found = [line.text for line in verdict_lines(of, ["a"], [check("a", 0.5)], [])]
        assert sum("stated in [load] distribution" in line for line in found) == count


def test_what_is_not_finite_is_null():
    (record,) = verdict_data([replace(check("", 1.0), resistance=0.0)], [])["checks"]
    assert (record["ratio"], record["section"], record["verdict"]) == (None, None, "fails")


FIGURES = st.lists(
    st.builds(Value, st.floats(0.1, 10.0), st.floats(0.0, 1.0)), min_size=1, max_size=8
)


@given(FIGURES)
def test_names_that_are_parted_are_in_order_and_all_others_are_tied(values):
    values.sort(key=lambda value: value.value)
    of = dict(zip(map(str, range(len(values))), values, strict=True))
    groups = ties(list(of), of.__getitem__)
    assert [name for group in groups for name in group] == list(of)
    for group, after in pairwise(groups):
        last, first = of[group[-1]], of[after[0]]
        assert last.value + last.uncertainty < first.value - first.uncertainty
    shown = places(list(of), of.__getitem__)
    assert len({shown[name] for name in of}) == len(groups)
    assert ranked(list(of), of.__getitem__).count("=") == len(of) - len(groups)


def test_1_579_and_1_582_with_0_005_are_tied():
    of = {"a": Value(1.579, 0.005), "b": Value(1.582, 0.005)}
    assert ties(["a", "b"], of.__getitem__) == [["a", "b"]]


def test_solid_and_tube_have_marks_on_all_that_follows_from_a_figure_out_of_range():
    """a/R beyond a tenth marks the half-width, p0 and every stress and clause made of p0."""
    for size in (SOLID, TUBE):
        (section,) = by_hand(stop(size, line_load=80e3, friction=0.2)).sections
        steps = {step.key: step.worked for step in section.steps}
        mark = next(limit for limit in steps["hertz_peak_pressure"].exceeded if limit.what == "a/R")
        for key in (
            "hertz_half_width", "hertz_peak_von_mises", "hertz_peak_von_mises_plate",
            "hertz_max_shear", "sliding_peak_von_mises", "sliding_edge_tension",
        ):  # fmt: skip
            assert mark in steps[key].exceeded, key


def test_two_items_of_a_key_each_say_what_settles_them():
    one = OpenItem("tolerance", stop(TUBE))
    items = (one, replace(one, sections=("b",), why="own mesh"))
    (line,) = open_lines(stop(TUBE), items, by_name=True)
    assert line.text.count("add [tolerance]") == 1
    first, second = open_lines(stop(TUBE), items)
    assert "add [tolerance]" in first.text
    assert "add [tolerance]" not in second.text
