"""Section of the post by hand, a disc or a ring: what it comes to and where it does not hold.

Spot values are textbook expressions with the numbers of the case written in.
"""

import math

import pytest
from handcases import (
    CHANGE,
    DISC,
    HOOP,
    MINOR,
    SOLID,
    TUBE,
    close,
    limit_of,
    passed,
    steps,
    value,
)

from contactfe.hand import ring_deflection, thick_ring

# Values


@pytest.mark.parametrize(("held_by", "share"), [("diametral", 2.0), ("beam shear", 1.0)])
def test_disc_by_the_textbook(held_by, share):
    found = steps(held_by=held_by)
    across = share * 1500 / (math.pi * 150)
    assert value(found, "disc_centre_across") == close(across)
    assert value(found, "disc_centre_along") == close(-3 * across)
    # σz = ν(σx + σy) = −0.6 of the stress across: von Mises of 1, −3 and −0.6.
    measure = math.sqrt(((1 + 3) ** 2 + (-3 + 0.6) ** 2 + (-0.6 - 1) ** 2) / 2)
    assert value(found, "disc_centre_von_mises") == close(measure * across)


def test_diametral_tube_by_the_textbook():
    found = steps(TUBE, held_by="diametral", yield_strength=345.0)
    q, R, h = 1500.0, 62.5, 25.0
    e = R - h / math.log(75 / 50)
    assert value(found, "ring_eccentricity") == close(e)
    M = q * R / math.pi
    assert value(found, "ring_moment_under_load") == close(q * (R - e) / math.pi)
    assert value(found, "ring_moment_at_side") == close(q * (R - e) / math.pi - q * R / 2)
    assert value(found, "thin_ring_moment_under_load") == close(M)
    assert value(found, "thin_ring_moment_at_side") == close(M - q * R / 2)
    assert value(found, "ring_thrust_under_load") == 0.0
    assert value(found, "ring_thrust_at_side") == close(-q / 2)
    assert value(found, "thin_ring_bore_under_load") == close(6 * M / h**2)
    at_side = -q / 2 / h + 6 * (M - q * R / 2) / h**2
    assert value(found, "thin_ring_bore_at_side") == close(at_side)
    hoop = thick_ring.bore_hoop(q, 75.0, 50.0, 0.0, "diametral", 0.3, "plane strain")
    assert value(found, "ring_bore_under_load") == close(float(hoop))
    hoop = thick_ring.bore_hoop(q, 75.0, 50.0, math.pi / 2, "diametral", 0.3, "plane strain")
    assert value(found, "ring_bore_at_side") == close(float(hoop))
    change = ring_deflection.change_along.plain(
        q, 75.0, 25.0, 200e3, 0.3, "diametral", "plane strain"
    )
    assert value(found, "ring_change_along") == close(change)
    assert value(found, "ring_change_along") < 0.0 < value(found, "ring_change_across")
    Mp = 2 / math.sqrt(3) * 345 * h**2 / 4
    assert value(found, "ring_collapse_line_load") == close(8 * Mp / (2 * R))


def test_curved_beam_is_near_the_exact_series_within_its_range():
    for held_by in ("diametral", "beam shear"):
        found = steps((150.0, 20.0), held_by=held_by)
        exact = value(found, "ring_bore_under_load")
        # 10 % is what the curved beam's range is drawn at.
        assert value(found, "curved_beam_bore_under_load") == close(exact, 0.1)
        assert found.step("curved_beam_bore_under_load").worked.within_range


def test_minor_steps_are_the_resultants_that_lead_to_others():
    for held_by in ("beam shear", "diametral"):
        found = steps(TUBE, held_by=held_by, cantilever=(900.0,), friction=0.2)
        assert {step.key for step in found.steps if step.minor} == MINOR


# Two loads


def test_corner_sums_are_those_of_their_parts():
    checked = 0
    for section in (SOLID, TUBE):
        found = steps(section, corner=800.0)
        for step in found.steps:
            if step.key.endswith("_by_first"):
                key = step.key.removesuffix("_by_first")
                parts = step.worked.value + value(found, f"{key}_by_second")
                assert value(found, key) == close(parts)
                assert step.against is None  # a part alone is measured by nothing
                checked += 1
    assert checked == len(DISC) + len(HOOP)


def test_the_sum_of_both_loads_is_measured_by_the_strength_of_the_post():
    found = steps(TUBE, corner=800.0, yield_strength=345.0, plate_yield=275.0)
    assert {key: found.step(key).against for key in HOOP} == dict.fromkeys(HOOP, 345.0)
    solid = steps(corner=800.0)
    assert {solid.step(key).against for key in DISC} == {None}  # two parts of one stress state
    alone = steps(yield_strength=345.0, plate_yield=275.0)
    assert alone.step("disc_centre_von_mises").against == 345.0


def test_second_load_stands_at_the_side_of_the_first():
    q1, q2, R, h = 1500.0, 800.0, 62.5, 25.0
    found = steps(TUBE, corner=q2)

    def under(q):
        M = q * R * (1 / (2 * math.pi) + 1 / (4 * math.pi))
        return -q * 3 / (4 * math.pi) / h + 6 * M / h**2

    def side(q):
        return -q / 4 / h + 6 * q * R * (1 / (2 * math.pi) - 1 / 4) / h**2

    assert value(found, "thin_ring_bore_under_load_by_first") == close(under(q1))
    assert value(found, "thin_ring_bore_under_load_by_second") == close(side(q2))
    assert value(found, "thin_ring_bore_at_side_by_first") == close(side(q1))
    assert value(found, "thin_ring_bore_at_side_by_second") == close(under(q2))


def test_second_load_on_a_disc():
    found = steps(corner=800.0)
    q1, q2 = 1500 / (math.pi * 150), 800 / (math.pi * 150)
    assert value(found, "disc_centre_along") == close(-3 * q1 + q2)
    assert value(found, "disc_centre_across") == close(q1 - 3 * q2)


# Ranges


def test_a_thick_wall_is_no_thin_ring_and_then_no_curved_beam():
    for wall, thin, curved in ((6.5, True, True), (20.0, False, True), (40.0, False, False)):
        found = steps((150.0, wall), line_load=100.0)
        assert found.step("thin_ring_bore_under_load").worked.within_range == thin
        assert found.step("curved_beam_bore_under_load").worked.within_range == curved
        assert found.step("ring_bore_under_load").worked.within_range


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_ring_beyond_yield(share, out):
    at = thick_ring.bore_hoop(1.0, 75.0, 50.0, 0.0, "beam shear", 0.3, "plane strain")
    found = steps(TUBE, line_load=share * 345 / float(at), yield_strength=345.0)
    for key in ("ring_bore_under_load", *CHANGE - MINOR - {"ring_moment_under_load"}):
        assert limit_of(found, key, "σ/Y").value == close(share)
        assert ("σ/Y" in passed(found, key)) == out
    side = value(found, "ring_bore_at_side")
    assert limit_of(found, "ring_bore_at_side", "σ/Y").value == close(-side / 345)  # of either sign


def test_the_sum_of_both_loads_is_held_against_yield_and_not_its_parts():
    found = steps(TUBE, corner=800.0, yield_strength=345.0)
    for key in HOOP:
        assert limit_of(found, key, "σ/Y").value == close(abs(value(found, key)) / 345)
        for part in ("by_first", "by_second"):
            limits = found.step(f"{key}_{part}").worked.limits
            assert "σ/Y" not in {limit.what for limit in limits}


@pytest.mark.parametrize(("share", "out"), [(0.049, False), (0.051, True)])
def test_a_large_change_of_diameter(share, out):
    small = {"section": (150.0, 1.0), "held_by": "diametral", "line_load": 1.0}
    for key in ("ring_change_along", "ring_change_across"):
        q = share * 150 / abs(value(steps(**small), key))
        found = steps(**small | {"line_load": q})
        assert limit_of(found, key, "|ΔD|/D").value == close(share)
        assert ("|ΔD|/D" in passed(found, key)) == out


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_ring_that_is_crushed(share, out):
    # P0 = 8 Mp/(2R), Mp = 2/√3 Y h²/4.
    P0 = 8 * 2 / math.sqrt(3) * 345 * 6**2 / 4 / 144
    found = steps((150.0, 6.0), held_by="diametral", line_load=share * P0, yield_strength=345.0)
    assert limit_of(found, "ring_collapse_line_load", "q/P0").value == close(share)
    assert ("q/P0" in passed(found, "ring_collapse_line_load")) == out


def test_a_sum_carries_the_limits_of_its_parts():
    found = steps((150.0, 40.0), corner=800.0)
    assert passed(found, "thin_ring_bore_at_side") == {"h/R"}
