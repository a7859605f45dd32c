"""What every JSON document of ours has in common: its head, and how it is written."""

import json
import math
import os
from pathlib import Path
from typing import Any

import contactfe
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.versions import library_versions

Json = dict[str, Any]

FROM_DATA = "<data>"
"""What a case that was not read from a file names as its source."""


def head(title: str) -> Json:
    """What every document of ours begins with: what made it, and the units of its numbers."""
    return {
        "title": title,
        "generator": {"name": "contactfe", "version": contactfe.__version__},
        "libraries": library_versions(),
        "units": {
            "length": "mm",
            "stress": "MPa",
            "line_load": "N/mm",
            "mass_per_length": "kg/m",
            "moment_per_length": "N mm/mm",
            "line_stiffness": "N/mm/mm",
            "angle": "rad",
            "density": "kg/m3",
        },
    }


def case_path(case: Case) -> str | None:
    """Absolute path of the case file; None for a case that was not read from a file."""
    return None if case.source == FROM_DATA else str(Path(case.source).resolve())


def check_file(path: Path) -> None:
    """Refuse a file that cannot be written; asked before a case is solved, not after.

    Raises
    ------
    InputError
        if the path is a folder, lies in none, or may not be written
    """
    if path.is_dir() or not path.name:
        why = "is a folder; name a file"
    elif not path.parent.is_dir():
        why = f"there is no folder {path.parent}"
    elif not os.access(path if path.exists() else path.parent, os.W_OK):
        why = "may not be written"
    else:
        return
    raise InputError(f"--json {path}: {why}")


def finite(value: float | None) -> float | None:
    """A plain number, or None, for which JSON has null, where there is none or it is not finite."""
    return float(value) if value is not None and math.isfinite(value) else None


def as_text(content: Json) -> str:
    """A document as text, indented. Raises ValueError for NaN and infinity, which JSON lacks."""
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)


def write_json(path: Path, content: Json) -> None:
    """Write a document in UTF-8, ending in a line break.

    Raises ValueError as :func:`as_text` does, and OSError where the file cannot be written.
    """
    path.write_text(f"{as_text(content)}\n", encoding="utf-8", newline="\n")
