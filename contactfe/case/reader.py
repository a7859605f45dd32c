"""From a case file to a case, or to one line for every fault in it."""

import os
import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from contactfe.case.across import across
from contactfe.case.alignment import Alignment, why_even
from contactfe.case.faults import Tell, brackets, fault, faults
from contactfe.case.model import Case
from contactfe.case.table import Reading
from contactfe.errors import InputError

MOST_BYTES = 4_000_000
"""Length of a case file: one of the cases in `cases/` has 4 kB."""

DEEPEST = 20
"""Parts of a dotted key, of which no key of a case has more than three."""

MOST_MARKS = 100_000
"""Marks = [ { . , of a case file, which may each make a table: 1000 sections have some 20 000."""

MOST_FAULTS = 20
"""Lines of a refusal that say what is at fault."""

_DEEP = re.compile(r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){20}""")
"""That many and a dot; no part is looked at twice."""


def content_of(path: str | Path) -> bytes:
    """What a case file holds, as bytes.

    Raises InputError where it is no regular file, is too long, or cannot be read.
    """
    try:
        # A pipe that nobody writes to would be waited for.
        with open(
            path, "rb", opener=lambda name, flags: os.open(name, flags | os.O_NONBLOCK)
        ) as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise InputError(f"{path}: is a pipe or a device, a case is a file")
            content = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise InputError(f"{path}: there is no such file") from None
    except IsADirectoryError:
        raise InputError(f"{path}: is a directory, a case is a file") from None
    except OSError as error:
        raise InputError(f"{path}: cannot be read: {error.strerror}") from None
    if len(content) > MOST_BYTES:
        raise InputError(f"{path}: has more than {MOST_BYTES / 1e6:g} MB, the most for a case")
    return content


def read_case(path: str | Path) -> Case:
    """Read a case file, TOML in UTF-8, into N, mm and MPa; the files in `cases/` show the format.

    Raises InputError where the file cannot be read, is no TOML, or states no usable case; the
    message has one line for each fault: file, key, value, and what is allowed.
    """
    return case_from_dict(read_tables(path), str(path))


def read_tables(path: str | Path) -> dict[str, Any]:
    """The tables of a case file as TOML has them, before anything about them is checked.

    Raises InputError where the file cannot be read or is no TOML.
    """
    source = str(path)
    try:
        source.encode()
    except UnicodeEncodeError:
        raise InputError(f"{source!r}: the name of the file is not UTF-8") from None
    content = content_of(path)
    try:
        text = content.decode("utf-8-sig")  # some editors put a mark in front
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise InputError(f"{source}: line {line} is not UTF-8 text") from None
    if (deep := _DEEP.search(text)) is not None:  # each part is a table
        line = text.count("\n", 0, deep.start()) + 1
        raise InputError(f"{source}: line {line} has a key of more than {DEEPEST} parts")
    if sum(map(text.count, "=[{.,")) > MOST_MARKS:
        raise InputError(f"{source}: has more keys, lists and tables than a case may have")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise InputError(f"{source}: has lists or tables in one another too deep to read") from None
    except ValueError as error:  # TOMLDecodeError, and integers of absurd length
        what = re.sub(r"\('(\w+)',\)", r"[\1]", str(error))  # a table, which tomllib has as a tuple
        raise InputError(f"{source}: is not valid TOML: {what}{brackets(text)}") from None


def case_from_dict(data: Mapping[str, Any], source: str = "<data>") -> Case:
    """Build a case from tables as `tomllib` reads them; messages call their origin `source`.

    Paths of meshes are taken from the folder of `source`, or from the current one without it.

    Raises InputError as `read_case` does.
    """
    return case_with(fault, data, source)


def case_with(tell: Tell, data: Mapping[str, Any], source: str) -> Case:
    """The same, with each fault put in words by `tell`, as :func:`contactfe.case.faults.fault`."""
    if not data:
        raise InputError(
            f"{source}: is empty; a case needs title, [post], [plate], [load] and [[section]]"
        )
    try:
        case = replace(validated(data, Path(source).parent), source=source)
    except ValidationError as error:
        lines = faults(data, error, tell, MOST_FAULTS)
        raise _refusal(source, lines, error.error_count()) from None
    if unfit := [tell(data, location, message) for location, message in across(case)]:
        raise _refusal(source, unfit, len(unfit))
    if case.alignment is None and case.distribution is None and not why_even(case):
        return replace(case, alignment=Alignment(assumed=True))
    return case


@cache
def _tables() -> TypeAdapter[Case]:
    return TypeAdapter(Case)


def validated(data: Mapping[str, Any], folder: Path | None = None) -> Case:
    """The tables of a case, each looked at for itself; paths of meshes go from the folder.

    Raises pydantic's ValidationError.
    """
    # What the tables need to know of one another, before anything about them is checked.
    grades, report = data.get("grade"), data.get("report")
    reading = Reading(
        folder=folder or Path(),
        grades=tuple(name for name, table in grades.items() if isinstance(table, Mapping))
        if isinstance(grades, Mapping)
        else (),
        moves="motion" in data,
        units=report.get("units") if isinstance(report, Mapping) else None,
    )
    return _tables().validate_python(dict(data), context=reading)


def _refusal(source: str, lines: list[str], count: int) -> InputError:
    shown = lines[:MOST_FAULTS]
    if count > len(shown):
        shown = [*shown, f"has {count - len(shown)} more faults"]
    return InputError("\n".join(f"{source}: {line}" for line in shown))
