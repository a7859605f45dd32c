"""A record of answers, line by line as they are found, so that a run that is stopped can go on.

The first line says what the record is. Each other holds an answer, the fingerprint of all that the
answer follows from, and a digest of both. Answers are only ever added. Those of a case that was
changed stay where they are and are not looked at, so they serve again when the change is undone. A
line that is not as it was written counts for nothing, and what it held is solved anew.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, ExitStack, contextmanager, suppress
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, BinaryIO, Generic, TypeVar

import numpy as np
from pydantic import TypeAdapter

import contactfe
from contactfe.assess.quantities import QUANTITIES
from contactfe.case import Case
from contactfe.case.table import HELD
from contactfe.errors import InputError
from contactfe.report.files import cannot_write, lock, not_begun, ordinary
from contactfe.report.folder import ResultsFolder
from contactfe.report.versions import library_versions

Answer = TypeVar("Answer")
Json = dict[str, Any]

MOST_BYTES = 1_000_000
"""Length of a line of a record, of which an answer takes a few kB."""


@dataclass(frozen=True)
class Kind(Generic[Answer]):
    """What a record of a study holds: answers to points that are numbered from 0 to ``count``.

    ``name`` stands in its first line, ``answer`` is the type of an answer. ``number`` gives the
    number of an answer's point, None where the study has no such point, and ``of`` the fingerprint
    that the answer must have.
    """

    name: str
    answer: type[Answer]
    count: int
    number: Callable[[Answer], int | None]
    of: Callable[[Answer], str]

    @cached_property
    def adapter(self) -> TypeAdapter[Answer]:
        """What writes and reads an answer."""
        return TypeAdapter(self.answer)

    def read(self, written: Json) -> Answer:
        """An answer as :attr:`adapter` writes it. Raises ValueError or TypeError for any other."""
        return self.adapter.validate_python(written, context=HELD)


class Record(Generic[Answer]):
    """A record that is open for adding. It holds the numbers of the points whose answers are there,
    and gives the answers in the order of the points as often as it is asked to. Only their places
    in the file are kept in memory, however many there are.

    ``count`` is how many answers the study has, ``spoiled`` how many lines are not as they were
    written.
    """

    def __init__(self, path: Path, file: BinaryIO, kind: Kind[Answer]) -> None:
        self.path, self.count, self.spoiled = path, kind.count, 0
        self._file = file
        self._kind = kind
        self._at = np.full(self.count, -1, dtype=np.int64)
        self._done = 0

    def __contains__(self, number: object) -> bool:
        return isinstance(number, int) and 0 <= number < len(self._at) and self._at[number] >= 0

    def __len__(self) -> int:
        return self._done

    def __iter__(self) -> Iterator[Answer]:
        for number in np.flatnonzero(self._at >= 0):
            self._file.seek(int(self._at[number]))
            yield self._kind.read(json.loads(self._file.readline())["answer"])

    def add(self, answer: Answer) -> None:
        """Add an answer; it is out of this process's hands when this returns.

        Raises InputError where it cannot be written, and ValueError as :func:`signed` does.
        """
        self.check_there()
        line = signed(self._kind.of(answer), self._kind.adapter.dump_python(answer, mode="json"))
        try:
            at = self._file.seek(0, os.SEEK_END)
            self._file.write(line.encode() + b"\n")
            self._file.flush()
        except OSError as error:
            with suppress(OSError):
                self._file.close()  # which tries once more
            raise cannot_write(self.path, error) from error
        self._note(answer, at)

    def check_there(self) -> None:
        """Refuse to go on where the record is no longer at its place. Raises InputError."""
        if not _is_at(self.path, self._file):
            raise InputError(
                f"{self.path}: was removed while the run was at work; what it has solved is lost"
            )

    def find(self) -> None:
        """Find what is there. A last line that was cut off while it was written is taken away.

        Raises InputError where it is the first, which is never written in part.
        """
        self._file.seek(0)
        head = self._file.readline(MOST_BYTES)
        if not head.endswith(b"\n"):  # an answer would be added to it, and be lost
            raise InputError(
                f"{self.path}: is cut off in its first line; remove it, or choose another place"
                " with --out"
            )
        at = len(head)
        while line := self._file.readline(MOST_BYTES):
            if line.endswith(b"\n"):
                self._read(line, at)
            elif len(line) < MOST_BYTES:
                self._file.truncate(at)
                break
            else:
                raise InputError(
                    f"{self.path}: has a line of more than {MOST_BYTES / 1e6:g} MB, which contactfe"
                    " does not write; remove it, or choose another place with --out"
                )
            at += len(line)

    def _read(self, line: bytes, at: int) -> None:
        try:
            stated = json.loads(line)
            if signed(stated["of"], stated["answer"]) != _dumped(stated):
                raise ValueError("changed since")
            answer = self._kind.read(stated["answer"])
        except (ValueError, KeyError, TypeError, RecursionError):
            self.spoiled += 1
            return
        if self._kind.of(answer) == stated["of"]:
            self._note(answer, at)

    def _note(self, answer: Answer, at: int) -> None:
        number = self._kind.number(answer)
        if number is not None:
            self._done += int(self._at[number] < 0)
            self._at[number] = at


def signed(of: str, answer: Any) -> str:
    """A line of a record, without its end. Raises ValueError for what JSON has no numbers for."""
    content = {"of": of, "answer": answer}
    return _dumped({**content, "digest": _hash(_dumped(content))})


def fingerprint(stated: Mapping[str, Any]) -> str:
    """A hash of what answers follow from: this program, the figures that it reads off a solution,
    and the libraries that can move the last digits as well.
    """
    made_by = {
        "version": contactfe.__version__,
        "quantities": [entry.key for entry in QUANTITIES],
        "libraries": library_versions(),
    }
    return _hash(json.dumps({**made_by, **stated}, sort_keys=True, default=str))


def add(to: Record[Answer], answer: Answer) -> None:
    """Add an answer, unless a figure of it is infinite, which JSON has no number for.

    Raises InputError as :meth:`Record.add` does.
    """
    try:
        to.add(answer)
    except InputError:
        raise
    except ValueError:
        pass


def read_head(path: Path, name: str) -> Json | None:
    """The first line of a record of the kind of that name; None where there is none, or another."""
    try:
        if not path.is_file():  # a pipe would be waited for
            return None
        with path.open("rb") as file:
            first = json.loads(file.readline(MOST_BYTES))
        mine = first["generator"]["name"] == "contactfe" and first["kind"] == name
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return dict(first) if mine else None


@contextmanager
def record(path: Path, kind: Kind[Answer], head: Mapping[str, Any]) -> Iterator[Record[Answer]]:
    """Open a record, or begin one with a ``head`` beside what every first line says.

    Raises
    ------
    InputError
        if another run has it open, or it cannot be written
    """
    file = _opened(path, kind, head)
    with file:
        found = Record(path, file, kind)
        found.find()
        yield found


def earlier(
    case: Case,
    kind: ResultsFolder,
    kept_in: Callable[[Case, Path], AbstractContextManager[Record[Answer]]],
) -> tuple[Answer, ...]:
    """What the record in the usual folder of a case holds.

    Nothing where there is none, the folder is not for this case, or another run is at work there.
    """
    folder = kind.default(case)
    if kind.record is None or not ordinary(folder / kind.record):
        return ()
    try:
        kind.check(case, folder)
        with kept_in(case, folder) as found:
            return tuple(found)
    except InputError:
        return ()


def _opened(path: Path, kind: Kind[Any], head: Mapping[str, Any]) -> BinaryIO:
    """The file of a record, locked; once more where another run has made it anew meanwhile."""
    with ExitStack() as failing:
        try:
            file = os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT, 0o666), "r+b")
            failing.callback(file.close)
            if lock(file.fileno()) is False:
                raise InputError(
                    f"{path}: another run is at work there; wait for its end, or choose another"
                    " place with --out"
                )
            if not _is_at(path, file):
                return _opened(path, kind, head)
            if not_begun(path):
                generator = {"name": "contactfe", "version": contactfe.__version__}
                first = {"kind": kind.name, "generator": generator, **head}
                _write_whole(file.fileno(), f"{json.dumps(first, ensure_ascii=False)}\n".encode())
        except OSError as error:
            raise cannot_write(path, error) from error
        failing.pop_all()
        return file


def _write_whole(handle: int, line: bytes) -> None:
    """Write to an empty file in one step, or leave it empty. Raises OSError."""
    if os.write(handle, line) < len(line):
        os.truncate(handle, 0)
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def _is_at(path: Path, file: BinaryIO) -> bool:
    return path.exists() and os.path.samestat(path.stat(), os.fstat(file.fileno()))


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def _dumped(content: Json) -> str:
    return json.dumps(content, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
