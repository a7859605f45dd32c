"""Values by the registry of quantities, as records of a document and as columns of a table."""

from functools import partial
from typing import Any

from contactfe.assess.quantities import QUANTITIES, Derived, Quantity
from contactfe.assess.value import Value, Values, key_of
from contactfe.hand.formula import HELD_IN
from contactfe.report.csv_file import Column, both

Json = dict[str, Any]


def unit_of(entry: Quantity | Derived) -> str:
    """The unit in which a quantity is held; 1 for a ratio."""
    return "1" if isinstance(entry, Derived) else HELD_IN[entry.dimension]


def values_data(values: Values) -> Json:
    """Every value of the registry, by key, with its unit, its uncertainty and its place."""
    return {
        key: {**_number(values[key]), "unit": unit_of(entry), "label": entry.label}
        for entry in QUANTITIES
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
    """Columns of those quantities, each with its uncertainty; empty where a section has none."""
    entries = {entry.key: entry for entry in QUANTITIES}
    return tuple(
        column
        for key in keys
        for column in both(entries[key].label, unit_of(entries[key]), partial(_value, key))
    )


def _value(key: str, values: Values) -> Value | None:
    return values.get(key)
