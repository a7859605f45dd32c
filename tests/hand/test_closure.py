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
        (closure.damped_closure_velocity, (2.1, 450.0, 300.0, 0.1)),
        (closure.damping_energy, (8e3, 450.0, 300.0, 0.1)),
        (closure.damping_energy_first_order, (8e3, 450.0, 300.0, 0.1)),
        (closure.closure_energy, (8e3, 450.0, 300.0, 6e7)),
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


SHARES = st.floats(0.0, 0.999)
RATIOS = st.floats(0.01, 0.9)


class TestDampedIsolation:
    @given(share=SHARES, damping=RATIOS, more=st.floats(0.01, 0.09))
    def test_damping_raises_the_velocity(self, share, damping, more):
        gap = 450.0 * share
        less = closure.closure_velocity(2.0, 450.0, gap)
        v = closure.damped_closure_velocity(2.0, 450.0, gap, damping)
        assert less < v < closure.damped_closure_velocity(2.0, 450.0, gap, damping + more)
        assert closure.damped_closure_velocity(2.0, 450.0, gap, 0.0) == pytest.approx(less)

    @given(share=SHARES, damping=st.floats(0.0, 0.95))
    def test_the_energy_balances(self, share, damping):
        """M v²/2 = k (D² − g²)/2 + Ed of a unit mass, Ed found apart from v."""
        gap, k = 450.0 * share, 4.0
        v = closure.damped_closure_velocity(2.0, 450.0, gap, damping)
        taken = closure.damping_energy(k, 450.0, gap, damping)
        assert closure.closure_energy(k, 450.0, gap, taken) == pytest.approx(v**2 / 2, rel=1e-8)
        first = closure.damping_energy_first_order.plain(k, 450.0, gap, damping)
        assert first <= taken * (1 + 1e-7) + 1e-6  # rounding, next to no damping or no way
        if damping <= closure.LARGEST_FIRST_ORDER:
            assert first >= 0.91 * taken
            assert taken - first <= 0.03 * v**2 / 2

    @given(damping=RATIOS)
    def test_it_falls_to_zero_as_the_gap_nears_the_displacement(self, damping):
        assert closure.damped_closure_velocity(2.0, 450.0, 450.0, damping) == 0.0
        assert closure.damping_energy(4.0, 450.0, 450.0, damping) == 0.0
        near = closure.damped_closure_velocity(2.0, 450.0, 449.9, damping)
        assert near == pytest.approx(closure.closure_velocity(2.0, 450.0, 449.9), rel=0.03)

    @given(share=SHARES, damping=RATIOS, size=st.floats(0.1, 10.0), pace=st.floats(0.1, 10.0))
    def test_it_goes_by_length_and_frequency(self, share, damping, size, pace):
        one = closure.damped_closure_velocity(1.0, 1.0, share, damping)
        other = closure.damped_closure_velocity(pace, size, share * size, damping)
        assert other == pytest.approx(one * pace * size, rel=1e-6)

    def test_a_gap_that_stays_open_is_refused(self):
        for form in (closure.damped_closure_velocity, closure.damping_energy):
            with pytest.raises(ValueError, match="gap = 451"):
                form(2.0, 450.0, 451.0, 0.1)

    def test_the_first_order_says_where_its_range_ends(self):
        form = closure.damping_energy_first_order
        assert form.worked(4.0, 450.0, 300.0, 0.1).within_range
        assert not form.worked(4.0, 450.0, 300.0, 0.11).within_range
