"""Trials of one case, made by this process alone or by several that share them."""

from collections import deque
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import Self

from threadpoolctl import threadpool_limits

from contactfe.assess.bodies import Bodies
from contactfe.assess.runs import Crew
from contactfe.assess.sizing.record import Candidate, Trial
from contactfe.assess.sizing.trial import attempt, of_steel
from contactfe.case import Case, Material
from contactfe.errors import SolveError


@dataclass(frozen=True)
class Job:
    """A candidate to be tried; on the fine level where its coarse trial is given."""

    candidate: Candidate
    coarse: Trial | None = None
    margin: float = 1.0  # of the stress up to which loads grow


AHEAD = 2
"""Jobs that another process has at a time, so that it need not wait for this one to end its own."""


class Pool(Crew):
    """A crew that makes trials. What they come to does not depend on who makes which.

    This process works as well, as one of those asked for: it is ready long before the others.
    """

    def __init__(self, case: Case, processes: int) -> None:
        super().__init__(case, max(processes - 1, 1))
        self._others = processes - 1

    def __enter__(self) -> Self:
        return self

    def trials(
        self, jobs: Sequence[Job], progress: Callable[[], None] | None = None
    ) -> list[Trial]:
        """A trial for each job, in their order; ``progress`` is called after each."""
        tell = progress or (lambda: None)
        left = deque(enumerate(jobs))
        done: dict[int, Trial] = {}
        busy: dict[Future[tuple[int, Trial]], int] = {}
        try:
            with threadpool_limits(limits=1, user_api="blas"):
                while left or busy:
                    for worker in range(self._others):
                        for _ in range(AHEAD - list(busy.values()).count(worker)):
                            if len(left) > 1:  # one is for this process
                                task = (self.case, *left.popleft())
                                busy[self._submit(worker, _try, *task)] = worker
                    if left:
                        number, job = left.popleft()
                        done[number] = _try(self.case, number, job)[1]
                        tell()
                    ready, _ = wait(
                        busy, timeout=0.0 if left else None, return_when=FIRST_COMPLETED
                    )
                    for future in ready:
                        del busy[future]
                        number, trial = future.result()
                        done[number] = trial
                        tell()
        except BrokenProcessPool as error:
            raise SolveError(
                "a process ended before its work was done: out of memory, or a script that does"
                " not keep its work below 'if __name__ == \"__main__\":'"
            ) from error
        return [done[number] for number in range(len(jobs))]


_kept: dict[Material | None, Bodies] = {}
"""The bodies of the case that this process works on, for each steel that takes the post's place."""


def _try(case: Case, number: int, job: Job) -> tuple[int, Trial]:
    at = of_steel(case, job.candidate)
    bodies = _kept.get(job.candidate.steel)
    if bodies is None or bodies.case != at:
        bodies = _kept[job.candidate.steel] = Bodies(at)
    return number, attempt(at, job.candidate, bodies, job.coarse, job.margin)
