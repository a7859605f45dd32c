"""What everything costs, in solves, as a table: ``python tests/benchmarks/speed.py``.

One solve is a contact of about 20 000 unknowns from ready meshes, both bodies whole: assembled,
factored, condensed, brought into contact. It is measured first, by part; whole processes, a sweep
and a growing mesh follow as multiples of it, measured in the same run. Times of parts are of the
processor, those of whole processes elapsed, the best of a few. Byte code is written first, as an
installed package has it. Nothing is asserted.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np

from contactfe.assess.bodies import beside
from contactfe.assess.sweep.run import prepare, solve_samples
from contactfe.case.reader import read_tables
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
TUBE, FLAT = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)


def best(of: Callable[[], float], runs: int = 3) -> float:
    """The least of a few measurements."""
    return min(of() for _ in range(runs))


def one_solve(scale: float = 1.0) -> dict[str, float]:
    """Seconds by part for a tube of 150 x 25 on a plate of 300 x 60, line load 1500 N/mm."""
    marks = [("", time.process_time())]

    def mark(name: str) -> None:
        marks.append((name, time.process_time()))

    upper = to_skfem(mesh_member(TUBE, member_grading(TUBE, PATCH, scale)))
    lower = to_skfem(mesh_plate(FLAT, plate_grading(FLAT, PATCH, scale)))
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


def ready(parts: dict[str, float]) -> float:
    """Seconds of one solve: from ready meshes to the contact."""
    return sum(s for name, s in parts.items() if name.startswith(("assemble", "couple")))


def variants() -> dict[str, float]:
    """Seconds from ready meshes to a solved contact: with friction, in a corner."""
    upper = to_skfem(mesh_member(TUBE, member_grading(TUBE, PATCH)))
    cornered = to_skfem(mesh_member(TUBE, member_grading(TUBE, PATCH, side=PATCH)))
    lower = to_skfem(mesh_plate(FLAT, plate_grading(FLAT, PATCH)))

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
        "with friction 0.2, sliding in part": best(lambda: solve(0.2, 0.05)),
        "with friction 0.2, sliding": best(lambda: solve(0.2, 0.5)),
        "corner without friction": best(lambda: solve(0.0, 0.0, 2)),
        "corner with friction 0.2": best(lambda: solve(0.2, 0.0, 2)),
    }


def process(*arguments: str, place: Path, status: int = 0) -> tuple[float, float]:
    """Seconds of a whole command in a folder, and the greatest memory of its processes, MB."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    measured = (
        "import resource, subprocess, sys\n"
        "done = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)"
        "\nprint(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
        "\nsys.exit(done.returncode)"
    )
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-S", "-c", measured, sys.executable, "-m", "contactfe", *arguments],
        env=environment, stdout=subprocess.PIPE, check=False, cwd=place,
    )  # fmt: skip
    seconds = time.perf_counter() - start
    assert done.returncode == status, arguments
    return seconds, int(done.stdout) / 1024


def whole_processes(unit: float, folder: Path) -> None:
    """Print rows of whole commands."""
    text = (ROOT / "cases" / "quayside-annex-stop.toml").read_text("utf-8")
    case, bad, sized = (folder / f"{name}.toml" for name in ("three", "bad", "sized"))
    case.write_text("[[section]]".join(text.split("[[section]]")[:4]), "utf-8")
    bad.write_text(text.replace('thickness = "', 'thickness = "-'), "utf-8")
    sized.write_text(f"{text}\n[sizing]\nchecks = ['stress']\n", "utf-8")

    def row(name: str, *arguments: str, status: int = 0) -> None:
        found = []
        for run in range(3):  # each in a folder of its own: what is kept is not solved again
            place = folder / f"{name} {run}"
            place.mkdir()
            found.append(process(*arguments, status=status, place=place))
        seconds, memory = min(found)[0], max(m for _, m in found)
        print(f"  {seconds:7.2f} s {seconds / unit:7.1f} solves {memory:6.0f} MB  {name}")

    process("compare", str(case), place=folder)
    print("whole commands")
    row("--help", "--help")
    row("an input error", "compare", str(bad), status=2)
    row("hand", "hand", str(case))
    row("compare, 3 sections", "compare", str(case))
    row("report of it, solved and written", "report", str(case))
    row("size, 40 walls", "size", str(sized))


def swept(unit: float) -> None:
    """Print what a sample of a sweep takes that shares no body with another."""
    over = {
        "load.line_load": {"from": "700 N/mm", "to": "900 N/mm"},
        "plate.thickness": {"from": "50 mm", "to": "70 mm"},
        "section.wall": {"from": "20 mm", "to": "50 mm"},
    }
    sweep = {"method": "latin hypercube", "samples": 16, "over": over}
    path = ROOT / "cases" / "foundry-yard-stop.toml"
    prepared = prepare(read_tables(path) | {"sweep": sweep}, str(path))
    start = time.process_time()
    rows = [row for one in solve_samples(prepared, 1) for row in one.rows]
    each = (time.process_time() - start) / sweep["samples"]
    unknowns = np.mean([row.solution.unknowns for row in rows if row.solution is not None])
    print(
        f"  {each:7.2f} s {each / unit:7.1f} solves            a sample of a sweep,"
        f" {unknowns:.0f} unknowns"
    )


def grown(unit: float) -> None:
    """Print time and memory of meshes up to 300 000 unknowns, and the power that time grows by."""
    print("one solve as the mesh grows")
    found: list[tuple[float, float]] = []
    for scale in (1.0, 0.5, 0.25):
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        parts = one_solve(scale)
        grew = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
        unknowns, seconds = parts["unknowns"], ready(parts)
        found.append((unknowns, seconds))
        power = ""
        if len(found) > 1:
            (n, s), (m, t) = found[-2:]
            power = f", growing as n^{np.log(t / s) / np.log(m / n):.2f}"
            power += f", {grew / unknowns:.1f} kB an unknown more"
        print(f"  {seconds:7.2f} s {seconds / unit:7.1f} solves  {unknowns:.0f} unknowns{power}")


def main() -> None:
    """Print the tables."""
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}, Python {sys.version.split()[0]}")
    with one_thread():
        runs = [one_solve() for _ in range(7)]
        others = variants()
    parts = {name: min(run[name] for run in runs) for name in runs[0]}
    unit = ready(parts)
    print(f"one solve, {parts.pop('unknowns'):.0f} unknowns: {1000 * unit:.0f} ms")
    for name, seconds in parts.items():
        print(f"  {1000 * seconds:7.1f} ms {seconds / unit:7.2f} solves  {name}")
    for name, seconds in others.items():
        print(f"  {1000 * seconds:7.1f} ms {seconds / unit:7.2f} solves  {name}")
    with tempfile.TemporaryDirectory() as folder:
        whole_processes(unit, Path(folder))
    with one_thread():
        swept(unit)
        grown(unit)


if __name__ == "__main__":
    main()
