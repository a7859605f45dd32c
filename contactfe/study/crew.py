"""Points solved by this process and others of this machine that share them."""

from __future__ import annotations

import os
import signal
import threading
from collections import OrderedDict, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, nullcontext
from multiprocessing import get_context
from multiprocessing.connection import Connection
from types import TracebackType
from typing import Any, Generic, NamedTuple, Self, TypeVar

from threadpoolctl import threadpool_limits

from contactfe.errors import InputError
from contactfe.study.point import Kept, Point
from contactfe.study.shares import Shares

Answer = TypeVar("Answer")
Progress = Callable[[int, int], None]
"""Called with the number of points done and of those known to be needed, which may grow."""

AHEAD = 2
"""Points that another process has at a time where this one works too, so that it need not wait."""

TRIES = 2
"""How often a point may end its process before it is left unsolved."""


def usable_cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0))


def how_many(processes: int | None) -> int:
    """The processes asked for; as many as there are cores to use where it is None.

    Raises InputError for fewer than one.
    """
    if processes is None:
        return usable_cores()
    if processes < 1:
        raise InputError(f"processes = {processes} must be at least 1")
    return processes


class Crew:
    """Processes that solve the points of a study, ``shared`` by all of which is sent to each once.

    With one process the work is done in this one. Others are started afresh (not forked, which
    threads do not survive) when there is work for them. They run BLAS on one thread, pay no heed to
    Ctrl-C, and end when this process closes the crew or dies. This process works as one of those
    asked for, as it is ready long before the others, unless the crew is ``apart``: then no point
    can end it. A process that ends before its time, as where memory runs out, costs the point
    it was at a second try.
    """

    def __init__(
        self,
        shared: Any,
        processes: int = 1,
        progress: Progress | None = None,
        *,
        apart: bool = False,
    ) -> None:
        self.shared = shared
        self._here = processes == 1 or not apart
        self._ahead = AHEAD if self._here else 1
        self._progress = progress
        self._done = self._known = 0
        self._kept: Kept = OrderedDict()
        self._context = get_context("spawn")
        self._ends, self._open = self._context.Pipe(duplex=False)
        # One executor for each, so that the end of a process is that of its own work alone.
        self._workers = [self._worker() for _ in range(processes - self._here)]

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if kind is not None:
            self._open.close()  # ends them at once, whatever they are at
        for worker in self._workers:
            worker.shutdown(cancel_futures=True)
        self._open.close()
        self._ends.close()

    def solve(
        self,
        points: Sequence[Point[Answer]],
        known: dict[int, Answer] | None = None,
        keep: Callable[[Answer], None] | None = None,
        *,
        counted: bool = True,
    ) -> list[Answer]:
        """The answers to all points, in their order.

        Those ``known``, by the numbers of their points, are not solved again; ``keep`` is called
        with each of the others as soon as it is there. The progress counts them if ``counted``.
        Raises what a point raises.
        """
        found = dict(known or {})
        left = [point for point in points if point.number not in found]

        def tell(done: int, known: int = 0) -> None:
            if counted and self._progress is not None:
                self._done, self._known = self._done + done, self._known + known
                self._progress(self._done, self._known)

        tell(len(points) - len(left), len(points))
        for point, answer in self.each(left, len(left)):
            found[point.number] = answer
            if keep is not None:
                keep(answer)
            tell(1)
        return [found[point.number] for point in points]

    def each(
        self, points: Iterable[Point[Answer]], left: int
    ) -> Iterator[tuple[Point[Answer], Answer]]:
        """Each of ``left`` points with its answer, as it is found. Raises what a point raises."""
        here = len(self._workers)  # the number of this process, if it works
        shares = Shares(points, left, here + self._here)
        at_work: list[deque[_Job[Answer]]] = [deque() for _ in self._workers]
        tries: dict[int, int] = {}
        limit = threadpool_limits(limits=1, user_api="blas") if self._here else nullcontext()
        with limit:
            while True:
                own = shares.take(here) if self._here else None
                for worker, jobs in enumerate(at_work):
                    self._fill(worker, jobs, shares)
                if own is not None:
                    yield own, own.solve(self.shared, self._kept)
                elif any(at_work):
                    wait([jobs[0].future for jobs in at_work if jobs], None, FIRST_COMPLETED)
                else:
                    return
                for worker, jobs in enumerate(at_work):
                    while jobs and jobs[0].future.done():
                        point, future = jobs.popleft()
                        try:
                            answer = future.result()
                        except BrokenProcessPool:
                            self._replace(worker)
                            tries[point.number] = tries.get(point.number, 0) + 1
                            for other in [*jobs][::-1]:
                                shares.put_back(worker, other.point)
                            jobs.clear()
                            if tries[point.number] < TRIES:
                                shares.put_back(worker, point)
                                continue
                            why = f"its process ended {TRIES} times: out of memory?"
                            answer = point.unsolved(self.shared, why)
                        yield point, answer

    def _fill(self, worker: int, jobs: deque[_Job[Answer]], shares: Shares[Point[Answer]]) -> None:
        """Give a worker as many points as it is to have at a time."""
        while len(jobs) < self._ahead:
            point = shares.take(worker, from_others=not jobs)
            if point is None:
                return
            try:
                with signals_later():
                    future = self._workers[worker].submit(_solve, point)
            except BrokenProcessPool:
                shares.put_back(worker, point)
                if jobs:  # which are seen to next
                    return
                self._replace(worker)
            else:
                jobs.append(_Job(point, future))

    def _replace(self, worker: int) -> None:
        self._workers[worker].shutdown()
        self._workers[worker] = self._worker()

    def _worker(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(1, self._context, _begin, (self.shared, self._ends))


class _Job(NamedTuple, Generic[Answer]):
    """A point that a worker has."""

    point: Point[Answer]
    future: Future[Answer]


@contextmanager
def signals_later() -> Iterator[None]:
    """Keep signals waiting: processes and threads started meanwhile are born deaf to them.

    Ctrl-C is for this process alone. The signal of a broken pipe ends a process where gmsh is
    loaded, which takes away Python's own answer to it; its threads are to get an error instead.
    """
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGPIPE})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_own: list[tuple[Any, Kept]] = []
"""In a worker, what all points share and what it keeps."""


def _begin(shared: Any, ends: Connection) -> None:
    """Make this process a worker: BLAS on one thread, and its end with that of its owner.

    ``ends`` is one end of a pipe whose other the owner holds.
    """
    threadpool_limits(limits=1, user_api="blas")
    threading.Thread(target=_end_with, args=(ends,), daemon=True).start()
    _own.append((shared, OrderedDict()))


def _end_with(ends: Connection) -> None:
    """End this process when the other end of the pipe is closed, be it by its owner's death."""
    try:
        ends.recv()
    except (EOFError, OSError):
        os._exit(1)


def _solve(point: Point[Answer]) -> Answer:
    ((shared, kept),) = _own
    return point.solve(shared, kept)
