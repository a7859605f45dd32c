"""The record of a sizing: each trial of a wall that was solved."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, replace
from pathlib import Path

from contactfe.assess.sizing.record import PLACES, Asked, Tried
from contactfe.case import Case
from contactfe.case.overload import Overload
from contactfe.case.settings import Accept
from contactfe.report.files import claimed
from contactfe.report.folder import Owner
from contactfe.report.json_file import case_path
from contactfe.report.record import Kind, Record, fingerprint, read_head, record

TRIALS = "trials.jsonl"

_NAME = "trials of a sizing"

MOST = 100_000
"""Trials that a run looks up, at most; which they are shows as it goes on."""


@contextmanager
def trial_record(case: Case, folder: Path) -> Iterator[Record[Tried]]:
    """Open the record of a case in a folder that is its own, and make both where they are not.

    Raises InputError if another run has it open, or it cannot be written.
    """
    of = trial_fingerprint(case)
    numbers: dict[Asked, int] = {}

    def number(tried: Tried) -> int | None:
        found = numbers.setdefault(tried.asked, len(numbers))
        return found if found < MOST else None

    kind = Kind(_NAME, Tried, MOST, number, lambda _: of)
    head = {"title": case.title, "path": case_path(case)}
    with claimed(folder, case), record(folder / TRIALS, kind, head) as found:
        yield found


def owner(path: Path) -> Owner | None:
    """Whose a record of trials is; None where there is none."""
    head = read_head(path, _NAME)
    return None if head is None else (head.get("path"), str(head.get("title")))


def trial_fingerprint(case: Case) -> str:
    """A hash of all that trials follow from beside what is asked for: the case but its title, what
    is to be sized, swept, overloaded or accepted, and the sections that it states, whose place
    walls take; and the places that they have a figure for.
    """
    stated = replace(
        case,
        title="",
        source="",
        sections=(),
        sizing=None,
        sweep=None,
        overload=Overload(),
        accept=Accept(),
    )
    return fingerprint({"case": asdict(stated), "places": PLACES})
