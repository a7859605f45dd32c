"""The record of a sweep: a line for each sample as it is finished, so that a stopped one can go on.

The first line says whose it is, by a hash of all that its samples follow from. Of the others only
the places in the file are kept in memory, however many there are.
"""

from __future__ import annotations

import fcntl
import hashlib
import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
from pydantic import TypeAdapter, ValidationError

import contactfe
from contactfe.assess.sweep.result import Sample
from contactfe.assess.sweep.run import Prepared
from contactfe.errors import InputError
from contactfe.report.files import aside
from contactfe.report.versions import library_versions

_KIND = "samples of a sweep"

_IDLE = ("title", "report", "envelope", "size")
"""Tables that no figure of a sample follows from."""


class SweepRecord:
    """The record, open for adding. It holds the numbers of the samples that are there, and gives
    them in order as often as it is asked to.
    """

    def __init__(self, file: BinaryIO, count: int) -> None:
        self._file = file
        self._at = np.full(count, -1, dtype=np.int64)
        self.done = 0

    def __contains__(self, number: object) -> bool:
        return isinstance(number, int) and 0 <= number < len(self._at) and self._at[number] >= 0

    def __len__(self) -> int:
        return self.done

    def __iter__(self) -> Iterator[Sample]:
        """The samples by their numbers."""
        for number in np.flatnonzero(self._at >= 0):
            self._file.seek(int(self._at[number]))
            yield _adapter().validate_json(self._file.readline())

    def add(self, sample: Sample) -> None:
        """Add a sample; it is out of this process's hands when this returns."""
        at = self._file.seek(0, os.SEEK_END)
        self._file.write(_adapter().dump_json(sample) + b"\n")
        self._file.flush()
        self._note(sample.number, at)

    def find(self) -> None:
        """Find what is there. A last line that was cut off is taken away, others that are no
        samples are passed over.
        """
        self._file.seek(0)
        at = len(self._file.readline())
        for line in self._file:
            if not line.endswith(b"\n"):
                self._file.truncate(at)
                break
            try:
                number = _adapter().validate_json(line).number
            except ValidationError:
                number = -1
            if 0 <= number < len(self._at):
                self._note(number, at)
            at += len(line)

    def _note(self, number: int, at: int) -> None:
        self.done += int(self._at[number] < 0)
        self._at[number] = at


def check_record(prepared: Prepared, path: Path) -> None:
    """Refuse a file that is there and is not the record of this sweep; asked before any work.

    Raises
    ------
    InputError
        naming it
    """
    try:
        with path.open("rb") as file:
            first = file.readline()
    except FileNotFoundError:
        return
    except OSError as error:
        raise InputError(f"{path}: cannot be read: {error.strerror or error}") from None
    try:
        head = json.loads(first)
        mine = head["kind"] == _KIND
    except (ValueError, KeyError, TypeError):
        mine = False
    if not mine:
        raise InputError(f"{path}: is not a record of a sweep; choose another place with --out")
    if head.get("of") != fingerprint(prepared):
        raise InputError(
            f"{path}: is the record of another sweep, or of this one before its case or a library"
            " was changed; remove it, or choose another place with --out"
        )


@contextmanager
def sweep_record(prepared: Prepared, path: Path) -> Iterator[SweepRecord]:
    """Open the record of a sweep, or begin it.

    Raises
    ------
    InputError
        if it is another's, another run has it open, or it cannot be written
    """
    check_record(prepared, path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists():
            with aside(path) as draft:
                draft.write_text(json.dumps(_head(prepared), ensure_ascii=False) + "\n", "utf-8")
        file = path.open("r+b")
    except OSError as error:
        raise InputError(
            f"{path}: cannot be written: {error.strerror or error}; choose another place with --out"
        ) from error
    with file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise InputError(
                f"{path}: another run is at work there; wait for its end, or choose another place"
                " with --out"
            ) from None
        record = SweepRecord(file, prepared.plan.count)
        record.find()
        yield record


def fingerprint(prepared: Prepared) -> str:
    """A hash of all that the samples follow from.

    That is the tables of the case but its title and what only says how to show it, the content of
    meshes of its own, and the versions of this program and of the libraries that can move the last
    digits.
    """
    case = prepared.case
    meshes = [section.mesh for section in case.sections if section.mesh is not None]
    stated = {
        "version": contactfe.__version__,
        "libraries": library_versions(),
        "tables": {key: value for key, value in prepared.work.data.items() if key not in _IDLE},
        "units": case.report_units,  # that errors are worded in
        "meshes": [hashlib.sha256(path.read_bytes()).hexdigest() for path in meshes],
    }
    text = json.dumps(stated, sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _head(prepared: Prepared) -> Mapping[str, Any]:
    return {
        "kind": _KIND,
        "title": prepared.case.title,
        "generator": {"name": "contactfe", "version": contactfe.__version__},
        "samples": prepared.plan.count,
        "of": fingerprint(prepared),
    }


@cache
def _adapter() -> TypeAdapter[Sample]:
    return TypeAdapter(Sample)
