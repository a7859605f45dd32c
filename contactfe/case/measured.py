"""Every quantity that a case file states, by its place, with what it measures.

What a key measures stands in the annotation of its field, so a table that gains a key needs no
change here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from contactfe.case.across import Location
from contactfe.case.model import Case
from contactfe.case.table import Key, Table, keys
from contactfe.case.units import Dimension, is_quantity


@dataclass(frozen=True)
class Measured:
    """One quantity of a file, as it is written there: "150 mm"."""

    place: Location  # keys from the top down; those of lists are numbers
    text: str
    dimension: Dimension


def measured(data: Mapping[str, Any]) -> tuple[Measured, ...]:
    """Every quantity of the tables of a case that has been read, in the order of the file.

    >>> found = measured({"title": "a stop", "plate": {"width": "16 in", "held_by": "rigid base"}})
    >>> [(q.place, q.text, q.dimension) for q in found]
    [(('plate', 'width'), '16 in', 'length')]
    """
    return tuple(_of_table(Case, data, ()))


def _of_table(record: type[Table], data: Mapping[str, Any], at: Location) -> Iterator[Measured]:
    for name, value in data.items():
        yield from _of_value(keys(record)[name], value, (*at, name))


def _of_value(key: Key, value: Any, at: Location) -> Iterator[Measured]:
    if key.table is None:
        if key.dimension is not None:
            yield from _texts(value, key.dimension, at)
    elif key.several:
        inner = value.items() if isinstance(value, Mapping) else enumerate(value)
        for name, one in inner:
            yield from _of_table(key.table, one, (*at, name))
    else:
        yield from _of_table(key.table, value, at)


def _texts(value: Any, dimension: Dimension, at: Location) -> Iterator[Measured]:
    """The quantities of a list or a range too; numbers, such as a range's count, have no unit."""
    match value:
        case str() if value.strip().endswith("%"):  # of another size, and stays
            return
        case str() if is_quantity(value):  # and no unit alone, as that of a mesh may be
            yield Measured(at, value, dimension)
        case list():
            for number, one in enumerate(value):
                yield from _texts(one, dimension, (*at, number))
        case Mapping():
            for key, one in value.items():
                yield from _texts(one, dimension, (*at, key))
