"""What the calculation begins with: the idealisation, drawn, and what the case file states."""

from collections.abc import Iterator, Mapping
from typing import Any

from contactfe.assess.calculation import Calculation
from contactfe.case import Case
from contactfe.case.table import Key, Table, keys
from contactfe.report import blocks, words
from contactfe.report.blocks import Block, Column, Figure, Line, Row, texts
from contactfe.report.figures.idealisation import idealisation_figure

_NOT_LISTED = {"title", "document", "sweep"}
"""What the title block has, and what another command is for."""


def idealisation(found: Calculation) -> Iterator[Block]:
    """What is modelled, in words and drawn to scale."""
    case, comparison = found.case, found.comparison
    yield Line(
        "A slice of unit length through post and plate, normal to the post's axis, in unilateral"
        f" contact: {words.how_held(case)}. Origin at the first point of contact, x along the"
        " plate, y into the post; tension positive."
    )
    best = comparison.section(comparison.least_concentration).section
    yield Figure(
        lambda: idealisation_figure(case, best),
        "Post, plate, what holds them and the load, drawn to scale with their dimensions.",
    )


def stated(found: Calculation) -> Iterator[Block]:
    """Every key of the case file as it is written there; then what was looked up for it."""
    groups = [tuple(rows) for rows in _of_case(found.stated) if rows]
    columns = (Column("key", key=True), *texts("as stated", "which is"))
    yield blocks.Table(
        columns, tuple(groups), "As the case file states them",
        "Units are those of the file. What is not listed is as the reference page of the case file"
        " says.",
    )  # fmt: skip


def _of_case(tables: Mapping[str, Any]) -> Iterator[list[Row]]:
    top = {name: at for name, at in tables.items() if name not in _NOT_LISTED}
    known = keys(Case)
    plain = {name: at for name, at in top.items() if known[name].table is None}
    yield [_row("", known[name], at) for name, at in plain.items()]
    for name, at in top.items():
        if (table := known[name].table) is not None:
            yield from _of_key(table, name, at, known[name].several)


def _of_key(table: type[Table], path: str, at: Any, several: bool) -> Iterator[list[Row]]:
    if several:
        inner = at.items() if isinstance(at, Mapping) else enumerate(at, 1)
        for name, one in inner:
            yield from _of_table(table, f"{path} {name}", one)
    else:
        yield from _of_table(table, path, at)


def _of_table(table: type[Table], path: str, at: Mapping[str, Any]) -> Iterator[list[Row]]:
    known = keys(table)
    yield [_row(path, known[name], value) for name, value in at.items() if not known[name].table]
    for name, value in at.items():
        if (inner := known[name].table) is not None:
            yield from _of_key(inner, f"{path}.{name}", value, known[name].several)


def _row(path: str, key: Key, value: Any) -> Row:
    return (f"{path} · {key.name}" if path else key.name, _text(value), key.words)


def _text(value: Any) -> str:
    match value:
        case str():
            return words.one_line(value)
        case bool():
            return "yes" if value else "no"
        case list():
            return ", ".join(map(_text, value))
        case Mapping():
            return ", ".join(f"{name} {_text(one)}" for name, one in value.items())
    return str(value)
