"""`contactfe size`."""

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
    help="Write page, figure and data into this folder [default: CASE-size in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every outside diameter has a wall, or a stock size near it,"
    " that passes every check that counts, the load covers the motion, and no item is open that"
    " the case does not accept.",
)
@processes_option
def size(
    case_file: str, out: str | None, json_to: str | None, strict: bool, processes: int | None
) -> None:
    """Size the wall of the post: the smallest that passes, and that of the least concentration.

    For every outside diameter of [sizing] walls from thin to solid are solved and judged, at every
    contact of [envelope] where the case has one; edges and the least value are refined by solving.

    Exit status: 0 if solved, 1 with --strict if no wall of a diameter passes, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from contactfe.assess.sizing.run import size as size_walls
    from contactfe.case import read_case
    from contactfe.report.sizing import FOLDER, save_sizing, sizing_document
    from contactfe.report.sizing_page import sizing_page

    case = read_case(case_file)
    to = destination(case, out, json_to, FOLDER)
    with count_progress("solves") as tell:
        answer = size_walls(case, processes, tell)
    deliver(answer, to, save_sizing, sizing_document, sizing_page)
    if strict and not answer.settled:
        sys.exit(NOT_SATISFIED)
