"""Velocity at closure: harmonic motion."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import closure

positive = st.floats(0.1, 1e4)


class TestVelocity:
    @given(positive, positive, st.floats(0.0, 1.0))
    def test_is_that_of_the_motion_where_it_reaches_the_gap(self, omega, amplitude, part):
        t = np.arcsin(part) / omega
        v = closure.closure_velocity(omega, amplitude, part * amplitude)
        assert v == pytest.approx(
            omega * amplitude * np.cos(omega * t), abs=1e-7 * omega * amplitude
        )
        assert v <= closure.pseudo_velocity(omega, amplitude) * (1 + 1e-12)

    def test_period(self):
        omega = closure.circular_frequency(3.0)
        assert np.cos(omega * 3.0) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (closure.circular_frequency, (3.0,)),
        (closure.closure_velocity, (2.1, 450.0, 300.0)),
        (closure.pseudo_velocity, (2.1, 450.0)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: closure.circular_frequency(0.0), "period = 0.0"),
        (lambda: closure.closure_velocity(2.0, 300.0, 301.0), "gap = 301.0.*never closes"),
        (lambda: closure.closure_velocity(2.0, 300.0, -1.0), "gap = -1.0"),
        (lambda: closure.closure_velocity(0.0, 300.0, 1.0), "frequency = 0.0"),
        (lambda: closure.pseudo_velocity(2.0, 0.0), "amplitude = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
