import math
import re
from collections import Counter
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from contactfe.case import units
from contactfe.case.units import (
    Dimension,
    LengthUnit,
    dimension_of,
    known_units,
    parse_percent,
    parse_quantity,
)
from contactfe.errors import InputError

# Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, g = 9.80665 m/s² (common practice, no
# source), so the expected values below do not come from the table under test.
INCH = 25.4
POUND_FORCE = 0.45359237 * 9.80665

sizes = st.floats(1e-3, 1e5)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("150 mm", "length", 150.0),
        ("150mm", "length", 150.0),
        ("  +1.5e2   mm ", "length", 150.0),
        ("15 cm", "length", 150.0),
        (".15 m", "length", 150.0),
        ("6. inch", "length", 6 * INCH),
        ("0.5 ft", "length", 6 * INCH),
        ("-3 mm", "length", -3.0),
        ("450 kN", "force", 450e3),
        ("0.45 MN", "force", 450e3),
        ("100 kip", "force", 1e5 * POUND_FORCE),
        ("100 kgf", "force", 980.665),
        ("1.5 kN/mm", "line load", 1500.0),
        ("1500 kN/m", "line load", 1500.0),
        ("8 kip / in", "line load", 8000 * POUND_FORCE / INCH),
        ("12 lbf/ft", "line load", POUND_FORCE / INCH),
        ("345 MPa", "stress", 345.0),
        ("345 N/mm2", "stress", 345.0),
        ("345 N/mm²", "stress", 345.0),
        ("345 N/mm^2", "stress", 345.0),
        ("345 N/mm/mm", "stress", 345.0),
        ("345e3 kPa", "stress", 345.0),
        ("345e6 Pa", "stress", 345.0),
        ("200 GPa", "stress", 200e3),
        ("50 ksi", "stress", 50e3 * POUND_FORCE / INCH**2),
        ("50000 psi", "stress", 50e3 * POUND_FORCE / INCH**2),
        ("7850 kg/m3", "density", 7850.0),
        ("7.85 t/m³", "density", 7850.0),
        ("7.85 g/cm^3", "density", 7850.0),
        # 490 lb/ft3 is AISC's round figure for steel (from memory, not seen).
        ("490 lb/ft3", "density", 490 * 0.45359237 / 0.3048**3),
        ("139 kg/m", "mass per length", 139.0),
        ("94 lb/ft", "mass per length", 94 * 0.45359237 / 0.3048),
        ("180 deg", "angle", math.pi),
        ("-15 deg", "angle", -math.pi / 12),
        ("5 mrad", "angle", 0.005),
        ("15°", "angle", math.pi / 12),
        ("0.25 rad", "angle", 0.25),
        ("2 kN/mm/mm", "line stiffness", 2000.0),
        ("2000 N/mm^2", "line stiffness", 2000.0),
        ("2 MN/m/mm", "line stiffness", 2000.0),
        ("300 kip/in/in", "line stiffness", 300e3 * POUND_FORCE / INCH**2),
        # The dimension of a stress, so it is read in its units as well.
        ("2 GPa", "line stiffness", 2000.0),
        ("12 kN·mm/mm", "moment per length", 12e3),
        ("3 kip*in/in", "moment per length", 3000 * POUND_FORCE),
        ("825000 lb", "mass", 825 * 0.45359237),
        # F = m a: 1 N s²/mm is 1 t, and 1 lbf s²/in is 386.0886 lb.
        ("2 N*s^2/mm", "mass", 2.0),
        ("2 kN*s²/m", "mass", 2.0),
        ("2.5 lbf*s^2/in", "mass", 2.5 * 0.45359237e-3 * 9806.65 / INCH),
        ("2.5 kip*s^2/in", "mass", 2.5 * 0.45359237 * 9806.65 / INCH),
    ],
)
def test_reads_what_engineers_write(text, dimension, value):
    assert parse_quantity(text, dimension) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "message"),
    [
        ("150", "length", 'has no unit; write for example "150 mm"'),
        (150, "length", 'has no unit; write for example "150 mm"'),
        (math.nan, "length", 'has no unit; write for example "150 mm"'),
        ("345", "stress", 'has no unit; write for example "345 MPa"'),
        (True, "length", 'must be text with a number and a unit; write for example "150 mm"'),
        (["150 mm"], "length", "must be text with a number and a unit"),
        ("150 kN", "length", 'is a force, not a length; write for example "150 mm"'),
        ("150 mm", "force", 'is a length, not a force; write for example "450 kN"'),
        ("450 kN", "line load", 'is a force, not a line load; write for example "1.5 kN/mm"'),
        ("8 ksi", "line load", "is a stress, not a line load"),
        ("8 lb/in", "line load", "is a mass per length, not a line load"),
        ("100 lb", "force", "is a mass, not a force"),
        ("20 mm2", "length", "is an area, not a length"),
        ("7850 kg", "density", 'is a mass, not a density; write for example "7850 kg/m3"'),
        ("3 N*m", "force", "is a moment, not a force"),
        ("3 N*m*m", "stress", "is not a stress; write"),
        ("15", "angle", 'has no unit; write for example "15 deg"'),
        ("15 mm", "angle", 'is a length, not an angle; write for example "15 deg"'),
        ("15 mm/mm", "angle", "is not an angle; write"),
        ("15 deg", "length", "is an angle, not a length"),
        ("15 deg*mm", "length", "is not a length; write"),
        ("15 degrees", "angle", "has a unit that is not known, degrees;"),
        (
            "2 kN/mm",
            "line stiffness",
            'is a line load, not a line stiffness; write for example "2 kN/mm/mm"',
        ),
        ("150 furlong", "length", "has a unit that is not known, furlong; write for"),
        ("150 mms", "length", "has a unit that is not known, mms;"),
        ("150 nmi", "length", "has a unit that is not known, nmi;"),
        ("150 MM", "length", "has a unit that is not known, MM;"),
        ('6"', "length", 'has a unit that is not known, ";'),
        ("150 mm mm", "length", "has a unit that is not known, mm mm;"),
        ("150 mm +", "length", "has a unit that is not known, mm +;"),
        ("150 mm9", "length", "has a unit that is not known, mm9;"),
        ("150 mm**2", "length", "has a unit that is not known, mm**2;"),
        # a mass by the force that accelerates it, and what is none
        ("1 kip*s^2/in", "length", 'is a mass, not a length; write for example "6 in"'),
        ("1 kip*s^2", "mass", "is not a mass; write"),
        ("1 kip*s/in", "mass", "is a damping, not a mass; write"),
        ("1 kip*s^2/in2", "mass", "is not a mass; write"),
        ("1 lb*s^2/in", "mass", "is not a mass; did you mean lbf*s^2/in? write"),
        ("8 lb/in", "line load", 'did you mean lbf/in? write for example "8.5 kip/in"'),
        ("1 kip", "mass", "is a force, not a mass; write"),
        ("1,5 kN/mm", "line load", "has a comma; the decimal sign is a point"),
        ("1,500 mm", "length", "thousands are not split"),
        ("6 1/2 in", "length", "must be one decimal number, no fraction, no sum, no range"),
        ("1/2 in", "length", "must be one decimal number, no fraction"),
        ("100-150 mm", "length", "must be one decimal number, no fraction, no sum, no range"),
        ("1 500 mm", "length", "must be one decimal number"),
        ("1_500 mm", "length", "must be one decimal number"),
        ("1.5.2 mm", "length", "must start with one finite decimal number"),
        ("nan mm", "length", "must start with one finite decimal number"),
        ("inf mm", "length", "must start with one finite decimal number"),
        ("mm", "length", "must start with one finite decimal number"),
        ("", "length", "must start with one finite decimal number"),
        ("٣ mm", "length", "must start with one finite decimal number"),
        ("1e999 mm", "length", "is too large a number"),
        ("-1e308 m", "length", "is too large a number"),
        ("1e31 mm", "length", "is too large a number"),
    ],
)
def test_refuses_with_a_remedy(text, dimension, message):
    with pytest.raises(InputError) as refusal:
        parse_quantity(text, dimension)
    assert message in str(refusal.value)
    assert "write for example" in str(refusal.value)


@pytest.mark.parametrize(
    ("unit", "dimension", "hint"),
    [
        ("kips/in", "line load", "did you mean kip/in? known are mm,"),
        ("kips/inches", "line load", "did you mean kip/in? "),
        ("k/in", "line load", "did you mean kip/in? "),
        ("plf", "line load", "did you mean lbf/ft? "),
        ("in/sec", "velocity", "did you mean in/s? "),
        ("ips", "velocity", "did you mean in/s? "),
        ("lbs", "force", "did you mean lbf? "),
        ("lbs", "mass", "did you mean lb? "),
        ("kips*sec^2/in", "mass", "did you mean kip*s^2/in? "),
        ("klb", "force", "did you mean kip? "),
        ("klb", "mass", "klb; 1 klb is 1000 lb; write for"),
        ("tons", "mass", "a US ton is 2000 lb and weighs 2 kip, a metric one is 1 t; write for"),
        ("tonne", "mass", "did you mean t? "),
        ("inches", "length", "did you mean in? "),
        ("in.", "length", "did you mean in? "),
        ('"', "length", "did you mean in? "),
        ("feet", "length", "did you mean ft? "),
        ("sec", "time", "did you mean s? "),
        ("min", "time", "min; 1 min is 60 s; write for"),
        ("psf", "stress", "did you mean lbf/ft^2? "),
        ("pci", "bedding", "did you mean lbf/in^3? "),
        ("pci", "density", "did you mean lb/in^3? "),
        ("KSI", "stress", "did you mean ksi? "),
        ("KN/MM", "stiffness", "did you mean kN/mm? "),
        ("kip-in", "moment", "did you mean kip*in? "),
        # near in writing alone, and only what is of the dimension if there is such
        ("mms", "length", "did you mean mm? "),
        ("mms", "time", "did you mean ms? "),
        ("degrees", "length", "did you mean deg? "),
        # in a denominator or under a power "lbf/ft^2" would be another unit
        ("in*lbf/psf", "length", "in*lbf/psf; write for"),
        ("ips2", "velocity", "ips2; known are"),
        ("furlong", "length", "furlong; write for"),
    ],
)
def test_a_unit_that_is_not_known_has_one_that_may_be_meant(unit, dimension, hint):
    with pytest.raises(InputError) as refusal:
        parse_quantity(f"3 {unit}", dimension)
    assert str(refusal.value).startswith(f"has a unit that is not known, {unit}; ")
    assert hint in str(refusal.value)


@pytest.mark.parametrize("dimension", get_args(Dimension))
@pytest.mark.parametrize("wrong", ["3 ksi*in*in*in*in*in", "3 kips*kips", "3 kN*kN", "3"])
def test_an_example_is_one_that_can_be_read_in_the_kind_of_unit_that_is_written(wrong, dimension):
    with pytest.raises(InputError) as refusal:
        parse_quantity(wrong, dimension)
    (example,) = re.findall(r'write for example "(.+?)"', str(refusal.value))
    assert parse_quantity(example, dimension) > 0
    names = set(re.findall("[a-zA-Z]+", example))
    if names - {"deg", "rad", "s"}:
        assert bool(names & {"in", "ft", "kip", "ksi", "lb"}) == ("k" in wrong and "N" not in wrong)


@given(sizes)
def test_a_length_is_the_same_in_every_unit(mm):
    same = pytest.approx(mm, rel=1e-12)
    for unit, scale in {"cm": 10, "m": 1000, "in": INCH, "inch": INCH, "ft": 12 * INCH}.items():
        assert parse_quantity(f"{mm / scale!r} {unit}", "length") == same


@given(sizes)
def test_a_stress_is_the_same_in_every_unit(MPa):
    psi = POUND_FORCE / INCH**2
    same = pytest.approx(MPa, rel=1e-12)
    for unit, scale in {"Pa": 1e-6, "kPa": 1e-3, "GPa": 1e3, "psi": psi, "ksi": 1e3 * psi}.items():
        assert parse_quantity(f"{MPa / scale!r} {unit}", "stress") == same


@given(sizes, sizes)
def test_a_line_load_is_its_force_over_its_length(force, length):
    per_inch = parse_quantity(f"{force!r} kip", "force") / parse_quantity("1 in", "length")
    assert parse_quantity(f"{force!r} kip/in", "line load") == pytest.approx(per_inch, rel=1e-12)
    assert parse_quantity(f"{force / length!r} N/mm", "line load") == force / length


@given(st.one_of(st.text(), st.text("0123456789.eE+-/*^()²_ mkNinlbft", max_size=12)))
def test_any_text_is_read_or_refused(text):
    try:
        value = parse_quantity(text, "length")
    except InputError:
        return
    assert math.isfinite(value)
    assert text.strip()[-1].isalpha()  # nothing is read as a length without its unit at the end


@pytest.mark.parametrize("name", get_args(LengthUnit))
def test_every_unit_of_length_that_a_key_may_name_is_one(name):
    assert parse_quantity(f"1 {name}", "length") > 0


@pytest.mark.parametrize(
    ("text", "fraction"), [("2 %", 0.02), ("2%", 0.02), (" 0.5  % ", 0.005), ("-1e1 %", -0.1)]
)
def test_reads_percent(text, fraction):
    assert parse_percent(text) == pytest.approx(fraction, rel=1e-15)


@pytest.mark.parametrize("text", ["2", "%", "2 %%", "2 mm", "1,5 %", "2 percent", 0.02, None, ""])
def test_what_is_no_percent_is_refused(text):
    with pytest.raises(InputError) as refusal:
        parse_percent(text)
    assert str(refusal.value) == (
        'must be text with one decimal number and %; write for example "2 %"'
    )


@pytest.mark.parametrize(
    ("text", "dimension"),
    [("4 in²", "area"), ("81.4 kip·ft", "moment"), ("90 deg", "angle"), ("0.7 m/s", "velocity")],
)
def test_a_quantity_tells_what_it_measures(text, dimension):
    assert dimension_of(text) == dimension


@pytest.mark.parametrize("text", ["4", "4 furlong", "wide", "4 in5", "4 s*in"])
def test_what_measures_nothing_known_is_refused(text):
    with pytest.raises(InputError, match="unit that is known"):
        dimension_of(text)


def test_units_are_those_of_a_library_of_units():
    """Each alone, and each with each other by a product and by a quotient; to the last bit."""
    library = UnitRegistry(
        [
            f"{name} = {f'[{name}]' if not other else f'{factor!r} * {_powers(other)}'}"
            for name, (factor, other) in units._UNITS.items()
        ]
    )
    names = known_units()
    pairs = [f"{a}{sign}{b}" for a in names for sign in "*/" for b in (*names, "mm2", "in3")]
    read = Counter()
    for unit in (*names, *pairs):
        of = library.Unit(_powers(unit))
        for dimension in get_args(Dimension):
            held = _powers(units._HELD_IN[dimension])
            if of.is_compatible_with(held):
                expected = library.Quantity(3.7, of).to(held).magnitude
                assert parse_quantity(f"3.7 {unit}", dimension) == expected
                read[dimension] += 1
    assert read.total() > 300
    assert read["stress"] > 10


def _powers(unit):
    """A unit as the library writes it."""
    return re.sub(r"([A-Za-z])([2-4])", r"\1**\2", unit)


@pytest.mark.parametrize("unit", ["mm*" * 2000 + "mm", "m" * 20_000])
def test_a_unit_that_is_too_long_is_no_unit(unit):
    with pytest.raises(InputError, match="60 characters") as refusal:
        parse_quantity(f"1 {unit}", "length")
    assert len(str(refusal.value)) < 300
