"""Running rows: the difference, what passes, what is not run, and what cannot be solved."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.verify import Row, run, run_all

ROW = Row(
    key="a-row",
    kind="hand formula",
    case="a half of 4",
    source="arithmetic",
    published=2.0,
    tool=lambda: 2.1,
    allowed=0.06,
    why="for a test",
)


def test_the_difference_is_relative_to_the_published_value():
    outcome = run(ROW)
    assert (outcome.published, outcome.value) == (2.0, 2.1)
    assert outcome.difference == pytest.approx(0.05)
    assert outcome.passed is True


def test_a_negative_published_value_keeps_the_sign_of_the_difference():
    outcome = run(replace(ROW, published=-2.0, tool=lambda: -2.1))
    assert outcome.difference == pytest.approx(-0.05)


def test_an_absolute_difference_is_in_the_unit_of_the_row():
    outcome = run(replace(ROW, absolute=True, unit="mm"))
    assert outcome.difference == pytest.approx(0.1)
    assert outcome.passed is False
    assert run(replace(ROW, absolute=True, published=0.0, tool=lambda: 0.05)).passed is True


@given(st.floats(-1e6, 1e6).filter(lambda v: abs(v) > 1e-6), st.floats(-0.5, 0.5))
def test_what_lies_beyond_the_allowed_difference_fails(published, off):
    row = replace(ROW, published=published, tool=lambda: published * (1.0 + off))
    if abs(abs(off) - row.allowed) > 1e-9:  # at the bound itself rounding decides
        assert run(row).passed is (abs(off) < row.allowed)


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_no_number_fails(value):
    assert run(replace(ROW, tool=lambda: value)).passed is False
    assert run(replace(ROW, tool=lambda: value, absolute=True)).passed is False


def test_a_published_value_may_have_to_be_computed():
    assert run(replace(ROW, published=lambda: 2.1)).difference == 0.0


def test_a_row_whose_library_is_missing_is_not_run():
    def tool():
        raise AssertionError("must not be called")

    outcome = run(replace(ROW, needs="no_such_library", tool=tool))
    assert outcome.passed is None
    assert (outcome.value, outcome.published, outcome.difference) == (None, None, None)
    assert outcome.remark == "no_such_library is not installed"


def test_a_row_that_cannot_be_solved_fails_and_says_why():
    def tool():
        raise SolveError("the contact did not settle")

    outcome = run(replace(ROW, tool=tool))
    assert outcome.passed is False
    assert (outcome.value, outcome.difference) == (None, None)
    assert "the contact did not settle" in outcome.remark


def test_a_mistake_in_a_row_is_not_taken_for_a_result():
    def tool():
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        run(replace(ROW, tool=tool))


def test_all_are_run_in_order_and_one_that_fails_stops_nothing():
    def tool():
        raise SolveError("no")

    rows = [replace(ROW, key=key, case=key) for key in ("one", "two", "three")]
    rows[1] = replace(rows[1], tool=tool)
    told = []
    outcomes = run_all(rows, lambda *of: told.append(of))
    assert told == [(0, 3), (1, 3), (2, 3), (3, 3)]
    assert [o.row.key for o in outcomes] == ["one", "two", "three"]
    assert [o.passed for o in outcomes] == [True, False, True]


def test_the_time_of_a_row_is_measured():
    assert 0.0 < run(replace(ROW, tool=lambda: float(sum(range(1000))))).seconds < 10.0
