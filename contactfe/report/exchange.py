"""New files put into a folder of results: all or none of them, whenever the process may end.

They are written into a draft, ``.contactfe-<token>`` in the folder: the new ``files``, and a mark
that says whose it is, locked while it is in use. The draft is then moved beside the folder, what is
to stay is linked into its files, and these and the folder change places in one step of Linux.
Where that cannot be done, the draft is marked as ready inside the folder, and put in place file by
file. Whatever a run that was killed left of this, the next one finishes or removes.
"""

import ctypes
import errno
import json
import os
import re
import secrets
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any

from contactfe.report.files import cannot_write, digest, lock, ordinary, read_json, sync

_MARK, _FILES, _PLAN, _READY = "draft.json", "files", "plan.json", "ready.json"
_AT_FDCWD, _RENAME_EXCHANGE = -100, 2


@contextmanager
def draft_in(folder: Path) -> Iterator[Path]:
    """A place for new files of a folder that is claimed; without :func:`put`, nothing comes of it.

    Raises OSError where it cannot be made, or what was put cannot be brought into the folder.
    """
    recover(folder)
    folder = folder.resolve()
    draft = folder / f".contactfe-{secrets.token_hex(8)}"
    try:
        draft.mkdir()
        with (draft / _MARK).open("x", encoding="utf-8") as mark:
            lock(mark.fileno())
            mark.write(json.dumps({"generator": {"name": "contactfe"}, "draft of": folder.name}))
            mark.flush()
            (draft / _FILES).mkdir()
            yield draft / _FILES
    finally:
        for place in (draft, folder.parent / draft.name):
            if place.exists():
                _settle(place, folder)


def put(draft: Path, names: Sequence[str], earlier: Mapping[str, str], claim: ExitStack) -> None:
    """Let the files of a draft take the place of ``earlier`` ones, given with their digests.

    All else that is in the folder stays. Of the new ones the last comes last, where they cannot
    come at once. The ``claim`` on the folder goes over to the new one.
    """
    for name in names:
        sync(draft / name)
    sync(draft)
    place, folder = draft.parent, draft.parent.parent
    plan = {
        "files": list(names),
        "earlier": dict(earlier),
        "folder": folder.stat().st_ino,
        "known": [path.lstat().st_ino for path in folder.iterdir()],
    }
    (place / _PLAN).write_text(json.dumps(plan), encoding="utf-8")
    sync(place / _PLAN)
    try:
        _change_places(place, folder, earlier, claim)
    except OSError:
        (place / _PLAN).rename(place / _READY)
        sync(place)


def recover(folder: Path) -> None:
    """Finish or remove what runs that were killed left of drafts of a folder that is claimed.

    Drafts in use are not touched, nor what is not known as a draft of this folder. Raises
    InputError where one that was ready cannot be brought into the folder.
    """
    folder = folder.resolve()
    beside = [path for path in folder.parent.glob(".contactfe-*") if _of(path) == folder.name]
    for place in (*drafts(folder), *beside):
        try:
            if (place / _MARK).exists():
                with (place / _MARK).open("r+b") as mark:
                    if not lock(mark.fileno()):
                        continue
            _settle(place, folder)
        except (FileExistsError, FileNotFoundError, PermissionError):
            pass  # not to be written over, which is refused by name; no longer whole; another's
        except (ValueError, LookupError, TypeError, AttributeError):
            pass  # no plan of contactfe
        except OSError as error:
            raise cannot_write(folder, error) from error


def drafts(folder: Path) -> list[Path]:
    """The drafts in a folder."""
    return [path for path in folder.glob(".contactfe-*") if _of(path) is not None]


def exchange(one: Path, other: Path) -> None:
    """Let two folders change places in one step. Raises OSError where that cannot be done."""
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS))
    paths = (_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other))
    if call(*paths, _RENAME_EXCHANGE) != 0:
        raise OSError(code := ctypes.get_errno(), os.strerror(code))


def _change_places(place: Path, folder: Path, earlier: Mapping[str, str], claim: ExitStack) -> None:
    """Exchange the files of a draft and the folder; a draft that cannot be is where it was."""
    if Path.cwd().is_relative_to(folder):
        raise OSError(errno.EBUSY, "a shell would be left in the earlier folder")
    state = folder.stat()
    os.chown(place / _FILES, state.st_uid, state.st_gid)
    shutil.copystat(folder, place / _FILES)
    beside = place.rename(folder.parent / place.name)
    new = beside / _FILES
    try:
        for path in folder.iterdir():
            if path.name not in earlier:  # folders cannot be linked
                os.link(path, new / path.name, follow_symlinks=False)
        sync(new)
        handle = os.open(new, os.O_RDONLY | os.O_DIRECTORY)
        claim.callback(os.close, handle)
        lock(handle)
        exchange(new, folder)
    except OSError:
        beside.rename(place)
        raise
    sync(folder.parent)


def _settle(place: Path, folder: Path) -> None:
    """Finish a draft that is ready or exchanged, and remove it."""
    files = place / _FILES
    if (place / _READY).exists():
        _roll_forward(files, folder, read_json(place / _READY))
    elif place.parent != folder:  # only those with a plan are moved there
        plan = read_json(place / _PLAN)
        if files.stat().st_ino == plan["folder"]:
            for path in files.iterdir():
                if path.lstat().st_ino not in plan["known"]:  # put there in the last moment
                    path.replace(folder / path.name)
    with suppress(OSError):  # the next run tries again
        # First inside, where one without a mark is known as well; the mark goes last.
        place = place.rename(folder / place.name)
        if (place / _FILES).exists():
            shutil.rmtree(place / _FILES)
        for name in (_PLAN, _READY, _MARK):
            (place / name).unlink(missing_ok=True)
        place.rmdir()


def _roll_forward(files: Path, folder: Path, plan: dict[str, Any]) -> None:
    """Put the files of a draft in place that are not yet; once more, if that was cut off.

    Raises FileExistsError, before anything is done, if one would be written over that is not as it
    was when the draft was made.
    """
    names, earlier = plan["files"], plan["earlier"]
    new = [name for name in names if Path(name).name == name and (files / name).exists()]
    as_it_was = {
        name for name in os.listdir(folder)
        if name in earlier and ordinary(folder / name) and digest(folder / name) == earlier[name]
    }  # fmt: skip
    for name in new:  # plain names alone, whatever a plan says
        if os.path.lexists(folder / name) and name not in as_it_was:
            raise FileExistsError(errno.EEXIST, f"{name} was changed meanwhile")
    try:
        for name in as_it_was.difference(names):
            (folder / name).unlink()
        for name in new:
            (files / name).replace(folder / name)
    except OSError as error:
        why = f"{error.strerror}; what is there is incomplete, and the next run brings in the rest"
        raise OSError(error.errno, why, error.filename) from error
    sync(folder)


def _of(path: Path) -> str | None:
    """Name of the folder that a draft is for; None for what is no draft of contactfe.

    One that was only just begun, or is all but removed, is for no name yet.
    """
    mark = path / _MARK
    try:
        if not re.fullmatch(r"\.contactfe-[0-9a-f]{16}", path.name) or path.is_symlink():
            return None
        if all(p == mark and ordinary(p) and p.stat().st_size == 0 for p in path.iterdir()):
            return ""
        said = read_json(mark)
        return str(said["draft of"]) if said["generator"]["name"] == "contactfe" else None
    except (OSError, ValueError, KeyError, TypeError):
        return None
