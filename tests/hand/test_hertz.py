"""Line contact: the laws every value must obey, and the field against independent forms of it."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from contactfe.hand import hertz, stress
from contactfe.hand.formula import OutOfRangeWarning

E_STAR = 200e3 / 1.82
load = st.floats(1.0, 1e5)
length = st.floats(0.1, 1e3)
modulus = st.floats(1e3, 1e6)
poisson = st.floats(0.0, 0.5)


class TestContact:
    @given(load, length, modulus)
    def test_pressure_carries_the_load(self, q, R, E_star):
        a, p0 = hertz.half_width.plain(q, R, E_star), hertz.peak_pressure.plain(q, R, E_star)
        assert np.pi / 2 * a * p0 == pytest.approx(q, rel=1e-12)

    @given(load, length, modulus, st.floats(0.1, 10.0))
    def test_scaling(self, q, R, E_star, factor):
        # A law of the formulas, in and out of their range.
        pressure, width = hertz.peak_pressure.plain, hertz.half_width.plain
        p0, a = pressure(q, R, E_star), width(q, R, E_star)
        assert pressure(factor * q, R, E_star) == pytest.approx(p0 * factor**0.5)
        assert width(factor * q, R, E_star) == pytest.approx(a * factor**0.5)
        assert pressure(factor * q, factor * R, E_star) == pytest.approx(p0)
        assert width(factor * q, factor * R, E_star) == pytest.approx(a * factor)

    @pytest.mark.parametrize("state", ["plane strain", "plane stress"])
    @given(modulus, poisson, modulus, poisson)
    def test_bodies_may_be_swapped(self, state, E1, nu1, E2, nu2):
        one = hertz.contact_modulus(E1, nu1, E2, nu2, state)
        assert one == pytest.approx(hertz.contact_modulus(E2, nu2, E1, nu1, state), rel=1e-14)

    def test_plane_stress_is_plane_strain_without_poisson(self):
        strain = hertz.contact_modulus(200e3, 0.0, 70e3, 0.0, "plane strain")
        assert hertz.contact_modulus(200e3, 0.3, 70e3, 0.33, "plane stress") == strain

    def test_modulus_is_that_of_series_springs(self):
        assert hertz.contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain") == pytest.approx(
            E_STAR
        )
        assert hertz.contact_modulus(1e5, 0.3, 1e12, 0.3, "plane strain") == pytest.approx(
            1e5 / 0.91, rel=1e-6
        )

    def test_pressure_integrates_to_the_load(self):
        total, _ = quad(hertz.pressure, -1.0, 1.0, args=(1.0, 800.0))
        assert total == pytest.approx(np.pi / 2 * 800.0)
        assert np.all(hertz.pressure([-1.0, 1.0, 1.5, -7.0], 1.0, 800.0) == 0)
        assert hertz.pressure(1.2, 2.0, 800.0) == pytest.approx(640.0)

    def test_relative_radius(self):
        assert hertz.relative_radius(50.0) == pytest.approx(50.0)
        assert hertz.relative_radius(50.0, 50.0) == pytest.approx(25.0)
        assert hertz.relative_radius(50.0, -75.0) == pytest.approx(150.0)
        assert hertz.relative_radius.plain(50.0, -51.0) == pytest.approx(2550.0)

    def test_loads_may_be_arrays(self):
        q = np.array([[1.0], [4.0]])
        np.testing.assert_allclose(
            hertz.half_width(q, [50.0, 200.0], E_STAR),
            hertz.half_width(1.0, 50.0, E_STAR) * np.array([[1, 2], [2, 4]]),
        )


def printed_field(x, z):
    """The field as it is printed, with m and n, for a = p0 = 1."""
    s, t = 1 - x**2 + z**2, 2 * x * z
    root = np.hypot(s, t)
    m = np.sqrt((root + s) / 2)
    n = np.sign(x) * np.sqrt((root - s) / 2)
    d = m**2 + n**2
    return (
        -(m * (1 + (z**2 + n**2) / d) - 2 * z),
        -m * (1 - (z**2 + n**2) / d),
        -n * (m**2 - z**2) / d,
    )


def summed_field(x, z):
    """The field as a sum of line loads on a half-plane."""

    def part(i, j):
        def integrand(theta):
            dx = x - np.sin(theta)
            kernel = dx ** (2 - i - j) * z ** (1 + i + j) / (dx**2 + z**2) ** 2
            return -2 / np.pi * np.cos(theta) ** 2 * kernel

        return quad(integrand, -np.pi / 2, np.pi / 2, epsabs=1e-12, limit=200)[0]

    return part(0, 0), part(1, 1), part(0, 1)


class TestField:
    @given(st.floats(-5, 5), st.floats(0.01, 5))
    def test_equals_the_printed_form(self, x, z):
        # Near the axis the printed n loses half its digits.
        np.testing.assert_allclose(
            hertz.stress_field(x, z, 1.0, 1.0), printed_field(x, z), atol=2e-7
        )

    @pytest.mark.parametrize(("x", "z"), [(0.3, 0.5), (-0.7, 0.2), (1.4, 0.6), (0.0, 2.0)])
    def test_equals_a_sum_of_line_loads(self, x, z):
        np.testing.assert_allclose(
            hertz.stress_field(x, z, 1.0, 1.0), summed_field(x, z), atol=1e-10
        )

    @given(st.floats(-5, 5), st.floats(0, 5), st.floats(0.1, 10), st.floats(0, 1e3))
    def test_lengths_scale_with_a_and_stresses_with_p0(self, x, z, a, p0):
        unit = p0 * np.array(hertz.stress_field(x, z, 1.0, 1.0))
        scaled = hertz.stress_field(a * x, a * z, a, p0)
        # The last is for pressures so small that a float has no digits left.
        np.testing.assert_allclose(scaled, unit, rtol=1e-6, atol=1e-6 * p0 + 1e-300)

    @pytest.mark.parametrize("z", [0.05, 0.5, 2.0, 20.0])
    def test_every_depth_carries_the_load(self, z):
        total = 2 * sum(
            quad(lambda x: hertz.stress_field(x, z, 1.0, 1.0)[1], *piece, limit=400)[0]
            for piece in ((0, 2), (2, 50), (50, np.inf))
        )
        assert total == pytest.approx(-np.pi / 2, rel=1e-7)

    def test_equilibrium(self):
        rng = np.random.default_rng(7261)
        x, z, h = rng.uniform(-3, 3, 200), rng.uniform(0.1, 3, 200), 1e-4

        def slope(dx, dz):
            ahead = np.array(hertz.stress_field(x + dx, z + dz, 1.0, 1.0))
            return (ahead - np.array(hertz.stress_field(x - dx, z - dz, 1.0, 1.0))) / (2 * h)

        along, down = slope(h, 0.0), slope(0.0, h)
        np.testing.assert_allclose(along[0] + down[2], 0, atol=2e-5)
        np.testing.assert_allclose(along[2] + down[1], 0, atol=2e-5)

    def test_surface_carries_the_pressure_and_nothing_else(self):
        x = np.array([-3.0, -1.0, -0.6, -0.0, 0.0, 0.6, 1.0, 3.0])
        for z in (0.0, -0.0):
            sx, sz, txz = hertz.stress_field(x, z, 1.0, 1.0)
            np.testing.assert_allclose(sz, -hertz.pressure(x, 1.0, 1.0), atol=1e-15)
            np.testing.assert_allclose(sx, sz, atol=1e-15)
            np.testing.assert_array_equal(txz, 0)

    def test_far_field_is_that_of_a_line_load(self):
        for x, z in ((1e6, 1e6), (-3e7, 1e3), (2.0, 1e9)):
            r2 = x**2 + z**2
            line = -z / r2**2 * np.array([x**2, z**2, x * z])
            np.testing.assert_allclose(
                hertz.stress_field(x, z, 1.0, 1.0), line, atol=1e-9 * abs(line).max()
            )

    @given(st.floats(0.0, 100.0))
    def test_axis(self, z):
        sx, sz, txz = hertz.stress_field(0.0, z, 2.0, 700.0)
        assert txz == 0
        np.testing.assert_allclose(hertz.axis_stress(z, 2.0, 700.0), (sx, sz), rtol=1e-9, atol=1e-9)

    def test_axis_keeps_its_precision_at_depth(self):
        sx, _ = hertz.axis_stress(1e5, 1.0, 1.0)
        assert sx == pytest.approx(-1 / (4 * 1e15), rel=1e-9)

    def test_no_pressure_gives_no_stress_that_is_written_minus(self):
        assert not np.signbit(hertz.axis_stress([0.0, 1.0], 1.0, 0.0)).any()


def max_shear(sx, sz, txz, poisson, state):
    """Half the greatest difference of the three principal stresses."""
    centre, radius = (sx + sz) / 2, np.hypot((sx - sz) / 2, txz)
    third = stress.out_of_plane(sx, sz, poisson, state)
    return np.maximum(radius, (np.abs(centre - third) + radius) / 2)


STATES = [(nu, "plane strain") for nu in (0.0, 0.12, 0.15, 0.2, 0.25, 0.3, 0.33, 0.5)]
STATES += [(0.3, "plane stress")]


@pytest.mark.parametrize(("nu", "state"), STATES)
@pytest.mark.parametrize(
    ("peak", "measure"),
    [(hertz.peak_von_mises, stress.von_mises), (hertz.peak_max_shear, max_shear)],
)
class TestPeaks:
    def test_value_is_that_of_the_field_at_the_depth(self, peak, measure, nu, state):
        value, depth = peak(500.0, nu, state)
        at_depth = measure(*hertz.stress_field(0.0, depth, 1.0, 500.0), nu, state)
        assert at_depth == pytest.approx(value, rel=1e-12)

    def test_nothing_in_the_field_is_greater(self, peak, measure, nu, state):
        value, _ = peak(1.0, nu, state)
        x, z = np.meshgrid(np.linspace(0, 2, 201), np.linspace(0, 2, 401))
        greatest = measure(*hertz.stress_field(x, z, 1.0, 1.0), nu, state).max()
        assert greatest <= value * (1 + 1e-12)
        assert greatest == pytest.approx(value, rel=1e-4)

    def test_a_search_down_the_axis_finds_the_same(self, peak, measure, nu, state):
        value, depth = peak(1.0, nu, state)
        found = minimize_scalar(
            lambda z: -measure(*hertz.stress_field(0.0, abs(z), 1.0, 1.0), nu, state),
            bracket=(depth - 0.02, depth, depth + 0.02) if depth else (0.0, 1e-3),
        )
        assert -found.fun == pytest.approx(value, abs=1e-10)


def test_shear_across_the_plane_governs_below_the_stated_poisson_ratio():
    in_plane = hertz.peak_max_shear(1.0, 0.5, "plane strain")[0]
    nu = brentq(
        lambda nu: hertz.peak_max_shear(1.0, nu, "plane strain")[0] - in_plane * (1 + 1e-12),
        0.1,
        0.3,
    )
    assert nu == pytest.approx(0.2423, abs=5e-5)


@given(st.floats(100, 1000), length, modulus, poisson)
def test_first_yield_is_where_the_peak_reaches_the_strength(Y, R, E_star, nu):
    for state in ("plane strain", "plane stress"):
        q = hertz.first_yield_line_load.plain(Y, R, E_star, nu, state)
        p0 = float(hertz.peak_pressure.plain(q, R, E_star))
        assert hertz.peak_von_mises(p0, nu, state)[0] == pytest.approx(Y, rel=1e-10)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: hertz.contact_modulus(0.0, 0.3, 1e5, 0.3, "plane strain"), "young_1 = 0.0"),
        (lambda: hertz.contact_modulus(1e5, 0.3, 1e5, 0.6, "plane strain"), "poisson_2 = 0.6"),
        (lambda: hertz.contact_modulus(1e5, 0.3, 1e5, 0.3, "strain"), "state = 'strain'"),
        (lambda: hertz.half_width(-1.0, 50.0, 1e5), "line_load = -1.0"),
        (lambda: hertz.half_width(np.nan, 50.0, 1e5), "line_load = nan"),
        (lambda: hertz.half_width([1.0, -2.0], 50.0, 1e5), "line_load"),
        (lambda: hertz.peak_pressure(1.0, 0.0, 1e5), "radius = 0.0"),
        (lambda: hertz.peak_pressure(1.0, 50.0, -1e5), "E_star"),
        (lambda: hertz.pressure(0.0, 0.0, 800.0), "half_width = 0.0"),
        (lambda: hertz.stress_field(0.0, -0.1, 1.0, 1.0), "z = -0.1"),
        (lambda: hertz.stress_field(0.0, 0.1, 1.0, -1.0), "peak_pressure = -1.0"),
        (lambda: hertz.axis_stress([-1.0], 1.0, 1.0), "z"),
        (lambda: hertz.peak_von_mises(1.0, -0.3, "plane strain"), "poisson = -0.3"),
        (lambda: hertz.peak_max_shear(1.0, 0.3, "solid"), "state = 'solid'"),
        (lambda: hertz.first_yield_line_load(0.0, 1.0, 1.0, 0.3, "plane strain"), "yield"),
        (lambda: hertz.relative_radius(50.0, -50.0), "radius_2 = -50.0"),
        (lambda: hertz.relative_radius(50.0, 0.0), "radius_2 = 0.0"),
        (lambda: hertz.relative_radius(50.0, np.nan), "radius_2 = nan"),
        (lambda: hertz.relative_radius(-50.0), "radius_1 = -50.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@pytest.mark.parametrize(
    "worked",
    [
        hertz.relative_radius.worked(50.0, 80.0),
        hertz.relative_radius.worked(50.0, -75.0),
        hertz.half_width.worked(1000.0, 50.0, E_STAR),
        hertz.peak_pressure.worked(1000.0, 50.0, E_STAR),
    ]
    + [
        one
        for nu, state in STATES
        for one in (
            hertz.peak_von_mises.worked(700.0, nu, state),
            hertz.peak_max_shear.worked(700.0, nu, state),
            hertz.first_yield_line_load.worked(345.0, 50.0, E_STAR, nu, state),
        )
    ],
    ids=lambda worked: worked.formula,
)
def test_the_form_computes_to_the_value(worked):
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)
    assert worked.within_range


def test_a_close_socket_and_a_wide_patch_at_first_yield_are_marked():
    assert hertz.relative_radius.worked(50.0, -56.0).within_range
    with pytest.warns(OutOfRangeWarning, match=r"relative_radius.*R/R1 = 51, at most 10"):
        hertz.relative_radius(50.0, -51.0)
    soft = hertz.first_yield_line_load.worked(345.0, 50.0, 10e3, 0.3, "plane strain")
    a = hertz.half_width.plain(soft.value, 50.0, 10e3)
    (limit,) = soft.exceeded
    assert (limit.what, limit.value) == ("a/R", pytest.approx(a / 50.0))
