"""Files and folders of results on the disk: written aside, claimed, and asked for room first."""

import fcntl
import hashlib
import os
import secrets
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from contactfe.case import Case
from contactfe.errors import InputError

MEGABYTE = 1e6

_claimed: set[tuple[int, Path]] = set()
"""Folders that a thread of this process holds: a claim within its own claim is the same one."""


@contextmanager
def aside(path: Path) -> Iterator[Path]:
    """A new file beside ``path``, put in its place if all goes well, and removed if not."""
    draft = path.with_name(f".contactfe-{secrets.token_hex(8)}{path.suffix}")
    try:
        yield draft
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)


def digest(path: Path) -> str:
    """Hash of the content of a file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def ordinary(path: Path) -> bool:
    """Whether it is a file as such: no folder, no link, no device."""
    return path.is_file() and not path.is_symlink()


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
    trial = folder / f".contactfe-{secrets.token_hex(8)}"
    try:
        trial.write_bytes(bytes(65_536))
    finally:
        with suppress(OSError):
            trial.unlink(missing_ok=True)


@contextmanager
def claimed(folder: Path, case: Case) -> Iterator[None]:
    """Hold the folder of a case against other runs, and make it where it is not there.

    A folder that was made is removed again if nothing is written into it. The claim ends with the
    process, however that ends.

    Raises
    ------
    InputError
        if another run has it, it cannot be written, or has too little room left for the case
    """
    place = threading.get_ident(), folder.resolve()
    if place in _claimed:
        yield
        return
    made = [path for path in (folder, *folder.parents) if not path.exists()]
    handle = None
    try:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
            _lock(handle, folder)
            check_writable(folder, room_for(case))
        except InputError:
            made.clear()  # whoever has it may have made it just now
            raise
        except OSError as error:
            raise cannot_write(folder, error) from error
        _claimed.add(place)
        yield
    finally:
        _claimed.discard(place)
        for path in made:
            with suppress(OSError):  # of one that holds files
                path.rmdir()
        if handle is not None:
            os.close(handle)


def cannot_write(folder: Path, error: OSError) -> InputError:
    """What a user reads where results cannot be written."""
    return InputError(
        f"{folder}: results cannot be written there: {error.strerror or error};"
        " choose another folder with --out"
    )


def _lock(handle: int, folder: Path) -> None:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise InputError(
            f"{folder}: another run is at work there; wait for its end, or choose another folder"
            " with --out"
        ) from None
    except OSError:
        pass  # a file system that has no locks for folders
