"""Which keys of a case are varied, and how."""

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal, get_args

from pydantic import Strict, ValidationInfo
from pydantic_core import core_schema

from contactfe.case.kinds import Number, Read, range_of
from contactfe.case.spread import MOST
from contactfe.case.table import DERIVED, Reading, Table, key
from contactfe.case.units import LARGEST
from contactfe.case.wording import entry, inside, not_as_asked
from contactfe.errors import InputError

SweepMethod = Literal["grid", "list", "latin hypercube"]
"""Every combination; the values side by side; or samples spread evenly over ranges."""

Spacing = Literal["even", "log"]

Levels = Literal[1, 2]
"""Mesh levels that a sample is solved on: the standard one alone, or a coarser one before it."""

MOST_SAMPLES = 10_000_000
"""Bound on the samples of a sweep; beyond it a slip of the pen is likelier than patience."""


@dataclass(frozen=True)
class Swept:
    """A key by its dotted path in the file, with its values in the unit that they are written in.

    ``unit`` is empty for a plain number. For a Latin hypercube the two values are the ends of the
    range that samples are spread over.
    """

    path: str
    unit: str
    values: tuple[int | float, ...]
    spacing: Spacing = "even"

    def written(self, value: int | float) -> str | int | float:
        """A value as the file may have it, to the last digit.

        >>> Swept("plate.thickness", "mm", (40.0, 60.0)).written(50.0)
        '50 mm'
        """
        return f"{repr(value).removesuffix('.0')} {self.unit}" if self.unit else value

    def between(self, share: float) -> float:
        """The value at a share from 0 to 1 of the way from the first value to the last.

        >>> Swept("a", "", (1.0, 100.0)).between(0.5), Swept("a", "", (1, 100), "log").between(0.5)
        (50.5, 10.0)
        """
        first, last = self.values[0], self.values[-1]
        if self.spacing == "log":
            return math.exp((1.0 - share) * math.log(first) + share * math.log(last))
        # Weights that are exactly 0 and 1 at the ends.
        return (1.0 - share) * first + share * last


_QUANTITY = re.compile(r"\s*([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(?![0-9.])(.*)")

_EXAMPLE = (
    '"plate.thickness" = ["40 mm", "60 mm"] or'
    ' "section.wall" = { from = "15 mm", to = "35 mm", count = 5 }'
)

_FORMS: dict[SweepMethod, str] = {
    "grid": 'a list such as ["40 mm", "60 mm"], or a range such as'
    ' { from = "40 mm", to = "60 mm", count = 5 }',
    "latin hypercube": 'a range such as { from = "40 mm", to = "60 mm" }',
}
_FORMS["list"] = _FORMS["grid"]


Samples = Annotated[
    int, Strict(), Number(f"a whole number from 1 to {MOST_SAMPLES}", 1, MOST_SAMPLES)
]
Seed = Annotated[int, Strict(), Number(f"a whole number from 0 to {2**32 - 1}", 0, 2**32 - 1)]


def _levels(value: object) -> object:
    if type(value) is not int or value not in {1, 2}:  # true is 1 to a Literal
        raise InputError("must be 1 or 2")
    return value


_NOTHING_VARIED = f"must state what is varied, under [sweep.over], such as {_EXAMPLE}"


def _tables(value: object) -> object:
    if not isinstance(value, Mapping) or not value:
        raise InputError(_NOTHING_VARIED)
    return value


def _of_a_key(stated: object, info: ValidationInfo) -> Swept:
    """What one key is given, as that of a key without a name."""
    method: SweepMethod = info.data.get("method", "grid")  # absent where it has a fault of its own
    if isinstance(stated, list) and method != "latin hypercube":
        return _listed(stated)
    if isinstance(stated, Mapping):
        return _ranged(stated, counted=method != "latin hypercube")
    raise InputError(f'must be {_FORMS[method]} with method = "{method}"')


def _listed(stated: list[object]) -> Swept:
    if not stated:
        raise InputError("must hold at least one value")
    numbers, unit = _alike(stated, [entry(index) for index in range(len(stated))])
    return Swept("", unit, numbers)


def _ranged(stated: Mapping[str, object], counted: bool) -> Swept:
    needs = ("from", "to", *(("count",) if counted else ()))
    if not any(key in stated for key in needs):
        raise InputError(
            f"must be the whole path of a key in one pair of quotes, such as {_EXAMPLE}"
        )
    if wrong := not_as_asked(stated, needs, ("spacing",)):
        raise InputError(f"a range has the keys {', '.join(needs)} and maybe spacing{wrong}")
    (first, last), unit = _alike([stated["from"], stated["to"]], ["from", "to"])
    spacing = stated.get("spacing", "even")
    if spacing not in ("even", "log"):
        raise inside("spacing", spacing, 'must be "even" or "log"')
    if first == last:
        raise InputError("from and to must differ")
    if spacing == "log" and min(first, last) <= 0.0:
        raise InputError('spacing = "log" needs from and to greater than zero')
    ends = Swept("", unit, (first, last), spacing)
    if not counted:
        return ends
    count = stated["count"]
    if not isinstance(count, int) or isinstance(count, bool) or not 2 <= count <= MOST:
        raise inside("count", count, f"must be a whole number from 2 to {MOST}")
    inner = (ends.between(k / (count - 1)) for k in range(1, count - 1))
    whole = isinstance(first, int) and isinstance(last, int)
    # Of a key that counts things, the whole values of a range stay whole.
    values = (first, *(int(x) if whole and x.is_integer() else x for x in inner), last)
    return Swept("", unit, values, ends.spacing)


def _alike(stated: list[object], places: list[str]) -> tuple[tuple[int | float, ...], str]:
    """Numbers of values that are all plain, or all of one unit, and that unit."""
    numbers, units = [], []
    for value, place in zip(stated, places, strict=True):
        number, unit = _number(value, place)
        numbers.append(number)
        units.append(unit)
    if len(set(units)) > 1:
        named = " and ".join(sorted(unit or "none" for unit in set(units)))
        raise InputError(f"its values must be in one unit, not in {named}")
    return tuple(numbers), units[0]


def _number(value: object, place: str) -> tuple[int | float, str]:
    if isinstance(value, int | float) and not isinstance(value, bool):
        number, unit = value, ""
    elif isinstance(value, str) and (match := _QUANTITY.fullmatch(value)) and match[2].strip():
        number, unit = float(match[1]), match[2].strip()
    else:
        raise inside(
            place,
            value,
            'must be a number with its unit in quotes, such as "40 mm", or a plain number',
        )
    if not abs(number) <= LARGEST:
        raise inside(place, value, "must be a finite number")
    return number, unit


class _ByPath:
    """What each key is given, by its path, as the keys of a sweep."""

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> core_schema.CoreSchema:
        one = core_schema.with_info_plain_validator_function(_of_a_key)
        by_path = core_schema.dict_schema(core_schema.str_schema(), one)
        stated = core_schema.no_info_before_validator_function(_tables, by_path)
        return core_schema.no_info_after_validator_function(self._keys, stated)

    def __get_pydantic_json_schema__(self, _schema: Any, _handler: Any) -> dict[str, Any]:
        one = {"anyOf": [{"type": "string", "examples": ["40 mm"]}, {"type": "number"}]}
        ends = range_of(one, "from", "to")
        ends["properties"]["spacing"] = {"enum": list(get_args(Spacing))}
        listed = {"type": "array", "items": one, "minItems": 1}
        return {
            "type": "object",
            "minProperties": 1,
            "additionalProperties": {"anyOf": [listed, ends]},
        }

    @staticmethod
    def _keys(over: dict[str, Swept]) -> tuple[Swept, ...]:
        return tuple(replace(swept, path=path) for path, swept in over.items())


@dataclass(frozen=True)
class Sweep(Table):
    """What `sweep` varies, in over, where each key is the path of a key of this file.

    A path is `plate.thickness`, say; `section.wall` is the key of all sections that state it, and
    `section.NAME.wall` that of one. Its values are a list, or a range of from, to, count and maybe
    spacing = "log"; for a Latin hypercube a range without count.
    """

    method: Annotated[
        SweepMethod, key("all combinations, the lists side by side, or samples spread over ranges")
    ] = "grid"
    keys: Annotated[
        tuple[Swept, ...], _ByPath(),
        key(
            "each path with its values",
            {"plate.thickness": ["40 mm", "60 mm"]}, name="over",
        ),
    ] = DERIVED  # fmt: skip
    samples: Annotated[Samples | None, key("how many, of a Latin hypercube", 100)] = None
    seed: Annotated[Seed, key("of the random numbers of a Latin hypercube", 7)] = 0
    levels: Annotated[
        Levels,
        Read(_levels, {"enum": [1, 2]}),
        key("meshes that a sample is solved on; two give an uncertainty"),
    ] = 1

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """What is varied, and what its method takes."""
        if "over" not in written:
            yield "", _NOTHING_VARIED
            return
        drawn = self.method == "latin hypercube"
        if drawn and self.samples is None:
            yield "", 'method = "latin hypercube" needs samples, such as samples = 100'
            return
        if not drawn and {"samples", "seed"} & set(written):
            yield "", 'samples and seed are for method = "latin hypercube"'
        lengths = {varied.path: len(varied.values) for varied in self.keys}
        if self.method == "list" and len(set(lengths.values())) > 1:
            counts = ", ".join(f'"{path}" has {count}' for path, count in lengths.items())
            yield "", f'method = "list" needs as many values of each key: {counts}'
        if self.count > MOST_SAMPLES:
            yield "", f"asks for {self.count} samples; at most {MOST_SAMPLES} are allowed"

    @property
    def count(self) -> int:
        """How many samples there are."""
        match self.method:
            case "grid":
                return math.prod(len(key.values) for key in self.keys)
            case "list":
                return len(self.keys[0].values)
        assert self.samples is not None
        return self.samples
