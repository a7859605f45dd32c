"""A sweep as a table for other programs, CSV or Parquet: a row for each sample and section.

Keys are in the unit that the case writes them in; results are in mm, MPa, N/mm and kg/m whatever
units the case asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from contactfe.assess.quantities import QUANTITIES, Derived
from contactfe.assess.sweep.plan import label
from contactfe.assess.sweep.result import Solution, SweepResult, SweepRow
from contactfe.assess.sweep.uncertainty import Uncertainty, uncertainty
from contactfe.assess.value import Figure, Place
from contactfe.report.csv_file import Cell, Column, columns_of, write_csv, write_parquet
from contactfe.report.values import unit_of


@dataclass(frozen=True)
class Line:
    """What a row of the table is made of; uncertainties and verdicts as far as they are known.

    A key that the section does not have is None.
    """

    sample: int
    keys: tuple[int | float | None, ...]
    row: SweepRow
    uncertainties: Mapping[str, float] | None
    below_yield: bool | None
    passes: bool | None


def columns(result: SweepResult) -> tuple[Column[Line], ...]:
    """The columns of a sweep, in order."""
    return (
        Column("sample", "whole", lambda line: line.sample),
        *_keys(result),
        Column("section", "text", lambda line: line.row.section),
        Column("solved", "yes or no", lambda line: line.row.solution is not None),
        Column("below yield", "yes or no", lambda line: line.below_yield),
        *_solved(Column("line load [N/mm]", "real", lambda s: s.line_load)),
        *_figures(),
        *_solved(
            Column("mass per length [kg/m]", "real", lambda s: s.mass_per_length),
            Column("governing check beside the stresses", "text", lambda s: s.other or None),
            Column("its ratio [1]", "real", lambda s: s.other_ratio),
        ),
        Column("passes every check", "yes or no", lambda line: line.passes),
        *_solved(
            Column("unknowns", "whole", lambda s: s.unknowns),
            Column("meshes", "whole", lambda s: s.meshes),
            Column(
                "uncertainty from", "text",
                lambda s: "checked samples" if s.uncertainties is None else "two levels",
            ),
        ),
        Column("seconds [s]", "real", lambda line: line.row.seconds),
        Column("error", "text", lambda line: line.row.error or None),
    )  # fmt: skip


def lines(result: SweepResult, known: Uncertainty | None = None) -> Iterator[Line]:
    """What the rows of the table are made of, sample after sample."""
    known = uncertainty(result) if known is None else known
    for sample in result.samples:
        for row in sample.rows:
            keys = result.plan.numbers_of(sample.number, row.section)
            yield Line(
                sample.number, keys, row, known.of(row), known.below_yield(row), known.passes(row)
            )


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
    write(path, columns(result), lines(result))


def _keys(result: SweepResult) -> Iterator[Column[Line]]:
    def cell(k: int, line: Line) -> Cell:
        value = line.keys[k]
        return None if value is None else float(value)

    for k, key in enumerate(result.plan.sweep.keys):
        yield Column(label(key), "real", partial(cell, k))


def _figures() -> Iterator[Column[Line]]:
    """The quantities that every command lists, each with its uncertainty and its place."""
    for entry in QUANTITIES:
        if not entry.listed:
            continue
        unit = unit_of(entry)
        if entry.key == "plate_peak":
            yield from _solved(Column("plate", "whole", lambda s: s.plate))
        figure = partial(_figure, entry.key)
        yield from columns_of(
            figure, [Column(f"{entry.label} [{unit}]", "real", lambda of: of.value)]
        )
        name = entry.symbol or entry.label if isinstance(entry, Derived) else entry.label
        known = partial(_uncertainty, entry.key)
        yield Column(f"{name}, uncertainty [{unit}]", "real", known)
        if not isinstance(entry, Derived) and entry.body is not None:
            yield from columns_of(
                partial(_place, entry.key),
                [
                    Column[Place](f"{entry.body} zone", "text", lambda at: at.zone),
                    Column[Place](f"{entry.body} x [mm]", "real", lambda at: at.x),
                    Column[Place](f"{entry.body} y [mm]", "real", lambda at: at.y),
                ],
            )


def _solved(*of: Column[Solution]) -> tuple[Column[Line], ...]:
    return columns_of(lambda line: line.row.solution, of)


def _figure(key: str, line: Line) -> Figure | None:
    """None where the section has no such quantity, or was not solved."""
    return None if line.row.solution is None else line.row.solution.figure(key)


def _place(key: str, line: Line) -> Place | None:
    figure = _figure(key, line)
    return None if figure is None else figure.place


def _uncertainty(key: str, line: Line) -> float | None:
    if line.row.solution is None or line.uncertainties is None:
        return None
    return line.uncertainties.get(line.row.solution.key(key))
