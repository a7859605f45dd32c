"""Rows of the verification set out of tables: TOML files that state, and are never evaluated.

A table has groups, a group has rows, and a row states these fields. What rows share stands once, in
their group or at the head of the file; ``given`` is joined. A group without rows is one. Where the
``key`` or the ``case`` of a group has a {}, that of the row fills it.

    key        unique, lower case, words joined by dashes
    kind       "hand formula", "standard" or "exact field"
    case       what is asked, in one line
    source     a name among [source] of the file or of shared.toml, which give text and origin
    at         the place in the source, for the {} of its text
    computed   what was computed here from the source; added to its text, and the origin then
    published  a number, a number with the unit that the result is turned into, or what gives it: a
               call, or the name of a function of what is given
    unit       that of a published value which is found
    absolute   the largest difference that passes, in the unit; or instead
    relative   the same over the published value
    why        its reason
    by         the function by its dotted name, where ``.plain`` asks a formula beyond its range; or
               "$name" for what such a value finds
    given      its arguments by name
    read       which part of its result: places and names, joined by dots, as in "steps.-1.value"
    over       what that is divided by: an argument, or the name of a function of what is given
    power      which that is raised to, such as -1 for a strength over a stress
    times      what that is multiplied by, an argument

An argument is a number, in N, mm, MPa and rad; a quantity in any unit, as in a case file; a word;
a call of its own, with ``by``, ``given`` and the rest; or "$name" for one of [value] there.
"""

import inspect
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pkgutil import resolve_name
from typing import Any, Literal, NoReturn, get_args, get_origin

from contactfe.case.units import dimension_of, parse_quantity
from contactfe.case.wording import listed
from contactfe.errors import InputError
from contactfe.hand.quantities import Quantity
from contactfe.verify.row import Kind, Origin, Row

Stated = Mapping[str, Any]
"""What a TOML table holds."""

FOLDER = files("contactfe.verify")
"""Where the tables of this package are."""

_OF_A_CALL = ("by", "given", "read", "over", "power", "times")
_NEEDED = ("key", "kind", "case", "source", "published", "why", "by")
_ALLOWED = ("absolute", "relative")
_FIELDS = (*_NEEDED, *_ALLOWED, "at", "computed", "unit", *_OF_A_CALL[1:])
_ROOMS = ("hand", "codes", "verify")
"""Where functions may be from."""


@dataclass(frozen=True)
class Source:
    """A text, with a {} where a place in it belongs, and whether its values were seen."""

    text: str
    origin: Origin


@dataclass(frozen=True)
class Call:
    """A function with its arguments, and what is made of its result; fields as in a table."""

    function: Callable[..., Any]
    given: Mapping[str, Any]  # calls among them
    read: tuple[str, ...]
    over: "Call | float"
    power: float
    times: "Call | float"

    def __call__(self) -> float:
        """The number that is found."""
        found = self.function(**{name: _found(at) for name, at in self.given.items()})
        for part in self.read:
            found = found[int(part)] if part.lstrip("-").isdigit() else getattr(found, part)
        return float(_found(self.times) * (found / _found(self.over)) ** self.power)


def _found(argument: Any) -> Any:
    return argument() if isinstance(argument, Call) else argument


@cache
def shared() -> tuple[Mapping[str, Source], Stated]:
    """The sources and the values of shared.toml."""
    file = FOLDER.joinpath("shared.toml")
    stated = _read(file)
    return _sources(file.name, stated["source"]), stated["value"]


@cache
def table(name: str) -> tuple[Row, ...]:
    """The rows of a table of this package, in their order."""
    return read_table(FOLDER.joinpath(f"{name}.toml"))


def read_table(file: Traversable) -> tuple[Row, ...]:
    """The rows of a file. Raises InputError, with the file and the key, for one that is not right.

    Functions are found here, and called when a row is run.
    """
    stated = _read(file)
    known, held = shared()
    sources = {**known, **_sources(file.name, stated.pop("source", {}))}
    values, groups = {**held, **stated.pop("value", {})}, stated.pop("group", [])
    rows = tuple(
        _row(f"{file.name}, {fields.get('key')}", fields, sources, values)
        for group in groups
        for fields in _fields(stated, group)
    )
    for key, count in Counter(row.key for row in rows).items():
        if count > 1:
            _refuse(f"{file.name}, {key}", "is the key of another row; each has its own")
    return rows


def _read(file: Traversable) -> dict[str, Any]:
    try:
        return tomllib.loads(file.read_text("utf-8"))
    except tomllib.TOMLDecodeError as error:
        _refuse(file.name, f"is not TOML: {error}")


def _refuse(where: str, what: str) -> NoReturn:
    raise InputError(f"{where}: {what}")


def _allowed(names: Mapping[str, Any] | tuple[str, ...]) -> str:
    return f"allowed: {', '.join(names) or 'none'}"


def _sources(file: str, stated: Stated) -> dict[str, Source]:
    found = {}
    for name, source in stated.items():
        where = f"{file}, source {name}"
        if set(source) != {"text", "origin"}:
            _refuse(where, f"has {listed(list(source), 'and')}; allowed: text and origin, both")
        found[name] = Source(source["text"], _word(f"{where}, origin", source["origin"], Origin))
    return found


def _word(where: str, word: Any, literal: Any) -> Any:
    if word not in get_args(literal):
        _refuse(where, f'"{word}" is not known; {_allowed(get_args(literal))}')
    return word


def _fields(file: Stated, group: Stated) -> Iterator[dict[str, Any]]:
    """Each row of a group with what the group and the file state for it."""
    for row in group.get("row", [{}]):
        fields: dict[str, Any] = {}
        for stated in (file, {k: at for k, at in group.items() if k != "row"}, row):
            if any(name in stated for name in _ALLOWED):  # instead of what stands further out
                fields = {k: at for k, at in fields.items() if k not in _ALLOWED}
            given = {**fields.get("given", {}), **stated.get("given", {})}
            filled = {
                name: fields[name].replace("{}", stated[name])
                for name in ("key", "case")
                if name in stated and "{}" in fields.get(name, "")
            }
            fields |= {**stated, **filled, "given": given}
        yield fields


def _row(
    where: str, fields: Stated, sources: Mapping[str, Source], values: Mapping[str, Any]
) -> Row:
    _only(where, fields, _FIELDS)
    if missing := [name for name in _NEEDED if name not in fields]:
        _refuse(where, f"needs {listed(missing, 'and')}")
    if sum(name in fields for name in _ALLOWED) != 1:
        _refuse(where, f"needs one of {listed(_ALLOWED, 'and')}")
    text, origin = _source(where, fields, sources)
    published, unit = _published(where, fields, values)
    of_unit = 1.0 if unit == "1" else _number(f"{where}, unit", f"1 {unit}")
    tool = _call(where, {name: fields[name] for name in _OF_A_CALL if name in fields}, values)
    return Row(
        key=fields["key"],
        kind=_word(f"{where}, kind", fields["kind"], Kind),
        case=fields["case"],
        source=text,
        published=(lambda: published() / of_unit) if isinstance(published, Call) else published,
        tool=lambda: tool() / of_unit,
        allowed=float(fields["absolute"] if "absolute" in fields else fields["relative"]),
        why=fields["why"],
        unit=unit,
        absolute="absolute" in fields,
        origin=origin,
    )


def _source(where: str, fields: Stated, sources: Mapping[str, Source]) -> tuple[str, Origin]:
    """The words of a row's source, and what they say of its value."""
    if fields["source"] not in sources:
        _refuse(f"{where}, source", f'"{fields["source"]}" is not known; {_allowed(sources)}')
    source = sources[fields["source"]]
    if ("{}" in source.text) != ("at" in fields):
        _refuse(where, f"`at` fills the {{}} of its source, which reads: {source.text}")
    text = source.text.replace("{}", fields.get("at", ""))
    if "computed" in fields:
        return f"{text}; {fields['computed']} computed here", "computed here"
    return text, source.origin


def _published(where: str, fields: Stated, values: Mapping[str, Any]) -> tuple[Call | float, str]:
    """The published value, or what finds it, and its unit."""
    stated = _of_given(where, fields["published"], fields)
    if isinstance(stated, dict):
        return _call(f"{where}, published", stated, values), fields.get("unit", "1")
    if "unit" in fields:
        _refuse(where, 'states its unit with its value, as in published = "0.5 in"')
    number, _, unit = stated.partition(" ") if isinstance(stated, str) else (stated, "", "")
    try:
        return float(number), unit or "1"
    except (TypeError, ValueError):
        _refuse(f"{where}, published", f'{stated!r} is no number; allowed: 0.5, or "0.5 in"')


def _only(where: str, stated: Stated, names: tuple[str, ...]) -> None:
    for name in stated:
        if name not in names:
            _refuse(where, f"{name} is no field; {_allowed(names)}")


def _call(where: str, stated: Stated, values: Mapping[str, Any]) -> Call:
    _only(where, stated, _OF_A_CALL)
    if "by" not in stated:
        _refuse(where, "needs by, the name of a function")
    by, given = stated["by"], stated.get("given", {})
    found = _argument(where, by, None, values) if by.startswith("$") else None
    function = found if isinstance(found, Call) else _function(where, by)
    over = _of_given(where, stated.get("over", 1.0), stated)
    return Call(
        function,
        _given(where, by, _arguments(function), given, values),
        tuple(part for part in str(stated.get("read", "")).split(".") if part),
        _argument(f"{where}, over", over, None, values),
        stated.get("power", 1.0),
        _argument(f"{where}, times", stated.get("times", 1.0), None, values),
    )


def _of_given(where: str, value: Any, stated: Stated) -> Any:
    """A value as it stands; one that names a function, as a call of what is given and it takes."""
    if not (isinstance(value, str) and value[:1].isalpha()):
        return value
    taken = _arguments(_function(where, value))
    given = {name: at for name, at in stated.get("given", {}).items() if name in taken}
    return {"by": value, "given": given}


def _function(where: str, name: str) -> Callable[..., Any]:
    try:
        found = resolve_name(f"contactfe.{name}")
    except (ImportError, AttributeError, ValueError):
        found = None
    if not (callable(found) and name.split(".", 1)[0] in _ROOMS):
        _refuse(where, f"{name} is no function; allowed: dotted names below {listed(_ROOMS, 'or')}")
    return found  # type: ignore[no-any-return]


def _arguments(function: Callable[..., Any]) -> Mapping[str, inspect.Parameter]:
    # Of a formula, also where it is asked beyond its range by a method of it.
    return inspect.signature(getattr(function, "__self__", function)).parameters


def _given(
    where: str,
    by: str,
    arguments: Mapping[str, inspect.Parameter],
    given: Stated,
    values: Mapping[str, Any],
) -> dict[str, Any]:
    for name in given:
        if name not in arguments:
            _refuse(where, f"{by} takes no {name}; {_allowed(tuple(arguments))}")
    for name, argument in arguments.items():
        if name not in given and argument.default is inspect.Parameter.empty:
            _refuse(where, f"{by} needs {name}; it takes {', '.join(arguments)}")
    return {
        name: _argument(f"{where}, {name}", value, arguments[name].annotation, values)
        for name, value in given.items()
    }


def _argument(where: str, value: Any, annotation: Any, values: Mapping[str, Any]) -> Any:
    if isinstance(value, str) and value.startswith("$"):
        if value[1:] not in values:
            _refuse(where, f"{value} is no value; {_allowed(values)}")
        return _argument(where, values[value[1:]], annotation, values)
    if isinstance(value, dict):
        return _call(where, value, values)
    said = tuple(_said(annotation))
    words = tuple(one for one in said if isinstance(one, str))
    if words:
        return _word(where, value, Literal[words])
    dimension = next((one.dimension for one in said if isinstance(one, Quantity)), None)
    return _number(where, value, dimension)


def _said(annotation: Any) -> Iterator[Any]:
    """The words that an annotation allows, or the quantity that it names."""
    if get_origin(annotation) is Literal:
        yield from get_args(annotation)
    elif hasattr(annotation, "__metadata__"):
        yield from (one for one in annotation.__metadata__ if isinstance(one, Quantity))
    else:
        for part in get_args(annotation):
            yield from _said(part)


def _number(where: str, value: Any, dimension: Any = None) -> float:
    """A number as it stands, or a quantity as it is held."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    if not isinstance(value, str):
        _refuse(where, f"{value!r} is no argument; allowed: a number, a quantity, a call")
    try:
        return parse_quantity(value, dimension or dimension_of(value))
    except InputError as error:
        _refuse(where, f'"{value}" {error}')
