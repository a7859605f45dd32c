"""`contactfe envelope`."""

import sys
from contextlib import nullcontext
from pathlib import Path

import click

from contactfe.cli.common import (
    INTERRUPTED,
    NOT_SATISFIED,
    accuracy_option,
    case_argument,
    count_progress,
    fail,
    json_option,
    with_accuracy,
)


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write table, figure and data into this folder"
    " [default: CASE-envelope in the current folder].",
)
@json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every section stays below yield with the margin asked for at"
    " every contact, and the accuracy asked for was reached.",
)
@accuracy_option
@click.option(
    "--processes",
    type=click.IntRange(min=1),
    metavar="N",
    help="How many processes share the work [default: as many as there are cores to use].",
)
def envelope(
    case_file: str,
    out: str | None,
    json_to: str | None,
    strict: bool,
    accuracy: str | None,
    processes: int | None,
) -> None:
    """Solve the sections of a case at every contact of its envelope: which one governs, and where.

    What is solved is kept in the folder as it is finished: a run that was stopped goes on where it
    was when the same command is given again.

    Exit status: 0 if solved, 1 with --strict if a section does not pass at every contact, 2 for bad
    input, 3 if not solved, 130 if stopped.
    """
    from rich.console import Console

    from contactfe.assess.envelope import check_envelope
    from contactfe.assess.envelope import envelope as solve_envelope
    from contactfe.case import read_case
    from contactfe.report.envelope import envelope_document
    from contactfe.report.envelope_folder import (
        check_envelope_folder,
        default_envelope_folder,
        save_envelope,
    )
    from contactfe.report.envelope_table import print_envelope
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.rows import ROWS, row_log

    case = with_accuracy(read_case(case_file), accuracy)
    check_envelope(case)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_envelope_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_envelope_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    state = [0, 0]

    def count(done: int, of: int) -> None:
        state[:] = done, of
        tell(done, of)

    try:
        with row_log(case, folder) if folder is not None else nullcontext() as log:
            known = log.rows if log is not None else ()
            with count_progress() as tell:
                answer = solve_envelope(
                    case, processes, count, known, log.add if log is not None else None
                )
    except KeyboardInterrupt:
        done, of = state
        if of == 0:  # not yet begun
            raise
        kept = "" if folder is None else f", kept in {folder / ROWS}; the same command goes on"
        fail(f"stopped: {done} of {of} contacts are done{kept}", INTERRUPTED)
    written = save_envelope(answer, folder) if folder is not None else []
    if alone:
        content = envelope_document(answer)
        click.echo(as_text(content))
    else:
        print_envelope(answer, Console())
        if json_to is not None:
            write_json(Path(json_to), envelope_document(answer))
        click.echo(f"{len(written)} files written to {folder}")
    if strict and not (answer.satisfied and answer.accurate):
        sys.exit(NOT_SATISFIED)
