"""Where a sweep is written: one table by name, or a folder; the record beside it."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from contactfe.assess.sweep.result import SweepResult
from contactfe.assess.sweep.run import Prepared
from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.folder import default_folder_of
from contactfe.report.sweep_page import Summary, summaries, write_sweep
from contactfe.report.sweep_record import check_record
from contactfe.report.sweep_table import check_table, write_table

TABLES = (".csv", ".parquet")
"""Endings of a name that is that of a table; any other is that of a folder."""


@dataclass(frozen=True)
class SweepFiles:
    """The table, the record that it is made from, and the page; None for a table by name alone."""

    table: Path
    record: Path
    page: Path | None


def sweep_files(case: Case, out: str | Path | None) -> SweepFiles:
    """The files of a sweep: in ``<name of the case file>-sweep`` here unless told otherwise."""
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
        if a record there is another's, other files are there without a record, or the kind of
        table cannot be written
    """
    check_table(files.table)
    folder = files.table.parent
    if files.page is not None and folder.exists() and not folder.is_dir():
        raise InputError(
            f"{folder}: is a file; name a folder, or a table that ends in {' or '.join(TABLES)}"
        )
    if files.page is None and not folder.is_dir():
        raise InputError(f"{files.table}: there is no folder {folder}")
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


def save_sweep(result: SweepResult, out: str | Path) -> tuple[Path, ...]:
    """Write a finished sweep into a table or a folder, in the place of what was there; its files.

    The record is not among them: it is kept by who solves over a long time, as the command does.

    Raises
    ------
    InputError
        if they cannot be written
    """
    files = sweep_files(result.case, out)
    check_table(files.table)
    return write_files(result, files, summaries(result))


def write_files(
    result: SweepResult, files: SweepFiles, of: tuple[Summary, ...]
) -> tuple[Path, ...]:
    """Write table and page, each whole or not at all; the files written. Raises InputError where
    that cannot be done.
    """
    written = []
    try:
        files.table.parent.mkdir(parents=True, exist_ok=True)
        for path in filter(None, (files.table, files.page)):
            draft = path.with_name(f".{os.getpid()}.{path.name}")
            try:
                if path == files.page:
                    write_sweep(result, of, draft)
                else:
                    write_table(result, draft)
                draft.replace(path)
            finally:
                draft.unlink(missing_ok=True)
            written.append(path)
    except OSError as error:
        raise InputError(
            f"{files.table.parent}: results cannot be written there: {error.strerror or error};"
            " choose another place with --out"
        ) from error
    return tuple(written)
