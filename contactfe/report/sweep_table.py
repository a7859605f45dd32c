"""A sweep as a table for other programs, CSV or Parquet: a row for each sample and section.

Keys are in the unit that the case writes them in; results are in mm, MPa, N/mm and kg/m whatever
units the case asks for.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Literal

from contactfe.assess.quantities import QUANTITIES, Derived
from contactfe.assess.sweep.plan import label
from contactfe.assess.sweep.result import Solution, SweepResult, SweepRow
from contactfe.assess.sweep.uncertainty import Uncertainty, uncertainty
from contactfe.assess.value import Place
from contactfe.errors import InputError
from contactfe.report.values import unit_of

Cell = str | int | float | bool | None
Kind = Literal["text", "whole", "real", "yes or no"]

ROWS_AT_A_TIME = 20_000
"""Rows of a Parquet file that are held in memory."""


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


@dataclass(frozen=True)
class Column:
    """A column of the table: its heading, with the unit, and how its cells are found."""

    name: str
    kind: Kind
    cell: Callable[[Line], Cell]


def columns(result: SweepResult) -> tuple[Column, ...]:
    """The columns of a sweep, in order."""
    keys = tuple(
        Column(label(key), "real", lambda line, k=k: _real(line.keys[k]))  # type: ignore[misc]
        for k, key in enumerate(result.plan.sweep.keys)
    )
    return (
        Column("sample", "whole", lambda line: line.sample),
        *keys,
        Column("section", "text", lambda line: line.row.section),
        Column("solved", "yes or no", lambda line: line.row.solution is not None),
        Column("below yield", "yes or no", lambda line: line.below_yield),
        *_figures(),
        Column("governing check beside the stresses", "text", _of(lambda s: s.other or None)),
        Column("its ratio [1]", "real", _of(lambda s: s.other_ratio)),
        Column("passes every check", "yes or no", lambda line: line.passes),
        Column("unknowns", "whole", _of(lambda s: s.unknowns)),
        Column("meshes", "whole", _of(lambda s: s.meshes)),
        Column("uncertainty from", "text", _of(_whence)),
        Column("seconds [s]", "real", lambda line: line.row.seconds),
        Column("error", "text", lambda line: line.row.error or None),
    )


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
    if path.suffix == ".parquet":
        _write_parquet(result, path)
    else:
        _write_csv(result, path)


def check_table(path: Path) -> None:
    """Refuse a kind of table that cannot be written here; asked before any work.

    Raises
    ------
    InputError
        saying what is missing
    """
    if path.suffix != ".parquet":
        return
    try:
        import pyarrow  # noqa: F401
    except ImportError:
        raise InputError(
            f"{path}: a Parquet file needs the library pyarrow: pip install 'contactfe[parquet]';"
            " or name a file .csv"
        ) from None


def _write_csv(result: SweepResult, path: Path) -> None:
    of = columns(result)
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([column.name for column in of])
        for line in lines(result):
            table.writerow([_written(column.cell(line)) for column in of])


def _written(cell: Cell) -> Cell:
    """As CSV has it: nothing for what is not there, yes and no."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return cell


def _write_parquet(result: SweepResult, path: Path) -> None:
    check_table(path)
    import pyarrow as pa
    from pyarrow import parquet

    of = columns(result)
    types = {
        "text": pa.string(), "whole": pa.int64(), "real": pa.float64(), "yes or no": pa.bool_()
    }  # fmt: skip
    schema = pa.schema([(column.name, types[column.kind]) for column in of])
    rows = lines(result)
    with parquet.ParquetWriter(path, schema, compression="zstd") as file:
        while part := list(islice(rows, ROWS_AT_A_TIME)):
            cells = [[column.cell(line) for line in part] for column in of]
            arrays = [
                pa.array(values, type=types[c.kind]) for c, values in zip(of, cells, strict=True)
            ]
            file.write_table(pa.Table.from_arrays(arrays, schema=schema))


def _real(value: float | None) -> Cell:
    return None if value is None else float(value)


def _of(figure: Callable[[Solution], Cell]) -> Callable[[Line], Cell]:
    """A cell that is empty where the row was not solved."""

    def cell(line: Line) -> Cell:
        return None if line.row.solution is None else figure(line.row.solution)

    return cell


def _number(key: str) -> Callable[[Solution], Cell]:
    """The number of a quantity; empty where the section has none."""

    def cell(solution: Solution) -> Cell:
        figure = solution.figure(key)
        return None if figure is None else figure.value

    return cell


def _uncertainty(key: str) -> Callable[[Line], Cell]:
    def cell(line: Line) -> Cell:
        if line.row.solution is None or line.uncertainties is None:
            return None
        return line.uncertainties.get(line.row.solution.key(key))

    return cell


def _place(key: str, of: Callable[[Place], Cell]) -> Callable[[Solution], Cell]:
    def cell(solution: Solution) -> Cell:
        figure = solution.figure(key)
        return None if figure is None or figure.place is None else of(figure.place)

    return cell


def _whence(solution: Solution) -> Cell:
    return "checked samples" if solution.uncertainties is None else "two levels"


def _figures() -> Iterator[Column]:
    """The quantities that every command lists, each with its uncertainty and its place."""

    def real(name: str, unit: str, figure: Callable[[Solution], Cell]) -> Column:
        return Column(f"{name} [{unit}]", "real", _of(figure))

    yield real("line load", "N/mm", lambda s: s.line_load)
    for entry in QUANTITIES:
        if not entry.listed:
            continue
        key, unit = entry.key, unit_of(entry)
        if key == "plate_peak":
            yield Column("plate", "whole", _of(lambda s: s.plate))
        yield real(entry.label, unit, _number(key))
        name = entry.symbol or entry.label if isinstance(entry, Derived) else entry.label
        yield Column(f"{name}, uncertainty [{unit}]", "real", _uncertainty(key))
        if not isinstance(entry, Derived) and entry.body is not None:
            yield Column(f"{entry.body} zone", "text", _of(_place(key, lambda at: at.zone)))
            yield real(f"{entry.body} x", "mm", _place(key, lambda at: at.x))
            yield real(f"{entry.body} y", "mm", _place(key, lambda at: at.y))
    yield real("mass per length", "kg/m", lambda s: s.mass_per_length)
