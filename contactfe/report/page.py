"""A page as text laid out for one width, on a terminal or in a file."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from io import StringIO
from pathlib import Path

from rich import box, table
from rich.cells import cell_len
from rich.console import Console, ConsoleDimensions, Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from contactfe.case.wording import visible
from contactfe.report.blocks import GAP, Block, Cell, Column, Heading, Line, Table, Tone
from contactfe.report.files import named

WIDTH = 100
"""Characters of a line in a file: an A4 page upright at 9 points."""

NARROWEST, WIDEST = 80, 140
"""Characters of a line on a terminal, whatever its own width."""

_STYLE: dict[Tone, str] = {
    "plain": "", "good": "green", "bad": "bold red", "strong": "bold", "quiet": "dim",
    "aside": "italic",
}  # fmt: skip

_GAPS = (3, 2)
"""Characters between columns: the first with which a table fits."""

_NARROW = 14
"""Characters to which a column of texts is made narrower, and no further, before a table is
parted, unless one of its words is longer."""

_IN_PARTS = 24
"""The same in the parts of one that is."""


class _Output(Console):
    """Standard output; that its reader has left is for the command line to answer."""

    def on_broken_pipe(self) -> None:
        """Raise BrokenPipeError, where rich would exit with the status of a check that fails."""
        raise  # noqa: PLE0704


def terminal_width() -> int:
    """Characters of a line on the terminal that is there; the narrowest where there is none."""
    return min(max(shutil.get_terminal_size((NARROWEST, 24)).columns, NARROWEST), WIDEST)


def print_page(
    page: Iterable[Block], console: Console | None = None, width: int | None = None
) -> None:
    """Print on a console, standard output by default, for the width of the terminal by default."""
    console, width = console or _Output(), width or terminal_width()
    own, height = console.size
    # A dumb terminal is taken for 80 columns unless both are set.
    console.size = ConsoleDimensions(max(own, width), height)
    try:
        console.print(Group(*_laid_out(page, width)), width=width)
    finally:
        console.size = ConsoleDimensions(own, height)


def write_page(page: Iterable[Block], path: Path, width: int = WIDTH) -> None:
    """Write as plain text in UTF-8. Raises OSError where that cannot be done."""
    with named(path):
        path.write_text(as_text(page, width), encoding="utf-8", newline="\n")


def as_text(page: Iterable[Block], width: int = WIDTH) -> str:
    """The page as plain text."""
    text = StringIO()
    print_page(page, Console(file=text, width=width, color_system=None), width)
    return "".join(f"{line.rstrip()}\n" for line in text.getvalue().splitlines())


def _laid_out(page: Iterable[Block], width: int) -> Iterator[RenderableType]:
    """What rich prints: a line is left free before headings and about tables, and for gaps."""
    above, free = None, False  # what is above, and whether a line is to be left free
    for block in page:
        if block == GAP:
            free = True
            continue
        set_apart = isinstance(block, Table) and (block.title != "" or isinstance(above, Line))
        if above is not None and (free or set_apart or isinstance(block, Heading)):
            yield Text("")
        above, free = block, isinstance(block, Table)
        match block:
            case Heading():
                rule = f"\n{'=' * min(cell_len(block.text), width)}" if block.level == 2 else ""
                yield Text(f"{block.text}{rule}", style="bold")
            case Line():
                yield Padding(_text(block), (0, 0, 0, block.indent))
            case Table():
                if block.title:
                    yield Text(block.title, style="bold")
                for number, part in enumerate(_parts(block, width)):
                    if number > 0:
                        yield Text("")
                    yield _table(part, width)
                if block.note:
                    yield Text(block.note, style=_STYLE["quiet"])


def _parts(block: Table, width: int) -> Iterator[Table]:
    """The table without the columns that it can spare, or in parts, so that each fits."""
    droppable = sorted({column.drop for column in block.columns if column.drop}, reverse=True)
    shown = [*range(len(block.columns))]
    while droppable and not _fits(block, shown, width):
        worst = droppable.pop(0)
        shown = [number for number in shown if block.columns[number].drop != worst]
    if _fits(block, shown, width, _NARROW):
        yield _of_columns(block, shown)
        return
    keys = _keys(block.columns, shown)
    others = [number for number in shown if number not in keys]
    while others:
        many = len(others)
        while many > 1 and not _fits(block, [*keys, *others[:many]], width, _IN_PARTS):
            many -= 1
        part = _of_columns(block, [*keys, *others[:many]])
        filled = (
            tuple(row for row in group if any(_text(cell).plain for cell in row[len(keys) :]))
            for group in part.groups
        )
        yield replace(part, groups=tuple(group for group in filled if group))
        others = others[many:]


def _keys(columns: Sequence[Column], shown: Sequence[int]) -> list[int]:
    """Columns that stand in every part of a table."""
    if keys := [number for number in shown if columns[number].key]:
        return keys
    texts = [number for number in shown if not columns[number].numbers]
    return [number for number, at in zip(texts, shown, strict=False) if number == at] or [shown[0]]


def _of_columns(block: Table, shown: Sequence[int]) -> Table:
    columns = tuple(block.columns[number] for number in shown)
    groups = tuple(
        tuple(tuple(row[number] for number in shown) for row in group) for group in block.groups
    )
    return replace(block, columns=columns, groups=groups)


def _fits(block: Table, shown: Sequence[int], width: int, narrowed: int = WIDEST) -> bool:
    """Whether those columns fit, texts ``narrowed`` to so many characters where they may be."""
    spans = (_spans(block, number) for number in shown)
    taken = sum(max(least, min(most, narrowed)) for least, most in spans)
    return taken + _GAPS[-1] * (len(shown) - 1) <= width


def _spans(block: Table, number: int) -> tuple[int, int]:
    """Characters that a column needs at the least, and those that it takes where there is room."""
    column = block.columns[number]
    cells = [_text(row[number]).plain for group in block.groups for row in group]
    held = max((cell_len(line) for text in cells for line in text.split("\n")), default=0)
    widest = max(held, *map(cell_len, column.head.split("\n")))
    words = [*column.head.split("\n"), *(word for text in cells for word in text.split())]
    word = max(map(cell_len, words))
    if column.folds:
        word = min(word, column.most or _NARROW, _NARROW)
    most = widest if column.most is None else min(widest, max(column.most, word))
    most = max(most, column.least or 0)
    if column.numbers:
        return (max(held, min(most, _NARROW)) if column.folds else most), most
    return max(word, min(most, _NARROW)), most


def _table(block: Table, width: int) -> RenderableType:
    """With the first of the gaps with which it fits, its widest texts made narrower to fit."""
    spans = [_spans(block, number) for number in range(len(block.columns))]
    most = [most for _, most in spans]
    gap = next((g for g in _GAPS if sum(most) + g * (len(most) - 1) <= width), _GAPS[-1])
    while sum(most) + gap * (len(most) - 1) > width:
        spare = [number for number, (least, _) in enumerate(spans) if most[number] > least]
        # Where none is left, a word is wider than the page, and is broken.
        most[max(spare or range(len(most)), key=most.__getitem__)] -= 1
    made = table.Table(
        box=box.SIMPLE_HEAD, padding=(0, gap - 1, 0, 0), show_edge=False, pad_edge=False,
        show_header=any(column.head for column in block.columns),
    )  # fmt: skip
    lines = max((column.head.count("\n") for column in block.columns), default=0)
    for column, wide in zip(block.columns, most, strict=True):
        # Units stand in one line.
        what, parted, unit = column.head.rpartition("\n[")
        between = "\n" * (lines - column.head.count("\n")) if parted else ""
        made.add_column(
            Text(f"{what}{between}{parted}{unit}"), justify="right" if column.numbers else "left",
            width=wide, overflow="fold",
        )  # fmt: skip
    for group in block.groups:
        for row in group:
            made.add_row(*map(_text, row))
        made.add_section()
    return made


def _text(cell: Cell) -> Text:
    line = Line(cell) if isinstance(cell, str) else cell
    return Text(visible(line.text), style=_STYLE[line.tone])
