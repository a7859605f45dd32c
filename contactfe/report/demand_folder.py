"""The folder of a demand: document, history, page and a figure for each blow."""

from __future__ import annotations

from pathlib import Path

from contactfe.assess.demand import DemandResult
from contactfe.case import Case
from contactfe.report.demand import demand_document, write_history
from contactfe.report.demand_page import demand_page
from contactfe.report.figures.demand import save_demand_figure
from contactfe.report.folder import ResultsFolder
from contactfe.report.page import write_page
from contactfe.report.slugs import unique_slugs


def _figures(case: Case) -> list[str]:
    """The figure of each blow: one for each section where they have curves of their own."""
    if case.demand is None or case.demand.impact.law != "section":
        return ["demand.png"]
    return [f"demand-{name}.png" for name in unique_slugs(s.name for s in case.sections)]


FOLDER = ResultsFolder(
    "demand",
    "demand.json",
    lambda case: ("history.csv", "demand.txt", *_figures(case)),
    sections=r"demand(-[a-z0-9-]+)?\.png",
)


def save_demand(result: DemandResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the demand of this case, or cannot be written.
    """

    def write(draft: Path) -> None:
        write_history(result, draft / "history.csv")
        write_page(demand_page(result), draft / "demand.txt")
        for name, struck in zip(_figures(result.case), result.blows, strict=True):
            save_demand_figure(result, struck, draft / name)

    return FOLDER.fill(result.case, Path(folder), demand_document(result), write)
