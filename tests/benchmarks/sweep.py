"""What a sweep costs, as a table: ``python tests/benchmarks/sweep.py``.

Samples a second over processes of this machine, where samples share bodies and where none do; what
the engines add to a sample, by work that takes no time; and bytes a row of record and tables.
Nothing is asserted.
"""

import os
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

from contactfe.assess.sweep.result import Sample, Solution, SweepResult, SweepRow
from contactfe.assess.sweep.run import Prepared, prepare, solve_samples
from contactfe.assess.sweep.task import Task, Work
from contactfe.assess.value import Figure, Place
from contactfe.case.reader import read_tables
from contactfe.report.sweep_record import sweep_record
from contactfe.report.sweep_table import write_table
from contactfe.study.crew import Crew
from contactfe.study.dask import dask_answers
from contactfe.study.point import Kept

ROOT = Path(__file__).parents[2]
CASE = ROOT / "cases" / "foundry-yard-stop.toml"
IDLE = 2000


def of(sweep: dict[str, object]) -> Prepared:
    """The worked case with another sweep."""
    return prepare(read_tables(CASE) | {"sweep": sweep}, str(CASE))


def span(
    first: float, last: float, count: int | None = None, unit: str = "mm"
) -> dict[str, object]:
    ends: dict[str, object] = {"from": f"{first} {unit}", "to": f"{last} {unit}"}
    return ends if count is None else ends | {"count": count}


GRID = {
    "over": {
        "load.line_load": ["700 N/mm", "900 N/mm"], "plate.thickness": span(50, 70, 4),
        "section.wall": span(20, 50, 8),
    }
}  # fmt: skip
DRAWN = {
    "method": "latin hypercube", "samples": 64,
    "over": {
        "load.line_load": span(700, 900, unit="N/mm"), "plate.thickness": span(50, 70),
        "section.wall": span(20, 50),
    },
}  # fmt: skip


def solved(name: str, prepared: Prepared, processes: int) -> list[Sample]:
    """Solve it, and print how fast; the first sample is there when the processes are."""
    begin = time.perf_counter()
    samples = solve_samples(prepared, processes)
    found = [next(samples)]
    first = time.perf_counter()
    found += samples
    end = time.perf_counter()
    count = len(found)
    work = sum(row.seconds for sample in found for row in sample.rows)
    unknowns = [r.solution.unknowns for s in found for r in s.rows if r.solution is not None]
    print(
        f"  {count / (end - begin):6.2f} /s, {(count - 1) / (end - first):6.2f} /s once begun,"
        f" {work / count:.3f} s a sample, {sum(unknowns) / len(unknowns):.0f} unknowns:"
        f" {name}, {processes} processes"
    )
    return sorted(found, key=lambda sample: sample.number)


class Idle(Task):
    """In place of a sample that is solved."""

    def solve(self, work: Work, kept: Kept) -> Sample:
        """No rows."""
        return Sample(self.number, ())


def overhead(name: str, solve: Callable[[Work, Iterator[Task]], Iterator[Any]]) -> None:
    prepared = of({"over": {"load.line_load": span(1, 2, IDLE, "N/mm")}})
    tasks = (Idle(k, prepared.plan.values(k), False) for k in range(IDLE))
    samples = solve(prepared.work, tasks)
    next(samples)
    begin = time.perf_counter()
    count = sum(1 for _ in samples)
    print(f"  {1000 * (time.perf_counter() - begin) / count:6.2f} ms a sample: {name}")


def sizes(prepared: Prepared, samples: list[Sample]) -> None:
    rows = sum(len(sample.rows) for sample in samples)
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder) / "samples.jsonl"
        with sweep_record(prepared, record) as kept:
            begin = time.perf_counter()
            for sample in samples:
                kept.add(sample)
            added = time.perf_counter() - begin
            result = SweepResult(prepared.case, prepared.plan, kept)
            for suffix in (".csv", ".parquet"):
                begin = time.perf_counter()
                write_table(result, Path(folder) / f"a{suffix}")
                seconds = time.perf_counter() - begin
                size = (Path(folder) / f"a{suffix}").stat().st_size
                print(
                    f"  {size / rows:6.0f} bytes, {1e6 * seconds / rows:6.0f} µs a row to write"
                    f" from the record: {suffix} of {rows} rows"
                )
        size = record.stat().st_size
        print(f"  {size / rows:6.0f} bytes, {1e6 * added / rows:6.0f} µs a row to add: record")


def many(samples: list[Sample], times: int) -> tuple[Prepared, list[Sample]]:
    """The same rows over and over with other digits, as those of a long sweep."""
    count = times * len(samples)
    prepared = of({"over": {"load.line_load": span(1, 2, count, "N/mm")}})
    random = Random(0)

    def digits(of: Solution | Figure | Place) -> dict[str, Any]:
        return {
            name: value * random.uniform(0.9, 1.1)
            for name, value in vars(of).items()
            if isinstance(value, float)
        }

    def figure(of: Figure) -> Figure:
        place = None if of.place is None else replace(of.place, **digits(of.place))
        return replace(of, place=place, **digits(of))

    def other(row: SweepRow) -> SweepRow:
        assert row.solution is not None
        figures = {key: figure(of) for key, of in row.solution.figures.items()}
        return replace(row, solution=replace(row.solution, figures=figures, **digits(row.solution)))

    rows = (samples[k % len(samples)].rows for k in range(count))
    return prepared, [Sample(k, tuple(map(other, of_one))) for k, of_one in enumerate(rows)]


if __name__ == "__main__":
    from distributed import LocalCluster

    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
    solved("grid, bodies shared", of(GRID), 1)
    found = solved("grid, bodies shared", of(GRID), 2)
    solved("Latin hypercube, none shared", of(DRAWN), 2)
    print("what the engine adds")
    overhead("2 processes", lambda work, tasks: Crew(work, 2, apart=True).each(tasks, IDLE))
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        address = cluster.scheduler_address
        overhead("Dask, 2 workers", lambda work, tasks: dask_answers(work, tasks, IDLE, address))
    print("what a row takes")
    sizes(*many(found, 200))
