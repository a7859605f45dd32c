"""The demand of a case: its figures, and the closed forms that stand beside them."""

import math
from dataclasses import replace

import numpy as np
import pytest
from motions import FIXED, FREE_FALL, moving, of_a_post_that_bends, of_sections

from contactfe.assess.impact import impact_force
from contactfe.assess.impact_forms import velocity_if_damped, without
from contactfe.case import case_from_dict
from contactfe.errors import InputError, SolveError
from contactfe.hand import cantilever, damper, overshoot, power_stop, stop

POWER = {"law": "power", "force": "500 kN", "approach": "1 mm", "exponent": 1.1}
STATED = {"load": {"force": "900 kN", "contact_length": "1200 mm"}}
LINEAR = {"motion__damper__0__exponent": 1.0}


def figures(result):
    (impact,) = result.blows
    return {figure.key: figure.value for figure in impact.figures}


def kinds(case):
    (impact,) = impact_force(case).blows
    return [(one.kind, one.worked.formula.partition(".")[2]) for one in impact.beside]


def test_figures_of_a_held_bumper():
    result = impact_force(moving())
    found, (impact,) = figures(result), result.blows
    v = found["velocity_at_closure"]
    assert v == pytest.approx(702.48, abs=5e-3)
    assert found["energy_at_closure"] == pytest.approx(2000.0 * v**2 / 2)
    force = damper.damper_force(v, 1e6, 1e3, 0.4)
    assert found["damper_force_at_closure"] == pytest.approx(force)
    assert found["overshoot"] == pytest.approx(found["peak_contact_force"] / force)
    assert found["overshoot"] > 1.0
    assert found["mean_line_load"] == pytest.approx(found["peak_contact_force"] / 1200.0)
    assert found["stated_over_demand"] == pytest.approx(1.0, abs=1e-12)
    assert (
        impact.peak_contact_force.time == found["time_of_peak"] < found["time_of_peak_damper_force"]
    )
    # M ω² of the period of 3 s.
    assert found["isolation_stiffness"] == pytest.approx(2000.0 * (2 * math.pi / 3) ** 2)
    record = impact.history
    for key, of in (
        ("peak_contact_force", record.contact_force), ("peak_damper_force", record.damper_force),
        ("peak_approach", record.approach), ("peak_travel", record.floor),
    ):  # fmt: skip
        assert found[key] == of.max()
    td = record.time[np.argmax(record.damper_force)]
    assert (found["time_of_peak_damper_force"], found["duration"]) == (td, impact.response.over)
    assert found["peak_travel"] < 150.0  # the floor has 450 − 300 mm left without the stop
    assert "restitution" not in found
    assert impact.largest_error < 1e-8
    off = replace(
        impact.at_peak_contact_force,
        floor=impact.at_peak_contact_force.floor - 0.02 * impact.response.impact.energy,
    )
    assert replace(impact, at_peak_contact_force=off).largest_error == pytest.approx(0.02)
    assert replace(impact, at_end=off).largest_error > 1e-3
    assert impact.history.contact_force.max() == impact.peak_contact_force.value
    assert [step.formula for step in result.closure] == [
        f"closure.{name}" for name in ("circular_frequency", "closure_velocity", "pseudo_velocity")
    ]


def test_isolation_that_is_damped_closes_faster_and_says_why():
    result = impact_force(moving(motion__damping=0.1, **FIXED))
    found, (impact,) = figures(result), result.blows
    assert [step.formula.partition(".")[2] for step in result.closure] == [
        "circular_frequency", "damped_closure_velocity", "pseudo_velocity", "damping_energy",
        "closure_energy",
    ]  # fmt: skip
    taken, energy = result.closure[-2:]
    assert found["velocity_at_closure"] == result.closure[1].value > 702.48
    assert found["energy_at_closure"] == pytest.approx(energy.value)
    assert found["isolation_damping_energy"] == pytest.approx(taken.value)
    first, *forms = impact.beside
    assert (first.kind, first.integrated) == ("first order", pytest.approx(taken.value))
    assert 0.95 < first.worked.value / first.integrated < 1.0
    c = 2 * 0.1 * 2000.0 * 2 * math.pi / 3
    limits = {limit.what: limit.value for limit in forms[0].worked.limits}
    share = c * found["velocity_at_closure"] / found["peak_contact_force"]
    assert limits["c·v/F"] == pytest.approx(share)
    assert velocity_if_damped(impact.motion) is None
    assert velocity_if_damped(moving().motion) == pytest.approx(found["velocity_at_closure"])
    assert velocity_if_damped(moving(**FREE_FALL).motion) is None


def test_forces_of_dampers_are_added_in_the_direction_of_the_impact():
    second = {"force": "200 kN", "at_velocity": "1 m/s", "exponent": 1.0, "angle": "60 deg"}
    first = {"force": "1000 kN", "at_velocity": "1 m/s", "exponent": 0.4, "count": 2}
    result = impact_force(moving(motion__damper=[first, second], **FREE_FALL))
    # cos² 60° of the second, for it is linear.
    expected = 2e6 * 0.7**0.4 + 200e3 * 0.7 / 4
    assert figures(result)["damper_force_at_closure"] == pytest.approx(expected)
    assert result.damper_force_at_closure[-1].value == pytest.approx(expected)
    assert len(result.damper_force_at_closure) == 3
    assert result.closure == ()


def test_the_duration_is_up_to_the_last_contact():
    """A bumper on a spring could catch up with the floor for some time after."""
    result = impact_force(moving(motion__bumper_spring="20 kN/mm", **STATED))
    (impact,) = result.blows
    assert figures(result)["duration"] == impact.response.over < impact.response.duration


def test_an_impact_whose_energies_do_not_add_up_is_refused(monkeypatch):
    case = moving(motion__gap="299 mm")  # of which none is kept; its load is checked as well
    monkeypatch.setattr("contactfe.impact.energy.LARGEST_ERROR", -1.0)
    with pytest.raises(SolveError, match="energies add up"):
        impact_force(case)


class TestForms:
    def test_of_a_fixed_stop(self):
        case = moving(**FIXED, **FREE_FALL)
        (impact,) = impact_force(case).blows
        assert len(impact.beside) == 3
        for one in impact.beside:
            assert one.kind == "closed form"
            assert one.worked.within_range
            assert one.worked.value == pytest.approx(one.integrated, rel=1e-8)

    def test_of_a_fixed_stop_with_a_dashpot(self):
        (impact,) = impact_force(moving(**FIXED, **FREE_FALL, contact_law__restitution=0.6)).blows
        ratio, *others = impact.beside
        assert (ratio.kind, ratio.integrated) == ("dashpot", None)
        assert ratio.worked.value == stop.kelvin_damping_ratio(0.6)
        for one in others:
            assert one.worked.value == pytest.approx(one.integrated, rel=1e-6)

    def test_isolation_that_counts_is_told(self):
        (impact,) = impact_force(moving(**FIXED, contact_law__stiffness="1 kN/mm")).blows
        (limit,) = impact.beside[0].worked.exceeded
        assert limit.what == "kiso·g/F"
        force = 2000.0 * (2 * math.pi / 3) ** 2 * 300.0
        assert limit.value == pytest.approx(force / impact.peak_contact_force.value)
        # 4 % of it, by F = v√(kM) of 70 MN: more than the 1 % that count for nothing.
        (some,) = impact_force(moving(**FIXED, contact_law__stiffness="5e3 kN/mm")).blows
        assert not some.beside[0].worked.within_range
        stiff = impact_force(moving(**FIXED, contact_law__stiffness="2e5 kN/mm")).blows[0].beside[0]
        assert stiff.worked.within_range
        # The bound on it is the error that it stands for.
        assert stiff.worked.value == pytest.approx(stiff.integrated, rel=0.01)

    def test_of_a_power_law(self):
        (impact,) = impact_force(moving(**FIXED, **FREE_FALL, contact_law=POWER)).blows
        force, approach = impact.beside
        for one in (force, approach):
            assert one.worked.value == pytest.approx(one.integrated, rel=1e-7)

    def test_of_a_damped_power_law(self):
        damped = POWER | {"restitution": 0.7}
        (impact,) = impact_force(moving(**FIXED, **FREE_FALL, contact_law=damped)).blows
        assert [one.kind for one in impact.beside] == ["dashpot", "closed form", "closed form"]
        for one in impact.beside[1:]:
            assert one.worked.value == pytest.approx(one.integrated, rel=1e-6)

    def test_of_a_linear_damper(self):
        case = moving(**LINEAR, motion__mass="1e6 t")
        (impact,) = impact_force(case).blows
        form, bound = impact.beside
        assert (form.kind, bound.kind) == ("closed form", "bound")
        assert form.worked.within_range
        # The isolation takes a hundredth of the floor's velocity up to the peak: its range is 0.02.
        assert form.worked.value == pytest.approx(form.integrated, rel=0.01)
        assert bound.worked.value > bound.integrated

    def test_a_light_floor_is_out_of_the_range_of_a_heavy_one(self):
        (impact,) = impact_force(moving(**LINEAR, motion__mass="20 t")).blows
        assert [limit.what for limit in impact.beside[0].worked.exceeded] == [
            "mb/M", "velocity that the floor loses up to the peak, of v",
        ]  # fmt: skip
        assert impact.beside[1].worked.within_range  # the bound holds of any floor
        # One of 100 t is heavy beside 3 t, and loses 6 % of its velocity all the same.
        (some,) = impact_force(moving(**LINEAR, motion__mass="100 t")).blows
        assert [limit.what for limit in some.beside[0].worked.exceeded] == [
            "velocity that the floor loses up to the peak, of v",
        ]  # fmt: skip

    def test_of_unlike_dampers_there_is_a_limit_by_the_force_of_all(self):
        linear = {"force": "500 kN", "at_velocity": "1 m/s", "exponent": 1.0}
        slight = {"force": "1000 kN", "at_velocity": "1 m/s", "exponent": 0.05}
        result = impact_force(moving(motion__damper=[linear, slight], **FREE_FALL))
        assert [step.name.partition(" in the")[0] for step in result.damper_force_at_closure] == [
            "force of dampers 1", "force of dampers 2", "force of all dampers",
        ]  # fmt: skip
        limit, bound = result.blows[0].beside
        assert (limit.kind, limit.worked.formula) == ("limit", "overshoot.friction_peak")
        (alpha, *_) = limit.worked.exceeded  # the one that minds velocity most
        assert (alpha.what, alpha.value) == ("α", 1.0)
        force = 500e3 * 0.7 + 1e6 * 0.7**0.05
        expected = overshoot.damper_bound(700.0, force, 400e3, 3.0)
        assert bound.worked.value == pytest.approx(expected)

    def test_of_a_dashpot_while_pressing_in_nothing_is_known_but_itself(self):
        pressed = POWER | {"exponent": 1.5, "restitution": 0.7, "damping": "pressing in"}
        (impact,) = impact_force(moving(**FIXED, **FREE_FALL, contact_law=pressed)).blows
        (one,) = impact.beside
        assert one.kind == "dashpot"
        assert one.worked.value == power_stop.jankowski_damping_ratio(0.7)

    def test_a_limit_is_never_silent(self):
        limit, bound = impact_force(moving()).blows[0].beside
        assert limit.kind == "limit"
        assert [at.what for at in limit.worked.exceeded] == ["α"]
        F0 = damper.damper_force(limit.worked.given["velocity"].value, 1e6, 1e3, 0.4)
        expected = overshoot.damper_bound(702.481473, F0, 400e3, 3.0)
        assert bound.worked.value == pytest.approx(expected)

    def test_without_mass_the_dampers_are_the_bound(self):
        ((kind, key),) = kinds(moving(motion__bumper_mass=None))
        assert (kind, key.split(".")[-1]) == ("bound", "damper_force")

    def test_of_a_power_law_on_a_bumper(self):
        (impact,) = impact_force(moving(contact_law=POWER)).blows
        (bound,) = impact.beside
        assert bound.kind == "bound"
        assert impact.peak_contact_force.value < bound.worked.value

    @pytest.mark.parametrize(
        ("values", "why"),
        [
            ({}, None),
            (FIXED, None),
            (FIXED | {"contact_law__restitution": 0.9}, None),
            ({"motion__bumper_spring": "2 kN/mm"}, "a spring holds the bumper"),
            ({"contact_law__restitution": 0.9}, "a dashpot of the contact adds"),
            (
                FIXED | {"contact_law": POWER | {"restitution": 0.9}},
                "a dashpot stands beside a power",
            ),
        ],
    )
    def test_where_there_is_none_it_says_why(self, values, why):
        case = moving(**values, **STATED)
        found = without(case.motion)
        assert found is None if why is None else found.startswith(why)
        if why is not None:
            forces = [
                one for one in impact_force(case).blows[0].beside
                if one.integrated is not None and one.worked.dimension == "force"
            ]  # fmt: skip
            assert forces == []


class TestCover:
    def test_a_stated_force_is_held_against_it(self):
        less = impact_force(moving(**STATED))
        (impact,) = less.blows
        assert impact.stated_over_demand == pytest.approx(900e3 / impact.peak_contact_force.value)
        assert not less.satisfied
        more = impact_force(moving(load={"force": "9000 kN", "contact_length": "1200 mm"}))
        assert more.satisfied

    def test_every_impact_must_be_covered(self):
        result = impact_force(moving())
        (impact,) = result.blows
        short = replace(impact.checks[0], resistance=0.99 * impact.peak_contact_force.value)
        less = replace(impact, checks=(short,))
        pairs = (impact, less), (impact, impact)
        assert [replace(result, blows=of).satisfied for of in pairs] == [False, True]

    def test_a_line_load_alone_tells_nothing(self):
        result = impact_force(moving(load={"line_load": "90 kN/mm"}))
        assert result.blows[0].stated_over_demand is None
        assert "mean_line_load" not in figures(result)
        assert not result.satisfied

    def test_the_force_of_the_motion_covers_itself(self):
        assert impact_force(moving()).satisfied


def test_a_case_without_motion_is_refused():
    from motions import changed

    data = changed(motion=None, contact_law=None, load={"line_load": "1 kN/mm"})
    with pytest.raises(InputError, match=r"stop\.toml: .*\[motion\]"):
        impact_force(case_from_dict(data, "stop.toml"))


class TestSectionsOwnCurve:
    def test_the_curve_goes_as_far_as_the_impact(self):
        (impact,) = of_sections().blows
        assert impact.section.name == "solid"
        assert (
            impact.peak_contact_force.value > 1.5 * 150e3
        )  # past the first curve, of 1.25 times the load
        law = impact.response.impact.contact.elastic
        assert impact.peak_approach.value <= law.end
        # It is that of a line contact on a bed: a little steeper than a spring, not a sphere.
        d = impact.peak_approach.value
        exponent = math.log(law.force(d) / law.force(d / 2)) / math.log(2)
        assert 1.0 < exponent < 1.2
        # Past its end it goes on as steeply: 1e-4 of the difference.
        h = 1e-4 * law.end
        before, after = law.force(law.end) - law.force(law.end - h), law.force(law.end + h)
        assert after - law.force(law.end) == pytest.approx(before, rel=1e-4)

    def test_it_is_damped_as_a_power_law_is(self):
        (impact,) = of_sections().blows
        (one,) = impact.beside
        assert (one.kind, one.worked.value) == ("dashpot", pytest.approx(0.4))
        assert impact.at_end.dashpot > 0.0
        assert "own curve" in without(of_sections().motion)

    def test_the_bending_of_the_post_is_in_series(self):
        (impact,) = of_a_post_that_bends().blows
        found = {figure.key: figure.value for figure in impact.figures}
        F = impact.peak_contact_force.value
        assert found["root_bending_stress"] == pytest.approx(32 * F * 300.0 / (np.pi * 150.0**3))
        # The plate is met towards the root, where the post gives way less than under an even load.
        even = cantilever.deflection.plain(F, 300.0, 150.0, 0.0, 200e3, 0.3)
        edge = cantilever.deflection.plain(F, 300.0 - 80.0, 150.0, 0.0, 200e3, 0.3)
        assert 0.9 * edge < found["peak_approach"] < 0.9 * even
        assert 0.5 * edge < found["post_deflection"] < even
        # Mostly the post gives way, in proportion: as a spring of that stiffness does.
        stiffness = f"{impact.peak_contact_force.value / found['peak_approach']} N/mm"
        spring = {"law": "linear", "stiffness": stiffness}
        bumper = {"motion__bumper_mass": "0.4 t", "motion__damper__0__force": "200 kN"}
        other = figures(impact_force(moving(contact_law=spring, **bumper)))
        assert pytest.approx(other["peak_contact_force"], rel=1e-2) == F

    def test_a_straight_plate_is_the_same_whether_stated_or_not(self):
        """The curve goes as far as the most loaded slice of the post, not as the mean, of both."""
        (taken,) = of_a_post_that_bends().blows
        (stated,) = of_a_post_that_bends(tilt="0 deg").blows
        assert taken.peak_contact_force.value == pytest.approx(
            stated.peak_contact_force.value, rel=1e-6
        )

    def test_of_the_tilts_that_may_be_the_hardest_counts(self):
        (straight,) = of_a_post_that_bends().blows
        (either,) = of_a_post_that_bends(tilt="0.2 deg", misalignment="0.2 deg").blows
        # Straight is one of them, and the stiffest. Each solves its own curve, as far as it needs.
        assert either.peak_contact_force.value == pytest.approx(
            straight.peak_contact_force.value, rel=1e-2
        )
        found = {figure.key: figure.value for figure in either.figures}
        assert found["peak_line_load"] > 3.0 * found["mean_line_load"]
        # Half a millimetre before a plate that leans the whole of it would be met with its length.
        assert either.peak_approach.value < straight.peak_approach.value + 0.05

    def test_an_impact_past_the_range_of_the_model_is_refused(self):
        case = moving(
            **FIXED, load={"force": "100 kN", "contact_length": "300 mm"},
            contact_law={"law": "section"},
        )  # fmt: skip
        with pytest.raises(SolveError, match=r"section “solid”: .* times"):
            impact_force(case)

    def test_an_impact_past_the_range_but_within_the_curve_is_refused_too(self, monkeypatch):
        force = of_sections().blows[0].peak_contact_force.value / 1.15
        case = moving(
            load={"force": f"{force} N", "contact_length": "1000 mm"},
            contact_law={"law": "section", "restitution": 0.8}, motion__bumper_mass="0.1 t",
        )  # fmt: skip
        monkeypatch.setattr("contactfe.assess.in_series.times_allowed", lambda _: 1.05)
        with pytest.raises(SolveError, match=r" 1\.15 times the force of \[load\]"):
            impact_force(case)

    def test_a_section_that_does_not_carry_the_stated_load_is_bad_input(self):
        case = moving(
            load={"force": "900 MN", "contact_length": "1000 mm"}, contact_law={"law": "section"}
        )
        with pytest.raises(InputError, match="half-width"):
            impact_force(case)
