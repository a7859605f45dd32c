"""AISC 360, F8 and F11: which form governs, and its bounds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.aisc_360.common import STEEL
from contactfe.codes.aisc_360.flexure import (
    compact_slenderness,
    plate_moment,
    solid_round_moment,
    thick_wall_moment,
)
from contactfe.hand import round_section

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 690.0)


@given(st.floats(0.02, 0.499), size, strength)
def test_local_buckling_only_takes_away(wall, diameter, fy):
    checked = aisc_360.round_hss_flexure(1.0, diameter, wall * diameter, fy)
    plastic = round_section.plastic_modulus(diameter, diameter * (1 - 2 * wall)) * fy
    strength = checked.resistance.value / 0.9
    assert strength <= plastic * (1 + 1e-12)
    first = round_section.elastic_modulus(diameter, diameter * (1 - 2 * wall)) * fy
    if 1 / wall <= 0.07 * STEEL / fy:
        assert strength == pytest.approx(min(plastic, 1.6 * first))


@given(st.floats(0.002, 0.4999), size, strength)
def test_a_tube_is_never_stronger_than_its_solid(wall, diameter, fy):
    hollow = aisc_360.round_hss_flexure(1.0, diameter, wall * diameter, fy)
    solid = aisc_360.solid_round_flexure(1.0, diameter, fy)
    assert hollow.resistance.value <= solid.resistance.value * (1 + 1e-12)


def test_the_bound_of_a_thick_wall_is_a_step_of_its_own():
    """A bore of 0.2 of the diameter: by Fy Z alone 173 kNm, beside 165 kNm of the solid."""
    checked = aisc_360.round_hss_flexure(1.0, 150.0, 60.0, 345.0)
    assert checked.steps[-1].formula == "aisc_360.flexure.thick_wall_moment"
    assert "F11-2" in checked.steps[-1].source
    assert checked.resistance.value == pytest.approx(0.9 * checked.steps[-1].value)
    assert 0.9 * checked.steps[-3].value == pytest.approx(173e6, rel=0.005)


@pytest.mark.parametrize(("bore", "bounded"), [(0.46, True), (0.48, False)])
def test_a_wall_is_thick_below_a_bore_of_0_47(bore, bounded):
    checked = aisc_360.round_hss_flexure(1.0, 100.0, 50.0 * (1 - bore), 345.0)
    assert (checked.steps[-1].formula == thick_wall_moment.key) is bounded


@pytest.mark.parametrize("wall", [60.0, 10.0, 3.0, 1.0])
def test_the_design_wall_is_the_first_step_and_counts_in_all_that_follows(wall):
    first, *others = aisc_360.round_hss_flexure(1.0, 150.0, wall, 345.0, design_share=0.93).steps
    assert (first.formula, first.symbol, first.value) == (
        "aisc_360.common.design_wall", "t", pytest.approx(0.93 * wall),
    )  # fmt: skip
    assert others == list(aisc_360.round_hss_flexure(1.0, 150.0, first.value, 345.0).steps)


def test_the_whole_wall_counts_by_default():
    assert aisc_360.round_hss_flexure(1.0, 150.0, 10.0, 345.0).steps[0].symbol == "D/t"


def test_the_nominal_wall_must_fit():
    with pytest.raises(ValueError, match=r"wall = 80\.0 is not allowed"):
        aisc_360.round_hss_flexure(1.0, 150.0, 80.0, 345.0, design_share=0.9)


@pytest.mark.parametrize(
    ("wall", "key"),
    [
        (10.0, "aisc_360.flexure.plastic_moment"),
        (5.0, "aisc_360.flexure.noncompact_moment"),
        (1.3, "aisc_360.flexure.slender_moment"),
    ],
)
def test_the_wall_picks_the_form(wall, key):
    checked = aisc_360.round_hss_flexure(1.0, 250.0, wall, 345.0)
    assert checked.steps[-1].formula == key


def test_a_barely_noncompact_wall_still_reaches_the_plastic_moment():
    """At λp eq. F8-2 gives 1.30 Fy S; Z/S is 1.29 there at 200 MPa, where D/t is 70."""
    wall = 500.0 / (compact_slenderness(200.0) * 1.001)
    checked = aisc_360.round_hss_flexure(1.0, 500.0, wall, 200.0)
    plastic = round_section.plastic_modulus(500.0, 500.0 - 2 * wall) * 200.0
    assert checked.steps[-1].formula == "aisc_360.flexure.noncompact_moment"
    assert checked.resistance.value == pytest.approx(0.9 * plastic)
    assert checked.resistance.symbol == "φMp"


@pytest.mark.parametrize(("factor", "within"), [(0.999, True), (1.001, False)])
def test_the_clause_ends_at_0_45_of_modulus_over_strength(factor, within):
    wall = 500.0 * 345.0 / (factor * 0.45 * 200e3)
    assert aisc_360.round_hss_flexure(1.0, 500.0, wall, 345.0).within_scope is within


@given(size, strength)
def test_a_solid_round_is_bounded_by_1_6_of_first_yield(diameter, fy):
    checked = aisc_360.solid_round_flexure(1.0, diameter, fy)
    first = fy * round_section.elastic_modulus(diameter)
    assert checked.resistance.value == pytest.approx(0.9 * 1.6 * first)


def test_the_plastic_moment_counts_where_it_is_less():
    assert solid_round_moment(1500.0, 1000.0, 345.0) == 1500.0 * 345.0


def test_a_plate_is_1_5_of_first_yield():
    assert plate_moment(40.0, 345.0) == pytest.approx(1.5 * 345.0 * 40.0**2 / 6)
