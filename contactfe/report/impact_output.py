"""The folder of the command ``impact``: document, history, page and figures."""

from __future__ import annotations

from pathlib import Path

from contactfe.assess.impact import ImpactResult
from contactfe.report.figures import save_figures
from contactfe.report.figures.choice import impacts_named
from contactfe.report.folder import ResultsFolder
from contactfe.report.impact import impact_document, write_history
from contactfe.report.impact_page import impact_answer, impact_page
from contactfe.report.output import Output

FOLDER = ResultsFolder(
    "impact",
    "impact.json",
    lambda case: ("history.csv", "impact.txt", *impacts_named(case)),
    sections=r"impact(-[a-z0-9-]+)?\.png",
)


def _write(result: ImpactResult, draft: Path) -> None:
    write_history(result, draft / "history.csv")
    save_figures(result, draft)


OUTPUT = Output(FOLDER, "impact.txt", impact_answer, impact_page, impact_document, _write)
save_impact = OUTPUT.save
