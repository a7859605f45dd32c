"""Where a sweep is written: one table by name, or a folder; the record beside it."""

from __future__ import annotations

import filecmp
import os
from dataclasses import dataclass
from pathlib import Path

from contactfe.assess.sweep.result import SweepResult
from contactfe.assess.sweep.run import Prepared
from contactfe.assess.sweep.summary import SweepSummary, summary
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.csv_file import check_table
from contactfe.report.exchange import draft_in, put
from contactfe.report.files import (
    aside,
    cannot_write,
    check_writable,
    claimed,
    digest,
    ordinary,
)
from contactfe.report.folder import default_folder_of
from contactfe.report.page import write_page
from contactfe.report.sweep_page import sweep_page
from contactfe.report.sweep_record import check_record
from contactfe.report.sweep_table import write_table

TABLES = (".csv", ".parquet")
"""Endings of a name that is that of a table; any other is that of a folder."""

BYTES_A_ROW = 2000
"""About what a row takes in table and record."""


@dataclass(frozen=True)
class SweepFiles:
    """The table, the record that it is made from, and the page; None for a table by name alone."""

    table: Path
    record: Path
    page: Path | None


def sweep_files(case: Case, out: str | Path | None) -> SweepFiles:
    """The files of a sweep: in ``<name of the case file>-sweep`` here by default."""
    if out is not None and Path(out).suffix in TABLES:
        table = Path(out)
        return SweepFiles(table, table.with_name(f"{table.name}.samples.jsonl"), None)
    if out is None:
        out = default_folder_of(case, "sweep")
    folder = Path(out)
    return SweepFiles(folder / "sweep.csv", folder / "samples.jsonl", folder / "sweep.txt")


def check_sweep_files(prepared: Prepared, files: SweepFiles) -> None:
    """Refuse files that are not this sweep's to write; asked before any work.

    Raises
    ------
    InputError
        if a record there is another's, other files are there without a record, the kind of table
        cannot be written, or there is too little room for it
    """
    check_table(files.table)
    folder = files.table.parent
    if files.page is not None and folder.exists() and not folder.is_dir():
        raise InputError(
            f"{folder}: is a file; name a folder, or a table that ends in {' or '.join(TABLES)}"
        )
    if files.page is None and not folder.is_dir():
        raise InputError(f"{files.table}: there is no folder {folder}")
    at = next(path for path in (folder, *folder.parents) if path.exists())
    try:
        check_writable(at, BYTES_A_ROW * prepared.plan.count * len(prepared.case.sections))
    except OSError as error:
        raise cannot_write(folder, error) from error
    check_record(prepared, files.record)
    if files.record.exists():
        return
    there = [files.table] if files.page is None else [folder]
    for path in there:
        if path.is_dir() and any(path.iterdir()):
            raise InputError(
                f"{path}: already holds files, but no {files.record.name} of this sweep; choose"
                " another place with --out, or remove it"
            )
        if path.exists() and not path.is_dir():
            raise InputError(
                f"{path}: is there already, without its record {files.record.name}; choose another"
                " name with --out, or remove it"
            )


def check_unwritten(files: SweepFiles) -> None:
    """Refuse a table or a page of a record that is not complete yet: they are written at its end.

    Asked before any work. Raises InputError.
    """
    for path in filter(None, (files.table, files.page)):
        if os.path.lexists(path):
            raise _not_ours(path, f"and {files.record.name} is not complete")


def save_sweep(result: SweepResult, out: str | Path) -> tuple[Path, ...]:
    """Write a finished sweep into a table or a folder; its files.

    A file that is there must be what would be written. The record is not among them: it is kept by
    who solves over a long time, as the command does.

    Raises
    ------
    InputError
        if they cannot be written, or other files are there
    """
    files = sweep_files(result.case, out)
    check_table(files.table)
    return write_files(summary(result), files)


def write_files(of: SweepSummary, files: SweepFiles) -> tuple[Path, ...]:
    """Write the table, or table and page into a folder: all or nothing; the files written.

    Raises InputError where that cannot be done, or there is another file in their place: both
    follow from the sweep alone, so what is not as it would be written is not of this sweep, or was
    changed since.
    """
    table, page = files.table, files.page
    try:
        if page is None:
            with aside(table) as draft:
                write_table(of.result, draft)
                _as_written(table, draft)
            return (table,)
        with claimed(table.parent, None) as claim, draft_in(table.parent) as place:
            write_table(of.result, place / table.name)
            write_page(sweep_page(of), place / page.name)
            there = [p for p in (table, page) if _as_written(p, place / p.name)]
            put(place, (page.name, table.name), {p.name: digest(p) for p in there}, claim)
    except OSError as error:
        raise cannot_write(table.parent, error, (table.name, page.name if page else "")) from error
    return table, page


def _as_written(path: Path, draft: Path) -> bool:
    """Whether a file is there and is what would be written; refuses any other."""
    if not os.path.lexists(path):
        return False
    if ordinary(path) and filecmp.cmp(path, draft, shallow=False):
        return True
    raise _not_ours(path, "and is not as this sweep writes it")


def _not_ours(path: Path, why: str) -> InputError:
    return InputError(
        f"{path}: is there already, {why}: changed since, or put there by someone else; move or"
        " remove it, or choose another place with --out"
    )
