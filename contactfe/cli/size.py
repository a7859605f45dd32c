"""`contactfe size`."""

import sys
from functools import partial
from typing import TYPE_CHECKING

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

if TYPE_CHECKING:
    from contactfe.assess.sizing.record import SizingResult, Tried
    from contactfe.report.record import Record
    from contactfe.study.crew import Progress


@click.command()
@case_argument
@out_option("page, figure and data", "size")
@json_option
@full_option
@strict_option(
    "every outside diameter has a wall, or a stock size near it, that passes every check that"
    " counts, the load covers the motion, and no item is open that the case does not accept"
)
@processes_option
def size(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    strict: bool,
    processes: int | None,
) -> None:
    """Size the wall: the smallest that passes, and the best.

    For every outside diameter of [sizing], or of the sections, walls from thin to solid are solved
    and checked, at every contact of [envelope] where the case has one. The smallest and largest
    walls that pass, and the wall of the least stress concentration, are refined by solving.

    What is solved is kept in the folder as it is finished: a run that was stopped goes on where it
    was when the same command is given again.

    Exit status: 0 if solved, 1 with --strict if no wall of a diameter passes, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from contactfe.case import read_case

    case = read_case(case_file)

    from contactfe.assess.sizing import run as sizing
    from contactfe.report.record import add
    from contactfe.report.sizing import OUTPUT
    from contactfe.report.sizing_record import trial_record

    to = destination(case, out, json_to, full, OUTPUT.folder)

    def solve(tell: "Progress", record: "Record[Tried] | None") -> "SizingResult":
        if record is not None and len(record) > 0:
            click.echo(f"{len(record)} solves are there from an earlier run", err=True)
        tell(0, 0)  # how many are there is said, and how many are needed not yet known
        keep = None if record is None else partial(add, record)
        return sizing.size(case, processes, tell, record or (), keep)

    of_what = "solves", None, "solves known to be needed"
    answer = solved_on_record(to, partial(trial_record, case), of_what, solve)
    deliver(answer, to, OUTPUT)
    if strict and not answer.settled:
        sys.exit(NOT_SATISFIED)
