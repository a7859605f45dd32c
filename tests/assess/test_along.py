"""A post that bends along its axis: what it is checked with, and how the check takes it."""

import math
from dataclasses import replace

import numpy as np
import pytest
from alignments import STEEL, bent, case
from hypothesis import given
from hypothesis import strategies as st

from contactfe.assess import along, envelope, finite
from contactfe.assess.accuracy import Levels, Solved, expected_patches
from contactfe.assess.along import length_result, loaded, share_of
from contactfe.assess.beam import beam_of
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.level import build
from contactfe.assess.limits import widest_patch
from contactfe.assess.reading import read
from contactfe.case.alignment import Alignment, Spread, Strip
from contactfe.errors import InputError
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import RESIDUAL, Beam, Pressed, press


@pytest.fixture(scope="module", autouse=True)
def coarse():
    """Laws of a coarser mesh than the coarse one, whose approach is 0.1 % off at most."""
    with pytest.MonkeyPatch.context() as patch:
        for module in (along, finite):
            patch.setattr(module, "COARSE", 4.0)
        yield


@pytest.fixture(scope="module")
def solid():
    return bent().sections[0]


@pytest.fixture(scope="module")
def bodies():
    return Bodies(case())


def tilted(at, **angles):
    return replace(at, alignment=Alignment(**angles))


def ratio(at, bodies, **angles: float) -> float:
    shared = share_of(tilted(at, **angles), at.sections[0], bodies)
    return float(shared.worst[2].line_load.max()) / at.line_load


def coarsely(at, bodies, times=1.0):
    """A section with its spread, read on a coarse mesh."""
    section = at.sections[0]
    return read(build(at, bodies, section, expected_patches(at, section), 4.0), times)


def solved(at, bodies, shared=None):
    """A case loaded, read on a coarse mesh, and how the force is shared."""
    section = at.sections[0]
    shared = shared or share_of(at, section, bodies)
    found = loaded(at, section, bodies, shared)
    reading = coarsely(found, bodies)
    return found, reading, length_result(found, section, bodies, shared, reading.post.strip)


def test_a_case_without_a_length_of_contact_is_left_alone():
    """And one in plane stress, whose neighbours are left out, where the load is even."""
    for at in (
        case(alignment=None, cantilever=None, load={"line_load": "900 N/mm"}),
        replace(case(model={"state": "plane stress"}), alignment=None),
    ):
        assert loaded(at, at.sections[0], Bodies(at)) is at


def test_an_even_load_of_known_length_has_its_neighbours(bodies):
    at = replace(case(), alignment=None)
    spread = loaded(at, at.sections[0], bodies).spread
    assert (spread.peak_ratio, spread.lever) == (1.0, 450.0)
    assert {strip.ratios for strip in spread.strips} == {(1.0,)}
    (profile,) = {profile.contact for profile in spread.profiles}
    bent = [at.line_load * (profile[1] - strip.place) ** 2 / 2 for strip in spread.strips]
    assert [strip.moment for strip in spread.strips] == pytest.approx(bent)


def test_the_worst_of_the_tilts_tried_governs(solid):
    share = solid.length
    assert sorted(t.tilt for t in share.tried) == pytest.approx(np.radians([0.05, 0.1, 0.15]))
    # the post bends away from the plate, so the tilt that follows it least is the worst
    assert share.tilt == pytest.approx(math.radians(0.05))
    assert share.peak_line_load == max(t.peak_line_load for t in share.tried)
    assert share.peak_from_root == pytest.approx(450.0 - 80.0)
    assert share.mean_line_load == pytest.approx(150e3 / 160.0)
    assert 1.0 < share.rigid_peak / share.mean_line_load < share.peak_over_mean
    assert share.evenest.peak_line_load < 1.01 * share.mean_line_load
    assert share.slope < share.evenest.tilt < 1.2 * share.slope
    # In the middle of the contact, of differences over some 1.6 mm.
    slopes = np.gradient(share.deflection, share.z)
    assert share.slope == pytest.approx(np.interp(450.0, share.z, slopes), rel=1e-4)


def test_the_moment_at_the_peak_is_that_of_the_load_beyond_it(solid):
    share = solid.length
    z, q = np.array(share.z), np.array(share.line_load)
    assert np.trapezoid(q, z) == pytest.approx(150e3)
    assert share.moment_at_peak == pytest.approx(np.trapezoid(q * (z - share.peak_from_root), z))
    # Read a tenth of the radius inside the end that peaks, with the peak and the moment there.
    assert solid.reading.post.strip.place == pytest.approx(377.5)
    assert solid.reading.post.strip.ratios[0] == pytest.approx(share.peak_over_mean)
    inside = np.trapezoid(np.where(z > 377.5, q * (z - 377.5), 0.0), z)
    assert share.moment_used == pytest.approx(inside, rel=1e-3)
    assert solid.axial_stress == pytest.approx(32 * share.moment_used / (math.pi * 150.0**3))


def test_what_is_said_of_the_sharing_is_of_the_worst_post(solid):
    share, at = solid.length, case()
    beam = beam_of(at, at.sections[0])
    assert (share.bending_stiffness, share.shear_stiffness) == (beam.bending, beam.shear)
    assert 0.0 <= share.force_balance <= RESIDUAL
    assert share.parted_length == 0.0
    assert [d.why_not for d in share.doubling] == ["", ""]
    assert len(share.z) == len(share.line_load) == len(share.deflection) == len(share.approach)
    # Where the post is pressed in all, it has come as near as the plate's tilt has it.
    near = np.array(share.approach) + np.array(share.deflection) - share.tilt * np.array(share.z)
    assert np.ptp(near) < 1e-9 * max(share.deflection)


def test_where_its_tip_is_not_known_two_posts_are_pressed(bodies):
    at = tilted(case(), tilt=0.002, misalignment=0.001)
    shared = share_of(at, at.sections[0], bodies)
    assert [tilt for tilt, _, _ in shared.tried] == [0.002, 0.002, 0.001, 0.001, 0.003, 0.003]
    assert [post.tip for _, post, _ in shared.tried] == [530.0, 980.0] * 3
    assert shared.worst[2].line_load.max() == max(p.line_load.max() for _, _, p in shared.tried)
    known = replace(at, cantilever=replace(at.cantilever, tip=200.0))
    told = share_of(known, at.sections[0], bodies)
    assert [post.tip for _, post, _ in told.tried] == [650.0] * 3
    plane = case(model={"state": "plane stress"})
    spread = along._spread(plane, section := plane.sections[0],
                           share_of(plane, section, Bodies(plane)))  # fmt: skip
    assert {strip.profile for strip in spread.strips} == {None}
    assert spread.profiles == ()


def test_the_section_is_checked_at_the_peak(solid):
    """Line load, patch, hand formulas and the plate's reactions are those of the peak, K goes by
    the mean."""
    peak = solid.length.peak_line_load
    assert solid.line_load == pytest.approx(peak)
    assert solid.stress_concentration.value == pytest.approx(
        solid.member.peak_von_mises.value / (solid.length.mean_line_load / 150.0)
    )
    pushes = [r.across for r in solid.contact.reactions]
    assert sum(pushes) == pytest.approx(peak, rel=1e-6)
    E_star = 210e3 / (2 * (1 - 0.3**2))
    assert solid.hand_value("hertz_half_width") == pytest.approx(
        math.sqrt(4 * peak * 75.0 / (math.pi * E_star))
    )
    step = solid.by_hand.step("disc_centre_von_mises")
    even = by_hand(case()).sections[0].step("disc_centre_von_mises")
    assert step.worked.value == pytest.approx(
        even.worked.value * peak / solid.length.mean_line_load
    )


def test_the_force_on_the_post_stays_that_of_the_case(solid):
    """The tip is met less than the root end, so the resultant counts in the middle."""
    share = solid.length
    assert share.resultant_from_root < 450.0
    assert share.root_lever == 450.0
    value = {key: solid.by_hand.value(key) for key in ("post_force", "post_root_moment")}
    assert value == pytest.approx({"post_force": 150e3, "post_root_moment": 150e3 * 450.0})


def grown(spread, times):
    """A spread whose line loads and moments are ``times`` as large."""
    return replace(
        spread,
        peak_ratio=spread.peak_ratio * times,
        strips=tuple(
            replace(s, ratios=tuple(times * r for r in s.ratios), moment=times * s.moment)
            for s in spread.strips
        ),
        profiles=tuple(
            replace(p, ratios=tuple(tuple(times * r for r in one) for one in p.ratios))
            for p in spread.profiles
        ),
    )


def test_line_loads_and_moments_of_every_strip_grow_with_the_loads(solid, bodies):
    """First yield is where the post yields under all of them, grown alike."""
    times = solid.member.first_yield_line_load.value / solid.length.peak_line_load
    at = loaded(case(), case().sections[0], bodies)
    more = replace(at, spread=grown(at.spread, times))
    peak = coarsely(more, bodies).member_peaks[0].von_mises
    assert peak == pytest.approx(600.0, rel=0.01)  # a coarse mesh
    # The same on the mesh of the smaller load: by what the two meshes differ.
    level = build(more, bodies, more.sections[0], expected_patches(more, more.sections[0]), 4.0)
    as_loads = read(replace(level, case=at), times)
    assert as_loads.member_peaks[0].von_mises == pytest.approx(peak, rel=1e-6)
    assert as_loads.patch.state.line_load == pytest.approx(
        times * solid.length.peak_line_load, rel=2e-3
    )
    unbent = [replace(strip, moment=0.0) for strip in more.spread.strips]
    without = replace(more, spread=replace(more.spread, strips=tuple(unbent)))
    assert peak > 1.03 * read(replace(level, case=without)).member_peaks[0].von_mises


def bent_by(moment):
    """A slice with the bending of its post alone, without neighbours."""
    return Spread(1.0, 450.0, (Strip(450.0, (1.0,), moment),))


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
    bending = read(replace(level, case=replace(at, spread=bent_by(moment))))
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


@pytest.fixture(scope="module")
def at_the_tip(bodies):
    return solved(tilted(case(), tilt=math.radians(1.0)), bodies)


def test_a_peak_at_the_tip_bends_its_own_slice_no_more(at_the_tip):
    """But the root is bent more than by a force in the middle."""
    found, reading, share = at_the_tip
    assert share.peak_from_root == pytest.approx(530.0)
    assert share.parted_length > 50.0
    assert share.moment_at_peak == 0.0
    assert found.spread.lever == share.root_lever == share.resultant_from_root > 450.0
    hand = by_hand(found).sections[0]
    assert hand.value("post_root_moment") == pytest.approx(150e3 * share.resultant_from_root)
    assert hand.value("post_force") == pytest.approx(150e3)
    # It is read there, a tenth of the radius from the end, with what bends it there.
    assert reading.post.strip.place == pytest.approx(522.5)
    assert (
        0.95 * share.peak_line_load
        < reading.post.strip.ratios[0] * share.mean_line_load
        <= share.peak_line_load
    )
    assert 0.0 < share.moment_used < 0.01 * 150e3 * 80.0


def test_the_plate_is_met_by_the_peak_and_the_post_by_what_its_strip_has(at_the_tip):
    found, reading, share = at_the_tip
    strip = reading.post.strip
    assert reading.patch.state.line_load == pytest.approx(share.peak_line_load)
    along_it = found.spread.profiles[strip.profile]
    z, q = np.array(along_it.z), np.array(along_it.ratios[0])
    # It stands for what lies between it and the end, where there is more load.
    assert strip.ratios[0] == pytest.approx(q[np.abs(z - strip.place) <= 7.5 + 1e-6].max())
    assert strip.ratios[0] > np.interp(strip.place, z, q)
    bare = replace(found, spread=replace(found.spread, strips=(strip,)))
    assert coarsely(bare, Bodies(found)).member_peaks[0].von_mises == pytest.approx(
        reading.member_peaks[0].von_mises, rel=1e-9
    )


def test_the_root_is_bent_by_the_greatest_lever_of_all_tilts(bodies):
    """The root end peaks the most, at −1°; at 1° it is the tip, farther from the root."""
    either = tilted(case(), misalignment=math.radians(1.0))
    shared = share_of(either, either.sections[0], bodies)
    spread = along._spread(either, either.sections[0], shared)
    levers = {math.degrees(tilt): pressed.lever for tilt, _, pressed in shared.tried}
    assert math.degrees(shared.worst[0]) == pytest.approx(-1.0)
    assert levers[-1.0] < 450.0 < levers[1.0]
    assert spread.lever == max(pressed.lever for _, _, pressed in shared.tried)


def test_where_more_bending_is_worse_the_post_is_read_nearer_the_root(bodies):
    """Moments made 12 times as large: the tip peaks, and the root end governs the post."""
    at = tilted(case(), tilt=math.radians(0.4))
    shared = share_of(at, at.sections[0], bodies)
    peak = shared.worst[2]
    assert peak.peak == len(peak.z) - 1

    def bent_more(times):
        tried = [(t, post, replace(p, moment=times * p.moment)) for t, post, p in shared.tried]
        return solved(at, bodies, replace(shared, tried=tuple(tried)))

    found, reading, share = bent_more(12.0)
    strip, pair = reading.post.strip, share.worst_pair
    assert pair.place == strip.place < share.peak_from_root - 50.0
    assert pair.line_load == pytest.approx(strip.ratios[0] * at.line_load)
    assert pair.line_load < share.peak_line_load
    assert pair.moment == share.moment_used == strip.moment > 1e7
    assert pair.tilt == pytest.approx(math.radians(0.4))
    assert reading.patch.state.line_load == pytest.approx(share.peak_line_load)
    # Of every place that is kept it is the worst.
    alone = [
        coarsely(replace(found, spread=replace(found.spread, strips=(one,))), bodies)
        for one in found.spread.strips
    ]
    worst = max(alone, key=lambda one: one.member_peaks[0].von_mises)
    assert worst.post.strip.place == strip.place
    _, light, shared_evenly = bent_more(1e-3)
    assert shared_evenly.worst_pair.moment == shared_evenly.moment_used
    assert light.post.strip.place == pytest.approx(522.5)


def test_the_place_of_the_peak_itself_is_no_pair_but_at_another_tilt(bodies):
    at, section = case(), case().sections[0]
    shared = share_of(at, section, bodies)
    spread = along._spread(at, section, shared)
    for number, (tilt, _, _) in enumerate(shared.tried):
        strip = next(s for s in spread.strips if s.profile == number)
        assert strip.place == pytest.approx(377.5)
        strip = replace(strip, ratios=(spread.peak_ratio,))
        share = length_result(replace(at, spread=spread), section, bodies, shared, strip)
        pair = share.worst_pair
        assert (pair and pair.tilt) == (None if tilt == share.tilt else tilt)


def test_the_stress_of_the_post_changes_as_little_as_its_loads_do(bodies):
    """From one place that governs to the next without a step: a thousandth of load is no percent.

    Where the ends of the contact change over, and the worst place with them.
    """
    places = set()
    for degrees in (0.17, 0.2, 0.24):
        found = []
        for more in (1.0, 1.001):
            at = tilted(case(load={"force": f"{150 * more!r} kN", "contact_length": "160 mm"}),
                        tilt=math.radians(degrees))  # fmt: skip
            reading = coarsely(loaded(at, at.sections[0], bodies), bodies)
            found.append(reading.member_peaks[0].von_mises)
            places.add(round(reading.post.strip.place))
        # Half a thousandth is what Hertz has of it; meshes on their grid differ by less than 0.5 %.
        assert found[1] == pytest.approx(found[0], rel=0.01)
    assert len(places) > 1


def pressed(load, moment, z=(300.0, 350.0, 400.0)):
    q, M, z = np.array(load), np.array(moment), np.array(z)
    return Pressed(z, q, 0.0 * z, 0.0 * z, M, 0.0 * z, 0.0 * z, 0.0)


def strips_of(one, light=0.0, profile=None):
    at = case()
    return list(along._strips(at, at.sections[0], one, profile, light))


def test_strips_run_from_end_to_end_with_what_meets_there():
    """A tenth of the radius inside the ends, and evenly between; one at the peak is one of them."""
    root = pressed([1875.0, 937.5, 937.5], [40.0, 10.0, 0.0])
    found = strips_of(root, profile=3)
    assert [s.place for s in found] == pytest.approx([307.5, 328.75, 350.0, 371.25, 392.5])
    assert [s.ratios[0] for s in found] == pytest.approx([2.0, 1.425, 1.0, 1.0, 1.0])
    assert [s.moment for s in found] == pytest.approx([35.5, 22.75, 10.0, 5.75, 1.5])
    assert {s.profile for s in found} == {3}
    inner = strips_of(pressed([900.0, 1800.0, 900.0], [40.0, 10.0, 0.0], (300.0, 340.0, 400.0)))
    assert inner[-1].place == 340.0
    assert len(inner) == 6


def test_a_peak_that_changes_ends_leaves_no_place_out():
    for tip in (799.0, 801.0):
        found = strips_of(pressed([800.0, 600.0, tip], [28.0, 10.0, 0.0]))
        assert [s.place for s in found] == pytest.approx([307.5, 328.75, 350.0, 371.25, 392.5])


def test_strips_begin_where_enough_is_borne():
    """Between points of the contact, so that they do not jump from one to the next."""
    first, *_, last = strips_of(pressed([0.0, 200.0, 1000.0], [30.0, 10.0, 0.0]), light=100.0)
    assert (first.place, last.place) == (325.0 + 7.5, 400.0 - 7.5)
    assert first.moment == pytest.approx(17.0)
    *_, tip = strips_of(pressed([1000.0, 200.0, 0.0], [9.0, 4.0, 0.0]), light=100.0)
    assert tip.place == 375.0 - 7.5
    assert strips_of(pressed([90.0] * 3, [99.0] * 3), light=100.0) == []
    # Of a short stretch a quarter of it is left at each end.
    short, *_ = strips_of(pressed([90.0, 100.0, 90.0], [9.0] * 3), light=98.0)
    assert short.place == pytest.approx(340.0 + 20.0 / 4.0)


def test_where_the_post_has_parted_between_its_ends_there_is_no_strip():
    z = (300.0, 320.0, 380.0, 400.0)
    found = strips_of(pressed([1000.0, 0.0, 0.0, 1000.0], [9.0, 8.0, 7.0, 0.0], z), light=100.0)
    assert [s.place for s in found] == pytest.approx([307.5, 392.5])


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.05, 1.0), st.floats(0.0, 3.0))
def test_strips_move_little_as_the_post_changes_little(root, tip, middle, bent):
    """By a thousandth of the peak: but for one at the peak, which may change ends."""
    z = np.linspace(300.0, 460.0, 81)
    x = (z - 380.0) / 80.0
    shape = middle * (1.0 - x**2) + np.where(x < 0.0, root, tip) * x**2
    M = bent * (460.0 - z) ** 2
    one, other = (
        strips_of(pressed(1e3 * q, M, z), light=100.0 * max(root, tip, middle))
        for q in (shape, shape + 1e-3 * (1.0 + x) * shape.max())
    )
    for before in one[:5]:
        after = min(other[:5], key=lambda strip: abs(strip.place - before.place))
        if before.ratios[0] < 0.2 * max(root, tip, middle):
            continue  # one that bears too little is left out
        assert after.place == pytest.approx(before.place, abs=6.0)
        assert after.ratios[0] == pytest.approx(before.ratios[0], abs=0.1)


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
    at = case(plate={"width": "400 mm", "thickness": "6 mm", "held_by": "rigid base", **STEEL},
              alignment={"tilt": "0.17 deg"})  # fmt: skip
    section, bodies = at.sections[0], Bodies(at)
    _, doubling, _ = along._outlook(at, section, bodies, share_of(at, section, bodies))
    assert [d.tilt for d in doubling] == [None, None]
    assert all("beyond the range" in d.why_not for d in doubling)


def test_a_doubling_whose_law_cannot_be_had_says_so(bodies, monkeypatch):
    at, section = case(), case().sections[0]
    found = share_of(at, section, bodies)
    assert found.law.largest_load < 2.0 * found.peak(found.law, 0.0) < found.most

    def refuse(*_):
        raise InputError("the displacement is not small")

    monkeypatch.setattr(along, "_law", refuse)
    _, doubling, _ = along._outlook(at, section, bodies, found)
    assert all("beyond the range" in d.why_not for d in doubling)


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
    assert "0.1 rad" in never.why_not


def test_the_most_is_the_load_whose_patch_by_hertz_is_the_widest():
    at, section = case(), case().sections[0]
    E_star = 210e3 / (2 * (1 - 0.3**2))
    a = math.sqrt(4 * along._most(at, section) * 75.0 / (math.pi * E_star))
    assert a == pytest.approx(widest_patch(at, section), rel=1e-9)


def test_a_row_of_an_envelope_is_solved_at_its_peak(solid, bodies, monkeypatch):
    def one_level(at, section, bodies):
        level = build(at, bodies, section, expected_patches(at, section), 4.0)
        return Levels((Solved(level, read(level), 1, ()),) * 2)

    monkeypatch.setattr(envelope, "solve_levels", one_level)
    at = case()
    row = envelope.AtContact(0, at.sections[0], at.contact).solve(at, bodies._kept)
    assert row.line_load == pytest.approx(solid.length.peak_line_load, rel=1e-3)
    assert row.post.peak_von_mises.value == pytest.approx(
        solid.member.peak_von_mises.value, rel=0.02
    )


def test_by_hand_the_load_counts_as_even_and_it_says_so(solid):
    found = by_hand(case()).sections[0]
    assert found.value("hertz_half_width") == pytest.approx(
        solid.hand_value("hertz_half_width") / math.sqrt(solid.length.peak_over_mean)
    )
    assert any("sharing of the force" in why for why in found.left_out)
    assert not any("sharing of the force" in why for why in solid.by_hand.left_out)


def test_the_law_is_the_curve_of_the_section(solid, bodies):
    """Pressed anew with the curve of a finer mesh, the peak is the same."""
    at = case()
    curve = along.force_approach(
        replace(at, spread=Spread(solid.length.peak_over_mean, 0.0)),
        at.sections[0],
        bodies,
        scale=2.0,
    )
    law = replace(curve, past_end="tangent")
    posts = along.posts_along(at, at.sections[0], bodies, bent=True)
    found = max(post.pressed(law, 150e3, solid.length.tilt).line_load.max() for post in posts)
    assert found == pytest.approx(solid.length.peak_line_load, rel=3e-4)
    rigid = press(Beam(math.inf, math.inf), law, 150e3, 450.0, 160.0, solid.length.tilt)
    assert rigid.line_load.max() == pytest.approx(solid.length.rigid_peak, rel=3e-4)
