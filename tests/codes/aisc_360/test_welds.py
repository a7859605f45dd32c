"""AISC 360, J2.4: the direction of the force on a fillet weld."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.aisc_360.welds import directional_factor


@given(st.floats(0.0, math.pi / 2))
def test_across_the_axis_a_weld_is_up_to_half_stronger(angle):
    assert 1.0 <= directional_factor(angle) <= 1.5


@pytest.mark.parametrize("angle", [-0.1, 1.6, math.nan])
def test_other_angles_are_refused(angle):
    with pytest.raises(ValueError, match="angle = "):
        aisc_360.fillet_weld(1.0, 480.0, angle=angle)


def test_the_strength_is_named_by_both_of_its_factors():
    design, allowable = (aisc_360.fillet_weld(1.0, 480.0, method) for method in ("LRFD", "ASD"))
    assert design.resistance.symbol == "φFnw·kds"
    assert allowable.resistance.symbol == "Fnw·kds/Ω"
    assert design.clause.number == "J2.4, eqs J2-4 and J2-5"


def test_without_an_angle_nothing_is_added():
    assert aisc_360.fillet_weld(1.0, 480.0).resistance.value == pytest.approx(0.75 * 0.6 * 480)
