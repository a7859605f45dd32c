"""A sweep as a table for other programs, CSV or Parquet: a row for each sample and section.

Keys are in the unit that the case writes them in; results are in mm, MPa, N/mm and kg/m whatever
units the case asks for.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Literal

from contactfe.assess.sweep.plan import label
from contactfe.assess.sweep.result import Figures, SweepResult, SweepRow, Uncertainties
from contactfe.assess.sweep.uncertainty import Uncertainty, uncertainty
from contactfe.errors import InputError

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
    uncertainties: Uncertainties | None
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
        Column("solved", "yes or no", lambda line: line.row.figures is not None),
        Column("below yield", "yes or no", lambda line: line.below_yield),
        *_figures(),
        Column("governing check beside the stresses", "text", _of(lambda f: f.other or None)),
        Column("its ratio [1]", "real", _of(lambda f: f.other_ratio)),
        Column("passes every check", "yes or no", lambda line: line.passes),
        Column("unknowns", "whole", _of(lambda f: f.unknowns)),
        Column("meshes", "whole", _of(lambda f: f.meshes)),
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


def _of(figure: Callable[[Figures], Cell]) -> Callable[[Line], Cell]:
    """A cell that is empty where the row was not solved."""

    def cell(line: Line) -> Cell:
        return None if line.row.figures is None else figure(line.row.figures)

    return cell


def _uncertainty(name: str) -> Callable[[Line], Cell]:
    def cell(line: Line) -> Cell:
        return None if line.uncertainties is None else getattr(line.uncertainties, name)

    return cell


def _share(name: str, by: Callable[[Figures], float]) -> Callable[[Line], Cell]:
    """The uncertainty of a figure over another figure."""

    def cell(line: Line) -> Cell:
        if line.row.figures is None or line.uncertainties is None:
            return None
        return float(getattr(line.uncertainties, name)) / by(line.row.figures)

    return cell


def _whence(figures: Figures) -> Cell:
    return "checked samples" if figures.uncertainties is None else "two levels"


def _figures() -> tuple[Column, ...]:
    def real(name: str, unit: str, figure: Callable[[Figures], Cell]) -> Column:
        return Column(f"{name} [{unit}]", "real", _of(figure))

    def pair(name: str, unit: str, field: str) -> tuple[Column, Column]:
        return (
            real(name, unit, lambda f: getattr(f, field)),
            Column(f"{name}, uncertainty [{unit}]", "real", _uncertainty(field)),
        )

    def body(
        name: str, field: str, zone: Callable[[Figures], str], at: tuple[Column, Column],
        allowed: Callable[[Figures], float], peak: Callable[[Figures], float],
    ) -> tuple[Column, ...]:  # fmt: skip
        return (
            *pair(f"{name} peak von Mises", "MPa", field),
            Column(f"{name} zone", "text", _of(zone)),
            *at,
            real(f"{name} utilisation", "1", lambda f: peak(f) / allowed(f)),
            Column(f"{name} utilisation, uncertainty [1]", "real", _share(field, allowed)),
        )

    return (
        real("line load", "N/mm", lambda f: f.line_load),
        *pair("peak pressure", "MPa", "peak_pressure"),
        *pair("half-width", "mm", "half_width"),
        *pair("approach", "mm", "approach"),
        *body(
            "post", "post_peak", lambda f: f.post_zone,
            (real("post x", "mm", lambda f: f.post_x), real("post y", "mm", lambda f: f.post_y)),
            lambda f: f.post_allowed, lambda f: f.post_peak,
        ),
        Column("plate", "whole", _of(lambda f: f.plate)),
        *body(
            "plate", "plate_peak", lambda f: f.plate_zone,
            (
                real("plate x", "mm", lambda f: f.plate_x),
                real("plate y", "mm", lambda f: f.plate_y),
            ),
            lambda f: f.plate_allowed, lambda f: f.plate_peak,
        ),
        real("K, post peak over q/D", "1", lambda f: f.stress_concentration),
        Column(
            "K, uncertainty [1]", "real",
            _share("post_peak", lambda f: f.post_peak / f.stress_concentration),
        ),
        *pair("bore hoop under load", "MPa", "bore_hoop_under_load"),
        *pair("bore hoop at side", "MPa", "bore_hoop_at_side"),
        real("mass per length", "kg/m", lambda f: f.mass_per_length),
    )  # fmt: skip
