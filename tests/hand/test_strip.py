"""Plate strip in bending: statics, stiffness, and the exact elastic strip."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import strip

L, T = 400.0, 50.0
D = strip.bending_stiffness(T, 200e3, 0.3, "plane strain")
S = strip.shear_stiffness(T, 200e3, 0.3)
Q = 1000.0
edges = st.sampled_from(["supported", "clamped"])
shear = st.sampled_from([np.inf, S, S / 20])
place = st.floats(-0.45 * L, 0.45 * L)


def ratio(shear_stiffness):
    return 12 * D / (shear_stiffness * L**2)


class TestStatics:
    @given(place, edges, shear)
    def test_reactions_balance_the_load(self, e, held, s):
        left, right, m_left, m_right = strip.reactions(Q, L, e, held, ratio(s))
        assert left + right == pytest.approx(Q)
        # About the middle; a moment M at an edge turns the strip as M and −M do.
        turning = (left - right) * L / 2 + Q * e + m_left - m_right
        assert turning == pytest.approx(0.0, abs=1e-9 * Q * L)

    @given(place, edges, shear)
    def test_moment_meets_the_edges_and_its_slope_is_the_shear(self, e, held, s):
        left, right, m_left, m_right = strip.reactions(Q, L, e, held, ratio(s))
        ends = strip.moment([-L / 2, L / 2], Q, L, e, held, ratio(s))
        np.testing.assert_allclose(ends, [m_left, m_right], atol=1e-9 * Q * L)
        under = strip.moment(e, Q, L, e, held, ratio(s))
        assert under == pytest.approx(m_left + left * (L / 2 + e), rel=1e-12)
        assert under == pytest.approx(m_right + right * (L / 2 - e), rel=1e-9)
        everywhere = strip.moment(np.linspace(-L / 2, L / 2, 101), Q, L, e, held, ratio(s))
        assert everywhere.max() <= under * (1 + 1e-12)

    @given(place)
    def test_moment_under_the_load(self, e):
        l, r = L / 2 + e, L / 2 - e
        supported = strip.moment(e, Q, L, e, "supported")
        assert supported == pytest.approx(Q * l * r / L)
        clamped = strip.moment(e, Q, L, e, "clamped")
        assert clamped == pytest.approx(2 * Q * l**2 * r**2 / L**3)


class TestStiffness:
    def test_plane_states(self):
        stress = strip.bending_stiffness(T, 200e3, 0.3, "plane stress")
        assert stress == pytest.approx(200e3 * T**3 / 12)
        assert pytest.approx(stress / 0.91) == D

    def test_shear_is_by_the_energy_of_the_parabola(self):
        # τ = 1.5 (1 − (2y/t)²) times its mean V/t: energy ∫τ²/(2G) dy = V²/(2S).
        G = 200e3 / 2.6
        energy = quad(lambda y: (1.5 * (1 - (2 * y / T) ** 2) / T) ** 2 / G, -T / 2, T / 2)[0]
        assert pytest.approx(1 / energy) == S


def transform(k):
    """Back stress over pressure for a pressure cos kx on an elastic strip of thickness 1.

    From the stress function f(y) cos kx, f'''' − 2k² f'' + k⁴ f = 0: σy = −k² f is −1 on top and 0
    below, the shear k f' is 0 on both, and σx = f''. Exponentials that fall from either face.
    """

    def at(y):
        a, b, u = np.exp(-k * y), np.exp(k * (y - 1)), 1 - y
        f = np.array([a, y * a, b, u * b])
        df = np.array([-k * a, (1 - k * y) * a, k * b, (k * u - 1) * b])
        ddf = np.array([k * k * a, (k * k * y - 2 * k) * a, k * k * b, (k * k * u - 2 * k) * b])
        return f, df, ddf

    (top, dtop, _), (back, dback, ddback) = at(0.0), at(1.0)
    rows = [-k * k * top, dtop, -k * k * back, dback]
    return float(ddback @ np.linalg.solve(rows, [-1.0, 0.0, 0.0, 0.0]))


class TestBackStress:
    def test_local_part_is_that_of_the_exact_strip(self):
        # Below k = 0.05 the difference is 1/5 to 1e-4, and above 40 only −6/k² is left.
        local = quad(lambda k: transform(k) - 6 / k**2, 0.05, 40, epsabs=1e-9, limit=200)[0]
        local += 0.05 / 5 - 6 / 40
        assert local / np.pi == pytest.approx(-strip.LOCAL_BACK_STRESS, abs=1e-5)

    @pytest.mark.parametrize("k", [0.5, 1.0, 3.0, 10.0])
    def test_transform_is_the_stated_one(self, k):
        stated = 2 * k * np.sinh(k) / (np.sinh(k) ** 2 - k**2)
        assert transform(k) == pytest.approx(stated, rel=1e-9)

    @pytest.mark.parametrize("slender", [2, 3, 4, 6, 10, 20])
    def test_supported_span_by_fourier_series(self, slender):
        # A line load in the middle of the span is (2q/L) Σ cos(nπx/L), n odd; each term vanishes
        # at the edges, as a support that spreads its reaction over the thickness requires.
        span = slender * T
        n = np.arange(1, 15 * slender, 2)
        exact = 2 * Q / span * sum(transform(i * np.pi / slender) for i in n)
        moment = strip.moment(0.0, Q, span, 0.0, "supported")
        assert strip.back_stress(moment, Q, T) == pytest.approx(
            exact, abs=1e-3 * strip.bending_stress(moment, T)
        )

    def test_bending_stress_balances_the_moment(self):
        # A linear stress from 0 in the middle to σ at the back: ∫σ(2y/t) y dy = M.
        sigma = strip.bending_stress(1e5, T)
        assert quad(lambda y: sigma * 2 * y / T * y, -T / 2, T / 2)[0] == pytest.approx(1e5)


class TestUnderTheLoad:
    """The scalar formulas are the functions of x, at the load; their forms are of the textbook."""

    @given(place, shear)
    def test_are_the_fields_there_and_their_forms_compute(self, e, s):
        s = S if s == np.inf else s
        _, _, m_left, m_right = strip.reactions(Q, L, e, "clamped", ratio(s))
        for worked, field in (
            (strip.supported_moment.worked(Q, L, e), strip.moment(e, Q, L, e, "supported")),
            (
                strip.clamped_moment.worked(Q, L, e, ratio(s)),
                strip.moment(e, Q, L, e, "clamped", ratio(s)),
            ),
            (strip.edge_moment.worked(Q, L, e, ratio(s)), m_right if e > 0 else m_left),
        ):
            # The field is a difference of terms of the order of QL: some digits are lost there.
            assert worked.value == pytest.approx(float(field), rel=1e-9)
            assert evaluate(worked) == pytest.approx(worked.value, rel=1e-7)

    def test_the_form_of_a_load_in_the_middle_is_pl_over_4(self):
        assert strip.supported_moment.worked(Q, L, 0.0).by_symbols() == "q·a·b/L"
        assert strip.supported_moment(Q, L, 0.0) == Q * L / 4

    @pytest.mark.parametrize("state", ["plane strain", "plane stress"])
    def test_other_forms_compute(self, state):
        for worked in (
            strip.bending_stiffness.worked(T, 200e3, 0.3, state),
            strip.shear_stiffness.worked(T, 200e3, 0.3),
            strip.bending_stress.worked(1e5, T),
            strip.back_stress.worked(1e5, Q, T),
        ):
            assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)

    def test_of_arrays(self):
        assert np.shape(strip.back_stress([1e5, 2e5], Q, T)) == (2,)


class TestLimits:
    def exceeded(self, limits):
        return [limit.exceeded for limit in limits]

    def test_slender_and_away_from_the_edges(self):
        assert self.exceeded(strip.geometry_limits(T, 4 * T, 0.0)) == [False, False]
        assert self.exceeded(strip.geometry_limits(T, 3.9 * T, 0.0)) == [True, True]
        assert self.exceeded(strip.geometry_limits(T, 8 * T, -2.1 * T)) == [False, True]

    def test_a_narrow_contact(self):
        assert self.exceeded(strip.patch_limits(0.1 * T, T)) == [False]
        assert self.exceeded(strip.patch_limits(0.11 * T, T)) == [True]

    def test_a_contact_at_the_bound_bends_two_percent_less(self):
        # Hertz's pressure, by superposition of line loads at x, looked at in the middle.
        span, a = 4 * T, 0.1 * T

        def part(x):
            load = 2 * Q / (np.pi * a) * np.sqrt(1 - (x / a) ** 2)
            return load * strip.moment(0.0, 1.0, span, x, "supported")

        line = strip.supported_moment(Q, span, 0.0)
        spread = quad(part, -a, a)[0]
        assert line - spread == pytest.approx(2 * Q * a / (3 * np.pi), rel=1e-4)
        assert spread / line == pytest.approx(0.98, abs=2e-3)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: strip.bending_stiffness(0.0, 2e5, 0.3, "plane strain"), "thickness = 0.0"),
        (lambda: strip.bending_stiffness(T, -2e5, 0.3, "plane strain"), "young"),
        (lambda: strip.bending_stiffness(T, 2e5, 0.6, "plane strain"), "poisson = 0.6"),
        (lambda: strip.bending_stiffness(T, 2e5, 0.3, "plane"), "state = 'plane'"),
        (lambda: strip.shear_stiffness(T, 2e5, -0.1), "poisson = -0.1"),
        (lambda: strip.reactions(-1.0, L, 0.0, "supported"), "line_load = -1.0"),
        (lambda: strip.reactions(Q, 0.0, 0.0, "supported"), "span = 0.0"),
        (lambda: strip.reactions(Q, L, 200.0, "supported"), "offset = 200.0"),
        (lambda: strip.reactions(Q, L, np.nan, "supported"), "offset = nan"),
        (lambda: strip.reactions(Q, L, 0.0, "bolted"), "edges = 'bolted'"),
        (lambda: strip.reactions(Q, L, 0.0, "clamped", -1.0), "shear_ratio = -1.0"),
        (lambda: strip.moment(201.0, Q, L, 0.0, "supported"), "x = 201.0"),
        (lambda: strip.supported_moment(Q, L, 200.0), "offset = 200.0"),
        (lambda: strip.clamped_moment(Q, L, 0.0, -1.0), "shear_ratio = -1.0"),
        (lambda: strip.edge_moment(-1.0, L, 0.0, 0.0), "line_load = -1.0"),
        (lambda: strip.geometry_limits(0.0, L, 0.0), "thickness = 0.0"),
        (lambda: strip.geometry_limits(T, L, L), "offset = 400.0"),
        (lambda: strip.patch_limits(0.0, T), "half_width = 0.0"),
        (lambda: strip.bending_stress(1e5, 0.0), "thickness = 0.0"),
        (lambda: strip.back_stress(1e5, -1.0, T), "line_load = -1.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
