"""The line load of each plate of a case."""

from contactfe.case import Case


def line_load(case: Case, number: int) -> float:
    """Line load on the plate of that number, N/mm."""
    if number == 0:
        return case.line_load
    assert case.corner is not None
    return case.corner.line_load
