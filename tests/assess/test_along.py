"""A post that bends along its axis: what it is checked with, and how the check takes it."""

import math
from dataclasses import replace

import numpy as np
import pytest

from contactfe.assess import along, envelope
from contactfe.assess.accuracy import COARSE, Levels, Solved, expected_patches
from contactfe.assess.along import along_the_length, loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.level import build, read
from contactfe.assess.limits import widest_patch
from contactfe.case.alignment import Alignment, Spread
from contactfe.errors import InputError
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, press
from tests.alignments import STEEL, bent, case


@pytest.fixture(scope="module", autouse=True)
def coarse():
    """Laws of a coarser mesh than the coarse one, whose approach is 0.1 % off at most."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(along, "COARSE", 4.0)
        yield


@pytest.fixture(scope="module")
def solid():
    return bent().sections[0]


@pytest.fixture(scope="module")
def bodies():
    return Bodies(case())


def ratio(at, bodies, **angles: float) -> float:
    found = loaded(replace(at, alignment=Alignment(**angles)), at.sections[0], bodies)
    assert found.spread is not None
    return found.spread.peak_ratio


def test_a_case_that_does_not_state_it_is_left_alone(bodies):
    at = replace(case(), alignment=None)
    assert loaded(at, at.sections[0], bodies) is at


def test_the_worst_of_the_tilts_tried_governs(solid):
    share = solid.length
    assert sorted(t.tilt for t in share.tried) == pytest.approx(np.radians([0.05, 0.1, 0.15]))
    # the post bends away from the plate, so the tilt that follows it least is the worst
    assert share.tilt == pytest.approx(math.radians(0.05))
    assert share.peak == max(t.peak for t in share.tried)
    assert share.place == pytest.approx(450.0 - 80.0)
    assert share.mean == pytest.approx(150e3 / 160.0)
    assert 1.0 < share.rigid_peak / share.mean < share.peak_ratio
    assert share.even.peak < 1.01 * share.mean
    assert share.slope < share.even.tilt < 1.2 * share.slope
    # In the middle of the contact, of differences over some 1.6 mm.
    slopes = np.gradient(share.deflection, share.z)
    assert share.slope == pytest.approx(np.interp(450.0, share.z, slopes), rel=1e-4)


def test_the_moment_at_the_peak_is_that_of_the_load_beyond_it(solid):
    share = solid.length
    z, q = np.array(share.z), np.array(share.line_load)
    assert np.trapezoid(q, z) == pytest.approx(150e3)
    assert share.moment == pytest.approx(np.trapezoid(q * (z - share.place), z))
    assert share.moment_used >= share.moment
    assert share.axial == pytest.approx(32 * share.moment_used / (math.pi * 150.0**3))


def test_the_section_is_checked_at_the_peak(solid):
    """Line load, patch, hand formulas and the plate's reactions are those of the peak, K goes by
    the mean."""
    peak = solid.length.peak
    assert solid.line_load == pytest.approx(peak)
    assert solid.stress_concentration.value == pytest.approx(
        solid.member.peak.value / (solid.length.mean / 150.0)
    )
    pushes = [r.across for r in solid.patch.reactions]
    assert sum(pushes) == pytest.approx(peak, rel=1e-6)
    E_star = 210e3 / (2 * (1 - 0.3**2))
    assert solid.hand_value("hertz_half_width") == pytest.approx(
        math.sqrt(4 * peak * 75.0 / (math.pi * E_star))
    )
    step = solid.by_hand.step("disc_centre_von_mises")
    even = by_hand(case()).sections[0].step("disc_centre_von_mises")
    assert step.worked.value == pytest.approx(even.worked.value * peak / solid.length.mean)


def test_the_force_on_the_post_stays_that_of_the_case(solid):
    """The tip is met less than the root end, so the resultant counts in the middle."""
    share = solid.length
    assert share.lever < 450.0
    assert share.root_lever == 450.0
    value = {key: solid.by_hand.value(key) for key in ("post_force", "post_root_moment")}
    assert value == pytest.approx({"post_force": 150e3, "post_root_moment": 150e3 * 450.0})


def test_axial_stress_is_part_of_what_yields(solid):
    """First yield is where the peak line load with its bending, both grown alike, yields."""
    grown = solid.member.first_yield.value / solid.length.peak
    at = replace(
        case(),
        spread=Spread(solid.length.peak_ratio * grown, solid.length.moment_used * grown, 450.0),
    )
    section = at.sections[0]
    level = build(at, Bodies(at), section, expected_patches(at, section), COARSE)
    peak = read(level).member_peaks[0].von_mises
    assert peak == pytest.approx(600.0, rel=0.01)  # a coarse mesh
    without = read(replace(level, case=replace(at, spread=replace(at.spread, moment=0.0))))
    assert peak > 1.03 * without.member_peaks[0].von_mises


@pytest.mark.parametrize("filled", [False, True])
def test_the_stress_added_to_a_slice_carries_the_moment(filled):
    """∫ σz (R − y) dA = M and ∫ σz dA = 0 over steel and infill, the plane as it was."""
    tube = {"name": "tube", "outside_diameter": "150 mm", "wall": "25 mm"}
    if filled:
        tube["infill"] = {"young": "30 GPa", "poisson": 0.3, "density": "2400 kg/m3"}
    at = case(section=[tube])
    section = at.sections[0]
    level = build(at, Bodies(at), section, expected_patches(at, section), 3.0)
    plain = read(level)
    moment = 20e6
    bending = read(replace(level, case=replace(at, spread=Spread(1.0, moment, 450.0))))
    carried = pull = 0.0
    for one, other in (
        (plain.member_field, bending.member_field), (plain.infill_field, bending.infill_field)
    ):  # fmt: skip
        if one is None:
            continue
        np.testing.assert_array_equal(one.stress[:, [0, 1, 3]], other.stress[:, [0, 1, 3]])
        added = other.stress[:, 2] - one.stress[:, 2]
        corners = one.mesh.t
        x, y = one.mesh.p
        ax, ay, bx, by, cx, cy = (v[k] for k in corners for v in (x, y))
        areas = np.abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2
        # linear stress over each straight triangle: exact by the middles of its sides
        for i, j in ((0, 1), (1, 2), (2, 0)):
            middle = (added[corners[i]] + added[corners[j]]) / 2
            lever = 75.0 - (y[corners[i]] + y[corners[j]]) / 2
            carried += float((areas / 3 * middle * lever).sum())
            pull += float((areas / 3 * middle).sum())
    assert carried == pytest.approx(moment, rel=0.01)  # straight sides cut off the rounds
    assert abs(pull) * 75.0 < 0.01 * moment


def test_at_the_doubling_tilts_the_peak_is_twice_that_of_none(solid, bodies):
    none = ratio(case(), bodies)
    below, above = (at.tilt for at in solid.length.doubling)
    assert below < 0.0 < above
    for tilt in (below, above):
        # meshes for unlike loads, and a root within 0.01 %
        assert ratio(case(), bodies, tilt=tilt) == pytest.approx(2.0 * none, rel=2e-3)


def test_a_peak_at_the_tip_bends_its_own_slice_no_more(bodies):
    """But the root is bent more than by a force in the middle."""
    at = replace(case(), alignment=Alignment(tilt=math.radians(1.0)))
    found, share = along_the_length(at, at.sections[0], bodies)
    assert share.place == pytest.approx(530.0)
    assert share.parted > 50.0
    assert share.moment == 0.0
    assert found.spread.lever == share.lever > 450.0
    hand = by_hand(replace(found)).sections[0]
    assert hand.value("post_root_moment") == pytest.approx(150e3 * share.lever)
    assert hand.value("post_force") == pytest.approx(150e3)
    # nearer the root there is bending, and less line load: the worse of them is taken
    assert found.spread.moment == share.moment_used >= 0.0


def test_the_root_is_bent_by_the_greatest_lever_of_all_tilts(bodies):
    """The root end peaks the most, at −1°; at 1° it is the tip, farther from the root."""
    either = replace(case(), alignment=Alignment(misalignment=math.radians(1.0)))
    found = along._found(either, either.sections[0], bodies)
    spread, _ = along._spread(either, either.sections[0], bodies, found)
    levers = {math.degrees(tilt): pressed.lever for tilt, pressed in found.tried}
    assert math.degrees(found.worst[0]) == pytest.approx(-1.0)
    assert levers[-1.0] < 450.0 < levers[1.0] == spread.lever


def test_where_more_bending_is_worse_the_peak_stresses_the_post_as_much(bodies):
    """Moments made 8 times as large: the root end is worst, and the moment between."""
    at = replace(case(), alignment=Alignment(tilt=math.radians(0.4)))
    section = at.sections[0]
    found = along._found(at, section, bodies)
    tilt, worst = found.worst
    assert worst.peak == len(worst.z) - 1
    heavy = replace(found, tried=((tilt, replace(worst, moment=worst.moment * 8.0)),))
    spread, pair = along._spread(at, section, bodies, heavy)
    assert 0.0 < spread.moment < pair.moment <= 8.0 * worst.moment[0]
    there = replace(at, spread=spread)
    level = build(there, bodies, section, expected_patches(there, section), along.COARSE)
    own = replace(spread, peak_ratio=pair.line_load / at.line_load, moment=pair.moment)
    peaks = [
        read(replace(level, case=replace(at, spread=one))).member_peaks[0].von_mises
        for one in (spread, own)
    ]
    assert peaks[0] == pytest.approx(peaks[1], rel=1e-3)  # what a moment within 0.1 % comes to
    light = replace(found, tried=((tilt, replace(worst, moment=worst.moment * 1e-3)),))
    unbent, none = along._spread(at, section, bodies, light)
    assert (unbent.moment, none) == (0.0, None)


def pair(line_load, moment):
    return along.Pair(0.0, 0.0, line_load, moment)


def stress(line_load, moment):
    """As at an impacted face: contact by the root of the load, and tension across it.

    von Mises of −p in the plane both ways and 10 M along the post.
    """
    return math.sqrt(line_load) + 10.0 * moment


def test_a_peak_that_is_worst_keeps_its_own_moment():
    pairs = [pair(80.0, 0.1), pair(50.0, 0.25)]
    assert along._moment(100.0, 0.05, pairs, stress) == (0.05, None)


def test_the_moment_beside_the_peak_makes_it_as_bad_as_the_worst_pair():
    pairs = [pair(81.0, 0.2), pair(49.0, 0.5), pair(36.0, 0.55)]
    moment, worst = along._moment(100.0, 0.0, pairs, stress)
    assert worst is pairs[1]
    assert moment == pytest.approx(0.2, abs=5e-4)  # 10 + 10 M = 7 + 5, within 0.1 % of 0.5


def test_a_moment_that_does_not_do_is_that_of_the_pair():
    """A place that less line load stresses more: no moment up to the pair's comes to it."""
    bore = along._moment(100.0, 0.0, [pair(50.0, 0.3)], lambda q, m: 10.0 * m - 0.01 * q)
    assert bore == (0.3, pair(50.0, 0.3))


def test_the_stress_of_the_post_changes_as_little_as_its_loads_do():
    """From one wall to the next the worst pair changes over to the peak: without a step."""
    found = []
    for load in np.linspace(90.0, 140.0, 51):
        moment, _ = along._moment(load, 0.0, [pair(170.0 - load, 0.2 + load / 1000.0)], stress)
        found.append((moment, stress(load, moment)))
    moments, stresses = np.array(found).T
    assert moments[0] > 0.2
    assert moments[-1] == 0.0
    assert np.abs(np.diff(stresses)).max() < 0.01 * stresses.min()
    assert np.abs(np.diff(moments)).max() < 0.02


def pressed(load, moment):
    z = np.linspace(300.0, 400.0, len(load))
    q, M = np.array(load), np.array(moment)
    return along.Pressed(z, q, 0.0 * z, 0.0 * z, M, 0.0 * z, 0.0)


def found_of(*tried):
    return along._Found(None, None, tuple(enumerate(tried)), 0.0)


def test_pairs_are_of_every_tilt_and_none_has_less_of_both_than_another():
    tip = pressed([40.0, 60.0, 100.0], [30.0, 10.0, 0.0])
    root = pressed([80.0, 60.0, 50.0], [28.0, 10.0, 0.0])
    pairs = along._pairs(found_of(tip, root), 0.0)
    assert [p.line_load for p in pairs] == sorted((p.line_load for p in pairs), reverse=True)
    assert [p.moment for p in pairs] == sorted(p.moment for p in pairs)
    assert pairs[-1] == along.Pair(0, 300.0, 40.0, 30.0)
    assert along.Pair(1, 300.0, 80.0, 28.0) in pairs
    assert all(p.line_load > 80.0 or p.moment >= 28.0 for p in pairs)
    assert along._pairs(found_of(tip, root), 30.0) == ()


def test_a_peak_that_changes_ends_leaves_no_place_out():
    """With the tip a little above the root or below, the pair at the root end is among them."""
    for tip in (79.9, 80.1):
        other = pressed([80.0, 60.0, tip], [28.0, 10.0, 0.0])
        pairs = along._pairs(found_of(pressed([40.0, 60.0, 100.0], [20.0, 5.0, 0.0]), other), 0.0)
        assert along.Pair(1, 300.0, 80.0, 28.0) in pairs


def test_pairs_begin_where_a_tenth_of_the_peak_is_reached():
    """Between points of the contact, so that they do not jump from one to the next."""
    (last, *_) = reversed(
        along._pairs(found_of(pressed([0.0, 20.0, 100.0], [30.0, 10.0, 0.0])), 0.0)
    )
    assert last == along.Pair(0, pytest.approx(325.0), pytest.approx(10.0), pytest.approx(20.0))
    (first, *_) = along._pairs(
        found_of(pressed([100.0, 20.0, 0.0], [9.0, 4.0, 0.0]), pressed([9.0] * 3, [99.0] * 3)), 5.0
    )
    assert first == along.Pair(0, 300.0, 100.0, 9.0)  # one that bears less is left out


def test_a_peak_beyond_the_model_says_which_tilt_would_do(bodies):
    at = case(plate={"width": "400 mm", "thickness": "3 mm", "held_by": "rigid base", **STEEL},
              alignment={"tilt": "-1 deg"})  # fmt: skip
    with pytest.raises(InputError, match=r"\[alignment\]: section 'solid 150': .*-1 deg") as e:
        loaded(at, at.sections[0], Bodies(at))
    assert "times the mean" in str(e.value)
    assert "It is least" in str(e.value)
    assert "\n" not in str(e.value)


def test_a_doubling_beyond_the_model_says_so():
    """Here the patch allows the peak, and not twice the peak."""
    at = case(plate={"width": "400 mm", "thickness": "4.4 mm", "held_by": "rigid base", **STEEL},
              alignment={"tilt": "0.17 deg"})  # fmt: skip
    _, share = along_the_length(at, at.sections[0], Bodies(at))
    assert [d.tilt for d in share.doubling] == [None, None]
    assert all("beyond the range" in d.why for d in share.doubling)


def test_a_doubling_whose_law_cannot_be_had_says_so(bodies, monkeypatch):
    at, section = case(), case().sections[0]
    found = along._found(at, section, bodies)
    assert found.law.largest_load < 2.0 * found.post.peak(found.law, 0.0) < found.most

    def refuse(*_):
        raise InputError("the displacement is not small")

    monkeypatch.setattr(along, "_law", refuse)
    _, doubling, _ = along._outlook(at, section, bodies, found)
    assert all("beyond the range" in d.why for d in doubling)


def test_a_law_ends_at_the_load_where_no_more_can_be_had(bodies, monkeypatch):
    asked = []

    def curve(case, section, bodies, room, *_):
        asked.append(room)
        if room > 1.0:
            raise InputError("the load is beyond the range of the model at 1.2 times it")
        q = np.array([0.5, 1.0]) * case.line_loads[0]
        return ForceApproach(q, q / 4e3, 0.0 * q + 4e3)

    monkeypatch.setattr(along, "force_approach", curve)
    law = along._law(case(), case().sections[0], bodies, 1200.0, 1.4)
    assert (law.largest_load, asked) == (pytest.approx(1200.0), [1.4, 1.0])


def test_a_tilt_is_looked_for_on_its_side_and_not_beyond_what_is_small():
    for side in (-1.0, 1.0):
        found = along._crossing(lambda tilt: abs(tilt) / 0.03 - 1.0, side)
        assert found.tilt == pytest.approx(side * 0.03, rel=1e-4)
    never = along._crossing(lambda tilt: abs(tilt) / 0.11 - 1.0, 1.0)
    assert never.tilt is None
    assert "0.1 rad" in never.why


def test_the_most_is_the_load_whose_patch_by_hertz_is_the_widest():
    at, section = case(), case().sections[0]
    E_star = 210e3 / (2 * (1 - 0.3**2))
    a = math.sqrt(4 * along._most(at, section) * 75.0 / (math.pi * E_star))
    assert a == pytest.approx(widest_patch(at, section), rel=1e-9)


def test_a_row_of_an_envelope_is_solved_at_its_peak(solid, bodies, monkeypatch):
    def coarsely(at, section, bodies):
        level = build(at, bodies, section, expected_patches(at, section), 4.0)
        return Levels((Solved(level, read(level), 1, ()),) * 2)

    monkeypatch.setattr(envelope, "solve_levels", coarsely)
    at = case()
    row = envelope.AtContact(0, at.sections[0], at.contact).solve(at, bodies._kept)
    assert row.line_load == pytest.approx(solid.length.peak, rel=1e-3)
    assert row.post.peak.value == pytest.approx(solid.member.peak.value, rel=0.02)


def test_by_hand_the_load_counts_as_even_and_it_says_so(solid):
    found = by_hand(case()).sections[0]
    assert found.value("hertz_half_width") == pytest.approx(
        solid.hand_value("hertz_half_width") / math.sqrt(solid.length.peak_ratio)
    )
    assert any("sharing of the force" in why for why in found.left_out)
    assert not any("sharing of the force" in why for why in solid.by_hand.left_out)


def test_the_law_is_the_curve_of_the_section(solid, bodies):
    """Pressed anew with the curve of a finer mesh, the peak is the same."""
    at = case()
    curve = along.force_approach(
        replace(at, spread=Spread(solid.length.peak_ratio, 0.0, 0.0)),
        at.sections[0],
        bodies,
        scale=2.0,
    )
    law = replace(curve, past_end="tangent")
    beam = along.beam_of(at, at.sections[0])
    found = press(beam, law, 150e3, 450.0, 160.0, solid.length.tilt)
    assert found.line_load.max() == pytest.approx(solid.length.peak, rel=3e-4)
    rigid = press(Beam(math.inf, math.inf), law, 150e3, 450.0, 160.0, solid.length.tilt)
    assert rigid.line_load.max() == pytest.approx(solid.length.rigid_peak, rel=3e-4)
