"""The record of a sweep: each sample as it is finished.

Its first line says whose it is, by the fingerprint that every sample of the sweep has.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from contactfe.assess.sweep.result import Sample
from contactfe.assess.sweep.run import Prepared
from contactfe.case.patching import NOT_OF_A_SAMPLE
from contactfe.errors import InputError
from contactfe.report.files import cannot_write, digest, not_begun
from contactfe.report.record import Kind, Record, fingerprint, read_head, record

_NAME = "samples of a sweep"

_IDLE = {"title", "report", *NOT_OF_A_SAMPLE} - {"sweep"}
"""Tables that no figure of a sample follows from."""


def check_record(prepared: Prepared, path: Path) -> None:
    """Refuse a file that is there and is not the record of this sweep; asked before any work.

    Raises
    ------
    InputError
        naming it
    """
    if not path.exists() or not_begun(path):
        return
    head = read_head(path, _NAME)
    if head is None:
        raise InputError(f"{path}: is not a record of a sweep; choose another place with --out")
    if head.get("of") != sweep_fingerprint(prepared):
        raise InputError(
            f"{path}: is the record of another sweep, or of this one before its case or a library"
            " was changed; remove it, or choose another place with --out"
        )


@contextmanager
def sweep_record(prepared: Prepared, path: Path) -> Iterator[Record[Sample]]:
    """Open the record of a sweep, or begin it.

    Raises
    ------
    InputError
        if it is another's, another run has it open, or it cannot be written
    """
    check_record(prepared, path)
    of, count, sections = sweep_fingerprint(prepared), prepared.plan.count, prepared.work.sections

    def number(sample: Sample) -> int | None:
        known = 0 <= sample.number < count and tuple(r.section for r in sample.rows) == sections
        return sample.number if known else None

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise cannot_write(path.parent, error) from error
    kind = Kind(_NAME, Sample, count, number, lambda _: of)
    with record(path, kind, {"title": prepared.case.title, "samples": count, "of": of}) as found:
        yield found


def sweep_fingerprint(prepared: Prepared) -> str:
    """A hash of all that the samples follow from: the tables of the case but its title and what
    only says how to show it, and the content of meshes of its own.
    """
    case, data = prepared.case, prepared.work.data
    return fingerprint(
        {
            "tables": {key: value for key, value in data.items() if key not in _IDLE},
            "units": case.report_units,  # that errors are worded in
            "meshes": [digest(path) for path in case.meshes],
        }
    )
