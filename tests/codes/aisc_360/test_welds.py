"""AISC 360, J2.4: the direction of the force on a fillet weld, the base metal of a groove weld."""

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


@pytest.mark.parametrize(
    ("fy", "fu", "lrfd", "asd"),
    [
        (345.0, 450.0, 0.90 * 345.0, 345.0 / 1.67),  # yields first
        (690.0, 760.0, 0.75 * 760.0, 760.0 / 2.00),  # breaks first
    ],
)
def test_the_base_metal_of_a_groove_weld_governs_at_yield_or_at_rupture(fy, fu, lrfd, asd):
    for method, strength in (("LRFD", lrfd), ("ASD", asd)):
        found = aisc_360.groove_weld(200.0, 20.0, 10.0, fy, fu, method=method)
        assert found.resistance.value == pytest.approx(strength)
        assert found.within_scope  # filler that is not stated has to match all the same


def test_bending_alone_is_the_demand_of_a_groove_weld():
    assert aisc_360.groove_weld(200.0, 0.0, 0.0, 345.0, 450.0).demand.value == 200.0
    both = aisc_360.groove_weld(0.0, 20.0, 10.0, 345.0, 450.0).demand.value
    assert both == pytest.approx(math.sqrt(3) * 30.0)
