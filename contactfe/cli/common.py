"""What the commands share: exit statuses, options, progress lines."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from contactfe.errors import InputError

if TYPE_CHECKING:
    from contactfe.case import Case
    from contactfe.report.record import Record

NOT_SATISFIED = 1
BAD_INPUT = 2
NOT_SOLVED = 3
INTERRUPTED = 130


Command = TypeVar("Command", bound=Callable[..., None])

case_argument = click.argument("case_file", metavar="CASE.toml")


def out_option(what: str, name: str) -> Callable[[Command], Command]:
    """The option --out: what is written into the folder, whose name ends so by default."""
    return click.option(
        "--out",
        metavar="FOLDER",
        help=f"Write {what} into this folder [default: CASE-{name} in the current folder].",
    )


def strict_option(unless: str) -> Callable[[Command], Command]:
    """The option --strict: what status 0 then needs."""
    return click.option("--strict", is_flag=True, help=f"Exit with status 1 unless {unless}.")


json_option = click.option(
    "--json",
    "json_to",
    metavar="FILE",
    help="Write the results as one JSON document to FILE; with '-', print that document alone"
    " on standard output, and write files only if --out is given.",
)
json_page_option = click.option(
    "--json",
    "json_to",
    metavar="FILE",
    help="Write what is printed as one JSON document to FILE as well; with '-', print that document"
    " in its place.",
)
full_option = click.option(
    "--full", is_flag=True, help="Print all that was found, not the answer alone."
)
accuracy_option = click.option(
    "--accuracy",
    metavar="PERCENT",
    help="Refine until the uncertainty of the peak stresses is below this, such as '1 %'; takes the"
    " place of the case's accuracy.",
)
processes_option = click.option(
    "--processes",
    type=click.IntRange(min=1),
    metavar="N",
    help="How many processes share the work [default: as many as there are cores to use].",
)


def with_accuracy(case: "Case", accuracy: str | None) -> "Case":
    """The case, with the accuracy of the command line where one is stated there."""
    from contactfe.case.accuracy import parse_accuracy

    if accuracy is None:
        return case
    try:
        return replace(case, accuracy=parse_accuracy(accuracy))
    except InputError as error:
        raise InputError(f'--accuracy "{accuracy}": {error}') from None


@contextmanager
def count_progress(
    of_what: str, at_last: str | None = None
) -> Iterator[Callable[[int, int], None]]:
    """A progress line with the time left; where standard error is no terminal, one line at most.

    ``of_what`` are counted, and ``at_last`` is what else is done when all of them are there.

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
                task = bar.add_task(of_what, total=of, completed=done)
                if done > 0:
                    click.echo(f"{done} of {of} {of_what} are there from an earlier run", err=True)
            name = of_what if done < of or at_last is None else at_last
            bar.update(task, total=of, completed=done, description=name)

        yield tell


def say_spoiled(record: "Record[Any]") -> None:
    """Say that lines of a record are not as they were written, where their answers are missing."""
    if record.spoiled and len(record) < record.count:
        click.echo(
            f"{record.path}: {record.spoiled} of its lines are not as contactfe wrote them; what"
            " they held is solved anew",
            err=True,
        )


def fail(message: str, status: int) -> NoReturn:
    """Say why on standard error, in lines that are not too long, and end with that status."""
    from contactfe.case.wording import LONGEST, visible

    for line in visible(message).splitlines():
        click.echo(line if len(line) <= LONGEST else f"{line[:LONGEST]}…", err=True)
    sys.exit(status)
