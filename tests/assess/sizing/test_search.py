import math

from hypothesis import given
from hypothesis import strategies as st

from contactfe.assess.sizing.search import TOLERANCE, Point, Request, edges, least, requests

INF = float("inf")


def point(share, ratio, figure=1.0, sure=False, passes=None):
    return Point(share, ratio, ratio <= 1.0 if passes is None else passes, figure, sure)


def search(ratio, figure, grid, passes=lambda _: True):
    """Fulfil requests from formulas until there are none; returns points and rounds."""
    known = dict.fromkeys(grid, False)
    for rounds in range(40):
        points = [
            point(s, ratio(s), figure(s), sure, ratio(s) <= 1.0 and passes(s))
            for s, sure in sorted(known.items())
        ]
        asked = requests(points)
        if not asked:
            return points, rounds
        for request in asked:
            known[request.share] = known.get(request.share, False) or request.sure
    raise AssertionError("no end")


GRID = [0.05 + 0.45 * k / 20 for k in range(21)]


@given(st.floats(0.07, 0.2), st.floats(0.25, 0.45), st.floats(0.08, 0.48), st.floats(0.5, 6.0))
def test_edges_and_the_least_are_found_to_the_tolerance(low, high, best, power):
    """A ratio that is 1 at two walls, and a figure that is least at a third, smooth or not."""

    def ratio(s):
        return 1.0 + 8.0 * (s - low) * (s - high)

    points, _ = search(ratio, lambda s: abs(s - best) ** power, GRID)
    pairs = list(edges(points))
    assert len(pairs) == 2
    for (left, right), true in zip(pairs, (low, high), strict=True):
        assert left.share <= true + 1e-9
        assert right.share >= true - 1e-9
        assert right.share - left.share <= TOLERANCE * 1.001
        assert left.sure
        assert right.sure
    number = least(points, lambda p: p.figure)
    assert abs(points[number].share - best) <= TOLERANCE * 1.001
    assert all(points[k].sure for k in (number - 1, number, number + 1))


def test_few_walls_are_needed():
    """An edge of a smooth ratio takes two walls, the least a few, on three levels of effort."""
    points, rounds = search(lambda s: 1.2 - s, lambda s: abs(s - 0.31), GRID)
    assert len(points) <= len(GRID) + 2 + 4
    assert rounds <= 5


def test_a_verdict_that_no_ratio_tells_is_halved():
    """A clause out of its scope does not pass, whatever its ratio."""
    points, _ = search(lambda _: 0.5, lambda s: s, GRID, passes=lambda s: s > 0.283)
    ((left, right),) = edges(points)
    assert left.share <= 0.283 < right.share
    assert right.share - left.share <= TOLERANCE * 1.001


def test_a_band_narrower_than_the_grid_is_found_where_nothing_passes_at_first():
    def ratio(s):
        return 0.999 + 20.0 * (s - 0.2611) ** 2  # passes within 0.007 of it

    assert all(ratio(s) > 1.0 for s in GRID)
    points, _ = search(ratio, lambda s: s, GRID)
    assert any(p.passes for p in points)


def test_across_a_jump_nothing_is_looked_for():
    """Both sides of it are made sure, and that is all, for an edge as for what is least there."""
    points = [point(0.40, 0.9, 2.0), point(0.43, 0.8, 1.0), point(0.5, 1.2, 1.5)]
    asked = requests(points, jumps=(0.43,))
    assert asked == [Request(0.43 - 0.0045, False), Request(0.43, True), Request(0.5, True)]
    assert any(0.43 < request.share < 0.5 for request in requests(points))


def test_the_ends_of_the_range_and_what_is_not_solved():
    points, _ = search(lambda s: INF if s < 0.1 else 0.5, lambda s: INF if s < 0.1 else s, GRID)
    number = least(points, lambda p: p.figure)
    assert points[number].share - 0.1 <= TOLERANCE * 1.001
    assert points[number].sure
    assert least([point(0.1, INF, INF)], lambda p: p.figure) is None
    assert requests([point(0.1, INF, INF), point(0.2, INF, INF)]) == []


def test_a_request_is_for_both_levels_where_either_asks_for_them():
    points = [
        point(0.100, 1.2, 3.0, True), point(0.104, 0.9, 2.0), point(0.108, 0.8, 3.0, True),
    ]  # fmt: skip
    assert requests(points) == [Request(0.104, True)]
    assert math.isclose(requests([point(0.1, 0.5, 1.0), point(0.2, 0.5, 2.0)])[0].share, 0.1045)
