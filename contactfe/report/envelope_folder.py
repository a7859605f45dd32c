"""The folder of an envelope: a record of rows, which grows, and results, put in place last."""

from pathlib import Path

from contactfe.assess.envelope import EnvelopeResult
from contactfe.case import Case
from contactfe.report.envelope import envelope_document, write_csv
from contactfe.report.envelope_table import write_envelope_table
from contactfe.report.figures.envelope import save_envelope_figure
from contactfe.report.folder import Owner, check_folder_of, default_folder_of, fill
from contactfe.report.json_file import write_json
from contactfe.report.rows import ROWS, head, row_log

RESULTS = "envelope.json"
FILES = (RESULTS, "envelope.csv", "envelope.txt", "envelope.png")


def default_envelope_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-envelope``, here."""
    return default_folder_of(case, "envelope")


def check_envelope_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the envelope of this case; asked before a case is solved.

    Raises
    ------
    InputError
        if it is a file, or holds anything without the record of rows of this case
    """
    check_folder_of(case, folder, ROWS, "the envelope", _owner)


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
    content = {**envelope_document(result), "files": [*FILES, ROWS]}
    written = fill(
        folder,
        {
            RESULTS: lambda path: write_json(path, content),
            "envelope.csv": lambda path: write_csv(result, path),
            "envelope.txt": lambda path: write_envelope_table(result, path),
            "envelope.png": lambda path: save_envelope_figure(result, path),
        },
    )
    return [*written, folder / ROWS]


def _owner(record: Path) -> Owner | None:
    """Whose a record of rows is; None where there is none."""
    found = head(record.parent)
    return None if found is None else (found.get("path"), str(found.get("title")))
