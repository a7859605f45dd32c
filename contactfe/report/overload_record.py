"""The record of strikes beyond first yield: each section that was solved."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, replace
from pathlib import Path

from contactfe.assess.overload.marks import MARKS
from contactfe.assess.overload.result import SectionOverload
from contactfe.case import Case, Section
from contactfe.case.settings import Accept, Document
from contactfe.report.files import claimed, digest
from contactfe.report.folder import Owner
from contactfe.report.json_file import case_path
from contactfe.report.record import Kind, Record, fingerprint, read_head, record

SECTIONS = "sections.jsonl"

_NAME = "sections of an overload"


@contextmanager
def overload_record(case: Case, folder: Path) -> Iterator[Record[SectionOverload]]:
    """Open the record of a case in a folder that is its own, and make both where they are not.

    Raises InputError if another run has it open, or it cannot be written.
    """
    prints = {of.name: section_fingerprint(case, of) for of in case.sections}
    numbers = {of.name: number for number, of in enumerate(case.sections)}
    kind = Kind(
        _NAME,
        SectionOverload,
        len(numbers),
        lambda of: numbers.get(of.section),
        lambda of: prints.get(of.section, ""),
    )
    head = {"title": case.title, "path": case_path(case)}
    with claimed(folder, case), record(folder / SECTIONS, kind, head) as found:
        yield found


def owner(path: Path) -> Owner | None:
    """Whose a record of sections is; None where there is none."""
    head = read_head(path, _NAME)
    return None if head is None else (head.get("path"), str(head.get("title")))


def section_fingerprint(case: Case, section: Section) -> str:
    """A hash of all that the answer of a section follows from: what the case states but its title,
    its other sections, and what no strike follows from; the content of an own mesh; and the figures
    that there are.
    """
    stated = replace(
        case,
        title="",
        source="",
        sections=(),
        envelope=None,
        sizing=None,
        sweep=None,
        accept=Accept(),
        document=Document(),
    )
    return fingerprint(
        {
            "case": asdict(stated),
            "section": asdict(replace(section, mesh=None)),
            "mesh": section.mesh and digest(section.mesh),
            "figures": [mark.key for mark in MARKS],
        }
    )
