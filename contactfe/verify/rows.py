"""Every row of the verification set, in the order of the table."""

from functools import cache

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
