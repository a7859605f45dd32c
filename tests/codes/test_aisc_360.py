"""AISC 360: factors, bands and the cases of each clause."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.us import INCH, KSI
from contactfe.hand import cantilever
from contactfe.hand.formula import OutOfRangeWarning

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 690.0)


def nominal(checked):
    return checked.steps[-1]


@pytest.mark.parametrize(
    ("checked", "phi", "omega"),
    [
        (lambda method: aisc_360.finished_surface(1.0, 1e3, 345.0, method), 0.75, 2.0),
        (lambda method: aisc_360.roller(1.0, 150.0, 345.0, method), 0.75, 2.0),
        (lambda method: aisc_360.round_hss_flexure(1.0, 150.0, 20.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.solid_round_flexure(1.0, 150.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.plate_flexure(1.0, 40.0, 345.0, method), 0.9, 1.67),
        (
            lambda method: aisc_360.round_hss_shear(1.0, 150.0, 20.0, 500.0, 345.0, method),
            0.9,
            1.67,
        ),
        (lambda method: aisc_360.solid_round_shear(1.0, 150.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.fillet_weld(1.0, 480.0, method), 0.75, 2.0),
    ],
)
def test_the_factor_stands_in_the_resistance_as_its_own(checked, phi, omega):
    design, allowable = checked("LRFD"), checked("ASD")
    assert design.resistance.given["factor"].symbol == "φ"
    assert design.resistance.given["factor"].value == phi
    assert allowable.resistance.given["factor"].symbol == "Ω"
    assert allowable.resistance.given["factor"].value == omega
    assert design.resistance.value == pytest.approx(phi * nominal(design).value)
    assert allowable.resistance.value == pytest.approx(nominal(design).value / omega)
    assert design.resistance.symbol.startswith("φ")
    assert allowable.resistance.symbol.endswith("/Ω")


@pytest.mark.parametrize("method", ["lrfd", "", "LSD"])
def test_an_unknown_method_is_refused(method):
    with pytest.raises(ValueError, match=r"method = .* must be 'LRFD' or 'ASD'"):
        aisc_360.roller(1.0, 150.0, 345.0, method)


def test_the_largest_strength_listed_is_in_scope():
    assert aisc_360.finished_surface(1.0, 1e3, 690.0).satisfied is True


class TestRoller:
    def test_unknown_units_are_refused(self):
        with pytest.raises(ValueError, match="units = 'US' is not allowed"):
            aisc_360.roller(1.0, 150.0, 345.0, units="US")

    @pytest.mark.parametrize(
        ("units", "diameter", "key"),
        [
            ("SI", 630.0, "aisc_360.roller_strength"),
            ("SI", 630.1, "aisc_360.large_roller_strength"),
            ("US customary", 25 * INCH, "aisc_360.roller_strength_us"),
            ("US customary", 25.01 * INCH, "aisc_360.large_roller_strength_us"),
        ],
    )
    def test_the_diameter_picks_the_band(self, units, diameter, key):
        checked = aisc_360.roller(1.0, diameter, 345.0, units=units)
        assert nominal(checked).key == key
        assert nominal(checked).units == units
        assert checked.within

    @pytest.mark.parametrize(
        ("formula", "diameter"),
        [
            (aisc_360.roller_strength, 631.0),
            (aisc_360.large_roller_strength, 629.0),
            (aisc_360.roller_strength_us, 636.0),
            (aisc_360.large_roller_strength_us, 634.0),
        ],
    )
    def test_a_formula_used_beyond_its_band_warns(self, formula, diameter):
        with pytest.warns(OutOfRangeWarning, match="d = "):
            formula(diameter, 345.0)

    @given(size, strength)
    def test_both_systems_agree_but_for_rounding(self, diameter, fy):
        """90 MPa for 13 ksi, 630 mm for 25 in and 30.2 for 6.0 are rounded: 0.3 % and 0.4 MPa."""
        si = nominal(aisc_360.roller(1.0, diameter, fy)).value
        us = nominal(aisc_360.roller(1.0, diameter, fy, units="US customary")).value
        assert si == pytest.approx(us, rel=0.003 + 0.4 / (fy - 90))

    def test_no_strength_is_no_answer(self):
        checked = aisc_360.roller(1.0, 150.0, 60.0)
        assert checked.ratio == math.inf
        assert checked.satisfied is None

    def test_thirteen_ksi_is_where_the_us_form_ends(self):
        assert aisc_360.roller_strength_us(150.0, 13 * KSI) == pytest.approx(0.0, abs=1e-9)


class TestBending:
    @given(st.floats(0.02, 0.499), size, strength)
    def test_local_buckling_only_takes_away(self, wall, diameter, fy):
        checked = aisc_360.round_hss_flexure(1.0, diameter, wall * diameter, fy)
        plastic = cantilever.plastic_modulus(diameter, diameter * (1 - 2 * wall)) * fy
        strength = checked.resistance.value / 0.9
        assert strength <= plastic * (1 + 1e-12)
        if 1 / wall <= 0.07 * aisc_360.STEEL / fy:
            assert strength == pytest.approx(plastic)

    @pytest.mark.parametrize(
        ("wall", "key"),
        [
            (10.0, "aisc_360.plastic_moment"),
            (5.0, "aisc_360.noncompact_moment"),
            (1.3, "aisc_360.slender_moment"),
        ],
    )
    def test_the_wall_picks_the_form(self, wall, key):
        checked = aisc_360.round_hss_flexure(1.0, 250.0, wall, 345.0)
        assert nominal(checked).key == key

    def test_a_barely_noncompact_wall_still_reaches_the_plastic_moment(self):
        """At λp eq. F8-2 gives 1.30 Fy S; Z/S is 1.29 there at 200 MPa, where D/t is 70."""
        wall = 500.0 / (aisc_360.compact_slenderness(200.0) * 1.001)
        checked = aisc_360.round_hss_flexure(1.0, 500.0, wall, 200.0)
        plastic = cantilever.plastic_modulus(500.0, 500.0 - 2 * wall) * 200.0
        assert nominal(checked).key == "aisc_360.noncompact_moment"
        assert checked.resistance.value == pytest.approx(0.9 * plastic)
        assert checked.resistance.symbol == "φMp"

    @pytest.mark.parametrize(("factor", "within"), [(0.999, True), (1.001, False)])
    def test_the_clause_ends_at_0_45_of_modulus_over_strength(self, factor, within):
        wall = 500.0 * 345.0 / (factor * 0.45 * 200e3)
        assert aisc_360.round_hss_flexure(1.0, 500.0, wall, 345.0).within is within

    @given(size, strength)
    def test_a_solid_round_is_bounded_by_1_6_of_first_yield(self, diameter, fy):
        checked = aisc_360.solid_round_flexure(1.0, diameter, fy)
        first = fy * cantilever.elastic_modulus(diameter)
        assert checked.resistance.value == pytest.approx(0.9 * 1.6 * first)

    def test_the_plastic_moment_counts_where_it_is_less(self):
        assert aisc_360.solid_round_moment(1500.0, 1000.0, 345.0) == 1500.0 * 345.0

    def test_a_plate_is_1_5_of_first_yield(self):
        assert aisc_360.plate_moment(40.0, 345.0) == pytest.approx(1.5 * 345.0 * 40.0**2 / 6)


class TestShear:
    @given(st.floats(1e-3, 0.499), st.floats(0.5, 100.0), strength)
    def test_never_above_0_6_fy(self, wall, length, fy):
        checked = aisc_360.round_hss_shear(1.0, 200.0, 200.0 * wall, 200.0 * length, fy)
        A, *_, critical, strength = checked.steps
        assert critical.value <= 0.6 * fy * (1 + 1e-12)
        assert strength.value == pytest.approx(critical.value * A.value / 2)

    def test_the_larger_buckling_stress_counts(self):
        """A long tube is governed by the form without length."""
        long = aisc_360.round_hss_shear(1.0, 200.0, 0.8, 200e3, 690.0)
        short = aisc_360.round_hss_shear(1.0, 200.0, 0.8, 800.0, 690.0)
        assert long.steps[3].value == pytest.approx(0.78 * 200e3 / 250**1.5)
        assert short.steps[3].value == pytest.approx(1.60 * 200e3 / (2 * 250**1.25))

    @given(st.floats(0.01, 0.49), size)
    def test_by_the_same_measure_a_solid_is_stronger_than_its_tube(self, wall, diameter):
        tube = aisc_360.round_hss_shear(1.0, diameter, wall * diameter, diameter, 345.0)
        solid = aisc_360.solid_round_shear(1.0, diameter, 345.0)
        assert tube.resistance.value < solid.resistance.value


class TestWeld:
    @given(st.floats(0.0, math.pi / 2))
    def test_across_the_axis_a_weld_is_up_to_half_stronger(self, angle):
        assert 1.0 <= aisc_360.directional_factor(angle) <= 1.5

    @pytest.mark.parametrize("angle", [-0.1, 1.6, math.nan])
    def test_other_angles_are_refused(self, angle):
        with pytest.raises(ValueError, match="angle = "):
            aisc_360.fillet_weld(1.0, 480.0, angle=angle)

    def test_without_an_angle_nothing_is_added(self):
        assert aisc_360.fillet_weld(1.0, 480.0).resistance.value == pytest.approx(0.75 * 0.6 * 480)
