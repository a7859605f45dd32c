"""Every kind of contact at once through the assessment: offset, oblique, corner, holds, infill."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from bodies import assess, case, no_first_yield

from contactfe.assess import limits, places
from contactfe.assess import post as post_module
from contactfe.assess import section as section_module
from contactfe.assess.accuracy import expected_patches, solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.compare import compare
from contactfe.assess.level import build
from contactfe.assess.reading import read
from contactfe.case import Contact, Corner, Infill
from contactfe.errors import InputError
from contactfe.hand import ring_stress, shakedown, thick_ring
from contactfe.report.remarks import remark
from contactfe.section.grading import Patch
from contactfe.solve.field import StressField
from contactfe.solve.reactions import Reaction

MESH = Path(__file__).parents[2] / "meshes" / "ribbed-tube.msh"
INFILL = Infill(30e3, 0.2, 2300.0, name="grout")


def at(c, offset=0.0, degrees=0.0, friction=0.0):
    return c.at(Contact(offset, np.radians(degrees), friction))


def test_an_offset_impact_is_the_mirror_image_of_its_twin():
    c = case([(100.0, 20.0)], line_load=500.0, plate_held="simply supported")
    left, right = (assess(at(c, offset, degrees, 0.2)) for offset, degrees in ((-60, -6), (60, 6)))
    assert right.member.peak_von_mises.value == pytest.approx(
        left.member.peak_von_mises.value, rel=2e-3
    )
    assert right.contact.centre.value == pytest.approx(-left.contact.centre.value, rel=1e-2)
    assert right.contact.tangential_load.value == pytest.approx(-left.contact.tangential_load.value)
    assert right.member.peak_von_mises.at.x == pytest.approx(
        -left.member.peak_von_mises.at.x, abs=0.05
    )
    near = {r.place: r.across for r in right.contact.reactions}
    assert near["right edge"] > near["left edge"] > 0.0


def test_the_patch_shifts_to_where_the_tilted_plate_is_met():
    # A plate on two edges turns under a load off its middle: the patch lies R times its slope off
    # the first point of contact, which a strip formula foresees.
    c = at(case([(150.0, 25.0)], plate_held="simply supported"), offset=100.0)
    result = assess(c)
    (expected,) = expected_patches(c, c.sections[0])
    assert result.contact.centre.value > 0.1 * result.half_width.value
    assert result.contact.centre.value == pytest.approx(expected.centre, rel=0.1)


def test_reactions_balance_the_contact_whatever_holds_the_plate():
    base = at(case([(100.0, None)], line_load=400.0), 50.0, 5.0, 0.3)
    for held_by, spring in (
        ("rigid base", None), ("simply supported", None), ("clamped", None),
        ("elastic supports", 3000.0),
    ):  # fmt: skip
        c = replace(base, plate=replace(base.plate, held_by=held_by, spring=spring))
        patch = assess(c).contact
        along = sum(r.along for r in patch.reactions)
        across = sum(r.across for r in patch.reactions)
        turn = sum(r.moment + r.x * r.across - r.y * r.along for r in patch.reactions)
        assert across == pytest.approx(400.0)
        assert along == pytest.approx(-patch.tangential_load.value)
        # The contact's own moment about the first point: its normal load acts near the middle of
        # the patch, its friction along the face has no arm.
        assert turn == pytest.approx(400.0 * patch.centre.value, abs=0.02 * 400.0)


def test_beyond_the_friction_angle_the_contact_slides():
    c = case([(100.0, None)], line_load=400.0)
    slides = assess(at(c, degrees=25.0, friction=0.2)).contact
    assert slides.motion == "full sliding"
    assert slides.tangential_load.value == pytest.approx(0.2 * 400.0)
    assert [z.motion for z in slides.zones] == ["slip"]
    part = assess(at(c, degrees=8.0, friction=0.3)).contact
    assert part.motion in {"partial slip", "sticking"}
    assert 0.0 < part.tangential_load.value < 0.3 * 400.0
    assert part.zones[0].start == pytest.approx(part.centre.value - part.half_width.value)
    assert part.zones[-1].end == pytest.approx(part.centre.value + part.half_width.value)
    assert all(a.end == b.start for a, b in zip(part.zones, part.zones[1:], strict=False))


def test_friction_brings_the_peak_to_the_surface_and_first_yield_down():
    # Johnson, Contact Mechanics (1985), section 7.1 (from memory, not seen): past µ of about 0.3
    # the peak is at the surface.
    c = case([(150.0, None)], line_load=600.0, yield_strength=600.0)
    plain = assess(c, yields=True)
    rough = assess(at(c, degrees=40.0, friction=0.4), yields=True)
    assert plain.member.peak_von_mises.at.depth > 0.6 * plain.half_width.value
    assert rough.member.peak_von_mises.at.depth < 0.05 * rough.half_width.value
    assert rough.member.first_yield_line_load.value < 0.6 * plain.member.first_yield_line_load.value
    hand = {h.key: h for h in rough.hand_checks}
    assert abs(hand["sliding_peak_von_mises"].difference) < 0.02
    assert remark(at(c, degrees=40.0, friction=0.4), rough, hand["hertz_peak_von_mises"]) == (
        "friction is left out"
    )


def test_the_shakedown_load_is_that_of_the_friction_of_the_case():
    c = case([(150.0, None)], line_load=600.0, yield_strength=600.0)
    E_star = 200e3 / (2 * (1 - 0.3**2))
    for mu in (0.0, 0.2):
        result = assess(at(c, degrees=30.0, friction=mu), yields=True)
        expected = float(shakedown.limit_line_load(600.0, 75.0, E_star, mu, 0.3, c.state))
        assert result.member.shakedown_line_load == pytest.approx(expected)
        assert result.member.shakedown_line_load > result.member.first_yield_line_load.value


def test_a_corner_has_a_patch_on_each_plate():
    c = replace(case([(150.0, None)], line_load=600.0), corner=Corner(300.0))
    result = assess(c)
    first, second = result.patches
    assert (first.line_load, second.line_load) == pytest.approx((600.0, 300.0))
    # Hertz: half-width and pressure as the root of the load; the patches are far apart.
    ratio = first.peak_contact_pressure.value / second.peak_contact_pressure.value
    assert ratio == pytest.approx(np.sqrt(2.0), rel=2e-3)
    alone = assess(case([(150.0, None)], line_load=600.0))
    assert first.peak_contact_pressure.value == pytest.approx(
        alone.peak_contact_pressure.value, rel=2e-3
    )
    assert [name for name, _ in result.bodies] == ["post", "plate", "second plate"]
    zones = {p.at.zone for p in result.member.places}
    assert {places.CONTACT, places.SECOND_CONTACT} <= zones | {places.EDGE, places.SECOND_EDGE}
    total = np.array([(r.along, r.across) for r in result.reading.state.member_reactions]).sum(0)
    assert total == pytest.approx([300.0, -600.0])


def test_equal_loads_in_a_corner_are_symmetric_to_its_diagonal():
    c = replace(case([(150.0, 30.0)], line_load=500.0), corner=Corner(500.0))
    result = assess(c)
    one, two = result.patches
    assert two.half_width.value == pytest.approx(one.half_width.value, rel=1e-3)
    assert two.plate.peak_von_mises.value == pytest.approx(one.plate.peak_von_mises.value, rel=2e-3)
    # Seen from the first plate the second is at the right, and the other way about.
    assert two.centre.value == pytest.approx(-one.centre.value, abs=2e-3 * one.half_width.value)
    # What each load makes at its own side, about +70 MPa, and at the other's, about −50 MPa.
    under, side = (value.value for value in result.bore_hoop_stress)
    assert under == pytest.approx(side, abs=2e-3 * (70.0 + 50.0))


def filled(c, young, poisson=0.2):
    infill = Infill(young, poisson, 2300.0, name="grout")
    return replace(c, sections=tuple(replace(s, infill=infill) for s in c.sections))


@pytest.mark.parametrize("held_by", ["beam shear", "diametral"])
def test_an_infill_leads_from_the_tube_to_the_solid(held_by):
    base = case([(120.0, 20.0)], line_load=600.0, held_by=held_by)
    tube = assess(base)
    solid = assess(case([(120.0, None)], line_load=600.0, held_by=held_by))
    soft, hard = assess(filled(base, 1.0)), assess(filled(base, 200e3, 0.3))
    for limit, known in ((soft, tube), (hard, solid)):
        assert limit.member.peak_von_mises.value == pytest.approx(
            known.member.peak_von_mises.value, rel=2e-3
        )
        assert limit.peak_contact_pressure.value == pytest.approx(
            known.peak_contact_pressure.value, rel=2e-3
        )
        assert limit.approach.value == pytest.approx(known.approach.value, rel=2e-3)
    between = assess(filled(base, 30e3))
    low, high = sorted([tube.approach.value, solid.approach.value])
    assert low < between.approach.value < high
    assert between.values["infill_compression"].value < 0.0 < between.values["bond_shear"].value
    assert between.section.shape == "filled tube"


def test_sections_held_unlike_share_a_comparison():
    c = filled(case([(120.0, 20.0)], line_load=600.0), 30e3)
    (grouted,) = c.sections
    plain = replace(grouted, name="tube", infill=None)
    core = replace(plain, name="core", held_by="rigid core")
    with no_first_yield():
        answer = compare(replace(c, sections=(grouted, plain, core)))
    hoop = {s.section.name: s.bore_hoop_stress[0].value for s in answer.sections}
    assert hoop["tube"] > hoop[grouted.name] > hoop["core"]
    assert not any(h.key.startswith("ring") for h in answer.section("core").hand_checks)
    assert any(h.key.startswith("ring") for h in answer.section("tube").hand_checks)


def test_a_plate_too_near_its_edge_is_refused_by_the_key_of_the_offset():
    c = at(case([(150.0, None)], plate_held="simply supported"), offset=199.5)
    with pytest.raises(InputError, match=r'\[contact\] offset = "199.5 mm".*2.5 half-widths'):
        solve_levels(c, c.sections[0], Bodies(c))


def test_a_plate_that_turns_too_far_is_refused():
    c = at(case([(150.0, None)], plate_held="simply supported"), offset=120.0)
    soft = replace(c, plate=replace(c.plate, held_by="elastic supports", spring=30.0))
    with pytest.raises(InputError, match=r"turns by .* 0\.05 rad"):
        solve_levels(soft, soft.sections[0], Bodies(soft))


def test_a_spring_that_only_settles_is_no_displacement_of_the_contact():
    # 15 mm of even settlement: more than a tenth of the radius, and no strain at all.
    c = case([(150.0, None)], line_load=600.0, plate_held="simply supported")
    soft = replace(c, plate=replace(c.plate, held_by="elastic supports", spring=20.0))
    assert assess(soft).approach.value == pytest.approx(15.0 + assess(c).approach.value, rel=1e-6)


def corner_read(loads, times=1.0, offset=0.0):
    """A coarse tube in a corner, read at ``times`` its loads."""
    c = replace(case([(150.0, 30.0)], line_load=loads[0]), corner=Corner(loads[1], offset=offset))
    made = build(c, Bodies(c), c.sections[0], tuple(Patch(0.0, 0.7) for _ in loads), 2.0)
    return c, made, read(made, times)


def test_both_loads_of_a_corner_grow_together_and_have_a_displacement_each():
    c, _, reading = corner_read((600.0, 300.0), 0.5)
    found = [patch.state.line_load for patch in reading.patches]
    assert found == pytest.approx([300.0, 150.0])
    first, second = (limits._displacement(c, reading, number) for number in (0, 1))
    assert (first, second) == pytest.approx(
        (-reading.state.rigid_displacement[1], reading.state.rigid_displacement[0])
    )
    assert first > second > 0.0


def test_stress_along_the_surface_is_that_along_each_plate():
    # Equal loads are alike at both plates; on this coarse mesh to 0.4 % of the peak pressure.
    _, _, reading = corner_read((500.0, 500.0))
    one, two = reading.post.added
    assert two == pytest.approx(one, abs=4e-3 * reading.peak_pressure)
    assert one < -2e-2 * reading.peak_pressure


def test_each_plate_of_a_corner_is_struck_at_its_own_offset():
    c, made, _ = corner_read((500.0, 400.0), offset=30.0)
    assert c.offsets == (0.0, 30.0)
    assert [outline.offset for outline in made.plate_outlines] == [0.0, 30.0]
    assert [plate.mesh.doflocs[0].min() for plate in made.joint.plates] == [-200.0, -230.0]


def test_a_strip_foresees_back_and_deflection_of_each_plate():
    # A strip in bending (strip.py and its sources), 15 thicknesses wide, off its middle.
    c = case([(150.0, None)], line_load=150.0, plate=(600.0, 40.0), plate_held="simply supported")
    result = assess(replace(c, corner=Corner(100.0, offset=150.0)))
    found = {h.key: h for h in result.hand_checks if h.key.startswith("strip")}
    assert len(found) == 4
    for key, h in found.items():
        assert h.computed > 0.0, key  # tension at the back, which moves away from the post
        assert abs(h.difference) < 0.05, key


@pytest.mark.parametrize(
    ("contact", "mirrored"),
    [
        ((0.0, 0.0, 0.0), True),
        ((0.0, 10.0, 0.0), True),  # without friction only the load counts
        ((0.0, 0.0, 0.2), True),
        ((0.0, 10.0, 0.2), False),
        ((20.0, 0.0, 0.0), False),
    ],
)
def test_only_what_is_symmetric_is_mirrored(monkeypatch, contact, mirrored):
    c = at(case([(150.0, None)], line_load=300.0), *contact)
    (section,) = c.sections
    made = build(c, Bodies(c), section, (Patch(0.0, 0.5),), 4.0)
    told = []
    monkeypatch.setattr(
        post_module,
        "member_peaks",
        lambda *words: told.append(words[3]) or places.member_peaks(*words),
    )
    read(made)
    # A drawing may be of any shape.
    read(replace(made, section=replace(section, mesh=Path("drawn.msh"))))
    assert told == [mirrored, False]


def test_bore_stress_is_read_where_the_mesh_has_its_nodes():
    # The mesh is turned with the patch, and with it the places under the load and at the side. As
    # if the stress were even in all directions and as large as x.
    c = case([(150.0, 25.0)], line_load=300.0)
    made = build(c, Bodies(c), c.sections[0], (Patch(6.0, 0.5),), 4.0)
    mesh = made.joint.member.mesh
    x, zero = mesh.doflocs[0], np.zeros(mesh.doflocs.shape[1])
    field = StressField(mesh, np.column_stack([x, x, zero, zero]), np.column_stack([zero, zero]))
    turn = made.grading.turn
    assert turn == pytest.approx(np.arcsin(6.0 / 75.0), rel=1e-2)
    assert post_module._bore_hoop(made, field) == pytest.approx(
        (50 * np.sin(turn), 50 * np.cos(turn))
    )


def test_hand_values_of_a_corner_add_the_second_load_a_quarter_turn_on():
    # Along its load −3, across it 1 times q/(πD) at the centre of a disc held by beam shear
    # (Timoshenko and Goodier, 3rd ed., ch. 4: from memory, not seen; halved for beam shear).
    q1, q2 = 600.0, 200.0
    c = replace(case([(150.0, None), (150.0, 30.0)], line_load=q1), corner=Corner(q2))
    solid, tube = (section_by_hand(c, section) for section in c.sections)
    one, two = (q / (np.pi * 150.0) for q in (q1, q2))
    assert solid.value("disc_centre_along") == pytest.approx(-3.0 * one + two)
    assert solid.value("disc_centre_across") == pytest.approx(one - 3.0 * two)
    for key, hoop in (
        ("ring", lambda q, at: thick_ring.bore_hoop(
            q, 75.0, 45.0, at, "beam shear", 0.3, "plane strain")),
        ("thin_ring", lambda q, at: ring_stress.thin_ring_hoop.plain(
            q, 75.0, 30.0, at, "beam shear")),
    ):  # fmt: skip
        under, side = (np.array([hoop(q, angle) for angle in (0.0, np.pi / 2)]) for q in (q1, q2))
        # What one load makes under itself, the other makes a quarter turn on.
        assert tube.value(f"{key}_bore_under_load") == pytest.approx(under[0] + side[1])
        assert tube.value(f"{key}_bore_at_side") == pytest.approx(under[1] + side[0])


def test_friction_off_the_middle_of_a_clamped_plate_is_solved_to_its_residual():
    # The first steps of the load have a patch much smaller than the gaps beside it; ties there are
    # to be judged by what the forces do, or the residual refuses them afterwards.
    c = case(
        [(150.0, None), (150.0, 25.0)], line_load=600.0, plate_held="clamped", offset=50.0,
        friction=0.2, young=210e3, plate_young=210e3,
    )  # fmt: skip
    for section in c.sections:
        state = solve_levels(c, section, Bodies(c)).fine.reading.state
        assert state.complementarity < 1e-9
        assert state.patches[0].motion == "partial slip"


def test_what_bending_adds_does_not_hang_on_where_the_middle_falls_between_nodes():
    # A solid bends alike wherever the plate is struck, and friction adds nothing in the middle.
    c = case([(150.0, None)], line_load=600.0, plate_held="simply supported")
    square = assess(c).added_hoop_stress
    for offset in (0.0, 30.0, 60.0):
        added = assess(at(c, offset, 25.0, 0.2)).added_hoop_stress
        assert added.uncertainty < 3.0
        assert abs(added.value - square.value) <= added.uncertainty + square.uncertainty


@pytest.mark.parametrize(
    ("changes", "held_by", "words"),
    [
        ({"outside_diameter": 150.0}, None, "circle"),
        ({}, "diametral", 'not by "diametral"'),
        ({"infill": INFILL}, None, "has no group 'infill'"),
    ],
)
def test_what_does_not_suit_a_section_drawn_elsewhere_names_case_section_and_key(
    changes, held_by, words
):
    c = case([(160.0, None)], line_load=600.0)
    own = replace(c.sections[0], name="own", mesh=MESH, held_by=held_by, **changes)
    with pytest.raises(InputError, match=r"^<data>: section 'own', mesh: ") as refusal:
        solve_levels(c, own, Bodies(c))
    assert words in str(refusal.value)
    assert str(refusal.value).count(str(MESH)) <= 1


def test_a_section_drawn_elsewhere_does_not_strike_a_corner():
    c = replace(case([(160.0, None)], line_load=600.0), corner=Corner(300.0))
    own = replace(c.sections[0], mesh=MESH)
    with pytest.raises(InputError, match="a corner needs two"):
        solve_levels(c, own, Bodies(c))


def test_a_ribbed_tube_bends_less_than_the_plain_one():
    c = case([(160.0, 20.0)], line_load=600.0)
    (tube,) = c.sections
    ribbed = replace(tube, name="ribbed", wall=None, mesh=MESH)
    plain, own = (assess(replace(c, sections=(s,))) for s in (tube, ribbed))
    assert plain.added_hoop_stress.value < own.added_hoop_stress.value < 0.0
    assert own.mass_per_length > plain.mass_per_length
    assert own.section.shape == "own mesh"
    assert {p.at.zone for p in own.member.places} >= {places.BORE, places.CORE}


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_drawn_section_with_a_short_contact_line_has_a_prism(scale):
    """Of a contact line that is long enough for the contact, and not for a patch of 0.3 R."""
    c = case([(160.0, 20.0)], line_load=600.0)
    own = replace(c.sections[0], name="ribbed", wall=None, mesh=MESH)
    c = replace(c, sections=(own,))
    assert Bodies(c).prism(own, scale, False).loads.sum() != 0.0


def test_reactions_are_as_sure_as_the_least_sure_of_them():
    fine = (Reaction("a", 0.0, 0.0, 10.0, 5.0, 1.0), Reaction("b", 0.0, 0.0, 0.0, 7.0, -3.0))
    coarse = (Reaction("a", 0.0, 0.0, 10.1, 5.0, 1.0), Reaction("b", 0.0, 0.0, 0.0, 6.5, -5.0))
    levels = [SimpleNamespace(reactions=of) for of in (fine, coarse)]
    # The plate is 60 mm thick: the friction on it has that lever. 900 N/mm are sure to 1e-7.
    c = case([(150.0, None)], line_load=900.0, plate=(400.0, 60.0))
    for friction, uncertainties in ((0.0, (0.5, 2.0)), (0.7, (0.7, 42.0))):
        found = section_module._reaction_uncertainties(c, 0, *levels, friction)
        assert found == pytest.approx(uncertainties)
    of = SimpleNamespace(reactions=fine)
    assert section_module._reaction_uncertainties(c, 0, of, of, 0.0) == pytest.approx((9e-5, 0.036))
