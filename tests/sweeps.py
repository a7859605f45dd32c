"""An invented case with a sweep, work that takes no time in place of solving, and made-up rows."""

import os
import signal
import time
from dataclasses import dataclass
from pathlib import Path

from contactfe.assess.checks import Verdict
from contactfe.assess.sweep.result import Sample, Solution, SweepResult, SweepRow
from contactfe.assess.sweep.run import prepare
from contactfe.assess.sweep.task import Task
from contactfe.assess.value import Figure, Place

DATA = {
    "title": "Invented stop $4$ [b]",
    "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "420 MPa"},
    "plate": {
        "width": "300 mm",
        "thickness": "50 mm",
        "held_by": "rigid base",
        "young": "210 GPa",
        "poisson": 0.3,
        "yield": "690 MPa",
    },
    "load": {"line_load": "600 N/mm"},
    "section": [{"name": "tube 2.5 [x]", "outside_diameter": "120 mm", "wall": "25 mm"}],
}

OVER = {"plate.thickness": ["50 mm", "0.5 mm"], "load.line_load": ["500 N/mm", "600 N/mm"]}


def data(over: dict = OVER, units: str = "SI", **sweep) -> dict:
    return DATA | {"report": {"units": units}, "sweep": {"over": over, **sweep}}


def prepared(over: dict = OVER, **sweep):
    return prepare(data(over, **sweep))


def solution(
    post: float = 200.0,
    plate: float = 300.0,
    uncertainties: dict[str, float] | None = None,
    line_load: float = 600.0,
    other: str = "a clause",
    other_ratio: float = 0.5,
    other_verdict: Verdict = "passes",
    **figures: float | None,
) -> Solution:
    """One of yield strengths of 420 and 690 MPa; ``figures`` replace its own, None leaves out."""
    numbers = {
        "peak_pressure": 541.0, "half_width": 0.7, "approach": 0.1,
        "stress_concentration": post / 5.0, "bore_hoop_under_load": 80.0,
        "bore_hoop_at_side": -1e-3, "post_utilisation": post / 420.0,
        "plate_utilisation": plate / 690.0,
    } | figures  # fmt: skip
    found = {key: Figure(number) for key, number in numbers.items() if number is not None} | {
        "post_peak": Figure(post, Place("edge of contact", 0.5, 0.25)),
        "plate_peak": Figure(plate, Place("plate under contact", 0.0, -0.5)),
    }
    return Solution(
        found, uncertainties, line_load, 1, 58.6, 20000, 1, other, other_ratio, other_verdict
    )


UNCERTAINTIES = {
    "peak_pressure": 1.6, "half_width": 0.002, "approach": 0.0003, "post_peak": 2.0,
    "plate_peak": 1.5, "bore_hoop_under_load": 0.54, "bore_hoop_at_side": 0.54,
    "stress_concentration": 0.4, "post_utilisation": 2.0 / 420.0, "plate_utilisation": 1.5 / 690.0,
}  # fmt: skip


def row(post: float = 200.0, uncertainties: dict[str, float] | None = None, **changes) -> SweepRow:
    return SweepRow("tube 2.5 [x]", solution(post, uncertainties=uncertainties, **changes), 0.25)


def failed(error: str = "it does not fit") -> SweepRow:
    return SweepRow("tube 2.5 [x]", None, 0.01, error, True)


def result(rows, over: dict = OVER, **sweep) -> SweepResult:
    """Rows made up for the samples, in their order."""
    made = prepared(over, **sweep)
    samples = tuple(Sample(number, (one,)) for number, one in enumerate(rows))
    return SweepResult(made.case, made.plan, samples)


@dataclass(frozen=True)
class StandIn(Task):
    """In place of a sample that is solved: the line load that was asked for, after a moment."""

    @property
    def load(self) -> float:
        return float(str(self.values[0]).split()[0])

    def solve(self, work, kept) -> Sample:
        time.sleep(0.01)
        return Sample(self.number, (row(line_load=self.load),))


class Deadly(StandIn):
    """Ends its process at 13 N/mm always, at 7 N/mm the first time: a file records each."""

    def solve(self, work, kept) -> Sample:
        once = Path(f"{work.source}-{self.load}")
        if self.load == 13.0 or (self.load == 7.0 and not once.exists()):
            with once.open("a") as deaths:
                deaths.write("x")
            os.kill(os.getpid(), signal.SIGKILL)
        return super().solve(work, kept)


class Faulty(StandIn):
    """Cannot solve 13 N/mm, wherever it is."""

    def solve(self, work, kept) -> Sample:
        if self.load == 13.0:
            raise ZeroDivisionError("a fault")
        return super().solve(work, kept)


def tasks(made, kind=Task):
    """The samples of a sweep in their order, as points of that kind."""
    for k in range(made.plan.count):
        yield kind(k, made.plan.values(k), False)


def many(count: int):
    """A sweep of line loads of 1, 2, … N/mm."""
    return prepared({"load.line_load": {"from": "1 N/mm", "to": f"{count} N/mm", "count": count}})


def without_times(samples) -> list:
    """Samples by number, without what differs from run to run."""
    return sorted(
        (s.number, [(r.section, r.solution, r.error, r.refused) for r in s.rows]) for s in samples
    )
