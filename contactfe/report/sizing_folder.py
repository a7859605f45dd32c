"""The folder of a sizing: page, figure, JSON and CSV, put in place when all are written."""

import json
import shutil
from pathlib import Path

from contactfe.assess.sizing.record import SizingResult
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.figures.sizing import save_sizing_figure
from contactfe.report.json_file import FROM_DATA, case_path, write_json
from contactfe.report.sizing import sizing_document, write_csv
from contactfe.report.sizing_table import write_sizing_table
from contactfe.report.slugs import slug

RESULTS = "size.json"
FILES = (RESULTS, "size.csv", "size.txt", "size.png")

_DRAFT = ".draft"


def default_sizing_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-size``, here."""
    stem = slug(case.title) if case.source == FROM_DATA else Path(case.source).stem
    return Path(f"{stem}-size")


def check_sizing_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the sizing of this case; asked before a case is solved.

    Raises
    ------
    InputError
        if it is a file, or holds anything without an earlier sizing of this case
    """
    if not folder.exists():
        return
    if not folder.is_dir():
        raise InputError(f"{folder}: is a file, results go into a folder; choose one with --out")
    entries = sorted(path.name for path in folder.iterdir() if path.name != _DRAFT)
    if not entries:
        return
    found = _earlier(folder / RESULTS)
    if found is None:
        shown = ", ".join(entries[:3]) + (", …" if len(entries) > 3 else "")
        raise InputError(
            f"{folder}: already exists and holds {shown}, but no {RESULTS} of contactfe;"
            " choose another folder with --out, or remove it"
        )
    path, title = found
    if path != case_path(case) or (path is None and title != case.title):
        raise InputError(
            f"{folder}: already holds the sizing of another case, {title!r} from"
            f" {path or 'data'}; choose another folder with --out, or remove it"
        )


def save_sizing(result: SizingResult, folder: str | Path) -> list[Path]:
    """Write JSON, CSV, page and figure into ``folder``; return the files.

    They are written aside first, so that a failure leaves earlier results as they were.

    Raises
    ------
    InputError
        if the folder is not for the sizing of this case, or cannot be written
    """
    folder = Path(folder)
    check_sizing_folder(result.case, folder)
    draft = folder / _DRAFT
    try:
        shutil.rmtree(draft, ignore_errors=True)
        draft.mkdir(parents=True)
        write_json(draft / RESULTS, {**sizing_document(result), "files": list(FILES)})
        write_csv(result, draft / "size.csv")
        write_sizing_table(result, draft / "size.txt")
        save_sizing_figure(result, draft / "size.png")
        for name in FILES:
            (draft / name).replace(folder / name)
    except OSError as error:
        raise InputError(
            f"{folder}: results cannot be written there: {error.strerror or error};"
            " choose another folder with --out"
        ) from error
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return [folder / name for name in FILES]


def _earlier(path: Path) -> tuple[str | None, str] | None:
    """Case file and title of the sizing in a file; None where it is no sizing of ours."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        if found["generator"]["name"] != "contactfe":
            return None
        return found["case"]["path"], str(found["title"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
