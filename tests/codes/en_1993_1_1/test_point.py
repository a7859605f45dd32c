"""EN 1993-1-1, 6.2.1(5): the yield criterion is von Mises'."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1

strength = st.floats(200.0, 460.0)
any_stress = st.floats(-500.0, 500.0)


@given(any_stress, any_stress, any_stress, strength)
def test_it_is_the_square_of_von_mises_over_strength(x, z, t, fy):
    """Of the plane stress tensor, by its deviator."""
    tensor = np.array([[x, t, 0.0], [t, z, 0.0], [0.0, 0.0, 0.0]])
    deviator = tensor - np.trace(tensor) / 3 * np.eye(3)
    squared = 1.5 * np.sum(deviator**2) / fy**2
    found = en_1993_1_1.yield_at_a_point(x, z, t, fy)
    assert found.ratio == pytest.approx(squared, rel=1e-9, abs=1e-12)
