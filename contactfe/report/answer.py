"""What a command answers first: a page that fits a screen, before all that was found."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from contactfe.assess.checks import Check, governing, verdict_of
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Cell, Column, Heading, Line, Page, Table
from contactfe.report.check_names import short
from contactfe.report.page import NARROWEST, as_text
from contactfe.report.verdicts import HEADING, TONE, ratio_text

LINES = 40
"""Lines that an answer takes at most, at 80 columns."""

CAUTION = (
    "Caution: an elastic idealisation; it does not take the place of a licensed engineer's"
    " judgement, and the local building code governs."
)


@dataclass(frozen=True)
class Room:
    """How much an answer tells: rows of its table, sections named with what fails, reasons."""

    rows: int
    named: int
    reasons: int


ROOMS = (Room(12, 4, 2), Room(8, 3, 2), Room(8, 2, 1), Room(6, 1, 1), Room(4, 1, 0))
"""From the most that an answer tells to the least; that which fits is taken."""

_ENDS = 4
"""Lines kept for the caution, a blank one above it, and what was written."""


def answer_page(
    title: str,
    what: str,
    blocks: Callable[[Room], Iterable[Block]],
    caution: str = CAUTION,
) -> Page:
    """An answer under its title and what was solved, with as much of it as fits a screen."""
    head = (Heading(words.one_line(title), 1), Line(what))
    for room in ROOMS:
        page = (*head, *blocks(room))
        if as_text(page, NARROWEST).count("\n") <= LINES - _ENDS:
            break
    return (*page, GAP, Line(caution, "quiet"))


RATIO = "Ratio: demand over resistance of the check that governs."
"""Below a table with the columns of :func:`judged_columns`."""


def more(sections: int) -> str:
    """How many sections a table leaves out; empty for none."""
    are = "section is" if sections == 1 else "sections are"
    return f"{sections} more {are} not listed here. " if sections else ""


def judged_columns() -> tuple[Column, ...]:
    """Columns of the check that governs, of its ratio, and of the verdict."""
    return (
        Column("governing\ncheck", most=30),
        Column("ratio\n[1]", numbers=True),
        Column("verdict"),
    )


def judged(checks: Sequence[Check]) -> tuple[Cell, ...]:
    """What stands in them."""
    worst, found = governing(checks), verdict_of(checks)
    cell = Line(HEADING[found], TONE[found])
    return ("none applies", "", cell) if worst is None else (short(worst), ratio_text(worst), cell)


def spared(table: Table, keep: int, rows: int, note: str = "") -> Table:
    """A table as an answer has it: its first rows, and after the first columns those that fit.

    Of the columns after the first ``keep`` the last is left out first.
    """
    columns = tuple(
        replace(column, drop=number if number >= keep else 0)
        for number, column in enumerate(table.columns)
    )
    groups = table.groups[:rows] if len(table.groups) > 1 else (table.groups[0][:rows],)
    return replace(table, columns=columns, groups=groups, note=note)
