"""EN 1993-1-8, 3.13.2(3): the flat as the limit of a pin in a hole that grows."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes.en_1993_1_8.contact import flat_contact_stress


@given(st.floats(100.0, 1e4), st.floats(10.0, 2000.0))
def test_a_flat_is_a_hole_that_grows(line_load, diameter):
    """Eq. 3.15 with d d0 for the clause's d², as its Hertz origin has it."""
    hole = 1e8 * diameter
    clause = 0.591 * math.sqrt(210e3 * line_load * (hole - diameter) / diameter**2)
    flat = flat_contact_stress(line_load, diameter)
    assert clause * math.sqrt(diameter / hole) == pytest.approx(flat, rel=1e-7)
