"""Faults of a case file in words: where, what is written there, and what is allowed."""

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from difflib import get_close_matches
from itertools import islice
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from contactfe.case import renamed
from contactfe.case.across import Location
from contactfe.case.model import Case
from contactfe.case.table import Key, Table, keys
from contactfe.case.wording import entry, listed, placed, quoted, with_value, written, written_key
from contactfe.errors import InputError

LISTS_OF_TABLES: tuple[Location, ...] = (("section",), ("motion", "damper"), ("motion", "level"))
"""Keys that lead to lists of tables."""

_OF_THE_NAME = "[key]"
"""What pydantic puts behind the name of a grade where the fault is in the name itself."""


def fault(data: Mapping[str, Any], location: Location, message: str | InputError) -> str:
    """One line on one fault: place, value as written, what is allowed; the file goes in front.

    `data` is the case as read from TOML, `location` the keys from the top down to the fault, with
    sections counted from 0.

    >>> data = {"section": [{"name": "tube", "wall": "9 m"}]}
    >>> fault(data, ("section", 0, "wall"), "is too much")
    'section 1 "tube", wall = "9 m": is too much'
    """
    return placed(with_value(place(data, location), value_at(data, location)), message)


Tell = Callable[[Mapping[str, Any], Location, str | InputError], str]
"""What puts a fault in words, as :func:`fault` does."""


def faults(
    data: Mapping[str, Any], error: ValidationError, tell: Tell = fault, most: int | None = None
) -> list[str]:
    """One line for each fault that pydantic found in `data`, or the first of them: a line takes
    some milliseconds.
    """
    some = islice(found(data, error), most)
    return [tell(data, location, message) for location, message, _ in some]


def found(
    data: Mapping[str, Any], error: ValidationError
) -> Iterator[tuple[Location, str | InputError, str]]:
    """Place and message of each fault that pydantic found in `data`, and its kind of error."""
    for detail in error.errors(include_url=False):
        yield tuple(detail["loc"]), _message(data, detail), detail["type"]


def place(data: Mapping[str, Any], location: Location) -> str:
    """A location in words: where in the file a reader finds it.

    >>> place({"section": [{"name": "tube"}]}, ("section", 0, "wall"))
    'section 1 "tube", wall'
    """
    match location:
        case ("section", int(index), *keys):
            name = value_at(data, ("section", index, "name"))
            words = [f"section {index + 1}{f' {quoted(name)}' if isinstance(name, str) else ''}"]
            words = [", ".join([*words, *filter(None, [_path(keys)])])]
        case ("grade", name, *keys):
            within = _path([key for key in keys if key != _OF_THE_NAME])
            words = [f"[grade.{written_key(name)}]", within]
        case ("motion", ("damper" | "level") as of, int(index), *keys):
            words = [", ".join([f"[[motion.{of}]] {index + 1}", *filter(None, [_path(keys)])])]
        case ("sweep", "over", *keys):
            words = ["[sweep.over]", *map(quoted, keys)]
        case (table, *within) if location not in LISTS_OF_TABLES and (within or _heads(table)):
            words = [f"[{table}]", _path(within)]
        case _:
            words = [_as_it_stands(location, value_at(data, location))]
    return " ".join(filter(None, words))


def _heads(name: int | str) -> bool:
    """Whether a key of the file heads a table, or several."""
    known = keys(Case).get(str(name))
    return known is not None and known.table is not None


def _as_it_stands(location: Location, value: object) -> str:
    """A list of tables, or a table that is not known, by the brackets that the file has there."""
    *tables, key = map(written_key, location)
    path = ".".join([*tables, key])
    match value:
        case Mapping():
            return f"[{path}]"
        case [Mapping(), *_]:
            return f"[[{path}]]"
        case list() | None if location in LISTS_OF_TABLES:
            return f"[[{path}]]"
    return " ".join([*(f"[{table}]" for table in tables), key])


def _path(keys: Sequence[int | str]) -> str:
    """Keys within a table, and the number of an entry of a list from 1."""
    parts = [f", {entry(key)}" if isinstance(key, int) else f".{written_key(key)}" for key in keys]
    return "".join(parts).removeprefix(".")


def value_at(data: Any, location: Location) -> Any:
    """The value at a location; None for a key that is not there."""
    for key in location:
        try:
            data = data[key]
        except (KeyError, IndexError, TypeError):
            return None
    return data


_PLAIN = {
    "string_type": "text in quotes",
    "float_type": "a number without quotes",
    "int_type": "a whole number without quotes",
    "bool_type": "true or false, without quotes",
}
"""What a value must be that is of another kind, by pydantic's name of that fault."""


def _message(data: Mapping[str, Any], detail: ErrorDetails) -> str | InputError:
    location = tuple(detail["loc"])
    match detail["type"]:
        case "value_error":
            error = detail["ctx"]["error"]
            return error if isinstance(error, InputError) else str(error)
        case "missing":
            message = f"is missing; {_example(location)}"
        case "unexpected_keyword_argument":
            message = f"is not known here; {_allowed(location, value_at(data, location))}"
        case "literal_error":
            known = str(detail["ctx"]["expected"]).replace("'", '"')
            now = quoted(renamed.VALUES.get(str(detail["input"]), ""))
            message = f"is called {now} now" if now in known else f"must be {known}"
        case "dataclass_type":
            message = f"must be one table, {_heading(location)}"
        case "dict_type":
            message = "must be tables, each headed [grade.NAME]"
        case "tuple_type" if (of := _keys(location)[str(location[-1])]).table is None:
            message = f"must be a list such as {json.dumps(of.examples[0])}"
        case "tuple_type":
            message = f"must be a list of tables, each headed {_heading(location).split()[-1]}"
        case of if of in _PLAIN:
            message = f"must be {_PLAIN[of]}"
        case _:
            message = detail["msg"]  # about a key that TOML cannot hold
    return message


def _heading(location: Location) -> str:
    if location[-1] == "infill":
        needed = (known for known in _keys((*location, "")).values() if known.needed)
        stated = (f"{known.name} = {written(known.examples[0])}" for known in needed)
        return f"such as {{ {', '.join(stated)} }}"
    if location[0] == "grade":
        return f"headed [grade.{written_key(location[1])}]"
    if location[:2] in LISTS_OF_TABLES:
        return f"headed [[{'.'.join(map(str, location[:2]))}]]"
    return "headed [[section]]" if location[0] == "section" else f"headed [{location[0]}]"


def brackets(text: str) -> str:
    r"""What helps where a case that is no TOML heads a list of tables as if it were one table.

    A single heading of that kind is TOML, which the tables refuse by themselves.

    >>> brackets("[section]\nname = 'a'\n[section]\nname = 'b'")
    '; [[section]] is a list of tables: head each of them with double brackets'
    """
    for location in LISTS_OF_TABLES:
        path = ".".join(map(str, location))
        heads = re.findall(rf"^\s*(\[\[?)\s*{_spaced(location)}\s*\]", text, re.MULTILINE)
        if len(heads) > 1 and "[" in heads:
            return f"; [[{path}]] is a list of tables: head each of them with double brackets"
    return ""


def _spaced(location: Location) -> str:
    return r"\s*\.\s*".join(re.escape(str(key)) for key in location)


def _keys(location: Location) -> Mapping[str, Key]:
    """Keys of the table that holds the last key of a location."""
    record: type[Table] = Case
    for name in location[:-1]:  # but the numbers of sections and the names of grades
        known = keys(record).get(str(name))
        if known is not None and known.table is not None:
            record = known.table
    return keys(record)


def _example(location: Location) -> str:
    name = str(location[-1])
    known = _keys(location)[name]
    if not known.examples:
        return "a case needs this table"
    return f"write for example {name} = {json.dumps(known.examples[0])}"


def _allowed(location: Location, value: object) -> str:
    table = ".".join(key for key in location[:-1] if isinstance(key, str))
    if (now := renamed.KEYS.get((table, str(location[-1])))) is not None:
        return f"it is called {now} now"
    offered = {name: name for name in _keys(location)}
    if len(location) == 1:
        # Tables are offered for a table as they are headed, and other keys for anything else.
        tabled = isinstance(value, Mapping | list)
        known = [name for name in offered if _heads(name) == tabled]
        offered = {name: place({}, (name,)) if tabled else name for name in known}
    close = get_close_matches(str(location[-1]), offered, n=1, cutoff=0.5)
    meant = f"did you mean {offered[close[0]]}? " if close else _elsewhere(location, value)
    return f"{meant}allowed: {', '.join(offered.values())}"


_MOST_PLACES = 3
"""Tables that a key is said to be of; one of more says nothing of what was meant."""


def _elsewhere(location: Location, value: object) -> str:
    """The tables that know a key which this one does not."""
    if isinstance(value, Mapping | list):
        return ""
    name = str(location[-1])
    heads = {(): "the top of the file, before its first table"}
    known = {
        (one.name,): f"[[{one.name}]]" if one.several and one.name != "grade" else f"[{one.name}]"
        for one in keys(Case).values()
        if one.table is not None
    }
    of = [words for at, words in (heads | known).items() if name in _keys((*at, name))]
    return f"it is a key of {listed(of)}; " if 0 < len(of) <= _MOST_PLACES else ""
