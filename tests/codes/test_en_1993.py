"""EN 1993-1-1 and -1-8: the yield criterion, classes, shear, pins and the limit of a flat."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1, en_1993_1_8
from contactfe.hand import cantilever, stress

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 460.0)
any_stress = st.floats(-500.0, 500.0)


class TestYield:
    @given(any_stress, any_stress, any_stress, strength)
    def test_it_is_the_square_of_von_mises_over_strength(self, x, z, t, fy):
        """Of the plane stress tensor, by its deviator."""
        tensor = np.array([[x, t, 0.0], [t, z, 0.0], [0.0, 0.0, 0.0]])
        deviator = tensor - np.trace(tensor) / 3 * np.eye(3)
        squared = 1.5 * np.sum(deviator**2) / fy**2
        found = en_1993_1_1.yield_at_a_point(x, z, t, fy)
        assert found.ratio == pytest.approx(squared, rel=1e-9, abs=1e-12)

    def test_the_general_form_agrees_with_that_of_the_clause(self):
        sigma = float(stress.von_mises(200.0, -100.0, 50.0, 0.3, "plane stress"))
        one = en_1993_1_1.equivalent_stress(sigma, 355.0, 1.1)
        two = en_1993_1_1.yield_at_a_point(200.0, -100.0, 50.0, 355.0, 1.1)
        assert one.ratio**2 == pytest.approx(two.ratio)


class TestBending:
    @pytest.mark.parametrize(
        ("slenderness", "of_class"),
        [(10.0, 1), (49.9, 1), (50.1, 2), (69.9, 2), (70.1, 3), (89.9, 3), (90.1, 4)],
    )
    def test_classes_of_s235_are_bounded_by_50_70_and_90(self, slenderness, of_class):
        assert en_1993_1_1.tube_class(500.0, 500.0 / slenderness, 235.0) == of_class

    @pytest.mark.parametrize("fy", [235.0, 355.0, 460.0])
    @pytest.mark.parametrize(("bound", "of_class"), [(50.0, 1), (70.0, 2), (90.0, 3)])
    def test_more_strength_needs_a_stockier_wall(self, fy, bound, of_class):
        """The bounds on D/t go with 235/fy."""
        for factor, found in ((0.999, of_class), (1.001, of_class + 1)):
            wall = 500.0 * fy / (factor * bound * 235.0)
            assert en_1993_1_1.tube_class(500.0, wall, fy) == found
            assert en_1993_1_1.bending(1.0, 500.0, fy, wall).within is (found <= 3)

    @pytest.mark.parametrize(
        ("wall", "modulus", "within"),
        [
            (25.0, cantilever.plastic_modulus, True),
            (500.0 / 65, cantilever.plastic_modulus, True),
            (500.0 / 80, cantilever.elastic_modulus, True),
            (500.0 / 100, cantilever.elastic_modulus, False),
        ],
    )
    def test_the_class_picks_the_modulus(self, wall, modulus, within):
        checked = en_1993_1_1.bending(1.0, 500.0, 235.0, wall)
        assert checked.resistance.value == pytest.approx(235.0 * modulus(500.0, 500.0 - 2 * wall))
        assert checked.within is within

    @given(size, strength)
    def test_a_solid_round_is_plastic_and_the_limit_of_a_thick_tube(self, diameter, fy):
        solid = en_1993_1_1.bending(1.0, diameter, fy).resistance.value
        assert solid == pytest.approx(fy * diameter**3 / 6)
        thick = en_1993_1_1.bending(1.0, diameter, fy, 0.499 * diameter).resistance.value
        assert thick == pytest.approx(solid, rel=1e-7)


class TestShear:
    @given(size, strength)
    def test_a_solid_round_reaches_its_strength_at_three_quarters_of_the_area(self, diameter, fy):
        area = math.pi * diameter**2 / 4
        checked = en_1993_1_1.solid_shear(0.75 * area * fy / math.sqrt(3), diameter, fy)
        assert checked.ratio == pytest.approx(1.0)

    @given(size, strength, st.floats(0.0, 0.5))
    def test_half_the_shear_resistance_costs_no_moment(self, diameter, fy, share):
        for wall in (None, 0.1 * diameter):
            free = en_1993_1_1.bending(1.0, diameter, fy, wall).resistance.value
            whole = en_1993_1_1.bending_with_shear(1.0, 0.0, diameter, fy, wall).steps[-2].value
            found = en_1993_1_1.bending_with_shear(1.0, share * whole, diameter, fy, wall)
            assert found.resistance.value == pytest.approx(free)

    def test_above_half_it_costs_and_at_the_whole_all(self):
        whole = en_1993_1_1.tube_shear(1.0, 219.1, 10.0, 355.0).resistance.value
        ratios = [
            en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0).ratio
            for share in (0.5, 0.7, 0.9)
        ]
        assert ratios == sorted(set(ratios))
        for share in (1.0, 1.5):
            spent = en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0)
            assert spent.ratio > 1e6
            assert spent.satisfied is False

    def test_a_solid_post_longer_than_its_diameter_keeps_its_moment(self):
        """At the plastic moment its shear is then below half the elastic resistance."""
        plastic = 355.0 * 150.0**3 / 6
        found = en_1993_1_1.bending_with_shear(plastic, plastic / 150.0, 150.0, 355.0)
        assert found.steps[-1].value == 0.0
        assert found.ratio == pytest.approx(1.0)

    def test_the_elastic_resistance_is_named_so(self):
        assert en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0).steps[-2].symbol == "Vel,Rd"
        tube = en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0, 20.0)
        assert tube.steps[-2].symbol == "Vpl,Rd"

    def test_a_negative_shear_is_refused(self):
        with pytest.raises(ValueError, match=r"shear = -1\.0 is not allowed"):
            en_1993_1_1.bending_with_shear(1.0, -1.0, 150.0, 355.0)


class TestPins:
    def test_a_hole_smaller_than_its_pin_is_refused(self):
        with pytest.raises(ValueError, match=r"hole_diameter = 49\.0 is not allowed"):
            en_1993_1_8.pin_contact(1e5, 30.0, 50.0, 49.0, 355.0)

    def test_a_hole_without_clearance_has_no_contact_stress(self):
        assert en_1993_1_8.pin_contact(1e5, 30.0, 50.0, 50.0, 355.0).ratio == 0.0

    @given(st.floats(100.0, 1e4), size)
    def test_a_flat_is_a_hole_that_grows(self, line_load, diameter):
        """With d d0 for the clause's d², as its Hertz origin has it."""
        hole = 1e8 * diameter
        socket = en_1993_1_8.pin_contact_stress(line_load, 1.0, diameter, hole)
        flat = en_1993_1_8.flat_contact_stress(line_load, diameter)
        assert socket * math.sqrt(diameter / hole) == pytest.approx(flat, rel=1e-7)

    @given(st.floats(0.0, 1.5), st.floats(0.0, 1.5))
    def test_bending_and_shear_share_a_circle(self, bent, sheared):
        M = en_1993_1_8.pin_bending(1.0, 50.0, 355.0).resistance.value
        V = en_1993_1_8.pin_shear(1.0, 50.0, 510.0).resistance.value
        found = en_1993_1_8.pin_bending_with_shear(bent * M, sheared * V, 50.0, 355.0, 510.0)
        assert found.ratio == pytest.approx(bent**2 + sheared**2, rel=1e-9, abs=1e-300)

    def test_the_factor_is_in_the_resistance(self):
        given = en_1993_1_8.pin_shear(1.0, 50.0, 510.0, 1.1).resistance.given["gamma_M2"]
        assert (given.symbol, given.value) == ("γM2", 1.1)


class TestWeld:
    def test_what_is_just_in_scope_is_answered(self):
        for throat, correlation in ((3.0, 0.8), (3.0, 1.0)):
            assert en_1993_1_8.fillet_weld(1.0, throat, 470.0, correlation).satisfied is True

    @given(st.floats(3.0, 30.0), st.floats(300.0, 600.0))
    def test_twice_the_throat_carries_twice(self, throat, fu):
        one, two = (en_1993_1_8.weld_resistance(k * throat, fu, 0.9) for k in (1.0, 2.0))
        assert two == pytest.approx(2 * one)
