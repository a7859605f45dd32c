"""Shakedown: the greatest orthogonal shear, and Melan's theorem carried out depth by depth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from contactfe.hand import hertz, shakedown, sliding

NU = 0.3
INSIDE = np.sin(np.linspace(-np.pi / 2, np.pi / 2, 301))
OUTSIDE = np.geomspace(1.001, 6.0, 60)
TRAVERSE = np.concatenate([-OUTSIDE, INSIDE, OUTSIDE])


def after_von_mises(sx, sz, sy, txz):
    """Yield strength that the state needs, over √3."""
    bracket = (sx - sz) ** 2 + (sx - sy) ** 2 + (sy - sz) ** 2
    return np.sqrt(bracket / 6 + txz**2)


def after_tresca(sx, sz, sy, txz):
    """Greatest shear of the three principal stresses."""
    centre, radius = (sx + sz) / 2, np.hypot((sx - sz) / 2, txz)
    return np.maximum(radius, (np.abs(sy - centre) + radius) / 2)


def traverse(depth, mu):
    """σx, σz, σy, τxz at a depth as the load passes over it, p0 = 1."""
    sx, sz, txz = sliding.stress_field(TRAVERSE, depth, 1.0, 1.0, mu)
    return np.array([sx, sz, NU * (sx + sz), txz])


def required(measure, states, residual):
    """Shear strength k/p0 that these states need, with residual σx and σy added."""
    sx, sz, sy, txz = states
    return measure(sx + residual[0], sz, sy + residual[1], txz).max()


def best(measure, depth, mu):
    """Least strength k/p0 that a depth needs, and the residual σx and σy with which it does."""
    states = traverse(depth, mu)
    starts = ((0.0, 0.0), (0.3, -0.3), (0.0, 2 * NU - 1))
    options = {"xatol": 1e-6, "fatol": 1e-8}
    found = [
        minimize(
            lambda residual: required(measure, states, residual),
            start,
            method="Nelder-Mead",
            options=options,
        )
        for start in starts
    ]
    least = min(found, key=lambda result: result.fun)
    return least.fun, least.x


DEPTHS = (0.0, 0.1, 0.25, 0.35, 0.4, 0.45, 0.5, 0.7, 1.0)


@pytest.mark.parametrize(
    ("measure", "mu"),
    [(after_von_mises, mu) for mu in (0.0, 0.1, 0.2, 0.3)]
    + [(after_tresca, mu) for mu in (0.0, 0.2, 0.367, 0.5)],
)
def test_residual_stresses_that_make_it_safe_exist_at_every_depth(measure, mu):
    limit = shakedown.orthogonal_shear(mu)[0]
    worst = max(best(measure, depth, mu)[0] for depth in DEPTHS)
    # No more than the limit but for the minimiser, and no less but for the depths not tried.
    assert worst <= limit * (1 + 1e-4)
    assert worst >= limit * (1 - 3e-3)


@pytest.mark.parametrize(("mu", "less"), [(0.367, 0.08), (0.5, 0.06)])
def test_after_von_mises_the_surface_allows_less_by_what_is_stated(mu, less):
    found = shakedown.orthogonal_shear(mu)[0] / best(after_von_mises, 0.0, mu)[0]
    assert 1 - found == pytest.approx(less, abs=0.005)


@pytest.mark.parametrize("depth", [0.0, 0.2, 0.41, 0.8])
def test_the_same_residual_stresses_serve_all_lesser_strikes(depth):
    mu = 0.2
    strength, residual = best(after_von_mises, depth, mu)
    # Friction the other way is the field mirrored, which the measures do not tell from the field:
    # so it is enough to try lesser friction and lesser loads.
    for part in (0.0, 0.5, 0.9):
        for load in (0.0, 0.5, 1.0):
            lesser = required(after_von_mises, load * traverse(depth, part * mu), residual)
            assert lesser <= strength * (1 + 1e-9)


@settings(max_examples=40, deadline=None)  # each example is a search
@given(st.floats(0, 1))
def test_nothing_in_the_field_has_more_shear(mu):
    value, at_x, at_z = shakedown.orthogonal_shear(mu)
    x, z = np.meshgrid(np.linspace(-2, 2, 201), np.linspace(0, 2, 101))
    shear = np.abs(sliding.stress_field(x, z, 1.0, 1.0, mu)[2])
    assert shear.max() <= value * (1 + 1e-12)
    assert shear.max() == pytest.approx(value, rel=3e-4)  # half a step of 0.02 off a flat top
    there = sliding.stress_field(at_x, at_z, 1.0, 1.0, mu)[2]
    assert abs(there) == pytest.approx(value, rel=1e-12)


def test_without_friction_it_is_a_quarter_where_books_have_it():
    value, x, z = shakedown.orthogonal_shear(0.0)
    assert value == pytest.approx(0.25, abs=1e-12)
    assert (x, z) == (pytest.approx(np.sqrt(0.75), abs=1e-6), pytest.approx(0.5, abs=1e-6))


@settings(max_examples=40, deadline=None)  # each example is two searches
@given(st.floats(0, 1), st.floats(0, 0.5))
def test_limit_is_never_below_first_yield(mu, nu):
    limit = shakedown.limit_peak_pressure(345.0, mu)
    assert limit >= sliding.first_yield_peak_pressure(345.0, mu, nu, "plane strain") * (1 - 1e-12)


def test_line_load_is_that_of_the_pressure():
    Y, R, E_star = np.array([235.0, 345.0]), 75.0, 110e3
    for mu in (0.0, 0.2, 0.6):
        q = shakedown.limit_line_load(Y, R, E_star, mu)
        np.testing.assert_allclose(
            hertz.peak_pressure(q, R, E_star), shakedown.limit_peak_pressure(Y, mu), rtol=1e-12
        )


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: shakedown.orthogonal_shear(-0.1), "friction = -0.1"),
        (lambda: shakedown.limit_peak_pressure(0.0, 0.1), "yield_strength = 0.0"),
        (lambda: shakedown.limit_peak_pressure(345.0, np.nan), "friction = nan"),
        (lambda: shakedown.limit_line_load(345.0, -1.0, 1e5, 0.1), "radius = -1.0"),
        (lambda: shakedown.limit_line_load(345.0, 50.0, 0.0, 0.1), "E_star = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
