from sizings import Instead, case

from contactfe.assess.results import Value
from contactfe.assess.sizing.answers import bands, best
from contactfe.assess.sizing.candidates import wall
from contactfe.assess.sizing.judge import Levels, Pair, judge
from contactfe.assess.sizing.pool import Job

STATED = case()


def walls(peaks):
    """Walls of 0.1, 0.2, ... of the diameter with these peaks, MPa, of 460 that are allowed."""
    shares = [0.1 * (k + 1) for k in range(len(peaks))]
    made = Instead(STATED, contact=lambda s: peaks[round(10 * s) - 1])
    pairs = [Pair(trial) for trial in made.trials([Job(wall(150.0, s)) for s in shares], int)]
    levels = Levels(pairs)
    return [judge(STATED, pair, levels, STATED.sizing.checks if STATED.sizing else ("stress",))
            for pair in pairs]  # fmt: skip


def test_every_run_of_walls_that_pass_is_a_band():
    low, high = 600.0, 700.0
    found = walls([high, 400.0, low, 410.0])
    first, second = bands(found)
    assert (first.least, first.most) == (found[1], found[1])
    assert (first.below, first.above) == (found[0], found[2])
    assert (second.least, second.below, second.above) == (found[3], found[2], None)
    assert bands(found[2:3]) == ()


def test_walls_are_alike_as_far_as_the_uncertainty_of_both_reaches():
    """0.6 % each of what only the coarse level knows: 1.1 % apart they may be alike, 1.5 % not."""
    found = walls([600.0, 404.4, 400.0, 406.0])
    answer = best(found, lambda w: w.post.value, lambda w: w.post.uncertainty)
    assert answer.wall is found[2]
    assert (answer.low, answer.high) == (found[1], found[3])
    assert (answer.alike_from, answer.alike_to) == (found[1].wall, found[2].wall)
    assert found[2].post == Value(400.0, 0.006 * 400.0)
