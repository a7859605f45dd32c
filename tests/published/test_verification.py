"""The verification set of `contactfe verify`, row by row: the table is what is tested here."""

import pytest

from contactfe.verify.row import run
from contactfe.verify.rows import rows


def _marks(row):
    # One solve serves all its rows only where one process runs them.
    return [pytest.mark.xdist_group(f"verify {row.solve}")] if row.solve is not None else []


@pytest.mark.parametrize(
    "row", [pytest.param(row, id=row.key, marks=_marks(row)) for row in rows()]
)
def test_row(row):
    outcome = run(row)
    if outcome.passed is None:
        pytest.skip(outcome.remark)
    assert outcome.passed, (
        f"{row.case}: {outcome.tool} {row.unit}, published {outcome.published}, "
        f"difference {outcome.difference:.3g}, allowed {row.allowed}; {row.source}"
    )
