"""AISC 360, G5: the bounds of the buckling stress, and the solid round by analogy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360


@given(st.floats(1e-3, 0.499), st.floats(0.5, 100.0), st.floats(200.0, 690.0))
def test_never_above_0_6_fy(wall, length, fy):
    checked = aisc_360.round_hss_shear(1.0, 200.0, 200.0 * wall, 200.0 * length, fy)
    A, *_, critical, strength = checked.steps
    assert critical.value <= 0.6 * fy * (1 + 1e-12)
    assert strength.value == pytest.approx(critical.value * A.value / 2)


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
