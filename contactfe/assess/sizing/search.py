"""Which walls to try next: where passing gives way to failing, and where a figure is least.

Nothing here remembers anything. What is asked for follows from all that is known so far, so that it
is the same however many processes find it out.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

TOLERANCE = 0.005
"""Of a wall that is searched for, as a share of the outside diameter."""

_INSIDE = 0.45
"""How far beyond a place that was estimated a wall is tried, over the tolerance: two such walls lie
within the tolerance of one another."""

_APART = 1e-6


@dataclass(frozen=True)
class Point:
    """A wall that was tried, as the search sees it.

    ``ratio`` is that of the governing check, infinite where there is no solution; ``figure`` what
    is to be least; ``sure`` says that nothing more accurate can be asked for.
    """

    share: float
    ratio: float
    passes: bool
    figure: float
    sure: bool


@dataclass(frozen=True)
class Request:
    """A wall to be tried, on both mesh levels where it is to be ``sure``."""

    share: float
    sure: bool


def requests(
    points: Sequence[Point], jumps: Sequence[float] = (), tolerance: float = TOLERANCE
) -> list[Request]:
    """What to try next; empty where every edge and every least value lies within the tolerance.

    ``points`` rise. Each edge between passing and failing walls is followed, and the least figure;
    where no wall passes, the least ratio as well. ``jumps`` are shares from which on walls are
    another thing than up to them: nothing is looked for between neighbours that one parts, as that
    is the edge.
    """
    asked: dict[float, Request] = {}

    def gap(left: Point, right: Point) -> float:
        parted = any(left.share <= at < right.share for at in jumps)
        return 0.0 if parted else right.share - left.share

    def add(request: Request) -> None:
        before = asked.get(request.share, request)
        asked[request.share] = Request(request.share, request.sure or before.sure)

    for left, right in edges(points):
        for request in _of_edge(left, right, gap(left, right), tolerance):
            add(request)
    for request in _of_least(points, lambda p: p.figure, gap, tolerance):
        add(request)
    if not any(point.passes for point in points):
        for request in _of_least(points, lambda p: p.ratio, gap, tolerance):
            add(request)
    return sorted(asked.values(), key=lambda request: request.share)


def edges(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Neighbours of which one passes and one does not."""
    for left, right in pairwise(points):
        if left.passes != right.passes:
            yield left, right


def least(points: Sequence[Point], of: Callable[[Point], float]) -> int | None:
    """The number of the point whose figure is least; None where none has a finite one."""
    number = min(range(len(points)), key=lambda k: of(points[k]), default=None)
    return None if number is None or of(points[number]) == float("inf") else number


def _of_edge(left: Point, right: Point, gap: float, tolerance: float) -> Iterator[Request]:
    if gap <= tolerance * (1.0 + _APART):
        yield from (Request(p.share, True) for p in (left, right) if not p.sure)
        return
    fails, holds = (left, right) if right.passes else (right, left)
    if not holds.ratio <= 1.0 < fails.ratio < float("inf"):
        yield Request(left.share + gap / 2.0, True)  # no solution on one side
        return
    share = (1.0 - left.ratio) / (right.ratio - left.ratio)
    about = left.share + share * gap
    for side in (-_INSIDE, _INSIDE):
        at = about + side * tolerance
        if left.share + _APART < at < right.share - _APART:
            yield Request(at, True)


def _of_least(
    points: Sequence[Point],
    of: Callable[[Point], float],
    gap: Callable[[Point, Point], float],
    tolerance: float,
) -> Iterator[Request]:
    number = least(points, of)
    if number is None:
        return
    here = points[number]
    near = [points[k] for k in (number - 1, number + 1) if 0 <= k < len(points)]
    far = [
        p for p in near
        if gap(*sorted((p, here), key=lambda q: q.share)) > tolerance * (1.0 + _APART)
    ]  # fmt: skip
    for point in far:
        step = 2.0 * _INSIDE * tolerance
        yield Request(here.share + (step if point.share > here.share else -step), False)
    if not far:
        yield from (Request(p.share, True) for p in (here, *near) if not p.sure)
