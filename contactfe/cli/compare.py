"""`contactfe compare`."""

import sys

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
from contactfe.cli.results import solved


@click.command()
@case_argument
@out_option("figures, fields and results", "results")
@json_option
@full_option
@strict_option(
    "every check that applies passes, no item is open that the case does not accept, and the"
    " accuracy asked for was reached"
)
@accuracy_option
@processes_option
def compare(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    strict: bool,
    accuracy: str | None,
    processes: int | None,
) -> None:
    """Compare the sections of a case: which is best, and why.

    The best has the least stress concentration. The answer says by how much, what passes, what
    fails and what is open.

    Exit status: 0 if solved, 1 with --strict if a section does not pass, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from contactfe.case import read_case

    case = with_accuracy(read_case(case_file), accuracy)

    from contactfe.assess import compare as of
    from contactfe.report.compare_output import OUTPUT

    answer = solved(
        case,
        out,
        json_to,
        full,
        OUTPUT,
        "sections",
        lambda tell: of.compare(case, processes, tell),
    )
    if strict and not (answer.settled and answer.accurate):
        sys.exit(NOT_SATISFIED)
