"""The folder of the command ``impact``: document, history, page and figures."""

from __future__ import annotations

from pathlib import Path

from contactfe.assess.impact import ImpactResult
from contactfe.case import Case
from contactfe.report.figures.impact import impact_figure
from contactfe.report.figures.ink import save_figure
from contactfe.report.folder import ResultsFolder
from contactfe.report.impact import impact_document, write_history
from contactfe.report.impact_page import impact_answer, impact_page
from contactfe.report.output import Output
from contactfe.report.slugs import unique_slugs


def _figures(case: Case) -> list[str]:
    """The figure of each impact: one for each section where they have curves of their own."""
    if case.motion is None or case.motion.contact_law.law != "section":
        return ["impact.png"]
    return [f"impact-{name}.png" for name in unique_slugs(s.name for s in case.sections)]


FOLDER = ResultsFolder(
    "impact",
    "impact.json",
    lambda case: ("history.csv", "impact.txt", *_figures(case)),
    sections=r"impact(-[a-z0-9-]+)?\.png",
)


def _write(result: ImpactResult, draft: Path) -> None:
    write_history(result, draft / "history.csv")
    for name, impact in zip(_figures(result.case), result.blows, strict=True):
        save_figure(draft / name, impact_figure, result, impact)


OUTPUT = Output(FOLDER, "impact.txt", impact_answer, impact_page, impact_document, _write)
save_impact = OUTPUT.save
