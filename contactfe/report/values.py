"""Values by the registry of quantities, as records of a document and as columns of a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from contactfe.assess.quantities import QUANTITIES, Derived, Quantity
from contactfe.assess.value import Figure, Place, Value, Values, key_of
from contactfe.case.display import Display
from contactfe.hand.quantities import HELD_IN
from contactfe.report import blocks, words
from contactfe.report.csv_file import Column, both, columns_of

if TYPE_CHECKING:
    from contactfe.assess.overload.marks import Mark

Json = dict[str, Any]

_ENTRIES = {entry.key: entry for entry in QUANTITIES}


def unit_of(entry: Quantity | Derived | Mark) -> str:
    """The unit in which a quantity is held; 1 for a ratio."""
    return "1" if entry.dimension is None else HELD_IN[entry.dimension]


def values_data(values: Values, entries: Iterable[Quantity | Derived | Mark] = QUANTITIES) -> Json:
    """Every value of a registry, by key, with its unit, its uncertainty and its place."""
    return {
        key: {**_number(values[key]), "unit": unit_of(entry), "label": entry.label}
        for entry in entries
        for number in (0, 1)
        if (key := key_of(entry.key, number)) in values
    }


def pair(key: str, value: Value | None) -> Json:
    """A value and, beside it, its uncertainty; both None where there is none."""
    number, uncertainty = (None, None) if value is None else (value.value, value.uncertainty)
    return {key: number, f"{key}_uncertainty": uncertainty}


def _number(value: Value) -> Json:
    at = value.place
    place = {} if at is None else {"zone": at.zone, "x": at.x, "y": at.y}
    return {"value": value.value, "uncertainty": value.uncertainty, **place}


def columns(*keys: str) -> tuple[Column[Values], ...]:
    """Columns of those quantities, each with its uncertainty, and of a body's with its place.

    They are empty where a section has no such value.
    """
    return tuple(column for key in keys for column in _columns(_ENTRIES[key]))


def page_columns(units: Display, *keys: str) -> tuple[blocks.Column, ...]:
    """Columns of a page's table for those quantities, in the units shown."""
    entries = [_ENTRIES[key] for key in keys]
    return blocks.numbers(*(f"{of.head or of.label}\n[{_shown_in(of, units)}]" for of in entries))


def page_pairs(
    values: Values, units: Display, *keys: str, number: int = 0
) -> list[tuple[str, str]]:
    """What stands in them, the figure and its uncertainty, of the patch of that number.

    Both are empty where the section has no such value, the second where the figure is exact.
    """
    return [_page_pair(values.get(key_of(key, number)), _ENTRIES[key], units) for key in keys]


def page_labels(units: Display, *keys: str) -> tuple[str, ...]:
    """What those quantities are called where they stand below one another, with their units."""
    entries = [_ENTRIES[key] for key in keys]
    return tuple(
        of.label if of.dimension is None else f"{of.label} [{_shown_in(of, units)}]"
        for of in entries
    )


def _page_pair(value: Value | None, entry: Quantity | Derived, units: Display) -> tuple[str, str]:
    if value is None:
        return "", ""
    unit = None if entry.dimension is None else units.unit(entry.dimension)
    if value.uncertainty > 0.0:
        return words.with_uncertainty(value, unit)
    return (words.fixed(value.value, 3) if unit is None else unit.number(value.value)), ""


def _shown_in(entry: Quantity | Derived, units: Display) -> str:
    return "1" if entry.dimension is None else units.unit(entry.dimension).name


def _columns(entry: Quantity | Derived) -> Iterator[Column[Values]]:
    yield from both(entry.label, entry.dimension, lambda values: values.get(entry.key))
    if isinstance(entry, Quantity) and entry.body is not None:
        yield from columns_of(lambda values: values.get(entry.key), place_columns(entry.body))


def place_columns(body: str) -> tuple[Column[Figure | Value], ...]:
    """Columns of the place of a figure of a body; empty where it has none."""
    return columns_of(
        lambda figure: figure.place,
        (
            Column[Place](f"{body} zone", "text", lambda at: at.zone),
            Column[Place](f"{body} x", "real", lambda at: at.x, "length"),
            Column[Place](f"{body} y", "real", lambda at: at.y, "length"),
        ),
    )
