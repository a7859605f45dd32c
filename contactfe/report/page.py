"""A page as text laid out for one width, on a terminal or in a file."""

from collections.abc import Iterable, Iterator
from io import StringIO
from pathlib import Path

from rich import box, table
from rich.cells import cell_len
from rich.console import Console, ConsoleDimensions, Group, RenderableType
from rich.measure import Measurement
from rich.padding import Padding
from rich.text import Text

from contactfe.report.blocks import GAP, Block, Cell, Heading, Line, Table, Tone

WIDTH = 140
"""Characters that tables are laid out for: an A4 page lying, at 9 points. Less would break cells in
the middle of words, so narrower consoles get it too, and wrap it themselves."""

_STYLE: dict[Tone, str] = {
    "plain": "", "good": "green", "bad": "bold red", "strong": "bold", "quiet": "dim",
    "aside": "italic",
}  # fmt: skip

_GAPS = (2, 1)
"""Characters between columns: the first with which a table fits."""


class _Output(Console):
    """Standard output; that its reader has left is for the command line to answer."""

    def on_broken_pipe(self) -> None:
        """Raise BrokenPipeError, where rich would exit with the status of a check that fails."""
        raise  # noqa: PLE0704


def print_page(page: Iterable[Block], console: Console | None = None, width: int = WIDTH) -> None:
    """Print at a full width, whatever the width of the console: standard output by default."""
    console = console or _Output()
    own, height = console.size
    # A dumb terminal is taken for 80 columns unless both are set.
    console.size = ConsoleDimensions(max(own, width), height)
    try:
        console.print(Group(*_laid_out(page, width)), width=width)
    finally:
        console.size = ConsoleDimensions(own, height)


def write_page(page: Iterable[Block], path: Path, width: int = WIDTH) -> None:
    """Write as plain text in UTF-8. Raises OSError where that cannot be done."""
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
                rule = f"\n{'=' * len(block.text)}" if block.level == 2 else ""
                yield Text(f"{block.text}{rule}", style="bold")
            case Line():
                yield Padding(_text(block), (0, 0, 0, block.indent))
            case Table():
                if block.title:
                    yield Text(block.title, style="bold")
                yield _table(block, width)
                if block.note:
                    yield Text(block.note, style=_STYLE["quiet"])


def _table(block: Table, width: int) -> RenderableType:
    """With the first of the gaps with which it fits, or the last."""
    roomy = Console(width=10 * WIDTH)
    for gap in _GAPS:
        made = _with_gap(block, gap)
        if Measurement.get(roomy, roomy.options, made).maximum <= width:
            break
    return made


def _with_gap(block: Table, gap: int) -> table.Table:
    made = table.Table(
        box=box.SIMPLE_HEAD, padding=(0, gap, 0, 0), show_edge=False,
        show_header=any(column.head for column in block.columns),
    )  # fmt: skip
    lines = max((column.head.count("\n") for column in block.columns), default=0)
    for number, column in enumerate(block.columns):
        # Units stand in one line.
        what, parted, unit = column.head.rpartition("\n[")
        between = "\n" * (lines - column.head.count("\n")) if parted else ""
        made.add_column(
            Text(f"{what}{between}{parted}{unit}"), justify="right" if column.numbers else "left",
            width=_width(block, number), max_width=column.most,
            overflow="fold" if column.folds else "ellipsis",
        )  # fmt: skip
    for group in block.groups:
        for row in group:
            made.add_row(*map(_text, row))
        made.add_section()
    return made


def _width(block: Table, number: int) -> int | None:
    """The least width of a column where no cell is wider; rich has none that stays in its sums."""
    column = block.columns[number]
    if column.least is None:
        return None
    cells = (_text(row[number]).plain for group in block.groups for row in group)
    widest = max(cell_len(line) for text in (column.head, *cells) for line in text.split("\n"))
    return column.least if widest <= column.least or column.least == column.most else None


def _text(cell: Cell) -> Text:
    return Text(cell) if isinstance(cell, str) else Text(cell.text, style=_STYLE[cell.tone])
