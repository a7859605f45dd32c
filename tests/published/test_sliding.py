"""Sliding line contact beside printed formulas, all over the field: these are no single numbers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import sliding


def printed_friction(x, z):
    """σx, σz, τxz of the traction alone with McEwen's m and n, for a = q0 = 1.

    Johnson, Contact Mechanics, 1985, section 7.1; McEwen, Phil. Mag. 40 (1949); Smith and Liu,
    J. Appl. Mech. 20 (1953): from memory, not seen.
    """
    s, t = 1 - x**2 + z**2, 2 * x * z
    root = np.hypot(s, t)
    m = np.sqrt((root + s) / 2)
    n = np.sign(x) * np.sqrt((root - s) / 2)
    d = m**2 + n**2
    return (
        n * (2 - (z**2 - m**2) / d) - 2 * x,
        -n * (m**2 - z**2) / d,
        -(m * (1 + (z**2 + n**2) / d) - 2 * z),
    )


@given(st.floats(-5, 5), st.floats(0.01, 5))
def test_field_by_the_printed_formulas_everywhere(x, z):
    # Near the axis the printed n loses half its digits.
    found = sliding.friction_stress(x, z, 1.0, 1.0)
    np.testing.assert_allclose(found, printed_friction(x, z), atol=2e-7)


@pytest.mark.parametrize("mu", [0.1, 1 / 3, 0.5])
def test_surface(mu):
    """σx = ±2µp0 at the edges, and a shear of µp0 in the plane all along the contact.

    Johnson, Contact Mechanics, 1985, section 7.1 (from memory, not seen).
    """
    x = np.linspace(-1, 1, 21)
    sx, sz, txz = sliding.stress_field(x, 0.0, 1.0, 1.0, mu)
    np.testing.assert_allclose([sx[0], sx[-1]], [2 * mu, -2 * mu], rtol=1e-12)
    np.testing.assert_allclose(np.hypot((sx - sz) / 2, txz), mu, rtol=1e-12)
