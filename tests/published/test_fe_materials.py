"""Hertz contact of unlike materials, by finite elements, node by node.

1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2 in plane strain, 1/E1 + 1/E2 in plane stress. Source: Johnson,
Contact Mechanics (1985), section 4.2(c) and eqs 4.43-4.47: from memory, not seen. Single figures
are rows of contactfe.verify.solved_contact; the cases solved are the same.
"""

import numpy as np
import pytest

from contactfe.hand import hertz
from contactfe.solve.elastic import Elastic
from contactfe.verify.cases import RADIUS, hertz_pressure, unlike
from contactfe.verify.solved_contact import PAIRS, UNLIKE_RATIO


@pytest.mark.parametrize("names", PAIRS)
@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
def test_pressure_of_unlike_materials(names, state):
    upper, lower = (Elastic(E, nu, state) for E, nu in PAIRS[names])
    modulus = hertz.contact_modulus(upper.young, upper.poisson, lower.young, lower.poisson, state)
    a, p0 = UNLIKE_RATIO * RADIUS, hertz_pressure(UNLIKE_RATIO, modulus)
    patch = unlike(upper, lower, UNLIKE_RATIO).state.patch
    inside = np.abs(patch.x) < 0.85 * a
    # Measured 0.23 % of p0.
    assert np.abs(patch.pressure - hertz.pressure(patch.x, a, p0))[inside].max() < 3e-3 * p0
