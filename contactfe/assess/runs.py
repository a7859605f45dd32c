"""Many contacts of one case solved, by this process alone or by several that share the work."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace
from itertools import groupby
from multiprocessing import get_context
from multiprocessing.connection import Connection
from types import TracebackType
from typing import Any, TypeVar

from threadpoolctl import threadpool_limits

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compare
from contactfe.assess.processes import begin, signals_later
from contactfe.assess.readout import read_out
from contactfe.assess.results import Comparison
from contactfe.assess.row import Row
from contactfe.case import Case, Contact, Section
from contactfe.errors import InputError, SolveError

Job = tuple[Section, Contact]
Block = deque[Job]
Done = TypeVar("Done")

SPLIT_FROM = 12
"""Jobs of one plate from which two processes share them: to mesh and factor the bodies once more
takes as long as to solve about ten contacts on them."""


def solve_row(case: Case, section: Section, contact: Contact, bodies: Bodies) -> Row:
    """Solve one contact; an InputError or SolveError becomes a row that states it."""
    at = case.at(contact)
    try:
        at = loaded(at, section, bodies)
        levels = solve_levels(at, section, bodies)
    except (InputError, SolveError) as error:
        text = str(error).removeprefix(f"{case.source}: ")
        return Row(section.name, contact, error=text, refused=isinstance(error, InputError))
    return Row(
        section.name, contact, read_out(levels).values,
        motion=levels.fine.reading.patch.state.motion, stopped=levels.stopped,
        line_load=at.line_loads[0], spread=at.spread,
    )  # fmt: skip


def assess_at(case: Case, section: Section, contact: Contact) -> Comparison:
    """All that ``compare`` finds of one section at one contact."""
    return compare(replace(case.at(contact), sections=(section,), envelope=None))


def usable_cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0))


class Crew:
    """Processes that each keep the bodies of a case, so that like contacts share them.

    With one process the work is done in this one. Others are started afresh (not forked, which
    threads do not survive) when there is work for them. They run BLAS on one thread, pay no heed to
    Ctrl-C, and end when this process closes the crew or dies.
    """

    def __init__(self, case: Case, processes: int) -> None:
        self.case = case
        self.processes = processes
        self._bodies = Bodies(case)
        context = get_context("spawn")
        ends, self._open = context.Pipe(duplex=False)
        # One executor for each, as work has to go to the process that has the bodies for it.
        self._workers = [
            ProcessPoolExecutor(1, context, _begin, (case, ends)) for _ in range(processes)
        ]

    def __enter__(self) -> Crew:
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

    def rows(self, jobs: Sequence[Job]) -> Iterator[Row]:
        """A row for each job, as they are finished; jobs of one plate belong together in order."""
        if self.processes == 1:
            with threadpool_limits(limits=1, user_api="blas"):
                for section, contact in jobs:
                    yield solve_row(self.case, section, contact, self._bodies)
            return
        queues = shares(jobs, self.processes)

        def more(worker: int) -> Future[Row] | None:
            job = take(queues, worker)
            return None if job is None else self._submit(worker, _solve, *job)

        yield from self._gathered(more)

    def assessed(self, jobs: Sequence[Job]) -> list[Comparison]:
        """What ``assess_at`` finds of each job, in their order. Raises what it raises."""
        if min(self.processes, len(jobs)) == 1:
            return [assess_at(self.case, *job) for job in jobs]
        left = deque(enumerate(jobs))

        def more(worker: int) -> Future[tuple[int, Comparison]] | None:
            if not left:
                return None
            number, job = left.popleft()
            return self._submit(worker, _assess, number, *job)

        return [found for _, found in sorted(self._gathered(more), key=lambda pair: pair[0])]

    def _submit(self, worker: int, do: Callable[..., Done], *what: Any) -> Future[Done]:
        with signals_later():
            return self._workers[worker].submit(do, *what)

    def _gathered(self, more: Callable[[int], Future[Done] | None]) -> Iterator[Done]:
        """What the processes return, each given ``more`` to do as long as there is any."""
        busy: dict[Future[Done], int] = {}
        idle = list(range(self.processes))
        try:
            while True:
                for worker in idle:
                    future = more(worker)
                    if future is not None:
                        busy[future] = worker
                if not busy:
                    return
                done, _ = wait(busy, return_when=FIRST_COMPLETED)
                idle = [busy.pop(future) for future in done]
                yield from (future.result() for future in done)
        except BrokenProcessPool as error:
            raise SolveError(
                "a process ended before its work was done: out of memory, or a script that does"
                " not keep its work below 'if __name__ == \"__main__\":'"
            ) from error


def shares(jobs: Sequence[Job], count: int) -> list[deque[Block]]:
    """Jobs cut into blocks of one section and plate, dealt out in order and about evenly."""
    blocks = [deque(of) for _, of in groupby(jobs, lambda job: (job[0].name, job[1].offset))]
    queues: list[deque[Block]] = [deque() for _ in range(count)]
    before = 0
    for block in blocks:
        # By the middle of the block, so that the shares stay contiguous and even.
        queues[int(count * (before + len(block) / 2) / len(jobs))].append(block)
        before += len(block)
    return queues


def take(queues: list[deque[Block]], worker: int) -> Job | None:
    """The next job of a worker; one without work takes over part of the longest queue."""
    own = queues[worker]
    if not own:
        own.extend(_given(max(queues, key=lambda queue: sum(map(len, queue)))))
    if not own:
        return None
    job = own[0].popleft()
    if not own[0]:
        own.popleft()
    return job


def _given(queue: deque[Block]) -> list[Block]:
    """The back half of a queue: whole blocks if there are some, or half of a long one."""
    if len(queue) > 1:
        return [queue.pop() for _ in range(len(queue) // 2)][::-1]
    if queue and len(queue[0]) >= SPLIT_FROM:
        return [deque([queue[0].pop() for _ in range(len(queue[0]) // 2)][::-1])]
    return []


_kept: list[Bodies] = []
"""In a worker, the bodies of its case."""


def _begin(case: Case, ends: Connection) -> None:
    begin(ends)
    _kept.append(Bodies(case))


def _solve(section: Section, contact: Contact) -> Row:
    (bodies,) = _kept
    return solve_row(bodies.case, section, contact, bodies)


def _assess(number: int, section: Section, contact: Contact) -> tuple[int, Comparison]:
    (bodies,) = _kept
    return number, assess_at(bodies.case, section, contact)
