"""AASHTO LRFD 14.7.1.4, EN 1337-4 and -6: scale, sign of the second curvature, ratios."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aashto_lrfd, en_1337_4, en_1337_6
from contactfe.codes.us import INCH, KIP_PER_INCH, KSI
from contactfe.hand import hertz
from contactfe.hand.formula import OutOfRangeWarning

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 690.0)


class TestAashto:
    @given(size, size)
    def test_two_rollers_meet_as_hertz_has_it(self, one, other):
        D = aashto_lrfd.effective_diameter(one, -other)
        assert pytest.approx(D) == 2 * float(hertz.relative_radius(one / 2, other / 2))

    @given(size, st.floats(1.2, 50.0))
    def test_a_socket_carries_more_than_a_flat_and_a_roller_less(self, one, factor):
        flat = aashto_lrfd.cylinder(1.0, one, 345.0).resistance.value
        assert aashto_lrfd.cylinder(1.0, one, 345.0, factor * one).resistance.value > flat
        assert aashto_lrfd.cylinder(1.0, one, 345.0, -factor * one).resistance.value < flat

    @given(size)
    def test_a_wide_socket_is_a_flat(self, one):
        wide = aashto_lrfd.sphere(1.0, one, 345.0, 1e9 * one)
        assert wide.ratio == pytest.approx(aashto_lrfd.sphere(1.0, one, 345.0).ratio, rel=1e-8)

    @given(size, strength, st.floats(0.1, 10.0))
    def test_scale(self, one, fy, factor):
        line = [aashto_lrfd.cylinder_limit(k * one, fy) for k in (1.0, factor)]
        point = [aashto_lrfd.sphere_limit(k * one, fy) for k in (1.0, factor)]
        assert line[1] == pytest.approx(factor * line[0])
        assert point[1] == pytest.approx(factor**2 * point[0])

    def test_the_form_is_the_same_in_both_systems(self):
        """8·6·50²/29 000 kip/in, by hand."""
        found = aashto_lrfd.cylinder_limit(6 * INCH, 50 * KSI, 29e3 * KSI)
        assert found / KIP_PER_INCH == pytest.approx(8 * 6 * 50**2 / 29e3)

    @pytest.mark.parametrize("mating", [0.0, 99.0, 100.0, math.inf, math.nan])
    def test_a_socket_must_be_larger(self, mating):
        with pytest.raises(ValueError, match="mating_diameter = "):
            aashto_lrfd.cylinder(1.0, 100.0, 345.0, mating)

    def test_a_close_socket_warns(self):
        with pytest.warns(OutOfRangeWarning, match="D/D1 = 11"):
            aashto_lrfd.effective_diameter(100.0, 110.0)


class TestEn1337:
    @given(size, strength, st.floats(0.1, 10.0))
    def test_scale(self, radius, fu, factor):
        line = [en_1337_4.roller_resistance(k * radius, fu) for k in (1.0, factor)]
        point = [en_1337_6.point_resistance(k * radius, fu) for k in (1.0, factor)]
        assert line[1] == pytest.approx(factor * line[0])
        assert point[1] == pytest.approx(factor**2 * point[0])

    @given(size, strength, st.floats(1.0, 2.0))
    def test_the_partial_factor_is_that_of_the_strength(self, radius, fu, gamma):
        for resistance in (en_1337_4.roller_resistance, en_1337_6.point_resistance):
            assert resistance(radius, fu, gamma_m=gamma) == pytest.approx(
                resistance(radius, fu / gamma)
            )


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"length": 0.0}, "length = 0.0"),
        ({"strengths": (450.0, 0.0)}, "tensile_strength"),
        ({"yield_strength": -1.0}, "yield_strength = -1.0"),
        ({"radius": 0.0}, "radius = 0.0"),
    ],
)
def test_the_scope_of_a_roller_takes_no_impossible_numbers(change, what):
    keys = {"radius": 75.0, "length": 300.0, "strengths": (450.0, 450.0), "yield_strength": 345.0}
    assert not any(limit.exceeded for limit in en_1337_4.roller_scope(**keys))
    with pytest.raises(ValueError, match=what):
        en_1337_4.roller_scope(**{**keys, **change})
