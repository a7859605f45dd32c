"""Shakedown: the bound of orthogonal shear, and Melan's theorem carried out by another search."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar

from contactfe.hand import hertz, shakedown, sliding
from contactfe.hand.search import greatest
from contactfe.hand.stress import out_of_plane

K = 1 / np.sqrt(3)
"""Shear strength after von Mises of a yield strength of 1."""
INSIDE = np.sin(np.linspace(-np.pi / 2, np.pi / 2, 501))
OUTSIDE = np.geomspace(1.001, 50.0, 90)
TRAVERSE = np.concatenate([-OUTSIDE, INSIDE, OUTSIDE])
STRAIN = "plane strain"
friction = st.floats(0.0, 1.0)
poisson = st.floats(0.0, 0.5)


def pressure(mu, nu, state):
    """Peak pressure at the limit, for a yield strength of 1."""
    return K / shakedown.least_strength(mu, nu, state)[0]


def orthogonal_shear(mu):
    """Greatest |τxz|/p0 of the field and its depth, by a search of its own."""

    def shear(x, z):
        return np.abs(sliding.stress_field(x, z, 1.0, 1.0, mu)[2])

    inside, _, z = greatest(shear, (0.0, 1.2), (0.1, 1.3))
    return (inside, z) if inside > mu else (mu, 0.0)


def close(value):
    """To rounding, with room for what the search of the ball leaves."""
    return pytest.approx(value, rel=1e-9)


def after_von_mises(sx, sz, sy, txz):
    """Yield strength that the state needs, over √3."""
    bracket = (sx - sz) ** 2 + (sx - sy) ** 2 + (sy - sz) ** 2
    return np.sqrt(bracket / 6 + txz**2)


def traverse(depth, mu, nu, state):
    """σx, σz, σy, τxz at a depth as the load passes over it, p0 = 1."""
    sx, sz, txz = sliding.stress_field(TRAVERSE, depth, 1.0, 1.0, mu)
    return np.array([sx, sz, out_of_plane(sx, sz, nu, state), txz])


def required(states, residual):
    """Shear strength k/p0 that these states need, with residual σx and σy added."""
    sx, sz, sy, txz = states
    return after_von_mises(sx + residual[0], sz, sy + residual[1], txz).max()


def best(depth, mu, nu, state):
    """Least strength k/p0 that a depth needs, and the residual σx and σy with which it does.

    A search that knows nothing but the yield condition: in plane strain downhill from three
    places; in plane stress, where σy is none, along σx.
    """
    states = traverse(depth, mu, nu, state)
    if state == "plane stress":
        line = minimize_scalar(
            lambda sx: required(states, (sx, 0.0)), bounds=(-1.0, 2.0), method="bounded"
        )
        return line.fun, (line.x, 0.0)
    found = [
        minimize(
            lambda residual: required(states, residual),
            start,
            method="Nelder-Mead",
            options={"xatol": 1e-6, "fatol": 1e-8},
        )
        for start in ((0.0, 0.0), (0.3, -0.3), (0.0, 2 * nu - 1))
    ]
    least = min(found, key=lambda result: result.fun)
    return least.fun, least.x


DEPTHS = (0.0, 0.02, 0.2, 0.35, 0.42, 0.5, 0.8)
STATES = [(nu, "plane strain") for nu in (0.0, 0.2, 0.3, 0.5)] + [(0.3, "plane stress")]
state = st.sampled_from(["plane strain", "plane stress"])


class TestMelan:
    @pytest.mark.parametrize(("nu", "state"), STATES)
    @pytest.mark.parametrize("mu", [0.0, 0.15, 0.25, 0.33, 0.5, 1.0])
    def test_a_search_for_the_best_residual_stresses_finds_the_same(self, mu, nu, state):
        strength, depth = shakedown.least_strength(mu, nu, state)
        # Both minimise over places of their own; flat tops between places cost up to 1e-4.
        assert best(depth, mu, nu, state)[0] == pytest.approx(strength, rel=2e-4)
        assert max(best(other, mu, nu, state)[0] for other in DEPTHS) <= strength * (1 + 2e-4)

    @pytest.mark.parametrize("state", ["plane strain", "plane stress"])
    @pytest.mark.parametrize("depth", [0.0, 0.2, 0.41, 0.8])
    def test_the_same_residual_stresses_serve_all_lesser_strikes(self, depth, state):
        mu, nu = 0.2, 0.3
        strength, residual = best(depth, mu, nu, state)
        # Friction the other way has its own sign of shear.
        for part in (-1.0, -0.5, 0.0, 0.5, 0.9):
            for load in (0.0, 0.5, 1.0):
                lesser = load * traverse(depth, abs(part) * mu, nu, state)
                if part < 0:
                    lesser[3] *= -1
                assert required(lesser, residual) <= strength * (1 + 1e-9)

    @settings(max_examples=60, deadline=None)  # each example is several searches
    @given(friction, poisson, state)
    def test_it_lies_between_first_yield_and_the_bound_of_orthogonal_shear(self, mu, nu, state):
        strength, _ = shakedown.least_strength(mu, nu, state)
        # Its places are not those of the search: 1e-4, as above.
        assert strength >= orthogonal_shear(mu)[0] * (1 - 1e-4)
        peak, _, _ = sliding.peak_von_mises(1.0, mu, nu, state)
        assert strength <= peak * K * (1 + 1e-9)

    @settings(max_examples=60, deadline=None)  # each example is two searches
    @given(st.floats(0.0, 0.9), st.floats(0.001, 0.1), st.floats(0.0, 0.4), st.floats(0.001, 0.1))
    def test_friction_lowers_it_and_poisson_ratio_raises_it(self, mu, rougher, nu, stiffer):
        strength, _ = shakedown.least_strength(mu, nu, "plane strain")
        rough, _ = shakedown.least_strength(mu + rougher, nu, "plane strain")
        assert rough >= strength * (1 - 1e-4)
        stiff, _ = shakedown.least_strength(mu, nu + stiffer, "plane strain")
        assert stiff <= strength * (1 + 1e-12)

    @settings(max_examples=60, deadline=None)  # each example is two searches
    @given(friction, poisson)
    def test_plane_stress_allows_less_and_the_surface_governs_it(self, mu, nu):
        # Its states are those of plane strain for ν = 0, but residual σy cannot help it.
        strength, depth = shakedown.least_strength(mu, nu, "plane stress")
        assert depth == 0.0
        assert strength >= shakedown.least_strength(mu, nu, "plane strain")[0]
        assert strength == shakedown.least_strength(mu, 0.5 - nu, "plane stress")[0]


class TestLimit:
    @pytest.mark.parametrize("nu", [0.067, 0.2, 0.3, 0.5])
    def test_without_friction_it_is_four_times_the_shear_strength(self, nu):
        assert pressure(0.0, nu, "plane strain") == close(4 * K)

    def test_in_plane_stress_without_friction_it_is_twice_the_shear_strength(self):
        # σx = σz = −p at the surface: σx back to −p/2 leaves √3 p/2, which is Y at p = 2k.
        assert pressure(0.0, 0.3, "plane stress") == close(2 * K)

    @pytest.mark.parametrize("nu", [0.0, 0.03, 0.0669])
    def test_for_small_poisson_ratios_the_surface_governs_without_friction(self, nu):
        # σx = σz = −p and σy = −2νp there: residual σy can but halve the range of (1 − 2ν)p.
        expected = 2 / (1 - 2 * nu)
        assert pressure(0.0, nu, "plane strain") == close(expected)

    @pytest.mark.parametrize("mu", [0.1, 0.2, 0.3, 0.317])
    def test_below_the_surface_it_is_that_of_orthogonal_shear(self, mu):
        strength, depth = shakedown.least_strength(mu, 0.3, "plane strain")
        assert strength == pytest.approx(orthogonal_shear(mu)[0], rel=1e-4)
        assert depth == pytest.approx(orthogonal_shear(mu)[1], abs=0.01)

    @pytest.mark.parametrize("mu", [0.4, 0.7, 1.0])
    def test_without_change_of_volume_the_surface_allows_the_traction_alone(self, mu):
        # With ν = 0.5 only σx − σz = −2µx/a varies there, with µ²(1 − x²/a²) in all.
        assert pressure(mu, 0.5, "plane strain") == close(K / mu)

    def test_from_where_on_the_surface_governs_and_how_much_less_it_allows(self):
        def least(mu):
            return shakedown.least_strength(mu, 0.3, "plane strain")

        assert least(0.317)[1] > 0.3
        assert least(0.318)[1] == 0.0
        less = [
            1 - orthogonal_shear(mu)[0] / least(mu)[0] for mu in (0.33, 0.35, 0.367, 0.38, 0.5, 1.0)
        ]
        assert max(less) == pytest.approx(0.08, abs=0.001)

    @pytest.mark.parametrize("state", ["plane strain", "plane stress"])
    def test_line_load_is_that_of_the_pressure(self, state):
        Y, R, E_star = np.array([235.0, 345.0]), 75.0, 110e3
        for mu in (0.0, 0.2, 0.6):
            q = shakedown.limit_line_load(Y, R, E_star, mu, 0.3, state)
            np.testing.assert_allclose(
                hertz.peak_pressure(q, R, E_star),
                Y * pressure(mu, 0.3, state),
                rtol=1e-12,
            )


def test_the_greatest_orthogonal_shear_is_that_of_the_books():
    # A quarter without friction, half a half-width below; the traction itself from µ = 0.367 on.
    assert orthogonal_shear(0.0) == (close(0.25), pytest.approx(0.5, abs=1e-6))
    assert orthogonal_shear(0.3665)[1] > 0.0
    assert orthogonal_shear(0.3675)[1] == 0.0


@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
@pytest.mark.parametrize("mu", [0.0, 0.2, 0.5])
def test_the_form_computes_to_the_value(mu, state):
    worked = shakedown.limit_line_load.worked(345.0, 50.0, 110e3, mu, 0.3, state)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)
    assert worked.within_range


def test_out_of_range_they_are_marked():
    of_line = shakedown.limit_line_load
    soft = of_line.worked(345.0, 50.0, 10e3, 0.0, 0.3, "plane strain")  # 2 p0/E* is 0.16
    rough = of_line.worked(345.0, 50.0, 110e3, 1.1, 0.3, "plane strain")
    passed = [[limit.what for limit in worked.exceeded] for worked in (soft, rough)]
    assert passed == [["a/R"], ["µ"]]


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: shakedown.least_strength(-0.1, 0.3, STRAIN), "friction = -0.1"),
        (lambda: shakedown.least_strength(0.1, 0.6, "plane stress"), "poisson = 0.6"),
        (lambda: shakedown.least_strength(0.1, 0.3, "flat"), "state = 'flat'"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
