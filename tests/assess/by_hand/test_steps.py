"""The steps of a case by hand: which there are, what they come to, and where they do not hold.

Spot values are textbook expressions with the numbers of the case written in.
"""

import math
from dataclasses import replace
from pathlib import Path

import bodies
import forms
import numpy as np
import pytest

from contactfe.assess.by_hand import by_hand
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.case import Case
from contactfe.case.model import Cantilever, Corner, Envelope
from contactfe.hand import ring_deflection, sliding, thick_ring

SOLID, TUBE = (150.0, None), (150.0, 25.0)
INFILL = {"infill": {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}}
MESH = {"mesh": str(Path(__file__).parents[3] / "meshes" / "ribbed-tube.msh")}
LENGTH = 200.0  # mm of contact
E_STAR = 200e3 / (2 * 0.91)  # plane strain, both of steel with ν = 0.3
P0 = math.sqrt(1500 * E_STAR / (math.pi * 75))
A = math.sqrt(4 * 1500 * 75 / (math.pi * E_STAR))


def stop(section=SOLID, *, cantilever=None, corner=None, corner_offset=0.0, **keys) -> Case:
    """A case of one section; ``cantilever`` is length, weld throat and electrode strength."""
    case = bodies.case([section], **keys)
    over = None if cantilever is None else LENGTH
    if corner is not None:
        case = replace(case, corner=Corner(corner, corner_offset, over))
    if cantilever is not None:
        case = replace(case, effective_length=over, cantilever=Cantilever(*cantilever))
    return case


def steps(*args, **keys):
    return by_hand(stop(*args, **keys)).sections[0]


def value(found, key: str) -> float:
    return found.value(key)


def close(expected: float, digits: float = 1e-9):
    return pytest.approx(expected, rel=digits)


def limit_of(found, key: str, what: str):
    return next(limit for limit in found.step(key).worked.limits if limit.what == what)


def of_both(*keys: str) -> set[str]:
    return {f"{key}{of}" for key in keys for of in ("", "_plate")}


def second(keys: set[str]) -> set[str]:
    return {f"{key}_second" for key in keys - {"contact_modulus"}}


def by_loads(keys: set[str]) -> set[str]:
    return {f"{key}{end}" for key in keys for end in ("", "_by_first", "_by_second")}


CONTACT = {"contact_modulus", "hertz_half_width", "hertz_peak_pressure"} | of_both(
    "hertz_peak_von_mises", "hertz_max_shear", "hertz_first_yield_line_load", "shakedown_line_load"
)
SLIDING = of_both("sliding_peak_von_mises", "sliding_edge_tension", "sliding_first_yield_line_load")
APPROACH = {"approach", "tangent_stiffness"}
DISC = {"disc_centre_along", "disc_centre_across"}
HOOP = {
    f"{method}_bore_{place}"
    for method in ("ring", "thin_ring", "curved_beam")
    for place in ("under_load", "at_side")
}
RING = {"ring_eccentricity"}
MINOR = {
    f"{what}_{place}"
    for what in ("thin_ring_moment", "ring_moment", "ring_thrust")
    for place in ("under_load", "at_side")
} - {"ring_moment_under_load"}
CHANGE = {"ring_change_along", "ring_change_across", "ring_moment_under_load"} | MINOR
LAYER = {"layer_base_pressure", "layer_back_stress"}
STRIP = {
    f"strip_{what}"
    for what in ("bending_stiffness", "shear_stiffness", "moment", "back_stress", "deflection")
}
CLAMPED = STRIP | {"strip_edge_moment", "strip_edge_stress"}
SPRINGS = STRIP | {"strip_bending_deflection", "strip_settlement"}
POST = {"normal_force", "post_force"} | {
    f"post_{what}"
    for what in (
        "area", "second_moment", "elastic_modulus", "plastic_modulus", "root_moment",
        "bending_stress", "shear_stress", "von_mises", "deflection", "stiffness",
    )
}  # fmt: skip
TWIST = {"post_torque", "post_torsion_stress", "post_twisted_von_mises"}
WELD = {"weld_bending_stress", "weld_shear_stress", "weld_resultant_stress"}
ROUND = DISC | {"disc_centre_von_mises"} | APPROACH

CASES = {
    "plain": ({}, CONTACT | ROUND | LAYER),
    "plane stress": ({"state": "plane stress"}, CONTACT | ROUND | LAYER),
    "US units": ({"units": "US customary"}, CONTACT | ROUND | LAYER),
    "tube": ({"section": TUBE}, CONTACT | RING | HOOP | CHANGE | LAYER),
    "opposed solid": ({"held_by": "opposed"}, CONTACT | ROUND | LAYER),
    "opposed tube": (
        {"section": TUBE, "held_by": "opposed"},
        CONTACT | RING | HOOP | CHANGE | {"ring_collapse_line_load"} | LAYER,
    ),
    "stiff core": ({"section": TUBE, "held_by": "stiff core"}, CONTACT | LAYER),
    "filled": ({"section": (*TUBE, INFILL)}, CONTACT | LAYER),
    "own mesh": ({"section": (150.0, None, MESH)}, CONTACT | LAYER),
    "own mesh and cantilever": (
        {"section": (150.0, None, MESH), "cantilever": (900.0,)},
        CONTACT | LAYER,
    ),
    "friction": ({"friction": 0.2}, CONTACT | SLIDING | ROUND | LAYER),
    "offset": ({"offset": 30.0, "plate_held": "two edges"}, CONTACT | ROUND | STRIP),
    "clamped": (
        {"offset": -40.0, "plate_held": "clamped edges"},
        CONTACT | ROUND | CLAMPED,
    ),
    "springs": (
        {"offset": 20.0, "plate_held": "springs", "spring": 2000.0},
        CONTACT | ROUND | SPRINGS,
    ),
    "corner solid": (
        {"corner": 800.0, "friction": 0.1},
        CONTACT | SLIDING | APPROACH | by_loads(DISC) | LAYER
        | second(CONTACT | SLIDING | APPROACH | LAYER),
    ),
    "corner tube on springs": (
        {"section": TUBE, "corner": 800.0, "plate_held": "springs", "spring": 2000.0},
        CONTACT | RING | by_loads(HOOP) | SPRINGS | second(CONTACT | SPRINGS),
    ),
    "cantilever": ({"cantilever": (900.0,)}, CONTACT | ROUND | LAYER | POST),
    "cantilever, friction": (
        {"cantilever": (900.0,), "friction": 0.2}, CONTACT | SLIDING | ROUND | LAYER | POST | TWIST,
    ),
    "welded": (
        {"section": TUBE, "cantilever": (900.0, 10.0, 483.0)},
        CONTACT | RING | HOOP | CHANGE | LAYER | POST | WELD,
    ),
    "filled and welded": (
        {"section": (*TUBE, INFILL), "cantilever": (900.0, 10.0)},
        CONTACT | LAYER | POST | WELD,
    ),
    "all in US units": (
        {
            "section": TUBE, "cantilever": (900.0, 10.0, 483.0), "corner": 800.0, "friction": 0.2,
            "plate_held": "two edges", "units": "US customary",
        },
        CONTACT | SLIDING | RING | by_loads(HOOP) | STRIP | POST | TWIST | WELD
        | {"normal_force_second"} | second(CONTACT | SLIDING | STRIP),
    ),
    "large diameter": ({"section": (700.0, None), "plate": (1200.0, 200.0)}, CONTACT | ROUND
        | LAYER),
    "large diameter, US": (
        {"section": (700.0, None), "plate": (1200.0, 200.0), "units": "US customary"},
        CONTACT | ROUND | LAYER,
    ),
    "thin tube": (
        {"section": (300.0, 4.0), "cantilever": (900.0, 5.0), "line_load": 50.0},
        CONTACT | RING | HOOP | CHANGE | LAYER | POST | WELD,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_which_steps_there_are(name):
    keys, expected = CASES[name]
    found = [step.key for step in steps(**keys).steps]
    assert set(found) == expected
    assert len(found) == len(expected)  # no key twice


@pytest.mark.parametrize("name", CASES)
def test_every_form_computes_to_its_value(name):
    section = steps(**CASES[name][0])
    worked = [step.worked for step in section.steps]
    for clauses in section.clauses:
        check = clauses.check
        worked += [*check.steps, check.demand, check.resistance]
    with_form = [w for w in worked if w.form is not None]
    assert len(with_form) > 10
    for each in with_form:
        # Rounding of a few operations; a difference that is nothing beside its parts is nothing.
        assert forms.evaluate(each) == pytest.approx(each.value, rel=1e-9, abs=1e-12), each.key
    for each in worked:
        if each.form is None:
            assert each.note, each.key


@pytest.mark.parametrize("name", CASES)
def test_topics_follow_one_another_and_never_return(name):
    topics = [step.topic for step in steps(**CASES[name][0]).steps]
    runs = [t for t, before in zip(topics, [None, *topics], strict=False) if t != before]
    order = ["contact", "second contact", "section", "plate", "second plate", "post"]
    assert runs == [topic for topic in order if topic in topics]


def test_no_step_or_clause_has_a_part_without_a_source():
    for name in CASES:
        section = steps(**CASES[name][0])
        for step in section.steps:
            assert step.worked.source, step.key
            assert step.label, step.key


# Values


def test_contact_by_the_textbook():
    found = steps(yield_strength=345.0, plate_yield=275.0)
    assert value(found, "contact_modulus") == close(E_STAR)
    assert value(found, "hertz_half_width") == close(A)
    assert value(found, "hertz_peak_pressure") == close(P0)
    # Johnson, Contact Mechanics, 1985, section 4.2 and 6.1 (from memory, not seen): three digits.
    assert value(found, "hertz_peak_von_mises") == close(0.558 * P0, 2e-3)
    assert value(found, "hertz_max_shear_plate") == close(0.300 * P0, 2e-3)
    for of, Y in (("", 345.0), ("_plate", 275.0)):
        per_square = math.pi * 75 / E_STAR
        # 1.79 Y has three digits and enters squared.
        first = value(found, f"hertz_first_yield_line_load{of}")
        assert first == close(per_square * (1.79 * Y) ** 2, 8e-3)
        shaken = value(found, f"shakedown_line_load{of}")
        assert shaken == close(per_square * (4 * Y / math.sqrt(3)) ** 2, 2e-4)  # found to 1e-4


def test_steels_that_differ():
    found = steps(young=210e3, plate_young=70e3, plate_poisson=0.33, state="plane stress")
    E_star = 1 / (1 / 210e3 + 1 / 70e3)
    assert value(found, "contact_modulus") == close(E_star)
    p0 = math.sqrt(1500 * E_star / (math.pi * 75))
    # In plane stress the peak of von Mises is p0 itself, at the surface, which p0 = 2k shakes down.
    assert value(found, "hertz_peak_von_mises_plate") == close(p0)
    shaken = math.pi * 75 / E_star * (2 * 690 / math.sqrt(3)) ** 2
    assert value(found, "shakedown_line_load_plate") == close(shaken, 2e-4)  # found to 1e-4


def test_each_body_has_its_own_ratio_of_poisson():
    found = steps(poisson=0.3, plate_poisson=0.0)
    E_star = 1 / (0.91 / 200e3 + 1 / 200e3)
    p0 = math.sqrt(1500 * E_star / (math.pi * 75))
    assert value(found, "hertz_peak_von_mises") == close(0.558 * p0, 2e-3)
    assert value(found, "hertz_peak_von_mises_plate") == close(p0)  # ν = 0: at the surface


# 2 ln 2 − 1: Johnson, Contact Mechanics, 1985, section 5.6, from memory, not seen; the others are
# derived in hand/approach.py, where they have these digits.
@pytest.mark.parametrize(
    ("held_by", "of_post"), [("opposed", 2 * math.log(2) - 1), ("beam shear", -0.3227)]
)
@pytest.mark.parametrize(
    ("plate_held", "of_plate"),
    [("bedded", 1.68294), ("two edges", 1.68294 - 2 * math.log(2)),
     ("clamped edges", 1.68294 - 2 * math.log(2))],
)  # fmt: skip
def test_approach_by_its_constants_and_its_tangent(held_by, of_post, plate_held, of_plate):
    found = steps(held_by=held_by, plate_held=plate_held)

    def approach(q):
        a = math.sqrt(4 * q * 75 / (math.pi * E_STAR))
        round_, plate = 2 * math.log(2 * 75 / a) + of_post, 2 * math.log(60 / a) + of_plate
        return q * 0.91 / (math.pi * 200e3) * (round_ + plate)

    # The last digits of two constants, beside a sum of about 18.
    assert value(found, "approach") == close(approach(1500.0), 5e-6)
    slope = (approach(1500.01) - approach(1499.99)) / 0.02
    # The same digits of the constants; the difference of two loads keeps about eight.
    assert value(found, "tangent_stiffness") == close(1 / slope, 5e-6)


def test_friction_by_the_textbook():
    found = steps(friction=0.2, yield_strength=345.0)
    assert value(found, "sliding_edge_tension") == close(2 * 0.2 * P0)
    peak, *_ = sliding.peak_von_mises(P0, 0.2, 0.3, "plane strain")
    assert value(found, "sliding_peak_von_mises") == close(peak)
    first = value(found, "sliding_first_yield_line_load")
    assert first == close(1500 * (345 / peak) ** 2)  # stress grows with the root of the load
    # Friction takes the shakedown limit below that without it, 4k.
    assert value(found, "shakedown_line_load") < value(steps(yield_strength=345.0),
        "shakedown_line_load")  # fmt: skip


@pytest.mark.parametrize(("held_by", "share"), [("opposed", 2.0), ("beam shear", 1.0)])
def test_disc_by_the_textbook(held_by, share):
    found = steps(held_by=held_by)
    across = share * 1500 / (math.pi * 150)
    assert value(found, "disc_centre_across") == close(across)
    assert value(found, "disc_centre_along") == close(-3 * across)
    # σz = ν(σx + σy) = −0.6 of the stress across: von Mises of 1, −3 and −0.6.
    measure = math.sqrt(((1 + 3) ** 2 + (-3 + 0.6) ** 2 + (-0.6 - 1) ** 2) / 2)
    assert value(found, "disc_centre_von_mises") == close(measure * across)


def test_opposed_tube_by_the_textbook():
    found = steps(TUBE, held_by="opposed", yield_strength=345.0)
    q, R, h = 1500.0, 62.5, 25.0
    e = R - h / math.log(75 / 50)
    assert value(found, "ring_eccentricity") == close(e)
    M = q * R / math.pi
    assert value(found, "ring_moment_under_load") == close(q * (R - e) / math.pi)
    assert value(found, "ring_moment_at_side") == close(q * (R - e) / math.pi - q * R / 2)
    assert value(found, "thin_ring_moment_under_load") == close(M)
    assert value(found, "thin_ring_moment_at_side") == close(M - q * R / 2)
    assert value(found, "ring_thrust_under_load") == 0.0
    assert value(found, "ring_thrust_at_side") == close(-q / 2)
    assert value(found, "thin_ring_bore_under_load") == close(6 * M / h**2)
    at_side = -q / 2 / h + 6 * (M - q * R / 2) / h**2
    assert value(found, "thin_ring_bore_at_side") == close(at_side)
    hoop = thick_ring.bore_hoop(q, 75.0, 50.0, 0.0, "opposed", 0.3, "plane strain")
    assert value(found, "ring_bore_under_load") == close(float(hoop))
    hoop = thick_ring.bore_hoop(q, 75.0, 50.0, math.pi / 2, "opposed", 0.3, "plane strain")
    assert value(found, "ring_bore_at_side") == close(float(hoop))
    change = ring_deflection.change_along.plain(
        q, 75.0, 25.0, 200e3, 0.3, "opposed", "plane strain"
    )
    assert value(found, "ring_change_along") == close(change)
    assert value(found, "ring_change_along") < 0.0 < value(found, "ring_change_across")
    Mp = 2 / math.sqrt(3) * 345 * h**2 / 4
    assert value(found, "ring_collapse_line_load") == close(8 * Mp / (2 * R))


def test_curved_beam_is_near_the_exact_series_within_its_range():
    for held_by in ("opposed", "beam shear"):
        found = steps((150.0, 20.0), held_by=held_by)
        exact = value(found, "ring_bore_under_load")
        # 10 % is what the curved beam's range is drawn at.
        assert value(found, "curved_beam_bore_under_load") == close(exact, 0.1)
        assert found.step("curved_beam_bore_under_load").worked.within


def test_plate_between_edges_by_the_textbook():
    found = steps(offset=30.0, plate_held="two edges")
    q, L, t, a, b = 1500.0, 400.0, 60.0, 230.0, 170.0
    D = 200e3 * t**3 / (12 * 0.91)
    S = 5 / 6 * 200e3 / 2.6 * t
    assert value(found, "strip_bending_stiffness") == close(D)
    assert value(found, "strip_shear_stiffness") == close(S)
    M = q * a * b / L
    assert value(found, "strip_moment") == close(M)
    bent = q * a**2 * b**2 / (3 * D * L) + q * a * b / (S * L)
    assert value(found, "strip_deflection") == close(bent)
    local = 0.26138 * q / t  # derived in hand/strip.py
    assert value(found, "strip_back_stress") == close(6 * M / t**2 - local)


def test_clamped_plate_by_the_textbook():
    found = steps(plate_held="clamped edges")
    q, L, t = 1500.0, 400.0, 60.0
    D, S = value(found, "strip_bending_stiffness"), value(found, "strip_shear_stiffness")
    assert value(found, "strip_moment") == close(q * L / 8)
    assert abs(value(found, "strip_edge_moment")) == close(q * L / 8)
    assert abs(value(found, "strip_edge_stress")) == close(6 * q * L / 8 / t**2)
    assert value(found, "strip_deflection") == close(q * L**3 / (192 * D) + q * L / (4 * S))


def test_clamped_plate_struck_off_its_middle_by_turning_its_edges_back():
    found = steps(offset=80.0, plate_held="clamped edges")
    q, L, a, b = 1500.0, 400.0, 280.0, 120.0
    D, S = value(found, "strip_bending_stiffness"), value(found, "strip_shear_stiffness")
    # Turns of the free edges under the load and under moments, of a strip that yields in shear:
    # Timoshenko's beam, derived here.
    turns = [q * a * b * (L + b) / (6 * D * L), q * a * b * (L + a) / (6 * D * L)]
    near, far = L / (3 * D) + 1 / (S * L), L / (6 * D) - 1 / (S * L)
    at_a, at_b = np.linalg.solve([[near, far], [far, near]], turns)
    assert abs(value(found, "strip_edge_moment")) == close(at_b)  # the nearer edge
    moment = q * a * b / L - (at_a * b + at_b * a) / L
    assert value(found, "strip_moment") == close(moment)


def test_plate_on_springs_by_the_textbook():
    found = steps(offset=20.0, plate_held="springs", spring=2000.0)
    fixed = steps(offset=20.0, plate_held="two edges")
    q, L, a, b = 1500.0, 400.0, 220.0, 180.0
    moved = q * (a**2 + b**2) / (2000.0 * L**2)  # each edge gives way by its share of the load
    assert value(found, "strip_settlement") == close(moved)
    bent = value(fixed, "strip_deflection")
    assert value(found, "strip_bending_deflection") == close(bent)
    assert value(found, "strip_deflection") == close(bent + moved)
    assert value(found, "strip_moment") == close(value(fixed, "strip_moment"))


def test_layer_by_its_coefficients():
    found = steps()
    # Coefficients of the exact field of a layer, derived in hand/layer.py.
    assert value(found, "layer_base_pressure") == close(0.91949 * 1500 / 60)
    assert value(found, "layer_back_stress") == close(0.24868 * 1500 / 60)


def test_post_along_its_axis_by_the_textbook():
    found = steps(cantilever=(900.0, 10.0), friction=0.3, line_load=400.0)
    F = 400.0 * 200.0
    V = F * math.sqrt(1.09)
    assert value(found, "normal_force") == close(F)
    assert value(found, "post_force") == close(V)
    D, L = 150.0, 900.0
    area, inertia = math.pi * D**2 / 4, math.pi * D**4 / 64
    assert value(found, "post_area") == close(area)
    assert value(found, "post_second_moment") == close(inertia)
    assert value(found, "post_elastic_modulus") == close(math.pi * D**3 / 32)
    assert value(found, "post_plastic_modulus") == close(D**3 / 6)
    assert value(found, "post_root_moment") == close(V * L)
    stress = 32 * V * L / (math.pi * D**3)
    assert value(found, "post_bending_stress") == close(stress)
    assert value(found, "post_von_mises") == close(stress)  # bending governs a long post
    # Timoshenko and Goodier, Theory of Elasticity: 1.38 V/A at ν = 0.3, from memory, not seen.
    assert value(found, "post_shear_stress") == close(1.38 * V / area, 4e-3)
    shear = 6 * 1.3 / (7 + 6 * 0.3) * 200e3 / 2.6 * area  # Cowper: from memory, not seen
    bent = V * (L**3 / 3 + 200**3 / 384) / (200e3 * inertia) + V * (L - 25) / shear
    assert value(found, "post_deflection") == close(bent)
    flexible = L**3 / (3 * 200e3 * inertia) + L / shear
    assert value(found, "post_stiffness") == close(1 / flexible)
    bending, mean = 4 * V * L / (math.pi * D**2 * 10), V / (math.pi * D * 10)
    assert value(found, "weld_bending_stress") == close(bending)
    assert value(found, "weld_shear_stress") == close(mean)
    assert value(found, "weld_resultant_stress") == close(math.hypot(bending, mean))


def test_tubular_post_has_its_bore():
    found = steps(TUBE, cantilever=(900.0,), line_load=400.0)
    assert value(found, "post_area") == close(math.pi / 4 * (150**2 - 100**2))
    assert value(found, "post_second_moment") == close(math.pi / 64 * (150**4 - 100**4))
    assert value(found, "post_plastic_modulus") == close((150**3 - 100**3) / 6)
    moment = 400 * 200 * 900.0
    modulus = math.pi / 32 * (150**4 - 100**4) / 150
    assert value(found, "post_bending_stress") == close(moment / modulus)
    # Flexure of a hollow circle, at the bore on the neutral axis: derived here. Without a bore it
    # is the (3 + 2ν)/(2(1 + ν)) V/A of a solid round.
    inside = 2 * 75**2 + 50**2 * (1 - (1 - 2 * 0.3) / (3 + 2 * 0.3))
    shear = 80e3 * (3 + 2 * 0.3) / (8 * 1.3) * inside / value(found, "post_second_moment")
    assert value(found, "post_shear_stress") == close(shear)


def test_drag_twists_the_post():
    for section, bore in ((SOLID, 0.0), (TUBE, 100.0)):
        found = steps(section, cantilever=(900.0,), friction=0.3, line_load=400.0)
        torque = 0.3 * 400 * 200 * 75
        assert value(found, "post_torque") == close(torque)
        twist = 16 * torque * 150 / (math.pi * (150**4 - bore**4))
        assert value(found, "post_torsion_stress") == close(twist)
        bending = value(found, "post_bending_stress")
        twisted = math.sqrt(bending**2 + 3 * twist**2)  # at the farthest fibre of a long post
        assert value(found, "post_twisted_von_mises") == pytest.approx(twisted, rel=1e-4)
        assert value(found, "post_twisted_von_mises") >= twisted


def test_both_plates_of_a_corner_twist_the_post():
    found = steps(cantilever=(900.0,), corner=800.0, friction=0.1)
    assert value(found, "post_torque") == close(0.1 * (1500 + 800) * 200 * 75)


def test_infill_is_not_counted_in_the_post():
    hollow = steps(TUBE, cantilever=(900.0,))
    filled = steps((*TUBE, INFILL), cantilever=(900.0,))
    for key in POST:
        assert value(filled, key) == value(hollow, key)
    assert any("infill" in why for why in filled.left_out)


# Two plates


def test_corner_forces_on_the_post():
    found = steps(corner=800.0, friction=0.2, cantilever=(900.0,))
    F1, F2 = 1500 * 200.0, 800 * 200.0
    assert value(found, "normal_force") == close(F1)
    assert value(found, "normal_force_second") == close(F2)
    assert value(found, "post_force") == close(math.hypot(F1 + 0.2 * F2, F2 + 0.2 * F1))


def test_each_plate_of_a_corner_has_its_own_length_of_contact():
    case = stop(cantilever=(900.0,), corner=800.0)
    case = replace(case, corner=replace(case.corner, effective_length=300.0))
    found = by_hand(case).sections[0]
    assert value(found, "normal_force") == close(1500 * 200)
    assert value(found, "normal_force_second") == close(800 * 300)
    assert value(found, "post_force") == close(math.hypot(300e3, 240e3))


def test_a_sum_is_written_with_the_symbols_of_its_parts():
    found = steps(TUBE, corner=800.0, plate_held="springs", spring=2000.0)
    for key, symbol, form in (
        ("ring_bore_under_load", "σθ", "σθ,1 + σθ,2"), ("strip_deflection", "w", "w,1 + ws,2"),
    ):  # fmt: skip
        worked = found.step(key).worked
        assert (worked.symbol, worked.by_symbols()) == (symbol, form)


def test_corner_sums_are_those_of_their_parts():
    checked = 0
    for section in (SOLID, TUBE):
        found = steps(section, corner=800.0)
        for step in found.steps:
            if step.key.endswith("_by_first"):
                key = step.key.removesuffix("_by_first")
                parts = step.worked.value + value(found, f"{key}_by_second")
                assert value(found, key) == close(parts)
                assert step.against is None  # a part alone is measured by nothing
                checked += 1
    assert checked == len(DISC) + len(HOOP)


def test_the_sum_of_both_loads_is_measured_by_the_strength_of_the_post():
    found = steps(TUBE, corner=800.0, yield_strength=345.0, plate_yield=275.0)
    assert {key: found.step(key).against for key in HOOP} == dict.fromkeys(HOOP, 345.0)
    solid = steps(corner=800.0)
    assert {solid.step(key).against for key in DISC} == {None}  # two parts of one stress state
    alone = steps(yield_strength=345.0, plate_yield=275.0)
    assert alone.step("disc_centre_von_mises").against == 345.0


def test_second_load_stands_at_the_side_of_the_first():
    q1, q2, R, h = 1500.0, 800.0, 62.5, 25.0
    found = steps(TUBE, corner=q2)

    def under(q):
        M = q * R * (1 / (2 * math.pi) + 1 / (4 * math.pi))
        return -q * 3 / (4 * math.pi) / h + 6 * M / h**2

    def side(q):
        return -q / 4 / h + 6 * q * R * (1 / (2 * math.pi) - 1 / 4) / h**2

    assert value(found, "thin_ring_bore_under_load_by_first") == close(under(q1))
    assert value(found, "thin_ring_bore_under_load_by_second") == close(side(q2))
    assert value(found, "thin_ring_bore_at_side_by_first") == close(side(q1))
    assert value(found, "thin_ring_bore_at_side_by_second") == close(under(q2))


def test_second_load_on_a_disc():
    found = steps(corner=800.0)
    q1, q2 = 1500 / (math.pi * 150), 800 / (math.pi * 150)
    assert value(found, "disc_centre_along") == close(-3 * q1 + q2)
    assert value(found, "disc_centre_across") == close(q1 - 3 * q2)


def test_second_plate_has_its_own_load_and_place():
    found = steps(corner=800.0, corner_offset=25.0, offset=-10.0, plate_held="two edges")
    assert value(found, "hertz_peak_pressure_second") == close(
        math.sqrt(800 * E_STAR / (math.pi * 75))
    )
    assert value(found, "strip_moment") == close(1500 * 190 * 210 / 400)
    assert value(found, "strip_moment_second") == close(800 * 175 * 225 / 400)
    edge = limit_of(found, "hertz_half_width_second", "a/(distance to the plate's edge)")
    assert edge.value == close(value(found, "hertz_half_width_second") / 175)


def test_limits_of_the_second_plate_are_of_its_own_patch():
    for plate_held, key in (("two edges", "strip_moment"), ("bedded", "layer_back_stress")):
        found = steps(corner=800.0, plate_held=plate_held)
        for end in ("", "_second"):
            limit = limit_of(found, f"{key}{end}", "a/t")
            assert limit.value == close(value(found, f"hertz_half_width{end}") / 60)


# Where the contact is


def test_shifts_move_the_load_on_the_plate_and_no_other_figure():
    case = stop(corner=800.0, offset=-10.0, plate_held="two edges")
    section = case.sections[0]
    as_stated, moved = section_by_hand(case, section), section_by_hand(case, section, (15.0, -7.0))
    assert moved.value("strip_moment") == close(1500 * 205 * 195 / 400)
    assert moved.value("strip_moment_second") == close(800 * 207 * 193 / 400)
    for before, after in zip(as_stated.steps, moved.steps, strict=True):
        if before.topic in {"contact", "second contact", "section"}:
            assert (before.key, before.worked.value) == (after.key, after.worked.value)


def test_distance_to_the_edge_follows_the_shift():
    case = stop(plate=(200.0, 60.0))
    section = case.sections[0]
    for shift in (0.0, 20.0, -20.0):
        found = section_by_hand(case, section, (shift, 0.0))
        edge = limit_of(found, "hertz_half_width", "a/(distance to the plate's edge)")
        assert edge.value == close(A / (100 - abs(shift)))


def test_layer_limits_follow_the_shift():
    case = stop(plate=(200.0, 60.0))
    section = case.sections[0]
    for shift in (0.0, 20.0):
        found = section_by_hand(case, section, (shift, 0.0)).step("layer_back_stress").worked
        limit = next(limit for limit in found.limits if "edge" in limit.what)
        assert limit.value == close((100 - shift) / 60)


# Over the yield strength


def test_utilisation_is_stress_over_the_strength_of_its_body():
    found = steps(TUBE, yield_strength=345.0, plate_yield=275.0, cantilever=(900.0,),
        plate_held="clamped edges")  # fmt: skip
    against = {step.key: step.against for step in found.steps if step.against is not None}
    assert against == {
        "hertz_peak_von_mises": 345.0, "hertz_peak_von_mises_plate": 275.0,
        **dict.fromkeys(HOOP, 345.0), "strip_back_stress": 275.0, "strip_edge_stress": 275.0,
        "post_bending_stress": 345.0, "post_von_mises": 345.0,
    }  # fmt: skip
    side = found.step("ring_bore_at_side")
    assert side.worked.value < 0.0
    assert side.utilisation == close(-side.worked.value / 345)  # of either sign
    assert found.step("hertz_peak_pressure").utilisation is None


def test_what_a_stress_is_measured_by_is_the_strength_over_the_margin():
    keys = {"cantilever": (900.0,), "plate_held": "clamped edges", "friction": 0.2,
        "yield_strength": 345.0, "plate_yield": 275.0}  # fmt: skip
    plain, safe = steps(TUBE, **keys), steps(TUBE, **keys, margin=1.25)
    measured = [step for step in plain.steps if step.against is not None]
    assert {step.against for step in measured} == {345.0, 275.0}
    for step in measured:
        there = safe.step(step.key)
        assert there.against == close(step.against / 1.25)
        assert there.utilisation == close(1.25 * step.utilisation)
        assert there.worked == step.worked  # its range is that of the formula
    assert len(measured) == sum(step.against is not None for step in safe.steps) == 15


def test_torsion_adds_a_stress_of_the_post_that_is_measured_by_its_strength():
    found = steps(friction=0.2, yield_strength=345.0, plate_yield=275.0, cantilever=(900.0,))
    assert {key: found.step(key).against for key in TWIST} == {
        "post_torque": None, "post_torsion_stress": None, "post_twisted_von_mises": 345.0,
    }  # fmt: skip


def test_minor_steps_are_the_resultants_that_lead_to_others():
    for held_by in ("beam shear", "opposed"):
        found = steps(TUBE, held_by=held_by, cantilever=(900.0,), friction=0.2)
        assert {step.key for step in found.steps if step.minor} == MINOR


def test_friction_adds_one_stress_of_each_body_that_is_measured_by_its_strength():
    found = steps(friction=0.2, yield_strength=345.0, plate_yield=275.0)
    against = {s.key: s.against for s in found.steps if s.key.startswith("sliding")}
    assert against == {
        "sliding_peak_von_mises": 345.0, "sliding_peak_von_mises_plate": 275.0,
        # A tension on one line of the surface is no von Mises stress.
        **dict.fromkeys(of_both("sliding_edge_tension", "sliding_first_yield_line_load")),
    }  # fmt: skip


def test_what_does_not_apply_is_none_or_an_error():
    found = steps()
    assert found.step("ring_moment_under_load") is None
    with pytest.raises(KeyError, match="ring_moment_under_load"):
        found.value("ring_moment_under_load")


# Ranges


def passed(found, key: str) -> set[str]:
    return {limit.what for limit in found.step(key).worked.exceeded}


def test_a_plain_case_is_within_every_range():
    found = steps(cantilever=(900.0,), line_load=400.0, plate=(400.0, 80.0))
    assert [step.key for step in found.steps if not step.worked.within] == []


@pytest.mark.parametrize(("held_by", "share"), [("beam shear", 3 / 4), ("opposed", 1.0)])
def test_bending_of_the_ring_beside_the_contact(held_by, share):
    found = steps(TUBE, held_by=held_by)
    what = "bending of the post over p0"
    bending = 6 * share * 1500 * 62.5 / math.pi / 25**2
    limit = limit_of(found, "hertz_peak_von_mises", what)
    assert limit.value == close(bending / P0)
    assert limit.exceeded
    # Of a load of its own: bending grows with the load, pressure with its root.
    load = value(found, "hertz_first_yield_line_load")
    limit = limit_of(found, "hertz_first_yield_line_load", what)
    assert limit.value == close(bending / P0 * math.sqrt(load / 1500))
    # The pressure itself is another matter, and so is the plate.
    assert passed(found, "hertz_peak_pressure") == set()
    assert passed(found, "hertz_peak_von_mises_plate") == set()


def test_bending_of_the_ring_in_a_corner_is_that_of_both_loads_of_either_sign():
    # Thin ring, R = 62.5 and h = 25 mm: qR 3/(4π) under a load, qR (1/(2π) − 1/4) at its side.
    under, side = 3 / (4 * math.pi), 1 / (2 * math.pi) - 1 / 4
    q1, q2 = 100.0, 1500.0
    found = steps(TUBE, line_load=q1, corner=q2)
    for end, own, other in (("", q1, q2), ("_second", q2, q1)):
        bending = 6 * 62.5 * (under * own + side * other) / 25**2
        assert (bending < 0.0) == (end == "")  # at the smaller load the greater one governs
        limit = limit_of(found, f"hertz_peak_von_mises{end}", "bending of the post over p0")
        p0 = math.sqrt(own * E_STAR / (math.pi * 75))
        assert limit.value == close(abs(bending) / p0)


def test_bending_beside_the_contact_counts_from_a_twentieth_of_the_pressure():
    key, what = "hertz_peak_von_mises_plate", "bending of the plate over p0"
    # 6 q L/4 / t² = 6·q·40 mm/60² over p0 at 160 mm of span.
    per_root = 6 * 160 / 4 / 60**2 / math.sqrt(E_STAR / (math.pi * 75))
    for share, out in ((0.049, False), (0.051, True)):
        q = (share / per_root) ** 2
        found = steps(line_load=q, plate=(160.0, 60.0), plate_held="two edges")
        assert limit_of(found, key, what).value == close(share)
        assert (what in passed(found, key)) == out


@pytest.mark.parametrize(
    "section", [(*TUBE, {"held_by": "stiff core"}), (*TUBE, INFILL), (150.0, None, MESH)]
)
def test_nothing_is_said_of_bending_where_no_formula_gives_it(section):
    found = steps(section)
    limits = found.step("hertz_peak_von_mises").worked.limits
    assert not [limit.what for limit in limits if limit.what.startswith("bending")]
    plate = limit_of(found, "hertz_peak_von_mises_plate", "bending of the plate over p0")
    assert plate.value == 0.0  # bedded


def test_bending_of_the_plate_beside_the_contact():
    found = steps(offset=30.0, plate_held="two edges")
    bending = 6 * 1500 * 230 * 170 / 400 / 60**2
    what = "bending of the plate over p0"
    limit = limit_of(found, "hertz_peak_von_mises_plate", what)
    assert limit.value == close(bending / P0)
    assert limit.exceeded
    post = limit_of(found, "hertz_peak_von_mises", "bending of the post over p0")
    assert post.value == 0.0  # a solid
    assert what not in {limit.what for limit in found.step("hertz_peak_von_mises").worked.limits}


@pytest.mark.parametrize(("thickness", "out"), [(11.0, True), (12.0, False)])
def test_a_thin_plate_is_no_half_space(thickness, out):
    assert A / 12 < 0.1 < A / 11
    found = steps(plate=(400.0, thickness))
    # The plate's back, not its front, is another matter: the layer has a bound of its own, a/t 0.2.
    for key in ("hertz_half_width", "hertz_peak_pressure", "hertz_peak_von_mises_plate"):
        assert ("a/t, the plate's thickness" in passed(found, key)) == out
    assert found.step("layer_back_stress").worked.within


def test_loads_at_first_yield_and_shakedown_have_a_patch_of_their_own():
    found = steps(line_load=100.0, plate=(400.0, 11.0), yield_strength=690.0)
    for key in ("hertz_first_yield_line_load", "shakedown_line_load_plate"):
        load = value(found, key)
        a = math.sqrt(4 * load * 75 / (math.pi * E_STAR))
        limit = limit_of(found, key, "a/t, the plate's thickness")
        assert limit.value == close(a / 11)
        assert limit.exceeded
    assert passed(found, "hertz_peak_pressure") == set()  # the load itself has a narrow one


@pytest.mark.parametrize(("wall", "out"), [(11.0, True), (12.0, False)])
def test_a_wide_patch_on_a_thin_wall(wall, out):
    found = steps((150.0, wall))
    assert ("a/h, the wall" in passed(found, "hertz_peak_pressure")) == out


def test_a_contact_near_the_edge_of_the_plate():
    found = steps(offset=190.0)
    assert passed(found, "hertz_half_width") == {"a/(distance to the plate's edge)"}
    assert passed(found, "layer_back_stress") == {
        "distance of the load from the nearer edge over t"
    }


def test_a_thick_wall_is_no_thin_ring_and_then_no_curved_beam():
    for wall, thin, curved in ((6.5, True, True), (20.0, False, True), (40.0, False, False)):
        found = steps((150.0, wall), line_load=100.0)
        assert found.step("thin_ring_bore_under_load").worked.within == thin
        assert found.step("curved_beam_bore_under_load").worked.within == curved
        assert found.step("ring_bore_under_load").worked.within


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_ring_beyond_yield(share, out):
    at = thick_ring.bore_hoop(1.0, 75.0, 50.0, 0.0, "beam shear", 0.3, "plane strain")
    found = steps(TUBE, line_load=share * 345 / float(at), yield_strength=345.0)
    for key in ("ring_bore_under_load", *CHANGE - MINOR - {"ring_moment_under_load"}):
        assert limit_of(found, key, "σ/Y").value == close(share)
        assert ("σ/Y" in passed(found, key)) == out
    side = value(found, "ring_bore_at_side")
    assert limit_of(found, "ring_bore_at_side", "σ/Y").value == close(-side / 345)  # of either sign


def test_the_sum_of_both_loads_is_held_against_yield_and_not_its_parts():
    found = steps(TUBE, corner=800.0, yield_strength=345.0)
    for key in HOOP:
        assert limit_of(found, key, "σ/Y").value == close(abs(value(found, key)) / 345)
        for part in ("by_first", "by_second"):
            limits = found.step(f"{key}_{part}").worked.limits
            assert "σ/Y" not in {limit.what for limit in limits}


@pytest.mark.parametrize(("share", "out"), [(0.049, False), (0.051, True)])
def test_a_large_change_of_diameter(share, out):
    small = {"section": (150.0, 1.0), "held_by": "opposed", "line_load": 1.0}
    for key in ("ring_change_along", "ring_change_across"):
        q = share * 150 / abs(value(steps(**small), key))
        found = steps(**small | {"line_load": q})
        assert limit_of(found, key, "|ΔD|/D").value == close(share)
        assert ("|ΔD|/D" in passed(found, key)) == out


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_ring_that_is_crushed(share, out):
    # P0 = 8 Mp/(2R), Mp = 2/√3 Y h²/4.
    P0 = 8 * 2 / math.sqrt(3) * 345 * 6**2 / 4 / 144
    found = steps((150.0, 6.0), held_by="opposed", line_load=share * P0, yield_strength=345.0)
    assert limit_of(found, "ring_collapse_line_load", "q/P0").value == close(share)
    assert ("q/P0" in passed(found, "ring_collapse_line_load")) == out


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_plate_beyond_yield(share, out):
    # At the back 6M/t² − 0.26138 q/t with M = qL/4 between edges, qL/8 where they are clamped.
    back = share * 275 / (6 * 100 / 60**2 - 0.26138 / 60)
    found = steps(plate_held="two edges", line_load=back, plate_yield=275.0)
    assert limit_of(found, "strip_back_stress", "σ/Y").value == close(share)
    assert ("σ/Y" in passed(found, "strip_back_stress")) == out
    # Once more at the edge, without what the load takes off at the back.
    edge = share * 275 / (6 * 50 / 60**2)
    found = steps(plate_held="clamped edges", line_load=edge, plate_yield=275.0)
    for key in ("strip_back_stress", "strip_edge_moment", "strip_edge_stress"):
        assert limit_of(found, key, "σ/Y at the edge").value == close(share)
        assert passed(found, key) == ({"σ/Y at the edge"} if out else set())


def test_a_sum_carries_the_limits_of_its_parts():
    found = steps((150.0, 40.0), corner=800.0)
    assert passed(found, "thin_ring_bore_at_side") == {"h/R"}


def test_a_short_post():
    post = {"post_bending_stress", "post_shear_stress", "post_von_mises", "post_deflection",
        "post_root_moment", *WELD}  # fmt: skip
    for length, out in ((290.0, True), (310.0, False)):
        found = steps(cantilever=(length, 10.0), line_load=100.0)
        for key in post:
            assert ("L/D" in passed(found, key)) == out, key


def test_a_post_beyond_yield():
    q = 690 * math.pi * 150**3 / 32 / 900 / 200  # its root just yields
    for load, out in ((1.01 * q, True), (0.99 * q, False)):
        found = steps(cantilever=(900.0,), line_load=load)
        for key in ("post_bending_stress", "post_von_mises", "post_deflection"):
            assert ("σ/Y" in passed(found, key)) == out, key
    twisted = steps(cantilever=(900.0,), line_load=1.01 * q, friction=0.1)
    assert "σ/Y" in passed(twisted, "post_twisted_von_mises")
    short = steps(cantilever=(290.0,), line_load=100.0, friction=0.1)
    assert "L/D" in passed(short, "post_twisted_von_mises")


def test_a_stocky_strip_a_slender_one_and_a_wide_patch():
    assert "L/t" in passed(steps(plate_held="two edges", plate=(230.0, 60.0)), "strip_moment")
    soft = steps(plate_held="two edges", plate=(800.0, 12.0), line_load=100.0)
    assert "w/t" in passed(soft, "strip_deflection")
    assert "a/t" in passed(steps(plate_held="two edges", plate=(400.0, 11.0)), "strip_back_stress")


def test_every_figure_of_a_clamped_strip_has_the_limits_of_the_strip():
    found = steps(plate_held="clamped edges", plate=(230.0, 60.0))
    for key in CLAMPED - {"strip_bending_stiffness", "strip_shear_stiffness"}:
        assert "L/t" in passed(found, key), key


@pytest.mark.parametrize("held", ["two edges", "clamped edges"])
def test_slope_of_a_strip_is_that_at_the_load(held):
    q, a, b, L, t = 100.0, 300.0, 100.0, 400.0, 10.0
    D = 200e3 * t**3 / 12 / 0.91
    # Textbook of beams, without shear, which adds 12D/(S L²), less than 1 % of it at L/t = 40.
    simple, fixed = q * a * b * (a - b) / (3 * D * L), q * a**2 * b**2 * (a - b) / (2 * D * L**3)
    found = steps(plate_held=held, plate=(L, t), line_load=q, offset=100.0)
    limit = limit_of(found, "strip_moment", "slope")
    assert limit.value == close(simple if held == "two edges" else fixed, 1e-2)


def test_a_deflection_on_springs_has_the_limits_of_the_strip_and_its_settlement_none():
    found = steps(plate_held="springs", spring=2000.0, plate=(230.0, 60.0))
    for key in ("strip_deflection", "strip_bending_deflection"):
        assert "L/t" in passed(found, key), key
        assert "w/t" in {limit.what for limit in found.step(key).worked.limits}, key
    assert passed(found, "strip_settlement") == set()


def test_movement_on_springs_does_not_strain_the_strip():
    found = steps(plate_held="springs", spring=4.0, line_load=300.0)
    assert value(found, "strip_settlement") > 0.5 * 60
    assert found.step("strip_back_stress").worked.within


# What is left out


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"section": TUBE, "held_by": "stiff core"}, ["stiff core", "[cantilever]"]),
        ({"section": (*TUBE, INFILL)}, ["filled tube", "[cantilever]"]),
        ({"section": (150.0, None, MESH)}, ["own mesh", "[cantilever]"]),
        (
            {"section": (150.0, None, MESH), "cantilever": (900.0,)},
            ["own mesh", "drawn elsewhere"],
        ),
        ({"section": TUBE}, ["[cantilever]"]),
        ({"section": TUBE, "cantilever": (900.0,)}, []),
    ],
)
def test_what_is_left_out_is_said(keys, words):
    left_out = [why for why in steps(**keys).left_out if "ultimate" not in why]
    assert len(left_out) == len(words)
    for why, word in zip(left_out, words, strict=True):
        assert word in why


def test_drag_along_the_plate_is_left_out_of_its_bending():
    for keys, said in (
        ({"friction": 0.2, "plate_held": "two edges"}, True),
        ({"friction": 0.2, "plate_held": "springs", "spring": 2000.0}, True),
        ({"friction": 0.2, "plate_held": "bedded"}, False),
        ({"plate_held": "two edges"}, False),
    ):
        lines = [why for why in steps(**keys).left_out if "drag along the plate" in why]
        assert len(lines) == said, keys


def test_torsion_is_left_out_of_clauses_and_weld():
    for keys, said in (
        ({"friction": 0.2, "cantilever": (900.0,)}, True),
        ({"friction": 0.2}, False),
        ({"cantilever": (900.0,)}, False),
        ({"friction": 0.2, "cantilever": (900.0,), "section": (150.0, None, MESH)}, False),
    ):
        lines = [why for why in steps(**keys).left_out if "torsion" in why]
        assert len(lines) == said, keys


def test_the_contacts_of_an_envelope_are_left_out():
    envelope = Envelope((-90.0, 90.0), (0.0,), (0.0, 0.2))
    found = by_hand(replace(stop(), envelope=envelope)).sections[0]
    assert [why for why in found.left_out if "[envelope]" in why] == [
        "the contacts of [envelope]; everything is worked out for [contact]"
    ]
    assert found.steps == steps().steps
    assert not any("[envelope]" in why for why in steps().left_out)


def test_sections_in_the_order_of_the_case_each_by_its_own_hold():
    case = bodies.case([TUBE, (120.0, None), (*TUBE[:1], 30.0, {"held_by": "stiff core"})])
    found = by_hand(case)
    assert [s.section for s in found.sections] == list(case.sections)
    assert found.case is case
    shapes = [
        (s.step("ring_eccentricity") is None, s.step("disc_centre_along") is None)
        for s in found.sections
    ]
    assert shapes == [(False, True), (True, False), (True, True)]
