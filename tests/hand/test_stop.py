"""Spring and Kelvin stop: the equation of motion integrated, energy, and scale."""

import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from impacts import integrate

from contactfe.hand import stop

M, V, K = 2000.0, 700.0, 500e3
positive = st.floats(0.1, 1e4)


class TestLinear:
    @given(positive, positive, positive)
    def test_energy_and_force(self, v, k, m):
        depth = stop.linear_peak_penetration(v, k, m)
        assert k * depth**2 == pytest.approx(m * v**2)
        assert stop.linear_peak_force(v, k, m) == pytest.approx(k * depth)

    def test_motion(self):
        peak, depth, e, time = integrate(lambda d, _: d, lambda d, _: d)
        assert stop.linear_peak_force(1.0, 1.0, 1.0) == pytest.approx(peak, rel=1e-6)
        assert stop.linear_peak_penetration(1.0, 1.0, 1.0) == pytest.approx(depth, rel=1e-6)
        assert stop.linear_duration(1.0, 1.0) == pytest.approx(time, rel=1e-6)
        assert e == pytest.approx(1.0)

    @given(positive, positive)
    def test_two_free_bodies(self, m1, m2):
        m = stop.effective_mass(m1, m2)
        assert m < min(m1, m2)
        # The energy that a meeting without rebound sets free is m v²/2.
        lost = m1 / 2 - (m1 + m2) / 2 * (m1 / (m1 + m2)) ** 2
        assert m / 2 == pytest.approx(lost, rel=1e-6, abs=1e-12 * m1)


@pytest.mark.parametrize("xi", [0.05, 0.2155, 0.45, 0.6, 0.8])
class TestKelvin:
    def test_motion_until_the_penetration_ends(self, xi):
        peak, depth, e, _ = integrate(lambda d, s: d + 2 * xi * s, lambda d, _: d)
        assert stop.kelvin_peak_force(1.0, 1.0, 1.0, xi) == pytest.approx(peak, rel=1e-6)
        found = stop.kelvin_peak_penetration(1.0, 1.0, 1.0, xi)
        assert found == pytest.approx(depth, rel=1e-6)
        assert stop.kelvin_damping_ratio(e) == pytest.approx(xi, rel=1e-5)

    def test_motion_without_pull(self, xi):
        _, _, e, _ = integrate(lambda d, s: d + 2 * xi * s, lambda d, s: d + 2 * xi * s)
        assert stop.kelvin_restitution(xi) == pytest.approx(e, rel=1e-6)

    def test_scale(self, xi):
        force = stop.kelvin_peak_force(V, K, M, xi)
        unit = stop.kelvin_peak_force(1.0, 1.0, 1.0, xi)
        assert force == pytest.approx(unit * stop.linear_peak_force(V, K, M))
        depth = stop.kelvin_peak_penetration(V, K, M, xi)
        unit = stop.kelvin_peak_penetration(1.0, 1.0, 1.0, xi)
        assert depth == pytest.approx(unit * stop.linear_peak_penetration(V, K, M))


def test_without_damping_a_kelvin_stop_is_a_spring():
    assert stop.kelvin_damping_ratio(1.0) == 0.0
    assert stop.kelvin_restitution(0.0) == 1.0
    assert stop.kelvin_peak_force(V, K, M, 0.0) == stop.linear_peak_force(V, K, M)
    assert stop.kelvin_peak_penetration(V, K, M, 0.0) == stop.linear_peak_penetration(V, K, M)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (stop.effective_mass, (M, 3 * M)),
        (stop.linear_peak_force, (V, K, M)),
        (stop.linear_peak_penetration, (V, K, M)),
        (stop.linear_duration, (K, M)),
        (stop.kelvin_damping_ratio, (0.65,)),
        (stop.kelvin_damping_ratio, (1.0,)),
        (stop.kelvin_restitution, (0.14,)),
        (stop.kelvin_peak_penetration, (V, K, M, 0.14)),
        (stop.kelvin_peak_force, (V, K, M, 0.14)),
        (stop.kelvin_peak_force, (V, K, M, 0.7)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: stop.effective_mass(0.0, M), "mass_1 = 0.0"),
        (lambda: stop.linear_peak_force(-1.0, K, M), "velocity = -1.0"),
        (lambda: stop.linear_peak_penetration(V, 0.0, M), "stiffness = 0.0"),
        (lambda: stop.linear_duration(K, 0.0), "mass = 0.0"),
        (lambda: stop.kelvin_damping_ratio(0.0), "restitution = 0.0"),
        (lambda: stop.kelvin_damping_ratio(1.1), "restitution = 1.1"),
        (lambda: stop.kelvin_restitution(1.0), "damping_ratio = 1.0"),
        (lambda: stop.kelvin_peak_penetration(V, K, M, -0.1), "damping_ratio = -0.1"),
        (lambda: stop.kelvin_peak_force(V, K, M, 1.0), "damping_ratio = 1.0"),
        (lambda: stop.kelvin_peak_force(V, K, 0.0, 0.1), "mass = 0.0"),
        (lambda: stop.kelvin_peak_penetration(V, K, 0.0, 0.1), "mass = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def central(force, step, phase):
    """Peak force on a unit mass at unit velocity by central differences."""
    d, v, peak = -phase * step, 1.0, 0.0
    while d < 0.0 or v > 0.0:
        f = force(d, v)
        peak, v = max(peak, f), v - step * f
        d += step * v
    return peak


def average(force, step, phase):
    """The same by average acceleration."""
    d, v, a, peak = -phase * step, 1.0, 0.0, 0.0
    while d < 0.0 or v > 0.0:
        new = a
        for _ in range(60):
            end, speed = d + step * v + step**2 / 4.0 * (a + new), v + step / 2.0 * (a + new)
            new, old = -force(end, speed), new
            if abs(new - old) < 1e-10:
                break
        d, v, a = end, speed, new
        peak = max(peak, -a)
    return peak


@pytest.mark.parametrize("scheme", [central, average])
@pytest.mark.parametrize("e", [1.0, 0.9, 0.65, 0.2])
def test_the_time_step_finds_the_peak_force(scheme, e):
    xi = 0.0 if e == 1.0 else stop.kelvin_damping_ratio(e)
    exact, period = stop.kelvin_peak_force(1.0, 1.0, 1.0, xi), stop.linear_period(1.0, 1.0)
    step = stop.time_step(period, xi)

    def force(d, v):
        return max(0.0, d + 2.0 * xi * v) if d > 0.0 else 0.0

    def worst(step):
        phases = [0.01 + 0.07 * k for k in range(15)]
        return max(abs(scheme(force, step, at) / exact - 1.0) for at in phases)

    assert worst(step) < 0.01
    # Nor is it finer than need be: four times it does not do.
    assert worst(4.0 * step) > 0.01
