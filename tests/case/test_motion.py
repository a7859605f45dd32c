"""The tables of the motion: what they refuse, the load that comes of them, and the impact."""

import math

import pytest
from motions import FIXED, FREE_FALL, changed, moving

from contactfe.case import case_from_dict, impact
from contactfe.case.impact import effective_mass, impact_of, peak_force, velocity_at_closure
from contactfe.case.scaling import scaled
from contactfe.errors import InputError
from contactfe.hand import power_stop, stop
from contactfe.impact.laws import (
    InProportion,
    LinearDashpot,
    NoDashpot,
    PowerLaw,
    PressedIn,
    Spring,
)

POWER = {"law": "power", "force": "500 kN", "approach": "1 mm", "exponent": 1.5}
SECTION = {"law": "section"}
LEVELS = {"motion__displacement": None}
MCE = {"name": "MCE", "displacement": "450 mm"}
RECORD = {"name": "record", "velocity": "0.7 m/s"}
LOAD = {"force": "400 kN", "contact_length": "300 mm"}
EITHER = (
    '[load]: must state either line_load = "1.5 kN/mm", or both force = "450 kN" and'
    ' contact_length = "300 mm"'
)


@pytest.mark.parametrize(
    ("values", "line"),
    [
        # tables that need one another
        (
            {"contact_law": None},
            '[contact_law]: is missing beside [motion]; write for example law = "linear" and'
            ' stiffness = "500 kN/mm" in it',
        ),
        (
            {"motion": None, "load": {"line_load": "400 N/mm"}},
            "[contact_law]: needs [motion] beside it, which states the motion",
        ),
        ({"motion": None, "contact_law": None}, EITHER),
        ({"load": {}}, EITHER),
        ({"load": {"force": "3 kN"}}, EITHER),
        ({"corner": {"contact_length": "30 mm"}}, EITHER.replace("load]", "corner]")),
        # dampers
        (
            {"motion__damper__0__force": "3"},
            '[[motion.damper]] 1, force = "3": has no unit; write for example "450 kN",'
            " in N, kN, MN, kgf, lbf or kip",
        ),
        (
            {"motion__damper__0__coefficient": 1},
            "[[motion.damper]] 1, coefficient = 1: is not known here; did you mean count? allowed:"
            " force, at_velocity, exponent, angle, count, stroke, length, capacity",
        ),
        (
            {"motion__damper__0__force": None},
            '[[motion.damper]] 1, force: is missing; write for example force = "1000 kN"',
        ),
        (
            {"motion__damper": {}},
            "[motion.damper]: must be a list of tables, each headed [[motion.damper]]",
        ),
        (
            {"motion__damper": "two"},
            '[motion] damper = "two": must be a list of tables, each headed [[motion.damper]]',
        ),
        (
            {"motion__damper": [3]},
            "[[motion.damper]] 1 = 3: must be one table, headed [[motion.damper]]",
        ),
        (
            {"motion__damper__0__count": 2.5},
            "[[motion.damper]] 1, count = 2.5: must be a whole number without quotes",
        ),
        (
            {"motion__damper__0__angle": "85 deg"},
            '[[motion.damper]] 1, angle = "85 deg": must be from -80 deg to 80 deg',
        ),
        # the bumper
        (  # the slip of a kip: 825 kip of weight are 825000 lb
            {"motion__mass": "825 lb", "motion__bumper_mass": "2000 lb"},
            '[motion]: mass = "825 lb" must be more than bumper_mass = "2000 lb"; 1 kip of weight'
            " is 1000 lb, 1 t is 1000 kg",
        ),
        (
            {"motion__mass": "3000 kg"},
            '[motion]: mass = "3000 kg" must be more than bumper_mass = "3 t"; 1 kip of weight is'
            " 1000 lb, 1 t is 1000 kg",
        ),
        (
            {"motion__bumper_mass": None, "contact_law__restitution": 0.6},
            "[contact_law] restitution = 0.6: needs bumper_mass in [motion]: what the contact's"
            " dashpot takes goes by the masses of floor and bumper",
        ),
        (
            {"motion__damper": None},
            '[motion] bumper_mass = "3 t": needs bumper_spring or a [[motion.damper]], which hold'
            " the bumper; leave it out for a fixed stop",
        ),
        (
            FIXED | {"motion__bumper_spring": "20 kN/mm"},
            '[motion] bumper_spring = "20 kN/mm": needs bumper_mass or a [[motion.damper]] beside'
            " it",
        ),
        # levels of hazard
        (
            LEVELS | {"motion__level": [MCE, MCE]},
            '[[motion.level]] 2, name = "MCE": is already the name of level 1',
        ),
        *(
            (
                LEVELS | {"motion__level": [{"name": "MCE", **keys}]},
                '[[motion.level]] 1: must state either displacement = "450 mm" or velocity ='
                ' "0.7 m/s" at closure of the gap',
            )
            for keys in ({}, {"displacement": "450 mm", "velocity": "1 m/s"})
        ),
        (
            LEVELS | {"motion__level": [MCE | {"damping": 1.0}]},
            "[[motion.level]] 1, damping = 1.0: must be a number from 0 to less than 1",
        ),
        (
            {"motion__damping": -0.1},
            "[motion] damping = -0.1: must be a number from 0 to less than 1",
        ),
        *(
            (
                LEVELS | {"motion__level": [MCE, RECORD | {key: value}]},
                f"[[motion.level]] 2, {key} = {text}: must not be stated beside velocity, which is"
                " that at closure",
            )
            for key, value, text in (
                ("must_engage", True, "true"),
                ("damping", 0.1, "0.1"),
                ("period", "3 s", '"3 s"'),
            )
        ),
        (
            {"motion__level": [MCE]},
            '[motion] displacement = "450 mm": must not be stated beside [[motion.level]], which'
            " states it",
        ),
        (
            LEVELS | {"motion__level": [MCE | {"displacement": "300 mm"}]},
            '[motion] gap = "300 mm": must be less than the displacement of one level at least,'
            " 300 mm at most: the stop is never struck",
        ),
        (
            LEVELS | {"motion__level": [MCE], "motion__period": None},
            '[[motion.level]] 1, displacement = "450 mm": needs the period of the isolation'
            ' system, here or in [motion]: period = "3 s"',
        ),
        (
            LEVELS | {"motion__level": [RECORD]},
            '[motion] period = "3 s": must not be stated where every level states velocity',
        ),
        (
            LEVELS | {"motion__level": [MCE | {"must_engage": "no"}]},
            '[[motion.level]] 1, must_engage = "no": must be true or false, without quotes',
        ),
        (
            LEVELS | {"motion__level": {"name": "MCE"}},
            "[motion.level]: must be a list of tables, each headed [[motion.level]]",
        ),
        (
            FREE_FALL | {"motion__damping": 0.1},
            "[motion] damping = 0.1: must not be stated beside velocity, which is that at closure",
        ),
        # the law
        (
            {"contact_law__damping": "pressing in"},
            '[contact_law]: damping = "pressing in" is known for law = "power" with exponent = 1.5'
            ' alone; leave it out, which is "both ways"',
        ),
        (
            {"contact_law": POWER | {"exponent": 1.1, "damping": "pressing in"}},
            '[contact_law]: damping = "pressing in" is known for law = "power" with exponent = 1.5'
            ' alone; leave it out, which is "both ways"',
        ),
        (
            {"contact_law__exponent": 1.0},
            '[contact_law]: law = "linear" takes stiffness: leave out exponent',
        ),
        (
            {"contact_law": POWER | {"exponent": None}},
            '[contact_law]: law = "power" takes force, approach and exponent: add for example'
            " exponent = 1.1",
        ),
        (
            {"contact_law": {"law": "power", "exponent": 1.2, "stiffness": "1 kN/mm"}},
            '[contact_law]: law = "power" takes force, approach and exponent: add for example'
            ' force = "1000 kN" and approach = "2 mm"; leave out stiffness',
        ),
        (
            {"contact_law": SECTION | {"exponent": 1.2}},
            """[contact_law]: law = "section" takes the section's own curve: leave out exponent""",
        ),
        (
            {"contact_law": SECTION},
            '[load]: must state force beside [contact_law] law = "section", whose curve a section'
            " is meshed for",
        ),
        (
            {"contact_law": SECTION, "load": {"line_load": "400 N/mm"}},
            '[load] line_load = "400 N/mm": must be stated as force and contact_length beside'
            ' [contact_law] law = "section"',
        ),
        (
            {"contact_law": SECTION, "load": LOAD, "corner": {"line_load": "300 N/mm"}},
            '[corner]: must not be stated beside [contact_law] law = "section"',
        ),
        # the motion
        (
            {"motion__displacement": "0.2 m", "motion__gap": "12 in"},
            '[motion]: displacement = "0.2 m" must be more than gap = "12 in", or the stop is never'
            " struck",
        ),
        (
            {"motion__mass": "900 kip"},
            '[motion] mass = "900 kip": is a force, not a mass; write for example "4400000 lb", in'
            " t, kg, g or lb; 1000 lb weigh 1 kip, 1 t weighs 9.81 kN",
        ),
    ],
)
def test_one_line_for_a_fault(values, line):
    with pytest.raises(InputError) as refused:
        case_from_dict(changed(**values), "stop.toml")
    assert str(refused.value) == f"stop.toml: {line}"


def test_an_earlier_fault_of_the_motion_is_not_reported_twice():
    with pytest.raises(InputError) as refused:
        case_from_dict(changed(motion__mass="3"), "stop.toml")
    assert str(refused.value).count("\n") == 0


def test_the_load_is_the_peak_contact_force_over_the_length():
    case = moving()
    assert case.line_load * 1200.0 == pytest.approx(peak_force(case.motion), rel=1e-12)
    fixed = moving(**FIXED, **FREE_FALL)
    expected = stop.linear_peak_force(700.0, 400e3, 2000.0)
    assert fixed.line_load * 1200.0 == pytest.approx(expected, rel=1e-8)


def test_reading_a_case_integrates_nothing(monkeypatch):
    monkeypatch.setattr(impact, "outcome_of", lambda _: pytest.fail("was integrated"))
    case = moving(motion__gap="301 mm")
    assert case.load.by_motion
    monkeypatch.undo()
    settled = case.settled()
    assert settled.load.line_load == case.line_load
    assert settled.settled() is settled


def test_a_load_that_is_stated_stays():
    assert moving(load=LOAD).line_load == pytest.approx(400e3 / 300.0)


@pytest.mark.parametrize("exponent", [0.4, 1.0])
def test_the_specimen_has_the_load_of_its_own_motion(exponent):
    case = moving(motion__damper__0__exponent=exponent)
    # Line loads scale by the length; 1e-6: the steps of the two integrations differ.
    assert scaled(case, 0.25).line_load == pytest.approx(0.25 * case.line_load, rel=1e-6)
    assert scaled(case.settled(), 0.25).line_load == pytest.approx(0.25 * case.line_load, rel=1e-12)


def stated(**values):
    """The same with a load of its own, which takes no impact to be known."""
    return moving(load=LOAD, **values)


class TestImpact:
    def test_velocity(self):
        assert velocity_at_closure(stated().motion) == pytest.approx(702.48, abs=5e-3)
        free = stated(**FREE_FALL).motion
        assert velocity_at_closure(free) == 700.0
        assert impact_of(free).isolation == 0.0

    def test_isolation(self):
        impact = impact_of(stated().motion)
        assert impact.isolation == pytest.approx(2000.0 * (2 * math.pi / 3) ** 2)
        assert impact.gap == 300.0

    def test_dampers_at_an_angle(self):
        # n cos φ F1 (cos φ v/v1)^α
        damper = {
            "force": "100 kN", "at_velocity": "1 m/s", "exponent": 0.4, "angle": "30 deg",
            "count": 3,
        }  # fmt: skip
        (damping,) = impact_of(stated(motion__damper=[damper]).motion).bumper.dampers
        share = math.cos(math.pi / 6)
        expected = 3 * share * 100e3 * (share * 0.7) ** 0.4
        assert damping.force(700.0) == pytest.approx(expected, rel=1e-12)

    def test_a_stop_that_nothing_holds_is_fixed(self):
        assert impact_of(stated(**FIXED).motion).bumper is None

    def test_masses_of_the_dashpot(self):
        assert effective_mass(stated(**FIXED).motion) == 2000.0
        assert effective_mass(stated().motion) == pytest.approx(2000.0 * 3.0 / 2003.0)

    def test_laws(self):
        m = effective_mass(stated().motion)
        found = impact_of(stated(contact_law__restitution=0.65).motion).contact
        ratio = stop.kelvin_damping_ratio(0.65)
        assert found.elastic == Spring(400e3)
        assert found.dashpot == LinearDashpot(pytest.approx(2 * ratio * math.sqrt(400e3 * m)))
        assert impact_of(stated().motion).contact.dashpot == NoDashpot()
        both = impact_of(stated(contact_law=POWER | {"restitution": 0.65}).motion).contact
        assert both.elastic == PowerLaw(500e3, 1.0, 1.5)
        assert both.dashpot == InProportion(power_stop.ye_damping(0.65))
        pressed = POWER | {"approach": "4 mm", "restitution": 0.65, "damping": "pressing in"}
        found = impact_of(stated(contact_law=pressed).motion).contact.dashpot
        # β of 500 kN at 4 mm: 500e3/4^1.5
        expected = PressedIn(power_stop.jankowski_damping_ratio(0.65), 500e3 / 8.0, m)
        assert found == expected
