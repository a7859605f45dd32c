"""Sliding contact: the laws of the field, line loads summed apart, and the peaks searched apart."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, minimize

from contactfe.hand import hertz, sliding, stress
from contactfe.hand.formula import OutOfRangeWarning

friction = st.floats(0.0, 1.0)


def summed_field(x, z, mu):
    """The field as a sum of line loads on a half-plane, pressed in and pushed along.

    Flamant's radial stress −(2/π) cos θ/r about each load's own direction; Timoshenko & Goodier,
    Theory of Elasticity, 3rd ed., on a force at the straight boundary of a plate: from memory, not
    seen.
    """

    def part(i, j):
        def integrand(theta):
            dx = x - np.sin(theta)
            radial = -2 / np.pi * (z + mu * dx) / (dx**2 + z**2)
            direction = dx ** (2 - i - j) * z ** (i + j) / (dx**2 + z**2)
            return np.cos(theta) ** 2 * radial * direction

        return quad(integrand, -np.pi / 2, np.pi / 2, epsabs=1e-12, limit=200)[0]

    return part(0, 0), part(1, 1), part(0, 1)


class TestField:
    @pytest.mark.parametrize("mu", [0.1, 0.5, 1.0])
    @pytest.mark.parametrize(
        ("x", "z"), [(0.3, 0.5), (-0.7, 0.2), (1.4, 0.6), (-1.4, 0.6), (0.0, 2.0), (0.95, 0.1)]
    )
    def test_equals_a_sum_of_line_loads(self, x, z, mu):
        np.testing.assert_allclose(
            sliding.stress_field(x, z, 1.0, 1.0, mu), summed_field(x, z, mu), atol=1e-10
        )

    @given(st.floats(-5, 5), st.floats(0, 5), friction)
    def test_friction_the_other_way_is_the_mirror_image(self, x, z, mu):
        sx, sz, txz = sliding.friction_stress(x, z, 1.0, mu)
        mirrored = sliding.friction_stress(-x, z, 1.0, mu)
        np.testing.assert_allclose(mirrored, (-sx, -sz, txz), atol=1e-12)

    @given(st.floats(-5, 5), st.floats(0, 5), st.floats(0.1, 10), st.floats(1, 1e3), friction)
    def test_lengths_scale_with_a_and_stresses_with_p0(self, x, z, a, p0, mu):
        unit = p0 * np.array(sliding.stress_field(x, z, 1.0, 1.0, mu))
        scaled = sliding.stress_field(a * x, a * z, a, p0, mu)
        # σx has a vertical slope outside the edge: rounding of x shows by its square root.
        np.testing.assert_allclose(scaled, unit, rtol=1e-6, atol=1e-6 * p0)

    @given(st.floats(-5, 5), st.floats(0, 5))
    def test_without_friction_it_is_the_hertz_field(self, x, z):
        np.testing.assert_array_equal(
            sliding.stress_field(x, z, 2.0, 500.0, 0.0), hertz.stress_field(x, z, 2.0, 500.0)
        )

    @pytest.mark.parametrize("z", [0.05, 0.5, 2.0])
    def test_every_depth_carries_the_tangential_load(self, z):
        total = sum(
            quad(lambda x: sliding.friction_stress(x, z, 1.0, 1.0)[2], *piece, limit=400)[0]
            for piece in ((-np.inf, -50), (-50, -2), (-2, 0), (0, 2), (2, 50), (50, np.inf))
        )
        assert total == pytest.approx(-np.pi / 2, rel=1e-7)

    def test_equilibrium_and_compatibility(self):
        rng = np.random.default_rng(5113)
        x, z, h = rng.uniform(-3, 3, 200), rng.uniform(0.2, 3, 200), 1e-3

        def at(dx, dz):
            return np.array(sliding.friction_stress(x + dx * h, z + dz * h, 1.0, 1.0))

        along, down = (at(1, 0) - at(-1, 0)) / (2 * h), (at(0, 1) - at(0, -1)) / (2 * h)
        # Central differences of step h leave h² times the third derivative, up to some 30 here.
        np.testing.assert_allclose(along[0] + down[2], 0, atol=5e-5)
        np.testing.assert_allclose(along[2] + down[1], 0, atol=5e-5)
        trace = sum(at(*step)[:2].sum(axis=0) for step in ((1, 0), (-1, 0), (0, 1), (0, -1)))
        laplacian = (trace - 4 * at(0, 0)[:2].sum(axis=0)) / h**2
        np.testing.assert_allclose(laplacian, 0, atol=5e-4)

    def test_far_field_is_that_of_a_line_load(self):
        for x, z in ((1e6, 1e6), (-3e7, 1e3), (2e8, 3.0)):
            r2 = x**2 + z**2
            line = -x / r2**2 * np.array([x**2, z**2, x * z])
            np.testing.assert_allclose(
                sliding.friction_stress(x, z, 1.0, 1.0), line, atol=1e-9 * abs(line).max()
            )

    def test_arrays_broadcast(self):
        for part in sliding.stress_field(np.zeros((3, 1)), np.ones(4), 1.0, 1.0, 0.3):
            assert part.shape == (3, 4)


class TestSurface:
    @given(st.floats(-20, 20), friction)
    def test_surface_is_that_of_the_field(self, x, mu):
        sx, sz, txz = sliding.stress_field(x, 0.0, 2.0, 700.0, mu)
        pressure = hertz.pressure(x, 2.0, 700.0)
        np.testing.assert_allclose(sz, -pressure, atol=1e-9)
        # Towards +x on the body, whose outward normal there is −z.
        np.testing.assert_allclose(txz, -mu * pressure, atol=1e-9)
        # Inside it is −p − 2µp0 x/a.
        if abs(x) <= 2.0:
            np.testing.assert_allclose(sx, -pressure - 2 * mu * 700.0 * x / 2.0, atol=1e-4)

    def test_behind_is_stretched_and_ahead_is_pressed(self):
        ends = sliding.stress_field([-2.0, 2.0], 0.0, 2.0, 700.0, 0.3)[0]
        np.testing.assert_allclose(ends, [420.0, -420.0])
        assert sliding.edge_stress(700.0, 0.3) == pytest.approx(420.0)

    @given(friction)
    def test_edge_is_the_greatest_tension(self, mu):
        x, z = np.meshgrid(np.linspace(-3, 3, 121), np.linspace(0, 3, 61))
        sx, sz, txz = sliding.stress_field(x, z, 1.0, 1.0, mu)
        principal = (sx + sz) / 2 + np.hypot((sx - sz) / 2, txz)
        assert principal.max() <= sliding.edge_stress(1.0, mu) + 1e-12

    @given(st.floats(0.0, 100.0), friction)
    def test_on_the_axis_friction_adds_a_shear_alone(self, z, mu):
        sx, sz, txz = sliding.stress_field(0.0, z, 2.0, 700.0, mu)
        np.testing.assert_allclose(
            (sx, sz, txz),
            (*hertz.axis_stress(z, 2.0, 700.0), mu * sx),
            rtol=1e-9,
            atol=1e-9,
        )


STATES = [(nu, "plane strain") for nu in (0.0, 0.2, 0.3, 0.4, 0.5)] + [(0.3, "plane stress")]


@pytest.mark.parametrize(("nu", "state"), STATES)
# Up to three times the friction that the formulas are meant for.
@pytest.mark.parametrize("mu", [0.0, 0.06, 0.2, 0.262, 0.264, 0.3, 0.37, 0.5, 1.0, 3.0])
class TestPeak:
    def test_value_is_that_of_the_field_at_its_place(self, mu, nu, state):
        value, x, z = sliding.peak_von_mises.plain(500.0, mu, nu, state)
        there = stress.von_mises(*sliding.stress_field(x, z, 1.0, 500.0, mu), nu, state)
        assert there == pytest.approx(value, rel=1e-12)

    def test_nothing_in_the_field_is_greater(self, mu, nu, state):
        value, _, _ = sliding.peak_von_mises.plain(1.0, mu, nu, state)
        x, z = np.meshgrid(np.linspace(-2, 2, 401), np.linspace(0, 2, 201))
        found = stress.von_mises(*sliding.stress_field(x, z, 1.0, 1.0, mu), nu, state).max()
        assert found <= value * (1 + 1e-12)
        assert found == pytest.approx(value, rel=1e-4)  # half a step of 0.01 off a flat top

    def test_a_search_from_its_place_finds_the_same(self, mu, nu, state):
        value, x, z = sliding.peak_von_mises.plain(1.0, mu, nu, state)
        climbed = minimize(
            lambda at: (
                -stress.von_mises(*sliding.stress_field(at[0], abs(at[1]), 1.0, 1.0, mu), nu, state)
            ),
            (x + 0.01, z + 0.01),
            method="Nelder-Mead",
            options={"xatol": 1e-8, "fatol": 1e-14},
        )
        assert -climbed.fun == pytest.approx(value, abs=1e-10)
        if (nu, z) != (0.5, 0.0):  # then it is the same all along the surface
            assert climbed.x[0] == pytest.approx(x, abs=1e-4)


@pytest.mark.parametrize(("nu", "state"), STATES)
def test_without_friction_the_peak_is_that_of_hertz(nu, state):
    value, depth = hertz.peak_von_mises(1.0, nu, state)
    found, x, z = sliding.peak_von_mises(1.0, 0.0, nu, state)
    assert (found, x) == (pytest.approx(value, abs=1e-12), pytest.approx(0.0, abs=1e-6))
    assert z == pytest.approx(depth, abs=1e-6)


def test_the_peak_jumps_to_the_surface_at_the_stated_friction():
    assert sliding.peak_von_mises(1.0, 0.2625, 0.3, "plane strain")[2] > 0.4
    assert sliding.peak_von_mises(1.0, 0.2635, 0.3, "plane strain")[2] == 0.0


@settings(max_examples=40, deadline=None)  # each example is two searches
@given(st.floats(0.0, 0.6), st.floats(0.001, 0.2), st.floats(0, 0.5))
def test_friction_never_lowers_the_peak(mu, more, nu):
    low = sliding.peak_von_mises(1.0, mu, nu, "plane strain")[0]
    assert sliding.peak_von_mises(1.0, mu + more, nu, "plane strain")[0] >= low - 1e-12


def test_first_yield_is_where_the_peak_reaches_the_strength():
    Y, R, E_star, mu, nu, state = 345.0, 50.0, 110e3, 0.25, 0.3, "plane strain"
    p0 = brentq(lambda p: sliding.peak_von_mises(p, mu, nu, state)[0] - Y, 100, 2000)
    q = sliding.first_yield_line_load(Y, R, E_star, mu, nu, state)
    assert hertz.peak_pressure(q, R, E_star) == pytest.approx(p0, rel=1e-9)
    smooth = sliding.first_yield_line_load([Y, 2 * Y], R, E_star, 0.0, nu, state)
    np.testing.assert_allclose(
        smooth, hertz.first_yield_line_load([Y, 2 * Y], R, E_star, nu, state), rtol=1e-9
    )


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: sliding.stress_field(0.0, 0.1, 1.0, 1.0, -0.1), "friction = -0.1"),
        (lambda: sliding.stress_field(0.0, -0.1, 1.0, 1.0, 0.1), "z = -0.1"),
        (lambda: sliding.friction_stress(0.0, 0.1, 0.0, 1.0), "half_width = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@pytest.mark.parametrize("mu", [0.0, 0.2, 0.5])
@pytest.mark.parametrize(("nu", "state"), [(0.3, "plane strain"), (0.3, "plane stress")])
def test_the_form_computes_to_the_value(mu, nu, state):
    for worked in (
        sliding.edge_stress.worked(700.0, mu),
        sliding.peak_von_mises.worked(700.0, mu, nu, state),
        sliding.first_yield_line_load.worked(345.0, 50.0, 110e3, mu, nu, state),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)
        assert worked.within_range


def test_out_of_range_they_are_marked():
    with pytest.warns(OutOfRangeWarning, match=r"edge_stress.*µ = 1\.1, at most 1"):
        sliding.edge_stress(700.0, 1.1)
    peak = sliding.peak_von_mises.worked(1.0, 1.1, 0.3, "plane strain")
    # 2 p0/E* is 0.117.
    soft = sliding.first_yield_line_load.worked(345.0, 50.0, 10e3, 0.2, 0.3, "plane strain")
    rough = sliding.first_yield_line_load.worked(345.0, 50.0, 110e3, 1.1, 0.3, "plane strain")
    passed = [[limit.what for limit in worked.exceeded] for worked in (peak, soft, rough)]
    assert passed == [["µ"], ["a/R"], ["µ"]]
