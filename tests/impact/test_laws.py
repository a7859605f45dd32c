"""Laws of a contact: force, work, and the dashpots."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.impact.laws import (
    Contact,
    InProportion,
    LinearDashpot,
    PowerLaw,
    PressedIn,
    Spring,
)

sizes = st.floats(1e-3, 1e3)


@given(sizes, sizes)
def test_a_power_of_one_is_a_spring(k, approach):
    law = PowerLaw(2.0 * k, 2.0, 1.0)
    assert law.force(approach) == pytest.approx(Spring(k).force(approach), rel=1e-12)
    assert law.stored(approach) == pytest.approx(Spring(k).stored(approach), rel=1e-12)


@given(sizes, st.floats(0.5, 3.0))
def test_work_is_the_integral_of_the_force(approach, n):
    law = PowerLaw(5.0, 2.0, n)
    work, _ = quad(law.force, 0.0, approach, epsabs=0.0, epsrel=1e-9)
    assert law.stored(approach) == pytest.approx(work, rel=1e-8)


@pytest.mark.parametrize("law", [Spring(4.0), PowerLaw(5.0, 2.0, 1.5)])
def test_a_law_is_odd_and_takes_arrays(law):
    approaches = np.array([-1.5, 0.0, 0.5, 1.5, 4.0])
    forces = law.force(approaches)
    assert forces == pytest.approx([law.force(float(approach)) for approach in approaches])
    assert forces[0] == -forces[3]
    assert forces[1] == 0.0


def test_dashpots():
    elastic = PowerLaw(8.0, 1.0, 1.5)
    assert Contact(elastic).force(1.0, 5.0, 10.0) == 8.0
    assert Contact(elastic, LinearDashpot(0.5)).force(1.0, -5.0, 10.0) == 8.0 - 2.5
    for rate in (5.0, -5.0):
        both_ways = Contact(elastic, InProportion(0.4)).force(1.0, rate, 10.0)
        assert both_ways == pytest.approx(8.0 * (1.0 + 0.4 * rate / 10.0))
    # 2ξ√(β√δ m) δ' with β = 8, δ = 16, m = 2: 0.6·√(64)·5
    pressed = Contact(elastic, PressedIn(0.3, 8.0, 2.0))
    assert pressed.force(16.0, 5.0, 10.0) == pytest.approx(8.0 * 64.0 + 0.6 * 8.0 * 5.0)
    assert pressed.force(16.0, -5.0, 10.0) == pytest.approx(8.0 * 64.0)
    assert Contact(elastic, LinearDashpot(0.5)).damped
    assert not Contact(elastic).damped
