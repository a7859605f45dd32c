"""AISC 360, H1: axial force beside the bending of a plate."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.aisc_360.combined import critical_stress, interaction

PLATE = {"thickness": 40.0, "span": 400.0, "yield_strength": 345.0}


def as_written(axial, bent):
    """H1-1a from Pr/Pc = 0.2 on, H1-1b below."""
    return axial + 8 / 9 * bent if axial >= 0.2 else axial / 2 + bent


@given(st.floats(0.0, 1.5), st.floats(0.0, 1.5))
def test_it_is_satisfied_where_the_clause_as_written_is(axial, bent):
    written = as_written(axial, bent)
    if abs(written - 1.0) > 1e-9:
        assert (interaction(axial, 1.0, bent, 1.0) <= 1.0) == (written <= 1.0)
    assert interaction(axial, 1.0, bent, 1.0) >= written


@pytest.mark.parametrize(("method", "factor"), [("LRFD", 0.9), ("ASD", 1 / 1.67)])
def test_a_plate_by_hand(method, factor):
    euler = math.pi**2 * 200e3 / (400 / (40 / math.sqrt(12))) ** 2
    axial = 200 / (factor * 0.658 ** (345 / euler) * 345 * 40)
    bent = 60e3 / (factor * 345 * 40**2 / 4)
    checked = aisc_360.plate_combined(60e3, 200.0, **PLATE, method=method)
    assert checked.ratio == pytest.approx(axial / 2 + bent)
    assert checked.ratio > aisc_360.plate_flexure(60e3, 40.0, 345.0, method).ratio


def test_without_axial_force_it_is_f11():
    bent = aisc_360.plate_flexure(60e3, 40.0, 345.0)
    assert aisc_360.plate_combined(60e3, 0.0, **PLATE).ratio == pytest.approx(bent.ratio)


def test_a_slender_span_stays_below_the_form_for_slender_ones():
    # E3-3 from Fy/Fe = 2.25 on: 0.877 Fe.
    for slender in (2.25, 3.0, 6.0):
        euler = 345.0 / slender
        span = 40 / math.sqrt(12) * math.pi * math.sqrt(200e3 / euler)
        found = critical_stress(span, 40.0, 345.0)
        assert found <= 0.877 * euler * 1.001  # both meet at 2.25, but for rounding
        assert found == pytest.approx(0.658**slender * 345.0)
