"""How far post and plate are half-spaces: where the formulas of their contact do not hold."""

import math

import pytest
from handcases import (
    E_STAR,
    INFILL,
    MESH,
    P0,
    TUBE,
    A,
    close,
    limit_of,
    passed,
    steps,
    stop,
    value,
)

from contactfe.assess.by_hand.case import section_by_hand

# Bending beside the contact


@pytest.mark.parametrize(("held_by", "share"), [("beam shear", 3 / 4), ("diametral", 1.0)])
def test_bending_of_the_ring_beside_the_contact(held_by, share):
    found = steps(TUBE, held_by=held_by)
    what = "bending stress of the post / peak pressure p0"
    bending = 6 * share * 1500 * 62.5 / math.pi / 25**2
    limit = limit_of(found, "hertz_peak_von_mises", what)
    assert limit.value == close(bending / P0)
    assert limit.exceeded
    # Of a load of its own: bending grows with the load, pressure with its root.
    load = value(found, "hertz_first_yield_line_load")
    limit = limit_of(found, "hertz_first_yield_line_load", what)
    assert limit.value == close(bending / P0 * math.sqrt(load / 1500))
    # The pressure itself is another matter, and so is the plate.
    assert passed(found, "hertz_peak_pressure") == set()
    assert passed(found, "hertz_peak_von_mises_plate") == set()


def test_bending_of_the_ring_in_a_corner_is_that_of_both_loads_of_either_sign():
    # Thin ring, R = 62.5 and h = 25 mm: qR 3/(4π) under a load, qR (1/(2π) − 1/4) at its side.
    under, side = 3 / (4 * math.pi), 1 / (2 * math.pi) - 1 / 4
    q1, q2 = 100.0, 1500.0
    found = steps(TUBE, line_load=q1, corner=q2)
    for end, own, other in (("", q1, q2), ("_second", q2, q1)):
        bending = 6 * 62.5 * (under * own + side * other) / 25**2
        assert (bending < 0.0) == (end == "")  # at the smaller load the greater one governs
        what = "bending stress of the post / peak pressure p0"
        limit = limit_of(found, f"hertz_peak_von_mises{end}", what)
        p0 = math.sqrt(own * E_STAR / (math.pi * 75))
        assert limit.value == close(abs(bending) / p0)


def test_bending_beside_the_contact_counts_from_a_twentieth_of_the_pressure():
    key, what = "hertz_peak_von_mises_plate", "bending stress of the plate / peak pressure p0"
    # 6 q L/4 / t² = 6·q·40 mm/60² over p0 at 160 mm of span.
    per_root = 6 * 160 / 4 / 60**2 / math.sqrt(E_STAR / (math.pi * 75))
    for share, out in ((0.049, False), (0.051, True)):
        q = (share / per_root) ** 2
        found = steps(line_load=q, plate=(160.0, 60.0), plate_held="simply supported")
        assert limit_of(found, key, what).value == close(share)
        assert (what in passed(found, key)) == out


@pytest.mark.parametrize(
    "section", [(*TUBE, {"held_by": "rigid core"}), (*TUBE, INFILL), (150.0, None, MESH)]
)
def test_nothing_is_said_of_bending_where_no_formula_gives_it(section):
    found = steps(section)
    limits = found.step("hertz_peak_von_mises").worked.limits
    assert not [limit.what for limit in limits if limit.what.startswith("bending")]
    plate = limit_of(
        found, "hertz_peak_von_mises_plate", "bending stress of the plate / peak pressure p0"
    )
    assert plate.value == 0.0  # on a rigid base


def test_bending_of_the_plate_beside_the_contact():
    found = steps(offset=30.0, plate_held="simply supported")
    bending = 6 * 1500 * 230 * 170 / 400 / 60**2
    what = "bending stress of the plate / peak pressure p0"
    limit = limit_of(found, "hertz_peak_von_mises_plate", what)
    assert limit.value == close(bending / P0)
    assert limit.exceeded
    post = limit_of(found, "hertz_peak_von_mises", "bending stress of the post / peak pressure p0")
    assert post.value == 0.0  # a solid
    assert what not in {limit.what for limit in found.step("hertz_peak_von_mises").worked.limits}


# Width of the patch


@pytest.mark.parametrize(("thickness", "out"), [(11.0, True), (12.0, False)])
def test_a_thin_plate_is_no_half_space(thickness, out):
    assert A / 12 < 0.1 < A / 11
    found = steps(plate=(400.0, thickness))
    # The plate's back, not its front, is another matter: the layer has a bound of its own, a/t 0.2.
    for key in ("hertz_half_width", "hertz_peak_pressure", "hertz_peak_von_mises_plate"):
        assert ("a/t, the plate's thickness" in passed(found, key)) == out
    assert found.step("layer_back_stress").worked.within_range


def test_loads_at_first_yield_and_shakedown_have_a_patch_of_their_own():
    found = steps(line_load=100.0, plate=(400.0, 11.0), yield_strength=690.0)
    for key in ("hertz_first_yield_line_load", "shakedown_line_load_plate"):
        load = value(found, key)
        a = math.sqrt(4 * load * 75 / (math.pi * E_STAR))
        limit = limit_of(found, key, "a/t, the plate's thickness")
        assert limit.value == close(a / 11)
        assert limit.exceeded
    assert passed(found, "hertz_peak_pressure") == set()  # the load itself has a narrow one


@pytest.mark.parametrize(("wall", "out"), [(11.0, True), (12.0, False)])
def test_a_wide_patch_on_a_thin_wall(wall, out):
    found = steps((150.0, wall))
    assert ("a/h, the wall" in passed(found, "hertz_peak_pressure")) == out


def test_a_contact_near_the_edge_of_the_plate():
    found = steps(offset=190.0)
    assert passed(found, "hertz_half_width") == {"a/(distance to the plate's edge)"}
    assert passed(found, "layer_back_stress") == {
        "distance of the load from the nearer edge over t"
    }


def test_distance_to_the_edge_follows_the_shift():
    case = stop(plate=(200.0, 60.0))
    section = case.sections[0]
    for shift in (0.0, 20.0, -20.0):
        found = section_by_hand(case, section, (shift, 0.0))
        edge = limit_of(found, "hertz_half_width", "a/(distance to the plate's edge)")
        assert edge.value == close(A / (100 - abs(shift)))
