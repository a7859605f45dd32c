"""`contactfe stiffness`."""

import click

from contactfe.cli.common import case_argument, count_progress, json_option, processes_option
from contactfe.cli.results import deliver, destination


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write curves, points, page, figure and data into this folder"
    " [default: CASE-stiffness in the current folder].",
)
@json_option
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
    case_file: str, out: str | None, json_to: str | None, points: int, processes: int | None
) -> None:
    """Force over approach of each section on its plate, for a gap element of a building's model.

    Up to the impact force where the case states a motion; with the post's bending in series, for a
    model without the post, and without it, for a model that has the post as an element.

    Exit status: 0 if solved, 2 for bad input, 3 if not solved, 130 if stopped.
    """
    from contactfe.assess.stiffness import stiffness as solve_stiffness
    from contactfe.case import read_case
    from contactfe.report.stiffness import stiffness_document
    from contactfe.report.stiffness_folder import FOLDER, save_stiffness
    from contactfe.report.stiffness_page import stiffness_page

    case = read_case(case_file)
    to = destination(case, out, json_to, FOLDER)
    with count_progress("sections") as tell:
        answer = solve_stiffness(case, points, processes, tell)
    deliver(answer, to, save_stiffness, stiffness_document, stiffness_page)
