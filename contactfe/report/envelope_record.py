"""The record of an envelope: a row for each contact of a section that was solved."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, replace
from pathlib import Path

from contactfe.assess.envelope import contacts_of
from contactfe.assess.row import Row
from contactfe.case import Case, Section
from contactfe.report.files import claimed, digest
from contactfe.report.folder import Owner
from contactfe.report.json_file import case_path
from contactfe.report.record import Kind, Record, fingerprint, read_head, record

ROWS = "rows.jsonl"

_NAME = "rows of an envelope"


@contextmanager
def row_record(case: Case, folder: Path) -> Iterator[Record[Row]]:
    """Open the record of a case in a folder that is its own, and make both where they are not.

    Raises InputError if another run has it open, or it cannot be written.
    """
    prints = {section.name: row_fingerprint(case, section) for section in case.sections}
    numbers = {(point.section.name, point.contact): point.number for point in contacts_of(case)}
    kind = Kind(
        _NAME,
        Row,
        len(numbers),
        lambda row: numbers.get(row.place) if row.solved or row.error else None,
        lambda row: prints.get(row.section, ""),
    )
    head = {"title": case.title, "path": case_path(case)}
    with claimed(folder, case), record(folder / ROWS, kind, head) as found:
        yield found


def owner(path: Path) -> Owner | None:
    """Whose a record of rows is; None where there is none."""
    head = read_head(path, _NAME)
    return None if head is None else (head.get("path"), str(head.get("title")))


def row_fingerprint(case: Case, section: Section) -> str:
    """A hash of all that a row of a section follows from, its contact apart.

    That is what the case states of the section, post, plate, load and model, with the properties
    that grades stand for and the content of an own mesh; and the units that errors are worded in.
    """
    return fingerprint(
        {
            "section": asdict(replace(section, mesh=None)),
            "mesh": section.mesh and digest(section.mesh),
            "post": asdict(case.post),
            "post steel": asdict(case.post_material(section)),
            "plate": asdict(case.plate),
            "plate steel": asdict(case.plate_material),
            "line load": case.line_load,
            "contact length": case.contact_length,
            "corner": case.corner and asdict(case.corner),
            "alignment": case.alignment and asdict(case.alignment),
            "cantilever": case.cantilever and [case.cantilever.length, case.cantilever.tip],
            "state": case.state,
            "yield margin": case.yield_margin,
            "accuracy": case.accuracy,
            "units": case.report_units,
        }
    )
