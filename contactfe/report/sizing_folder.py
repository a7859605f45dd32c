"""The folder of a sizing: page, figure, JSON and CSV."""

from pathlib import Path

from contactfe.assess.sizing.record import SizingResult
from contactfe.case import Case
from contactfe.report.figures.sizing import save_sizing_figure
from contactfe.report.folder import check_folder_of, default_folder_of, fill
from contactfe.report.json_file import write_json
from contactfe.report.sizing import sizing_document, write_csv
from contactfe.report.sizing_table import write_sizing_table

RESULTS = "size.json"
FILES = (RESULTS, "size.csv", "size.txt", "size.png")


def default_sizing_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-size``, here."""
    return default_folder_of(case, "size")


def check_sizing_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the sizing of this case. Raises InputError."""
    check_folder_of(case, folder, RESULTS, "the sizing")


def save_sizing(result: SizingResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the sizing of this case, or cannot be written.
    """
    folder = Path(folder)
    check_sizing_folder(result.case, folder)
    content = {**sizing_document(result), "files": list(FILES)}
    return fill(
        folder,
        {
            RESULTS: lambda path: write_json(path, content),
            "size.csv": lambda path: write_csv(result, path),
            "size.txt": lambda path: write_sizing_table(result, path),
            "size.png": lambda path: save_sizing_figure(result, path),
        },
    )
