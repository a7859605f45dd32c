"""What strikes beyond first yield cost, in contact solves: ``python tests/benchmarks/overload.py``.

One solve is that of ``speed.py``, about 20 000 unknowns, measured in the same run. A bar and tubes
of 150 mm are loaded to three times their load at first yield and released, on the standard mesh;
then a whole section as the command solves it, on two meshes with three strikes, each followed by
three second ones. Times are of the processor. Nothing is asserted.
"""

import sys
import time
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from benchmarks.speed import best, one_solve, ready  # noqa: E402

from contactfe.assess.bodies import Bodies  # noqa: E402
from contactfe.assess.compare import compare  # noqa: E402
from contactfe.assess.overload import strikes  # noqa: E402
from contactfe.assess.overload.run import point_of  # noqa: E402
from contactfe.case import Case, read_case  # noqa: E402
from contactfe.section.grading import Patch  # noqa: E402
from contactfe.study.blas import one_thread  # noqa: E402

CASE = ROOT / "cases" / "tide-mill-stop.toml"
MOST = 3.0


def there_and_back(case: Case, number: int) -> tuple[float, int]:
    """Seconds to three times first yield and back on the standard mesh, and its unknowns."""
    point = point_of(number, compare(case).sections[number])
    assert point.first_yield is not None
    first, patch = point.first_yield.value, Patch(point.centre, point.half_width)
    start = time.process_time()
    level = strikes.level_for(case, point.section, Bodies(case), patch, MOST, 1.0)
    striking = strikes.striking_of(level)
    states = [strikes.at_rest(striking)]
    for goal in (0.5 * first, first, MOST * first):
        states += strikes.path(striking, states[-1], goal, strikes.STEP * first, first)
    down = states[-1].line_load / strikes.UNLOADING
    list(strikes.path(striking, states[-1], 0.0, down, first))
    return time.process_time() - start, level.joint.unknowns


def main() -> None:
    """Print the table."""
    case = read_case(CASE)
    case = replace(case, overload=replace(case.overload, factors=(1.2, 2.0, MOST)))
    solve = best(lambda: ready(one_solve()), 5)
    print(f"one contact solve: {solve:.3f} s")
    for number, section in enumerate(case.sections):
        seconds, unknowns = there_and_back(case, number)
        print(
            f"{section.name}: to {MOST:g} times first yield and back, {unknowns} unknowns,"
            f" {seconds:.1f} s, {seconds / solve:.0f} solves"
        )
        point = point_of(number, compare(case).sections[number])
        start = time.process_time()
        point.solve(case, Bodies(case).kept)
        seconds = time.process_time() - start
        print(f"  as the command solves it: {seconds:.1f} s, {seconds / solve:.0f} solves")


if __name__ == "__main__":
    with one_thread():
        main()
