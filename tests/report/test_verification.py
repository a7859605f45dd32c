"""The verification table and its document."""

import json
from dataclasses import replace

import pytest
from saying import figures, only

from contactfe.errors import SolveError
from contactfe.report.blocks import Heading, Table
from contactfe.report.page import WIDEST, as_text
from contactfe.report.verification import verification_document, verification_page
from contactfe.verify import Row, run_all


def _unsolved() -> float:
    raise SolveError("the contact did not settle")


ROW = Row(
    key="wheel-pressure",
    kind="finite elements",
    case="Peak pressure of a wheel",
    source="a book on wheels, example 1: seen",
    published=70243.0,
    tool=lambda: 70224.1,
    allowed=3e-3,
    why="mesh",
    unit="psi",
)
ROWS = (
    ROW,
    replace(ROW, key="wheel-depth", case="Depth in it", published=0.7, tool=lambda: 0.71, unit="1",
            allowed=0.05, absolute=True),
    replace(ROW, key="ring", case="Ring on a bed", source="a series", published=-20.0, unit="MPa",
            tool=lambda: -21.0),
    replace(ROW, key="disc", kind="hand formula", case="Centre of a disc", source="a paper",
            published=6.0, tool=lambda: 6.0),
    replace(ROW, key="axle", case="Axle of it", source="a book on wheels, example 1: seen",
            published=5.0, tool=lambda: 5.0),
    replace(ROW, key="not-solved", case="A plate that tilts", source="a series", tool=_unsolved),
    replace(ROW, key="library", kind="reference library", case="By a library", source="a library",
            needs="no_such_library"),
)  # fmt: skip


@pytest.fixture
def outcomes():
    return run_all(ROWS)


def _lines(outcomes):
    return as_text(verification_page(outcomes), WIDEST).splitlines()


def _line(outcomes, start):
    (line,) = [line for line in _lines(outcomes) if line.strip().startswith(start)]
    return line.split()


def test_nothing_is_cut(outcomes):
    lines = _lines(outcomes)
    assert "…" not in "".join(lines)
    assert max(map(len, lines)) <= WIDEST


def test_a_row_shows_both_values_the_difference_and_what_is_allowed(outcomes):
    assert _line(outcomes, "Peak pressure of a wheel")[5:] == [
        "70243", "70224.1", "psi", "-0.027", "%", "0.3", "%", "yes", "mesh",
    ]  # fmt: skip


def test_an_absolute_difference_has_no_percent(outcomes):
    assert _line(outcomes, "Depth in it")[3:] == ["0.7", "0.71", "+0.01", "0.05", "yes", "mesh"]


def test_a_difference_of_rounding_is_not_a_negative_zero():
    outcomes = run_all([replace(ROW, published=1.0, tool=lambda: 1.0 - 1e-15)])
    assert "+0.000" in _line(outcomes, "Peak pressure")


def test_what_fails_says_so_without_colour_and_is_named_again(outcomes):
    assert "NO" in _line(outcomes, "Ring on a bed")
    again = only(verification_page(outcomes), "ring: Ring on a bed", "-21 MPa", "-20 MPa")
    assert figures(again) == [-21.0, -20.0, -5.0, 0.3]
    assert "NO" in _line(outcomes, "A plate that tilts")
    assert only(verification_page(outcomes), "not-solved:", "the contact did not settle")


def test_what_was_not_run_says_so_and_the_sum_says_why(outcomes):
    assert _line(outcomes, "By a library")[-5:] == ["0.3", "%", "not", "run", "mesh"]
    *_, last = _lines(outcomes)
    assert only([last], "4 of 6 pass", "1 not run", "1 as no_such_library")


def test_what_was_not_run_is_not_named_among_those_that_did_not_pass(outcomes):
    lines = _lines(outcomes)
    named = {line.split(":")[0] for line in lines[lines.index("Did not pass") + 1 :]}
    assert {"ring", "not-solved"} < named
    assert "library" not in named


def test_the_sum_is_red_where_a_row_fails_and_not_where_one_was_not_run():
    passes, missing = ROWS[3], ROWS[6]
    for rows, tone in (
        ((passes,), "strong"), ((passes, missing), "strong"),
        ((passes, ROWS[2]), "bad"), ((passes, ROWS[5]), "bad"),
    ):  # fmt: skip
        *_, last = verification_page(run_all(rows))
        assert last.tone == tone


def test_kinds_stand_in_order_under_headings_with_counts(outcomes):
    heads = [b.text for b in verification_page(outcomes) if isinstance(b, Heading)]
    for head, *parts in zip(
        heads,
        ("hand formulas", "finite elements", "library"),
        ("1 of 1 pass", "3 of 5 pass", "0 of 0 pass, 1 not run"),
        strict=True,
    ):
        assert only([head], *parts)
    assert "not run" not in heads[1]


def test_a_source_stands_once_above_its_rows_and_heads_once_in_a_kind(outcomes):
    tables = [b for b in verification_page(outcomes) if isinstance(b, Table)]
    assert {t.title: [row[0] for row in t.groups[0]] for t in tables} == {
        "a paper": ["Centre of a disc"],
        ROW.source: ["Peak pressure of a wheel", "Depth in it", "Axle of it"],
        "a series": ["Ring on a bed", "A plate that tilts"],
        "a library": ["By a library"],
    }
    assert [bool(t.columns[0].head) for t in tables] == [True, True, False, True]


def test_names_are_not_taken_for_markup():
    outcomes = run_all([replace(ROW, case="Pressure [bold]p0[/bold]", source="book [1]")])
    text = "\n".join(_lines(outcomes))
    assert "Pressure [bold]p0[/bold]" in text
    assert "book [1]" in text


def test_the_document_has_every_row_and_the_counts(outcomes):
    document = json.loads(json.dumps(verification_document(outcomes), allow_nan=False))
    assert [document[key] for key in ("passed", "failed", "not_run")] == [4, 2, 1]
    assert document["generator"]["name"] == "contactfe"
    assert [row["key"] for row in document["rows"]] == [row.key for row in ROWS]
    wheel, depth, *_, library = document["rows"]
    assert wheel["published"] == 70243.0
    assert wheel["value"] == 70224.1
    assert wheel["difference"] == pytest.approx(-2.69e-4, abs=1e-6)
    assert (wheel["allowed"], wheel["absolute"], wheel["unit"]) == (3e-3, False, "psi")
    assert (wheel["source"], wheel["why_allowed"]) == (ROW.source, "mesh")
    assert (wheel["kind"], wheel["case"], wheel["passed"]) == (ROW.kind, ROW.case, True)
    assert depth["absolute"] is True
    assert library["passed"] is None
    assert library["value"] is None
    assert library["remark"].startswith("no_such_library")


def test_a_value_that_is_no_number_can_be_written():
    outcomes = run_all([replace(ROW, tool=lambda: float("nan"))])
    (row,) = json.loads(json.dumps(verification_document(outcomes), allow_nan=False))["rows"]
    assert row["value"] is None
    assert row["passed"] is False


def test_what_was_printed_and_seen_is_distinct_from_what_was_not():
    origins = ("seen", "from memory", "computed here", "computed here")
    outcomes = run_all([replace(ROW, origin=origin) for origin in origins])
    assert only(
        verification_page(outcomes), "1 printed and seen", "1 printed but from memory, not seen",
        "2 computed here",
    )  # fmt: skip


def test_a_long_number_keeps_its_column():
    (outcome,) = run_all([replace(ROW, published=-0.00195312345, tool=lambda: -0.00195312345)])
    assert "-1.95e-03 " in " ".join(_lines((outcome,)))
