"""EN 1993-1-8, 3.13.2(3): a pin in its hole, and the flat as the limit of one."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_8
from contactfe.codes.en_1993_1_8.contact import flat_contact_stress, pin_contact_stress


def test_a_hole_smaller_than_its_pin_is_refused():
    with pytest.raises(ValueError, match=r"hole_diameter = 49\.0 is not allowed"):
        en_1993_1_8.pin_contact(1e5, 30.0, 50.0, 49.0, 355.0)


def test_a_hole_without_clearance_has_no_contact_stress():
    assert en_1993_1_8.pin_contact(1e5, 30.0, 50.0, 50.0, 355.0).ratio == 0.0


@given(st.floats(100.0, 1e4), st.floats(10.0, 2000.0))
def test_a_flat_is_a_hole_that_grows(line_load, diameter):
    """With d d0 for the clause's d², as its Hertz origin has it."""
    hole = 1e8 * diameter
    socket = pin_contact_stress(line_load, 1.0, diameter, hole)
    flat = flat_contact_stress(line_load, diameter)
    assert socket * math.sqrt(diameter / hole) == pytest.approx(flat, rel=1e-7)
