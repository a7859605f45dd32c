"""The search for the greatest value: hills inside, at the edge, narrow and slanting."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand.search import greatest

inside = st.floats(0.05, 0.95)


@given(inside, inside, st.floats(1, 20), st.floats(-0.8, 0.8))
def test_finds_the_top_of_a_slanting_hill(x0, z0, steep, slant):
    def hill(x, z):
        u, v = x - x0, np.sqrt(steep) * (z - z0)
        return np.exp(-(u**2 + v**2 - 2 * slant * u * v))

    value, x, z = greatest(hill, (0.0, 1.0), (0.0, 1.0))
    # The top is flat: rounding of 1e-16 in the value leaves 1e-8 in the place, more on a ridge.
    assert value == pytest.approx(1.0, abs=1e-12)
    assert (x, z) == (pytest.approx(x0, abs=1e-6), pytest.approx(z0, abs=1e-6))


def test_stays_within_the_rectangle():
    value, x, z = greatest(lambda x, z: x - z, (-1.0, 2.0), (0.5, 3.0))
    assert (value, x, z) == (1.5, 2.0, 0.5)


def test_takes_the_higher_of_two_hills():
    def hills(x, z):
        return np.exp(-50 * ((x - 0.2) ** 2 + z**2)) + 1.01 * np.exp(
            -50 * ((x - 0.8) ** 2 + (z - 1) ** 2)
        )

    _, x, z = greatest(hills, (0.0, 1.0), (0.0, 1.0))
    assert (x, z) == (pytest.approx(0.8, abs=1e-6), pytest.approx(1.0, abs=1e-6))
