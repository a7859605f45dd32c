"""`contactfe compare`."""

import sys
from pathlib import Path

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    accuracy_option,
    case_argument,
    json_option,
    progress,
    with_accuracy,
)


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write figures, fields and results into this folder"
    " [default: CASE-results in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every section stays below yield with the margin asked for, and"
    " the accuracy asked for was reached.",
)
@accuracy_option
def compare(
    case_file: str, out: str | None, json_to: str | None, strict: bool, accuracy: str | None
) -> None:
    """Compare the sections of a case: which one relieves the contact, by how much, and why.

    Exit status: 0 if solved, 1 with --strict if a section does not pass, 2 for bad input,
    3 if not solved, 130 if stopped.
    """
    from rich.console import Console

    from contactfe.assess.compare import compare as compare_sections
    from contactfe.case import read_case
    from contactfe.report.document import document
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.output import check_folder, default_folder, save
    from contactfe.report.table import print_comparison

    case = with_accuracy(read_case(case_file), accuracy)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    with progress(len(case.sections)) as tell:
        answer = compare_sections(case, tell)
    written = save(answer, folder) if folder is not None else []
    if alone:
        click.echo(as_text(document(answer)))
    else:
        print_comparison(answer, Console())
        if json_to is not None:
            write_json(Path(json_to), document(answer))
        click.echo(f"{len(written)} files written to {folder}")
    if strict and not (answer.satisfied and answer.accurate):
        sys.exit(NOT_SATISFIED)
