"""The frame of a formula: number, form, what was put in, range and mark."""

import pkgutil
from importlib import import_module

import numpy as np
import pytest
from forms import evaluate

from contactfe import codes, hand
from contactfe.codes.en_1993_1_1.bending import moment_resistance
from contactfe.hand import hertz, ring_stress, weld
from contactfe.hand.formula import (
    Formula,
    Given,
    Limit,
    OutOfRangeWarning,
    added,
    at_least,
    at_most,
    formula,
    held,
    shown,
    written_as,
)
from contactfe.hand.quantities import LineLoads

STEEL = 200e3 / 1.82


def test_a_call_gives_the_number_for_floats_and_arrays():
    assert hertz.half_width(1000.0, 50.0, STEEL) == pytest.approx(0.76113, abs=5e-6)
    assert np.shape(hertz.half_width([1.0, 2.0, 3.0], 50.0, STEEL)) == (3,)


def test_worked_out_it_is_written_with_symbols_and_numbers():
    worked = hertz.half_width.worked(1000.0, 50.0, E_star=100e3)
    assert worked.formula == "hertz.half_width"
    assert worked.by_symbols() == "√(4·q·R/(π·E*))"
    assert worked.by_numbers(held) == "√(4·1000 N/mm·50 mm/(π·100000 MPa))"
    assert float(worked) == hertz.half_width(1000.0, 50.0, 100e3)
    assert worked.within_range
    assert "4.43" in worked.source


def test_a_number_with_a_unit_is_raised_in_brackets_and_a_negative_one_stands_in_them():
    worked = ring_stress.thin_ring_hoop.worked(1000.0, 100.0, 9.0, np.pi / 2, "diametral")
    assert worked.by_symbols() == "N/h + s·6·M/h²"
    assert worked.by_numbers(held) == ("(-500 N/mm)/9 mm + 1·6·(-17351 N·mm/mm)/(9 mm)²")
    modulus = hertz.contact_modulus.worked(200e3, 0.3, 200e3, 0.3, "plane strain")
    assert modulus.by_numbers(held) == "1/((1 − 0.3²)/200000 MPa + (1 − 0.3²)/200000 MPa)"


def test_a_formula_that_names_its_own_symbols_and_dimensions_is_written_with_them():
    # A moment is else one per length, a thickness else t.
    assert weld.bending_stress.worked(60e6, 10.0, 150.0).given["moment"] == Given(
        "M", 60e6, "moment"
    )
    moment = moment_resistance.worked(1000.0, 355.0)
    assert moment.by_symbols() == "W·fy/γM0"
    # Arguments that were left out stand with their defaults.
    assert moment.by_numbers(held) == "1000 mm³·355 MPa/1"


@formula("push", "P", source="made up")
def push(line_load: LineLoads) -> LineLoads:
    """Twice half the load, towards minus."""
    half = shown("half", line_load / 2, "h", "line load")
    return 0.0 - 2 * half


@formula("pull", "P", source="made up")
def pull(line_load: LineLoads) -> LineLoads:
    """The same, as what is printed and as what is worked out."""
    return written_as(-line_load, -1 * line_load) + 0.0


def test_a_value_that_is_shown_may_be_an_array_and_a_minus_leaves_no_minus_nought():
    np.testing.assert_array_equal(push([1.0, 4.0]), [-1.0, -4.0])
    assert not np.signbit([push(0.0), pull(0.0)]).any()
    assert (pull(3.0), pull.worked(3.0).by_symbols()) == (-3.0, "−q")
    worked = push.worked(3.0)
    assert worked.by_symbols() == "−2·h"
    assert worked.given["half"] == Given("h", 1.5, "line load")


def test_a_sum_carries_the_limits_of_its_parts():
    near, far = (hertz.half_width.worked(q, 50.0, STEEL) for q in (1000.0, 1e5))
    total = added("sum", "sum of two", "a", near, far)
    assert total.value == near.value + far.value
    assert evaluate(total) == pytest.approx(total.value, rel=1e-12)
    assert total.by_symbols() == "a,1 + a,2"
    assert [limit.value for limit in total.exceeded] == [limit.value for limit in far.exceeded]


def test_out_of_range_it_is_marked_and_never_silent():
    worked = hertz.half_width.worked(1e5, 50.0, STEEL)
    assert not worked.within_range
    (limit,) = worked.exceeded
    assert (limit.what, limit.bound) == ("a/R", 0.1)
    assert "outside its range: a/R = 0.1522, at most 0.1" in str(worked)
    with pytest.warns(OutOfRangeWarning, match=r"half_width.*a/R = 0\.1522, at most 0\.1"):
        hertz.half_width(1e5, 50.0, STEEL)
    assert hertz.half_width.plain(1e5, 50.0, STEEL) == worked.value


def test_one_of_an_array_out_of_range_is_enough():
    with pytest.warns(OutOfRangeWarning):
        hertz.half_width([1.0, 1e5], 50.0, STEEL)


def test_a_limit_from_outside_marks_too():
    worked = hertz.half_width.worked(1000.0, 50.0, STEEL).also(at_most("a/h", 0.4, 0.3))
    assert [limit.what for limit in worked.exceeded] == ["a/h"]


def test_limits_from_outside_stand_beside_those_of_the_formula_and_each_once():
    own = hertz.half_width.worked(1e5, 50.0, STEEL)
    wall = at_most("a/h", 0.4, 0.5)
    both = own.also(wall, *own.limits, wall)
    assert both.limits == (*own.limits, wall)
    assert [limit.what for limit in both.exceeded] == ["a/R"]  # a new one hides no old one
    assert (both.value, both.source) == (own.value, own.source)


def test_the_warning_points_at_who_called():
    with pytest.warns(OutOfRangeWarning) as caught:
        hertz.half_width(1e5, 50.0, STEEL)
    assert [warning.filename for warning in caught] == [__file__]


@pytest.mark.parametrize(
    ("limit", "passed"),
    [
        (at_most("a", 1.0, 1.0), False),
        (at_most("a", [0.5, 1.1], 1.0), True),
        (at_least("L/t", 4.0, 4.0), False),
        (at_least("L/t", [9.0, 3.9], 4.0), True),
        (Limit("a", float("nan"), 1.0, "at most"), True),
        (Limit("a", float("nan"), 1.0, "at least"), True),
    ],
)
def test_a_bound_itself_is_inside(limit, passed):
    assert limit.exceeded is passed


@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
def test_the_form_computes_to_the_value(state):
    modulus = hertz.contact_modulus.worked(210e3, 0.3, 70e3, 0.33, state)
    assert evaluate(modulus) == pytest.approx(modulus.value, rel=1e-12)
    assert modulus.given["state"].value == state


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.761133, "0.76113 mm"),
        (109890.11, "109890 mm"),
        (0.0, "0 mm"),
        (2.28938e9, "2.2894e+09 mm"),
    ],
)
def test_five_digits_count(value, text):
    assert held(value, "length") == text


def every_formula():
    modules = [
        import_module(found.name)
        for room in (hand, codes)
        for found in pkgutil.walk_packages(room.__path__, f"{room.__name__}.")
    ]
    found = {one.key: one for m in modules for one in vars(m).values() if isinstance(one, Formula)}
    return [found[key] for key in sorted(found)]


@pytest.mark.parametrize("formula", every_formula(), ids=lambda one: one.key)
def test_every_formula_is_written_or_says_how_its_value_is_found(formula):
    assert formula.source
    assert formula.form or formula.note
