"""Levels of hazard: the impact at each beside an integration of its own, and the checks of them."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from motions import FIXED, moving
from scipy.integrate import solve_ivp

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.check_list import load_check
from contactfe.assess.hazard import LevelImpact, impact_checks, motion_checks
from contactfe.assess.impact import impact_force
from contactfe.case.impact import forces_by_level, outcome_of, peak_force, velocity_at_closure
from contactfe.case.motion import Damper, Level, level_keys
from contactfe.case.scaling import scaled
from contactfe.errors import SolveError

MASS, BUMPER, GAP, STIFFNESS = 2000.0, 3.0, 300.0, 400e3
DESIGN = {"name": "Design level", "displacement": "280 mm", "must_engage": False}
MCE = {"name": "MCE", "displacement": "450 mm", "must_engage": True}
BEYOND = {"name": "beyond", "displacement": "600 mm", "period": "3.4 s", "damping": 0.25}
LEVELS = [DESIGN, MCE, BEYOND]
DAMPER = {"force": "1000 kN", "at_velocity": "1 m/s", "exponent": 0.4, "angle": "30 deg"}


def at_levels(levels=LEVELS, damping=0.12, **values):
    """The stop of the tests at levels of hazard in place of its one motion."""
    return moving(
        motion__displacement=None, motion__level=levels,
        **({} if damping is None else {"motion__damping": damping}), **values,
    )  # fmt: skip


def apart(displacement, period, damping, end):
    """Two masses on a linear damper, integrated apart from the package, from rest back to closure
    and on: peak force, greatest displacement of the floor, stroke of the bumper.
    """
    omega = 2 * math.pi / period
    k, c = MASS * omega**2, 2 * damping * MASS * omega
    damper = 1000.0  # N s/mm: 1000 kN at 1 m/s

    def back(_, y):
        return [-y[1], (k * y[0] + c * y[1]) / MASS]

    def closed(_, y):
        return y[0] - GAP

    closed.terminal = True
    settings = {"rtol": 1e-10, "atol": 1e-9, "max_step": 1e-2}
    v = solve_ivp(back, (0.0, period), [displacement, 0.0], events=closed, **settings).y[1, -1]

    def on(_, y):
        x, v, b, w = y
        force = max(STIFFNESS * (x - b), 0.0)
        return [v, -(k * (GAP + x) + c * v + force) / MASS, w, (force - damper * w) / BUMPER]

    found = solve_ivp(
        on,
        (0.0, end),
        [0.0, v, 0.0, 0.0],
        rtol=1e-10,
        atol=1e-9,
        method="LSODA",
        t_eval=np.linspace(0.0, end, 40_001),
    )
    x, _, b, _ = found.y
    return v, np.max(STIFFNESS * (x - b)), GAP + np.max(x), np.max(b)


def test_every_level_is_that_of_two_masses_integrated_apart():
    result = impact_force(at_levels(motion__damper__0__exponent=1.0))
    (impact,) = result.blows
    design, *struck = impact.levels
    assert (design.found, design.peak_contact_force, design.displacement_with_stop) == (
        None,
        0.0,
        280.0,
    )
    for one, stated in zip(struck, [(450.0, 3.0, 0.12), (600.0, 3.4, 0.25)], strict=True):
        v, force, floor, stroke = apart(*stated, end=0.8)
        assert one.found.response.impact.velocity == pytest.approx(v, rel=1e-6)
        assert one.peak_contact_force == pytest.approx(force, rel=1e-5)
        assert one.displacement_with_stop == pytest.approx(floor, rel=1e-5)
        assert one.stroke(one.motion.dampers[0]) == pytest.approx(stroke, rel=1e-4)
        assert one.taken_off_by_stop == pytest.approx(stated[0] - floor, rel=1e-3)
    assert impact.governs == 2
    assert impact.peak_contact_force.value == max(one.peak_contact_force for one in impact.levels)


def test_without_damping_a_fixed_stop_has_its_closed_form_at_each_level():
    """M v²/2 = k δ²/2 + kiso (g δ + δ²/2) as the floor comes to rest."""
    case = at_levels([DESIGN, MCE], damping=0.0, **FIXED)
    iso = MASS * (2 * math.pi / 3) ** 2
    a, b = (STIFFNESS + iso) / 2, iso * GAP
    c = iso * (450.0**2 - GAP**2) / 2
    expected = STIFFNESS * (-b + math.sqrt(b**2 + 4 * a * c)) / (2 * a)
    assert [at.force for at in forces_by_level(case.motion)] == pytest.approx([0.0, expected])


def test_the_level_of_the_greatest_force_gives_the_load():
    case = at_levels()
    at = {one.level.name: one.force for one in forces_by_level(case.motion)}
    assert at["Design level"] == 0.0 < at["MCE"] < at["beyond"] == peak_force(case.motion)
    assert case.line_load * 1200.0 == pytest.approx(at["beyond"], rel=1e-12)
    assert load_check(case).passes
    alone = moving(motion__damping=0.12)  # the same motion, stated by itself
    assert peak_force(alone.motion) == pytest.approx(at["MCE"], rel=1e-12)
    assert [one.level.name for one in forces_by_level(alone.motion)] == [""]


def test_a_level_of_a_velocity_moves_free():
    case = at_levels([{"name": "record", "velocity": "0.7 m/s"}, MCE])
    free, mce = forces_by_level(case.motion)
    assert (free.motion.period, free.motion.damping, free.motion.displacement) == (None,) * 3
    assert velocity_at_closure(free.motion) == 700.0
    assert mce.motion.damping == 0.12
    (impact,) = impact_force(case).blows
    assert impact.levels[0].taken_off_by_stop is None
    assert impact.levels[0].nearby == ()


def verdicts(checks):
    return {check.key: check.verdict for check in checks}


LIMITED = {
    "motion__displacement_limit": "500 mm",
    "motion__damper": [DAMPER | {"stroke": "150 mm", "capacity": "1000 kN"}],
}


def test_checks_of_each_level():
    case = at_levels([DESIGN | {"must_engage": True}, MCE, BEYOND], **LIMITED)
    checks = {check.key: check for check in motion_checks(case)}
    design, mce = checks["engagement_design_level"], checks["engagement_mce"]
    assert (design.demand, design.resistance, design.verdict) == (300.0, 280.0, "fails")
    assert (mce.demand, mce.resistance, mce.verdict) == (300.0, 450.0, "passes")
    not_struck = at_levels([DESIGN, MCE | {"must_engage": False}, BEYOND])
    assert verdicts(motion_checks(not_struck)) == {
        "load": "passes", "engagement_design_level": "passes", "engagement_mce": "fails",
    }  # fmt: skip
    found = outcome_of(case.motion.at(case.motion.levels[2]))
    share = math.cos(math.pi / 6)
    stroke, force = checks["damper_stroke_beyond"], checks["damper_force_beyond"]
    assert stroke.demand == pytest.approx(found.bumper_displacement)  # its length is not stated
    assert stroke.resistance == 150.0
    speed = share * found.bumper_speed / 1000.0
    assert force.demand == pytest.approx(1e6 * speed**0.4)
    floor = checks["floor_displacement_beyond"]
    assert (floor.demand, floor.resistance) == (GAP + found.peak_travel.value, 500.0)
    assert floor.verdict == "fails"
    # Where the stop is not struck its dampers are still, and are not checked.
    assert checks["floor_displacement_design_level"].demand == 280.0
    assert len(checks) == 1 + 2 + 7
    result = impact_force(case)
    assert verdicts(result.checks) == verdicts(checks.values())
    assert not result.satisfied
    assert impact_force(moving(**LIMITED)).satisfied


def test_a_floor_that_just_comes_to_the_stop_does_not_engage_it():
    for must, verdict in ((True, "fails"), (False, "passes")):
        level = DESIGN | {"displacement": "300 mm", "must_engage": must}
        case = at_levels([level, MCE])
        assert verdicts(motion_checks(case))["engagement_design_level"] == verdict
        assert forces_by_level(case.motion)[0].force == 0.0


@pytest.mark.parametrize("displacement", ["299 mm", "301 mm"])
def test_a_level_near_the_gap_is_open_though_another_governs(displacement):
    """At 10 % more of displacement it is struck harder than the level that governs."""
    record = {"name": "record", "velocity": "0.05 m/s"}
    items = {
        item.key: item.why
        for item in by_hand(at_levels([record, DESIGN | {"displacement": displacement}])).open_items
    }
    more = 1.1 * float(displacement.split()[0])
    raised = peak_force(at_levels([DESIGN | {"displacement": f"{more} mm"}]).motion)
    governs = peak_force(at_levels([record], damping=None, motion__period=None).motion)
    assert items["motion"] == pytest.approx(raised / governs - 1.0, rel=1e-6)
    assert items["motion"] > 0.2


def test_a_motion_without_levels_has_the_same_checks():
    kinds = [DAMPER | {"stroke": "150 mm"}, DAMPER | {"capacity": "10 kN"}]
    found = verdicts(motion_checks(moving(motion__damper=kinds)))
    assert found == {"load": "passes", "damper_stroke_1": "passes", "damper_force_2": "fails"}
    assert verdicts(motion_checks(moving())) == {"load": "passes"}


def test_what_knows_no_ground_motion_stays_open():
    for values, expected in ((LIMITED, True), ({}, False)):
        items = {item.key for item in by_hand(moving(**values)).open_items}
        assert ("ground" in items) == expected
    settled = by_hand(moving(accept={"ground": "time histories"}, **LIMITED)).open_items
    assert next(item for item in settled if item.key == "ground").accepted == "time histories"


def test_a_motion_that_is_not_answered_leaves_each_limit_without_a_verdict(monkeypatch):
    def fails(motion):
        raise SolveError("not integrated")

    case = moving(**LIMITED)
    monkeypatch.setattr("contactfe.case.impact.outcome_of", fails)
    found = verdicts(motion_checks(case))
    assert found.keys() == {"load", "damper_stroke", "damper_force", "floor_displacement"}
    assert set(found.values()) == {"no verdict"}


def test_limits_that_only_an_impact_on_the_sections_curve_can_be_held_to_stay_open():
    own = {
        "load": {"force": "150 kN", "contact_length": "1000 mm"},
        "contact_law": {"law": "section"},
    }
    each = [{"motion__damper": [DAMPER | one]} for one in ({"capacity": "1 MN"}, {"stroke": "1 m"})]
    for limits in (LIMITED, *each, {"motion__displacement_limit": "500 mm"}, {}):
        case = moving(**own, **limits)
        assert verdicts(motion_checks(case)) == {}
        assert ("ground" in {item.key for item in by_hand(case).open_items}) == bool(limits)


def test_a_floor_that_still_moves_has_no_verdict_unless_it_fails_already():
    damper = {"force": "2000 kN", "at_velocity": "1 m/s", "exponent": 2.0}
    slow = {
        "motion__displacement": None, "motion__period": None, "motion__velocity": "0.7 m/s",
        "motion__bumper_mass": None,
    }  # fmt: skip
    for stroke, verdict in (("100 m", "no verdict"), ("10 mm", "fails")):
        limited = damper | {"stroke": stroke, "capacity": "2000 kN"}
        checks = motion_checks(moving(motion__damper=[limited], **slow))
        assert verdicts(checks)["damper_stroke"] == verdict
        assert verdicts(checks)["damper_force"] == "passes"


def test_a_specimen_has_the_same_ratios():
    case = at_levels(**LIMITED)
    small = scaled(case, 0.25)
    for one, other in zip(motion_checks(case), motion_checks(small), strict=True):
        assert (one.key, other.ratio) == (other.key, pytest.approx(one.ratio, rel=1e-5))
    forces = [at.force / 16.0 for at in forces_by_level(case.motion)]
    assert [at.force for at in forces_by_level(small.motion)] == pytest.approx(forces, rel=1e-6)


def test_keys_are_stable_and_unique():
    named = [Level(name, 1.0) for name in ("MCE", "mce", "Mce 2", "1,5 × MCE", "設計", "")]
    assert level_keys(tuple(named)) == ("mce", "mce_2", "mce_2_2", "1_5_mce", "level_5", "")


def test_on_a_sections_own_curve_each_level_has_its_impact():
    case = at_levels(
        [DESIGN, MCE],
        load={"force": "150 kN", "contact_length": "1000 mm"},
        contact_law={"law": "section", "restitution": 0.8}, motion__bumper_mass="0.1 t", **LIMITED,
    )  # fmt: skip
    (impact,) = impact_force(case).blows
    design, mce = impact.levels
    assert (impact.level, impact.governs) == ("MCE", 1)
    assert design.peak_contact_force == design.nearby[0].peak_contact_force == 0.0
    assert (
        0.0 < design.nearby[1].peak_contact_force < mce.peak_contact_force
    )  # at 308 mm of displacement
    assert [one.key for one in mce.nearby].count("pseudo_velocity") == 1
    checks = {check.key: check for check in impact.checks}
    assert checks["load"].section == checks["damper_stroke_mce"].section == "solid"
    assert checks["load"].verdict == "fails"
    assert load_check(case) is None
    assert verdicts(motion_checks(case)) == {
        "engagement_design_level": "passes", "engagement_mce": "passes"
    }  # fmt: skip


def test_the_impact_checks_take_the_levels_as_they_are():
    case = moving(**LIMITED)
    one = LevelImpact(Level("", 450.0), case.motion, outcome_of(case.motion))
    doubled = replace(
        one, found=replace(one.found, bumper_displacement=2.0 * one.found.bumper_displacement)
    )
    (stroke, *_), (twice, *_) = impact_checks([one]), impact_checks([doubled])
    assert twice.demand == pytest.approx(2.0 * stroke.demand)


def test_strokes_and_displacements_are_the_greatest_of_all_tilts():
    """The hardest impact is on the stiffest contact; on a softer one the floor goes further."""
    case = moving(**LIMITED)
    hard = outcome_of(case.motion)
    soft = outcome_of(moving(contact_law__stiffness="10 kN/mm", **LIMITED).motion)
    assert soft.peak_contact_force.value < hard.peak_contact_force.value
    assert soft.peak_travel.value > hard.peak_travel.value
    level, (of,) = case.motion.all_levels[0], case.motion.dampers
    alone, other = LevelImpact(level, case.motion, hard), LevelImpact(level, case.motion, soft)
    both = LevelImpact(level, case.motion, hard, tilts=(hard, soft))
    assert both.peak_contact_force == alone.peak_contact_force
    assert (
        both.displacement_with_stop == other.displacement_with_stop > alone.displacement_with_stop
    )
    assert both.stroke(of) == max(alone.stroke(of), other.stroke(of))
    assert both.force_of_one(of) == max(alone.force_of_one(of), other.force_of_one(of))


@given(y=st.floats(0.0, 400.0), angle=st.floats(0.0, 1.2), length=st.floats(500.0, 5000.0))
def test_the_stroke_of_a_damper_that_turns_as_it_is_pulled(y, angle, length):
    """The distance of its pins, one of which moves by y; never less than at the angle that it has
    at closure, nor more than y, which stands for it where its length is not stated."""
    of = Damper(1e6, 1000.0, 0.4, angle=angle, length=length)
    pin = np.array([length * math.cos(angle) + y, length * math.sin(angle)])
    assert of.stroke_at(y) == pytest.approx(np.linalg.norm(pin) - length, abs=1e-9 * length)
    assert of.along * y - 1e-9 * length <= of.stroke_at(y) <= y + 1e-9 * length
    assert replace(of, length=None).stroke_at(y) == y


def test_an_impact_that_is_not_integrated_is_tried_once(monkeypatch):
    tried = []

    def fails(impact):
        tried.append(impact)
        raise SolveError("too far apart")

    monkeypatch.setattr("contactfe.impact.response.integrate", fails)
    motion = replace(moving().motion, mass=1234.5)
    for _ in range(3):
        with pytest.raises(SolveError, match="too far apart"):
            outcome_of(motion)
    assert len(tried) == 1
