"""Two remembered formulas for tubes that do not hold, shown by what the exact field must satisfy.

The numbers that do are rows of verify/ring.toml. Stresses are in units of
q/(π ro) unless a test says otherwise.
"""

import numpy as np
import pytest

from contactfe.hand import thick_ring

TIMOSHENKO = (
    "Timoshenko & Goodier, Theory of Elasticity, 3rd ed., ring compressed by two opposite forces, "
    "outside radius twice the bore (from memory, not seen)"
)
HOBBS = "Hobbs, Br. J. Appl. Phys. 16 (1965) 259 (title page seen, formula from memory)"


def test_the_excluded_entry_breaks_the_balance_of_forces():
    """Simpson's rule over the table's side section must give −q/2; 2.610 at the rim does not."""
    nodes, weights = np.polynomial.legendre.leggauss(30)
    r, dr = 0.75 + nodes / 4, weights / 4
    inner = np.array([-8.942, -4.610, -2.012, -0.113, 1.477])
    errors = {}
    for rim in (2.610, 2.928):
        through = np.polynomial.Polynomial.fit([0.5, 0.6, 0.7, 0.8, 0.9, 1.0], [*inner, rim], 5)
        errors[rim] = abs(2 / np.pi * np.sum(through(r) * dr) + 0.5)
    assert errors[2.928] < 0.005 < errors[2.610], TIMOSHENKO


@pytest.mark.parametrize(
    ("rho", "error"), [(0.05, 0.0), (0.1, -0.001), (0.2, -0.010), (0.3, -0.044), (0.5, -0.237)]
)
def test_small_hole_expansion_fails_for_tubes(rho, error):
    """K = 6 + 38ρ² under the load: good to 1 % up to ρ = 0.2, a quarter too low at ρ = 0.5."""
    found = np.pi * thick_ring.bore_hoop(1.0, 1.0, rho, 0.0, "diametral", 0.3, "plane strain")
    assert (6 + 38 * rho**2) / found - 1 == pytest.approx(error, abs=5e-4), HOBBS
