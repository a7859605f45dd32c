"""The folder of contact stiffness: document, curves, points, page and figure."""

from pathlib import Path

from contactfe.assess.stiffness import StiffnessResult
from contactfe.case import Case
from contactfe.report.figures.stiffness import save_stiffness_figure
from contactfe.report.folder import check_folder_of, default_folder_of, fill
from contactfe.report.json_file import write_json
from contactfe.report.page import write_page
from contactfe.report.stiffness import stiffness_document, write_curves, write_points
from contactfe.report.stiffness_page import stiffness_page

RESULTS = "stiffness.json"
FILES = (RESULTS, "curve.csv", "points.csv", "stiffness.txt", "stiffness.png")


def default_stiffness_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-stiffness``, here."""
    return default_folder_of(case, "stiffness")


def check_stiffness_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the stiffness of this case. Raises InputError."""
    check_folder_of(case, folder, RESULTS)


def save_stiffness(result: StiffnessResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the stiffness of this case, or cannot be written.
    """
    folder = Path(folder)
    check_stiffness_folder(result.case, folder)
    content = {**stiffness_document(result), "files": list(FILES)}
    return fill(
        folder,
        {
            RESULTS: lambda path: write_json(path, content),
            "curve.csv": lambda path: write_curves(result, path),
            "points.csv": lambda path: write_points(result, path),
            "stiffness.txt": lambda path: write_page(stiffness_page(result), path),
            "stiffness.png": lambda path: save_stiffness_figure(result, path),
        },
    )
