"""AASHTO LRFD 14.7.1.4 and EN 1337-4: scale, systems of units, partial factor."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aashto_lrfd, en_1337_4
from contactfe.codes.us import INCH, KIP_PER_INCH, KSI

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 690.0)


class TestAashto:
    @given(size, strength, st.floats(0.1, 10.0))
    def test_scale(self, one, fy, factor):
        line = [aashto_lrfd.cylinder_limit(k * one, fy) for k in (1.0, factor)]
        assert line[1] == pytest.approx(factor * line[0])

    def test_the_form_is_the_same_in_both_systems(self):
        """8·6·50²/29 000 kip/in, by hand."""
        found = aashto_lrfd.cylinder_limit(6 * INCH, 50 * KSI, 29e3 * KSI)
        assert found / KIP_PER_INCH == pytest.approx(8 * 6 * 50**2 / 29e3)


class TestEn1337:
    @given(size, strength, st.floats(0.1, 10.0))
    def test_scale(self, radius, fu, factor):
        line = [en_1337_4.roller_resistance(k * radius, fu) for k in (1.0, factor)]
        assert line[1] == pytest.approx(factor * line[0])

    @given(size, strength, st.floats(1.0, 2.0))
    def test_the_partial_factor_is_that_of_the_strength(self, radius, fu, gamma):
        resistance = en_1337_4.roller_resistance
        reduced = resistance(radius, fu, gamma_m=gamma)
        assert reduced == pytest.approx(resistance(radius, fu / gamma))


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
