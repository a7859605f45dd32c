"""`contactfe overload`."""

import sys
from functools import partial

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    case_argument,
    full_option,
    json_option,
    out_option,
    processes_option,
    strict_option,
)
from contactfe.cli.results import deliver, destination, solved_on_record


@click.command()
@case_argument
@out_option("page, figures and data", "overload")
@json_option
@full_option
@strict_option(
    "every section is sure to take the load of the case before its wall is plastic throughout or it"
    " collapses, every other check but those of the elastic stress passes, and no item is open that"
    " the case does not accept"
)
@processes_option
def overload(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    strict: bool,
    processes: int | None,
) -> None:
    """Strike each section beyond first yield: the dent, what is left, and the reserve.

    The loads are the multiples of first yield in [overload], and that of the case where it is
    beyond first yield.

    What is solved is kept in the folder as it is finished: a run that was stopped goes on where it
    was when the same command is given again.

    Exit status: 0 if solved, 1 with --strict if not all is in order, 2 for bad input, 3 if not
    solved, 130 if stopped.
    """
    from contactfe.case import read_case
    from contactfe.case.overload import check_overload

    case = read_case(case_file)
    check_overload(case)

    from contactfe.assess.bodies import Bodies
    from contactfe.assess.overload.run import overload as solve
    from contactfe.report.overload import OUTPUT
    from contactfe.report.overload_record import overload_record
    from contactfe.report.record import add

    Bodies(case).check_drawn()
    to = destination(case, out, json_to, full, OUTPUT.folder)
    answer = solved_on_record(
        to,
        partial(overload_record, case),
        ("sections", None, "sections"),
        lambda tell, record: solve(
            case, processes, tell, record or (), None if record is None else partial(add, record)
        ),
    )
    deliver(answer, to, OUTPUT)
    if strict and not answer.settled:
        sys.exit(NOT_SATISFIED)
