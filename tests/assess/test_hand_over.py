"""What a time-history analysis is handed, used as one would, apart from this package."""

import numpy as np
import pytest
from motions import FIXED, moving
from scipy.integrate import solve_ivp
from springs import LENGTH, LOAD, bending

from contactfe.assess.hand_over import hand_over, law_damping, strikes
from contactfe.case.impact import elastic_law, stated_energy
from contactfe.hand import power_stop, stop
from contactfe.impact.laws import Contact
from contactfe.impact.motion import Impact
from contactfe.impact.outcome import outcome
from contactfe.impact.response import integrate

BOTH = pytest.mark.parametrize("number", [0, 1], ids=["post not modelled", "post an element"])
E = 0.65


def of(number, **changes):
    motion = moving(**FIXED, contact_law__restitution=E, **changes).motion
    result = bending(motion=motion)
    (first, _) = result.sections
    curve = (first.series.curve, first.far)[number]
    return motion, hand_over(result.case, first)[number], curve


def newmark(force, mass, velocity, step, phase):
    """Peak force by average acceleration, the gap closing at that share of the first step."""
    d, v, a, peak = -phase * step * velocity, velocity, 0.0, 0.0
    while d < 0.0 or v > 0.0:
        new = a
        for _ in range(60):
            end = d + step * v + step**2 / 4.0 * (a + new)
            new, old = -force(end) / mass, new
            if abs(new - old) <= 1e-10 * abs(new):
                break
        d, v, a = end, v + step / 2.0 * (a + new), new
        peak = max(peak, -mass * a)
    return peak


@BOTH
def test_the_points_give_the_peak_force_of_the_curve(number):
    motion, one, curve = of(number)
    pressed = float(curve.approach_at(LOAD))
    velocity = np.sqrt(2.0 * one.energy_stored / motion.mass)
    law = curve.law_up_to(pressed, LENGTH)
    found = outcome(integrate(Impact(motion.mass, velocity, Contact(law)))).peak_contact_force.value
    assert found == pytest.approx(one.up_to_force, rel=1e-3)
    d, f = one.points.approach, one.force
    elastic = one.impact.period / 50.0  # the step where no dashpot asks for less
    for phase in (0.05, 0.5, 0.8):
        by_points = newmark(lambda x: np.interp(x, d, f), motion.mass, velocity, elastic, phase)
        assert by_points == pytest.approx(found, rel=0.01)


@BOTH
def test_the_dashpot_gives_the_restitution_stated(number):
    motion, one, _ = of(number)
    k, c, m = one.spring.stiffness, one.impact.dashpot, motion.mass
    xi = c / (2.0 * np.sqrt(k * m))
    assert np.exp(-np.pi * xi / np.sqrt(1.0 - xi**2)) == pytest.approx(E)

    def unloaded(_, y):
        return y[0]

    unloaded.terminal, unloaded.direction = True, -1.0
    end = (0.0, one.impact.period)
    rates = lambda _, y: (y[1], -(k * y[0] + c * y[1]) / m)  # noqa: E731
    path = solve_ivp(rates, end, (1e-12, 700.0), events=unloaded, rtol=1e-9, atol=1e-12)
    assert -path.y_events[0][0][1] / 700.0 == pytest.approx(E, rel=1e-5)


@BOTH
def test_the_energy_is_what_is_under_the_points(number):
    _, one, _ = of(number)
    to = int(np.argmin(np.abs(one.force - one.up_to_force))) + 1
    under = np.trapezoid(one.force[:to], one.points.approach[:to])
    assert under == pytest.approx(one.energy_stored, rel=2.0 * one.points.largest_error_over_load)
    # A spring that is right there stores more than a curve that stiffens.
    assert one.energy_stored < 0.5 * one.up_to_force**2 / one.spring.stiffness


@BOTH
def test_an_impact_on_the_spring_comes_to_less_force_than_on_the_points(number):
    """A mass that the contact stops at the force of the spring, on the one and on the other."""
    _, one, _ = of(number)
    d, force = one.points.approach, one.force
    mass, v = 2.0 * one.energy_stored, 1.0

    def peak(law):
        def stopped(_, y):
            return y[1]

        stopped.terminal = True
        rates = lambda _, y: (y[1], -law(y[0]) / mass)  # noqa: E731
        path = solve_ivp(
            rates, (0.0, 10.0 * d[-1]), (0.0, v), events=stopped, rtol=1e-9, max_step=d[-1] / 100
        )
        return law(path.y_events[0][0][0])

    on_points = peak(lambda x: np.interp(x, d, force))
    on_spring = peak(lambda x: one.spring.stiffness * x)
    assert on_points == pytest.approx(one.up_to_force, rel=2.0 * one.points.largest_error_over_load)
    assert on_spring / one.up_to_force == pytest.approx(
        one.linear_force_over_points_at_equal_energy, rel=1e-6
    )
    assert (
        one.linear_force_over_points_at_equal_energy < 0.999
    )  # of a contact that is nearly straight, for a test


def test_what_two_masses_meet_with():
    motion = moving(contact_law__restitution=0.8).motion
    one, other = hand_over(bending(motion=motion).case, bending(motion=motion).sections[0])
    mass = 1.0 / (1.0 / motion.mass + 1.0 / motion.bumper_mass)
    for each in (one, other):
        found = each.impact
        assert found.period == pytest.approx(2 * np.pi * np.sqrt(mass / each.spring.stiffness))
        assert found.step == pytest.approx(found.period / (1200.0 * found.damping_ratio))
    (strike,) = strikes(motion)
    assert strike.energy == pytest.approx(mass * 702.5**2 / 2.0, rel=1e-4)
    assert stop.effective_mass(motion.mass, motion.bumper_mass) == pytest.approx(mass)
    assert strikes(moving(motion__bumper_mass=None).motion) == ()


def test_a_level_that_leaves_the_gap_open_is_no_strike():
    level = [{"name": name, "displacement": D} for name, D in (("a", "450 mm"), ("b", "280 mm"))]
    motion = moving(motion__displacement=None, motion__level=level).motion
    assert [one.level for one in strikes(motion)] == ["a"]


def test_the_law_that_was_stated_by_its_energy_and_its_dashpot():
    law = {"law": "power", "force": "1000 kN", "approach": "2 mm", "exponent": 1.5}
    motion = moving(**FIXED, contact_law=law | {"restitution": E}).motion
    force = elastic_law(motion).force(np.array(3.0))
    assert stated_energy(motion, float(force)) == pytest.approx(float(force) * 3.0 / 2.5)
    linear = moving(**FIXED, contact_law={"law": "linear", "stiffness": "400 kN/mm"}).motion
    assert stated_energy(linear, 300e3) == pytest.approx(300e3**2 / 800e3)
    assert law_damping(motion) == power_stop.ye_damping(E)
    for other in ({"damping": "pressing in", "restitution": E}, {}):
        assert law_damping(moving(**FIXED, contact_law=law | other).motion) is None
