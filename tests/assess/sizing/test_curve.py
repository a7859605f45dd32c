"""The curve that grows wall by wall: in the end what a sizing of the same diameter finds."""

from collections import OrderedDict
from dataclasses import replace
from itertools import pairwise

import pytest
from sizings import Instead, case

from contactfe.assess.sizing.candidates import contacts_of, shares_of, sizing_of
from contactfe.assess.sizing.curve import Growing
from contactfe.assess.sizing.run import size
from contactfe.assess.sizing.search import TOLERANCE
from contactfe.assess.sizing.trial import Job
from contactfe.case import Envelope, Infill, Section
from contactfe.case.sizing import SOLID, Sizing, Walls
from contactfe.case.tolerance import Shares
from contactfe.errors import InputError

FEW = {"wall": {"from": 0.1, "to": 0.5, "count": 5}}


def tube(of, **keys):
    """The case with a tube in the place of its section."""
    section = Section(**({"name": "tube", "outside_diameter": 150.0, "wall": 20.0} | keys))
    return replace(of, sections=(section,))


def grown(growing, trial):
    """What was asked for, up to the end."""
    asked = []
    while (one := growing.asked()) is not None:
        assert one not in asked
        asked.append(one)
        growing.add(one, trial(Job(len(asked), *one)))
    return asked


def made_up(of, **how):
    """A curve of trials that are made up, and what was asked for."""
    growing = Growing(of)
    return growing, grown(growing, Instead(of, **how)._trial)


@pytest.fixture(scope="module")
def both():
    """A solved case: the curve, what was asked for, and the sizing of the diameter."""
    growing, kept = Growing(case(**FEW)), OrderedDict()
    asked = grown(growing, lambda job: job.solve(growing.curve.case, kept))
    return growing.found(), asked, size(case(**FEW), 1)


def test_in_the_end_it_is_the_sizing_of_the_case(both):
    found, asked, sizing = both
    (sized,) = sizing.diameters
    tried = {(one.candidate.share, one.fine): one for one in (t.trial for t in sizing.tried)}
    for share in (0.1, 0.2, 0.3, 0.4, 0.5):
        (ours,) = [w for w in found.walls if w.share == pytest.approx(share)]
        (theirs,) = [w for w in sized.walls if w.share == pytest.approx(share)]
        if ours.solved_on_both_levels and theirs.solved_on_both_levels:
            assert replace(ours, candidate=theirs.candidate) == theirs
            assert (theirs.share, True) in tried
        for key in ("post_peak_von_mises", "plate_peak_von_mises", "stress_concentration"):
            one, other = getattr(ours, key), getattr(theirs, key)
            assert one.value == pytest.approx(other.value, abs=one.uncertainty)  # carried over
    assert {w.share for w in found.walls if w.solved_on_both_levels} >= {0.1, 0.3, 0.5}
    assert len(found.passing) == len(sized.passing) == 1
    for edge in ("least", "most", "fails_below"):
        at, where = (getattr(one.passing[0], edge).share for one in (found, sized))
        assert at == pytest.approx(where, abs=TOLERANCE)
    for one in (found, sized):
        best = one.least_concentration
        other = (sized if one is found else found).least_concentration.wall
        assert best.low.share <= other.share <= best.high.share
        assert best.alike_from <= other.wall <= best.alike_to
    assert found.least_bore == sized.least_bore
    assert found.outside_diameter == sized.outside_diameter == 150.0
    solved = {(c.share, coarse is not None) for c, coarse, _ in asked}
    assert len(solved) == len(asked)
    assert {margin for *_, margin in asked} == {1.0}


def test_bands_and_least_value_of_made_up_trials_are_those_of_the_sizing(monkeypatch):
    import contactfe.assess.sizing.run as module

    monkeypatch.setattr(module, "Crew", lambda of, _, progress: Instead(of, progress))
    growing, asked = made_up(case())
    found, (sized,) = growing.found(), size(case()).diameters
    assert {w.share for w in found.walls} >= set(shares_of(case(), sizing_of(case()), 150.0))
    (band,), (other,) = found.passing, sized.passing
    for edge in ("least", "most", "fails_below", "fails_above"):
        at = getattr(band, edge)
        assert at.solved_on_both_levels
        assert at.share == pytest.approx(getattr(other, edge).share, abs=TOLERANCE)
    assert found.least_concentration.wall.share == pytest.approx(0.17, abs=TOLERANCE)
    for wall in found.walls:
        if wall.share in (0.05, SOLID):
            assert wall.solved_on_both_levels
            assert wall in sized.walls
    assert len(asked) <= 40 + 10 + 4 + 8 + 3 + 1 + 1  # as in a sizing, and its middle once more
    assert found.unchanging_checks == sized.unchanging_checks


def test_they_come_evenly_spread_whenever_it_ends():
    growing, asked = made_up(case())
    grid = list(growing.curve.shares)
    order = [c.share for c, coarse, _ in asked if coarse is None][: len(grid)]
    assert sorted(order) == grid
    assert {order[0], order[1]} == {grid[0], grid[-1]}
    places = [grid.index(share) for share in order]
    for count in range(3, len(places) + 1):
        gaps = [b - a for a, b in pairwise(sorted(places[:count]))]
        assert max(gaps) <= 2 * min(gaps) + 2
    first_three = [(c.share, coarse is not None) for c, coarse, _ in asked[:6]]
    assert [fine for _, fine in first_three] == [False, True] * 3  # ± from the start
    assert {share for share, _ in first_three} == set(order[:3])


@pytest.mark.parametrize("count", [2, 3, 4, 7, 400])
def test_every_wall_of_a_range_is_tried_once(count):
    of = case()
    of = replace(of, sizing=Sizing(walls=Walls(0.1, 0.4, count)))
    growing = Growing(of)
    assert sorted(growing._first) == list(growing.curve.shares)


def test_before_the_first_and_where_none_is_solved_nothing_is_found():
    growing = Growing(case())
    assert growing.found() is None
    growing, asked = made_up(case(), refused=1.0)
    assert growing.found() is None
    assert len(growing.curve.pairs) == len(growing.curve.shares) == len(asked)


def test_what_was_known_half_way_is_of_the_walls_so_far():
    growing, of = Growing(case()), Instead(case())
    for number in range(8):
        asked = growing.asked()
        growing.add(asked, of._trial(Job(number, *asked)))
        found = growing.found()
        assert {w.share for w in found.walls} == set(growing.curve.pairs)
    assert len(found.walls) == 5
    assert found.least_concentration.wall in found.walls


def test_walls_have_what_the_section_has_beside_its_sizes():
    infill, tolerance = Infill(30e3, 0.2, 2400.0), Shares(0.02, 0.03)
    own = {"steel": "EN 10210-1 S355H", "held_by": "diametral"}
    of = tube(case(**FEW), **own, infill=infill, wall_tolerance=tolerance)
    growing, asked = made_up(of)
    at = growing.curve.case
    assert 40.0 / 150.0 in {c.share for c, *_ in asked}  # where the strength of that steel steps
    for candidate, _, _ in asked:
        section = candidate.section
        assert section.outside_diameter == 150.0
        assert section.held_by is None is section.steel  # as those of the post there
        assert at.hold(section) == "diametral"
        solid = candidate.share == SOLID
        assert (section.wall, section.infill, section.wall_tolerance) == (
            (None, None, None) if solid else (candidate.share * 150.0, infill, tolerance)
        )
        if not solid:
            expected = of.post_material(replace(of.sections[0], wall=section.wall))
            assert at.post_material(section) == expected
    assert at.sections == of.sections
    plain = Growing(case(**FEW)).curve.case
    assert (plain.post, plain.plate) == (case().post, case().plate)


def test_a_rigid_core_has_no_solid_bar():
    of = tube(case(), held_by="rigid core")
    growing, asked = made_up(of)
    assert max(growing.curve.shares) < SOLID
    assert SOLID not in {c.share for c, *_ in asked}
    assert min(growing.curve.shares) == Walls().least
    assert growing.found() is not None


def test_a_diameter_that_leaves_no_wall_is_refused():
    thick = case(wall={"from": 0.45, "to": 0.49, "count": 5})
    with pytest.raises(InputError, match="least_bore"):
        Growing(thick)
    growing = Growing(tube(thick, outside_diameter=300.0, wall=20.0))  # with room for that bore
    assert growing.asked() is not None


def test_the_diameter_is_that_of_the_section_whatever_the_sizing_states():
    of = case(outside_diameter=["180 mm", "200 mm"], **FEW, least_bore="50 mm")
    growing, asked = made_up(tube(of, outside_diameter=140.0))
    assert {c.section.outside_diameter for c, *_ in asked} == {140.0}
    found = growing.found()
    assert (found.outside_diameter, found.least_bore) == (140.0, 50.0)
    assert growing.curve.shares[-2] == pytest.approx((140.0 - 50.0) / 2.0 / 140.0)


def test_an_envelope_does_not_multiply_its_contacts():
    of = replace(case(**FEW), envelope=Envelope((0.0, 40.0), (0.0,), (0.0,)))
    growing = Growing(of)
    assert len(contacts_of(of)) == 2
    assert contacts_of(growing.curve.case) == (of.contact,)
