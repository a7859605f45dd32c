"""`contactfe impact`."""

import sys

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    case_argument,
    count_progress,
    json_option,
    processes_option,
)
from contactfe.cli.results import deliver, destination


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write page, time history, figure and data into this folder"
    " [default: CASE-impact in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless the force that [load] states covers the peak contact force.",
)
@processes_option
def impact(
    case_file: str, out: str | None, json_to: str | None, strict: bool, processes: int | None
) -> None:
    """The contact force that the motion of the floor gives: the first impact over time.

    Exit status: 0 if solved, 1 with --strict if the load of the case does not cover it, 2 for bad
    input, 3 if not solved, 130 if stopped.
    """
    from contactfe.assess.impact import impact_force
    from contactfe.case import read_case
    from contactfe.report.impact import impact_document
    from contactfe.report.impact_folder import FOLDER, save_impact
    from contactfe.report.impact_page import impact_page

    case = read_case(case_file)
    to = destination(case, out, json_to, FOLDER)
    with count_progress("sections") as tell:
        answer = impact_force(case, processes, tell)
    deliver(answer, to, save_impact, impact_document, impact_page)
    if strict and not answer.satisfied:
        sys.exit(NOT_SATISFIED)
