"""Every row of the verification set, in the order of the table."""

import re
from functools import cache
from itertools import chain

from contactfe.errors import InputError
from contactfe.verify import (
    reference,
    solved_contact,
    solved_corner,
    solved_filled,
    solved_finite,
    solved_friction,
    solved_plate,
    solved_ring,
    stiffness,
)
from contactfe.verify.row import Row
from contactfe.verify.table import table

TABLES = (
    "textbook_rollers", "line_contact", "sliding", "shakedown", "approach", "ring", "plate",
    "post_and_weld", "length", "impact", "similitude", "standards_us", "standards_en",
)  # fmt: skip
_MODULES = (
    solved_contact,
    solved_ring,
    solved_plate,
    solved_friction,
    solved_corner,
    solved_filled,
    solved_finite,
    stiffness,
    reference,
)
"""Rows that are solved, where the solution is Python."""


@cache
def rows() -> tuple[Row, ...]:
    """Hand formulas first, then clauses, solved cases and those beside other libraries."""
    tables = (table(name) for name in TABLES)
    return tuple(chain(*tables, *(module.ROWS for module in _MODULES)))


def rows_like(text: str | None) -> tuple[Row, ...]:
    """The rows whose case, source or kind holds a text, in any case of letters; all without one.

    Raises InputError where no row does.
    """
    if text is None:
        return rows()
    # Whatever a word begins with it: "ring" is not of a bearing.
    sought = re.compile(rf"(?<!\w){re.escape(text)}", re.IGNORECASE)
    found = tuple(
        row
        for row in rows()
        if any(sought.search(held) for held in (row.case, row.source, row.kind))
    )
    if not found:
        raise InputError(f'no row of the verification set is like "{text}"; leave it out for all')
    return found
