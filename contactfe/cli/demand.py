"""`contactfe demand`."""

import sys
from pathlib import Path

import click

from contactfe.cli.common import NOT_SATISFIED, case_argument, json_option, progress


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
    from rich.console import Console

    from contactfe.assess.demand import demand as find_demand
    from contactfe.case import read_case
    from contactfe.report.demand import demand_document
    from contactfe.report.demand_folder import (
        check_demand_folder,
        default_demand_folder,
        save_demand,
    )
    from contactfe.report.demand_page import demand_page
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.page import print_page

    case = read_case(case_file)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_demand_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_demand_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    with progress(len(case.sections)) as tell:
        answer = find_demand(case, tell)
    written = save_demand(answer, folder) if folder is not None else []
    if alone:
        click.echo(as_text(demand_document(answer)))
    else:
        print_page(demand_page(answer), Console())
        if json_to is not None:
            write_json(Path(json_to), demand_document(answer))
        click.echo(f"{len(written)} files written to {folder}")
    if strict and not answer.satisfied:
        sys.exit(NOT_SATISFIED)
