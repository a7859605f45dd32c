"""From a case file to a case, or to one line for every fault in it."""

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from contactfe.case.faults import Location, fault, faults
from contactfe.case.model import Case, Plate, Post, Section
from contactfe.case.stated import StatedCase
from contactfe.errors import InputError


def read_case(path: str | Path) -> Case:
    """Read a case file, TOML in UTF-8, into N, mm and MPa; the files in `cases/` show the format.

    Raises InputError where the file cannot be read, is no TOML, or states no usable case; the
    message has one line for each fault: file, key, value, and what is allowed.
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
        data = tomllib.loads(content.decode("utf-8-sig"))  # some editors put a mark in front
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise InputError(f"{source}: line {line} is not UTF-8 text") from None
    except ValueError as error:  # TOMLDecodeError, and integers of absurd length
        raise InputError(f"{source}: is not valid TOML: {error}") from None
    return case_from_dict(data, source)


def case_from_dict(data: Mapping[str, Any], source: str = "<data>") -> Case:
    """Build a case from tables as `tomllib` reads them; messages call their origin `source`.

    Raises InputError as `read_case` does.
    """
    if not data:
        raise InputError(
            f"{source}: is empty; a case needs title, [post], [plate], [load] and [[section]]"
        )
    try:
        stated = StatedCase.model_validate(dict(data))
    except ValidationError as error:
        raise _refusal(source, faults(data, error)) from None
    case = _resolved(stated, source)
    if unfit := [fault(data, location, message) for location, message in _unfit(case)]:
        raise _refusal(source, unfit)
    return case


def _resolved(stated: StatedCase, source: str) -> Case:
    post, plate = stated.post, stated.plate
    return Case(
        title=stated.title,
        source=source,
        post=Post(post.held_by, post.grade_or_material, post.density),
        plate=Plate(plate.width, plate.thickness, plate.held_by, plate.grade_or_material),
        sections=tuple(
            Section(section.name, section.outside_diameter, section.resolved_wall, section.steel)
            for section in stated.section
        ),
        line_load=stated.load.resolved_line_load,
        effective_length=stated.load.effective_length,
        state=stated.model.state,
        yield_margin=stated.check.yield_margin,
        report_units=stated.report.units,
    )


def _unfit(case: Case) -> Iterator[tuple[Location, str]]:
    """Faults that show only between tables: repeated names, steels not made like this."""
    numbers: dict[str, int] = {}
    for index, section in enumerate(case.sections):
        number = numbers.setdefault(section.name, index + 1)
        if number != index + 1:
            yield ("section", index, "name"), f"is already the name of section {number}"
        try:
            case.post_material(section)
        except InputError as error:
            own = ("steel",) if section.steel else ()
            yield ("section", index, *own), str(error)
    try:
        _ = case.plate_material
    except InputError as error:
        yield ("plate", "steel"), str(error)


def _refusal(source: str, lines: list[str]) -> InputError:
    return InputError("\n".join(f"{source}: {line}" for line in lines))
