"""The folder that holds the results of one case, written whole or not at all."""

import json
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from contactfe.assess.by_hand.record import ByHand
from contactfe.assess.results import Comparison
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.document import document
from contactfe.report.fields import write_fields
from contactfe.report.figures import save_figures
from contactfe.report.folder import default_folder_of
from contactfe.report.json_file import case_path, write_json
from contactfe.report.page import write_page
from contactfe.report.steps import steps_page
from contactfe.report.table import write_table

RESULTS = "results.json"
TABLE = "table.txt"
STEPS = "steps.txt"


def default_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-results``, here."""
    return default_folder_of(case, "results")


def check_folder(case: Case, folder: str | Path) -> None:
    """Refuse a folder that ``save`` would refuse; asked before a case is solved, not after.

    Raises
    ------
    InputError
        if the folder holds anything but results of this case
    """
    _earlier_files(Path(folder).resolve(), Path(folder), case)


def save(comparison: Comparison, folder: str | Path) -> list[Path]:
    """Write results.json, table.txt, the figures and the fields into ``folder``; returns the files.

    They are written beside the folder first and put in place at the end, so that a failure leaves
    earlier results as they were. Earlier results of the same case are replaced; files that someone
    else put among them stay.

    Raises
    ------
    InputError
        if the folder holds anything but results of this case, or cannot be written
    """
    folder = Path(folder)
    place = folder.resolve()
    earlier = _earlier_files(place, folder, comparison.case)
    try:
        with _beside(place) as draft:
            names = [path.name for path in _write(comparison, draft)]
            if place.is_dir():
                _keep_others(place, draft, earlier, folder)
            _swap(draft, place)
    except OSError as error:
        raise InputError(
            f"{folder}: results cannot be written there: {error.strerror or error};"
            " choose another folder with --out"
        ) from error
    return [folder / name for name in names]


def _write(comparison: Comparison, folder: Path) -> list[Path]:
    results, table, steps = folder / RESULTS, folder / TABLE, folder / STEPS
    write_table(comparison, table)
    by_hand = ByHand(comparison.case, tuple(result.by_hand for result in comparison.sections))
    write_page(steps_page(by_hand, solved=True), steps)
    others = [table, steps, *save_figures(comparison, folder), *write_fields(comparison, folder)]
    files = [RESULTS, *(path.name for path in others)]
    write_json(results, {**document(comparison), "files": files})
    return [results, *others]


def _earlier_files(place: Path, folder: Path, case: Case) -> list[str]:
    """Names of the files that an earlier run for the same case left; none if there is no folder.

    Raises InputError where the folder is something else, which must not be written over.
    """
    if not place.exists():
        return []
    if not place.is_dir():
        raise InputError(f"{folder}: is a file, results go into a folder; choose one with --out")
    entries = sorted(path.name for path in place.iterdir())
    if not entries:
        return []
    found = _read(place / RESULTS)
    if found is None:
        shown = ", ".join(entries[:3]) + (", …" if len(entries) > 3 else "")
        raise InputError(
            f"{folder}: already exists and holds {shown}, but no results of contactfe;"
            " choose another folder with --out, or remove it"
        )
    path, title = found["case"].get("path"), found.get("title")
    same = title == case.title if path is None else True
    if path != case_path(case) or not same:
        raise InputError(
            f"{folder}: already holds the results of another case, {title!r} from"
            f" {path or 'data'}; choose another folder with --out, or remove it"
        )
    return [str(name) for name in found.get("files", [])]


def _read(path: Path) -> dict[str, Any] | None:
    """What contactfe wrote to that file; None if the file is not there or is another program's."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    try:
        mine = content["generator"]["name"] == "contactfe" and isinstance(content["case"], dict)
    except (KeyError, TypeError):
        return None
    return content if mine else None


@contextmanager
def _beside(place: Path) -> Iterator[Path]:
    """A new folder next to ``place``, on the same disk; removed at the end unless renamed."""
    place.parent.mkdir(parents=True, exist_ok=True)
    draft = place.with_name(f".{place.name}.{secrets.token_hex(4)}")
    # Not tempfile.mkdtemp, whose folders nobody but their owner can open.
    draft.mkdir()
    try:
        yield draft
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _keep_others(place: Path, draft: Path, earlier: list[str], folder: Path) -> None:
    """Copy what is not of an earlier run over to the draft."""
    shutil.copymode(place, draft)
    for entry in place.iterdir():
        if entry.name in earlier:
            continue
        target = draft / entry.name
        if target.exists():
            raise InputError(
                f"{folder}: holds a file {entry.name} that contactfe did not write and would"
                " write over; rename it, or choose another folder with --out"
            )
        if entry.is_dir() and not entry.is_symlink():
            shutil.copytree(entry, target, symlinks=True)
        else:
            shutil.copy2(entry, target, follow_symlinks=False)


def _swap(draft: Path, place: Path) -> None:
    """Put the draft in place; the old folder comes back if that fails."""
    if not place.exists():
        draft.rename(place)
        return
    old = place.with_name(f"{draft.name}.old")
    place.rename(old)
    try:
        draft.rename(place)
    except OSError:
        old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)
