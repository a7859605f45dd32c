"""Ends of a contact along the post: the drop against what a half-space does under an even load."""

import itertools
import math

import numpy as np
import pytest
from forms import evaluate
from scipy.integrate import quad
from scipy.special import j0, j1, struve

from contactfe.hand import approach, crowning

Q, A, E_STAR, C = 1000.0, 0.8, 110e3, 300.0
UNIT = Q / (math.pi * E_STAR)


def displacement(s, a, c, nodes=40_000):
    """1/(πE*) ∫ p/r of Boussinesq, over a rectangle: elliptic across, even along, no logarithm.

    Across by Gauss-Chebyshev's rule, x = a cos θ; along, the integral of 1/r is an area sinh.
    """
    angles = (np.arange(nodes) + 0.5) * np.pi / nodes
    weights = 2 * np.sin(angles) ** 2 / nodes
    x = a * np.abs(np.cos(angles))
    along = np.arcsinh((c / 2 - s) / x) + np.arcsinh((c / 2 + s) / x)
    return UNIT * float(weights @ along)


def test_the_integral_is_that_of_the_pressure():
    # By plain quadrature of p/r, from a place off the middle, with no closed form in it.
    a, c, s = 1.0, 20.0, 6.0

    def along(x):
        return quad(lambda y: 1 / math.hypot(x, y - s), -c / 2, c / 2, points=[s], limit=200)[0]

    across = quad(lambda x: 2 * 2 / math.pi * math.sqrt(1 - x * x) * along(x), 0, 1, limit=200)[0]
    assert displacement(s, a, c) == pytest.approx(UNIT * across, rel=1e-5)


# The profile joins the logarithm of the inside to the end by one term, so it is off between them,
# within c/20 of the ends: by 2.6 % of the drop at the end, the more the shorter the contact.
@pytest.mark.parametrize(
    ("long", "off"), [(10, 0.026), (20, 0.025), (40, 0.0225), (100, 0.02), (400, 0.018)]
)
def test_profile_is_what_a_half_space_gives_way(long, off):
    c = long * A
    shares = np.concatenate([np.linspace(0.0, 0.95, 20), 1 - np.geomspace(0.05, 1e-4, 30)])
    middle, end = displacement(0.0, A, c), crowning.end_drop(Q, A, E_STAR, c)
    exact = np.array([middle - displacement(s, A, c) for s in shares * c / 2])
    found = crowning.profile_drop(Q, A, E_STAR, c, shares * c / 2)
    error = np.abs(found - exact).max() / end
    assert 0.8 * off < error <= off  # the bound is not idle either


# Away from the ends the profile is exact but for terms of a/c; at the end for those of (a/c)².
@pytest.mark.parametrize(("long", "digits"), [(10, 2e-3), (20, 4e-4), (100, 1e-5), (400, 1e-5)])
def test_the_end_is_exact(long, digits):
    # The rule has five digits: its logarithm is at x = 0.
    c = long * A
    exact = displacement(0.0, A, c) - displacement(c / 2, A, c)
    assert crowning.end_drop(Q, A, E_STAR, c) == pytest.approx(exact, rel=digits)


def test_the_constant_is_that_of_the_sources():
    published = UNIT * (math.log(1 / 0.3033) + math.log(C / (2 * A)))
    assert crowning.end_drop(Q, A, E_STAR, C) == pytest.approx(published, rel=5e-5)  # four digits
    s = 0.97 * C / 2
    inside = (1 - 0.3033 * 2 * A / C) * (2 * s / C) ** 2
    profile = crowning.profile_drop(Q, A, E_STAR, C, s)
    assert profile == pytest.approx(UNIT * math.log(1 / (1 - inside)), rel=5e-5)


def test_profile_ends_in_the_drop_of_the_ends_and_begins_with_none():
    ends = crowning.profile_drop(Q, A, E_STAR, C, [-C / 2, 0.0, C / 2])
    end = crowning.end_drop(Q, A, E_STAR, C)
    np.testing.assert_allclose(ends, [end, 0.0, end], rtol=1e-9)


def of_j0(x):
    """∫ J0 from 0 to x; scipy's own function of it is wrong beyond 20 before version 1.17."""
    return x * j0(x) + np.pi * x / 2 * (j1(x) * struve(0, x) - j0(x) * struve(1, x))


def less_in_a_layer(c):
    """What a layer of thickness 1 on a smooth rigid base needs less, πE'/q of it at the ends.

    The load at a point presses it in by that of a half-space less ∫ (1 − g) J0(kr) dk/(πE').
    """

    def share(k):
        g = (np.cosh(2 * k) - 1) / (np.sinh(2 * k) + 2 * k)
        return (1 - g) * (2 * of_j0(k * c / 2) - of_j0(k * c)) / k

    return sum(quad(share, *part)[0] for part in itertools.pairwise(np.linspace(1e-4, 20, 200)))


# Of two digits, which are what is stated.
@pytest.mark.parametrize(
    ("c", "less"), [(1, 0.08), (2, 0.38), (3, math.log(3) - 0.34), (10, math.log(10) - 0.34)]
)
def test_a_body_of_little_depth_needs_less(c, less):
    assert less_in_a_layer(c) == pytest.approx(less, abs=0.025)


def test_the_end_of_a_long_contact_has_half_of_the_approach():
    # Of one body alone, so with E' in place of E*.
    t, c = 20.0, 400.0
    half = approach.layer(Q, t, A, E_STAR, 0.0, "plane strain") / 2
    drop = crowning.end_drop(Q, A, E_STAR, c) - UNIT * less_in_a_layer(c / t)
    assert drop == pytest.approx(half, rel=1e-3)


WORKED = [
    (crowning.profile_drop, (Q, A, E_STAR, C, 100.0)),
    (crowning.profile_drop, (Q, A, E_STAR, C, -C / 2)),
    (crowning.end_drop, (Q, A, E_STAR, C)),
]


@pytest.mark.parametrize(("formula", "arguments"), WORKED)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


def test_limits_mark():
    assert crowning.end_drop.worked(Q, A, E_STAR, 10.1 * A).within_range
    assert not crowning.end_drop.worked(Q, A, E_STAR, 9.9 * A).within_range
    assert not crowning.profile_drop.worked(Q, A, E_STAR, 9.9 * A, 0.0).within_range
    assert not crowning.depth_limit("c/t", 1.99, 1.0).exceeded
    assert crowning.depth_limit("c/t", 2.01, 1.0).exceeded
    with pytest.raises(ValueError, match=r"depth = 0\.0"):
        crowning.depth_limit("c/t", C, 0.0)


@pytest.mark.parametrize("s", [150.1, -150.1, [0.0, 151.0]])
def test_beyond_the_ends_is_refused(s):
    with pytest.raises(ValueError, match="position"):
        crowning.profile_drop(Q, A, E_STAR, C, s)
