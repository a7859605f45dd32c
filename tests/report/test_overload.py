"""Strikes beyond first yield as page, document and table."""

import csv
import json
from dataclasses import replace

import pytest
from overloads import SOLID, TUBE, changed, no_strike, solved, spanned, unsolved
from restated import restated
from saying import figures, only, said

from contactfe.assess.overload.marks import MARKS
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.value import Value
from contactfe.case.display import SI
from contactfe.report.answer import LINES
from contactfe.report.blocks import Line, Table
from contactfe.report.csv_file import write_csv
from contactfe.report.json_file import as_text as as_json
from contactfe.report.overload import COLUMNS, overload_document
from contactfe.report.overload_page import answer, overload_answer, overload_page
from contactfe.report.page import NARROWEST, as_text


def fails(of: OverloadResult) -> OverloadResult:
    """The same where a check beside the solved ones of the tube fails."""
    section = of.section(TUBE)
    (strike,) = section.strikes
    check = replace(strike.beside[0], demand=2.0, resistance=1.0, missing="", exceeded=())
    failing = replace(strike, beside=(replace(check, applies=True),))
    at = [replace(s, strikes=(failing,)) if s is section else s for s in of.sections]
    return replace(of, sections=tuple(at))


def cells(table: Table) -> list[str]:
    return [
        cell.text if isinstance(cell, Line) else cell
        for group in table.groups
        for row in group
        for cell in row
    ]


def tables(page) -> list[Table]:
    return [block for block in page if isinstance(block, Table)]


def test_the_answer_is_the_least_dent_the_greatest_reserve_and_how_that_stands_to_k():
    of = spanned()
    text = " ".join(answer(of))
    best, other = of.by_dent.values
    dent = only(text, f"{of.by_dent.names[0]}”: ", "µm")
    assert pytest.approx(1e3 * best.value, abs=1e3 * best.uncertainty) in figures(dent)
    assert pytest.approx(of.compared_at, rel=1e-3) in figures(dent)
    assert pytest.approx(other.value / best.value, rel=0.06) in figures(dent)
    reserve, end = only(text, "reserve until", "least for"), of.section(TUBE).spans
    assert f"not reached by “{SOLID}”" in reserve
    assert pytest.approx(end.value, rel=1e-3) in figures(reserve)
    assert pytest.approx(1.05, rel=0.01) in figures(reserve)  # 0.7 of 1.5
    least = of.comparison.least_concentration
    assert least == TUBE
    assert pytest.approx(of.comparison.concentration_of(TUBE).value, rel=0.01) in figures(
        only(text, "NOT that of K", TUBE)
    )


def test_where_the_section_of_least_k_is_the_best_too_that_is_said():
    of = solved()
    loading = of.section(TUBE).loading
    shallow = tuple(tuple(0.1 * depth for depth in dents) for dents in loading.dents)
    better = changed(loading=replace(loading, dents=shallow))
    assert better.by_dent.leading == (TUBE,)
    assert TUBE in better.by_reserve.leading
    assert said(" ".join(answer(better)), TUBE, "least K", "too")
    assert not said(" ".join(answer(better)), "NOT that of K")


def test_a_dent_that_no_one_can_see_is_nothing_to_compare_others_with():
    loading = solved().section(TUBE).loading
    none = tuple(tuple(1e-9 * depth for depth in dents) for dents in loading.dents)
    of = changed(loading=replace(loading, dents=none, uncertainty=(0.0,) * len(none[0])))
    text = only(" ".join(answer(of)), "the dent is", TUBE)
    assert pytest.approx(1e3 * of.by_dent.values[1].value, rel=0.01) in figures(text)
    assert "times" not in text


def test_other_checks_that_fail_at_a_load_are_named_with_it():
    of = fails(solved())
    load = of.section(TUBE).strikes[0].line_load
    text = only(" ".join(answer(of)), "fails beside", TUBE)
    assert pytest.approx(load, rel=1e-3) in figures(text)
    assert not said(" ".join(answer(solved())), "fails beside")
    assert any("2.00 FAILS" in cell for table in tables(overload_page(of)) for cell in cells(table))


def test_a_load_that_is_left_out_has_the_reason_and_no_numbers():
    of = unsolved()
    text = only(overload_page(of)[:-8], "left out", TUBE, "first yield")
    assert 1000.0 in figures(text)
    assert said(" ".join(answer(of)), "not compared", TUBE)
    assert "none solved" in cells(tables(overload_page(of))[0])
    assert of.by_dent is None
    beyond = changed(left_out=(5000.0,), ended="plastic strain")
    assert figures(only(overload_answer(beyond), "left out", TUBE))[-1] == 5.0  # %


@pytest.mark.parametrize("of", [solved, spanned, unsolved, no_strike, lambda: fails(solved())])
def test_the_answer_fits_a_screen(of):
    assert as_text(overload_answer(of()), NARROWEST).count("\n") < LINES


def test_a_section_that_was_not_struck_is_told_all_the_same():
    of = no_strike()
    text = only(overload_page(of)[:-8], "left out", TUBE, "plastic strain")
    assert 1900.0 in figures(text)
    assert said(overload_page(of), "first yield at", "in the post")
    assert overload_document(of)["sections"][1]["loading"] is not None


def test_line_loads_are_means_along_the_post():
    of, share = changed(whole=0.5), 0.5
    strike = of.section(TUBE).strikes[0]
    (table,) = tables(overload_answer(of))
    (row,) = (row for row in table.groups[0] if row[0] == TUBE)
    assert figures(row[2]) == [pytest.approx(share * strike.line_load, rel=1e-3)]
    first = of.section(TUBE).first_yield.value
    assert pytest.approx(share * first, rel=1e-3) in figures(
        said(overload_page(of), "first yield at")[1]
    )
    assert overload_document(of)["sections"][1]["strikes"][0]["line_load"] == strike.line_load


def test_the_table_has_a_row_a_strike():
    of = solved()
    (table,) = tables(overload_answer(of))
    rows = table.groups[0]
    assert [row[0] for row in rows] == list(of.by_dent.names)
    for name, row in zip(of.by_dent.names, rows, strict=True):
        (strike,) = of.section(name).strikes
        shown = [figures(cell)[0] for cell in row[1:6]]
        strain = max(strike.values[f"{b}_plastic_strain"].value for b in ("post", "plate"))
        known = [
            strike.factor, strike.line_load,
            *(1e3 * strike.values[f"{b}_dent_depth"].value for b in ("post", "plate")),
            100.0 * strain,
        ]  # fmt: skip
        assert shown == pytest.approx(known, rel=0.06)
        assert row[6] == ("yes" if any(s.yields for s in strike.second) else "no")


def test_the_page_has_every_figure_of_every_section():
    of = solved()
    page = overload_page(of)
    every = [table for table in tables(page) if table.title == "Each strike"]
    assert len(every) == 2
    for section, table in zip(of.sections, every, strict=True):
        (strike,) = section.strikes
        labels = [row[0].rpartition(" [")[0] for row in table.groups[0]]
        assert labels == [mark.label for mark in MARKS if mark.key in strike.values]
    again = [table for table in tables(page) if "shakedown" in table.note.lower()]
    for section, table in zip(of.comparison.sections, again, strict=True):
        limits = [body.shakedown_line_load for _, body in section.bodies]
        assert [*figures(table.note)][-2:] == pytest.approx(limits, rel=1e-3)
    assert any("hardening" in block.text for block in page if isinstance(block, Line))


def test_units_are_those_of_the_case():
    of = solved()
    case = restated(of.case, report_units="US customary")
    us = replace(of, case=case, open_items=())  # which have a case of their own
    text = as_text(overload_page(us))
    assert " kip/in" in text
    assert "[mil]" in text
    assert [unit for unit in ("N/mm", "µm", "MPa") if unit in text] == []


def test_the_document_has_every_value_with_its_unit_and_no_nan():
    of = spanned()
    content = json.loads(as_json(overload_document(of)))
    assert content["by_dent"]["names"] == list(of.by_dent.names)
    for section, there in zip(of.sections, content["sections"], strict=True):
        (strike,) = section.strikes
        (found,) = there["strikes"]
        assert set(found["values"]) == set(strike.values)
        for key, value in found["values"].items():
            assert value["value"] == strike.values[key].value
            assert value["uncertainty"] == strike.values[key].uncertainty
            assert value["unit"]
        assert found["unloading"]["line_load"][-1] == 0.0
        assert len(there["zones"]) == len(found["dents"]) == 2
        assert there["loading"]["line_load"][-1] == pytest.approx(section.solved_to)
        assert there["spans"] == (section.spans and section.spans.value)
        assert set(there["shakedown_line_load"]) == {"post", "plate"}
    assert content["checks"][0]["key"] == "overload_reserve"
    bare = overload_document(unsolved())["sections"][1]
    assert bare["why_left_out"]
    assert bare["strikes"] == []
    assert bare["first_yield"] is bare["loading"] is bare["zones"] is None


def test_the_table_of_a_file_has_a_row_a_strike_and_every_figure_with_its_uncertainty(tmp_path):
    of = spanned()
    items = [(s, strike) for s in of.sections for strike in s.strikes]
    write_csv(tmp_path / "a.csv", COLUMNS, items)
    with (tmp_path / "a.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["section"] for row in rows] == [SOLID, TUBE]
    for (section, strike), row in zip(items, rows, strict=True):
        for mark in MARKS:
            name = "1" if mark.dimension is None else SI.unit(mark.dimension).name
            value = strike.values.get(mark.key, None)
            for what, number in (("", "value"), (", uncertainty", "uncertainty")):
                cell = row[f"{mark.label}{what} [{name}]"]
                assert cell == ("" if value is None else repr(getattr(value, number)))
        assert float(row["peak line load [N/mm]"]) == strike.line_load
        spans = row["plastic zone through the wall at [N/mm]"]
        assert spans == ("" if section.spans is None else repr(section.spans.value))
    assert len({column.head(SI) for column in COLUMNS}) == len(COLUMNS)


def test_a_collapse_is_a_reserve_as_well():
    load = 0.7 * solved().section(TUBE).solved_to
    of = changed(collapses=Value(load, 10.0), ended="collapse", left_out=(2.0 * load,))
    text = only(" ".join(answer(of)), "least for", "collapse at", TUBE)
    assert pytest.approx(load, rel=1e-3) in figures(text)
    assert of.section(TUBE).reserve.value == load
