"""The kinds of value that a case file may hold, each with the rule it must keep.

Quantities turn into N, mm, MPa and radians as they are read.
"""

import itertools
import math
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Annotated, get_args

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, ValidationInfo

from contactfe.case.accuracy import parse_accuracy
from contactfe.case.display import DISPLAYS, SI
from contactfe.case.spread import parse_spread
from contactfe.case.steels import known_steel
from contactfe.case.stock import stock_size
from contactfe.case.units import LARGEST, Dimension, LengthUnit, parse_quantity
from contactfe.case.wording import entry, inside, with_value
from contactfe.errors import InputError

STEEPEST = math.radians(80.0)
"""Bound on the direction of motion: beyond it the post slides past the plate, not into it."""


@dataclass(frozen=True)
class Measures:
    """What the texts of a key measure, in the annotation of its kind, beside how they are read."""

    dimension: Dimension


REPORT_UNITS = "report units"
"""Key of pydantic's context under which the tables find the units that the case asks for."""

OWN_GRADES = "own grades"
"""Key of pydantic's context under which the tables find the names of the case's own grades."""

# The bound itself passes, however its conversion rounds.
_EDGE = 1 + 1e-9


class Table(BaseModel):
    """A table of the file: only its own keys, and each of the type it asks for."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


LEAST_YOUNG = 10.0
"""Least Young's modulus of a steel over its yield strength, against one in the wrong unit: every
structural metal has far more (common practice, no source)."""


def not_too_soft(data: object, young: float | None, strengths: Sequence[float | None]) -> None:
    """Hold the modulus of a steel against its yield strengths, MPa, both as `data` has them.

    Raises InputError with both as they are written.
    """
    known = [(strength, k) for k, strength in enumerate(strengths) if strength is not None]
    if young is None or not known:
        return
    most, k = max(known)
    if young >= LEAST_YOUNG * most:
        return
    assert isinstance(data, Mapping)
    at = data["yield"][k] if isinstance(data["yield"], list) else data["yield"]
    raise InputError(
        f"{with_value('young', data['young'])} must be at least {LEAST_YOUNG:g} times"
        f" {with_value('yield', at)}; that of steel is about 200 GPa, 29000 ksi"
    )


def shown(value: float, dimension: Dimension, info: ValidationInfo) -> str:
    """A limit as held, in the unit of its dimension that the case asks for."""
    asked = (info.context or {}).get(REPORT_UNITS)
    display = next((display for name, display in DISPLAYS.items() if name == asked), SI)
    unit = display.unit(dimension)
    return f"{unit.of(value):.6g} {unit.name}"


def _read_positive(text: object, dimension: Dimension) -> float:
    value = parse_quantity(text, dimension)
    if value < 1 / LARGEST:
        raise InputError("must be greater than zero")
    return value


def _positive(dimension: Dimension) -> BeforeValidator:
    return BeforeValidator(lambda text: _read_positive(text, dimension))


def _strengths(stated: object) -> tuple[float, ...]:
    """One strength, or one for each band of thickness."""
    if not isinstance(stated, list):
        return (_read_positive(stated, "stress"),)
    return _each(stated, lambda text: _read_positive(text, "stress"))


def _edges(stated: object) -> tuple[float, ...]:
    """Thicknesses over which a band begins: 0, then each more than the one before."""
    if not isinstance(stated, list):
        raise InputError('must be a list such as ["0 mm", "40 mm"]')
    edges = _each(stated, lambda text: parse_quantity(text, "length"))
    if edges[0] != 0.0:
        raise InputError("must begin with a thickness of zero")
    if any(edge <= before for before, edge in itertools.pairwise(edges)):
        raise InputError("each must be greater than the one before")
    return edges


def _each(stated: list[object], read: Callable[[object], float]) -> tuple[float, ...]:
    if not stated:
        raise InputError("must hold at least one value")
    values = []
    for index, value in enumerate(stated):
        try:
            values.append(read(value))
        except InputError as error:
            raise inside(entry(index), value, error) from None
    return tuple(values)


def _mesh_unit(text: object) -> float:
    """A unit of length by its name, or the length that it is; in mm."""
    names = get_args(LengthUnit)
    with suppress(InputError):
        return _read_positive(f"1 {text}" if text in names else text, "length")
    *most, last = (f'"{name}"' for name in names)
    raise InputError(f'must be {", ".join(most)} or {last}, or a length such as "0.25 mm"')


def _offset(text: object) -> float:
    return parse_quantity(text, "length")


def _angle(text: object) -> float:
    angle = parse_quantity(text, "angle")
    if abs(angle) > STEEPEST * _EDGE:
        raise InputError("must be from -80 deg to 80 deg")
    return angle


def _friction(value: object) -> float:
    if not isinstance(value, int | float) or isinstance(value, bool):
        raise InputError("must be a number without quotes")
    if not 0 <= value <= 1:
        raise InputError("must be from 0 to 1")
    return float(value)


def _spread(read: Callable[[object], float], one: object, other: object) -> BeforeValidator:
    return BeforeValidator(lambda stated: parse_spread(stated, read, (one, other)))


def _exponent(value: float) -> float:
    if not 0 < value <= 5:
        raise InputError("must be a number greater than 0, at most 5")
    return value


def _restitution(value: float) -> float:
    if not 0 < value <= 1:
        raise InputError("must be a number greater than 0, at most 1")
    return value


def _count(value: int) -> int:
    if not 1 <= value <= 1000:
        raise InputError("must be a whole number from 1 to 1000")
    return value


def _scale(value: float) -> float:
    if not 0.01 <= value <= 1:
        raise InputError("must be a number from 0.01 to 1, length of the specimen over prototype")
    return value


def _poisson(value: float) -> float:
    if not 0 <= value < 0.5:  # an incompressible material has no plane strain compliance to invert
        raise InputError("must be at least 0 and less than 0.5")
    return value


def _margin(value: float) -> float:
    if not 1 <= value < float("inf"):
        raise InputError("must be a number of at least 1")
    return value


def _partial_factor(value: float) -> float:
    if not 1 <= value <= 5:  # none is less than 1, and 5 is a slip of the pen
        raise InputError("must be a number from 1 to 5")
    return value


def _steel(name: str, info: ValidationInfo) -> str:
    """`OWN_GRADES` of the context are the names of the grades that the case itself states."""
    return known_steel(name, (info.context or {}).get(OWN_GRADES, ()))


def _name(text: str) -> str:
    if not text.strip():
        raise InputError("must not be empty")
    # It is printed on terminals and pages, which control characters and line breaks would garble.
    if any(unicodedata.category(c) in {"Cc", "Zl", "Zp"} for c in text.strip()):
        raise InputError("must be on one line, without control characters")
    return text.strip()


Length = Annotated[float, _positive("length"), Measures("length")]
MeshUnit = Annotated[float, BeforeValidator(_mesh_unit)]
Force = Annotated[float, _positive("force"), Measures("force")]
LineLoad = Annotated[float, _positive("line load"), Measures("line load")]
LineStiffness = Annotated[float, _positive("line stiffness"), Measures("line stiffness")]
Stress = Annotated[float, _positive("stress"), Measures("stress")]
Density = Annotated[float, _positive("density"), Measures("density")]
Velocity = Annotated[float, _positive("velocity"), Measures("velocity")]
Time = Annotated[float, _positive("time"), Measures("time")]
Mass = Annotated[float, _positive("mass"), Measures("mass")]
Stiffness = Annotated[float, _positive("stiffness"), Measures("stiffness")]
Exponent = Annotated[float, AfterValidator(_exponent)]
Restitution = Annotated[float, AfterValidator(_restitution)]
Count = Annotated[int, AfterValidator(_count)]
Scale = Annotated[float, AfterValidator(_scale)]
Offset = Annotated[float, BeforeValidator(_offset), Measures("length")]
Angle = Annotated[float, BeforeValidator(_angle), Measures("angle")]
Friction = Annotated[float, BeforeValidator(_friction)]
Offsets = Annotated[tuple[float, ...], _spread(_offset, "0 mm", "40 mm"), Measures("length")]
Angles = Annotated[tuple[float, ...], _spread(_angle, "0 deg", "15 deg"), Measures("angle")]
Frictions = Annotated[tuple[float, ...], _spread(_friction, 0.0, 0.2)]
Accuracy = Annotated[float, BeforeValidator(parse_accuracy)]
Poisson = Annotated[float, AfterValidator(_poisson)]
Margin = Annotated[float, AfterValidator(_margin)]
PartialFactor = Annotated[float, AfterValidator(_partial_factor)]
NAME = AfterValidator(_name)
Name = Annotated[str, NAME]
Strengths = Annotated[tuple[float, ...], BeforeValidator(_strengths), Measures("stress")]
ThicknessEdges = Annotated[tuple[float, ...], BeforeValidator(_edges), Measures("length")]
Steel = Annotated[str, AfterValidator(_steel)]
Designation = Annotated[
    str, AfterValidator(lambda designation: stock_size(designation).designation)
]
