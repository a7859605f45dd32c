import math

import numpy as np
import pytest

from contactfe.case.display import DISPLAYS, SI, US, significant
from contactfe.case.units import parse_quantity
from contactfe.hand.formula import Limit

# Exact by definition (common practice, no source), and not out of the table under test.
INCH, KIP, POUND = 25.4, 4448.2216152605, 0.45359237
UNCHANGED_IN_SI = (
    "length",
    "stress",
    "line load",
    "mass per length",
    "line stiffness",
    "moment per length",
    "area",
    "section modulus",
    "second moment of area",
    "bedding",
)
DIMENSIONS = (*UNCHANGED_IN_SI, "angle", "force", "moment", "bending stiffness", "stiffness")


@pytest.mark.parametrize(
    ("unit", "name", "held"),
    [
        (US.length, "in", INCH),
        (US.stress, "ksi", KIP / INCH**2),
        (US.line_load, "kip/in", KIP / INCH),
        (US.mass_per_length, "lb/ft", POUND / 0.3048),
        (US.line_stiffness, "kip/in/in", KIP / INCH**2),
        (US.moment_per_length, "kip·in/in", KIP),
        (US.force, "kip", KIP),
        (US.moment, "kip·in", KIP * INCH),
        (US.area, "in²", INCH**2),
        (US.section_modulus, "in³", INCH**3),
        (US.second_moment_of_area, "in⁴", INCH**4),
        (US.bending_stiffness, "kip·in", KIP * INCH),
        (US.bedding, "kip/in³", KIP / INCH**3),
        (US.stiffness, "kip/in", KIP / INCH),
        (US.angle, "deg", math.pi / 180),
    ],
)
def test_us_units_are_the_exact_ones(unit, name, held):
    assert unit.name == name
    assert unit.held == pytest.approx(held, rel=1e-14)
    assert unit.of(7.0 * held) == pytest.approx(7.0, rel=1e-14)
    # Arrays as well as numbers.
    np.testing.assert_allclose(unit.of(np.array([0.0, -held])), [0.0, -1.0], rtol=1e-14)


def test_si_leaves_figures_as_they_are_held_but_for_angles_forces_and_moments():
    for dimension in UNCHANGED_IN_SI:
        assert SI.unit(dimension).of(123.456789) == 123.456789


@pytest.mark.parametrize("display", DISPLAYS.values())
@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_what_is_shown_can_be_written_in_a_case_file(display, dimension):
    unit = display.unit(dimension)
    assert unit.dimension == dimension
    text = unit.text(321.0)
    # As near as the fewest digits of any of them, one decimal of a ksi.
    assert parse_quantity(text, dimension) == pytest.approx(321.0, rel=2e-3)


def test_results_state_no_density():
    with pytest.raises(KeyError):
        US.unit("density")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (SI.stress.text(404.6), "405 MPa"),
        (US.stress.text(404.6), "58.7 ksi"),
        (SI.stress.signed(-126.8), "-127 MPa"),
        (US.stress.signed(-126.8), "-18.4 ksi"),
        (SI.stress.signed(126.8), "+127 MPa"),
        (US.stress.signed(0.2), "+0.029 ksi"),
        (SI.stress.text(0.0418), "0.042 MPa"),
        (SI.stress.text(9.84), "9.8 MPa"),
        (SI.stress.text(0.0), "0 MPa"),
        (SI.length.text(168.275), "168.28 mm"),
        (US.length.text(168.275), "6.625 in"),
        (US.length.number(152.4), "6"),
        (SI.line_load.text(525.3805), "525.4 N/mm"),
        (US.line_load.text(525.3805), "3.000 kip/in"),
        (US.mass_per_length.number(79.55), "53.46"),
        (SI.angle.text(math.pi / 12), "15 deg"),
        (US.angle.text(-0.1), "-5.7296 deg"),
        (SI.line_stiffness.text(2000.0), "2000 N/mm/mm"),
        (US.line_stiffness.text(2000.0), "290.1 kip/in/in"),
        (SI.moment_per_length.text(112500.0), "112500 N·mm/mm"),
        (US.moment_per_length.text(112500.0), "25.29 kip·in/in"),
        (SI.force.text(450e3), "450.0 kN"),
        (SI.moment.text(405e6), "405.0 kN·m"),
    ],
)
def test_digits_suit_the_unit(text, shown):
    assert text == shown


@pytest.mark.parametrize(
    ("value", "shown"), [(317.0044, "317"), (317.0126, "317.01"), (317.3, "317.3"), (400.0, "400")]
)
def test_a_figure_is_told_from_its_bound_by_no_more_digits_than_that_takes(value, shown):
    # The bound itself, to four digits, is 317.0.
    limit = Limit("D/t", value, 317.0044, "at most")
    assert SI.limit(limit) == f"D/t = {shown}, at most 317"


@pytest.mark.parametrize(
    ("value", "shown"), [(3e-17, "0"), (-2e-11, "0"), (2e-9, "0.000000002"), (0.0, "0")]
)
def test_what_is_rounding_beside_the_bound_shows_as_nothing(value, shown):
    assert SI.limit(Limit("slope", value, 0.1, "at most")) == f"slope = {shown}, at most 0.1"


def test_no_powers_of_ten():
    assert significant(1234567.0) == "1234567"
    assert significant(0.0268234) == "0.02682"
