import math
from dataclasses import replace

import pytest
from sizings import Instead, case

from contactfe.assess.sizing.answers import (
    bands,
    best,
    chosen,
    concentration,
    ratio,
    unchanging,
    worst_unchanging,
)
from contactfe.assess.sizing.candidates import wall
from contactfe.assess.sizing.judge import Levels, Pair, judge
from contactfe.assess.sizing.trial import Job
from contactfe.assess.value import Value

STATED = case()


def walls(peaks):
    """Walls of 0.1, 0.2, ... of the diameter with these peaks, MPa, of 460 that are allowed."""
    shares = [0.1 * (k + 1) for k in range(len(peaks))]
    made = Instead(STATED, contact=lambda s: peaks[round(10 * s) - 1])
    pairs = [
        Pair(trial) for trial in made.solve([Job(k, wall(150.0, s)) for k, s in enumerate(shares)])
    ]
    levels = Levels(pairs)
    return [judge(STATED, pair, levels, STATED.sizing.checks if STATED.sizing else ("stress",))
            for pair in pairs]  # fmt: skip


def test_every_run_of_walls_that_pass_is_a_band():
    low, high = 600.0, 700.0
    found = walls([high, 400.0, low, 410.0])
    first, second = bands(found)
    assert (first.least, first.most) == (found[1], found[1])
    assert (first.fails_below, first.fails_above) == (found[0], found[2])
    assert (second.least, second.fails_below, second.fails_above) == (found[3], found[2], None)
    assert bands(found[2:3]) == ()
    # At the ends of the range there is no wall beyond.
    (thin,), (thick,) = bands(found[1:3]), bands(found[2:])
    assert (thin.fails_below, thin.fails_above) == (None, found[2])
    assert (thick.fails_below, thick.fails_above) == (found[2], None)


def test_of_sizes_as_heavy_as_one_another_the_less_stressed_is_chosen():
    _, thin, thick = walls([1.0, 440.0, 420.0])
    assert chosen([thin, thick])[0] is thin  # the lighter, though more stressed
    heavy = replace(thin, mass_per_length=thick.mass_per_length)
    assert chosen([heavy, thick])[0] is thick is chosen([thick, heavy])[0]


def test_a_wall_that_was_not_solved_is_no_answer():
    (solved,) = walls([400.0])
    trial = replace(Instead(STATED)._trial(Job(0, wall(150.0, 0.2))), error="no mesh held")
    unsolved = judge(STATED, Pair(trial), Levels([]), ("stress",))
    assert ratio(unsolved) == concentration(unsolved) == math.inf
    for of in (ratio, concentration):
        assert best([unsolved, solved], of, lambda _: 0.0).wall is solved
        assert best([unsolved], of, lambda _: 0.0) is None
    assert chosen([unsolved, solved]) == (None, solved)  # which does not pass: a bore of 0.1


def test_walls_are_alike_as_far_as_the_uncertainty_of_both_reaches():
    """0.6 % each of what only the coarse level knows: 1.1 % apart they may be alike, 1.5 % not."""
    found = walls([600.0, 404.4, 400.0, 406.0])
    answer = best(
        found, lambda w: w.post_peak_von_mises.value, lambda w: w.post_peak_von_mises.uncertainty
    )
    assert answer.wall is found[2]
    assert (answer.low, answer.high) == (found[1], found[3])
    assert (answer.alike_from, answer.alike_to) == (found[1].wall, found[2].wall)
    assert found[2].post_peak_von_mises == Value(400.0, 0.006 * 400.0)


def test_a_step_of_strength_alone_is_no_work_of_the_wall():
    def weld(wall, ratio):
        check = replace(
            wall.checks[0], key="weld", demand=ratio, resistance=1.0, ratio_uncertainty=0.0
        )
        return replace(wall, checks=(*wall.checks, check))

    found = walls([500.0, 400.0, 420.0, 440.0])
    strengths = (355.0, 355.0, 355.0, 295.0)
    stepped = [
        weld(replace(wall, yield_strength=Y), 1.275 if Y == 355.0 else 1.331)
        for wall, Y in zip(found, strengths, strict=True)
    ]
    assert "weld" in unchanging(stepped)
    assert "von_mises_post" not in unchanging(stepped)
    assert worst_unchanging([replace(w, unchanging=frozenset({"weld"})) for w in stepped])[
        0
    ].ratio == pytest.approx(1.331)
    # Of walls of one strength each, or where it changes within one, nothing can be said.
    apart = [replace(w, yield_strength=300.0 + k) for k, w in enumerate(stepped)]
    assert unchanging(apart) == frozenset()
    other = weld(replace(found[0], yield_strength=355.0), 1.2)
    assert "weld" not in unchanging([other, *stepped[1:]])
