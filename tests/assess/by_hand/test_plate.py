"""Plate by hand, a layer or a strip: what it comes to and where it does not hold.

Spot values are textbook expressions with the numbers of the case written in.
"""

import numpy as np
import pytest
from handcases import CLAMPED, LENGTH, close, limit_of, passed, steps, stop, value

from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import by_hand_checks
from contactfe.hand import plate_along

# Values


def test_plate_between_edges_by_the_textbook():
    found = steps(offset=30.0, plate_held="simply supported")
    q, L, t, a, b = 1500.0, 400.0, 60.0, 230.0, 170.0
    D = 200e3 * t**3 / (12 * 0.91)
    S = 5 / 6 * 200e3 / 2.6 * t
    assert value(found, "strip_bending_stiffness") == close(D)
    assert value(found, "strip_shear_stiffness") == close(S)
    M = q * a * b / L
    assert value(found, "strip_moment") == close(M)
    bent = q * a**2 * b**2 / (3 * D * L) + q * a * b / (S * L)
    assert value(found, "strip_deflection") == close(bent)
    local = 0.26138 * q / t  # derived in hand/strip.py
    assert value(found, "strip_back_stress") == close(6 * M / t**2 - local)


def test_plate_along_the_post_between_supported_edges_alone():
    """Of the plate's own ν, over the contact; σz joins σx of the back in the yield of both."""
    held = {"cantilever": (900.0, None, None), "plate_held": "simply supported"}
    found = steps(**held)
    q, L, t = 1500.0, 400.0, 60.0
    Mz = q * L / 4 * float(plate_along.share_along(LENGTH, L, 0.0, 0.3))
    assert value(found, "strip_along_moment") == close(Mz)
    assert value(found, "strip_along_stress") == close(6 * Mz / t**2)
    across = value(found, "strip_back_stress")
    assert value(found, "strip_along_von_mises") == close(across)  # the greater of the two
    (check,) = [c for c in by_hand_checks(stop(**held), found) if "strip_along" in c.key]
    assert (check.kind, check.limit_state, check.body) == ("hand", "plate bending", "plate")
    assert check.demand == close(across)
    for other in (
        {"plate_held": "clamped"},
        {"plate_held": "elastic supports", "spring": 2000.0},
        {"friction": 0.2},
        {"cantilever": None},
    ):
        found = steps(**held | other)
        assert not [step for step in found.steps if "strip_along" in step.key]
        assert len([why for why in found.left_out if "plate along the post" in why]) == 1
    assert not any("plate along" in why for why in steps(**held).left_out)


def test_clamped_plate_by_the_textbook():
    found = steps(plate_held="clamped")
    q, L, t = 1500.0, 400.0, 60.0
    D, S = value(found, "strip_bending_stiffness"), value(found, "strip_shear_stiffness")
    assert value(found, "strip_moment") == close(q * L / 8)
    assert abs(value(found, "strip_edge_moment")) == close(q * L / 8)
    assert abs(value(found, "strip_edge_stress")) == close(6 * q * L / 8 / t**2)
    assert value(found, "strip_deflection") == close(q * L**3 / (192 * D) + q * L / (4 * S))


def test_clamped_plate_struck_off_its_middle_by_turning_its_edges_back():
    found = steps(offset=80.0, plate_held="clamped")
    q, L, a, b = 1500.0, 400.0, 280.0, 120.0
    D, S = value(found, "strip_bending_stiffness"), value(found, "strip_shear_stiffness")
    # Turns of the free edges under the load and under moments, of a strip that yields in shear:
    # Timoshenko's beam, derived here.
    turns = [q * a * b * (L + b) / (6 * D * L), q * a * b * (L + a) / (6 * D * L)]
    near, far = L / (3 * D) + 1 / (S * L), L / (6 * D) - 1 / (S * L)
    at_a, at_b = np.linalg.solve([[near, far], [far, near]], turns)
    assert abs(value(found, "strip_edge_moment")) == close(at_b)  # the nearer edge
    moment = q * a * b / L - (at_a * b + at_b * a) / L
    assert value(found, "strip_moment") == close(moment)


def test_plate_on_elastic_supports_by_the_textbook():
    found = steps(offset=20.0, plate_held="elastic supports", spring=2000.0)
    fixed = steps(offset=20.0, plate_held="simply supported")
    q, L, a, b = 1500.0, 400.0, 220.0, 180.0
    moved = q * (a**2 + b**2) / (2000.0 * L**2)  # each edge gives way by its share of the load
    assert value(found, "strip_settlement") == close(moved)
    bent = value(fixed, "strip_deflection")
    assert value(found, "strip_bending_deflection") == close(bent)
    assert value(found, "strip_deflection") == close(bent + moved)
    assert value(found, "strip_moment") == close(value(fixed, "strip_moment"))


def test_layer_by_its_coefficients():
    found = steps()
    # Coefficients of the exact field of a layer, derived in hand/layer.py.
    assert value(found, "layer_base_pressure") == close(0.91949 * 1500 / 60)
    assert value(found, "layer_back_stress") == close(0.24868 * 1500 / 60)


# Ranges


def test_limits_of_the_second_plate_are_of_its_own_patch():
    for plate_held, key in (
        ("simply supported", "strip_moment"),
        ("rigid base", "layer_back_stress"),
    ):
        found = steps(corner=800.0, plate_held=plate_held)
        for end in ("", "_second"):
            limit = limit_of(found, f"{key}{end}", "a/t")
            assert limit.value == close(value(found, f"hertz_half_width{end}") / 60)


def test_layer_limits_follow_the_shift():
    case = stop(plate=(200.0, 60.0))
    section = case.sections[0]
    for shift in (0.0, 20.0):
        found = section_by_hand(case, section, (shift, 0.0)).step("layer_back_stress").worked
        limit = next(limit for limit in found.limits if "edge" in limit.what)
        assert limit.value == close((100 - shift) / 60)


@pytest.mark.parametrize(("share", "out"), [(0.99, False), (1.01, True)])
def test_a_plate_beyond_yield(share, out):
    # At the back 6M/t² − 0.26138 q/t with M = qL/4 between edges, qL/8 where they are clamped.
    back = share * 275 / (6 * 100 / 60**2 - 0.26138 / 60)
    found = steps(plate_held="simply supported", line_load=back, plate_yield=275.0)
    assert limit_of(found, "strip_back_stress", "σ/Y").value == close(share)
    assert ("σ/Y" in passed(found, "strip_back_stress")) == out
    # Once more at the edge, without what the load takes off at the back.
    edge = share * 275 / (6 * 50 / 60**2)
    found = steps(plate_held="clamped", line_load=edge, plate_yield=275.0)
    for key in ("strip_back_stress", "strip_edge_moment", "strip_edge_stress"):
        assert limit_of(found, key, "σ/Y at the edge").value == close(share)
        assert passed(found, key) == ({"σ/Y at the edge"} if out else set())


def test_a_stocky_strip_a_slender_one_and_a_wide_patch():
    assert "L/t" in passed(
        steps(plate_held="simply supported", plate=(230.0, 60.0)), "strip_moment"
    )
    soft = steps(plate_held="simply supported", plate=(800.0, 12.0), line_load=100.0)
    assert "w/t" in passed(soft, "strip_deflection")
    assert "a/t" in passed(
        steps(plate_held="simply supported", plate=(400.0, 11.0)), "strip_back_stress"
    )


def test_every_figure_of_a_clamped_strip_has_the_limits_of_the_strip():
    found = steps(plate_held="clamped", plate=(230.0, 60.0))
    for key in CLAMPED - {"strip_bending_stiffness", "strip_shear_stiffness"}:
        assert "L/t" in passed(found, key), key


@pytest.mark.parametrize("held", ["simply supported", "clamped"])
def test_slope_of_a_strip_is_that_at_the_load(held):
    q, a, b, L, t = 100.0, 300.0, 100.0, 400.0, 10.0
    D = 200e3 * t**3 / 12 / 0.91
    # Textbook of beams, without shear, which adds 12D/(S L²), less than 1 % of it at L/t = 40.
    simple, fixed = q * a * b * (a - b) / (3 * D * L), q * a**2 * b**2 * (a - b) / (2 * D * L**3)
    found = steps(plate_held=held, plate=(L, t), line_load=q, offset=100.0)
    limit = limit_of(found, "strip_moment", "slope")
    assert limit.value == close(simple if held == "simply supported" else fixed, 1e-2)


def test_a_deflection_on_elastic_supports_has_the_limits_of_the_strip_and_its_settlement_none():
    found = steps(plate_held="elastic supports", spring=2000.0, plate=(230.0, 60.0))
    for key in ("strip_deflection", "strip_bending_deflection"):
        assert "L/t" in passed(found, key), key
        assert "w/t" in {limit.what for limit in found.step(key).worked.limits}, key
    assert passed(found, "strip_settlement") == set()


def test_movement_on_elastic_supports_does_not_strain_the_strip():
    found = steps(plate_held="elastic supports", spring=4.0, line_load=300.0)
    assert value(found, "strip_settlement") > 0.5 * 60
    assert found.step("strip_back_stress").worked.within_range
