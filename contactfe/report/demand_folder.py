"""The folder of a demand: document, history, page and a figure for each blow."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from contactfe.assess.demand import DemandResult
from contactfe.case import Case
from contactfe.report.demand import demand_document, write_history
from contactfe.report.demand_page import demand_page
from contactfe.report.figures.demand import save_demand_figure
from contactfe.report.folder import check_folder_of, default_folder_of, fill
from contactfe.report.json_file import write_json
from contactfe.report.page import write_page
from contactfe.report.slugs import unique_slugs

RESULTS = "demand.json"


def default_demand_folder(case: Case) -> Path:
    """Where results go unless told otherwise: ``<name of the case file>-demand``, here."""
    return default_folder_of(case, "demand")


def check_demand_folder(case: Case, folder: Path) -> None:
    """Refuse a folder that is not for the demand of this case. Raises InputError."""
    check_folder_of(case, folder, RESULTS)


def save_demand(result: DemandResult, folder: str | Path) -> list[Path]:
    """Write every file into ``folder`` and return them; a failure leaves earlier ones as they were.

    Raises InputError if the folder is not for the demand of this case, or cannot be written.
    """
    folder = Path(folder)
    check_demand_folder(result.case, folder)
    sections = [struck.section for struck in result.blows]
    names = unique_slugs(section.name for section in sections if section is not None)
    figures = [f"demand-{name}.png" for name in names] or ["demand.png"]
    files = [RESULTS, "history.csv", "demand.txt", *figures]
    content = {**demand_document(result), "files": files}
    writers: dict[str, Callable[[Path], None]] = {
        RESULTS: lambda path: write_json(path, content),
        "history.csv": partial(write_history, result),
        "demand.txt": lambda path: write_page(demand_page(result), path),
    }
    for name, struck in zip(figures, result.blows, strict=True):
        writers[name] = partial(save_demand_figure, result, struck)
    return fill(folder, writers)
