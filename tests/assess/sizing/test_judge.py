"""Walls judged from trials that are made up: figures by 1 % or so, and every check."""

from dataclasses import replace

import pytest
from restated import restated
from sizings import BEYOND, Instead, case, check

from contactfe.assess.accuracy import PARTIAL_SLIP
from contactfe.assess.sizing import judge as module
from contactfe.assess.sizing.candidates import wall
from contactfe.assess.sizing.judge import Levels, Pair, judge
from contactfe.assess.sizing.trial import Job
from contactfe.assess.value import Value
from contactfe.case.alignment import Spread, Strip
from contactfe.case.model import Case

STATED = case()
CHECKS = ("stress", "hand")


def trial(share, coarse=None, level=0.0, **changes):
    made = Instead(STATED, level=level, contact=lambda _: 400.0)._trial(
        Job(0, wall(150.0, share), coarse)
    )
    return replace(made, **changes)


def both(share, level):
    coarse = trial(share)
    return Pair(coarse, trial(share, coarse, level))


def judged(pair, others=(), of: Case = STATED):
    return judge(of, pair, Levels([pair, *others]), CHECKS)


def test_between_two_walls_the_ratio_is_theirs_and_the_larger_departure_counts():
    """1 % at 0.2 and 3 % at 0.4 of the diameter, asked at 0.25: 1.5 %, known to 3 %."""
    others = both(0.4, 0.03), both(0.2, 0.01)
    found = judged(Pair(trial(0.25)), others)
    assert found.post_peak_von_mises.value == pytest.approx(400.0 * 1.015)
    assert found.post_peak_von_mises.uncertainty == pytest.approx(
        0.03 * found.post_peak_von_mises.value
    )
    # First yield goes as one over the peak; its last step, 0.2 %, was not solved.
    first = found.first_yield_line_load
    ratio = 0.75 / 1.01 + 0.25 / 1.03
    assert first.value == pytest.approx(1500.0 * 460.0 / 400.0 * ratio)
    assert first.uncertainty == pytest.approx((1 - 1 / 1.03 + 0.002) * first.value)


def test_what_slips_in_part_is_less_sure():
    one, other = both(0.2, 0.01), both(0.4, 0.01)
    slips = judged(Pair(trial(0.3, slips=True)), (one, other))
    assert slips.post_peak_von_mises.uncertainty == pytest.approx(
        0.01 * PARTIAL_SLIP * slips.post_peak_von_mises.value
    )
    solved = judged(Pair(replace(one.coarse, slips=True), one.fine))
    assert solved.post_peak_von_mises == Value(404.0, pytest.approx(4.0 * PARTIAL_SLIP))


def test_the_post_and_its_first_yield_are_no_surer_than_what_its_neighbours_add():
    """5 % of the figure, where the two levels differ by 1 %; the plate has no neighbours."""
    one = both(0.2, 0.01)
    plain = judged(one)
    found = judged(Pair(replace(one.coarse, unsure=0.05), one.fine))
    assert found.post_peak_von_mises == Value(
        plain.post_peak_von_mises.value, pytest.approx(0.05 * 400.0)
    )
    assert found.first_yield_line_load.uncertainty > 0.05 * found.first_yield_line_load.value / 1.01
    assert found.first_yield_line_load.uncertainty > 3.0 * plain.first_yield_line_load.uncertainty
    assert found.plate_peak_von_mises == plain.plate_peak_von_mises


def test_the_margin_is_taken_off_the_strength_of_each_body():
    """Post 400 of 460 MPa and plate 486 of 890, the uncertainty of 0.6 % on top."""
    at = restated(STATED, yield_margin=1.1)
    found = judged(Pair(trial(0.3)), of=at)
    ratios = {one.key: one.most for one in found.checks}
    assert ratios["von_mises_post"] == pytest.approx(1.006 * 400.0 * 1.1 / 460.0)
    assert ratios["von_mises_plate"] == pytest.approx(1.006 * 486.0 * 1.1 / 890.0)
    assert found.post_utilisation.value == pytest.approx(400.0 * 1.1 / 460.0)
    assert found.stress_concentration.value == pytest.approx(400.0 / (1500.0 / 150.0))


def test_the_post_goes_by_its_worst_place():
    """180 MPa at the bore of a wall of 0.17, and more by the power 2.2 where it is thinner."""
    found = judged(Pair(trial(0.1)))
    assert found.post_peak_von_mises.value == pytest.approx(180.0 * 1.7**2.2)
    assert found.governing_place == "bore under load"


def test_what_fails_comes_before_what_has_no_verdict_and_that_before_what_passes():
    hand = tuple(
        check(ratio, "hand", key, missing="L/D" if key == "c" else "")
        for key, ratio in (("a", 0.9), ("b", 0.95), ("c", 0.5), ("d", 1.2))
    )
    clause = replace(hand[0], kind="clauses", key="not counted")
    found = judged(Pair(trial(0.3, hand=(*hand, clause))))
    keys = [one.key for one in found.checks]
    assert keys == ["d", "c", "b", "a", "von_mises_post", "von_mises_plate"]
    assert found.governing.key == "d"
    assert found.verdict == "fails"
    found = judged(Pair(trial(0.3, hand=hand[:3])))
    assert (found.verdict, found.governing.key, found.passes) == ("no verdict", "c", False)


@pytest.mark.parametrize(
    ("clause", "verdict"),
    [
        ({}, "passes"),  # the solved stress covers its limit state
        ({"applies": True}, "no verdict"),
        ({"limit_state": "root weld"}, "no verdict"),
        ({"limit_state": "post section"}, "no verdict"),
    ],
)
def test_a_clause_outside_its_scope_counts_where_it_may_not_be_passed_over(clause, verdict):
    out = check(**({"ratio": 0.5, "exceeded": (BEYOND,), "applies": False} | clause))
    found = judge(STATED, Pair(trial(0.3, hand=(out,))), Levels([]), ("stress", "clauses"))
    assert found.verdict == verdict
    assert [one.key for one in found.silent] == ["c"]
    assert found.silent[0].applies == (verdict != "passes")


@pytest.mark.parametrize(("peak", "applies", "fits"), [(400.0, False, True), (470.0, True, False)])
def test_collapse_beyond_its_formula_is_covered_by_the_post(peak, applies, fits):
    """Of 460 MPa: by the worst contact of the wall."""
    crushed = check(
        0.03, "hand", "ring_collapse_line_load", limit_state="collapse", exceeded=(BEYOND,)
    )
    coarse = replace(trial(0.2), places=(peak, None, None, 100.0, None), hand=(crushed,))
    found = judged(Pair(coarse))
    (one,) = (c for c in found.checks if c.limit_state == "collapse")
    assert (one.applies, found.passes_what_walls_change) == (applies, fits)


def test_what_is_not_asked_for_covers_nothing():
    """A clause outside its scope counts where it is all that is asked for."""
    out = check(0.5, exceeded=(BEYOND,), applies=False)
    found = judge(STATED, Pair(trial(0.3, hand=(out,))), Levels([]), ("clauses",))
    assert [one.applies for one in found.checks] == [True]
    assert (found.verdict, found.governing.key) == ("no verdict", "c")


HALF_SPACE = (
    check(420.0, "hand", "hertz_peak_von_mises"), check(430.0, "hand", "sliding_peak_von_mises"),
    check(90.0, "hand", "ring_bore_at_side"), check(170.0, "hand", "ring_bore_under_load"),
)  # fmt: skip


def test_the_peak_of_a_short_contact_lies_between_the_slice_and_the_half_space():
    """404 MPa by the slice; by hand the greater of both, and the greater of both at the bore."""
    pair = both(0.3, 0.01)
    pair = replace(pair, coarse=replace(pair.coarse, hand=HALF_SPACE))
    bounds = judged(pair).bounds
    assert (bounds.slice_peak, bounds.half_space_peak, bounds.bore) == (404.0, 430.0, 170.0)
    assert bounds.section == "150 × 45 mm"
    assert "not stated" in bounds.why
    # The neighbours of a contact of known length are solved for, but in plane stress.
    for state, why in (("plane strain", None), ("plane stress", "plane stress")):
        found = judged(pair, of=restated(STATED, contact_length=100.0, state=state)).bounds
        assert (found and found.why) == why
    # A half-space that peaks no higher, within the uncertainty of 4 MPa, leaves nothing open.
    low = tuple(replace(c, demand=min(c.demand, 407.9)) for c in HALF_SPACE)
    assert judged(replace(pair, coarse=replace(pair.coarse, hand=low))).bounds is None


def test_the_bending_of_the_post_is_added_to_the_half_space_in_full(monkeypatch):
    """That of the strip that bends the most, either way."""
    monkeypatch.setattr(module, "axial_stress", lambda _, __, ___, moment, y: moment - y)
    strips = [Strip(400.0, (1.0,), moment) for moment in (5.0, -30.0, 20.0)]
    spreads = Spread(1.2, 450.0, tuple(strips[:2])), Spread(1.3, 450.0, tuple(strips[2:]))
    starts = tuple(((), (), spread) for spread in spreads)
    pair = Pair(trial(0.3, hand=HALF_SPACE, starts=starts))
    plane = restated(STATED, contact_length=1000.0, state="plane stress")
    assert judged(pair, of=plane).bounds.half_space_peak == 460.0


def test_steel_and_contacts_are_those_of_the_trial():
    """A bar has its own steel; the fine level may find the worst contact to be another."""
    coarse = trial(0.3)
    steel = replace(coarse.steel, yield_strength=300.0)
    pair = Pair(
        replace(coarse, steel=steel),
        replace(trial(0.3, coarse), post_at=2, plate_at=1, plate=500.0),
    )
    found = judged(pair)
    assert found.yield_strength == 300.0
    assert found.post_utilisation.value == pytest.approx(400.0 / 300.0)
    assert {one.key: one.contact for one in found.checks} == {
        "von_mises_post": 2, "von_mises_plate": 1,
    }  # fmt: skip
    assert (found.post_worst_contact, found.plate_worst_contact, found.solved_on_both_levels) == (
        2,
        1,
        True,
    )


def test_a_level_that_fails_makes_it_unsolved():
    coarse = trial(0.3)
    found = judged(Pair(coarse, replace(coarse, fine=True, error="no mesh held")))
    assert (found.error, found.checks, found.passes) == ("no mesh held", (), False)
    assert Pair(replace(coarse, error="no")).sure
    assert not Pair(coarse).sure


def test_a_peak_at_the_edge_is_as_sure_as_its_zone_and_does_not_govern_by_itself():
    """Whichever level has it there: the fine one alone, the coarse one alone, or no other wall."""
    pair = both(0.2, 0.01)
    at_edge, not_there = (400.0, 90.0, 45.0, 100.0, 400.0), (400.0, 90.0, 45.0, 100.0, None)
    fine = replace(pair.fine, places=tuple(1.01 * of for of in at_edge))
    others = both(0.3, 0.02), both(0.4, 0.02)  # whose peaks are not at the edge
    for coarse in (at_edge, not_there):
        found = judged(Pair(replace(pair.coarse, places=coarse), fine), others)
        assert found.places[4] == found.places[0] == Value(404.0, pytest.approx(4.0))
        assert found.governing_place == "contact zone"
    fine = replace(pair.fine, places=not_there)
    assert judged(Pair(replace(pair.coarse, places=at_edge), fine)).places[4] is None
    alone = judged(Pair(replace(trial(0.35), places=at_edge)), others)
    assert alone.places[4] == alone.places[0] == Value(408.0, pytest.approx(0.02 * 408.0))


def test_a_place_where_little_is_at_work_is_no_surer_than_beside_the_peak():
    """Two levels that agree on 20 MPa, in a post that peaks at 404: a thousandth of that peak."""
    pair = both(0.3, 0.0)
    small = {"places": (404.0, 20.0, None, None, None)}
    found = judged(Pair(replace(pair.coarse, **small), replace(pair.fine, **small)))
    assert found.places[1] == Value(20.0, pytest.approx(0.404))
    assert found.post_peak_von_mises.uncertainty == pytest.approx(0.003 * 404.0)
    # The same on the coarse level alone, whose elements are twice as large.
    alone = judged(Pair(replace(pair.coarse, **small)))
    assert alone.places[1] == Value(20.0, pytest.approx(0.808))
    # Thrice that at a bore that is bonded to a rigid core.
    bonded = replace(STATED, post=replace(STATED.post, held_by="rigid core"))
    found = judged(Pair(replace(pair.coarse, **small), replace(pair.fine, **small)), of=bonded)
    assert found.places[1] == Value(20.0, pytest.approx(1.212))
