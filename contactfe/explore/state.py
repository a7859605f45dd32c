"""The case file as it stands on the page: what is on the screen is this text, and no more."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import tomlkit

from contactfe.case import Case, case_from_dict, read_case
from contactfe.case.reader import content_of
from contactfe.errors import InputError
from contactfe.report import words

PINNED = 3
"""Sections that are kept beside the one that is moved, at most."""

Tables = dict[str, Any]


@dataclass(frozen=True)
class State:
    """The text of a case file whose first section is moved, and the others are pinned.

    ``source`` is the name of the file, without its folder.
    """

    text: str
    source: str

    @cached_property
    def tables(self) -> Tables:
        """Its tables."""
        return tomllib.loads(self.text)

    @cached_property
    def case(self) -> Case:
        """The case. Raises InputError where it is none that can be solved."""
        return case_from_dict(self.tables, self.source)

    @property
    def pinned(self) -> tuple[str, ...]:
        """Names of the pinned sections."""
        return tuple(section.name for section in self.case.sections[1:])

    def changed(self, change: Callable[[Tables], None]) -> State:
        """The same after a change of its tables, with the file's own words and comments.

        Raises InputError where what comes out is no case.
        """
        tables = tomllib.loads(self.text)
        change(tables)
        found = State(_rewritten(self.text, tables), self.source)
        _ = found.case
        return found


def opened(path: str | Path) -> tuple[State, tuple[str, ...]]:
    """The state that a case file is opened in, and the names of its sections that it leaves out.

    Those are sections drawn elsewhere, whose sizes cannot be moved, and what is beyond the number
    that the page has room for. Raises InputError as ``read_case`` does, and where none is left.
    """
    case = read_case(path)
    text = content_of(path).decode("utf-8-sig")
    kept = [k for k, section in enumerate(case.sections) if section.mesh is None][: 1 + PINNED]
    if not kept:
        raise InputError(f"{path}: every section is drawn elsewhere; sizes of rounds are moved")

    def keep(tables: Tables) -> None:
        tables["section"] = [tables["section"][k] for k in kept]

    state = State(text, Path(path).name)
    left = tuple(s.name for k, s in enumerate(case.sections) if k not in kept)
    return (state.changed(keep) if left else state), left


def pin(state: State) -> State:
    """The same with the section that is moved pinned as well. Raises InputError for too many."""
    if len(state.pinned) >= PINNED:
        raise InputError(f"{PINNED} sections are pinned already; take one off")

    def change(tables: Tables) -> None:
        first = tables["section"][0]
        name = _free(str(first["name"]), [str(s["name"]) for s in tables["section"]])
        tables["section"] = [{**first, "name": name}, first, *tables["section"][1:]]

    return state.changed(change)


def unpin(state: State, name: str) -> State:
    """The same without a pinned section."""

    def change(tables: Tables) -> None:
        first, *others = tables["section"]
        tables["section"] = [first, *(s for s in others if s["name"] != name)]

    return state.changed(change)


def take(state: State, name: str) -> State:
    """The same with a pinned section to be moved, and what was moved pinned in its place."""

    def change(tables: Tables) -> None:
        sections = tables["section"]
        at = next((k for k, s in enumerate(sections) if s["name"] == name), 0)
        sections[0], sections[at] = sections[at], sections[0]

    return state.changed(change)


def put(state: State, path: str, value: object | None) -> State:
    """The same with a value at a dotted path; None takes the key away.

    Raises InputError where what comes out is no case.
    """

    def change(tables: Tables) -> None:
        *above, last = path.split(".")
        node = tables
        for key in above:
            node = node.setdefault(key, {})
        if value is None:
            node.pop(last, None)
        else:
            node[last] = value

    return state.changed(change)


def resize(state: State, sizes: Mapping[str, object]) -> State:
    """The same with the section that is moved of other sizes, and named after them.

    Raises InputError where what comes out is no case.
    """

    def change(tables: Tables) -> None:
        first, *others = tables["section"]
        kept = {k: v for k, v in first.items() if k not in _SIZES}
        tables["section"] = [{"name": first["name"], **sizes, **kept}, *others]

    def name(tables: Tables) -> None:
        first, *others = tables["section"]
        section = found.case.sections[0]
        of_size = section.stock or words.size(section, found.case.display)
        first["name"] = _free(of_size, [str(other["name"]) for other in others])

    found = state.changed(change)
    return found.changed(name)


_SIZES = {"name", "designation", "outside_diameter", "wall", "bore"}


_NUMBER = re.compile(r" \(\d+\)$")


def _free(name: str, taken: list[str]) -> str:
    """The name, with a number behind it, or another than it has, where it is taken."""
    number, found = 1, name
    while found in taken:
        number += 1
        found = f"{_NUMBER.sub('', name)} ({number})"
    return found


def _rewritten(text: str, tables: Tables) -> str:
    """The text of a case file with these tables; its sections, where they differ, written anew.

    Comments and order stay, but for what stands in the sections. Where the file is laid out so that
    this cannot be had, its tables are written plainly.
    """
    document = tomlkit.parse(text)
    _merge(document, tables, document)
    found = tomlkit.dumps(document)
    try:
        if tomllib.loads(found) == tables:
            return found
    except tomllib.TOMLDecodeError:
        pass
    return tomlkit.dumps(tables)


def _merge(node: Any, tables: Tables, document: Any) -> None:
    for key in [key for key in node if key not in tables]:
        del node[key]
    for key, value in tables.items():
        before = node.get(key)
        if isinstance(before, Mapping) and isinstance(value, Mapping):
            _merge(before, dict(value), document)
        elif key not in node or before != value:
            anew = node is document and key == "section"
            if anew:
                node.pop(key, None)
            node[key] = _sections(value) if anew else value


def _sections(tables: list[Tables]) -> Any:
    found = tomlkit.aot()
    for table in tables:
        found.append(tomlkit.item(table))
    return found
