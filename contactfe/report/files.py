"""Files and folders of results on the disk: written aside, claimed, and asked for room first."""

import fcntl
import glob
import hashlib
import json
import os
import secrets
import shutil
import tempfile
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any

from contactfe.case import Case
from contactfe.errors import InputError

MEGABYTE = 1e6

MOST_BYTES = 100_000_000
"""Length of a file of results that is read again: the documents of common cases have some MB."""

_claimed: dict[tuple[int, Path], ExitStack] = {}
"""Folders that a thread of this process holds: a claim within its own claim is the same one."""


@contextmanager
def aside(path: Path) -> Iterator[Path]:
    """A new file beside ``path``, put in its place if all goes well, and removed if not.

    It is locked meanwhile: such files that are not are of runs that were killed, and removed.
    """
    for left in path.parent.glob(f".contactfe-{'[0-9a-f]' * 16}{glob.escape(path.suffix)}"):
        with suppress(OSError):
            if ordinary(left):
                with left.open("rb") as file:
                    if lock(file.fileno()):
                        left.unlink()
    draft = path.with_name(f".contactfe-{secrets.token_hex(8)}{path.suffix}")
    try:
        with named(path), draft.open("xb") as file:
            lock(file.fileno())
            yield draft
            sync(draft)
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)


@contextmanager
def named(path: Path) -> Iterator[None]:
    """Have what fails while a file is written name it: the system does so on opening alone."""
    try:
        yield
    except OSError as error:
        error.filename = path
        raise


def read_json(path: Path) -> Any:
    """What a JSON file states. Raises ValueError for another, too long or too deep, and OSError."""
    if not ordinary(path):
        raise ValueError("is no file as such")  # a pipe would be waited for
    with path.open("rb") as file:
        text = file.read(MOST_BYTES + 1)
    if len(text) > MOST_BYTES:
        raise ValueError(f"has more than {MOST_BYTES / MEGABYTE:g} MB")
    try:
        return json.loads(text)
    except RecursionError:
        raise ValueError("has lists or tables in one another too deep to read") from None


def digest(path: Path) -> str:
    """Hash of the content of a file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def ordinary(path: Path) -> bool:
    """Whether it is a file as such: no folder, no link, no device."""
    return path.is_file() and not path.is_symlink()


def not_begun(path: Path) -> bool:
    """Whether a file is there and empty, as a run leaves one that ended before it wrote to it."""
    return path.is_file() and path.stat().st_size == 0


def sync(path: Path) -> None:
    """Have a file on the disk before what comes next; or a folder, where that is known."""
    with suppress(OSError) if path.is_dir() else named(path):
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def lock(handle: int) -> bool | None:
    """Lock a file until it is closed; False if another has it, None where there are no locks."""
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return None
    return True


def room_for(case: Case) -> float:
    """Bytes that the results of a case may take: some five times those of common cases."""
    return (10.0 + 5.0 * len(case.sections)) * MEGABYTE


def check_writable(folder: Path, room: float) -> None:
    """Write a file into a folder and remove it, and ask for the ``room`` left there, bytes.

    Raises OSError where there is too little of it, or the file cannot be written.
    """
    free = shutil.disk_usage(folder).free
    if free < room:
        raise OSError(
            f"{free / MEGABYTE:.1f} MB are free, and up to {room / MEGABYTE:.0f} MB are needed"
        )
    # Beyond a byte or two, which full disks and quotas may still have.
    with tempfile.TemporaryFile(dir=folder) as trial:
        trial.write(bytes(65_536))


def check_target(
    option: str, path: Path, ours: Callable[[Path], bool], what: str, room: float = MEGABYTE
) -> None:
    """Refuse a file that cannot be written, or is none to write over; asked before any work.

    One that is there must be ``what`` in words, as ``ours`` says of it. A link counts as what it
    leads to.

    Raises
    ------
    InputError
        naming the option, the file, why, and what is allowed
    """
    place = Path(os.path.realpath(path))
    if place.is_dir() or not path.name:
        why = "is a folder; name a file"
    elif not place.parent.is_dir():
        why = f"there is no folder {path.parent}; name a file in one that is there"
    elif os.path.lexists(place) and not ours(place):
        why = f"is there already and is no {what}; name a new file, or such a result"
    elif place.exists() and not os.access(place, os.W_OK):
        why = "may not be written; name another file"
    else:
        try:
            check_writable(place.parent, room)
            return
        except OSError as error:
            why = f"cannot be written: {error.strerror or error}; name a file elsewhere"
    raise InputError(f"{option} {path}: {why}")


@contextmanager
def claimed(folder: Path, case: Case | None) -> Iterator[ExitStack]:
    """Hold the folder of a case against other runs, and make it where it is not there.

    A folder that was made is removed again if nothing is written into it. The claim ends with the
    process, however that ends. To it belongs what is yielded, which whoever puts another folder in
    the place of this one adds that one's lock to. Room is not asked for without a ``case``.

    Raises
    ------
    InputError
        if another run has it, it cannot be written, or has too little room left for the case
    """
    place = threading.get_ident(), folder.resolve()
    if place in _claimed:
        if not folder.exists():  # removed meanwhile
            _made_anew(folder, _claimed[place])
        yield _claimed[place]
        return
    with ExitStack() as claim, ExitStack() as first:  # folders are removed while they are locked
        try:
            while True:
                made = [path for path in (folder, *folder.parents) if not path.exists()]
                first.callback(_remove_empty, made)
                folder.mkdir(parents=True, exist_ok=True)
                handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
                claim.callback(os.close, handle)
                if lock(handle) is False:
                    made.clear()  # whoever has it may have made it just now
                    raise InputError(
                        f"{folder}: another run is at work there; wait for its end, or choose"
                        " another folder with --out"
                    )
                if folder.exists() and os.path.samestat(folder.stat(), os.fstat(handle)):
                    break  # else another run has put another folder in its place meanwhile
            check_writable(folder, 0.0 if case is None else room_for(case))
        except OSError as error:
            raise cannot_write(folder, error) from error
        first.callback(_claimed.pop, place)
        _claimed[place] = claim
        yield claim


def cannot_write(folder: Path, error: OSError, names: Iterable[str] = ()) -> InputError:
    """What a user reads where results cannot be written; which of ``names``, if it was one."""
    name = Path(str(error.filename or "")).name
    which = f"{name}: " if name in names else ""
    return InputError(
        f"{folder}: results cannot be written there: {which}{error.strerror or error};"
        " choose another folder with --out"
    )


def _made_anew(folder: Path, claim: ExitStack) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except OSError as error:
        raise cannot_write(folder, error) from error
    claim.callback(os.close, handle)
    lock(handle)


def _remove_empty(folders: list[Path]) -> None:
    for path in folders:
        with suppress(OSError):  # of one that holds files
            path.rmdir()
