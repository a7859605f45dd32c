"""EN 1993-1-1, 6.2.5: the class of the wall and the modulus that it picks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1
from contactfe.codes.en_1993_1_1.bending import tube_class
from contactfe.hand import round_section


@pytest.mark.parametrize(
    ("slenderness", "of_class"),
    [(10.0, 1), (49.9, 1), (50.1, 2), (69.9, 2), (70.1, 3), (89.9, 3), (90.1, 4)],
)
def test_classes_of_s235_are_bounded_by_50_70_and_90(slenderness, of_class):
    assert tube_class(500.0, 500.0 / slenderness, 235.0) == of_class


@pytest.mark.parametrize("fy", [235.0, 355.0, 460.0])
@pytest.mark.parametrize(("bound", "of_class"), [(50.0, 1), (70.0, 2), (90.0, 3)])
def test_more_strength_needs_a_stockier_wall(fy, bound, of_class):
    """The bounds on D/t go with 235/fy."""
    for factor, found in ((0.999, of_class), (1.001, of_class + 1)):
        wall = 500.0 * fy / (factor * bound * 235.0)
        assert tube_class(500.0, wall, fy) == found
        assert en_1993_1_1.bending(1.0, 500.0, fy, wall).within_scope is (found <= 3)


@pytest.mark.parametrize(
    ("wall", "modulus", "within"),
    [
        (25.0, round_section.plastic_modulus, True),
        (500.0 / 65, round_section.plastic_modulus, True),
        (500.0 / 80, round_section.elastic_modulus, True),
        (500.0 / 100, round_section.elastic_modulus, False),
    ],
)
def test_the_class_picks_the_modulus(wall, modulus, within):
    checked = en_1993_1_1.bending(1.0, 500.0, 235.0, wall)
    assert checked.resistance.value == pytest.approx(235.0 * modulus(500.0, 500.0 - 2 * wall))
    assert checked.within_scope is within


@given(st.floats(10.0, 2000.0), st.floats(200.0, 460.0))
def test_a_solid_round_is_plastic_and_the_limit_of_a_thick_tube(diameter, fy):
    solid = en_1993_1_1.bending(1.0, diameter, fy).resistance.value
    assert solid == pytest.approx(fy * diameter**3 / 6)
    thick = en_1993_1_1.bending(1.0, diameter, fy, 0.499 * diameter).resistance.value
    assert thick == pytest.approx(solid, rel=1e-7)
