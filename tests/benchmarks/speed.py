"""Where the time goes, as a table: ``python tests/benchmarks/speed.py``.

Times of one contact solve from a ready mesh of about 20 000 unknowns by part, what friction adds to
it, a corner, and the whole ``contactfe compare`` process on three sections with its peak memory.
Times of parts are of the processor, so that others at work on the machine matter less. Nothing is
asserted.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path

from contactfe.assess.bodies import beside
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import BENEATH, condense
from contactfe.solve.elastic import Elastic
from contactfe.solve.field import sample
from contactfe.solve.joint import join, member_fields, plate_field, solve_joint
from contactfe.study.blas import one_thread

ROOT = Path(__file__).parents[2]
STEEL = Elastic(200e3, 0.3)
PATCH, LOAD = Patch(0.0, 1.142), 1500.0


def one_solve() -> dict[str, float]:
    """Seconds by part for a tube of 150 x 25 on a plate of 300 x 60, line load 1500 N/mm."""
    outline, flat = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)
    marks = [("", time.process_time())]

    def mark(name: str) -> None:
        marks.append((name, time.process_time()))

    upper = to_skfem(mesh_member(outline, member_grading(outline, PATCH)))
    lower = to_skfem(mesh_plate(flat, plate_grading(flat, PATCH)))
    mark("mesh both bodies")
    member = condense(upper, STEEL, holds.beam_shear(upper, STEEL))
    mark("assemble, factor, condense the post")
    plate = condense(lower, STEEL, holds.rigid_base(lower))
    mark("assemble, factor, condense the plate")
    joint = join(member, plate, radius=75.0)
    state = solve_joint(joint, LOAD)
    mark("couple and solve the contact")
    fields = member_fields(joint, state)["whole"], plate_field(joint, state)
    mark("recover the stress of both bodies")
    for field in fields:
        sample(field)
    mark("search the peaks")
    parts = {n: t - s for (_, s), (n, t) in pairwise(marks)}
    parts["unknowns"] = joint.unknowns
    return parts


def from_ready_meshes() -> dict[str, float]:
    """Seconds from ready meshes to a solved contact: without friction, with it, in a corner."""
    outline, flat = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)
    upper = to_skfem(mesh_member(outline, member_grading(outline, PATCH)))
    cornered = to_skfem(mesh_member(outline, member_grading(outline, PATCH, side=PATCH)))
    lower = to_skfem(mesh_plate(flat, plate_grading(flat, PATCH)))

    def solve(friction: float, angle: float, plates: int = 1) -> float:
        start = time.process_time()
        mesh = upper if plates == 1 else cornered
        frames = dict(BENEATH) | ({"contact side": beside(75.0)} if plates == 2 else {})
        member = condense(mesh, STEEL, holds.beam_shear(mesh, STEEL), frames, friction > 0.0)
        plate = condense(lower, STEEL, holds.rigid_base(lower), tangential=friction > 0.0)
        joint = join(member, *(plate,) * plates, radius=75.0)
        solve_joint(joint, *(LOAD,) * plates, angle=angle, friction=friction)
        return time.process_time() - start

    return {
        "without friction": solve(0.0, 0.0),
        "with friction 0.2, sliding in part": solve(0.2, 0.05),
        "with friction 0.2, sliding": solve(0.2, 0.5),
        "corner without friction": solve(0.0, 0.0, 2),
        "corner with friction 0.2": solve(0.2, 0.0, 2),
    }


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
    with one_thread():
        runs = [one_solve() for _ in range(7)]
    best = {name: min(run[name] for run in runs) for name in runs[0]}
    unknowns = int(best.pop("unknowns"))
    print(f"one solve, {unknowns} unknowns, best of {len(runs)}, {os.cpu_count()} cores")
    for name, seconds in best.items():
        print(f"  {1000 * seconds:7.1f} ms  {100 * seconds / sum(best.values()):5.1f} %  {name}")
    ready = sum(s for n, s in best.items() if n.startswith(("assemble", "couple")))
    print(f"  {1000 * ready:7.1f} ms  contact solve from ready meshes")
    print(f"  {1000 * sum(best.values()):7.1f} ms  in all")
    with one_thread():
        solves = [from_ready_meshes() for _ in range(7)]
    print("from ready meshes to a solved contact: assembly, factors, condensation, all steps")
    for name in solves[0]:
        print(f"  {1000 * min(run[name] for run in solves):7.1f} ms  {name}")
    times = [whole_process() for _ in range(3)]
    print(
        f"contactfe compare, 3 sections, whole process: {min(t for t, _ in times):.2f} s"
        f" (slowest {max(t for t, _ in times):.2f} s), peak {max(m for _, m in times):.0f} MB"
    )
