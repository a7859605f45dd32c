"""Points dealt out: each once, in runs that keep groups together."""

from collections import Counter
from dataclasses import dataclass
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from contactfe.study.shares import LONGEST, SPLIT_FROM, Shares


@dataclass(frozen=True)
class Point:
    number: int
    group: int


def points(sizes):
    """Points of groups of those sizes, one after the other."""
    groups = [group for group, size in enumerate(sizes) for _ in range(size)]
    return [Point(number, group) for number, group in enumerate(groups)]


@given(
    sizes=st.lists(st.integers(1, 40), min_size=1, max_size=12),
    count=st.integers(1, 5),
    seed=st.integers(0, 1000),
)
def test_every_point_is_taken_once_whoever_is_faster(sizes, count, seed):
    of, by = points(sizes), Random(seed)
    shares, taken, workers = Shares(iter(of), len(of), count), [], list(range(count))
    while workers:
        worker = by.choice(workers)
        point = shares.take(worker)
        if point is None:
            workers.remove(worker)
            continue
        taken.append(point)
    left = [p for w in range(count) for p in iter(lambda w=w: shares.take(w), None)]
    assert Counter(taken + left) == Counter(of)


def test_runs_are_even_in_order_and_of_whole_groups():
    of = points([5] * 10)
    shares = Shares(iter(of), 50, 2)
    one, other = shares.take(0), shares.take(1)
    rest = [list(shares._own[worker]) for worker in (0, 1)]
    assert [one, *rest[0], other, *rest[1]] == of
    assert [len(run) for run in rest] == [24, 24]
    # An even share ends within a group: the whole group goes with it.
    shares = Shares(iter(points([7, 7, 7])), 21, 2)
    shares.take(0), shares.take(1)
    assert [len(run) for run in shares._own] == [13, 6]


def test_a_long_group_is_shared():
    shares = Shares(iter(points([40])), 40, 2)
    shares.take(0), shares.take(1)
    assert [len(run) for run in shares._own] == [19, 19]


def test_no_more_points_are_made_than_are_soon_solved():
    made = []

    def points_of_their_own():
        for number in range(10_000):
            made.append(number)
            yield Point(number, number)

    shares = Shares(points_of_their_own(), 10_000, 3)
    for worker in range(3):
        shares.take(worker)
    assert len(made) <= 3 * (LONGEST + 1)


def test_who_has_nothing_left_takes_over_whole_groups_or_half_of_a_long_one():
    def over(sizes):
        """What is left to one worker, and what the other takes over of it."""
        of = points(sizes)
        shares = Shares(iter(of), len(of), 1)
        shares._own = [shares._own[0].__class__(), shares._own[0].__class__(of)]
        shares._points = iter(())
        first = shares.take(0)
        return len(shares._own[1]), ([] if first is None else [first, *shares._own[0]])

    kept, taken = over([1, 1, 1, 1, 1])
    assert (kept, [p.number for p in taken]) == (2, [2, 3, 4])
    kept, taken = over([4, 4])
    assert (kept, [p.group for p in taken]) == (4, [1, 1, 1, 1])
    assert over([1, 3]) == (4, [])  # half of it would begin within a group
    assert over([SPLIT_FROM])[0] == SPLIT_FROM // 2
    assert over([SPLIT_FROM - 1]) == (SPLIT_FROM - 1, [])  # not worth its bodies
    assert over([1])[0] == 0  # its own worker is at another
