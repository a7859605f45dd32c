"""Points dealt out to workers, so that points that share bodies go to one of them."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from itertools import islice
from typing import Generic, TypeVar

from contactfe.study.point import Point

P = TypeVar("P", bound=Point[object])

SPLIT_FROM = 12
"""Points of one group from which two workers share them: to mesh and factor the bodies once more
takes as long as to solve about ten contacts on them."""

LONGEST = 256
"""Points that a worker is dealt at a time, so that no more are made than are soon solved."""


class Shares(Generic[P]):
    """Points in their order, of which every worker takes a run of its own.

    ``left`` is how many ``points`` there are, which are made as they are dealt.
    """

    def __init__(self, points: Iterable[P], left: int, workers: int) -> None:
        self._points = iter(points)
        self._left = left
        self._without = workers  # workers that were dealt nothing yet
        self._next: P | None = None  # the first point of the next run, where it is made already
        self._own: list[deque[P]] = [deque() for _ in range(workers)]

    def take(self, worker: int) -> P | None:
        """The next point of a worker; one that has none left takes over part of the longest run.

        None where there is none.
        """
        own = self._own[worker]
        if not own:
            own.extend(self._dealt() or self._given())
        return own.popleft() if own else None

    def first(self) -> P | None:
        """The first point, which is still to be taken; None where there is none."""
        if self._next is None:
            self._next = next(self._points, None)
        return self._next

    def _dealt(self) -> list[P]:
        """An even share of the points that are left, its last group whole."""
        count = min(LONGEST, -(-self._left // (self._without or len(self._own))))
        run = [] if self._next is None else [self._next]
        run += islice(self._points, max(count - len(run), 0))
        self._next = None
        for point in self._points if run else ():
            alike = [one for one in run[-SPLIT_FROM:] if one.group == point.group]
            if not alike or len(alike) == SPLIT_FROM:
                self._next = point
                break
            run.append(point)
        self._left -= len(run)
        self._without = max(self._without - 1, 0)
        return run

    def _given(self) -> list[P]:
        """The back half of the longest run: whole groups, or half of a long one."""
        run = max(self._own, key=len)
        half = -(-len(run) // 2)
        cut = len(run) - half
        while 0 < cut < len(run) and run[cut].group == run[cut - 1].group:
            cut += 1
        if cut == len(run) and len(run) >= SPLIT_FROM:
            cut = len(run) - half
        return [run.pop() for _ in range(len(run) - cut)][::-1]
