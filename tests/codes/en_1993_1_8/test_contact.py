"""EN 1993-1-8, 3.13.2(3): a pin in its hole, and the flat as the limit of one."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_8
from contactfe.codes.en_1993_1_8.contact import (
    flat_contact_stress,
    pin_contact_half_width,
    pin_contact_stress,
)
from contactfe.hand.formula import OutOfRangeWarning


def test_a_hole_smaller_than_its_pin_is_refused():
    with pytest.raises(ValueError, match=r"hole_diameter = 49\.0 is not allowed"):
        en_1993_1_8.pin_contact(1e5, 30.0, 50.0, 49.0, 355.0)


def test_a_hole_without_clearance_has_no_contact_stress_and_no_verdict():
    for force in (0.0, 1e5):
        found = en_1993_1_8.pin_contact(force, 30.0, 50.0, 50.0, 355.0)
        assert found.ratio == 0.0
        assert found.satisfied is None
        assert found.steps[0].value == math.inf


@given(st.floats(1.0, 1e6), st.floats(1e-3, 10.0))
def test_the_half_width_belongs_to_the_stress(force, clearance):
    """π a σ/2 is the force per length, of a half-ellipse of pressure."""
    pin = force, 30.0, 50.0, 50.0 + clearance
    line = math.pi / 2 * pin_contact_half_width.plain(*pin) * pin_contact_stress(*pin)
    assert line == pytest.approx(force / 30.0)


def test_a_contact_wider_than_half_the_pin_is_out_of_scope():
    clearance = 100e3 / (30.0 * 210e3) * (4 / (0.591 * math.pi)) ** 2 / 0.5**2
    for factor, satisfied in ((1.001, True), (0.999, None)):
        hole = 50.0 + factor * clearance
        assert en_1993_1_8.pin_contact(100e3, 30.0, 50.0, hole, 355.0).satisfied is satisfied
    with pytest.warns(OutOfRangeWarning, match="a/R"):
        pin_contact_half_width(100e3, 30.0, 50.0, 50.1)


@given(st.floats(100.0, 1e4), st.floats(10.0, 2000.0))
def test_a_flat_is_a_hole_that_grows(line_load, diameter):
    """With d d0 for the clause's d², as its Hertz origin has it."""
    hole = 1e8 * diameter
    socket = pin_contact_stress(line_load, 1.0, diameter, hole)
    flat = flat_contact_stress(line_load, diameter)
    assert socket * math.sqrt(diameter / hole) == pytest.approx(flat, rel=1e-7)
