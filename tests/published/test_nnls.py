"""The condensed contact problem solved by a second method: as non-negative least squares.

Without friction the pressures λ ≥ 0 that leave no overlap are the minimiser of the convex energy
½ λᵀSλ + (g0 − α w)ᵀλ over λ ≥ 0 for a given displacement α. With S = LLᵀ that energy is, but for a
constant, ½ |Lᵀλ − b|² with b = L⁻¹(α w − g0): a non-negative least squares problem, solved here by
scipy.optimize.nnls (Lawson and Hanson's active set method: it shares nothing with the semismooth
Newton method under test). The load w·λ rises with α, so brentq finds the α that carries the line
load. Convexity makes both pressures and displacement unique: the two must agree to rounding.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import cholesky, solve_triangular
from scipy.optimize import brentq, nnls

from contactfe.solve import holds
from contactfe.solve.contact import ContactSystem, solve_contact
from contactfe.solve.joint import join, normal_system
from contactfe.verify.bodies import plate, post, two_edges

RADIUS = 75.0
HALF_WIDTH = 1.5
AGREEMENT = 1e-8
"""Asked of every pressure, relative to the peak. The pairs' S has a condition number below 1e5, so
both solvers reach about 1e-11; one node more or less in the active set changes a pressure by 1e-2
or more."""


def by_nnls(system, line_load):
    """Pressures (n,) and displacement that carry ``line_load``."""
    S, w, g0 = system.compliance, system.weight, system.gap
    L = cholesky(S, lower=True)

    def pressure(displacement):
        b = solve_triangular(L, displacement * w - g0, lower=True)
        return nnls(L.T, b, maxiter=100 * len(w))[0]

    def excess(displacement):
        return w @ pressure(displacement) - line_load

    first_touch = np.min(g0 / w)
    step = line_load * np.max(np.diag(S) / w**2)
    while excess(first_touch + step) < 0.0:
        step *= 2.0
    displacement = brentq(
        excess, first_touch, first_touch + step, xtol=1e-300, rtol=4 * np.finfo(float).eps
    )
    return pressure(displacement), displacement


def assert_same(solution, pressure, displacement):
    """Same pressures, same nodes touching, same displacement, the only one."""
    assert np.abs(solution.pressure - pressure).max() < AGREEMENT * pressure.max()
    assert np.array_equal(solution.pressure > 0.0, pressure > 0.0)
    assert solution.rigid_displacement == pytest.approx([displacement], rel=AGREEMENT, abs=1e-10)


@pytest.fixture(
    scope="module",
    params=[
        (0.0, "beam shear", 200.0, holds.rigid_base),
        (50.0, "diametral", 200.0, holds.rigid_base),
        (60.0, "diametral", 60.0, two_edges),
    ],
    ids=["solid", "thick tube", "thin tube on a bending plate"],
)
def system(request):
    """The condensed contact of a real pair, meshed at the fine level."""
    bore, held_by, thickness, bed = request.param
    return normal_system(
        join(
            post(RADIUS, bore, HALF_WIDTH, held_by),
            plate(400.0, thickness, HALF_WIDTH, bed),
            radius=RADIUS,
        )
    )


@pytest.mark.parametrize("line_load", [50.0, 800.0, 2500.0, 6000.0])
def test_real_pairs(system, line_load):
    pressure, displacement = by_nnls(system, line_load)
    solution = solve_contact(system, np.array([line_load]))
    assert 2 < np.count_nonzero(pressure > 0.0) < len(pressure)  # a set was there to be found
    assert_same(solution, pressure, displacement)


@pytest.mark.parametrize("line_load", [50.0, 2500.0])
def test_no_start_changes_the_answer(system, line_load):
    pressure, displacement = by_nnls(system, line_load)
    n = len(pressure)
    rng = np.random.default_rng(20)
    starts = [np.ones(n, bool), np.zeros(n, bool), pressure <= 0.0]
    starts += [rng.random(n) < share for share in np.linspace(0.02, 0.98, 20)]
    for start in starts:
        before = start.copy()
        assert_same(solve_contact(system, np.array([line_load]), start), pressure, displacement)
        assert np.array_equal(start, before)  # the caller's set is left alone


@given(st.integers(0, 2**32 - 1), st.integers(1, 30), st.floats(-3.0, 0.0), st.floats(-2.0, 2.0))
@settings(deadline=None, max_examples=200)
def test_random_compliances(seed, n, ridge, load):
    # Random positive definite matrices have no reason to be kind to an active set method, unlike
    # those of elastic bodies, whose compliance is largest on the diagonal.
    rng = np.random.default_rng(seed)
    A = rng.normal(size=(n, n))
    w = rng.uniform(0.1, 1.0, n)
    random = ContactSystem(
        A @ A.T + 10.0**ridge * np.eye(n), w, rng.uniform(-1.0, 1.0, n), -w[:, None], w[None, :]
    )
    line_load = 10.0**load
    pressure, displacement = by_nnls(random, line_load)
    loads = np.array([line_load])
    assert_same(solve_contact(random, loads), pressure, displacement)
    assert_same(solve_contact(random, loads, rng.random(n) < 0.5), pressure, displacement)
