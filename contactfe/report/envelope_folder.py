"""The folder of an envelope: a record of rows, which grows, and results, put in place last."""

from pathlib import Path

from contactfe.assess.envelope import EnvelopeResult
from contactfe.report.envelope import envelope_document, write_csv
from contactfe.report.envelope_table import write_envelope_table
from contactfe.report.figures.envelope import save_envelope_figure
from contactfe.report.files import claimed
from contactfe.report.folder import Owner, ResultsFolder
from contactfe.report.rows import ROWS, head, row_log

FILES = ("envelope.json", "envelope.csv", "envelope.txt", "envelope.png")


def _owner(record: Path) -> Owner | None:
    """Whose a record of rows is; None where there is none."""
    found = head(record.parent)
    return None if found is None else (found.get("path"), str(found.get("title")))


FOLDER = ResultsFolder(
    "envelope", FILES[0], lambda _: FILES[1:], "the envelope", record=ROWS, owner=_owner
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

    def write(draft: Path) -> None:
        write_csv(result, draft / "envelope.csv")
        write_envelope_table(result, draft / "envelope.txt")
        save_envelope_figure(result, draft / "envelope.png")

    FOLDER.check(result.case, folder)
    with claimed(folder, result.case):
        with row_log(result.case, folder) as log:
            there = {(row.section, row.contact) for row in log.rows}
            for row in (r for r in result.rows if (r.section, r.contact) not in there):
                log.add(row)
        return FOLDER.fill(result.case, folder, envelope_document(result), write)
