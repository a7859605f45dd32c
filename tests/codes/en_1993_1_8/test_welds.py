"""EN 1993-1-8, 4.5.3.3: scope and scale of the fillet weld."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_8
from contactfe.codes.en_1993_1_8.welds import weld_resistance


def test_what_is_just_in_scope_is_answered():
    for throat, correlation in ((3.0, 0.8), (3.0, 1.0)):
        assert en_1993_1_8.fillet_weld(1.0, throat, 470.0, correlation).satisfied is True


@given(st.floats(3.0, 30.0), st.floats(300.0, 600.0))
def test_twice_the_throat_carries_twice(throat, fu):
    one, two = (weld_resistance(k * throat, fu, 0.9) for k in (1.0, 2.0))
    assert two == pytest.approx(2 * one)
