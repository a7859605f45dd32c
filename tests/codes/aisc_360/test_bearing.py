"""AISC 360, J7: the bands of a roller's diameter, and both systems of units."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.aisc_360 import bearing
from contactfe.hand import hertz
from contactfe.hand.formula import OutOfRangeWarning
from contactfe.hand.quantities import INCH, KSI


def test_unknown_units_are_refused():
    with pytest.raises(ValueError, match="units = 'US' is not allowed"):
        aisc_360.roller(1.0, 150.0, 345.0, units="US")


@pytest.mark.parametrize(
    ("units", "diameter", "key"),
    [
        ("SI", 630.0, "aisc_360.bearing.roller_strength"),
        ("SI", 630.1, "aisc_360.bearing.large_roller_strength"),
        ("US customary", 25 * INCH, "aisc_360.bearing.roller_strength_us"),
        ("US customary", 25.01 * INCH, "aisc_360.bearing.large_roller_strength_us"),
    ],
)
def test_the_diameter_picks_the_band(units, diameter, key):
    checked = aisc_360.roller(1.0, diameter, 345.0, units=units)
    assert checked.steps[-1].formula == key
    assert checked.steps[-1].units == units
    # Limits are in mm and MPa, whatever the form is written for.
    size, strength = checked.steps[-1].limits
    assert (size.value, size.bound) == pytest.approx((diameter, bearing.BAND[units]), rel=1e-15)
    assert strength.value == pytest.approx(345.0, rel=1e-15)
    assert checked.within_scope


@pytest.mark.parametrize(
    ("formula", "diameter"),
    [
        (bearing.roller_strength, 631.0),
        (bearing.large_roller_strength, 629.0),
        (bearing.roller_strength_us, 636.0),
        (bearing.large_roller_strength_us, 634.0),
    ],
)
def test_a_formula_used_beyond_its_band_warns(formula, diameter):
    with pytest.warns(OutOfRangeWarning, match="d = "):
        formula(diameter, 345.0)


@given(st.floats(10.0, 2000.0), st.floats(200.0, 690.0))
def test_both_systems_agree_but_for_rounding(diameter, fy):
    """90 MPa for 13 ksi, 630 mm for 25 in and 30.2 for 6.0 are rounded: 0.3 % and 0.4 MPa."""
    si = aisc_360.roller(1.0, diameter, fy).steps[-1].value
    us = aisc_360.roller(1.0, diameter, fy, units="US customary").steps[-1].value
    assert si == pytest.approx(us, rel=0.003 + 0.4 / (fy - 90))


@pytest.mark.parametrize(
    ("fy", "pressure"), [(235.0, 3.32), (345.0, 3.00), (460.0, 2.71), (690.0, 2.30)]
)
def test_the_hertz_pressure_at_nominal_strength_is_what_the_clause_says(fy, pressure):
    """2.3 to 3.3 Fy. Computed here, so to its last digit; the diameter does not count."""
    for diameter in (50.0, 600.0):
        nominal = bearing.roller_strength(diameter, fy)
        p0 = float(hertz.peak_pressure(nominal, diameter / 2, 200e3 / 1.82))
        assert p0 / fy == pytest.approx(pressure, abs=0.005)


def test_no_strength_is_no_answer():
    checked = aisc_360.roller(1.0, 150.0, 60.0)
    assert checked.ratio == math.inf
    assert checked.satisfied is None


def test_thirteen_ksi_is_where_the_us_form_ends():
    assert bearing.roller_strength_us(150.0, 13 * KSI) == pytest.approx(0.0, abs=1e-9)
