"""The file that the document of a case is written to: which it may be, and how it is written."""

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from contactfe.assess.calculation import Calculation
from contactfe.case import Case
from contactfe.report.calculation.page import calculation, mark_of
from contactfe.report.files import MOST_BYTES, aside, check_target, ordinary
from contactfe.report.folder import default_folder_of
from contactfe.report.json_file import case_path

Kind = Literal["pdf", "html"]


def default_file(case: Case, kind: Kind) -> Path:
    """Where a report goes by default, in the current folder."""
    return default_folder_of(case, "report").with_suffix(f".{kind}")


def check_report(path: Path, case: Case) -> None:
    """Refuse a file that cannot be written, or is none to write over; asked before any work.

    Raises InputError as :func:`contactfe.report.files.check_target` does.
    """

    def ours(place: Path) -> bool:
        short = ordinary(place) and place.stat().st_size <= MOST_BYTES
        return short and _mark(case).encode() in place.read_bytes()

    check_target("--out", path, ours, "earlier report of the same case")


def write_report(found: Calculation, content: bytes, path: Path, kind: Kind) -> None:
    """Write the document, whole or not at all; the case file has that ``content``.

    Raises InputError as :func:`check_report` does, and OSError where it cannot be written.
    """
    sheets = calculation(found, content, datetime.now(UTC).date())
    if kind == "pdf":
        from contactfe.report.pdf import as_pdf

        made = as_pdf(sheets)
    else:
        from contactfe.report.html import as_document

        made = as_document(sheets).encode("utf-8")
    check_report(path, found.case)  # once more: to solve may have taken long
    with aside(Path(os.path.realpath(path))) as draft:
        draft.write_bytes(made)


def _mark(case: Case) -> str:
    return mark_of(case_path(case) or case.title)
