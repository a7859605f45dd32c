"""What the records of a case have in common: a table of the file is read into one, key by key.

A record is a frozen dataclass. What a case may state stands in the annotation of its fields: the
kind of value (:mod:`contactfe.case.kinds`), what the key is in words, and an example. Units, the
scaling of a specimen, the keys that a sweep may vary, the reference page and the JSON Schema are
read off there. A key that can be stated in place of others is an ``InitVar``: the record holds what
it comes to.
"""

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, InitVar, dataclass, fields
from functools import cache
from pathlib import Path
from types import MappingProxyType, UnionType
from typing import Annotated, Any, NoReturn, Union, cast, get_args, get_origin, get_type_hints

import pydantic
from pydantic import ConfigDict, ValidationError, ValidationInfo
from pydantic.fields import FieldInfo
from pydantic_core import (
    InitErrorDetails,
    PydanticCustomError,
    PydanticKnownError,
    PydanticOmit,
    core_schema,
)

from contactfe.case.display import DISPLAYS, SI, ReportUnits
from contactfe.case.units import Dimension
from contactfe.errors import InputError

DERIVED: Any = None
"""Default of a field that another key may state in its place: what is read has it filled in."""


@dataclass(frozen=True)
class Reading:
    """What the tables of a file need to know of one another and of the file while they are read."""

    folder: Path = Path()  # of the file, from which paths go
    grades: tuple[str, ...] = ()  # names of those that the case states
    moves: bool = True  # whether there is a [motion], from which the load may come
    units: ReportUnits | None = None  # those that the case asks for

    def shown(self, value: float, dimension: Dimension) -> str:
        """A limit as held, in the unit of its dimension that the case asks for."""
        display = next((display for name, display in DISPLAYS.items() if name == self.units), SI)
        unit = display.unit(dimension)
        return f"{unit.of(value):.6g} {unit.name}"


class Table:
    """A table of the file: only its own keys, each of the kind that it asks for."""

    __pydantic_config__ = ConfigDict(extra="forbid")

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """Key, empty for the table, and message of each rule between keys that is broken.

        ``written`` is the table as the file has it, whose keys are each right for itself.
        """
        del written, reading
        return iter(())

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> core_schema.CoreSchema:
        def checked(written: Any, read: Any, info: ValidationInfo) -> Any:
            return cls(**written) if info.context is HELD else _checked(written, read, info)

        return core_schema.with_info_wrap_validator_function(checked, handler(source))


HELD = object()
"""Context of pydantic under which a record is not read from a table of a file, but from its own
fields as pydantic writes them, in the units that they are held in."""


def _checked(written: Any, read: Any, info: ValidationInfo) -> Any:
    record = read(written)
    if not isinstance(written, Mapping):  # a record already
        return record
    stated = {name: value for name, value in written.items() if value is not None}
    broken = [
        InitErrorDetails(
            type=PydanticCustomError("value_error", "{error}", {"error": InputError(message)}),
            loc=(key,) if key else (),
            input=written.get(key) if key else written,
        )
        for key, message in record.faults(stated, info.context or Reading())
    ]
    if broken:
        raise ValidationError.from_exception_data(type(record).__name__, broken)
    return record


class _NotStated:
    """Mark of a field that no file states: reading knows no such key."""

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self._refuse)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> NoReturn:
        raise PydanticOmit

    @staticmethod
    def _refuse(_value: object) -> NoReturn:
        raise PydanticKnownError("unexpected_keyword_argument")


NOT_STATED = _NotStated()


def key(words: str, *examples: object, name: str | None = None) -> Any:
    """What a key is in words, as its file may have it, and its name there if it is not the field's.

    The first example is what a message offers where a key that must be stated is missing.
    """
    return pydantic.Field(description=words, examples=list(examples) or None, alias=name)


@dataclass(frozen=True)
class Key:
    """A key of a table, as the field of its record has it."""

    name: str  # in the file
    words: str
    examples: tuple[object, ...]
    needed: bool
    default: object
    kinds: tuple[Any, ...]  # types and kinds of value in its annotation, the outer ones first
    table: type[Table] | None  # that it heads
    several: bool  # whether it heads a list of tables, or tables by their names

    @property
    def dimension(self) -> Dimension | None:
        """What it measures."""
        return next((kind.dimension for kind in self.kinds if hasattr(kind, "dimension")), None)


def keys(record: type[Table]) -> Mapping[str, Key]:
    """The keys that a table may have, by their names, in the order of the record."""
    found = {}
    for field, hint in _hints(record).items():
        parts = tuple(_parts(hint))
        if NOT_STATED in parts:
            continue
        says = next((part for part in parts if isinstance(part, FieldInfo)), pydantic.Field())
        name = says.alias or field
        table = next((p for p in parts if isinstance(p, type) and issubclass(p, Table)), None)
        declared = _declared(record)[field]
        default = declared.default
        optional = default is not MISSING or declared.default_factory is not MISSING
        found[name] = Key(
            name, says.description or (table.__doc__ or "" if table else ""),
            tuple(says.examples or ()), not optional,
            None if default is MISSING else default, parts, table,
            several=table is not None and any(part in {tuple, dict} for part in parts),
        )  # fmt: skip
    return MappingProxyType(found)


@cache
def dimensions(record: type) -> Mapping[str, Dimension]:
    """What each figure of a record measures, by its field; of any dataclass."""
    stated = {
        field: [part.dimension for part in _parts(hint) if hasattr(part, "dimension")]
        for field, hint in _hints(record).items()
    }
    held = [field.name for field in fields(cast(Any, record)) if stated[field.name]]
    return MappingProxyType({name: stated[name][0] for name in held})


def _declared(record: type) -> Mapping[str, Field[Any]]:
    """The fields of a record by name, with those that only state others."""
    declared: Mapping[str, Field[Any]] = cast(Any, record).__dataclass_fields__
    return declared


def _hints(record: type) -> dict[str, Any]:
    hints = get_type_hints(record, include_extras=True)
    return {
        field: hint.type if isinstance(hint, InitVar) else hint
        for field, hint in hints.items()
        if field in _declared(record)
    }


def _parts(hint: Any) -> Iterator[Any]:
    """The types in an annotation and what is said of them, the outer ones first."""
    origin = get_origin(hint)
    if origin is Annotated:
        inner, *said = get_args(hint)
        yield from said
        yield from _parts(inner)
    elif origin in {Union, UnionType}:
        for one in get_args(hint):
            yield from _parts(one)
    elif origin in {tuple, dict}:
        yield origin
        for one in get_args(hint):
            yield from _parts(one)
    else:
        yield hint
