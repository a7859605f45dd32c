"""The contact by hand: what of the case its formulas are given, and what datum they tell."""

import math

import bodies
import pytest

from contactfe.assess.by_hand import by_hand


def found(section=(150.0, None), **keys):
    return by_hand(bodies.case([section], **keys)).sections[0]


@pytest.mark.parametrize("of", ["", "_plate"])
def test_the_shakedown_limit_is_that_of_the_plane_state(of):
    # Without friction p0 is 4k in plane strain and 2k in plane stress, k = Y/√3; q = πR p0²/E*.
    for state, times, E_star in (
        ("plane strain", 4.0, 200e3 / (2 * 0.91)),
        ("plane stress", 2.0, 100e3),
    ):
        load = found(state=state, yield_strength=345.0).value(f"shakedown_line_load{of}")
        p0 = times * 345.0 / math.sqrt(3)
        assert load == pytest.approx(math.pi * 75.0 * p0**2 / E_star, rel=2e-4)  # found to 1e-4


@pytest.mark.parametrize(
    ("plate_held", "datum"),
    [("bedded", "base"), ("two edges", "back"), ("clamped edges", "back")],
)
def test_the_approach_names_its_datum(plate_held, datum):
    label = found(plate_held=plate_held).step("approach").label
    assert label == f"approach, middle of the post to the plate's {datum}"


@pytest.mark.parametrize("key", ["approach", "tangent_stiffness"])
def test_the_approach_is_marked_near_the_edge_of_the_plate(key):
    for width, out in ((119.0, True), (121.0, False)):  # 60 mm thick, struck in the middle
        exceeded = {limit.what for limit in found(plate=(width, 60.0)).step(key).worked.exceeded}
        assert ("distance of the load from the nearer edge over t" in exceeded) == out
