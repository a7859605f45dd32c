"""The folder of an envelope: a record of rows, which grows, and results, put in place last."""

from pathlib import Path

from contactfe.assess.envelope import EnvelopeResult
from contactfe.report.envelope import envelope_document, write_csv
from contactfe.report.envelope_page import envelope_page
from contactfe.report.envelope_record import ROWS, owner, row_record
from contactfe.report.figures.envelope import save_envelope_figure
from contactfe.report.files import claimed
from contactfe.report.folder import ResultsFolder
from contactfe.report.page import write_page

FILES = ("envelope.json", "envelope.csv", "envelope.txt", "envelope.png")


FOLDER = ResultsFolder(
    "envelope", FILES[0], lambda _: FILES[1:], "the envelope", record=ROWS, owner=owner
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
        write_page(envelope_page(result), draft / "envelope.txt")
        save_envelope_figure(result, draft / "envelope.png")

    FOLDER.check(result.case, folder)
    with claimed(folder, result.case):
        with row_record(result.case, folder) as record:
            for number, row in enumerate(result.rows):
                if number not in record:
                    record.add(row)
        return FOLDER.fill(result.case, folder, envelope_document(result), write)
