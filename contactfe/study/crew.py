"""Points solved by this process and others of this machine that share them."""

from __future__ import annotations

import os
import signal
import threading
from collections import Counter, OrderedDict
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import ExitStack, closing, contextmanager, nullcontext
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from queue import SimpleQueue
from types import TracebackType
from typing import Any, Generic, Self, TypeAlias, TypeVar

from contactfe.errors import InputError, SolveError
from contactfe.study.blas import one_thread
from contactfe.study.point import Kept, Point, no_answer
from contactfe.study.shares import Shares

Answer = TypeVar("Answer")
Progress = Callable[[int, int], None]
"""Called with the number of points done and of those known to be needed, which may grow."""

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


FILES, THREADS = 16, 6
"""What each further process takes: open files here, and threads here and of its own."""


def check_begun(processes: int) -> None:
    """Refuse to begin so many further processes where the limits on this one do not let them.

    What they take is taken and given back: beyond a limit they would fail in the midst of things.
    Raises SolveError.
    """
    done = threading.Event()
    with ExitStack() as taken:
        taken.callback(done.set)
        try:
            for _ in range(FILES * processes):
                taken.callback(os.close, os.open(os.devnull, os.O_RDONLY))
            for _ in range(THREADS * processes):
                threading.Thread(target=done.wait, daemon=True).start()
        except (OSError, RuntimeError) as error:
            why = getattr(error, "strerror", None) or error
            raise SolveError(
                f"{processes} more processes cannot be begun: {why}; state --processes 1, or have"
                " the limits on this one raised (ulimit -n, ulimit -u)"
            ) from None


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
        self._progress = progress
        self._done = self._known = 0
        self._kept: Kept = OrderedDict()
        check_begun(processes - self._here)
        self._context = get_context("spawn")
        self._ends, self._open = self._context.Pipe(duplex=False)
        # One executor for each, so that the end of a process is that of its own work alone.
        self._workers = [self._worker() for _ in range(processes - self._here)]
        self._ready: list[Future[None] | None] = [None] * len(self._workers)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self._open.close()  # ends them at once, whatever they are at; to tidy up takes them 0.2 s
        for worker, ready in zip(self._workers, self._ready, strict=True):
            if ready is not None and not ready.done():  # it does not watch the pipe yet
                for process in worker._processes.values():
                    process.terminate()
            worker.shutdown(cancel_futures=True)
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
        """Each of ``left`` points with its answer, as it is found. Raises what a point raises.

        A process is given its first point when it is ready, and another as soon as it has solved
        the one before, whatever this process is at meanwhile.
        """
        here = len(self._workers)  # the number of this process, if it works
        work = _Work(Shares(points, left, here + self._here), self._submit)
        lost: Counter[str] = Counter()
        limit = one_thread() if self._here else nullcontext()
        with closing(work), limit:
            for worker in range(here if left > self._here else 0):
                self._begin(worker, work)
            while left > 0:
                own = work.take(here) if self._here else None
                if own is not None:
                    yield own, own.solve(self.shared, self._kept)
                    left -= 1
                for worker, point, future in work.finished(wait=own is None and left > 0):
                    try:
                        answer = future.result()
                    except BrokenProcessPool:
                        what = f"process {worker}" if point is None else f"point {point.number}"
                        lost[what] += 1
                        self._replace(worker)
                        if lost[what] < TRIES:
                            work.again(point)
                            self._begin(worker, work)
                            continue
                        why = f"its process ended {TRIES} times: out of memory?"
                        if point is None:
                            raise no_answer(f"No process could be begun: {why}") from None
                        answer = point.unsolved(self.shared, why)
                        self._begin(worker, work)
                    assert point is not None
                    yield point, answer
                    left -= 1

    def _begin(self, worker: int, work: _Work[Answer]) -> None:
        """Let a process take its first point as soon as it is ready."""
        ready = self._ready[worker]
        if ready is None:
            with signals_later():
                ready = self._workers[worker].submit(_ready, work.first)
            self._ready[worker] = ready
        ready.add_done_callback(partial(work.begin, worker))

    def _submit(self, worker: int, point: Point[Answer]) -> Future[Answer]:
        with signals_later():
            return self._workers[worker].submit(_solve, point)

    def _replace(self, worker: int) -> None:
        self._workers[worker].shutdown()
        self._workers[worker], self._ready[worker] = self._worker(), None

    def _worker(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(1, self._context, _begin, (self.shared, self._ends))


Finished: TypeAlias = tuple[int, Point[Answer] | None, Future[Answer]]
"""A worker, the point that it had, and what came of it; no point where it did not begin at all."""


class _Work(Generic[Answer]):
    """The points of a study on their way to the workers and back, from whichever thread."""

    def __init__(
        self,
        shares: Shares[Point[Answer]],
        submit: Callable[[int, Point[Answer]], Future[Answer]],
    ) -> None:
        self.first = shares.first()
        self._shares, self._submit = shares, submit
        self._lock, self._closed = threading.RLock(), False
        self._again: list[Point[Answer]] = []
        self._finished: SimpleQueue[Finished[Answer]] = SimpleQueue()

    def take(self, worker: int) -> Point[Answer] | None:
        """The next point of a worker, which is at none."""
        with self._lock:
            return self._shares.take(worker)

    def again(self, point: Point[Answer] | None) -> None:
        """Let a point that ended its process be given once more, to a process of the others."""
        if point is not None:
            with self._lock:
                self._again.append(point)

    def begin(self, worker: int, ready: Future[Any]) -> None:
        """Give a worker that is ready its first point."""
        if ready.exception() is not None:
            self._finished.put((worker, None, ready))
        else:
            self._give(worker)

    def finished(self, *, wait: bool) -> Iterator[Finished[Answer]]:
        """What has come back; if nothing has, ``wait`` for the first."""
        while wait or not self._finished.empty():
            yield self._finished.get()
            wait = False

    def close(self) -> None:
        """Give no more points."""
        with self._lock:
            self._closed = True

    def _give(self, worker: int) -> None:
        with self._lock:
            if self._closed:
                return
            point = self._again.pop() if self._again else self._shares.take(worker)
            if point is None:
                return
            try:
                future = self._submit(worker, point)
            except BrokenProcessPool as error:  # it ended while it had nothing to do
                future = Future()
                future.set_exception(error)
        future.add_done_callback(partial(self._take_back, worker, point))

    def _take_back(self, worker: int, point: Point[Answer], future: Future[Answer]) -> None:
        self._finished.put((worker, point, future))
        if not future.cancelled() and future.exception() is None:
            self._give(worker)


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
    one_thread()
    threading.Thread(target=_end_with, args=(ends,), daemon=True).start()
    _own.append((shared, OrderedDict()))


def _end_with(ends: Connection) -> None:
    """End this process when the other end of the pipe is closed, be it by its owner's death."""
    try:
        ends.recv()
    except (EOFError, OSError):
        os._exit(1)


def _ready(point: Point[Any] | None) -> None:
    """What a process is asked first: to have loaded what a point needs, as it was sent one."""


def _solve(point: Point[Answer]) -> Answer:
    ((shared, kept),) = _own
    return point.solve(shared, kept)
