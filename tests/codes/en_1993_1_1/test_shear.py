"""EN 1993-1-1, 6.2.6: shear of a solid round."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1


@given(st.floats(10.0, 2000.0), st.floats(200.0, 460.0))
def test_a_solid_round_reaches_its_strength_at_three_quarters_of_the_area(diameter, fy):
    area = math.pi * diameter**2 / 4
    checked = en_1993_1_1.solid_shear(0.75 * area * fy / math.sqrt(3), diameter, fy)
    assert checked.ratio == pytest.approx(1.0)
