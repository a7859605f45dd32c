"""Where the time goes, as a table: ``python tests/benchmarks/speed.py``.

Times of one contact solve from a ready mesh of about 20 000 unknowns by part, and of the whole
``contactfe compare`` process on three sections with its peak memory. Nothing is asserted.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path

from threadpoolctl import threadpool_limits

from contactfe.section.body import to_skfem
from contactfe.section.grading import member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import condense
from contactfe.solve.elastic import Elastic
from contactfe.solve.field import sample
from contactfe.solve.pair import join, member_field, plate_field, solve_pair

ROOT = Path(__file__).parents[2]
STEEL = Elastic(200e3, 0.3)


def one_solve() -> dict[str, float]:
    """Seconds by part for a tube of 150 x 25 on a plate of 300 x 60, line load 1500 N/mm."""
    outline, flat = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)
    marks = [("", time.perf_counter())]

    def mark(name: str) -> None:
        marks.append((name, time.perf_counter()))

    upper = to_skfem(mesh_member(outline, member_grading(outline, 1.142)))
    lower = to_skfem(mesh_plate(flat, plate_grading(flat, 1.142)))
    mark("mesh both bodies")
    member = condense(upper, STEEL, holds.beam_shear(upper, 75.0, 50.0, 0.3))
    mark("assemble, factor, condense the post")
    plate = condense(lower, STEEL, holds.bedded(lower))
    mark("assemble, factor, condense the plate")
    pair = join(member, plate, 75.0)
    state = solve_pair(pair, 1500.0)
    mark("couple and solve the contact")
    fields = member_field(pair, state), plate_field(pair, state)
    mark("recover the stress of both bodies")
    for field in fields:
        sample(field)
    mark("search the peaks")
    parts = {n: t - s for (_, s), (n, t) in pairwise(marks)}
    parts["unknowns"] = pair.unknowns
    return parts


def whole_process() -> tuple[float, float]:
    """Seconds and peak MB of ``contactfe compare`` on three sections, with all its files."""
    text = (ROOT / "cases" / "quayside-annex-stop.toml").read_text()
    three = "[[section]]".join(text.split("[[section]]")[:4])
    with tempfile.TemporaryDirectory() as folder:
        case = Path(folder) / "three.toml"
        case.write_text(three)
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "contactfe", "compare", str(case)],
            cwd=folder, check=True, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        seconds = time.perf_counter() - start
    return seconds, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


if __name__ == "__main__":
    with threadpool_limits(limits=1, user_api="blas"):
        runs = [one_solve() for _ in range(7)]
    best = {name: min(run[name] for run in runs) for name in runs[0]}
    unknowns = int(best.pop("unknowns"))
    print(f"one solve, {unknowns} unknowns, best of {len(runs)}, {os.cpu_count()} cores")
    for name, seconds in best.items():
        print(f"  {1000 * seconds:7.1f} ms  {100 * seconds / sum(best.values()):5.1f} %  {name}")
    ready = sum(s for n, s in best.items() if n.startswith(("assemble", "couple")))
    print(f"  {1000 * ready:7.1f} ms  contact solve from ready meshes")
    print(f"  {1000 * sum(best.values()):7.1f} ms  in all")
    times = [whole_process() for _ in range(3)]
    print(
        f"contactfe compare, 3 sections, whole process: {min(t for t, _ in times):.2f} s"
        f" (slowest {max(t for t, _ in times):.2f} s), peak {max(m for _, m in times):.0f} MB"
    )
