"""A sweep as a table, CSV or Parquet: a row for each sample and section.

Keys are in the unit that the case writes them in, results in the units that it asks for.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from contactfe.assess.quantities import QUANTITIES, Derived
from contactfe.assess.sweep.plan import label
from contactfe.assess.sweep.result import Solution, SweepResult
from contactfe.assess.sweep.summary import Judged, judged
from contactfe.assess.value import Figure
from contactfe.report.csv_file import Cell, Column, columns_of, write_csv, write_parquet
from contactfe.report.values import place_columns


def columns(result: SweepResult) -> tuple[Column[Judged], ...]:
    """The columns of a sweep, in order."""
    return (
        Column("sample", "whole", lambda one: one.sample),
        *_keys(result),
        Column("section", "text", lambda one: one.row.section),
        Column("solved", "yes or no", lambda one: one.row.solution is not None),
        Column("below yield", "yes or no", lambda one: one.below_yield),
        *_solved(Column("line load", "real", lambda s: s.line_load, "line load")),
        *_figures(),
        *_solved(
            Column("mass per length", "real", lambda s: s.mass_per_length, "mass per length"),
            Column("governing check beside the stresses", "text", lambda s: s.other or None),
            Column("its ratio", "real", lambda s: s.other_ratio, "1"),
        ),
        Column("passes every check", "yes or no", lambda one: one.passes),
        *_solved(
            Column("unknowns", "whole", lambda s: s.unknowns),
            Column("meshes", "whole", lambda s: s.meshes),
            Column(
                "uncertainty from", "text",
                lambda s: "checked samples" if s.uncertainties is None else "two levels",
            ),
        ),
        Column("seconds", "real", lambda one: one.row.seconds, "time"),
        Column("error", "text", lambda one: one.row.error or None),
    )  # fmt: skip


def write_table(result: SweepResult, path: Path) -> None:
    """Write the table, as Parquet where the name ends so and as CSV elsewhere.

    Raises
    ------
    InputError
        if it is to be Parquet and its library is not installed
    OSError
        if the file cannot be written
    """
    write = write_parquet if path.suffix == ".parquet" else write_csv
    write(path, columns(result), judged(result), result.case.display)


def _keys(result: SweepResult) -> Iterator[Column[Judged]]:
    def cell(k: int, one: Judged) -> Cell:
        value = one.keys[k]
        return None if value is None else float(value)

    for k, key in enumerate(result.plan.sweep.keys):
        yield Column(label(key), "real", partial(cell, k))


def _figures() -> Iterator[Column[Judged]]:
    """The quantities that every command lists, each with its uncertainty and its place."""
    for entry in QUANTITIES:
        if not entry.listed:
            continue
        of = entry.dimension or "1"
        if entry.key == "plate_peak":
            yield from _solved(Column("plate", "whole", lambda s: s.plate))
        figure = partial(_figure, entry.key)
        yield from columns_of(
            figure, [Column(entry.label, "real", lambda figure: figure.value, of)]
        )
        name = entry.symbol or entry.label if isinstance(entry, Derived) else entry.label
        known = partial(_uncertainty, entry.key)
        yield Column(f"{name}, uncertainty", "real", known, of)
        if not isinstance(entry, Derived) and entry.body is not None:
            yield from columns_of(figure, place_columns(entry.body))


def _solved(*of: Column[Solution]) -> tuple[Column[Judged], ...]:
    return columns_of(lambda one: one.row.solution, of)


def _figure(key: str, one: Judged) -> Figure | None:
    """None where the section has no such quantity, or was not solved."""
    return None if one.row.solution is None else one.row.solution.figure(key)


def _uncertainty(key: str, one: Judged) -> float | None:
    if one.row.solution is None or one.uncertainties is None:
        return None
    return one.uncertainties.get(one.row.solution.key(key))
