"""The samples of a sweep over processes of this machine."""

from __future__ import annotations

from collections import OrderedDict, deque
from collections.abc import Generator, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from multiprocessing import get_context
from multiprocessing.connection import Connection

from threadpoolctl import threadpool_limits

from contactfe.assess.processes import begin, signals_later
from contactfe.assess.sweep.result import Sample, SweepRow
from contactfe.assess.sweep.task import Kept, Solve, Task, Work

LONGEST_BLOCK = 32
"""Samples in a row that one process takes at most, as those share bodies."""

TRIES = 2
"""How often a sample may end its process before it is left unsolved."""


def local_samples(
    work: Work,
    tasks: Iterator[Task],
    left: int,
    processes: int,
    solve: Solve,
) -> Generator[Sample]:
    """Solve ``left`` tasks, and give each as it is finished.

    With one process the work is done in this one. Others are started afresh (not forked, which
    threads do not survive), run BLAS on one thread, pay no heed to Ctrl-C, and end when this
    iteration is closed or this process dies. One that ends before its time, as where memory runs
    out, costs the sample it was at a second try, and the sweep a moment to start another.
    """
    processes = max(1, min(processes, left))
    if processes == 1:
        return _alone(work, tasks, solve)
    return _Crew(work, processes, solve).samples(tasks, left)


def block_length(left: int, workers: int, longest: int) -> int:
    """How many samples a worker takes next: fewer towards the end, so that none waits for another.

    >>> block_length(1000, 2, 32), block_length(40, 2, 32), block_length(3, 2, 32)
    (32, 5, 1)
    """
    return max(1, min(longest, left // (4 * workers)))


def unsolved(work: Work, task: Task, error: str) -> Sample:
    """A sample that no process could solve."""
    return Sample(task.number, tuple(SweepRow(name, None, 0.0, error) for name in work.sections))


def _alone(work: Work, tasks: Iterator[Task], solve: Solve) -> Generator[Sample]:
    kept: Kept = OrderedDict()
    with threadpool_limits(limits=1, user_api="blas"):
        for task in tasks:
            yield solve(work, task, kept)


class _Crew:
    def __init__(self, work: Work, processes: int, solve: Solve) -> None:
        self.work = work
        self.solve = solve
        self._context = get_context("spawn")
        self._ends, self._open = self._context.Pipe(duplex=False)
        # One executor for each, so that the end of a process is that of its own work alone.
        self._workers = [self._worker() for _ in range(processes)]

    def _worker(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(1, self._context, _begin, (self.work, self.solve, self._ends))

    def samples(self, tasks: Iterator[Task], left: int) -> Generator[Sample]:
        finished = False
        try:
            yield from self._gathered(tasks, left)
            finished = True
        finally:
            if not finished:
                self._open.close()  # ends them at once, whatever they are at
            for worker in self._workers:
                worker.shutdown(cancel_futures=True)
            self._open.close()
            self._ends.close()

    def _gathered(self, tasks: Iterator[Task], left: int) -> Iterator[Sample]:
        count = len(self._workers)
        own: list[deque[Task]] = [deque() for _ in range(count)]
        tries: dict[int, int] = {}
        busy: dict[Future[Sample], tuple[int, Task]] = {}
        idle = list(range(count))
        while True:
            for worker in idle:
                if not own[worker]:
                    block = deque(islice(tasks, block_length(left, count, LONGEST_BLOCK)))
                    own[worker] = block
                    left -= len(block)
                if own[worker]:
                    task = own[worker].popleft()
                    busy[self._submit(worker, task)] = worker, task
            if not busy:
                return
            done, _ = wait(busy, return_when=FIRST_COMPLETED)
            idle = []
            for future in done:
                worker, task = busy.pop(future)
                idle.append(worker)
                try:
                    sample = future.result()
                except BrokenProcessPool:
                    self._workers[worker].shutdown()
                    self._workers[worker] = self._worker()
                    tries[task.number] = tries.get(task.number, 0) + 1
                    if tries[task.number] < TRIES:
                        own[worker].appendleft(task)
                        continue
                    sample = unsolved(
                        self.work, task, f"its process ended {TRIES} times: out of memory?"
                    )
                yield sample

    def _submit(self, worker: int, task: Task) -> Future[Sample]:
        with signals_later():
            return self._workers[worker].submit(_solve, task)


_own: list[tuple[Work, Solve, Kept]] = []
"""In a worker, the work that it is for, what it does, and the bodies that it keeps."""


def _begin(work: Work, solve: Solve, ends: Connection) -> None:
    begin(ends)
    _own.append((work, solve, OrderedDict()))


def _solve(task: Task) -> Sample:
    ((work, solve, kept),) = _own
    return solve(work, task, kept)
