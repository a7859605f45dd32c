"""How soon the page of `contactfe explore` answers: ``python tests/benchmarks/exploring.py``.

Fifty moves of a worked case in a browser, half of them with friction, each once the one before is
solved and drawn, while the curve of the walls is being solved: median and worst time from the move
to each stage, as marked in the browser, in ms and in solves. One solve is that of ``speed.py``,
measured in the same run. Nothing is asserted.
"""

import os
import statistics
import sys
import tempfile
from collections import defaultdict
from itertools import cycle, islice
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from benchmarks.speed import one_solve, ready  # noqa: E402
from exploring import Page, browser, served, until  # noqa: E402

from contactfe.study.blas import one_thread  # noqa: E402

CASE = ROOT / "cases" / "quayside-annex-stop.toml"
MOVES = 50
FRICTION = 0.2
STAGES = "hand", "coarse", "solved", "picture"

MOVED = {
    "section.wall": (20.0, 50.0),
    "section.outside_diameter": (140.0, 180.0),
    "load.line_load": (1200.0, 1800.0),
    "contact.offset": (-40.0, 40.0),
    "plate.thickness": (50.0, 75.0),
}
"""Sliders, each with the ends that it is moved between."""

_DRAWN = """
find("[data-slot=picture] img").addEventListener("load", () =>
  performance.mark(`picture ${find("main").dataset.accepted}`));
"""
"""Marks when the picture of the last move is there."""

_MARKS = "return performance.getEntriesByType('mark').map((m) => [m.name, m.startTime])"


def moves() -> list[tuple[str, float]]:
    """Sliders in turn, each further along its way by a share that comes back to none before."""
    turns = islice(cycle(MOVED.items()), MOVES // 2)
    return [
        (key, least + (most - least) * (0.618034 * (k + 1) % 1.0))
        for k, (key, (least, most)) in enumerate(turns)
    ]


def times(page: Page) -> dict[str, list[float]]:
    """Milliseconds from each move to each stage."""
    found = defaultdict(list)
    for key, value in moves():
        page.slide(key, value)
        page.wait("solved", "complete", "refused")
        stage = page.stage()
        if stage["stage"] == "refused":
            print(f"  {key} {value:.4g}: refused, and not counted")
            continue
        number = stage["accepted"]
        until(lambda n=number: f"picture {n}" in dict(page.js(_MARKS)), "the picture")
        marks = dict(page.js(_MARKS))
        for of in STAGES:
            found[of].append(marks[f"{of} {number}"] - marks[f"asked {number}"])
    return found


def main() -> None:
    """Print the table."""
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}, Python {sys.version.split()[0]}")
    with one_thread():
        unit = 1000.0 * min(ready(one_solve()) for _ in range(7))
    print(f"one solve: {unit:.0f} ms")
    with (
        tempfile.TemporaryDirectory() as folder,
        served(CASE) as server,
        browser(Path(folder)) as driver,
    ):
        page = Page(driver, server.url)
        page.wait("solved", "complete")
        page.js(_DRAWN)
        show("without friction", times(page), unit)
        page.slide("contact.friction", FRICTION)
        page.wait("solved", "complete")
        show(f"friction {FRICTION}", times(page), unit)


def show(of_what: str, found: dict[str, list[float]], unit: float) -> None:
    """A line for each stage; ``unit`` is one solve, ms."""
    print(f"{of_what:18} {'median':>8} {'worst':>8}   in solves")
    for stage, of in found.items():
        median, worst = statistics.median(of), max(of)
        print(
            f"{stage:18} {median:5.0f} ms {worst:5.0f} ms {median / unit:6.1f} {worst / unit:6.1f}"
            f"   {len(of)} moves"
        )


if __name__ == "__main__":
    main()
