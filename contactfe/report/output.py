"""The folder that holds the results of a comparison: document, pages, figures and fields."""

from pathlib import Path

from contactfe.assess.by_hand.record import ByHand
from contactfe.assess.results import Comparison
from contactfe.report.document import document
from contactfe.report.fields import write_fields
from contactfe.report.figures import figures_of, save_figures
from contactfe.report.folder import ResultsFolder
from contactfe.report.page import write_page
from contactfe.report.slugs import unique_slugs
from contactfe.report.steps import steps_page
from contactfe.report.table import comparison_page

FOLDER = ResultsFolder(
    "results",
    "results.json",
    lambda case: (
        "table.txt",
        "steps.txt",
        *figures_of(case),
        *(f"{name}.vtu" for name in unique_slugs(s.name for s in case.sections)),
    ),
    sections=r"[a-z0-9-]+\.vtu|length\.png|convergence\.png",
)


def save(comparison: Comparison, folder: str | Path) -> list[Path]:
    """Write results.json, table.txt, the figures and the fields into ``folder``; returns the files.

    They are written aside first and put in place at the end, so that a failure leaves earlier
    results as they were. Earlier results of the same case are replaced; files that someone else put
    among them stay.

    Raises
    ------
    InputError
        if the folder holds anything but results of this case, or what was changed since under the
        name of one of them, or cannot be written
    """

    def write(draft: Path) -> None:
        by_hand = ByHand(comparison.case, tuple(result.by_hand for result in comparison.sections))
        write_page(comparison_page(comparison), draft / "table.txt")
        write_page(steps_page(by_hand, solved=True), draft / "steps.txt")
        save_figures(comparison, draft)
        write_fields(comparison, draft)

    return FOLDER.fill(comparison.case, Path(folder), document(comparison), write)
