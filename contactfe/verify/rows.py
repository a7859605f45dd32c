"""Every row of the verification set, in the order of the table."""

from functools import cache

from contactfe.errors import InputError
from contactfe.verify import (
    line_contact,
    plate_and_post,
    reference,
    ring_and_disc,
    solved,
    standards,
)
from contactfe.verify.row import Row


@cache
def rows() -> tuple[Row, ...]:
    """Hand formulas first, then clauses, solved cases and those beside other libraries."""
    modules = (line_contact, ring_and_disc, plate_and_post, standards, solved, reference)
    return tuple(row for module in modules for row in module.ROWS)


def rows_like(text: str | None) -> tuple[Row, ...]:
    """The rows whose case, source or kind holds a text, in any case of letters; all without one.

    Raises InputError where no row does.
    """
    if text is None:
        return rows()
    sought = text.casefold()
    found = tuple(
        row
        for row in rows()
        if any(sought in held.casefold() for held in (row.case, row.source, row.kind))
    )
    if not found:
        raise InputError(f'no row of the verification set is like "{text}"; leave it out for all')
    return found
