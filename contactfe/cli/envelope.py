"""`contactfe envelope`."""

import sys
from functools import partial

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    accuracy_option,
    case_argument,
    full_option,
    json_option,
    out_option,
    processes_option,
    strict_option,
    with_accuracy,
)
from contactfe.cli.results import deliver, destination, solved_on_record


@click.command()
@case_argument
@out_option("table, figure and data", "envelope")
@json_option
@full_option
@strict_option(
    "every check that applies passes at every contact, no item is open that the case does not"
    " accept, and the accuracy asked for was reached"
)
@accuracy_option
@processes_option
def envelope(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    strict: bool,
    accuracy: str | None,
    processes: int | None,
) -> None:
    """Solve every contact of the envelope: what governs, and where.

    The contacts are the combinations of offset, angle and friction in [envelope].

    What is solved is kept in the folder as it is finished: a run that was stopped goes on where it
    was when the same command is given again.

    Exit status: 0 if solved, 1 with --strict if a section does not pass at every contact, 2 for bad
    input, 3 if not solved, 130 if stopped.
    """
    from contactfe.case import read_case

    case = with_accuracy(read_case(case_file), accuracy)

    from contactfe.assess.envelope import check_envelope
    from contactfe.assess.envelope import envelope as solve_envelope
    from contactfe.report.envelope import OUTPUT
    from contactfe.report.envelope_record import row_record

    check_envelope(case)
    to = destination(case, out, json_to, full, OUTPUT.folder)
    answer = solved_on_record(
        to,
        partial(row_record, case),
        ("contacts", "the governing ones in full", "contacts"),
        lambda tell, record: solve_envelope(
            case, processes, tell, record or (), None if record is None else record.add
        ),
    )
    deliver(answer, to, OUTPUT)
    if strict and not (answer.settled and answer.accurate):
        sys.exit(NOT_SATISFIED)
