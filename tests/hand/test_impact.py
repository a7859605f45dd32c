"""Blows: the equation of motion integrated, energy, and the limits of each law."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from contactfe.hand import impact
from contactfe.hand.formula import OutOfRangeWarning

M, V, K = 2000.0, 700.0, 500e3
positive = st.floats(0.1, 1e4)


def strike(force, rebounds):
    """Peak force, peak penetration, restitution and duration of unit mass at unit velocity.

    ``force(δ, δ')`` by the equation of motion alone; the blow ends where ``rebounds(δ, δ')``
    falls through nought after the penetration has passed its peak.
    """

    def change(_, y):
        return [y[1], -force(max(y[0], 0.0), y[1])]

    def end(_, y):
        return rebounds(y[0], y[1]) if y[1] < 0 else 1.0

    end.terminal, end.direction = True, -1
    # The event must see the blow's middle, so steps are short beside it.
    found = solve_ivp(
        change, (0, 500), [0.0, 1.0], events=end, rtol=1e-10, atol=1e-12, max_step=0.05,
        dense_output=True,
    )  # fmt: skip
    t = np.linspace(0, found.t[-1], 20001)
    way, speed = found.sol(t)
    forces = [force(max(w, 0.0), s) for w, s in zip(way, speed, strict=True)]
    return max(forces), way.max(), -speed[-1], t[-1]


class TestVelocity:
    @given(positive, positive, st.floats(0.0, 1.0))
    def test_is_that_of_the_motion_where_it_reaches_the_gap(self, omega, amplitude, part):
        t = np.arcsin(part) / omega
        v = impact.closure_velocity(omega, amplitude, part * amplitude)
        assert v == pytest.approx(
            omega * amplitude * np.cos(omega * t), abs=1e-7 * omega * amplitude
        )
        assert v <= impact.pseudo_velocity(omega, amplitude) * (1 + 1e-12)

    def test_period(self):
        omega = impact.circular_frequency(3.0)
        assert np.cos(omega * 3.0) == pytest.approx(1.0)


class TestDamper:
    @given(st.floats(0.3, 2.0), st.floats(0.1, 10.0), positive)
    def test_energy_is_the_work_in_a_cycle(self, alpha, omega, amplitude):
        def power(t):
            v = omega * amplitude * np.cos(omega * t)
            return impact.damper_force(v, 900e3, 1000.0, alpha) * v

        quarter = quad(power, 0, np.pi / (2 * omega), epsabs=0, epsrel=1e-8, limit=200)[0]
        found = impact.damper_energy(omega, amplitude, 900e3, 1000.0, alpha)
        assert found == pytest.approx(4 * quarter, rel=1e-6)

    @given(st.floats(0.3, 2.0), positive, st.floats(0.1, 10.0))
    def test_any_reference_of_one_damper_gives_one_force(self, alpha, v, other):
        there = impact.damper_force(1000.0 * other, 900e3, 1000.0, alpha)
        one = impact.damper_force(v, 900e3, 1000.0, alpha)
        assert impact.damper_force(v, there, 1000.0 * other, alpha) == pytest.approx(one)


class TestLinear:
    @given(positive, positive, positive)
    def test_energy_and_force(self, v, k, m):
        way = impact.linear_peak_penetration(v, k, m)
        assert k * way**2 == pytest.approx(m * v**2)
        assert impact.linear_peak_force(v, k, m) == pytest.approx(k * way)

    def test_motion(self):
        peak, way, e, time = strike(lambda d, _: d, lambda d, _: d)
        assert impact.linear_peak_force(1.0, 1.0, 1.0) == pytest.approx(peak, rel=1e-6)
        assert impact.linear_peak_penetration(1.0, 1.0, 1.0) == pytest.approx(way, rel=1e-6)
        assert impact.linear_duration(1.0, 1.0) == pytest.approx(time, rel=1e-6)
        assert e == pytest.approx(1.0)

    @given(positive, positive)
    def test_two_free_bodies(self, m1, m2):
        m = impact.effective_mass(m1, m2)
        assert m < min(m1, m2)
        # The energy that a meeting without rebound sets free is m v²/2.
        lost = m1 / 2 - (m1 + m2) / 2 * (m1 / (m1 + m2)) ** 2
        assert m / 2 == pytest.approx(lost, rel=1e-6, abs=1e-12 * m1)


@pytest.mark.parametrize("xi", [0.05, 0.2155, 0.45, 0.6, 0.8])
class TestKelvin:
    def test_motion_until_the_penetration_ends(self, xi):
        peak, way, e, time = strike(lambda d, s: d + 2 * xi * s, lambda d, _: d)
        assert impact.kelvin_peak_force(1.0, 1.0, 1.0, xi) == pytest.approx(peak, rel=1e-6)
        found = impact.kelvin_peak_penetration(1.0, 1.0, 1.0, xi)
        assert found == pytest.approx(way, rel=1e-6)
        assert impact.kelvin_duration(1.0, 1.0, xi) == pytest.approx(time, rel=1e-6)
        assert impact.kelvin_damping_ratio(e) == pytest.approx(xi, rel=1e-5)

    def test_motion_without_pull(self, xi):
        _, _, e, _ = strike(lambda d, s: d + 2 * xi * s, lambda d, s: d + 2 * xi * s)
        assert impact.kelvin_restitution(xi) == pytest.approx(e, rel=1e-6)

    def test_scale(self, xi):
        force = impact.kelvin_peak_force(V, K, M, xi)
        unit = impact.kelvin_peak_force(1.0, 1.0, 1.0, xi)
        assert force == pytest.approx(unit * impact.linear_peak_force(V, K, M))
        way = impact.kelvin_peak_penetration(V, K, M, xi)
        unit = impact.kelvin_peak_penetration(1.0, 1.0, 1.0, xi)
        assert way == pytest.approx(unit * impact.linear_peak_penetration(V, K, M))
        time = impact.kelvin_duration(1.0, 1.0, xi) * np.sqrt(M / K)
        assert impact.kelvin_duration(K, M, xi) == pytest.approx(time)


def test_without_damping_a_kelvin_stop_is_a_spring():
    assert impact.kelvin_damping_ratio(1.0) == 0.0
    assert impact.kelvin_restitution(0.0) == 1.0
    assert impact.kelvin_peak_force(V, K, M, 0.0) == impact.linear_peak_force(V, K, M)
    assert impact.kelvin_peak_penetration(V, K, M, 0.0) == impact.linear_peak_penetration(V, K, M)
    assert impact.kelvin_duration(K, M, 0.0) == impact.linear_duration(K, M)


class TestPowerLaw:
    @given(positive, positive, positive, positive, st.floats(1.0, 1.5))
    def test_stores_the_energy_of_the_blow(self, v, m, force, at, n):
        law = (force, at, n)
        way = impact.power_peak_penetration(v, m, *law)
        stored = force * at / (n + 1) * (way / at) ** (n + 1)
        assert stored == pytest.approx(m * v**2 / 2, rel=1e-9)
        peak = impact.power_peak_force(v, m, *law)
        assert peak == pytest.approx(force * (way / at) ** n, rel=1e-9)

    @given(positive, positive, positive)
    def test_with_exponent_one_it_is_a_spring(self, v, k, m):
        peak = impact.power_peak_force(v, m, 3 * k, 3.0, 1.0)
        assert peak == pytest.approx(impact.linear_peak_force(v, k, m))

    @pytest.mark.parametrize("n", [1.0, 1.1, 1.5])
    @pytest.mark.parametrize("zeta", [0.1425, 0.5625, 1.6])
    def test_damped_motion(self, n, zeta):
        _, way, e, _ = strike(lambda d, s: d**n * (1 + zeta * s), lambda d, _: d)
        # 1e-4: the ODE starts where a force with δⁿ is not smooth.
        assert impact.damped_restitution(zeta) == pytest.approx(e, abs=1e-4)
        found = impact.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, n, zeta)
        assert found == pytest.approx(way, rel=1e-5)

    @given(st.floats(1e-6, 1.0))
    def test_slight_damping_tends_to_none(self, zeta):
        damped = impact.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, zeta)
        plain = impact.power_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5)
        assert plain * (1 - 2 / 3 * zeta) < damped <= plain * (1 + 1e-9)


class TestRestitution:
    @given(st.floats(0.0, 5.0))
    def test_root_satisfies_its_equation(self, zeta):
        e = impact.damped_restitution(zeta)
        assert 0 < e <= 1
        missing = zeta * (1 + e) - np.log1p(zeta) + np.log1p(-zeta * e)
        assert missing == pytest.approx(0.0, abs=1e-11)

    def test_strong_damping_leaves_its_inverse(self):
        assert impact.damped_restitution(1e3) == pytest.approx(1e-3)

    def test_series_and_function_meet(self):
        below, above = (impact.damped_restitution(z) for z in (1e-3 * (1 - 1e-9), 1e-3))
        assert below == pytest.approx(above, abs=2e-9)

    @given(st.floats(0.9, 0.999))
    def test_the_first_form_returns_what_was_put_in_near_one(self, e):
        back = impact.damped_restitution(impact.first_hertz_damping(e))
        assert e <= back < e + 0.0135

    @given(st.floats(0.5, 0.999))
    def test_ye_returns_a_little_less(self, e):
        back = impact.damped_restitution(impact.ye_damping(e))
        assert e - 0.03 < back <= e

    @pytest.mark.parametrize("e", [0.3, 0.5, 0.7, 0.9])
    def test_jankowski_returns_what_was_put_in(self, e):
        xi = impact.jankowski_damping_ratio(e)

        def force(d, s):
            return d**1.5 + (2 * xi * d**0.25 * s if s > 0 else 0.0)

        assert strike(force, lambda d, _: d)[2] == pytest.approx(e, abs=0.01)

    @pytest.mark.parametrize(
        ("law", "least"),
        [
            (impact.first_hertz_damping, 0.9),
            (impact.ye_damping, 0.5),
            (impact.jankowski_damping_ratio, 0.3),
        ],
    )
    def test_out_of_range_is_marked(self, law, least):
        assert law.worked(least).within
        with pytest.warns(OutOfRangeWarning, match=f"at least {least}"):
            law(least - 0.01)


@pytest.mark.parametrize(
    ("formula", "arguments", "at"),
    [
        (impact.damper_force, [V, 900e3, 1000.0], (0.3, 2.0)),
        (impact.damper_energy, [2.0, 300.0, 900e3, 1000.0], (0.3, 2.0)),
        (impact.power_peak_force, [V, M, K, 1.0], (1.0, 1.5)),
        (impact.power_peak_penetration, [V, M, K, 1.0], (1.0, 1.5)),
    ],
)
def test_exponents_out_of_range_are_marked(formula, arguments, at):
    for inside, outside in zip(at, (at[0] - 0.01, at[1] + 0.01), strict=True):
        assert formula.worked(*arguments, inside).within
        with pytest.warns(OutOfRangeWarning, match=r"(α|n) = "):
            formula(*arguments, outside)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (impact.circular_frequency, (3.0,)),
        (impact.closure_velocity, (2.1, 450.0, 300.0)),
        (impact.pseudo_velocity, (2.1, 450.0)),
        (impact.damper_force, (V, 900e3, 1000.0, 0.4)),
        (impact.damper_energy, (2.1, 450.0, 900e3, 1000.0, 0.4)),
        (impact.effective_mass, (M, 3 * M)),
        (impact.linear_peak_force, (V, K, M)),
        (impact.linear_peak_penetration, (V, K, M)),
        (impact.linear_duration, (K, M)),
        (impact.kelvin_damping_ratio, (0.65,)),
        (impact.kelvin_damping_ratio, (1.0,)),
        (impact.kelvin_restitution, (0.14,)),
        (impact.kelvin_peak_penetration, (V, K, M, 0.14)),
        (impact.kelvin_peak_force, (V, K, M, 0.14)),
        (impact.kelvin_peak_force, (V, K, M, 0.7)),
        (impact.kelvin_duration, (K, M, 0.14)),
        (impact.power_peak_penetration, (V, M, K, 2.0, 1.1)),
        (impact.power_peak_force, (V, M, K, 2.0, 1.1)),
        (impact.first_hertz_damping, (0.93,)),
        (impact.ye_damping, (0.65,)),
        (impact.jankowski_damping_ratio, (0.65,)),
        (impact.damped_peak_penetration, (V, M, K, 2.0, 1.1, 0.8)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


def test_a_root_has_no_form_but_says_how_it_is_found():
    worked = impact.damped_restitution.worked(0.8)
    assert worked.form is None
    assert "root" in worked.note


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: impact.circular_frequency(0.0), "period = 0.0"),
        (lambda: impact.closure_velocity(2.0, 300.0, 301.0), "gap = 301.0.*never closes"),
        (lambda: impact.closure_velocity(2.0, 300.0, -1.0), "gap = -1.0"),
        (lambda: impact.closure_velocity(0.0, 300.0, 1.0), "frequency = 0.0"),
        (lambda: impact.pseudo_velocity(2.0, 0.0), "amplitude = 0.0"),
        (lambda: impact.damper_force(-1.0, 1e3, 1e3, 0.4), "velocity = -1.0"),
        (lambda: impact.damper_force(1.0, 0.0, 1e3, 0.4), "reference_force = 0.0"),
        (lambda: impact.damper_force(1.0, 1e3, 1e3, 0.0), "exponent = 0.0"),
        (lambda: impact.damper_energy(2.0, 300.0, 1e3, 0.0, 0.4), "reference_velocity = 0.0"),
        (lambda: impact.effective_mass(0.0, M), "mass_1 = 0.0"),
        (lambda: impact.linear_peak_force(-1.0, K, M), "velocity = -1.0"),
        (lambda: impact.linear_peak_penetration(V, 0.0, M), "stiffness = 0.0"),
        (lambda: impact.linear_duration(K, 0.0), "mass = 0.0"),
        (lambda: impact.kelvin_damping_ratio(0.0), "restitution = 0.0"),
        (lambda: impact.kelvin_damping_ratio(1.1), "restitution = 1.1"),
        (lambda: impact.kelvin_restitution(1.0), "damping_ratio = 1.0"),
        (lambda: impact.kelvin_peak_penetration(V, K, M, -0.1), "damping_ratio = -0.1"),
        (lambda: impact.kelvin_peak_force(V, K, M, 1.0), "damping_ratio = 1.0"),
        (lambda: impact.kelvin_peak_force(V, K, 0.0, 0.1), "mass = 0.0"),
        (lambda: impact.kelvin_duration(K, M, 1.0), "damping_ratio = 1.0"),
        (lambda: impact.kelvin_duration(0.0, M, 0.1), "stiffness = 0.0"),
        (lambda: impact.kelvin_peak_penetration(V, K, 0.0, 0.1), "mass = 0.0"),
        (lambda: impact.power_peak_penetration(-1.0, M, K, 1.0, 1.5), "velocity = -1.0"),
        (lambda: impact.power_peak_force(V, M, K, 0.0, 1.5), "reference_penetration = 0.0"),
        (lambda: impact.first_hertz_damping(0.0), "restitution = 0.0"),
        (lambda: impact.ye_damping(0.0), "restitution = 0.0"),
        (lambda: impact.jankowski_damping_ratio(0.0), "restitution = 0.0"),
        (lambda: impact.damped_restitution(-0.1), "damping = -0.1"),
        (lambda: impact.damped_peak_penetration(V, M, K, 1.0, 1.5, 0.0), "damping = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
