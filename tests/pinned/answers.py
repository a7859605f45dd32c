"""The answers that cases/README.md shows: the first lines that each case's own command prints.

``PYTHONPATH=tests python tests/pinned/answers.py [CASE ...]`` solves all cases, or those named,
and writes their answers anew.
"""

import re
import sys
import tempfile
from pathlib import Path
from unittest.mock import patch

from commands import run_here

CASES = Path(__file__).parents[2] / "cases"
README = CASES / "README.md"

MOST = 6
"""Lines of an answer that are shown."""
WIDTH = 80

_ROW = re.compile(r"^\| `([a-z-]+)` \|.*?\| `([a-z]+)", re.MULTILINE)
_BLOCK = re.compile(r"\n`([a-z-]+)`, `contactfe ([a-z]+)`:\n\n```text\n(.*?)```\n", re.DOTALL)


def commands() -> dict[str, str]:
    """The first command of each case in the table of the page."""
    return dict(_ROW.findall(README.read_text()))


def shown() -> dict[str, tuple[str, list[str]]]:
    """Of each case the command and the lines of its answer on the page."""
    found = _BLOCK.findall(README.read_text())
    return {name: (command, text.splitlines()) for name, command, text in found}


def first_lines(answer: str) -> list[str]:
    """The first of what stands under “Answer”, to the end of a sentence or of a table."""
    text = answer.partition("\nAnswer\n")[2].partition("\n\n")[0]
    lines = [line.rstrip() for line in text.splitlines()]
    lines = lines[: next((k for k, line in enumerate(lines) if line.startswith("OPEN")), None)]
    if len(lines) > MOST:
        lines = lines[:MOST]
        while not lines[-1].endswith("."):
            lines.pop()
    return lines


def answer_of(name: str, command: str) -> list[str]:
    """What is shown of a case, by giving its command in an empty folder."""
    with (
        tempfile.TemporaryDirectory() as folder,
        patch.dict("os.environ", COLUMNS=str(WIDTH)),
    ):
        done = run_here(command, CASES / f"{name}.toml", cwd=Path(folder))
    if done.returncode:
        raise RuntimeError(f"{name}: {done.stderr}")
    return first_lines(done.stdout)


def main(names: list[str]) -> None:
    """Write the answers of the cases named, or of all, in the order of the table."""
    found = shown()
    for name, command in commands().items():
        if not names or name in names:
            found[name] = command, answer_of(name, command)
            print(name)
    blocks = [
        f"\n`{name}`, `contactfe {command}`:\n\n```text\n" + "\n".join((*lines, "```\n"))
        for name, (command, lines) in ((name, found[name]) for name in commands())
    ]
    head = README.read_text().partition("\n## Their answers\n")[0]
    README.write_text(
        f"{head}\n## Their answers\n\nThe first lines that the first command of each prints, at"
        f" {WIDTH} columns.\n{''.join(blocks)}"
    )


if __name__ == "__main__":
    main(sys.argv[1:])
