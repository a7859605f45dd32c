"""What every JSON document of ours has in common: its head, and how it is written."""

import json
from pathlib import Path
from typing import Any

import contactfe
from contactfe.case import Case
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


def as_text(content: Json) -> str:
    """A document as text, indented. Raises ValueError for NaN and infinity, which JSON lacks."""
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)


def write_json(path: Path, content: Json) -> None:
    """Write a document in UTF-8, ending in a line break.

    Raises ValueError as :func:`as_text` does, and OSError where the file cannot be written.
    """
    path.write_text(f"{as_text(content)}\n", encoding="utf-8", newline="\n")
