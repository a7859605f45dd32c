"""The folder of an envelope: a record of rows, which grows, and results, put in place last."""

import shutil
from pathlib import Path

from contactfe.assess.envelope import EnvelopeResult
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.envelope import envelope_document, write_csv
from contactfe.report.envelope_table import write_envelope_table
from contactfe.report.figures.envelope import save_envelope_figure
from contactfe.report.json_file import FROM_DATA, case_path, write_json
from contactfe.report.rows import ROWS, head, row_log
from contactfe.report.slugs import slug

RESULTS = "envelope.json"
FILES = (RESULTS, "envelope.csv", "envelope.txt", "envelope.png")

_DRAFT = ".draft"


def default_envelope_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-envelope``, here."""
    stem = slug(case.title) if case.source == FROM_DATA else Path(case.source).stem
    return Path(f"{stem}-envelope")


def check_envelope_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the envelope of this case; asked before a case is solved.

    Raises
    ------
    InputError
        if it is a file, or holds anything without the record of rows of this case
    """
    if not folder.exists():
        return
    if not folder.is_dir():
        raise InputError(f"{folder}: is a file, results go into a folder; choose one with --out")
    entries = sorted(path.name for path in folder.iterdir())
    if not entries:
        return
    found = head(folder)
    if found is None:
        shown = ", ".join(entries[:3]) + (", …" if len(entries) > 3 else "")
        raise InputError(
            f"{folder}: already exists and holds {shown}, but no {ROWS} of contactfe;"
            " choose another folder with --out, or remove it"
        )
    path, title = found.get("path"), found.get("title")
    if path != case_path(case) or (path is None and title != case.title):
        raise InputError(
            f"{folder}: already holds the envelope of another case, {title!r} from"
            f" {path or 'data'}; choose another folder with --out, or remove it"
        )


def save_envelope(result: EnvelopeResult, folder: str | Path) -> list[Path]:
    """Write JSON, CSV, table and figure into ``folder``, and the record of rows; return the files.

    They are written aside first, so that a failure leaves earlier results as they were. Rows that
    the record lacks are added to it, so that a later run can go on from there.

    Raises
    ------
    InputError
        if the folder is not for the envelope of this case, or cannot be written
    """
    folder = Path(folder)
    check_envelope_folder(result.case, folder)
    with row_log(result.case, folder) as log:
        there = set(log.rows)
        for row in (row for row in result.rows if row not in there):
            log.add(row)
    draft = folder / _DRAFT
    try:
        shutil.rmtree(draft, ignore_errors=True)
        draft.mkdir()
        names = dict(zip(FILES, (draft / name for name in FILES), strict=True))
        write_json(names[RESULTS], {**envelope_document(result), "files": [*FILES, ROWS]})
        write_csv(result, names["envelope.csv"])
        write_envelope_table(result, names["envelope.txt"])
        save_envelope_figure(result, names["envelope.png"])
        for name, path in names.items():
            path.replace(folder / name)
    except OSError as error:
        raise InputError(
            f"{folder}: results cannot be written there: {error.strerror or error};"
            " choose another folder with --out"
        ) from error
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return [folder / name for name in (*FILES, ROWS)]
