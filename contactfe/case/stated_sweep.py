"""The table of a case file that states a sweep: [sweep] with [sweep.over].

Field names are the keys of the file. Values are kept in the unit that they are written in, as they
are put back into the file's tables, which are then read like any other case.
"""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Literal

from pydantic import BeforeValidator, ValidationInfo, model_validator

from contactfe.case.spread import MOST
from contactfe.case.stated_values import Table
from contactfe.case.sweeping import MOST_SAMPLES, Sweep, SweepMethod, Swept
from contactfe.case.units import LARGEST
from contactfe.case.wording import entry, inside, not_as_asked
from contactfe.errors import InputError

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


def _whole(least: int, most: int) -> BeforeValidator:
    def read(value: object) -> int:
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise InputError(f"must be a whole number from {least} to {most}")
        return value

    return BeforeValidator(read)


def _levels(value: object) -> object:
    if not isinstance(value, int) or isinstance(value, bool) or value not in {1, 2}:
        raise InputError("must be 1 or 2")
    return value


def _tables(value: object) -> object:
    if not isinstance(value, Mapping) or not value:
        raise InputError(f"must state what is varied, under [sweep.over], such as {_EXAMPLE}")
    return value


def _of_a_key(stated: object, info: ValidationInfo) -> Swept:
    """What one key is given, as that of a key without a name."""
    method: SweepMethod = info.data.get("method", "grid")  # absent where it has a fault of its own
    if isinstance(stated, list) and method != "latin hypercube":
        return _listed(stated)
    if isinstance(stated, Mapping):
        return _ranged(stated, counted=method != "latin hypercube")
    raise InputError(f'must be {_FORMS[method]} with method = "{method}"')


OfAKey = Annotated[Swept, BeforeValidator(_of_a_key)]


class StatedSweep(Table):
    """[sweep]; a key of [sweep.over] is the dotted path of a key of this file."""

    method: SweepMethod = "grid"
    over: Annotated[dict[str, OfAKey] | None, BeforeValidator(_tables)] = None
    samples: Annotated[int | None, _whole(1, MOST_SAMPLES)] = None
    seed: Annotated[int | None, _whole(0, 2**32 - 1)] = None
    levels: Annotated[Literal[1, 2], BeforeValidator(_levels)] = 1

    @model_validator(mode="after")
    def _fits_its_method(self) -> "StatedSweep":
        _tables(self.over)
        drawn = self.method == "latin hypercube"
        if drawn and self.samples is None:
            raise InputError('method = "latin hypercube" needs samples, such as samples = 100')
        if not drawn and (self.samples is not None or self.seed is not None):
            raise InputError('samples and seed are for method = "latin hypercube"')
        sweep = self.resolved
        lengths = {key.path: len(key.values) for key in sweep.keys}
        if self.method == "list" and len(set(lengths.values())) > 1:
            counts = ", ".join(f'"{path}" has {count}' for path, count in lengths.items())
            raise InputError(f'method = "list" needs as many values of each key: {counts}')
        if sweep.count > MOST_SAMPLES:
            raise InputError(f"asks for {sweep.count} samples; at most {MOST_SAMPLES} are allowed")
        return self

    @property
    def resolved(self) -> Sweep:
        """As the case has it."""
        assert self.over is not None
        keys = tuple(replace(swept, path=path) for path, swept in self.over.items())
        return Sweep(self.method, keys, self.samples, self.seed or 0, self.levels)


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
