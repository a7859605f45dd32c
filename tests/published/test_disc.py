"""Solid rounds under line loads beside what books print, each with its source and tolerance.

``from memory, not seen`` marks a value whose page was not open when it was written down.
"""

import numpy as np
import pytest

from contactfe.hand import thick_ring

TIMOSHENKO = "Timoshenko & Goodier, Theory of Elasticity, 3rd ed., circular disk (from memory)"
FROCHT = "Frocht, Photoelasticity, vol. II, disk under concentrated loads (from memory, not seen)"
HONDROS = "Hondros, Aust. J. Appl. Sci. 10 (1959) 243 (from memory, not seen)"


def disc(r, angle):
    """σr, σθ, τrθ in units of q/(πR)."""
    field = thick_ring.stress(r, angle, np.pi, 1.0, 0.0, "opposed", 0.3, "plane strain")
    return np.array(field)


def across_along_shear(x, y):
    """σx, σy, τxy at x across and y along the load line, in units of q/(πR)."""
    # The angle runs from the load at (0, −1) towards +x: e_r = (sin φ, −cos φ).
    phi = np.arctan2(x, -y)
    sr, st, t = disc(np.hypot(x, y), phi)
    s, c = np.sin(phi), np.cos(phi)
    return (
        sr * s**2 + st * c**2 + 2 * t * s * c,
        sr * c**2 + st * s**2 - 2 * t * s * c,
        (st - sr) * s * c + t * (s**2 - c**2),
    )


@pytest.mark.parametrize(
    ("x", "y", "across", "along", "shear"),
    [
        (0.0, 0.0, 1.0, -3.0, 0.0),
        (0.0, 0.5, 1.0, -13 / 3, 0.0),
        (0.5, 0.0, 0.36, -1.56, 0.0),
        (0.4, 0.4, 0.1903, -1.8187, 0.7162),
        (0.0, 0.8, 1.0, -10.111, 0.0),
    ],
)
def test_points_of_the_disc(x, y, across, along, shear):
    found = across_along_shear(x, y)
    np.testing.assert_allclose(found, [across, along, shear], atol=6e-4, err_msg=TIMOSHENKO)


@pytest.mark.parametrize("x", [0.0, 0.25, 0.5, 0.9])
def test_stress_along_the_load_over_the_level_diameter(x):
    """σy = q/(πR) (1 − 4D⁴/(D² + 4x²)²)."""
    D = 2.0
    assert across_along_shear(x, 0.0)[1] == pytest.approx(
        1 - 4 * D**4 / (D**2 + 4 * x**2) ** 2, rel=1e-12
    ), FROCHT


def test_tension_is_uniform_along_the_load_line():
    r = np.linspace(0.0, 0.99, 12)
    np.testing.assert_allclose(disc(r, 0.0)[1], 1.0, rtol=1e-12, err_msg=FROCHT)


def test_centre():
    """2q/(πD) across and −6q/(πD) along; the in-plane shear 4q/(πD)."""
    across, along = thick_ring.disc_centre_stress(1000.0, 100.0, "opposed")
    assert across == pytest.approx(6.366, abs=5e-4), TIMOSHENKO
    assert along == pytest.approx(-19.099, abs=5e-4), TIMOSHENKO
    assert (across - along) / 2 == pytest.approx(4 * 1000 / (np.pi * 100)), FROCHT


def hondros(u, alpha):
    """σθ and σr on the load diameter in units of q/(πR), q spread evenly over the arc 2α."""
    a = (1 - u**2) * np.sin(2 * alpha) / (1 - 2 * u**2 * np.cos(2 * alpha) + u**4)
    b = np.arctan((1 + u**2) / (1 - u**2) * np.tan(alpha))
    return np.array([a - b, -(a + b)]) / alpha


@pytest.mark.parametrize("degrees", [2.5, 5.0, 7.5, 10.0, 15.0])
@pytest.mark.parametrize("u", [0.0, 0.5, 0.8])
def test_load_spread_over_an_arc(degrees, u):
    """Line loads summed over the arc are Hondros' closed form."""
    alpha = np.deg2rad(degrees)
    nodes, weights = np.polynomial.legendre.leggauss(40)
    sr, st, _ = disc(u, alpha * nodes) @ weights / 2
    np.testing.assert_allclose([st, sr], hondros(u, alpha), rtol=1e-10, err_msg=HONDROS)


@pytest.mark.parametrize(
    ("degrees", "hoop", "radial", "hoop_half", "radial_half"),
    [
        (2.5, 0.99746, -2.99746, 0.98951, -4.31910),
        (5.0, 0.98986, -2.98986, 0.95858, -4.27701),
        (10.0, 0.95963, -2.95963, 0.84221, -4.11759),
        (15.0, 0.90986, -2.90986, 0.67118, -3.87981),
    ],
)
def test_arc_form_is_remembered_rightly(degrees, hoop, radial, hoop_half, radial_half):
    """Values of the closed form worked apart, at the centre and at half the radius."""
    found = np.concatenate([hondros(u, np.deg2rad(degrees)) for u in (0.0, 0.5)])
    np.testing.assert_allclose(found, [hoop, radial, hoop_half, radial_half], atol=5.1e-6)
