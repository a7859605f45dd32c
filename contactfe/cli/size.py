"""`contactfe size`."""

import sys
from pathlib import Path

import click

from contactfe.cli.common import NOT_SATISFIED, case_argument, count_progress, json_option


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
    " that passes every check that counts.",
)
@click.option(
    "--processes",
    type=click.IntRange(min=1),
    metavar="N",
    help="How many processes share the work [default: as many as there are cores to use].",
)
def size(
    case_file: str, out: str | None, json_to: str | None, strict: bool, processes: int | None
) -> None:
    """Size the wall of the post: the smallest that passes, and that of the least concentration.

    For every outside diameter of [size] walls from thin to solid are solved and judged, at every
    contact of [envelope] where the case has one; edges and the least value are refined by solving.

    Exit status: 0 if solved, 1 with --strict if no wall of a diameter passes, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from rich.console import Console

    from contactfe.assess.sizing.run import size as size_walls
    from contactfe.case import read_case
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.sizing import sizing_document
    from contactfe.report.sizing_folder import (
        check_sizing_folder,
        default_sizing_folder,
        save_sizing,
    )
    from contactfe.report.sizing_table import print_sizing

    case = read_case(case_file)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_sizing_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_sizing_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    with count_progress("solves", "solves") as tell:
        answer = size_walls(case, processes, tell)
    written = save_sizing(answer, folder) if folder is not None else []
    if alone:
        click.echo(as_text(sizing_document(answer)))
    else:
        print_sizing(answer, Console())
        if json_to is not None:
            write_json(Path(json_to), sizing_document(answer))
        click.echo(f"{len(written)} files written to {folder}")
    if strict and not answer.satisfied:
        sys.exit(NOT_SATISFIED)
