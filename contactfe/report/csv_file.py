"""Tables, CSV or Parquet: columns, and an item for each row.

Figures are in the units that the case asks for, which the headings name, with all their digits.
Rows are written one after the other, so that a table may be larger than memory.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Generic, Literal, TypeVar

from contactfe.assess.value import Value
from contactfe.case.display import SI, Display
from contactfe.case.units import Dimension
from contactfe.case.wording import visible
from contactfe.errors import InputError
from contactfe.report.files import named

Cell = str | int | float | bool | None
"""What is not there is None, which leaves the cell empty."""

Kind = Literal["text", "whole", "real", "yes or no"]
Item = TypeVar("Item")
Part = TypeVar("Part")

ROWS_AT_A_TIME = 20_000
"""Rows of a Parquet file that are held in memory."""


@dataclass(frozen=True)
class Column(Generic[Item]):
    """A column: its name, and how a cell is found from an item, in the units that are held.

    ``of`` is what it measures, ``1`` for a ratio and None for what has no unit or names its own.
    """

    name: str
    kind: Kind
    cell: Callable[[Item], Cell]
    of: Dimension | Literal["1"] | None = None

    def head(self, units: Display) -> str:
        """The heading, with the unit in brackets."""
        if self.of is None:
            return self.name
        return f"{self.name} [{'1' if self.of == '1' else units.unit(self.of).name}]"

    def shown(self, item: Item, units: Display) -> Cell:
        """The cell in the units shown."""
        cell = self.cell(item)
        if isinstance(cell, float) and not math.isfinite(cell):
            return None  # as of a ratio to no resistance
        if self.of is None or self.of == "1" or not isinstance(cell, int | float):
            return cell
        return float(units.unit(self.of).of(cell))


def columns_of(
    part: Callable[[Item], Part | None], columns: Iterable[Column[Part]]
) -> tuple[Column[Item], ...]:
    """Columns of a part of each item, such as its solution; empty where it has none."""

    def cell(column: Column[Part], item: Item) -> Cell:
        found = part(item)
        return None if found is None else column.cell(found)

    return tuple(Column(of.name, of.kind, partial(cell, of), of.of) for of in columns)


def both(
    name: str, of: Dimension | None, value: Callable[[Item], Value | None]
) -> tuple[Column[Item], ...]:
    """Columns of a value and of its uncertainty, of a ratio without ``of``; empty without a value.

    >>> [column.head(SI) for column in both("mass", "mass per length", lambda item: None)]
    ['mass [kg/m]', 'mass, uncertainty [kg/m]']
    """
    return columns_of(
        value,
        (
            Column[Value](name, "real", lambda of: of.value, of or "1"),
            Column[Value](f"{name}, uncertainty", "real", lambda of: of.uncertainty, of or "1"),
        ),
    )


_QUANTITY = re.compile(r"[-+]?[\d.]+(e[-+]?\d+)?( [\w°/^*%]+)?", re.IGNORECASE)


def _as_text(text: str) -> str:
    """A text that a spreadsheet takes for one: a name that begins as a formula gets a quote before.

    >>> _as_text("tube 2"), _as_text("=1+1"), _as_text("-2 mm"), _as_text("-2+cmd|x")
    ('tube 2', "'=1+1", '-2 mm', "'-2+cmd|x")
    """
    shown = visible(text)
    formula = shown[:1] in {"=", "+", "-", "@"} and not _QUANTITY.fullmatch(shown)
    return f"'{shown}" if formula else shown


def write_csv(
    path: Path,
    columns: Sequence[Column[Item]],
    items: Iterable[Item],
    units: Display = SI,
    digits: int | None = None,
    decimals: int | None = None,
) -> None:
    """Write a line for each item, under one that names the columns.

    Real numbers have so many ``digits`` and ``decimals`` at most, or all that they are held with,
    and nothing has no sign. Raises OSError where the file cannot be written.
    """

    def written(column: Column[Item], item: Item) -> Cell:
        cell = column.shown(item, units)
        if isinstance(cell, bool):
            return "yes" if cell else "no"
        if isinstance(cell, str):
            return _as_text(cell)
        if column.kind != "real" or not isinstance(cell, float):
            return cell
        cell = (cell if decimals is None else round(cell, decimals)) + 0.0
        return cell if digits is None else f"{cell:.{digits}g}"

    with named(path), path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([column.head(units) for column in columns])
        table.writerows([written(column, item) for column in columns] for item in items)


def write_parquet(
    path: Path, columns: Sequence[Column[Item]], items: Iterable[Item], units: Display = SI
) -> None:
    """Write a row for each item. Raises InputError without its library, and OSError as above."""
    check_table(path)
    import pyarrow as pa
    from pyarrow import parquet

    types = {
        "text": pa.string(), "whole": pa.int64(), "real": pa.float64(), "yes or no": pa.bool_()
    }  # fmt: skip
    schema = pa.schema([(column.head(units), types[column.kind]) for column in columns])
    rows = iter(items)
    with parquet.ParquetWriter(path, schema, compression="zstd") as file:
        while some := list(islice(rows, ROWS_AT_A_TIME)):
            arrays = [
                pa.array([column.shown(item, units) for item in some], type=types[column.kind])
                for column in columns
            ]
            file.write_table(pa.Table.from_arrays(arrays, schema=schema))


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
