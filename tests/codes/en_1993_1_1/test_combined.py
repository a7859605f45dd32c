"""EN 1993-1-1, 6.2.8: what shear takes from the moment."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1


@given(st.floats(10.0, 2000.0), st.floats(200.0, 460.0), st.floats(0.0, 0.5))
def test_half_the_shear_resistance_costs_no_moment(diameter, fy, share):
    for wall in (None, 0.1 * diameter):
        free = en_1993_1_1.bending(1.0, diameter, fy, wall).resistance.value
        whole = en_1993_1_1.bending_with_shear(1.0, 0.0, diameter, fy, wall).steps[-2].value
        found = en_1993_1_1.bending_with_shear(1.0, share * whole, diameter, fy, wall)
        assert found.resistance.value == pytest.approx(free)


def test_above_half_it_costs_and_at_the_whole_all():
    whole = en_1993_1_1.tube_shear(1.0, 219.1, 10.0, 355.0).resistance.value
    ratios = [
        en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0).ratio
        for share in (0.5, 0.7, 0.9)
    ]
    assert ratios == sorted(set(ratios))
    for share in (1.0, 1.5):
        spent = en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0)
        assert spent.ratio > 1e6
        assert spent.satisfied is False


def test_a_solid_post_longer_than_its_diameter_keeps_its_moment():
    """At the plastic moment its shear is then below half the elastic resistance."""
    plastic = 355.0 * 150.0**3 / 6
    found = en_1993_1_1.bending_with_shear(plastic, plastic / 150.0, 150.0, 355.0)
    assert found.steps[-1].value == 0.0
    assert found.ratio == pytest.approx(1.0)


def test_the_elastic_resistance_is_named_so():
    assert en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0).steps[-2].symbol == "Vel,Rd"
    tube = en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0, 20.0)
    assert tube.steps[-2].symbol == "Vpl,Rd"


def test_a_negative_shear_is_refused():
    with pytest.raises(ValueError, match=r"shear = -1\.0 is not allowed"):
        en_1993_1_1.bending_with_shear(1.0, -1.0, 150.0, 355.0)
