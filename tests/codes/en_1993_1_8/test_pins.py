"""EN 1993-1-8, Table 3.10: bending with shear, and the partial factor."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_8


@given(st.floats(0.0, 1.5), st.floats(0.0, 1.5))
def test_bending_and_shear_share_a_circle(bent, sheared):
    M = en_1993_1_8.pin_bending(1.0, 50.0, 355.0).resistance.value
    V = en_1993_1_8.pin_shear(1.0, 50.0, 510.0).resistance.value
    found = en_1993_1_8.pin_bending_with_shear(bent * M, sheared * V, 50.0, 355.0, 510.0)
    assert found.ratio == pytest.approx(bent**2 + sheared**2, rel=1e-9, abs=1e-300)


def test_the_factor_is_in_the_resistance():
    given = en_1993_1_8.pin_shear(1.0, 50.0, 510.0, 1.1).resistance.given["gamma_M2"]
    assert (given.symbol, given.value) == ("γM2", 1.1)
