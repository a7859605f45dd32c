"""Where a command puts what it found: settled before the work, and carried out after it."""

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from contactfe.cli.common import INTERRUPTED, count_progress, fail, say_spoiled
from contactfe.errors import InputError

if TYPE_CHECKING:
    from contactfe.case import Case
    from contactfe.report.blocks import Page
    from contactfe.report.folder import ResultsFolder
    from contactfe.report.output import Output
    from contactfe.report.record import Record
    from contactfe.study.crew import Progress

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Destination:
    """A folder for files, if any are to be written, and what --json states."""

    folder: Path | None
    json_to: str | None
    full: bool = False  # whether all that was found is printed, not the answer alone

    @property
    def alone(self) -> bool:
        """Whether the document alone is to be printed."""
        return self.json_to == "-"


def destination(
    case: "Case", out: str | None, json_to: str | None, full: bool, kind: "ResultsFolder"
) -> Destination:
    """Settle where results go, by --out and --json, and refuse what cannot be written.

    The folder is held against other runs until the command ends. Raises InputError, so that a case
    is not solved in vain.
    """
    from contactfe.report.files import claimed

    alone = json_to == "-"
    folder = Path(out) if out is not None else None if alone else kind.default(case)
    check_json(json_to, case)
    if folder is not None:
        kind.check(case, folder)
        if json_to is not None and not alone and kind.holds(case, folder, Path(json_to)):
            raise InputError(f"--json {json_to}: is a file that --out writes; name another file")
        click.get_current_context().with_resource(claimed(folder, case))
    return Destination(folder, json_to, full)


def check_json(json_to: str | None, case: "Case | None" = None) -> None:
    """Refuse a file for --json that cannot be written, or is no earlier result of the case."""
    from contactfe.report.json_file import case_path, check_file

    if json_to is not None and json_to != "-":
        check_file(Path(json_to), None if case is None else case_path(case))


def solved(
    case: "Case",
    out: str | None,
    json_to: str | None,
    full: bool,
    output: "Output[Answer]",
    of_what: str,
    solve: "Callable[[Progress], Answer]",
) -> Answer:
    """Settle where the answer goes, find it, and deliver it; ``of_what`` is counted meanwhile."""
    to = destination(case, out, json_to, full, output.folder)
    with count_progress(of_what) as tell:
        answer = solve(tell)
    deliver(answer, to, output)
    return answer


def solved_on_record(
    to: Destination,
    kept_in: "Callable[[Path], AbstractContextManager[Record[Any]]]",
    of_what: tuple[str, str | None, str],
    solve: "Callable[[Progress, Record[Any] | None], Answer]",
) -> Answer:
    """An answer whose parts are kept in a record as they are found, where files are written.

    ``of_what`` is counted, by the name on the line of progress, that of what is done at last, and
    that on the line which says how far a run came that was stopped. Ends with status 130 there.
    """
    state = [0, 0]

    def count(done: int, of: int) -> None:
        state[:] = done, of
        tell(done, of)

    counted, at_last, found = of_what
    try:
        with nullcontext() if to.folder is None else kept_in(to.folder) as record:
            if record is not None:
                say_spoiled(record)
            with count_progress(counted, at_last) as tell:
                return solve(count, record)
    except KeyboardInterrupt:
        done, of = state
        if of == 0:  # not yet begun
            raise
        kept = "" if record is None else f", kept in {record.path}; the same command goes on"
        fail(f"stopped: {done} of {of} {found} are done{kept}", INTERRUPTED)


def deliver(answer: Answer, to: Destination, output: "Output[Answer]") -> None:
    """Write the files of an answer, and print its page or its document."""
    written = output.save(answer, to.folder) if to.folder is not None else []
    show_or_dump(answer, to.json_to, output.document, output.page if to.full else output.answer)
    if not to.alone:
        click.echo(f"{len(written)} files written to {to.folder}: {output.text} holds all tables.")


def show_or_dump(
    answer: Answer,
    json_to: str | None,
    document: Callable[[Answer], dict[str, Any]],
    page: Callable[[Answer], "Page"],
) -> None:
    """Print the page of an answer, with its document in a file as well; or that document alone."""
    from contactfe.report.json_file import as_text, check_file, path_of, write_json
    from contactfe.report.page import print_page

    if json_to == "-":
        click.echo(as_text(document(answer)))
        return
    print_page(page(answer))
    if json_to is not None:
        content = document(answer)
        check_file(Path(json_to), path_of(content))  # once more: the work may have taken long
        write_json(Path(json_to), content)
