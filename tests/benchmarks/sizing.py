"""What sizing a wall costs, as tables: ``python tests/benchmarks/sizing.py``.

The whole ``contactfe size`` process for 40 walls of one diameter, with its peak memory, by one
process and by as many as there are cores; then where the processor's time goes in one process, by
part. Nothing is asserted.
"""

import cProfile
import os
import pstats
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from contactfe.assess.sizing.run import size
from contactfe.case import read_case
from contactfe.study.crew import usable_cores

ROOT = Path(__file__).parents[2]
PARTS = {
    "mesher.py:mesh_member": "mesh posts",
    "mesher.py:mesh_plate": "mesh plates",
    "condense.py:condense": "assemble, factor, condense",
    "reading.py:read": "contact, stresses and peaks",
    "case.py:section_by_hand": "by hand",
    "early_yield.py:early_yield": "first yield (its share of the above)",
}


def whole(case: Path, processes: int) -> tuple[float, float]:
    """Seconds of the whole command, and the peak memory of any process of it so far, GB."""
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "contactfe", "size", str(case), "--out", f"{folder}/out",
             "--processes", str(processes)],
            check=True, capture_output=True, env=os.environ | {"OPENBLAS_NUM_THREADS": "1"},
        )  # fmt: skip
        seconds = time.perf_counter() - start
    return seconds, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e6


def main() -> None:
    """Print the tables."""
    text = (ROOT / "cases" / "quayside-annex-stop.toml").read_text("utf-8")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sized.toml"
        path.write_text(f"{text}\n[sizing]\nchecks = ['stress']\n", "utf-8")
        for processes in dict.fromkeys((1, usable_cores())):
            seconds, memory = whole(path, processes)
            print(f"whole command, {processes} processes: {seconds:6.1f} s, {memory:.2f} GB")
        case = read_case(path)
    profile = cProfile.Profile()
    start = time.process_time()
    result = profile.runcall(size, case, 1)
    print(f"solves: {result.solved} coarse, {result.solved_on_both_levels} fine")
    print(f"one process, profiled: {time.process_time() - start:.1f} s of the processor; shares:")
    stats = pstats.Stats(profile).stats  # type: ignore[attr-defined]
    total = max(entry[3] for entry in stats.values())
    for key, label in PARTS.items():
        file, name = key.split(":")
        found = [
            entry for (path_of, _, of), entry in stats.items()
            if path_of.endswith(file) and of == name
        ]  # fmt: skip
        spent, calls = sum(e[3] for e in found), sum(e[1] for e in found)
        print(f"  {label:40} {100 * spent / total:5.1f} %, {calls} times")


if __name__ == "__main__":
    main()
