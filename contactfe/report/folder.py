"""A folder of results of a case: whose it is, and filled aside, then put in place file by file."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.json_file import FROM_DATA, case_path
from contactfe.report.slugs import slug

_DRAFT = ".draft"


def default_folder_of(case: Case, what: str) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-<what>``, here."""
    stem = slug(case.title) if case.source == FROM_DATA else Path(case.source).stem
    return Path(f"{stem}-{what}")


Owner = tuple[str | None, str]
"""Path of a case, None for one that was not read from a file, and its title."""


def check_folder_of(
    case: Case,
    folder: Path,
    document: str,
    what: str = "results",
    owner: Callable[[Path], Owner | None] | None = None,
) -> None:
    """Refuse a folder that holds anything but results of this case; asked before it is solved.

    ``document`` is the name of the file by which they are known, and ``owner`` reads from it whose
    they are: by default out of a JSON document. ``what`` is what the folder holds, in words.

    Raises
    ------
    InputError
        if it is a file, or holds other things, or results of another case
    """
    if not folder.exists():
        return
    if not folder.is_dir():
        raise InputError(f"{folder}: is a file, results go into a folder; choose one with --out")
    entries = sorted(path.name for path in folder.iterdir() if path.name != _DRAFT)
    if not entries:
        return
    found = (owner or _owner)(folder / document)
    if found is None:
        shown = ", ".join(entries[:3]) + (", …" if len(entries) > 3 else "")
        raise InputError(
            f"{folder}: already exists and holds {shown}, but no {document} of contactfe;"
            " choose another folder with --out, or remove it"
        )
    path, title = found
    if path != case_path(case) or (path is None and title != case.title):
        raise InputError(
            f"{folder}: already holds {what} of another case, {title!r} from {path or 'data'};"
            " choose another folder with --out, or remove it"
        )


def fill(folder: Path, writers: dict[str, Callable[[Path], None]]) -> list[Path]:
    """Write every file by its name, and return them; earlier ones stay if one cannot be written.

    A failure leaves no new folder behind. Raises InputError where the folder cannot be written.
    """
    draft, new = folder / _DRAFT, not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(draft, ignore_errors=True)
        draft.mkdir()
        for name, write in writers.items():
            write(draft / name)
        for name in writers:
            (draft / name).replace(folder / name)
    except OSError as error:
        raise InputError(
            f"{folder}: results cannot be written there: {error.strerror or error};"
            " choose another folder with --out"
        ) from error
    finally:
        shutil.rmtree(draft, ignore_errors=True)
        if new and folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
    return [folder / name for name in writers]


def _owner(path: Path) -> Owner | None:
    """Path and title of the case of a document of ours; None if it is not there or not ours."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        if content["generator"]["name"] != "contactfe":
            return None
        return content["case"]["path"], str(content["title"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
