"""Shakedown of a sliding line contact beside what is printed, with source and tolerance."""

import numpy as np
import pytest
from scipy.optimize import brentq

from contactfe.hand import shakedown, sliding

K = 1 / np.sqrt(3)
"""Shear strength after von Mises of a yield strength of 1."""


def test_pure_rolling():
    """Johnson, Contact Mechanics, 1985, section 9.2 (from memory, not seen): p0 = 4.00 k."""
    assert shakedown.limit_peak_pressure(1.0, 0.0) / K == pytest.approx(4.00, abs=0.005)


def test_where_the_surface_takes_over():
    """The same source: friction of 0.367, and k/µ above."""
    crossing = brentq(
        lambda mu: np.abs(sliding.stress_field(0.86, 0.37, 1.0, 1.0, mu)[2]) - mu, 0.2, 0.5
    )
    assert crossing == pytest.approx(0.367, abs=1e-3)  # that place is near the peak's, not on it
    assert shakedown.orthogonal_shear(0.366)[2] > 0.3
    assert shakedown.orthogonal_shear(0.368)[2] == 0.0
    assert shakedown.limit_peak_pressure(1.0, 0.5) / K == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("mu", "ratio"),
    [
        (0.05, 3.77),
        (0.10, 3.56),
        (0.15, 3.375),
        (0.20, 3.20),
        (0.25, 3.04),
        (0.30, 2.90),
        (0.35, 2.77),
        (0.367, 2.72),
        (0.40, 2.50),
    ],
)
def test_with_friction(mu, ratio):
    """p0/k by the printed field (McEwen; Smith and Liu), searched apart on a grid."""
    found = shakedown.limit_peak_pressure(1.0, mu) / K
    assert found == pytest.approx(ratio, abs=0.0051)


def test_bar_on_a_flat():
    """A bar of 100 mm on a flat, 200 GPa, ν = 0.3, Y = 345 MPa: 796.7 MPa, 907.4 N/mm, by hand."""
    assert shakedown.limit_peak_pressure(345.0, 0.0) == pytest.approx(796.7, abs=0.05)
    found = shakedown.limit_line_load(345.0, 50.0, 200e3 / 1.82, 0.0)
    assert found == pytest.approx(907.4, abs=0.05)
