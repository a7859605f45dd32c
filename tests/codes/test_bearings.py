"""AASHTO LRFD 14.7.1.4 and EN 1337-4: scale, units, and what is not stated."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aashto_lrfd, en_1337_4
from contactfe.hand.quantities import INCH, KIP_PER_INCH, KSI

size = st.floats(10.0, 2000.0)
strength = st.floats(200.0, 690.0)


@given(size, strength, st.floats(0.1, 10.0))
def test_scale(size, strength, factor):
    for limit in (aashto_lrfd.cylinder_limit, en_1337_4.roller_resistance):
        assert limit(factor * size, strength) == pytest.approx(factor * limit(size, strength))


def test_the_form_is_the_same_in_both_systems():
    """8·6·50²/29 000 kip/in, by hand."""
    found = aashto_lrfd.cylinder_limit(6 * INCH, 50 * KSI, 29e3 * KSI)
    assert found / KIP_PER_INCH == pytest.approx(8 * 6 * 50**2 / 29e3)


@given(size, strength, st.floats(1.0, 2.0))
def test_the_partial_factor_is_that_of_the_strength(radius, fu, gamma):
    assert en_1337_4.roller_resistance(radius, fu, gamma_m=gamma) == pytest.approx(
        en_1337_4.roller_resistance(radius, fu / gamma)
    )


ROLLER = {"other_strength": 450.0, "yield_strength": 345.0, "length": 300.0}


@pytest.mark.parametrize("left_out", ROLLER)
def test_what_is_not_stated_of_a_roller_leaves_no_verdict(left_out):
    stated = en_1337_4.roller(1.0, 75.0, 450.0, **ROLLER)
    assert stated.satisfied is True
    some = en_1337_4.roller(1.0, 75.0, 450.0, **{**ROLLER, left_out: None})
    assert (some.satisfied, some.ratio) == (None, stated.ratio)


def test_the_weaker_part_counts_whichever_is_named_first():
    one, other = (
        en_1337_4.roller(1.0, 75.0, *fu, yield_strength=345.0, length=300.0)
        for fu in ((450.0, 470.0), (470.0, 450.0))
    )
    assert one == other
    assert one.resistance.given["tensile_strength"].value == 450.0
