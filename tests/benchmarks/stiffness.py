"""What a force–approach curve costs and how true it is: ``python tests/benchmarks/stiffness.py``.

For a solid and two tubes: processor seconds of a section solved from nothing on one level (mesh,
factor, contact, stress), of a curve of 100 points on the same bodies, and of one from nothing; what
the two levels differ by, and the curve from the solved contact, over a tenth of the load and more.
Then the solid beside the sum of the exact fields of two bodies, from a fiftieth of the load on.
Nothing is asserted.
"""

import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

from contactfe.assess.accuracy import expected_patches
from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import MOST, follow_load
from contactfe.assess.level import build
from contactfe.assess.reading import read
from contactfe.hand import approach, approach_hold, hertz
from contactfe.solve.curve import curve_of
from contactfe.study.blas import one_thread
from contactfe.verify import cases

LOAD, STEEL, STATE = 1500.0, (200e3, 0.3), "plane strain"

Found = TypeVar("Found")


def timed(do: Callable[[], Found]) -> tuple[Found, float]:
    """What it returns, and processor seconds."""
    start = time.process_time()
    found = do()
    return found, time.process_time() - start


def costs(wall: float | None) -> None:
    case = cases.round_case(150.0, wall, LOAD, plate_size=(400.0, 60.0))
    (section,) = case.sections
    bodies = Bodies(case)

    def solve():
        level = build(case, bodies, section, expected_patches(case, section), 1.0)
        read(level)
        return level

    level, one = timed(solve)
    ends = np.array([MOST * LOAD])
    _, more = timed(lambda: curve_of(level.joint, ends, 100))
    fine, whole = timed(lambda: follow_load(case, section, Bodies(case)))
    coarse = follow_load(case, section, Bodies(case), scale=2.0)
    q = np.geomspace(0.1, MOST, 60) * LOAD
    d, other = (f.curve.approach_at(q) for f in (fine, coarse))
    slope, beside = (f.curve.tangent_at(at) for f, at in ((fine, d), (coarse, other)))
    solved = np.array([fine.state(load / LOAD)[1][0] for load in q])
    print(
        f"{'solid' if wall is None else f'wall {wall:g}':10s} {level.joint.unknowns:7d}"
        f" {one:7.2f} {more:7.3f} {1 + more / one:6.3f} {whole:7.2f}"
        f" {100 * np.abs(d / other - 1).max():8.3f} {100 * np.abs(slope / beside - 1).max():8.3f}"
        f" {100 * np.abs(d / solved - 1).max():8.3f}"
    )


def truth() -> None:
    case = cases.round_case(150.0, None, 1000.0, plate_size=(900.0, 150.0))
    curve = follow_load(case, case.sections[0], Bodies(case)).curve
    modulus = hertz.contact_modulus(*STEEL, *STEEL, STATE)
    print("\nsolid, share of the load: approach off the two bodies [%]")
    for share in (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 1.25):
        q = 1000.0 * share
        a = hertz.half_width(q, 75.0, modulus)
        exact = approach_hold.solid(q, 75.0, a, *STEEL, "beam shear", STATE)
        exact = exact + approach.layer(q, 150.0, a, *STEEL, STATE)
        print(f"{share:6.2f} {100 * (curve.approach_at(q) / exact - 1):8.3f}")


if __name__ == "__main__":
    with one_thread():
        print(
            "           unknowns solve[s] curve[s] ratio  from 0[s] levels: δ[%]   k[%]  solved[%]"
        )
        for wall in (None, 25.0, 15.0):
            costs(wall)
        truth()
