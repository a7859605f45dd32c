"""Every row of the verification set, in the order of the table."""

from functools import cache

from contactfe.errors import InputError
from contactfe.verify import (
    approach,
    disc,
    impact,
    length,
    line_contact,
    plate,
    post_and_weld,
    reference,
    ring,
    shakedown,
    similitude,
    sliding,
    solved_contact,
    solved_corner,
    solved_filled,
    solved_friction,
    solved_plate,
    solved_ring,
    standards_en,
    standards_us,
    stiffness,
    textbook_beams,
    textbook_rollers,
)
from contactfe.verify.row import Row

_MODULES = (
    textbook_rollers,
    line_contact,
    sliding,
    shakedown,
    approach,
    ring,
    disc,
    plate,
    textbook_beams,
    post_and_weld,
    length,
    impact,
    similitude,
    standards_us,
    standards_en,
    solved_contact,
    solved_ring,
    solved_plate,
    solved_friction,
    solved_corner,
    solved_filled,
    stiffness,
    reference,
)


@cache
def rows() -> tuple[Row, ...]:
    """Hand formulas first, then clauses, solved cases and those beside other libraries."""
    return tuple(row for module in _MODULES for row in module.ROWS)


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
