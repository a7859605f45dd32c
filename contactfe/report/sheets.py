"""A page to be printed: what stands on every sheet of it, and its blocks as plain data.

The writers of PDF and HTML lay out the same data: texts, lists and records, of which every text is
shown as it is. What a reader could not see, or what would turn the letters after it, is shown by
its number.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields
from datetime import date
from typing import Any

from contactfe.case.settings import Paper
from contactfe.report.blocks import GAP, Block, Figure, Line, Page

Json = Any


@dataclass(frozen=True)
class Sheets:
    """A page with what stands on every sheet of it.

    ``head`` are the lines above and ``foot`` the parts below; ``mark`` is what a file is known by
    as an earlier one of the same case, ``day`` when it is made.
    """

    page: Page
    title: str
    head: tuple[str, ...]
    foot: tuple[str, ...]
    mark: str
    day: date
    paper: Paper = "A4"


def data(
    page: Iterable[Block], show: Callable[[str], str], drawn: Callable[[Figure], Json]
) -> list[Json]:
    """The blocks as records, each with its ``kind``; lines between gaps stand together.

    ``show`` is applied to every text but those of figures, which ``drawn`` gives.
    """
    return [
        drawn(block) if isinstance(block, Figure) else _shown(block, show)
        for block in _paragraphs(page)
    ]


def _paragraphs(page: Iterable[Block]) -> Iterator[Any]:
    """The blocks, with the lines between others by paragraphs."""
    lines: list[Line] = []
    for block in page:
        if isinstance(block, Line) and block != GAP:
            lines.append(block)
            continue
        if lines:
            yield _Lines(tuple(lines))
            lines = []
        if block != GAP:
            yield block
    if lines:
        yield _Lines(tuple(lines))


@dataclass(frozen=True)
class _Lines:
    lines: tuple[Line, ...]


def _shown(of: Any, show: Callable[[str], str]) -> Json:
    """Data of a block, of a part of it or of a formula."""
    match of:
        case str():
            return show(of)
        case None | bool() | int() | float():
            return of
        case dict():
            return {key: _shown(value, show) for key, value in of.items()}
        case tuple() | list():
            return [_shown(one, show) for one in of]
    kind = type(of).__name__.strip("_").lower()
    parts = {field.name: _shown(getattr(of, field.name), show) for field in fields(of)}
    return {"kind": kind, **parts}


def breakable(text: str) -> str:
    """A text of which no word is too long for a line: those may break anywhere."""
    return re.sub(r"[^\s]{32,}", lambda word: "\u200b".join(word.group()), text)
