"""`contactfe stiffness`."""

from pathlib import Path

import click

from contactfe.cli.common import case_argument, json_option, progress


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
def stiffness(case_file: str, out: str | None, json_to: str | None, points: int) -> None:
    """Force over approach of each section on its plate, for a gap element of a building's model.

    Exit status: 0 if solved, 2 for bad input, 3 if not solved, 130 if stopped.
    """
    from rich.console import Console

    from contactfe.assess.stiffness import stiffness as solve_stiffness
    from contactfe.case import read_case
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.page import print_page
    from contactfe.report.stiffness import stiffness_document
    from contactfe.report.stiffness_folder import (
        check_stiffness_folder,
        default_stiffness_folder,
        save_stiffness,
    )
    from contactfe.report.stiffness_page import stiffness_page

    case = read_case(case_file)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_stiffness_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_stiffness_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    with progress(len(case.sections)) as tell:
        answer = solve_stiffness(case, points, tell)
    written = save_stiffness(answer, folder) if folder is not None else []
    if alone:
        click.echo(as_text(stiffness_document(answer)))
    else:
        print_page(stiffness_page(answer), Console())
        if json_to is not None:
            write_json(Path(json_to), stiffness_document(answer))
        click.echo(f"{len(written)} files written to {folder}")
