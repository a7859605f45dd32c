"""A case by hand as a whole: which steps there are, their forms, and what is left out."""

import math
from dataclasses import replace

import bodies
import forms
import pytest
from handcases import (
    APPROACH,
    CHANGE,
    CLAMPED,
    CONTACT,
    DISC,
    E_STAR,
    ENDS,
    HOOP,
    INFILL,
    LAYER,
    MESH,
    OF_AXIS,
    POST,
    RELIEF,
    RING,
    ROUND,
    SLIDING,
    SPRINGS,
    STRIP,
    TUBE,
    TWIST,
    WELD,
    WITH_FRICTION,
    WITH_FRICTION_CLAMPED,
    by_loads,
    close,
    limit_of,
    second,
    steps,
    stop,
    value,
)

from contactfe.assess.by_hand.case import by_hand, section_by_hand
from contactfe.case import Envelope
from contactfe.case.holds import PLATE_SUPPORTS
from contactfe.hand import approach_hold

CASES = {
    "plain": ({}, CONTACT | ROUND | LAYER),
    "plane stress": ({"state": "plane stress"}, CONTACT | ROUND | LAYER),
    "US units": ({"units": "US customary"}, CONTACT | ROUND | LAYER),
    "tube": ({"section": TUBE}, CONTACT | RING | HOOP | CHANGE | LAYER),
    "diametral solid": ({"held_by": "diametral"}, (CONTACT | ROUND | LAYER) - OF_AXIS),
    "diametral tube": (
        {"section": TUBE, "held_by": "diametral"},
        CONTACT | RING | HOOP | CHANGE | {"ring_collapse_line_load"} | LAYER,
    ),
    "rigid core": ({"section": TUBE, "held_by": "rigid core"}, CONTACT | LAYER),
    "filled": ({"section": (*TUBE, INFILL)}, CONTACT | LAYER),
    "own mesh": ({"section": (150.0, None, MESH)}, CONTACT | LAYER),
    "own mesh and cantilever": (
        {"section": (150.0, None, MESH), "cantilever": (900.0,)},
        CONTACT | LAYER | ENDS,
    ),
    "friction": ({"friction": 0.2}, CONTACT | SLIDING | ROUND | LAYER),
    "offset": ({"offset": 30.0, "plate_held": "simply supported"}, CONTACT | ROUND | STRIP),
    "clamped": (
        {"offset": -40.0, "plate_held": "clamped"},
        CONTACT | ROUND | CLAMPED,
    ),
    "elastic supports": (
        {"offset": 20.0, "plate_held": "elastic supports", "spring": 2000.0},
        CONTACT | ROUND | SPRINGS,
    ),
    "corner solid": (
        {"corner": 800.0, "friction": 0.1},
        CONTACT | SLIDING | APPROACH | by_loads(DISC) | LAYER
        | second(CONTACT | SLIDING | APPROACH | LAYER),
    ),
    "corner tube on elastic supports": (
        {"section": TUBE, "corner": 800.0, "plate_held": "elastic supports", "spring": 2000.0},
        CONTACT | RING | by_loads(HOOP) | SPRINGS | second(CONTACT | SPRINGS),
    ),
    "cantilever": ({"cantilever": (900.0,)}, CONTACT | ROUND | RELIEF | LAYER | POST | ENDS),
    "cantilever, friction": (
        {"cantilever": (900.0,), "friction": 0.2}, CONTACT | SLIDING | ROUND | LAYER | POST | ENDS
        | TWIST,
    ),
    "welded": (
        {"section": TUBE, "cantilever": (900.0, 10.0, 483.0)},
        CONTACT | RING | HOOP | CHANGE | RELIEF | LAYER | POST | ENDS | WELD,
    ),
    "filled and welded": (
        {"section": (*TUBE, INFILL), "cantilever": (900.0, 10.0)},
        CONTACT | LAYER | POST | ENDS | WELD,
    ),
    "all in US units": (
        {
            "section": TUBE, "cantilever": (900.0, 10.0, 483.0), "corner": 800.0, "friction": 0.2,
            "plate_held": "simply supported", "units": "US customary",
        },
        CONTACT | SLIDING | RING | by_loads(HOOP) | STRIP | POST | ENDS | TWIST | WELD
        | WITH_FRICTION | {"normal_force_second", "weld_torsion_stress"}
        | second(CONTACT | SLIDING | STRIP | WITH_FRICTION | ENDS),
    ),
    "clamped, friction": (
        {"friction": 0.2, "plate_held": "clamped"},
        CONTACT | SLIDING | ROUND | CLAMPED | WITH_FRICTION | WITH_FRICTION_CLAMPED,
    ),
    "large diameter": ({"section": (700.0, None), "plate": (1200.0, 200.0)}, CONTACT | ROUND
        | LAYER),
    "large diameter, US": (
        {"section": (700.0, None), "plate": (1200.0, 200.0), "units": "US customary"},
        CONTACT | ROUND | LAYER,
    ),
    "thin tube": (
        {"section": (300.0, 4.0), "cantilever": (900.0, 5.0), "line_load": 50.0},
        CONTACT | RING | HOOP | CHANGE | RELIEF | LAYER | POST | ENDS | WELD,
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
        assert forms.evaluate(each) == pytest.approx(each.value, rel=1e-9, abs=1e-12), each.formula
    for each in worked:
        if each.form is None:
            assert each.note, each.formula


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


def test_what_does_not_apply_is_none_or_an_error():
    found = steps()
    assert found.step("ring_moment_under_load") is None
    with pytest.raises(KeyError, match="ring_moment_under_load"):
        found.value("ring_moment_under_load")


def test_a_plain_case_is_within_every_range():
    # Bodies half as deep as the contact is long.
    found = steps((220.0, None), cantilever=(1100.0,), line_load=400.0, plate=(500.0, 110.0))
    assert [step.key for step in found.steps if not step.worked.within_range] == []


# Two plates


def test_a_sum_is_written_with_the_symbols_of_its_parts():
    found = steps(TUBE, corner=800.0, plate_held="elastic supports", spring=2000.0)
    for key, symbol, form in (
        ("ring_bore_under_load", "σθ", "σθ,1 + σθ,2"), ("strip_deflection", "w", "w,1 + ws,2"),
    ):  # fmt: skip
        worked = found.step(key).worked
        assert (worked.symbol, worked.by_symbols()) == (symbol, form)


def test_second_plate_has_its_own_load_and_place():
    found = steps(corner=800.0, corner_offset=25.0, offset=-10.0, plate_held="simply supported")
    assert value(found, "hertz_peak_pressure_second") == close(
        math.sqrt(800 * E_STAR / (math.pi * 75))
    )
    assert value(found, "strip_moment") == close(1500 * 190 * 210 / 400)
    assert value(found, "strip_moment_second") == close(800 * 175 * 225 / 400)
    edge = limit_of(found, "hertz_half_width_second", "a/(distance to the plate's edge)")
    assert edge.value == close(value(found, "hertz_half_width_second") / 175)


# Where the contact is


def test_shifts_move_the_load_on_the_plate_and_no_other_figure():
    case = stop(corner=800.0, offset=-10.0, plate_held="simply supported")
    section = case.sections[0]
    as_stated, moved = section_by_hand(case, section), section_by_hand(case, section, (15.0, -7.0))
    assert moved.value("strip_moment") == close(1500 * 205 * 195 / 400)
    assert moved.value("strip_moment_second") == close(800 * 207 * 193 / 400)
    for before, after in zip(as_stated.steps, moved.steps, strict=True):
        if before.topic in {"contact", "second contact", "section"}:
            assert (before.key, before.worked.value) == (after.key, after.worked.value)


# Over the yield strength


def test_utilisation_is_stress_over_the_strength_of_its_body():
    found = steps(TUBE, yield_strength=345.0, plate_yield=275.0, cantilever=(900.0,),
        plate_held="clamped")  # fmt: skip
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
    keys = {"cantilever": (900.0,), "plate_held": "clamped", "friction": 0.2,
        "yield_strength": 345.0, "plate_yield": 275.0}  # fmt: skip
    plain, safe = steps(TUBE, **keys), steps(TUBE, **keys, margin=1.25)
    measured = [step for step in plain.steps if step.against is not None]
    assert {step.against for step in measured} == {345.0, 275.0}
    for step in measured:
        there = safe.step(step.key)
        assert there.against == close(step.against / 1.25)
        assert there.utilisation == close(1.25 * step.utilisation)
        assert there.worked == step.worked  # its range is that of the formula
    assert len(measured) == sum(step.against is not None for step in safe.steps) == 17


# What is left out


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"section": TUBE, "held_by": "rigid core"}, ["rigid core", "[cantilever]"]),
        ({"section": (*TUBE, INFILL)}, ["filled tube", "[cantilever]"]),
        ({"section": (150.0, None, MESH)}, ["own mesh", "[cantilever]"]),
        (
            {"section": (150.0, None, MESH), "cantilever": (900.0,)},
            ["own mesh", "along its axis"],
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


def test_of_a_plate_without_a_formula_nothing_is_worked_out_and_that_is_said(monkeypatch):
    found = steps(TUBE, plate_held="clamped")
    monkeypatch.setitem(PLATE_SUPPORTS, "clamped", replace(PLATE_SUPPORTS["clamped"], strip=None))
    without = steps(TUBE, plate_held="clamped")
    assert any(step.key.startswith("strip") for step in found.steps)
    assert not any(step.topic == "plate" for step in without.steps)
    assert any(clause.part == "plate" for clause in found.clauses)
    assert not any(clause.part == "plate" for clause in without.clauses)
    assert any("plate clamped" in why for why in without.left_out)


@pytest.mark.parametrize("plate_held", ["rigid base", "simply supported"])
def test_the_axis_of_a_solid_comes_nearer_than_its_middle(plate_held):
    """By H of the hold times q/(πE'), whatever holds the plate; E' is E/(1 − ν²) here."""
    found = steps(plate_held=plate_held, line_load=1000.0)
    of = 1000.0 * (1 - 0.3**2) / (math.pi * 200e3)
    more = value(found, "approach_of_axis") - value(found, "approach")
    assert more == close(of * approach_hold.hold_constant(0.3, "beam shear", "plane strain"), 1e-6)
    parts = value(found, "approach_of_axis_post") + value(found, "approach_of_axis_plate")
    assert value(found, "approach_of_axis") == close(parts)
    datum = "base" if plate_held == "rigid base" else "back"
    step = found.step("approach_of_axis")
    assert step.label.endswith(f"plate's {datum}")
    # The formula of the plate and the patch both limit a/t, the patch to 0.1: that one counts.
    of_t = [limit for limit in step.worked.limits if limit.what.startswith("a/t")]
    assert [(limit.what, limit.bound) for limit in of_t] == [("a/t, the plate's thickness", 0.1)]
    ratios = [limit.what.partition(",")[0] for limit in step.worked.limits]
    assert ratios == [
        "a/R", "a/t", "a/(distance to the plate's edge)",
        "distance of the load from the nearer edge over t",
    ]  # fmt: skip


def test_friction_along_the_axis_is_left_out_of_clauses_and_weld():
    for keys, said in (
        ({"friction": 0.2, "cantilever": (900.0,)}, True),
        ({"friction": 0.2}, False),
        ({"cantilever": (900.0,)}, False),
        ({"friction": 0.2, "cantilever": (900.0,), "section": (150.0, None, MESH)}, False),
    ):
        lines = [why for why in steps(**keys).left_out if "friction along the axis" in why]
        assert len(lines) == said, keys


def test_the_contacts_of_an_envelope_are_left_out():
    envelope = Envelope((-90.0, 90.0), (0.0,), (0.0, 0.2))
    found = by_hand(replace(stop(), envelope=envelope)).sections[0]
    (why,) = (why for why in found.left_out if "[envelope]" in why)
    assert "[contact]" in why
    assert found.steps == steps().steps
    assert not any("[envelope]" in why for why in steps().left_out)


# Several sections


def test_sections_in_the_order_of_the_case_each_by_its_own_hold():
    case = bodies.case([TUBE, (120.0, None), (*TUBE[:1], 30.0, {"held_by": "rigid core"})])
    found = by_hand(case)
    assert [s.section for s in found.sections] == list(case.sections)
    assert found.case is case
    shapes = [
        (s.step("ring_eccentricity") is None, s.step("disc_centre_along") is None)
        for s in found.sections
    ]
    assert shapes == [(False, True), (True, False), (True, True)]
