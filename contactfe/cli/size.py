"""`contactfe size`."""

import sys

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    case_argument,
    json_option,
    out_option,
    processes_option,
    strict_option,
)
from contactfe.cli.results import solved


@click.command()
@case_argument
@out_option("page, figure and data", "size")
@json_option
@strict_option(
    "every outside diameter has a wall, or a stock size near it, that passes every check that"
    " counts, the load covers the motion, and no item is open that the case does not accept"
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
    from contactfe.assess.sizing import run as sizing
    from contactfe.case import read_case
    from contactfe.report.sizing import OUTPUT

    case = read_case(case_file)
    answer = solved(
        case, out, json_to, OUTPUT, "solves", lambda tell: sizing.size(case, processes, tell)
    )
    if strict and not answer.settled:
        sys.exit(NOT_SATISFIED)
