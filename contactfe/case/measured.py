"""Every quantity that a case file states, by its place, with what it measures.

What a key measures stands in the annotation of its kind of value (``Measures``), so a table that
gains a key needs no change here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from contactfe.case.across import Location
from contactfe.case.stated import StatedCase
from contactfe.case.stated_values import Measures
from contactfe.case.units import Dimension


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
    return tuple(_of_table(StatedCase, data, ()))


def _of_table(model: type[BaseModel], data: Mapping[str, Any], at: Location) -> Iterator[Measured]:
    fields = {field.alias or name: field for name, field in model.model_fields.items()}
    for key, value in data.items():
        yield from _of_value(fields[key].annotation, fields[key].metadata, value, (*at, key))


def _of_value(
    annotation: Any, metadata: Sequence[object], value: Any, at: Location
) -> Iterator[Measured]:
    for mark in metadata:
        if isinstance(mark, Measures):
            yield from _texts(value, mark.dimension, at)
            return
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        yield from _of_value(inner[0], inner[1:], value, at)
    elif origin in {Union, UnionType}:
        for one in inner:
            yield from _of_value(one, (), value, at)
    elif origin is list:
        for number, one in enumerate(value):
            yield from _of_value(inner[0], (), one, (*at, number))
    elif origin is dict:
        for key, one in value.items():
            yield from _of_value(inner[1], (), one, (*at, key))
    elif isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield from _of_table(annotation, value, at)


def _texts(value: Any, dimension: Dimension, at: Location) -> Iterator[Measured]:
    """The quantities of a list or a range too; numbers, such as a range's count, have no unit."""
    match value:
        case str():
            yield Measured(at, value, dimension)
        case list():
            for number, one in enumerate(value):
                yield from _texts(one, dimension, (*at, number))
        case Mapping():
            for key, one in value.items():
                yield from _texts(one, dimension, (*at, key))
