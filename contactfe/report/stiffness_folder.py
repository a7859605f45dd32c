"""The folder of contact stiffness: document, curves, points, page and figure."""

from pathlib import Path

from contactfe.assess.stiffness import StiffnessResult
from contactfe.report.figures.stiffness import save_stiffness_figure
from contactfe.report.folder import ResultsFolder
from contactfe.report.page import write_page
from contactfe.report.stiffness import stiffness_document
from contactfe.report.stiffness_page import stiffness_page
from contactfe.report.stiffness_points import write_curves, write_points

FILES = ("stiffness.json", "curve.csv", "points.csv", "stiffness.txt", "stiffness.png")
FOLDER = ResultsFolder("stiffness", FILES[0], lambda _: FILES[1:])


def save_stiffness(result: StiffnessResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the stiffness of this case, or cannot be written.
    """

    def write(draft: Path) -> None:
        write_curves(result, draft / "curve.csv")
        write_points(result, draft / "points.csv")
        write_page(stiffness_page(result), draft / "stiffness.txt")
        save_stiffness_figure(result, draft / "stiffness.png")

    return FOLDER.fill(result.case, Path(folder), stiffness_document(result), write)
