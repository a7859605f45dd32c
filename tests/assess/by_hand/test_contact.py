"""The contact by hand: what it comes to, what of the case its formulas are given, and its datum.

Spot values are textbook expressions with the numbers of the case written in.
"""

import math
from dataclasses import replace

import pytest
from handcases import E_STAR, LENGTH, P0, A, close, limit_of, of_both, passed, steps, stop, value

from contactfe.assess.by_hand.case import by_hand
from contactfe.case.alignment import Spread
from contactfe.hand import sliding

# Values


def test_contact_by_the_textbook():
    found = steps(yield_strength=345.0, plate_yield=275.0)
    assert value(found, "contact_modulus") == close(E_STAR)
    assert value(found, "hertz_half_width") == close(A)
    assert value(found, "hertz_peak_pressure") == close(P0)
    # Johnson, Contact Mechanics, 1985, section 4.2 and 6.1 (from memory, not seen): three digits.
    assert value(found, "hertz_peak_von_mises") == close(0.558 * P0, 2e-3)
    assert value(found, "hertz_max_shear_plate") == close(0.300 * P0, 2e-3)
    for of, Y in (("", 345.0), ("_plate", 275.0)):
        per_square = math.pi * 75 / E_STAR
        # 1.79 Y has three digits and enters squared.
        first = value(found, f"hertz_first_yield_line_load{of}")
        assert first == close(per_square * (1.79 * Y) ** 2, 8e-3)
        shaken = value(found, f"shakedown_line_load{of}")
        assert shaken == close(per_square * (4 * Y / math.sqrt(3)) ** 2, 2e-4)  # found to 1e-4


def test_steels_that_differ():
    found = steps(young=210e3, plate_young=70e3, plate_poisson=0.33, state="plane stress")
    E_star = 1 / (1 / 210e3 + 1 / 70e3)
    assert value(found, "contact_modulus") == close(E_star)
    p0 = math.sqrt(1500 * E_star / (math.pi * 75))
    # In plane stress the peak of von Mises is p0 itself, at the surface, which p0 = 2k shakes down.
    assert value(found, "hertz_peak_von_mises_plate") == close(p0)
    shaken = math.pi * 75 / E_star * (2 * 690 / math.sqrt(3)) ** 2
    assert value(found, "shakedown_line_load_plate") == close(shaken, 2e-4)  # found to 1e-4


def test_each_body_has_its_own_ratio_of_poisson():
    found = steps(poisson=0.3, plate_poisson=0.0)
    E_star = 1 / (0.91 / 200e3 + 1 / 200e3)
    p0 = math.sqrt(1500 * E_star / (math.pi * 75))
    assert value(found, "hertz_peak_von_mises") == close(0.558 * p0, 2e-3)
    assert value(found, "hertz_peak_von_mises_plate") == close(p0)  # ν = 0: at the surface


# 2 ln 2 − 1: Johnson, Contact Mechanics, 1985, section 5.6, from memory, not seen; the others are
# derived in hand/approach.py, where they have these digits.
@pytest.mark.parametrize(
    ("held_by", "of_post"), [("diametral", 2 * math.log(2) - 1), ("beam shear", -0.3227)]
)
@pytest.mark.parametrize(
    ("plate_held", "of_plate"),
    [("rigid base", 1.68294), ("simply supported", 1.68294 - 2 * math.log(2)),
     ("clamped", 1.68294 - 2 * math.log(2))],
)  # fmt: skip
def test_approach_by_its_constants_and_its_tangent(held_by, of_post, plate_held, of_plate):
    found = steps(held_by=held_by, plate_held=plate_held)

    def approach(q):
        a = math.sqrt(4 * q * 75 / (math.pi * E_STAR))
        round_, plate = 2 * math.log(2 * 75 / a) + of_post, 2 * math.log(60 / a) + of_plate
        return q * 0.91 / (math.pi * 200e3) * (round_ + plate)

    # The last digits of two constants, beside a sum of about 18.
    assert value(found, "approach") == close(approach(1500.0), 5e-6)
    slope = (approach(1500.01) - approach(1499.99)) / 0.02
    # The same digits of the constants; the difference of two loads keeps about eight.
    assert value(found, "tangent_stiffness") == close(1 / slope, 5e-6)


# Lundberg's profile with Johns and Gohar's end, from memory, not seen; its constant has four
# digits.
def test_ends_of_the_contact_by_the_profile_of_the_literature():
    found = steps(cantilever=(900.0,), corner=800.0)

    def drop(q):
        a = math.sqrt(4 * q * 75 / (math.pi * E_STAR))
        ends = math.log(1 / 0.3033) + math.log(LENGTH / (2 * a))
        return q / (math.pi * E_STAR) * ends

    assert value(found, "end_drop") == close(drop(1500.0), 1e-4)
    assert value(found, "end_drop_second") == close(drop(800.0), 1e-4)


def test_ends_are_in_plane_strain_and_bear_the_peak_of_an_uneven_load():
    even = value(steps(cantilever=(900.0,)), "end_drop")
    assert value(steps(cantilever=(900.0,), state="plane stress"), "end_drop") == even
    case = stop(cantilever=(900.0,), line_load=1000.0)
    uneven = replace(case, spread=Spread(1.5, 900.0))
    assert by_hand(uneven).sections[0].value("end_drop") == close(even)


def test_ends_of_a_contact_that_is_longer_than_the_bodies_are_deep():
    depths = {"c/R, the post", "c/t, the plate's thickness"}
    assert passed(steps(cantilever=(900.0,)), "end_drop") == depths
    deep = steps((220.0, None), cantilever=(900.0,), plate=(500.0, 110.0))
    assert passed(deep, "end_drop") == set()
    tube = steps((220.0, 60.0), cantilever=(900.0,), plate=(500.0, 110.0))
    assert passed(tube, "end_drop") == {"c/h, the wall"}
    assert limit_of(tube, "end_drop", "c/h, the wall").value == close(LENGTH / 60)


def test_friction_by_the_textbook():
    found = steps(friction=0.2, yield_strength=345.0)
    assert value(found, "sliding_edge_tension") == close(2 * 0.2 * P0)
    peak, *_ = sliding.peak_von_mises(P0, 0.2, 0.3, "plane strain")
    assert value(found, "sliding_peak_von_mises") == close(peak)
    first = value(found, "sliding_first_yield_line_load")
    assert first == close(1500 * (345 / peak) ** 2)  # stress grows with the root of the load
    # Friction takes the shakedown limit below that without it, 4k.
    assert value(found, "shakedown_line_load") < value(steps(yield_strength=345.0),
        "shakedown_line_load")  # fmt: skip


def test_friction_adds_one_stress_of_each_body_that_is_measured_by_its_strength():
    found = steps(friction=0.2, yield_strength=345.0, plate_yield=275.0)
    against = {s.key: s.against for s in found.steps if s.key.startswith("sliding")}
    assert against == {
        "sliding_peak_von_mises": 345.0, "sliding_peak_von_mises_plate": 275.0,
        # A tension on one line of the surface is no von Mises stress.
        **dict.fromkeys(of_both("sliding_edge_tension", "sliding_first_yield_line_load")),
    }  # fmt: skip


# Its plane state and its datum


@pytest.mark.parametrize("of", ["", "_plate"])
def test_the_shakedown_limit_is_that_of_the_plane_state(of):
    # Without friction p0 is 4k in plane strain and 2k in plane stress, k = Y/√3; q = πR p0²/E*.
    for state, times, E_star in (
        ("plane strain", 4.0, 200e3 / (2 * 0.91)),
        ("plane stress", 2.0, 100e3),
    ):
        load = steps(state=state, yield_strength=345.0).value(f"shakedown_line_load{of}")
        p0 = times * 345.0 / math.sqrt(3)
        assert load == pytest.approx(math.pi * 75.0 * p0**2 / E_star, rel=2e-4)  # found to 1e-4


@pytest.mark.parametrize(
    ("plate_held", "datum"),
    [("rigid base", "base"), ("simply supported", "back"), ("clamped", "back")],
)
def test_the_approach_names_its_datum(plate_held, datum):
    label = steps(plate_held=plate_held).step("approach").label
    assert label.endswith(f"plate's {datum}")


@pytest.mark.parametrize("key", ["approach", "tangent_stiffness"])
def test_the_approach_is_marked_near_the_edge_of_the_plate(key):
    for width, out in ((119.0, True), (121.0, False)):  # 60 mm thick, struck in the middle
        exceeded = {limit.what for limit in steps(plate=(width, 60.0)).step(key).worked.exceeded}
        assert ("distance of the load from the nearer edge over t" in exceeded) == out
