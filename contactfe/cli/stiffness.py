"""`contactfe stiffness`."""

import click

from contactfe.cli.common import (
    case_argument,
    full_option,
    json_option,
    out_option,
    processes_option,
)
from contactfe.cli.results import solved


@click.command()
@case_argument
@out_option("curves, hand-over, page, figure and data", "stiffness")
@json_option
@full_option
@click.option(
    "--points",
    type=click.IntRange(min=10, max=10_000),
    default=100,
    show_default=True,
    metavar="N",
    help="How many points each curve has.",
)
@processes_option
def stiffness(
    case_file: str,
    out: str | None,
    json_to: str | None,
    full: bool,
    points: int,
    processes: int | None,
) -> None:
    """Find force over approach, for a time-history analysis.

    The curves go up to the impact force where the case states a motion. They have the post's
    bending in series for a model without the post, and not for one that has the post as an element.

    Exit status: 0 if solved, 2 for bad input, 3 if not solved, 130 if stopped.
    """
    from contactfe.case import read_case

    case = read_case(case_file)

    from contactfe.assess.stiffness import stiffness as solve
    from contactfe.report.stiffness_output import OUTPUT

    solved(
        case,
        out,
        json_to,
        full,
        OUTPUT,
        "sections",
        lambda tell: solve(case, points, processes, tell),
    )
