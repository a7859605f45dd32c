"""Case files drawn from the schema that the models give: whatever key they gain is drawn as well.

Three kinds: valid ones, whose tables are drawn key by key and mended where the reader finds a
fault; nearly valid ones, with one thing wrong; and hostile ones.
"""

import itertools
import json
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from pathlib import Path as File
from random import Random
from typing import Any

from contactfe.case.reader import case_with
from contactfe.case.units import dimension_of, example_of, is_quantity, parse_quantity, times
from contactfe.errors import InputError
from contactfe.report.reference import case_file_schema

Path = tuple[str, ...]
"""Keys from the top down, without the numbers of lists and the names of grades."""

SCHEMA = json.loads(case_file_schema())
SOURCE = File(__file__).parents[1] / "cases" / "drawn.toml"
"""Where a case lies, from which the examples of paths go."""
ROUNDS = 40
"""How often what the reader finds at fault is drawn anew."""


def resolved(schema: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a reference stands for."""
    name = schema.get("$ref")
    return schema if name is None else SCHEMA["$defs"][name.rpartition("/")[2]]


def table_of(schema: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """The table that a key heads, alone or in a list or by names; None of a plain key."""
    of = resolved(schema)
    inner = of.get("items") if of.get("type") == "array" else of.get("additionalProperties")
    if inner and "$ref" in inner:
        of = resolved(inner)
    return of if of.get("additionalProperties") is False else None


def paths(table: Mapping[str, Any] = SCHEMA, above: Path = ()) -> Iterator[Path]:
    """The path of every key of every table."""
    for name, key in table["properties"].items():
        yield (*above, name)
        inner = table_of(key)
        if inner is not None:
            yield from paths(inner, (*above, name))


def stated(data: Any, above: Path = ()) -> Iterator[Path]:
    """The paths of the keys that the tables of a case state."""
    for name, value in data.items():
        yield (path := (*above, name))
        for table in value if isinstance(value, list) else [value]:
            if path == ("grade",) and isinstance(table, dict):
                for grade in table.values():
                    yield from stated(grade, path)
            elif isinstance(table, dict) and path in _TABLES:
                yield from stated(table, path)


PATHS = tuple(paths())
_TABLES = {path[:-1] for path in PATHS}
GROUPS = 12
"""Parts of the keys, of which a case may have to state each key of one."""


def text_of(data: Mapping[str, Any]) -> str:
    """The tables as TOML, one key of the top on a line."""
    return "".join(f"{_quoted(name)} = {written(value)}\n" for name, value in data.items())


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def written(value: Any) -> str:
    """A value as TOML has it."""
    match value:
        case bool():
            return str(value).lower()
        case dict():
            inner = (f"{_quoted(name)} = {written(one)}" for name, one in value.items())
            return f"{{ {', '.join(inner)} }}"
        case list():
            return f"[{', '.join(map(written, value))}]"
        case date() | time():
            return value.isoformat()
        case str():
            return _quoted(value)
    return str(value)


def _enums(schema: Any) -> Iterator[list[Any]]:
    """Every list of names that a value may be one of."""
    for name, of in schema.items() if isinstance(schema, dict) else enumerate(schema):
        if name == "enum":
            yield of
        elif isinstance(of, dict | list):
            yield from _enums(of)


# Valid ones.

_MILD = 1.0, 1.0, 1.0, 0.8, 1.25, 0.5, 2.0
_WILD = 1.0, 0.3, 3.0, 0.1, 10.0, 0.01, 40.0, 1e-4, 1e4, -1.0
_SHARED = "own steel", "bar", "stop 7"
"""Names that tables may have by chance of one another: a steel that of a grade."""


@dataclass(frozen=True)
class Drawn:
    """What draws the values of a case by its schema."""

    by: Random
    must: frozenset[Path] = frozenset()  # keys that are to be stated
    wild: bool = False  # whether figures may be out of the way

    def name(self) -> str:
        """A name, now and then one that others have too."""
        if self.by.random() < 0.5:
            return self.by.choice(_SHARED)
        return "".join(self.by.choices("abcXYZ 019-/é鋼“[&=", k=self.by.randint(1, 12)))

    def quantity(self, example: str) -> str:
        """The quantity of an example times some factor, in its unit or that of other systems."""
        text = times(example, self.by.choice(_WILD if self.wild else _MILD))
        if self.by.random() < 0.7 or text.endswith("%"):
            return text
        try:
            kind = dimension_of(text)
            us = example_of(kind, us=True)
            return times(us, parse_quantity(text, kind) / parse_quantity(us, kind))
        except InputError:  # a slope, say
            return text

    def like(self, example: Any) -> Any:
        """A value of the form of an example."""
        match example:
            case str() if is_quantity(example) and "-" not in example[1:]:
                return self.quantity(example)
            case list():
                return [self.like(one) for one in example]
            case dict():
                return {name: self.like(one) for name, one in example.items()}
            case str() if self.by.random() < 0.5:
                return self.name()
        return example

    def number(self, schema: Mapping[str, Any], whole: bool) -> float:
        """One within the bounds of a schema, from its least on where it has no other."""
        least = schema.get("minimum", schema.get("exclusiveMinimum", 0))
        most = min(schema.get("maximum", schema.get("exclusiveMaximum", math.inf)), least + 12)
        if whole:
            return self.by.randint(least, int(most))
        ends = [schema[end] for end in ("minimum", "maximum") if end in schema]
        if ends and self.by.random() < 0.2:
            return float(self.by.choice(ends))
        return self.by.uniform(least + 1e-9, most - 1e-9)

    def value(self, schema: Mapping[str, Any], at: Path) -> Any:  # noqa: PLR0911
        """A value that the key at a path may have."""
        of = resolved(schema)
        if of.get("examples") and self.by.random() < 0.5 and "enum" not in of:
            return self.like(self.by.choice(of["examples"]))
        match of:
            case {"format": "date"}:
                day = date.fromordinal(self.by.randint(1, date.max.toordinal()))
                return self.by.choice([day, day.isoformat()])
            case {"const": only}:
                return only
            case {"enum": known}:
                return self.by.choice(known)
            case {"anyOf": several}:
                return self.value(self.by.choice(several), at)
            case {"type": "boolean"}:
                return self.by.random() < 0.5
            case {"type": "integer" | "number" as kind}:
                return self.number(of, kind == "integer")
            case {"type": "array", "items": one}:
                return [self.value(one, at) for _ in range(self.by.randint(1, 3))]
            case {"type": "array", "prefixItems": each}:
                return [self.value(one, at) for one in each]
            case {"type": "object", "properties": _}:
                return self.table(of, at)
            case {"type": "object", "additionalProperties": one}:
                known = [name for example in of.get("examples", ()) for name in example]
                names = self.by.sample(known or _SHARED, self.by.randint(1, len(known) or 2))
                return {name: self.value(one, at) for name in names}
        return self.like(self.by.choice(of["examples"])) if "examples" in of else self.name()

    def table(self, schema: Mapping[str, Any], at: Path) -> dict[str, Any]:
        """A table with the keys that it needs and some others."""
        found = {}
        for name, key in schema["properties"].items():
            path = (*at, name)
            needed = name in schema.get("required", ()) or any(
                one[: len(path)] == path for one in self.must
            )
            if needed or self.by.random() < 0.25:
                found[name] = self.value(key, path)
        return found


def drawn(by: Random) -> tuple[dict[str, Any], Drawn]:
    """The tables of a case, each value right for itself, and what drew them."""
    group = by.randrange(2 * GROUPS)
    draw = Drawn(by, frozenset(PATHS[group::GROUPS] if group < GROUPS else ()), by.random() < 0.25)
    return draw.table(SCHEMA, ()), replace(draw, must=frozenset())


def valid(by: Random) -> dict[str, Any]:
    """The tables of a case that the reader mostly accepts: what it finds at fault is mended."""
    data, draw = drawn(by)
    for count in range(ROUNDS):
        found = at_fault(data)
        if not found:
            break
        for place, message in found:
            if count < ROUNDS // 2 or not _left_out(data, place):
                _mend(draw, data, place, message)
    return data


Place = tuple[int | str, ...]


def at_fault(data: dict[str, Any]) -> list[tuple[Place, str]]:
    """Where the reader finds the tables of a case at fault and why; none where it takes them."""
    found = []

    def tell(of: Mapping[str, Any], location: Place, message: str) -> str:
        found.append((location, str(message)))
        return ""

    try:
        case_with(tell, data, str(SOURCE))
    except InputError:
        return found
    return []


def _left_out(data: dict[str, Any], place: Place) -> bool:
    """Leave the table at fault out where it may be; whether it was there and is not needed."""
    match place:
        case ("section", int(index), *_) if len(data["section"]) > index > 0:
            del data["section"][index]
            return True
        case (name, *_) if name in data and name not in SCHEMA["required"]:
            del data[name]
            return True
    return False


def _mend(draw: Drawn, data: dict[str, Any], place: Place, message: str) -> None:  # noqa: PLR0912
    """Draw what is at fault anew, leave it out, or state of the keys that are named others."""
    holder: Any = data
    of, at, schema, name = SCHEMA, (), SCHEMA, None
    for step in place:  # down to the key, or the table, that is at fault
        if name is not None:
            try:
                holder = holder[name]
            except (KeyError, IndexError, TypeError):
                return
        inner = of.get("properties", {}).get(step)
        if inner is not None:
            schema, of, at = of, resolved(inner), (*at, str(step))
        elif isinstance(nested := of.get("items", of.get("additionalProperties")), dict):
            schema, of = of, resolved(nested)
        else:
            break
        name = step
    if name is None or not isinstance(holder, dict if isinstance(name, str) else list):
        return
    if isinstance(holder, list) and name >= len(holder):  # left out meanwhile
        return
    table = holder.get(name) if isinstance(holder, dict) else holder[name]
    known = of.get("properties", {})
    named = list(dict.fromkeys(word for word in re.findall(r"\w+", message) if word in known))
    heads = [head for head in re.findall(r"\[(\w+)\]", message) if head in SCHEMA["properties"]]
    if not isinstance(table, dict) or not (named or heads):
        needed = name in schema.get("required", ()) or not isinstance(holder, dict)
        if table is not None and not needed and draw.by.random() < 0.5:
            del holder[name]
        else:
            holder[name] = draw.value(of, at)
    elif named:
        cut = draw.by.randint(0, len(named))
        cut = min(max(cut, 1), max(len(named) - 1, 1))
        keep = named[:cut] if draw.by.random() < 0.5 else named[cut:]
        for key in named:
            if key not in keep and key not in of.get("required", ()):
                table.pop(key, None)
            elif key not in table:
                table[key] = draw.value(known[key], (*at, key))
    elif draw.by.random() < 0.5:
        for head in heads:
            if head not in data:
                data[head] = draw.value(SCHEMA["properties"][head], (head,))
    else:
        _left_out(data, place)


# With one thing wrong.


@dataclass(frozen=True)
class Wrong:
    """A text of a case file with one thing wrong, and the key that it is in."""

    text: str
    key: str
    what: str


ANOTHER = {
    "a number": 7, "a fraction": 0.123, "a text": "some text", "no text": "", "yes": True,
    "a list": [1, "2 mm"], "nothing in a list": [], "a table": {"a": 1}, "no table": {},
    "a day": date(2026, 2, 28), "a moment": datetime(2026, 2, 28, 1, 2, 3),
    "another unit": "3 s", "no unit": "12", "a unit alone": "mm", "an unknown unit": "4 furlong",
    "negative": "-5 mm", "zero": "0 mm", "two numbers": "1 2 mm", "a comma": "1,5 mm",
    "too large": "1e31 mm", "too small": "1e-31 mm", "below": -1, "above": 1e6,
}  # fmt: skip


def _places(data: Any, schema: Mapping[str, Any], at: Path = ()) -> Iterator[tuple[Any, str, Path]]:
    """Each key that a table may have, stated or not: the table that holds it, name and path."""
    for name, key in schema["properties"].items():
        path = (*at, name)
        yield data, name, path
        inner, value = table_of(key), data.get(name)
        if inner is None or value is None:
            continue
        if path == ("grade",):
            value = list(value.values())
        for table in value if isinstance(value, list) else [value]:
            yield from _places(table, inner, path)


def nearly_valid(by: Random) -> Wrong:
    """A case with one thing wrong."""
    while at_fault(data := valid(by)):
        pass
    holder, name, _ = by.choice(list(_places(data, SCHEMA)))
    what = by.choice([*ANOTHER, "missing", "unknown", "twice", "negated", "scaled"])
    value = holder.get(name)
    if what in ANOTHER:
        holder[name] = ANOTHER[what]
    elif what == "missing":
        holder.pop(name, None)
    elif what == "unknown":
        name = by.choice([f"{name}s", name.upper(), f"{name} ", "", "ключ"])
        holder[name] = 1 if value is None else value
    elif what == "negated":
        holder[name] = f"-{value}" if isinstance(value, str) else -1e-3
    elif what == "scaled" and isinstance(value, str) and is_quantity(value):
        holder[name] = times(value, by.choice([1e6, 1e-6, 1e20, 1e-20, 1e3, 1e-3]))
    text = text_of(data)
    if what == "twice":
        one = f"{_quoted(name)} = {written(1 if value is None else value)}"
        text = text.replace(one, f"{one}\n{one}" if holder is data else f"{one}, {one}", 1)
    return Wrong(text, name, what)


# Hostile ones.

LONG = 20_000
HOSTILE_VALUES: Mapping[str, str] = {
    "a whole number of 400 digits": "9" * 400,
    "of 5000 digits": "9" * 5000,
    "nan": "nan", "inf": "inf", "-inf": "-inf", "1e400": "1e400", "-0.0": "-0.0",
    "the least float": "5e-324", "the greatest float": "1.7976931348623157e308",
    "hexadecimal": "0xffffffffffffffff", "a year 0": "0000-01-01", "a year 9999": "9999-12-31",
    "no day": "2026-02-30", "a leap second": "2026-06-30T23:59:60Z", "a time": "23:59:59",
    "long": f'"{"a" * LONG}"', "a long number": f'"{"1" * 400} mm"',
    "a long fraction": f'"0.{"0" * 400}1 mm"', "a great exponent": '"1e999999999 mm"',
    "many powers": f'"1 {"mm*" * 2000}mm"', "a power": '"1 mm2^4"',
    "a long unit": f'"1 {"m" * LONG}"',
    "least of a unit": '"1e-30 mm"', "greatest of a unit": '"1e30 mm"', "1e30": "1e30",
    "a bell": '"a\\u0007b"', "nothing": '"a\\u0000b"', "an escape": '"\\u001b[31mred"',
    "C1": '"a\\u009bb"', "turned": '"\\u202etxt.exe"', "a separator": '"a\\u2028b"',
    "a mark": '"\\ufeffa"', "not a character": '"\\uffff"', "far": '"\\U0010ffff"',
    "blanks": '"\\u00a0\\u2003"', "digits": '"١٥٠ mm"', "wide": '"１５０ mm"',
    "half": '"½ mm"',
    "markup": '"[bold]<script>&$(x)`x`{{7*7}}"', "a formula": '"=cmd|x"',
    "a path": '"../../../../etc/passwd"',
    "a device": '"/dev/zero"', "a folder": '"."', "percent": '"1e300 %"',
    "deep lists": "[" * 300 + "]" * 300, "deeper lists": "[" * 3000 + "]" * 3000,
    "a deep table": "{a=" * 100 + "1" + "}" * 100, "many": f"[{'1,' * LONG}]",
    "many texts": f"[{'{q},'.format(q=chr(34) + '1 mm' + chr(34)) * 3000}]",
    "many tables": f"[{'{a=1},' * 3000}]",
    "a range": '{from="0 mm", to="1e30 mm", count=100000}',
    "a range of nothing": '{from="0 mm", to="0 mm", count=1}',
    "a range of numbers": "{from=0.0, to=1.0, count=100000}",
}  # fmt: skip
_HOLE = "hole to be filled"
_LISTED = set(re.findall(r'"([^"]*)"', json.dumps([*_enums(SCHEMA)])))


def hostile(by: Random) -> tuple[str, str]:
    """The text of a case with hostile values at one to three keys, and what they are."""
    data = valid(by)
    names = by.choices(list(HOSTILE_VALUES), k=by.randint(1, 3))
    if by.random() < 0.03:
        names.append("many sections")
        data["section"] = [
            {"name": f"s{k}", "outside_diameter": f"{100 + k % 7} mm"}
            for k in range(by.choice([999, 1001, 20_000]))
        ]
    places = list(itertools.islice(_places(data, SCHEMA), 400))
    if by.random() < 0.5:  # texts as texts, which may be taken
        names = by.choices([k for k, v in HOSTILE_VALUES.items() if v[:1] == '"'], k=len(names))
        places = [at for at in places if isinstance(at[0].get(at[1]), str) and _free(at[0][at[1]])]
    for k, _ in enumerate(names):
        holder, name, _ = by.choice(places)
        holder[name] = f"{_HOLE} {k}"
    text = text_of(data)
    for k, what in enumerate(names):
        text = text.replace(_quoted(f"{_HOLE} {k}"), HOSTILE_VALUES.get(what, "1"))
    return text, " and ".join(names)


def _free(value: str) -> bool:
    """Whether a value is a text of one's own: no quantity, and none of a list of names."""
    return value not in _LISTED and not is_quantity(value)
