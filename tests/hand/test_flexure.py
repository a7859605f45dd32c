"""Beam shear in a round: the four conditions that fix it, its greatest stress, and the limits."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand.flexure import flexure_shear, solid_shear_stress, tube_shear_stress
from contactfe.hand.round_section import area

V, B = 1000.0, 50.0
SECTIONS = [(c, nu) for c in (0.0, 10.0, 25.0, 45.0) for nu in (0.0, 0.3, 0.5)]
F, D, d = 100e3, 150.0, 100.0
poissons = st.floats(0.0, 0.5)


def points(c, n=400):
    rng = np.random.default_rng(4177)
    r, alpha = rng.uniform(c + 0.2, B - 0.2, n), rng.uniform(0, 2 * np.pi, n)
    return r * np.cos(alpha), r * np.sin(alpha)


def derivatives(c, nu, x, y, h=0.005):
    """First differences along x and y, and the Laplacian, of both components."""
    at = {
        (i, j): np.array(flexure_shear(x + i * h, y + j * h, V, B, c, nu))
        for i, j in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1))
    }
    dx, dy = (at[1, 0] - at[-1, 0]) / (2 * h), (at[0, 1] - at[0, -1]) / (2 * h)
    return dx, dy, (at[1, 0] + at[-1, 0] + at[0, 1] + at[0, -1] - 4 * at[0, 0]) / h**2


@pytest.mark.parametrize(("c", "nu"), SECTIONS)
class TestConditions:
    def test_equilibrium(self, c, nu):
        x, y = points(c)
        dx, dy, _ = derivatives(c, nu, x, y)
        inertia = np.pi * (B**4 - c**4) / 4
        scale = V * B / inertia
        np.testing.assert_allclose(dx[0] + dy[1], -V * y / inertia, atol=1e-4 * scale)

    def test_compatibility(self, c, nu):
        """Beltrami–Michell: ∇²τzx = 0 and ∇²τzy = −V/(I(1 + ν))."""
        x, y = points(c)
        _, _, laplacian = derivatives(c, nu, x, y)
        unit = V / (np.pi * (B**4 - c**4) / 4) / (1 + nu)
        np.testing.assert_allclose(laplacian[0], 0, atol=1e-2 * unit)
        np.testing.assert_allclose(laplacian[1], -unit, atol=1e-2 * unit)

    def test_rims_are_free(self, c, nu):
        alpha = np.linspace(0, 2 * np.pi, 37)
        for r in (B, c):
            tx, ty = flexure_shear(r * np.cos(alpha), r * np.sin(alpha), V, B, c, nu)
            if r:
                normal = tx * np.cos(alpha) + ty * np.sin(alpha)
                np.testing.assert_allclose(normal, 0, atol=1e-13 * np.abs(ty).max())

    def test_resultant(self, c, nu):
        nodes, weights = np.polynomial.legendre.leggauss(12)
        r = ((B - c) * nodes + B + c)[:, None] / 2
        alpha = np.arange(16) * np.pi / 8
        tx, ty = flexure_shear(r * np.cos(alpha), r * np.sin(alpha), V, B, c, nu)
        dA = weights[:, None] * (B - c) / 2 * r * np.pi / 8
        assert np.sum(ty * dA) == pytest.approx(V, rel=1e-12)
        assert np.sum(tx * dA) == pytest.approx(0, abs=1e-12 * V)


@pytest.mark.parametrize("bore", [0.0, d, 140.0])
@pytest.mark.parametrize("poisson", [0.0, 0.3, 0.5])
def test_peak_shear_is_the_greatest_of_the_exact_field(bore, poisson):
    r = np.linspace(bore / 2, D / 2, 60)[:, None]
    a = np.linspace(0, 2 * np.pi, 73)
    tau = flexure_shear(r * np.cos(a), r * np.sin(a), F, D / 2, bore / 2, poisson)
    found = tube_shear_stress(F, D, bore, poisson) if bore else solid_shear_stress(F, D, poisson)
    assert found == pytest.approx(np.hypot(*tau).max())


@given(poissons)
def test_a_pinhole_doubles_it(nu):
    hole = tube_shear_stress(F, D, 1e-3, nu)
    assert hole == pytest.approx(2 * solid_shear_stress(F, D, nu), rel=1e-6)


@given(poissons)
def test_a_thin_tube_carries_twice_the_mean(nu):
    thin = tube_shear_stress(F, D, 0.9999 * D, nu)
    assert thin == pytest.approx(2 * F / area(D, 0.9999 * D), rel=2e-4)


@pytest.mark.parametrize("poisson", [0.0, 0.28, 0.5])
def test_forms_compute_to_the_values(poisson):
    for worked in (
        solid_shear_stress.worked(F, D, poisson),
        tube_shear_stress.worked(F, D, 20.0, poisson),
        tube_shear_stress.worked(F, D, 0.98 * D, poisson),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


def test_thin_tube_carries_twice_the_mean():
    c = 0.999 * B
    _, ty = flexure_shear((B + c) / 2, 0.0, V, B, c, 0.3)
    assert ty * np.pi * (B**2 - c**2) / V == pytest.approx(2.0, rel=2e-3)


def test_shear_may_point_down():
    up, down = (np.array(flexure_shear(3.0, 4.0, v, B, 2.0, 0.3)) for v in (V, -V))
    np.testing.assert_array_equal(up, -down)


def test_points_of_a_straight_sided_mesh_are_close_enough():
    on, off = (flexure_shear(0.0, [r, -c], V, B, 10.0, 0.3)[1] for r, c in ((50, 10), (50.9, 9.1)))
    np.testing.assert_allclose(on, 0, atol=1e-15)
    assert np.all(np.abs(off) < 0.2)


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((0.0, 30.0, V, -50.0, 0.0, 0.3), "radius = -50.0"),
        ((0.0, 30.0, V, 50.0, 50.0, 0.3), "bore_radius = 50.0"),
        ((0.0, 30.0, V, 50.0, -1.0, 0.3), "bore_radius = -1.0"),
        ((0.0, 30.0, V, 50.0, 10.0, 0.7), "poisson = 0.7"),
        ((0.0, 30.0, np.inf, 50.0, 10.0, 0.3), "shear = inf"),
        ((0.0, 0.0, V, 50.0, 10.0, 0.3), "points"),
        ((0.0, 52.0, V, 50.0, 10.0, 0.3), "points"),
    ],
)
def test_bad_arguments_are_named(arguments, named):
    with pytest.raises(ValueError, match=named):
        flexure_shear(*arguments)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: solid_shear_stress(F, D, 0.6), "poisson = 0.6"),
        (lambda: solid_shear_stress(-1.0, D, 0.3), "force = -1.0"),
        (lambda: tube_shear_stress(F, D, 0.0, 0.3), "bore = 0.0"),
        (lambda: tube_shear_stress(F, D, 151.0, 0.3), "bore = 151.0"),
        (lambda: tube_shear_stress(-1.0, D, d, 0.3), "force = -1.0"),
        (lambda: tube_shear_stress(F, D, d, -0.1), "poisson = -0.1"),
    ],
)
def test_bad_arguments_of_the_greatest_stress_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
