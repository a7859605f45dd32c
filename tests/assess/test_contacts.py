"""Every way of contact at once through the assessment: offset, oblique, corner, holds, infill."""

from dataclasses import replace

import numpy as np
import pytest
from bodies import case

from contactfe.assess import places
from contactfe.assess.accuracy import expected_patches, solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compare
from contactfe.assess.section import assess_section
from contactfe.case import Contact, Corner, Infill
from contactfe.errors import InputError
from contactfe.hand import shakedown


def assess(c):
    return assess_section(c, c.sections[0], Bodies(c))


def at(c, offset=0.0, degrees=0.0, friction=0.0):
    return c.at(Contact(offset, np.radians(degrees), friction))


def test_an_offset_blow_is_the_mirror_image_of_its_twin():
    c = case([(100.0, 20.0)], line_load=500.0, plate_held="two edges")
    left, right = (assess(at(c, offset, degrees, 0.2)) for offset, degrees in ((-60, -6), (60, 6)))
    assert right.member.peak.von_mises == pytest.approx(left.member.peak.von_mises, rel=2e-3)
    assert right.patch.centre.value == pytest.approx(-left.patch.centre.value, rel=1e-2)
    assert right.patch.tangential_load.value == pytest.approx(-left.patch.tangential_load.value)
    assert right.member.peak.x == pytest.approx(-left.member.peak.x, abs=0.05)
    near = {r.place: r.across for r in right.patch.reactions}
    assert near["right edge"] > near["left edge"] > 0.0


def test_the_patch_shifts_to_where_the_tilted_plate_is_met():
    # A plate on two edges turns under a load off its middle: the patch lies R times its slope off
    # the first point of contact, which a strip formula foresees.
    c = at(case([(150.0, 25.0)], plate_held="two edges"), offset=100.0)
    result = assess(c)
    (expected,) = expected_patches(c, c.sections[0])
    assert result.patch.centre.value > 0.1 * result.half_width.value
    assert result.patch.centre.value == pytest.approx(expected.centre, rel=0.1)


def test_reactions_balance_the_contact_whatever_holds_the_plate():
    base = at(case([(100.0, None)], line_load=400.0), 50.0, 5.0, 0.3)
    for held_by, spring in (
        ("bedded", None), ("two edges", None), ("clamped edges", None), ("springs", 3000.0),
    ):  # fmt: skip
        c = replace(base, plate=replace(base.plate, held_by=held_by, spring=spring))
        patch = assess(c).patch
        along = sum(r.along for r in patch.reactions)
        across = sum(r.across for r in patch.reactions)
        turn = sum(r.moment + r.x * r.across - r.y * r.along for r in patch.reactions)
        assert across == pytest.approx(400.0)
        assert along == pytest.approx(-patch.tangential_load.value)
        # The contact's own moment about the first point: its normal load acts near the middle of
        # the patch, its drag along the face has no arm.
        assert turn == pytest.approx(400.0 * patch.centre.value, abs=0.02 * 400.0)


def test_beyond_the_friction_angle_the_contact_slides():
    c = case([(100.0, None)], line_load=400.0)
    slides = assess(at(c, degrees=25.0, friction=0.2)).patch
    assert slides.motion == "full sliding"
    assert slides.tangential_load.value == pytest.approx(0.2 * 400.0)
    assert [z.motion for z in slides.zones] == ["slip"]
    part = assess(at(c, degrees=8.0, friction=0.3)).patch
    assert part.motion in {"partial slip", "sticking"}
    assert 0.0 < part.tangential_load.value < 0.3 * 400.0
    assert part.zones[0].start == pytest.approx(part.centre.value - part.half_width.value)
    assert part.zones[-1].end == pytest.approx(part.centre.value + part.half_width.value)
    assert all(a.end == b.start for a, b in zip(part.zones, part.zones[1:], strict=False))


def test_friction_brings_the_peak_to_the_surface_and_first_yield_down():
    # Johnson, Contact Mechanics (1985), section 7.1 (from memory, not seen): past µ of about 0.3
    # the peak is at the surface.
    c = case([(150.0, None)], line_load=600.0, yield_strength=600.0)
    plain, rough = assess(c), assess(at(c, degrees=40.0, friction=0.4))
    assert plain.member.peak.depth > 0.6 * plain.half_width.value
    assert rough.member.peak.depth < 0.05 * rough.half_width.value
    assert rough.member.first_yield_line_load < 0.6 * plain.member.first_yield_line_load
    hand = {h.key: h for h in rough.hand}
    assert abs(hand["sliding_peak_von_mises"].difference) < 0.02
    assert hand["hertz_peak_von_mises"].remark == "friction is left out"


def test_the_shakedown_load_is_that_of_the_friction_of_the_case():
    c = case([(150.0, None)], line_load=600.0, yield_strength=600.0)
    E_star = 200e3 / (2 * (1 - 0.3**2))
    for mu in (0.0, 0.2):
        result = assess(at(c, degrees=30.0, friction=mu))
        expected = float(shakedown.limit_line_load(600.0, 75.0, E_star, mu))
        assert result.member.shakedown_line_load == pytest.approx(expected)
        assert result.member.shakedown_line_load > result.member.first_yield_line_load


def test_a_corner_has_a_patch_on_each_plate():
    c = replace(case([(150.0, None)], line_load=600.0), corner=Corner(300.0))
    result = assess(c)
    first, second = result.patches
    assert (first.line_load, second.line_load) == pytest.approx((600.0, 300.0))
    # Hertz: half-width and pressure as the root of the load; the patches are far apart.
    ratio = first.peak_pressure.value / second.peak_pressure.value
    assert ratio == pytest.approx(np.sqrt(2.0), rel=2e-3)
    alone = assess(case([(150.0, None)], line_load=600.0))
    assert first.peak_pressure.value == pytest.approx(alone.peak_pressure.value, rel=2e-3)
    assert [name for name, _ in result.bodies] == ["post", "plate", "second plate"]
    zones = {p.zone for p in result.member.places}
    assert {places.CONTACT, places.SECOND_CONTACT} <= zones | {places.EDGE, places.SECOND_EDGE}
    total = np.array([(r.along, r.across) for r in result.reading.state.member_reactions]).sum(0)
    assert total == pytest.approx([300.0, -600.0])


def test_equal_loads_in_a_corner_are_symmetric_to_its_diagonal():
    c = replace(case([(150.0, 30.0)], line_load=500.0), corner=Corner(500.0))
    result = assess(c)
    one, two = result.patches
    assert two.half_width.value == pytest.approx(one.half_width.value, rel=1e-3)
    assert two.plate.peak.von_mises == pytest.approx(one.plate.peak.von_mises, rel=2e-3)
    # Seen from the first plate the second is at the right, and the other way about.
    assert two.centre.value == pytest.approx(-one.centre.value, abs=2e-3 * one.half_width.value)
    # What each load makes at its own side, about +70 MPa, and at the other's, about −50 MPa.
    under, side = (value.value for value in result.bore_hoop)
    assert under == pytest.approx(side, abs=2e-3 * (70.0 + 50.0))


def filled(c, young, poisson=0.2):
    infill = Infill("grout", young, poisson, 2300.0)
    return replace(c, sections=tuple(replace(s, infill=infill) for s in c.sections))


@pytest.mark.parametrize("held_by", ["beam shear", "opposed"])
def test_an_infill_leads_from_the_tube_to_the_solid(held_by):
    base = case([(120.0, 20.0)], line_load=600.0, held_by=held_by)
    tube = assess(base)
    solid = assess(case([(120.0, None)], line_load=600.0, held_by=held_by))
    soft, hard = assess(filled(base, 1.0)), assess(filled(base, 200e3, 0.3))
    for limit, known in ((soft, tube), (hard, solid)):
        assert limit.member.peak.von_mises == pytest.approx(known.member.peak.von_mises, rel=2e-3)
        assert limit.peak_pressure.value == pytest.approx(known.peak_pressure.value, rel=2e-3)
        assert limit.approach.value == pytest.approx(known.approach.value, rel=2e-3)
    between = assess(filled(base, 30e3))
    low, high = sorted([tube.approach.value, solid.approach.value])
    assert low < between.approach.value < high
    assert between.infill.compression.value < 0.0 < between.infill.bond_shear.value
    assert between.section.shape == "filled tube"


def test_sections_held_unlike_share_a_comparison():
    c = filled(case([(120.0, 20.0)], line_load=600.0), 30e3)
    (grouted,) = c.sections
    plain = replace(grouted, name="tube", infill=None)
    core = replace(plain, name="core", held_by="stiff core")
    answer = compare(replace(c, sections=(grouted, plain, core)))
    hoop = {s.section.name: s.bore_hoop[0].value for s in answer.sections}
    assert hoop["tube"] > hoop[grouted.name] > hoop["core"]
    assert not any(h.key.startswith("ring") for h in answer.section("core").hand)
    assert any(h.key.startswith("ring") for h in answer.section("tube").hand)


def test_a_plate_too_near_its_edge_is_refused_by_the_key_of_the_offset():
    c = at(case([(150.0, None)], plate_held="two edges"), offset=199.5)
    with pytest.raises(InputError, match=r'\[contact\] offset = "199.5 mm".*2.5 half-widths'):
        solve_levels(c, c.sections[0], Bodies(c))


def test_a_plate_that_turns_too_far_is_refused():
    c = at(case([(150.0, None)], plate_held="two edges"), offset=120.0)
    soft = replace(c, plate=replace(c.plate, held_by="springs", spring=30.0))
    with pytest.raises(InputError, match=r"turns by .* at most 0.05 rad"):
        solve_levels(soft, soft.sections[0], Bodies(soft))


def test_a_spring_that_only_settles_is_no_travel_of_the_contact():
    # 15 mm of even settlement: more than a tenth of the radius, and no strain at all.
    c = case([(150.0, None)], line_load=600.0, plate_held="two edges")
    soft = replace(c, plate=replace(c.plate, held_by="springs", spring=20.0))
    assert assess(soft).approach.value == pytest.approx(15.0 + assess(c).approach.value, rel=1e-6)
