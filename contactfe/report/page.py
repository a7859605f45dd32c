"""Text laid out for one width, on a terminal or in a file."""

from io import StringIO
from pathlib import Path

from rich.console import Console, ConsoleDimensions, RenderableType

WIDTH = 140
"""Characters that tables are laid out for: an A4 page lying, at 9 points. Less would break cells in
the middle of words, so narrower consoles get it too, and wrap it themselves."""


def print_page(page: RenderableType, console: Console) -> None:
    """Print at the full width, whatever the width of the console."""
    width, height = console.size
    # A dumb terminal is taken for 80 columns unless both are set.
    console.size = ConsoleDimensions(max(width, WIDTH), height)
    try:
        console.print(page, width=WIDTH)
    finally:
        console.size = ConsoleDimensions(width, height)


def write_page(page: RenderableType, path: Path) -> None:
    """Write as plain text in UTF-8. Raises OSError where that cannot be done."""
    text = StringIO()
    print_page(page, Console(file=text, width=WIDTH, color_system=None))
    lines = (line.rstrip() for line in text.getvalue().splitlines())
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
