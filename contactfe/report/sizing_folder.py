"""The folder of a sizing: page, figure, JSON and CSV."""

from pathlib import Path

from contactfe.assess.sizing.record import SizingResult
from contactfe.report.figures.sizing import save_sizing_figure
from contactfe.report.folder import ResultsFolder
from contactfe.report.page import write_page
from contactfe.report.sizing import sizing_document, write_csv
from contactfe.report.sizing_page import sizing_page

FILES = ("size.json", "size.csv", "size.txt", "size.png")
FOLDER = ResultsFolder("size", FILES[0], lambda _: FILES[1:], "the sizing")


def save_sizing(result: SizingResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the sizing of this case, or cannot be written.
    """

    def write(draft: Path) -> None:
        write_csv(result, draft / "size.csv")
        write_page(sizing_page(result), draft / "size.txt")
        save_sizing_figure(result, draft / "size.png")

    return FOLDER.fill(result.case, Path(folder), sizing_document(result), write)
