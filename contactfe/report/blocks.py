"""What a page is made of: blocks in their order, which a writer for each medium lays out.

A page says what stands in it, not how wide or how far apart it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

if TYPE_CHECKING:
    from matplotlib.figure import Figure as Drawn

Tone = Literal["plain", "good", "bad", "strong", "quiet", "aside"]
"""What a text is to be taken as; it reads without, as where there is no colour."""


@dataclass(frozen=True)
class Line:
    """A sentence or a few, in a line of its own; an empty one parts paragraphs."""

    text: str
    tone: Tone = "plain"
    indent: int = 0  # characters


@dataclass(frozen=True)
class Heading:
    """What the blocks after it are on: the page, a chapter of it, or less."""

    text: str
    level: Literal[1, 2, 3] = 3


@dataclass(frozen=True)
class Column:
    """A column of a table: its head, in lines, and whether it holds numbers, which stand right.

    It is between ``least`` and ``most`` characters wide. What is wider breaks between words, or
    anywhere in them if it ``folds``. Where the page is too narrow for the table, the column of the
    largest ``drop`` is left out first, and that of 0 never; where it is still too narrow, the table
    is parted, and a ``key`` stands in every part: by default the texts that it begins with.
    """

    head: str = ""
    numbers: bool = False
    least: int | None = None
    most: int | None = None
    folds: bool = False
    drop: int = 0
    key: bool = False


Cell: TypeAlias = str | Line
Row: TypeAlias = Sequence[Cell]


@dataclass(frozen=True)
class Table:
    """A table: its groups of rows are set apart, as the lines of one section from another's."""

    columns: tuple[Column, ...]
    groups: tuple[tuple[Row, ...], ...]
    title: str = ""
    note: str = ""


@dataclass(frozen=True)
class Fields:
    """What is filled in on a sheet, by its names; a line to write on where it is empty."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Figure:
    """A figure, drawn when it is laid out; its own caption comes with it.

    ``alt`` says what it shows to who does not see it.
    """

    draw: Callable[[], Drawn]
    alt: str


Formula: TypeAlias = str | Mapping[str, Any]
"""A formula as a tree, which :mod:`contactfe.report.mathematics` makes: a text, or a record that
says what the parts below it are."""


@dataclass(frozen=True)
class Worked:
    """A formula worked out: its head, then each side of its equation, and what is to be said.

    ``sets`` are the numbers of each that it is worked out for, by name and below its symbols.
    """

    head: str
    sides: tuple[Formula, ...]
    notes: tuple[Line, ...] = ()
    sets: tuple[Worked, ...] = ()


@dataclass(frozen=True)
class NewSheet:
    """What follows may be set small; it begins on a sheet of its own, or goes on in columns."""

    small: bool = False
    columns: int = 1


Block: TypeAlias = Line | Heading | Table | Fields | Figure | Worked | NewSheet
Page: TypeAlias = tuple[Block, ...]

GAP = Line("")


def numbers(*heads: str) -> tuple[Column, ...]:
    """Columns of numbers with those heads."""
    return tuple(Column(head, numbers=True) for head in heads)


def texts(*heads: str, most: int | None = None, folds: bool = False) -> tuple[Column, ...]:
    """Columns of text with those heads."""
    return tuple(Column(head, most=most, folds=folds) for head in heads)


def lines(of: Iterable[str], tone: Tone = "plain") -> Iterator[Line]:
    """A line for each text."""
    return (Line(text, tone) for text in of)


def framed(title: str, cautions: Iterable[str], *blocks: Block) -> Page:
    """A page of a case: its title first, on one line, and last what must stand at the end of every
    page that may end in a calculation file.
    """
    first = Heading(" ".join(title.split()), 1)
    return (first, *blocks, GAP, *lines(f"Caution: {text}" for text in cautions))
