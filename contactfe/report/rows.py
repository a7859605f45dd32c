"""The record of rows that are solved: kept line by line, so that a run that is stopped can go on.

Each line holds a row and the fingerprint of all that it follows from. Rows are only ever added.
Those of a case that was changed stay where they are and are not looked at, and so serve again when
the change is undone.
"""

import hashlib
import json
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import asdict, replace
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO

from pydantic import TypeAdapter, ValidationError

import contactfe
from contactfe.assess.row import Row
from contactfe.case import Case, Section
from contactfe.report.files import aside, cannot_write, claimed
from contactfe.report.json_file import case_path
from contactfe.report.versions import library_versions

ROWS = "rows.jsonl"

_KIND = "rows of an envelope"


class RowLog:
    """The record, open for adding. ``rows`` are those found in it that hold for the case."""

    def __init__(self, file: BinaryIO, prints: dict[str, str], rows: tuple[Row, ...]) -> None:
        self.rows = rows
        self.added = 0
        self._file = file
        self._prints = prints

    def add(self, row: Row) -> None:
        """Add a row; it is out of this process's hands when this returns."""
        line = {"of": self._prints[row.section], "row": _adapter().dump_python(row, mode="json")}
        self._file.write(json.dumps(line, ensure_ascii=False, allow_nan=False).encode() + b"\n")
        self._file.flush()
        self.added += 1


@contextmanager
def row_log(case: Case, folder: Path) -> Iterator[RowLog]:
    """Open the record of a case in a folder that is its own, and make both where they are not.

    A last line that was cut off while it was written is taken away; lines of other kinds are
    passed over.

    Raises
    ------
    InputError
        if another run has it open, or it cannot be written
    """
    path = folder / ROWS
    with ExitStack() as held:
        held.enter_context(claimed(folder, case))
        try:
            if not path.exists():
                _begin(case, path)
            file = held.enter_context(path.open("r+b"))
        except OSError as error:
            raise cannot_write(folder, error) from error
        prints = {section.name: fingerprint(case, section) for section in case.sections}
        content = file.read()
        whole = content.rfind(b"\n") + 1
        file.truncate(whole)
        file.seek(whole)
        yield RowLog(file, prints, tuple(_rows(content[:whole], prints)))


def head(folder: Path) -> dict[str, Any] | None:
    """What the first line of a record says; None where there is none, or none of ours."""
    try:
        with (folder / ROWS).open("rb") as file:
            first = json.loads(file.readline())
        mine = first["generator"]["name"] == "contactfe" and first["kind"] == _KIND
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return dict(first) if mine else None


def fingerprint(case: Case, section: Section) -> str:
    """A hash of all that a row of a section follows from, its contact apart.

    That is what the case states of the section, post, plate, load and model, with the properties
    that grades stand for and the content of an own mesh; the units that errors are worded in; and
    the versions of this program and of the libraries that can move the last digits.
    """
    stated = {
        "version": contactfe.__version__,
        "libraries": library_versions(),
        "section": asdict(replace(section, mesh=None)),
        "mesh": section.mesh and hashlib.sha256(section.mesh.read_bytes()).hexdigest(),
        "post": asdict(case.post),
        "post steel": asdict(case.post_material(section)),
        "plate": asdict(case.plate),
        "plate steel": asdict(case.plate_material),
        "line load": case.line_load,
        "contact length": case.contact_length,
        "corner": case.corner and asdict(case.corner),
        "alignment": case.alignment
        and [asdict(case.alignment), case.cantilever and case.cantilever.length],
        "state": case.state,
        "yield margin": case.yield_margin,
        "accuracy": case.accuracy,
        "units": case.report_units,
    }
    text = json.dumps(stated, sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _begin(case: Case, path: Path) -> None:
    """Put a record without rows in place, whole or not at all."""
    first = {
        "kind": _KIND,
        "title": case.title,
        "generator": {"name": "contactfe", "version": contactfe.__version__},
        "path": case_path(case),
    }
    with aside(path) as draft:
        draft.write_text(json.dumps(first, ensure_ascii=False) + "\n", encoding="utf-8")


def _rows(content: bytes, prints: dict[str, str]) -> Iterator[Row]:
    for line in content.splitlines()[1:]:
        try:
            stated = json.loads(line)
            row = _adapter().validate_python(stated["row"])
            of = stated["of"]
        except (ValueError, KeyError, TypeError, ValidationError):
            continue
        if prints.get(row.section) == of and (row.solved or row.error):
            yield row


@cache
def _adapter() -> TypeAdapter[Row]:
    return TypeAdapter(Row)
