"""The tables of a case file with other values at some of their keys."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from contactfe.case.across import Location
from contactfe.case.faults import faults
from contactfe.case.stated import StatedCase
from contactfe.case.stated_values import OWN_GRADES
from contactfe.case.sweeping import Sweep
from contactfe.errors import InputError

NOT_OF_A_SAMPLE = ("sweep", "envelope", "size")
"""Tables that say what is to be tried, which one sample has no use for."""


def places(data: Mapping[str, Any], path: str) -> tuple[Location, ...]:
    """Every place in the tables that a dotted path stands for.

    In a list of tables, such as the sections, the path may name one of them, or go on to a key of
    each. A table that is not there is made by :func:`patched`.

    Raises InputError where the path leads into something that is no table, or nowhere.

    >>> data = {"section": [{"name": "solid"}, {"name": "6.5 in"}]}
    >>> places(data, "section.wall")
    (('section', 0, 'wall'), ('section', 1, 'wall'))
    >>> places(data, "section.6.5 in.wall")
    (('section', 1, 'wall'),)
    """
    found = _walk(data, path, ())
    if not found:
        raise InputError(f'[sweep.over] "{path}": leads to no table of the case')
    return found


def _walk(node: Any, rest: str, before: Location) -> tuple[Location, ...]:
    if isinstance(node, list):
        return _among(node, rest, before)
    if not isinstance(node, Mapping):
        return ()
    if before == ("grade",):
        name = _longest(node, rest)
        return () if name is None else _walk(node[name], rest[len(name) + 1 :], (*before, name))
    key, dot, further = rest.partition(".")
    if dot:
        return _walk(node.get(key, {}), further, (*before, key))
    return ((*before, key),) if key else ()


def _among(tables: list[Any], rest: str, before: Location) -> tuple[Location, ...]:
    """Places in the table of the list that is named, or in each."""
    names = [table.get("name") if isinstance(table, Mapping) else None for table in tables]
    name = _longest(names, rest)
    if name is not None:
        k = names.index(name)
        return _walk(tables[k], rest[len(name) + 1 :], (*before, k))
    inner, dot, _ = rest.partition(".")
    return tuple(
        place
        for k, table in enumerate(tables)
        # A table in some of them, such as an infill, is not made in the others.
        if not dot or (isinstance(table, Mapping) and inner in table)
        for place in _walk(table, rest, (*before, k))
    )


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
        ends.append(_read(patched(data, values)))
    for key in known:
        unread = [
            next((line for where, line in found if any(_same(where, p) for p in at[key.path])), "")
            for found in ends
        ]
        if all(unread):
            lines.append(f'{source}: [sweep.over] "{key.path}": {unread[0]}')
    if lines:
        raise InputError("\n".join(lines))


def _read(data: Mapping[str, Any]) -> list[tuple[Location, str]]:
    """Where the tables cannot be read, and why."""
    try:
        StatedCase.model_validate(dict(data), context={OWN_GRADES: list(data.get("grade", {}))})
    except ValidationError as error:
        details = error.errors(include_url=False)
        return [
            (tuple(d["loc"]), line) for d, line in zip(details, faults(data, error), strict=True)
        ]
    return []


def _same(fault: Location, place: Location) -> bool:
    """Whether a fault lies at a place, at a table above it, or within it."""
    shorter = min(len(fault), len(place))
    return fault[:shorter] == place[:shorter]
