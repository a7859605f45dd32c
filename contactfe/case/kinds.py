"""The kinds of value that a case file may hold, each with the rule it must keep.

Quantities turn into N, mm, MPa and radians as they are read. A kind stands in the annotation of a
field, where it reads the value, says what it measures, and what the JSON Schema has of it.
"""

import itertools
import math
import os
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Any, get_args

from pydantic import AfterValidator, PlainValidator, Strict, ValidationInfo
from pydantic_core import core_schema

from contactfe.case.accuracy import parse_accuracy
from contactfe.case.material import Material
from contactfe.case.spread import parse_spread
from contactfe.case.steels import grades, known_steel
from contactfe.case.stock import sizes, stock_size
from contactfe.case.table import Reading
from contactfe.case.units import (
    LARGEST,
    Dimension,
    LengthUnit,
    example_of,
    parse_quantity,
)
from contactfe.case.wording import entry, inside, listed, quoted
from contactfe.errors import InputError

STEEPEST = math.radians(80.0)
"""Bound on the direction of motion: beyond it the post slides past the plate, not into it."""

# The bound itself passes, however its conversion rounds.
_EDGE = 1 + 1e-9


def read_positive(text: object, dimension: Dimension) -> float:
    """A quantity that must be greater than zero. Raises InputError where it is not, or is none."""
    value = parse_quantity(text, dimension)
    if value < 1 / LARGEST:
        raise InputError("must be greater than zero")
    return value


@dataclass(frozen=True)
class Quantity:
    """A number with its unit in quotes; greater than zero unless ``read`` says otherwise."""

    dimension: Dimension
    read: Callable[[object], float] | None = None

    def __call__(self, text: object) -> float:
        """Read one. Raises InputError where it is none."""
        return read_positive(text, self.dimension) if self.read is None else self.read(text)

    @property
    def schema(self) -> dict[str, Any]:
        """What the JSON Schema has of one."""
        return {"type": "string", "examples": [example_of(self.dimension)]}

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        return self.schema


@dataclass(frozen=True)
class Number:
    """A plain number between bounds, which ``allowed`` has in words; either end may be left out."""

    allowed: str
    least: float
    most: float
    above: bool = False  # whether the least itself is left out
    below: bool = False  # whether the most itself is

    def __call__(self, value: float) -> float:
        """The number itself. Raises InputError where it is out of bounds."""
        low = self.least < value if self.above else self.least <= value
        high = value < self.most if self.below else value <= self.most
        if not (low and high):
            raise InputError(f"must be {self.allowed}")
        return value

    def read(self, value: object) -> float:
        """One of several, whose type is not looked at before. Raises InputError as above."""
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise InputError("must be a number without quotes")
        return float(self(value))

    @property
    def schema(self) -> dict[str, Any]:
        """What the JSON Schema has of one."""
        low = "exclusiveMinimum" if self.above else "minimum"
        high = "exclusiveMaximum" if self.below else "maximum"
        bounds = {low: self.least, high: self.most}
        return {"type": "number", **{k: v for k, v in bounds.items() if math.isfinite(v)}}

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_after_validator_function(self, handler(source))

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return {**self.schema, **handler(schema)}  # whose type may be that of whole numbers


@dataclass(frozen=True)
class Several:
    """A list of values, or an even range of them, each of one kind."""

    of: Quantity | Number
    examples: tuple[object, object]

    def __call__(self, stated: object) -> tuple[float, ...]:
        """Read them. Raises InputError where they are no such list or range."""
        return parse_spread(
            stated, self.of if isinstance(self.of, Quantity) else self.of.read, self.examples
        )

    @property
    def dimension(self) -> Dimension | None:
        """What each measures."""
        return self.of.dimension if isinstance(self.of, Quantity) else None

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        one = self.of.schema
        return {"anyOf": [{"type": "array", "items": one}, range_of(one, "from", "to", "count")]}


def range_of(one: Mapping[str, Any], *needed: str) -> dict[str, Any]:
    """What the JSON Schema has of a range from one value to another, with a count."""
    ends = {"from": dict(one), "to": dict(one), "count": {"type": "integer"}}
    return {"type": "object", "properties": ends, "required": list(needed)}


def _length_of_any_sign(text: object) -> float:
    return parse_quantity(text, "length")


def _stress_from_zero(text: object) -> float:
    value = parse_quantity(text, "stress")
    if value < 0.0:
        raise InputError("must not be negative")
    return value


def _angle(text: object) -> float:
    angle = parse_quantity(text, "angle")
    if abs(angle) > STEEPEST * _EDGE:
        raise InputError("must be from -80 deg to 80 deg")
    return angle


def each(stated: list[object], read: Callable[[object], float]) -> tuple[float, ...]:
    """The values of a list that must not be empty. Raises InputError at the entry at fault."""
    if not stated:
        raise InputError("must hold at least one value")
    values = []
    for index, value in enumerate(stated):
        try:
            values.append(read(value))
        except InputError as error:
            raise inside(entry(index), value, error) from None
    return tuple(values)


def _strengths(stated: object) -> tuple[float, ...]:
    """One strength, or one for each band of thickness."""
    return each(stated, _STRESS) if isinstance(stated, list) else (_STRESS(stated),)


def _edges(stated: object) -> tuple[float, ...]:
    """Thicknesses over which a band begins: 0, then each more than the one before."""
    if not isinstance(stated, list):
        raise InputError('must be a list such as ["0 mm", "40 mm"]')
    edges = each(stated, _length_of_any_sign)
    if edges[0] != 0.0:
        raise InputError("must begin with a thickness of zero")
    if any(edge <= before for before, edge in itertools.pairwise(edges)):
        raise InputError("each must be greater than the one before")
    return edges


def _mesh_unit(text: object) -> float:
    """A unit of length by its name, or the length that it is; in mm."""
    names = get_args(LengthUnit)
    with suppress(InputError):
        return read_positive(f"1 {text}" if text in names else text, "length")
    *most, last = (f'"{name}"' for name in names)
    raise InputError(f'must be {", ".join(most)} or {last}, or a length such as "0.25 mm"')


def _day(stated: object) -> date:
    """A day, in quotes or as TOML itself has one."""
    if isinstance(stated, date) and not isinstance(stated, datetime):
        return stated
    with suppress(ValueError):
        if isinstance(stated, str):
            return date.fromisoformat(stated.strip())
    raise InputError("must be a day as year-month-day, such as 2026-05-04")


LONGEST_NAME = 1000
"""Characters of a name, a reason or a path."""

_TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
"""Marks that have what follows them read the other way."""


def checked_name(text: str) -> str:
    """A name without the blanks around it. Raises InputError where it is none."""
    if not text.strip():
        raise InputError("must not be empty")
    if len(text.strip()) > LONGEST_NAME:  # messages and pages have it in full
        raise InputError(f"must have at most {LONGEST_NAME} characters, not {len(text.strip())}")
    # It is printed on terminals and pages, which control characters and line breaks would garble.
    if any(
        unicodedata.category(c) in {"Cc", "Zl", "Zp"} or unicodedata.bidirectional(c) in _TURNING
        for c in text.strip()
    ):
        raise InputError("must be on one line, without control characters")
    return text.strip()


@dataclass(frozen=True)
class _Text:
    """A text that stands for something else, which a function makes of it."""

    read: Callable[[str, Reading], object]
    known: Callable[[], Iterable[str]] | None = None  # texts that it may be, among others

    def __call__(self, text: str, info: ValidationInfo) -> object:
        return self.read(text, info.context or Reading())

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        text = core_schema.str_schema(strict=True)
        return core_schema.with_info_after_validator_function(self, text)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        text: dict[str, Any] = handler(schema)
        return text if self.known is None else {"anyOf": [{"enum": list(self.known())}, text]}


def _steel(name: str, reading: Reading) -> str:
    return known_steel(name, reading.grades)


def _steels() -> Iterator[str]:
    return (grade.name for grade in grades())


def _below(name: str, reading: Reading) -> Path:
    # Links are not followed: the path stays one that its author knows.
    return Path(os.path.abspath(reading.folder / checked_name(name)))


@dataclass(frozen=True)
class Read:
    """A value of a form of its own, which a function reads; with what the JSON Schema has of it."""

    read: Callable[..., object]  # of the value, and of pydantic's info where it takes that
    schema: Mapping[str, Any] = field(hash=False)
    dimension: Dimension | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return PlainValidator(self.read).__get_pydantic_core_schema__(source, handler)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        return dict(self.schema)


@dataclass(frozen=True)
class Names:
    """A list of names out of those that are known, each once; ``what`` says what one is."""

    known: Callable[[], tuple[str, ...]]  # which may have to be read from a file
    what: str

    def __call__(self, stated: object) -> tuple[str, ...]:
        """Read one. Raises InputError where it is none, or names one that is not known."""
        known = self.known()
        allowed = listed(map(quoted, known))
        if not isinstance(stated, list):
            raise InputError(f"must be a list of any of {allowed}; [] for none")
        for index, name in enumerate(stated):
            if name not in known:
                raise inside(entry(index), name, f"is no {self.what}; known are {allowed}")
        return tuple(dict.fromkeys(stated))

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        return {"type": "array", "items": {"enum": list(self.known())}}


class _Sizes:
    """What the JSON Schema has of the designation of a stock size."""

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        return {"enum": [size.designation for size in sizes()]}


def _one_or_several(dimension: Dimension) -> dict[str, Any]:
    one = Quantity(dimension).schema
    return {"anyOf": [one, {"type": "array", "items": one}]}


_STRESS = Quantity("stress")
_OFFSET = Quantity("length", _length_of_any_sign)
_ANGLE = Quantity("angle", _angle)
_FRICTION = Number("from 0 to 1", 0.0, 1.0)

Length = Annotated[float, Quantity("length")]
MeshUnit = Annotated[float, Read(_mesh_unit, {"type": "string"}, "length")]
Force = Annotated[float, Quantity("force")]
LineLoad = Annotated[float, Quantity("line load")]
LineStiffness = Annotated[float, Quantity("line stiffness")]
Stress = Annotated[float, _STRESS]
StressFromZero = Annotated[float, Quantity("stress", _stress_from_zero)]
Density = Annotated[float, Quantity("density")]
Velocity = Annotated[float, Quantity("velocity")]
Time = Annotated[float, Quantity("time")]
Mass = Annotated[float, Quantity("mass")]
Stiffness = Annotated[float, Quantity("stiffness")]
Offset = Annotated[float, _OFFSET]
Angle = Annotated[float, _ANGLE]
Offsets = Annotated[tuple[float, ...], Several(_OFFSET, ("0 mm", "40 mm"))]
Angles = Annotated[tuple[float, ...], Several(_ANGLE, ("0 deg", "15 deg"))]
Frictions = Annotated[tuple[float, ...], Several(_FRICTION, (0.0, 0.2))]
Strengths = Annotated[tuple[float, ...], Read(_strengths, _one_or_several("stress"), "stress")]
ThicknessEdges = Annotated[tuple[float, ...], Read(_edges, _one_or_several("length"), "length")]

_PLAIN = Strict()  # no text, and no true or false, passes for a number
Exponent = Annotated[
    float, _PLAIN, Number("a number greater than 0, at most 5", 0.0, 5.0, above=True)
]
Restitution = Annotated[
    float, _PLAIN, Number("a number greater than 0, at most 1", 0.0, 1.0, above=True)
]
DampingRatio = Annotated[
    float, _PLAIN, Number("a number from 0 to less than 1", 0.0, 1.0, below=True)
]
Count = Annotated[int, _PLAIN, Number("a whole number from 1 to 1000", 1, 1000)]
Scale = Annotated[
    float, _PLAIN,
    Number("a number from 0.01 to 1, length of the specimen over prototype", 0.01, 1.0),
]  # fmt: skip
Friction = Annotated[float, _PLAIN, _FRICTION]
# An incompressible material has no plane strain compliance to invert.
Poisson = Annotated[float, _PLAIN, Number("at least 0 and less than 0.5", 0.0, 0.5, below=True)]
Margin = Annotated[float, _PLAIN, Number("a number of at least 1", 1.0, math.inf, below=True)]
# None is less than 1, and 5 is a slip of the pen.
PartialFactor = Annotated[float, _PLAIN, Number("a number from 1 to 5", 1.0, 5.0)]

Accuracy = Annotated[float, Read(parse_accuracy, {"type": "string", "examples": ["2 %"]})]
Text = Annotated[str, _PLAIN]
Name = Annotated[Text, AfterValidator(checked_name)]
Day = Annotated[date, Read(_day, {"type": "string", "format": "date"})]
Steel = Annotated[str, _Text(_steel, _steels)]
SteelOrValues = Annotated[str | Material, _Text(_steel, _steels)]  # values are stated by other keys
MeshFile = Annotated[Path, _Text(_below)]
Designation = Annotated[
    Text, AfterValidator(lambda designation: stock_size(designation).designation), _Sizes()
]
