"""The folder that holds the results of a comparison: document, pages, figures and fields."""

from pathlib import Path

from contactfe.assess.by_hand.record import ByHand
from contactfe.assess.results import Comparison
from contactfe.report.document import document
from contactfe.report.drawing_note import drawing_note
from contactfe.report.fields import write_fields
from contactfe.report.figures import save_figures
from contactfe.report.figures.choice import named
from contactfe.report.folder import ResultsFolder
from contactfe.report.output import Output
from contactfe.report.page import write_page
from contactfe.report.slugs import unique_slugs
from contactfe.report.steps import steps_page
from contactfe.report.table import comparison_answer, comparison_page

FOLDER = ResultsFolder(
    "results",
    "results.json",
    lambda case: (
        "table.txt",
        "steps.txt",
        "drawing-note.txt",
        *named(case),
        *(f"{name}.vtu" for name in unique_slugs(s.name for s in case.sections)),
    ),
    sections=r"[a-z0-9-]+\.vtu|length\.png|relief\.png|convergence\.png",
)


def _write(comparison: Comparison, draft: Path) -> None:
    by_hand = ByHand(comparison.case, tuple(result.by_hand for result in comparison.sections))
    write_page(steps_page(by_hand, solved=True), draft / "steps.txt")
    write_page(drawing_note(comparison), draft / "drawing-note.txt")
    save_figures(comparison, draft)
    write_fields(comparison, draft)


OUTPUT = Output(FOLDER, "table.txt", comparison_answer, comparison_page, document, _write)
save = OUTPUT.save
