"""`contactfe impact`."""

import sys

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
from contactfe.cli.results import solved


@click.command()
@case_argument
@out_option("page, time history, figure and data", "impact")
@json_option
@full_option
@strict_option("the load covers the peak contact force and every other check of it passes")
@processes_option
def impact(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    strict: bool,
    processes: int | None,
) -> None:
    """Find the contact force of the first impact from the motion.

    The motion of the floor is that of [motion], for each level of hazard that it states.

    Exit status: 0 if solved, 1 with --strict if a check of it does not pass, 2 for bad input, 3 if
    not solved, 130 if stopped.
    """
    from contactfe.case import read_case

    case = read_case(case_file)

    from contactfe.assess.impact import impact_force
    from contactfe.report.impact_output import OUTPUT

    answer = solved(
        case,
        out,
        json_to,
        full,
        OUTPUT,
        "sections",
        lambda tell: impact_force(case, processes, tell),
    )
    if strict and not answer.satisfied:
        sys.exit(NOT_SATISFIED)
