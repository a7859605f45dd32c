"""The tables of a case file with other values at some of their keys."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from contactfe.case.across import Location
from contactfe.case.bodies import Section
from contactfe.case.faults import LISTS_OF_TABLES, fault, found, place
from contactfe.case.model import Case
from contactfe.case.reader import case_with, validated
from contactfe.case.sweeping import Sweep, Swept
from contactfe.case.table import keys
from contactfe.case.wording import entry, listed, placed, quoted, with_value
from contactfe.errors import InputError

NOT_OF_A_SAMPLE = ("sweep", "envelope", "sizing", "overload")
"""Tables that say what is to be tried, which one sample has no use for."""


def places(data: Mapping[str, Any], path: str) -> tuple[Location, ...]:
    """Every place in the tables that a dotted path stands for.

    In a list of tables, such as the sections, the path may name one of them, or go on to a key of
    each. A key of each section is that of the sections which state it: a wall is not given to a
    solid. A table that is not there is made by :func:`patched`.

    Raises InputError where the path leads into something that is no table, or nowhere.

    >>> data = {"section": [{"name": "solid"}, {"name": "6.5 in", "wall": "1 in"}]}
    >>> places(data, "section.wall")
    (('section', 1, 'wall'),)
    >>> places(data, "section.solid.wall")
    (('section', 0, 'wall'),)
    """
    try:
        first = path.partition(".")[0]
        if first in NOT_OF_A_SAMPLE:
            raise InputError(
                f"{place({}, (first,))} says what is to be tried, and cannot be varied"
            )
        if path == "scale":
            raise InputError("is of the specimen; a sweep solves the prototype")
        if path in {"tolerance.wall", "tolerance.outside_diameter"}:
            raise InputError("does not change a sweep, which solves nominal sizes: vary those")
        if first in {"post", "plate", "grade"} and path.endswith(".hardening"):
            raise InputError("does not change a sweep, which is elastic")
        if path == "accuracy":
            raise InputError("is not sought by a sweep, which solves on the levels of [sweep]")
        return _walk(data, path, ())
    except InputError as error:
        raise InputError(f"{_head(path)}: {error}") from None


def _head(path: str) -> str:
    return place({}, ("sweep", "over", path))


def _walk(node: Any, rest: str, before: Location) -> tuple[Location, ...]:
    if isinstance(node, list):
        return _among(node, rest, before)
    if before in LISTS_OF_TABLES:
        raise InputError(f"the case has no {place({}, before)}")
    if not isinstance(node, Mapping):
        raise InputError(f"{before[-1]} is a single value, without keys of its own")
    if before == ("grade",):
        name = _longest(node, rest)
        if name is None:
            known = f"its grades are {_names(node)}" if node else "it states none"
            raise InputError(f"leads to no [grade.NAME] of the case; {known}")
        return _walk(node[name], rest[len(name) + 1 :], (*before, name))
    key, dot, further = rest.partition(".")
    if dot:
        return _walk(node.get(key, {}), further, (*before, key))
    if not key or isinstance(node.get(key), Mapping | list):
        raise InputError('must be the path of a key in a table, such as "plate.thickness"')
    return ((*before, key),)


def _among(tables: list[Any], rest: str, before: Location) -> tuple[Location, ...]:
    """Places in the table of the list that is named, or in each."""
    names = [table.get("name") if isinstance(table, Mapping) else None for table in tables]
    if rest in names:
        raise InputError(f'names a section, not a key of it, such as "section.{rest}.wall"')
    name = _longest(names, rest)
    if name is not None:
        k = names.index(name)
        return _walk(tables[k], rest[len(name) + 1 :], (*before, k))
    inner, dot, _ = rest.partition(".")
    # A table in some of them, such as an infill, is not made in the others.
    fitting = list(range(len(tables)))
    if dot or (before == ("section",) and inner in keys(Section)):
        fitting = [k for k in fitting if isinstance(tables[k], Mapping) and inner in tables[k]]
    if not fitting:
        raise InputError(_nowhere(names, rest, before))
    return tuple(found for k in fitting for found in _walk(tables[k], rest, (*before, k)))


def _nowhere(names: list[object], rest: str, before: Location) -> str:
    """Why a path into a list of tables leads to none of them."""
    if before != ("section",):
        return f"leads to no key of {place({}, before)}, which have no names"
    of = f"the sections are {_names(names)}"
    inner = rest.partition(".")[0]
    if inner not in keys(Section):
        return f"there is no section {quoted(rest.rpartition('.')[0])}; {of}"
    one = next((name for name in names if isinstance(name, str)), "NAME")
    return (
        f"no section states {inner}; name one to give it that, such as"
        f" {quoted(f'section.{one}.{rest}')}; {of}"
    )


def _names(names: Iterable[object]) -> str:
    return listed([quoted(name) for name in names if isinstance(name, str)])


def _longest(names: Iterable[object], rest: str) -> str | None:
    """The longest of the names that a path begins with, as names may hold dots themselves."""
    fitting = [name for name in names if isinstance(name, str) and rest.startswith(f"{name}.")]
    return max(fitting, key=len, default=None)


def patched(data: Mapping[str, Any], values: Sequence[tuple[Location, object]]) -> dict[str, Any]:
    """A copy of the tables with these values, without what one sample has no use for.

    >>> patched({"plate": {"width": "1 m"}}, [(("plate", "thickness"), "60 mm")])
    {'plate': {'width': '1 m', 'thickness': '60 mm'}}
    """
    table = {k: copy.deepcopy(v) for k, v in data.items() if k not in NOT_OF_A_SAMPLE}
    for location, value in values:
        node: Any = table
        for key in location[:-1]:
            node = node.setdefault(key, {}) if isinstance(node, dict) else node[key]
        node[location[-1]] = value
    return table


@dataclass(frozen=True)
class Put:
    """A value of a swept key, and the places that it goes to."""

    path: str
    places: tuple[Location, ...]
    value: object

    def fault(self, data: Mapping[str, Any], location: Location, message: str | InputError) -> str:
        """A fault at one of its places, by the key that the file states it under."""
        of = [place(data, location[:-1])] if len(self.places) > 1 else []
        return placed(", ".join([with_value(_head(self.path), self.value), *of]), message)


def read_sample(
    data: Mapping[str, Any], puts: Sequence[Put], source: str, only: int | None = None
) -> Case:
    """The case of one sample, or that with one of its sections, counted from 0, alone.

    Raises InputError as ``case_from_dict`` does; it names the key of a value that was put there.
    """
    tables = patched(data, [(at, put.value) for put in puts for at in put.places])

    def tell(_: Mapping[str, Any], location: Location, message: str | InputError) -> str:
        if only is not None and location[:2] == ("section", 0):
            location = ("section", only, *location[2:])
        put = next((put for put in puts if location in put.places), None)
        return (put.fault if put else fault)(tables, location, message)

    sections = {} if only is None else {"section": [tables["section"][only]]}
    return case_with(tell, tables | sections, source)


def check_paths(data: Mapping[str, Any], sweep: Sweep, source: str) -> None:
    """Refuse a key that the file does not know, or whose values are not what it holds.

    A value that only goes ill with others is left to the sample that has it: refused is a key that
    cannot be read where it stands with the first values of all keys, nor with their last ones.

    Raises
    ------
    InputError
        with one line for each such key: file, key, value, and what is allowed
    """
    at: dict[str, tuple[Location, ...]] = {}
    lines = []
    for key in sweep.keys:
        try:
            at[key.path] = places(data, key.path)
        except InputError as error:
            lines.append(f"{source}: {error}")
    known = [key for key in sweep.keys if key.path in at]
    ends = []
    for k in (0, -1):
        values = [(p, key.written(key.values[k])) for key in known for p in at[key.path]]
        tables = patched(data, values)
        ends.append((tables, _read(tables)))
    for key in known:
        unread = [
            next((f for f in faults if any(_same(f[0], p) for p in at[key.path])), None)
            for _, faults in ends
        ]
        if all(unread) and unread[0] is not None:
            stated = data["sweep"]["over"][key.path]
            line = _unread(stated, key, at[key.path], ends[0][0], *unread[0])
            lines.append(f"{source}: {line}")
    if lines:
        raise InputError("\n".join(lines))


def _unread(
    stated: Any,
    key: Swept,
    at: tuple[Location, ...],
    tables: Mapping[str, Any],
    location: Location,
    message: str | InputError,
    kind: str,
) -> str:
    """One line on the first value of a key, as the file states it."""
    head = _head(key.path)
    if location in at and kind in {"string_type", "literal_error"}:
        return f"{head}: holds text; what is varied must be a number or a quantity"
    if kind != "unexpected_keyword_argument":  # where no other value would do either
        first = (entry(0), stated[0]) if isinstance(stated, list) else ("from", stated["from"])
        head = f"{head}, {with_value(*first)}"
    if location not in at:  # but at a table above it, or within it
        return f"{head}: {fault(tables, location, message)}"
    of = [place(tables, location[:-1])] if len(at) > 1 else []
    return placed(", ".join([head, *of]), message)


def _read(data: Mapping[str, Any]) -> list[tuple[Location, str | InputError, str]]:
    """Where the tables cannot be read, why, and the kind of error."""
    try:
        validated(data)
    except ValidationError as error:
        return list(found(data, error))
    return []


def _same(fault: Location, place: Location) -> bool:
    """Whether a fault lies at a place, at a table above it, or within it."""
    shorter = min(len(fault), len(place))
    return fault[:shorter] == place[:shorter]
