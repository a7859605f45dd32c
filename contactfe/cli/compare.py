"""`contactfe compare`."""

import sys

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    accuracy_option,
    case_argument,
    count_progress,
    json_option,
    processes_option,
    with_accuracy,
)
from contactfe.cli.results import deliver, destination


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write figures, fields and results into this folder"
    " [default: CASE-results in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every check that applies passes, no item is open that the case"
    " does not accept, and the accuracy asked for was reached.",
)
@accuracy_option
@processes_option
def compare(
    case_file: str,
    out: str | None,
    json_to: str | None,
    strict: bool,
    accuracy: str | None,
    processes: int | None,
) -> None:
    """Compare the sections of a case: which one relieves the contact, by how much, and why.

    Exit status: 0 if solved, 1 with --strict if a section does not pass, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from contactfe.assess.compare import compare as compare_sections
    from contactfe.case import read_case
    from contactfe.report.document import document
    from contactfe.report.output import FOLDER, save
    from contactfe.report.table import comparison_page

    case = with_accuracy(read_case(case_file), accuracy)
    to = destination(case, out, json_to, FOLDER)
    with count_progress("sections") as tell:
        answer = compare_sections(case, processes, tell)
    deliver(answer, to, save, document, comparison_page)
    if strict and not (answer.settled and answer.accurate):
        sys.exit(NOT_SATISFIED)
