"""What every JSON document of ours has in common: its head, and how it is written."""

import json
import math
import os
import re
from pathlib import Path
from typing import Any

import contactfe
from contactfe.case import Case
from contactfe.case.wording import unseen
from contactfe.report.files import MEGABYTE, aside, check_target, read_json
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


def read_own(path: Path) -> Json | None:
    """A document that contactfe wrote; None where there is none, or it is another's, or a record's.

    ``kind`` is what the first line of a record has.
    """
    try:
        content = read_json(path)
        mine = content["generator"]["name"] == "contactfe" and "kind" not in content
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return dict(content) if mine else None


def check_file(path: Path, of: str | None, room: float = MEGABYTE) -> None:
    """Refuse a file that cannot be written, or is none to write over; asked before any work.

    A file that is there must be an earlier result that --json wrote, of the case file whose path is
    ``of``, None for what is of no case. Raises InputError as :func:`.check_target` does.
    """
    what = "earlier result of the same case by --json"
    check_target("--json", path, lambda place: _replaceable(place, of), what, room)


def finite(value: float | None) -> float | None:
    """A plain number, or None, for which JSON has null, where there is none or it is not finite."""
    return float(value) if value is not None and math.isfinite(value) else None


def _replaceable(place: Path, of: str | None) -> bool:
    content = read_own(place)
    # A document with a list of files belongs to the folder that they lie in.
    if content is None or "files" in content:
        return False
    return path_of(content) == of and ("case" in content) == (of is not None)


def path_of(content: Json) -> str | None:
    """Path of the case file that a document is of; None where it is of no case."""
    case = content.get("case")
    return case.get("path") if isinstance(case, dict) else None


def as_text(content: Json) -> str:
    """A document as text, indented; what a terminal would act on is escaped in it.

    Raises ValueError for NaN and infinity, which JSON lacks.
    """
    text = json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)
    return re.sub(r"[^\n -~]", _escaped, text)


def _escaped(found: re.Match[str]) -> str:
    character = found.group()
    return json.dumps(character)[1:-1] if unseen(character) else character


def write_json(path: Path, content: Json) -> None:
    """Write a document in UTF-8, ending in a line break: whole, or not at all.

    A link stays, and what it leads to is written. Raises ValueError as :func:`as_text` does, and
    OSError where the file cannot be written.
    """
    text = f"{as_text(content)}\n"
    with aside(Path(os.path.realpath(path))) as draft:
        draft.write_text(text, encoding="utf-8", newline="\n")
