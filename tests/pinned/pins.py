"""What every command gives for a set of cases, pinned: numbers, structure and names of files.

The set is there to keep what the tool computes while the code is rebuilt. Wording is not pinned.
``PYTHONPATH=tests python tests/pinned/pins.py [NAME ...]`` writes the pins anew, of all runs or of
those named.
"""

import csv
import json
import re
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from commands import run_here

HERE = Path(__file__).parent
WORKED = HERE.parents[1] / "cases"
OWN = HERE / "cases"
NUMBERS = HERE / "numbers"

LONGEST = 12
"""Entries of a list that are pinned one by one; of a longer one count, mean and extremes."""
UNPINNED = {
    "libraries", "generator", "residuals", "solve_seconds", "seconds", "given", "limits",
    "exceeded", "difference", "digest", "seconds [s]", "values",
}  # fmt: skip
"""Keys that differ from run to run, or follow from others."""
WORDS = {
    "verdict", "motion", "governs", "least_concentration", "by_concentration", "by_utilisation",
    "by_mass", "best", "closest", "law", "dimension", "unit", "status",
}  # fmt: skip
"""Keys whose text is a result."""

NOISY = re.compile(r"uncertainty|moment|share_|energies|/size/|/diameters/")
"""Paths of figures that hold fewer digits than others: differences of figures, and what a search
ends at."""

Pins = dict[str, Any]


@dataclass(frozen=True)
class Run:
    """A command on a case; ``files`` says whether it writes its files, which are pinned as well."""

    name: str
    command: str
    case: Path
    options: tuple[str, ...] = ()
    files: bool = False


def _worked(command: str, case: str, *options: str, files: bool = False) -> Run:
    short = case.partition("-")[0]
    return Run(f"{command}-{short}", command, WORKED / f"{case}.toml", options, files)


def _own(command: str, case: str, *options: str, files: bool = False) -> Run:
    return Run(f"{command}-{case}", command, OWN / f"{case}.toml", options, files)


RUNS = (
    _worked("compare", "mill-house-stop", "--accuracy", "1 %"),
    _worked("compare", "ropewalk-stop", files=True),
    _worked("hand", "granary-lift-stop"),
    _worked("hand", "observatory-corner"),
    _worked("impact", "tannery-wharf-stop", files=True),
    _worked("stiffness", "tannery-wharf-stop", files=True),
    _worked("sweep", "foundry-yard-stop", files=True),
    _worked("scale", "tannery-wharf-stop", files=True),
    _worked("scale", "lock-keeper-stop", "--to", "0.5"),
    _own("compare", "filled"),
    _own("compare", "plane-stress"),
    _own("compare", "own-tube"),
    _own("compare", "sliding"),
    _own("compare", "corner"),
    _own("compare", "us-clauses"),
    _own("impact", "power-law"),
    _own("impact", "section-law"),
    _own("stiffness", "bent"),
    _own("stiffness", "own-post"),
    _own("envelope", "one-sided", files=True),
    _own("envelope", "tilted"),
    _own("size", "sized", files=True),
    _own("overload", "struck", files=True),
    _own("sweep", "drawn", files=True),
    _own("hand", "euro-clauses"),
)  # fmt: skip


def find(run: Run) -> Pins:
    """Give the command in an empty folder, and gather what it found."""
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder)
        written = here / "out"
        words = [run.command, str(run.case), *run.options]
        if run.command == "scale" and run.files:
            words += ["--write", "out/specimen.toml"]
            written.mkdir()
        elif run.files:
            words += ["--out", "out/"]
        if run.command not in {"hand", "scale"}:
            words += ["--processes", "1"]
        if run.command != "sweep":
            words += ["--json", "-"]
        elif not run.files:
            raise ValueError("sweep prints no document")
        done = run_here(*words, cwd=here)
        if done.returncode or done.stderr:  # no progress on what is no terminal, and no warnings
            raise RuntimeError(f"{run.name}: {done.stderr}")
        pins: Pins = {}
        if run.command == "sweep":
            pins |= _table(written)
        else:
            pins |= flat(json.loads(done.stdout))
        if run.files:
            pins["files"] = sorted(str(f.relative_to(here)) for f in written.rglob("*"))
        return pins


def _table(folder: Path) -> Pins:
    """The rows of a sweep, by its one table."""
    (table,) = folder.glob("*.csv")
    lines = [line for line in table.read_text().splitlines() if not line.startswith("#")]
    head, *rows = csv.reader(lines)
    named = [dict(zip(head, map(_read, row), strict=True)) for row in rows]
    return {"head": head, **flat({"rows": named})}


def _read(cell: str) -> Any:
    try:
        return float(cell)
    except ValueError:
        return cell


def flat(document: Any) -> Pins:
    """Numbers, truths and results in words of a document, by their paths.

    Records with a key are named by it, where no other of the list has it.
    """
    pins: Pins = {}
    long: dict[str, list[float]] = {}
    _gather(document, "", "", pins, long)
    for path, values in long.items():
        pins[f"{path}#count"] = len(values)
        pins[f"{path}#mean"] = sum(values) / len(values)
        pins[f"{path}#least"], pins[f"{path}#greatest"] = min(values), max(values)
    return pins


def _gather(node: Any, path: str, key: str, pins: Pins, long: dict[str, list[float]]) -> None:
    if isinstance(node, dict):
        for name, value in node.items():
            if name not in UNPINNED and not (name == "steps" and "clause" in node):
                _gather(value, f"{path}/{name}", name, pins, long)
    elif isinstance(node, list):
        names = [item.get("key") if isinstance(item, dict) else None for item in node]
        named = None not in names and len(set(names)) == len(names)
        for number, item in enumerate(node):
            place = names[number] if named else "*" if len(node) > LONGEST else number
            _gather(item, f"{path}/{place}", key, pins, long)
    elif isinstance(node, str):
        if key in WORDS and "*" not in path:
            pins[path] = node
    elif "*" not in path:
        pins[path] = float(f"{node:.13g}") if isinstance(node, float) else node
    elif isinstance(node, int | float):
        long.setdefault(path, []).append(node)


def differences(pinned: Pins, found: Pins) -> list[str]:
    """What no longer is as pinned, a line each; what is new counts for nothing.

    Numbers agree to 1e-9, of themselves or of ten units for what is nil but for rounding; those
    that are noisy by their nature to 1e-5. Where the mesher drew other meshes they agree to 0.2 %
    or within twice the uncertainty that stands beside them.
    """
    same_mesh = all(found.get(p) == v for p, v in pinned.items() if p.endswith("/unknowns"))
    lines = []
    for path, old in pinned.items():
        if path not in found:
            lines.append(f"{path}: {old} is gone")
            continue
        new = found[path]
        if isinstance(old, int | float) and isinstance(new, int | float):
            if same_mesh:
                relative = 1e-5 if NOISY.search(path) else 1e-9
                near = abs(new - old) <= relative * max(abs(old), 10.0)
            else:
                beside = 2.0 * (pinned.get(f"{path}_uncertainty") or 0.0)
                near = _free(path) or abs(new - old) <= max(2e-3 * abs(old), beside, 1e-6)
        else:
            near = new == old
        if not near:
            lines.append(f"{path}: {old} became {new}")
    return lines


def _free(path: str) -> bool:
    """Whether a figure tells of the mesh rather than of the contact."""
    last = path.rsplit("/", 1)[-1]
    return "uncertainty" in last or last in {"unknowns", "remeshed", "meshes"}


def pinned(run: Run) -> Pins:
    """What is pinned of a run."""
    found: Pins = json.loads((NUMBERS / f"{run.name}.json").read_text())
    return found


def main(names: list[str]) -> None:
    """Write the pins of the runs named, or of all."""
    NUMBERS.mkdir(exist_ok=True)
    for run in RUNS:
        if not names or run.name in names:
            text = json.dumps(find(run), indent=0, ensure_ascii=False)
            (NUMBERS / f"{run.name}.json").write_text(text + "\n")
            print(run.name)


if __name__ == "__main__":
    main(sys.argv[1:])
