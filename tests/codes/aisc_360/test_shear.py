"""AISC 360, G5: the bounds of the buckling stress, and the solid round by analogy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.hand import flexure, round_section


@given(st.floats(1e-3, 0.499), st.floats(0.5, 100.0), st.floats(200.0, 690.0))
def test_never_above_0_6_fy(wall, length, fy):
    checked = aisc_360.round_hss_shear(1.0, 200.0, 200.0 * wall, 200.0 * length, fy)
    A, *_, critical, strength = checked.steps
    assert critical.value <= 0.6 * fy * (1 + 1e-12)
    assert strength.value == pytest.approx(critical.value * A.value / 2)


def test_the_design_wall_is_the_first_step_and_counts_in_all_that_follows():
    sizes = 300.0, 345.0
    first, *others = aisc_360.round_hss_shear(1.0, 150.0, 10.0, *sizes, design_share=0.93).steps
    assert (first.symbol, first.value) == ("t", pytest.approx(9.3))
    assert others == list(aisc_360.round_hss_shear(1.0, 150.0, 9.3, *sizes).steps)
    with pytest.raises(ValueError, match=r"wall = 80\.0 is not allowed"):
        aisc_360.round_hss_shear(1.0, 150.0, 80.0, *sizes, design_share=0.9)


@pytest.mark.parametrize(("bore", "more"), [(0.9, 1.04), (2 / 3, 1.15), (0.01, 1.38)])
def test_the_peak_at_the_bore_is_above_the_stress_of_the_clause(bore, more):
    """The figures in the clause's words, to the digits given there; by the exact field, ν = 0.3."""
    taken = 2 / round_section.area(100.0, 100.0 * bore)
    peak = float(flexure.flexure_shear(50.0 * bore, 0.0, 1.0, 50.0, 50.0 * bore, 0.3)[1])
    assert peak / taken == pytest.approx(more, abs=0.005)


@given(st.floats(0.01, 0.99))
def test_the_mean_over_the_neutral_axis_is_below_it(bore):
    """The shear flow through the neutral axis is V S/I, whatever its spread (beam theory)."""
    first_moment = round_section.plastic_modulus(1.0, bore) / 2
    mean = first_moment / round_section.second_moment(1.0, bore) / (1 - bore)
    assert mean < 2 / round_section.area(1.0, bore)


def test_the_larger_buckling_stress_counts():
    """A long tube is governed by the form without length."""
    long = aisc_360.round_hss_shear(1.0, 200.0, 0.8, 200e3, 690.0)
    short = aisc_360.round_hss_shear(1.0, 200.0, 0.8, 800.0, 690.0)
    assert long.steps[3].value == pytest.approx(0.78 * 200e3 / 250**1.5)
    assert short.steps[3].value == pytest.approx(1.60 * 200e3 / (2 * 250**1.25))


@given(st.floats(0.01, 0.49), st.floats(10.0, 2000.0))
def test_by_the_same_measure_a_solid_is_stronger_than_its_tube(wall, diameter):
    tube = aisc_360.round_hss_shear(1.0, diameter, wall * diameter, diameter, 345.0)
    solid = aisc_360.solid_round_shear(1.0, diameter, 345.0)
    assert tube.resistance.value < solid.resistance.value
