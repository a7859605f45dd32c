"""Values by the registry of quantities, as records of a document and as columns of a table."""

from collections.abc import Iterator
from typing import Any

from contactfe.assess.quantities import QUANTITIES, Derived, Quantity
from contactfe.assess.value import Value, Values, key_of
from contactfe.hand.formula import HELD_IN

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


def pair_heads(name: str, unit: str) -> tuple[str, str]:
    """Headings of a value and of its uncertainty."""
    return f"{name} [{unit}]", f"{name}, uncertainty [{unit}]"


def _number(value: Value) -> Json:
    at = value.place
    place = {} if at is None else {"zone": at.zone, "x": at.x, "y": at.y}
    return {"value": value.value, "uncertainty": value.uncertainty, **place}


def heads(*there: str) -> Iterator[str]:
    """Headings of what every command lists, each with its uncertainty, but for ``there``."""
    for entry in _listed(there):
        yield from pair_heads(entry.label, unit_of(entry))


def cells(values: Values, *there: str) -> Iterator[float | str]:
    """What stands under :func:`heads`; empty where the section has no such value."""
    for entry in _listed(there):
        value = values.get(entry.key)
        yield from ("", "") if value is None else (value.value, value.uncertainty)


def _listed(there: tuple[str, ...]) -> Iterator[Quantity | Derived]:
    return (entry for entry in QUANTITIES if entry.listed and entry.key not in there)
