"""From a case file to a case, or to one line for every fault in it."""

import re
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
        content = Path(path).read_bytes()
    except FileNotFoundError:
        raise InputError(f"{source}: there is no such file") from None
    except IsADirectoryError:
        raise InputError(f"{source}: is a directory, a case is a file") from None
    except OSError as error:
        raise InputError(f"{source}: cannot be read: {error.strerror}") from None
    try:
        text = content.decode("utf-8-sig")  # some editors put a mark in front
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise InputError(f"{source}: line {line} is not UTF-8 text") from None
    try:
        return tomllib.loads(text)
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
        raise _refusal(source, faults(data, error, tell)) from None
    if unfit := [tell(data, location, message) for location, message in across(case)]:
        raise _refusal(source, unfit)
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


def _refusal(source: str, lines: list[str]) -> InputError:
    return InputError("\n".join(f"{source}: {line}" for line in lines))
