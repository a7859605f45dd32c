"""The command line: thin commands, which import heavy libraries inside the command itself."""

import io
import logging
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from contactfe import __version__
from contactfe.errors import ContactfeError, InputError

if TYPE_CHECKING:
    from contactfe.case import Case

NOT_SATISFIED = 1
BAD_INPUT = 2
NOT_SOLVED = 3
INTERRUPTED = 130


_case_argument = click.argument("case_file", metavar="CASE.toml")
_json_option = click.option(
    "--json",
    "json_to",
    metavar="FILE",
    help="Write the results as one JSON document to FILE; with '-', print that document alone"
    " on standard output, and write files only if --out is given.",
)
_json_page_option = click.option(
    "--json",
    "json_to",
    metavar="FILE",
    help="Write what is printed as one JSON document to FILE as well; with '-', print that document"
    " in its place.",
)
_accuracy_option = click.option(
    "--accuracy",
    metavar="PERCENT",
    help="Refine until the uncertainty of the peak stresses is below this, such as '1 %'; takes the"
    " place of the case's accuracy.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="contactfe")
def cli() -> None:
    """Contact stress where a round steel post strikes a bumper plate.

    Solves post and plate in section as elastic bodies in unilateral contact, checks the stresses
    against yield and hand formulas, and says which section of the post relieves the contact.
    """


@cli.command()
@_case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write figures, fields and results into this folder"
    " [default: CASE-results in the current folder].",
)
@_json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every section stays below yield with the margin asked for, and"
    " the accuracy asked for was reached.",
)
@_accuracy_option
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

    case = _with_accuracy(read_case(case_file), accuracy)
    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else default_folder(case)
    # Before the work, not after it:
    if folder is not None:
        check_folder(case, folder)
    if json_to is not None and not alone:
        check_file(Path(json_to))
    with _progress(len(case.sections)) as progress:
        answer = compare_sections(case, progress)
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


def _with_accuracy(case: "Case", accuracy: str | None) -> "Case":
    """The case, with the accuracy of the command line where one is stated there."""
    from contactfe.case.accuracy import parse_accuracy

    if accuracy is None:
        return case
    try:
        return replace(case, accuracy=parse_accuracy(accuracy))
    except InputError as error:
        raise InputError(f'--accuracy "{accuracy}": {error}') from None


@cli.command()
@_case_argument
@click.option(
    "--out",
    metavar="FOLDER",
    help="Write table, figure and data into this folder"
    " [default: CASE-envelope in the current folder].",
)
@_json_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every section stays below yield with the margin asked for at"
    " every contact, and the accuracy asked for was reached.",
)
@_accuracy_option
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

    case = _with_accuracy(read_case(case_file), accuracy)
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
            with _count_progress() as tell:
                answer = solve_envelope(
                    case, processes, count, known, log.add if log is not None else None
                )
    except KeyboardInterrupt:
        done, of = state
        if of == 0:  # not yet begun
            raise
        kept = "" if folder is None else f", kept in {folder / ROWS}; the same command goes on"
        _fail(f"stopped: {done} of {of} contacts are done{kept}", INTERRUPTED)
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


@cli.command()
@_case_argument
@click.option("--steps", is_flag=True, help="Write each formula out: symbols, numbers, source.")
@_json_page_option
@click.option(
    "--strict",
    is_flag=True,
    help="Exit with status 1 unless every clause covers its numbers and is satisfied, and no stress"
    " is above yield with the margin asked for.",
)
def hand(case_file: str, steps: bool, json_to: str | None, strict: bool) -> None:
    """Work a case out by hand formulas and clauses of standards, without a mesh.

    Exit status: 0, or 1 with --strict if a clause or a stress is not satisfied, 2 for bad input.
    """
    from rich.console import Console

    from contactfe.assess.by_hand import by_hand
    from contactfe.case import read_case
    from contactfe.report.by_hand import by_hand_page
    from contactfe.report.hand_document import hand_document
    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.page import print_page
    from contactfe.report.steps import steps_page

    case = read_case(case_file)
    alone = json_to == "-"
    if json_to is not None and not alone:
        check_file(Path(json_to))
    found = by_hand(case)
    if alone:
        click.echo(as_text(hand_document(found)))
    else:
        print_page(steps_page(found) if steps else by_hand_page(found), Console())
        if json_to is not None:
            write_json(Path(json_to), hand_document(found))
    if strict and not found.satisfied:
        sys.exit(NOT_SATISFIED)


@cli.command()
@click.argument("like", metavar="[TEXT]", required=False)
@_json_page_option
@click.option("--strict", is_flag=True, help="Exit with status 1 unless every row passes.")
def verify(like: str | None, json_to: str | None, strict: bool) -> None:
    """Hold the tool against known answers: printed values, exact solutions, other libraries.

    With TEXT only the rows whose case, source or kind holds it. A row whose library is not
    installed is not run, which is no failure.

    Exit status: 0, or 1 with --strict if a row does not pass, 2 for bad input, 130 if stopped.
    """
    from rich.console import Console

    from contactfe.report.json_file import as_text, check_file, write_json
    from contactfe.report.verification import print_verification, verification_document
    from contactfe.verify import run_all
    from contactfe.verify.rows import rows_like

    alone = json_to == "-"
    if json_to is not None and not alone:
        check_file(Path(json_to))
    rows = rows_like(like)
    with _progress(len(rows)) as progress:
        outcomes = run_all(rows, progress)
    if alone:
        click.echo(as_text(verification_document(outcomes)))
    else:
        print_verification(outcomes, Console())
        if json_to is not None:
            write_json(Path(json_to), verification_document(outcomes))
    if strict and any(outcome.passed is False for outcome in outcomes):
        sys.exit(NOT_SATISFIED)


@cli.command()
def steels() -> None:
    """List the steel grades that a case may name: strengths by thickness, and their source."""
    from rich.console import Console

    from contactfe.report.catalogue import print_steels

    print_steels(Console())


@cli.command()
@click.argument("like", metavar="[TEXT]", required=False)
def sizes(like: str | None) -> None:
    """List the stock sizes that a section may name, or those whose designation holds TEXT."""
    from rich.console import Console

    from contactfe.report.catalogue import print_sizes

    print_sizes(Console(), like)


@contextmanager
def _count_progress() -> Iterator[Callable[[int, int], None]]:
    """A progress line with the time left; where standard error is no terminal, one line at most.

    What was there from an earlier run is said in any case, and does not count for the speed.
    """
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    bar = Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=not sys.stderr.isatty(),
    )
    with bar:
        task = None

        def tell(done: int, of: int) -> None:
            nonlocal task
            if task is None:
                task = bar.add_task("contacts", total=of, completed=done)
                if done > 0:
                    click.echo(f"{done} of {of} contacts are there from an earlier run", err=True)
            name = "contacts" if done < of else "the governing ones in full"
            bar.update(task, completed=done, description=name)

        yield tell


@contextmanager
def _progress(of: int) -> Iterator[Callable[[str], None] | None]:
    """A progress line on standard error where that is a terminal; nothing elsewhere."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    bar = Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    with bar:
        task = bar.add_task("", total=of)
        begun = 0

        def begin(name: str) -> None:
            nonlocal begun
            bar.update(task, completed=begun, description=name)
            begun += 1

        yield begin


def main() -> None:
    """Run the command line; every error becomes one line and an exit status.

    A fault of the program itself is reported in one line too; with ``CONTACTFE_TRACEBACK=1`` in the
    environment its traceback is printed, for a report to the developers.
    """
    _settle_surroundings()
    try:
        sys.exit(cli.main(prog_name="contactfe", standalone_mode=False))
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        _fail("stopped; earlier results are as they were", INTERRUPTED)
    except InputError as error:
        _fail(str(error), BAD_INPUT)
    except BrokenPipeError:
        # Whoever read the output has left: say nothing, and keep Python from flushing to no one.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except ContactfeError as error:
        _fail(f"not solved: {error}", NOT_SOLVED)
    except OSError as error:
        _fail(f"{error.filename or 'output'}: {error.strerror or error}", BAD_INPUT)
    except Exception as error:
        if os.environ.get("CONTACTFE_TRACEBACK") == "1":
            raise
        _fail(
            f"a fault of contactfe itself ({type(error).__name__}: {' '.join(str(error).split())});"
            " please report it with what the same command prints after"
            " 'export CONTACTFE_TRACEBACK=1'",
            NOT_SOLVED,
        )


def _settle_surroundings() -> None:
    """Keep the user's surroundings from failing a run that they have no part in.

    Figures are drawn straight to files, whatever display is set up; a terminal that lacks a
    character shows another; matplotlib's remarks on its cache folder are not for our user.
    """
    os.environ["MPLBACKEND"] = "agg"
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _fail(message: str, status: int) -> None:
    click.echo(message, err=True)
    sys.exit(status)
