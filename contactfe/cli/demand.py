"""`contactfe demand`."""

import sys

import click

from contactfe.cli.common import NOT_SATISFIED, case_argument, json_option, progress
from contactfe.cli.results import deliver, destination


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write page, time history, figure and data into this folder"
    " [default: CASE-demand in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless the force that [load] states covers the peak contact force.",
)
def demand(case_file: str, out: str | None, json_to: str | None, strict: bool) -> None:
    """The contact force that the motion of the floor gives: the first strike over time.

    Exit status: 0 if solved, 1 with --strict if the load of the case does not cover it, 2 for bad
    input, 3 if not solved, 130 if stopped.
    """
    from contactfe.assess.demand import demand as find_demand
    from contactfe.case import read_case
    from contactfe.report.demand import demand_document
    from contactfe.report.demand_folder import FOLDER, save_demand
    from contactfe.report.demand_page import demand_page
    from contactfe.report.page import print_page

    case = read_case(case_file)
    to = destination(case, out, json_to, FOLDER)
    with progress(len(case.sections)) as tell:
        answer = find_demand(case, tell)
    deliver(
        answer,
        to,
        save_demand,
        demand_document,
        lambda found, console: print_page(demand_page(found), console),
    )
    if strict and not answer.satisfied:
        sys.exit(NOT_SATISFIED)
