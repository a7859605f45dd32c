"""Values of a case file as TOML writes them, for messages."""

import json
import re
import unicodedata
from collections.abc import Callable, Iterable

from contactfe.errors import InputError

_UNSEEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
"""Kinds of characters without a letter: control, format, surrogate, own and not assigned."""

_NOT_PLAIN = re.compile(r"[^\n -~]")

LONGEST = 1_000
"""Characters of an error that an answer keeps, and of a line that is shown of one."""

_MOST = 100
"""Characters of a value or key that a message repeats."""


def visible(text: str, has: Callable[[str], bool] = lambda _: True) -> str:
    """A text in which every character can be seen; those that are not by their numbers.

    ``has`` says whether there is a letter for a character. Lines stay.

    >>> visible(chr(0x202e) + "b"), visible("a" + chr(9) + "b"), visible("aé", "a".__contains__)
    ('[U+202E]b', 'a b', 'a[U+00E9]')
    """

    def one(found: re.Match[str]) -> str:
        character = found.group()
        if character == "\t" or unicodedata.category(character) == "Zs":
            return " "
        seen = not unseen(character) and has(character)
        return character if seen else f"[U+{ord(character):04X}]"

    return _NOT_PLAIN.sub(one, text)


def unseen(character: str) -> bool:
    """Whether a character has no letter, and may do something to what shows it."""
    return unicodedata.category(character) in _UNSEEN


def told(error: object, source: str = "") -> str:
    r"""What an answer keeps of an error: one line, without the case file that it names.

    >>> print(told("stop.toml: is odd\nstop.toml: is bad", "stop.toml"))
    is odd; is bad
    """
    text = str(error).replace(f"{source}: ", "") if source else str(error)
    lines = (line.strip() for line in text.splitlines())
    return visible("; ".join(filter(None, lines)))[:LONGEST]


def short(text: str) -> str:
    """A text, or the first letters of a long one."""
    return text if len(text) <= _MOST else f"{text[:_MOST]}…"


def written(value: object) -> str:
    """One value as TOML writes it; nothing for tables, lists and what TOML cannot hold.

    >>> print(written("6 in"), written(True), written(0.3))
    "6 in" true 0.3
    """
    match value:
        case bool():
            return str(value).lower()
        case str():
            return quoted(value)
        case int() | float():
            return short(str(value))
    return ""


def quoted(text: object) -> str:
    """Text in quotes, as TOML writes it; a long one by its first letters.

    >>> print(quoted("6 in"))
    "6 in"
    """
    return visible(json.dumps(short(str(text)), ensure_ascii=False))


def written_key(key: object) -> str:
    """A key as TOML writes it: in quotes unless bare, so that an odd one cannot break the line.

    >>> print(written_key("wall"), written_key("my wall"))
    wall "my wall"
    """
    text = short(str(key))
    return text if re.fullmatch(r"[\w-]+", text, re.ASCII) else json.dumps(text)


def with_value(place: str, value: object) -> str:
    """A place in a case file with the value that is written there, if it has one.

    >>> print(with_value("wall", "9 m"), with_value("[post]", {}))
    wall = "9 m" [post]
    """
    text = written(value)
    return f"{place} = {text}" if text else place


class InsideError(InputError):
    """A fault within the value of a key, at an entry of a list or a key of an inline table, whose
    place the message begins with; see :func:`inside` and :func:`placed`.
    """


def inside(place: str, value: object, message: object) -> InsideError:
    """A fault within the value of a key.

    >>> print(inside("from", "3 kN", "is a force, not a length"))
    from = "3 kN": is a force, not a length
    """
    return InsideError(f"{with_value(place, value)}: {message}")


def entry(index: int) -> str:
    """The place of an entry of a list, which users count from 1.

    >>> entry(0)
    'entry 1'
    """
    return f"entry {index + 1}"


def placed(place: str, message: str | InputError) -> str:
    """A place and what is wrong there; a place within it follows behind a comma.

    >>> placed("[sizing] wall", "is missing")
    '[sizing] wall: is missing'
    >>> placed("[sizing] wall", inside("from", 3, "has no unit"))
    '[sizing] wall, from = 3: has no unit'
    """
    return f"{place}{', ' if isinstance(message, InsideError) else ': '}{message}"


def listed(names: Iterable[str], last: str = "and") -> str:
    """Names in a row, the last behind a word.

    >>> listed(["mm", "cm", "m"], "or"), listed(["mm"])
    ('mm, cm or m', 'mm')
    """
    *most, end = names
    return f"{', '.join(most)} {last} {end}" if most else end


def not_as_asked(stated: Iterable[str], needed: Iterable[str], optional: Iterable[str] = ()) -> str:
    """What is missing of the keys of a table and what is too much, to end a sentence about them.

    >>> not_as_asked(["from", "step"], ["from", "to"]), not_as_asked(["from"], ["from"])
    (': to is missing, step is not known', '')
    """
    stated, needed = list(stated), list(needed)
    missing = [f"{key} is missing" for key in needed if key not in stated]
    unknown = [
        f"{written_key(key)} is not known" for key in stated if key not in {*needed, *optional}
    ]
    faults = [*missing, *unknown]
    return f": {', '.join(faults)}" if faults else ""


def with_article(shape: str) -> str:
    """A shape in a sentence.

    >>> with_article("own mesh"), with_article("tube")
    ('an own mesh', 'a tube')
    """
    return f"{'an' if shape[0] in 'aeiou' else 'a'} {shape}"
