"""The verification set of `contactfe verify`, row by row: the table is what is tested here."""

import re
from collections import Counter
from dataclasses import replace
from itertools import groupby

import pytest

from contactfe.verify import run
from contactfe.verify.rows import rows


def _marks(row):
    # One solve serves all its rows only where one process runs them.
    return [pytest.mark.xdist_group(f"verify {row.solve}")] if row.solve is not None else []


@pytest.mark.parametrize(
    "row", [pytest.param(row, id=row.key, marks=_marks(row)) for row in rows()]
)
def test_row(row):
    outcome = run(row)
    if outcome.passed is None:  # its library is not installed; .ci/run installs it and runs the row
        pytest.skip(outcome.remark)
    assert outcome.passed, (
        f"{row.case}: {outcome.value} {row.unit}, published {outcome.published}, "
        f"difference {outcome.difference}, allowed {row.allowed}; {row.source} {outcome.remark}"
    )


def test_every_row_has_a_key_of_its_own():
    (_, most), *_ = Counter(row.key for row in rows()).most_common(1)
    assert most == 1
    assert all(row.key == row.key.lower() and " " not in row.key for row in rows())


def test_every_row_says_where_its_value_is_from_and_why_a_difference_passes():
    for row in rows():
        assert len(row.source) > 8, row.key
        assert row.why, row.key
        assert row.case, row.key
        assert row.allowed > 0.0, row.key


def test_what_is_counted_of_a_source_is_what_it_says():
    for row in rows():
        if row.kind == "reference library" or "three_dimensions.json" in row.source:
            said = "library"
        elif re.search("computed|derived|evaluated", row.source):
            said = "computed here"
        else:
            words = {"companion": "companion", "memory": "from memory", "seen": "seen"}
            found = [origin for word, origin in words.items() if word in row.source]
            said = (*found, "computed here")[0]
        assert row.origin == said, row.key


def test_the_set_is_as_large_as_it_says():
    kinds = Counter(row.kind for row in rows())
    assert sum(kinds.values()) >= 40
    assert kinds["finite elements"] >= 15
    solves = {row.solve for row in rows() if row.kind == "finite elements"}
    assert len(solves) >= 15
    assert None not in solves


def test_rows_of_one_solve_stand_together():
    # So that the time of a solve falls on its first row, and bodies that are shared are kept.
    found = [solve for solve, _ in groupby(rows(), key=lambda row: row.solve) if solve]
    assert len(found) == len(set(found))


def test_no_allowance_swallows_a_wrong_digit():
    # A published value a tenth off fails every row of a relative allowance.
    for row in rows():
        if not row.absolute:
            assert row.allowed < 0.1, row.key


@pytest.mark.xdist_group("verify hertz 0.005")
def test_a_wrong_published_value_fails():
    (row,) = (row for row in rows() if row.key == "fe-hertz-0.005-peak-pressure")
    assert run(row).passed is True
    assert run(replace(row, published=1.01 * row.published)).passed is False
