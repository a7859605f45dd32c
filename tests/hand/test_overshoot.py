"""Forces on a bumper with dampers: limits, bounds, and what each form writes. The equation of
motion stands beside them in the tests of the impact."""

import math

import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import overshoot
from contactfe.hand.formula import OutOfRangeWarning

IMPACT = (700.0, 1e6, 500e3, 10.0)  # v, F0, k, m
IMPULSE = 700.0 * math.sqrt(500e3 * 10.0)
positive = st.floats(0.1, 1e4)


@pytest.mark.parametrize(
    "worked",
    [
        overshoot.linear_damper_peak.worked(*IMPACT),
        overshoot.linear_damper_peak.worked(700.0, 6e6, 500e3, 10.0),
        overshoot.damper_bound.worked(*IMPACT),
        overshoot.friction_peak.worked(*IMPACT, 0.05),
    ],
)
def test_forms_compute(worked):
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)


@given(positive, positive, positive, positive)
def test_order_of_the_forms(v, force, k, m):
    impact = (v, force, k, m)
    linear, friction, bound = (
        overshoot.linear_damper_peak(*impact),
        overshoot.friction_peak(*impact),
        overshoot.damper_bound(*impact),
    )
    assert force <= linear <= friction * (1 + 1e-12)
    assert friction <= bound * (1 + 1e-12)
    assert bound <= 2 * force + v * math.sqrt(k * m) * (1 + 1e-12)


def test_a_slight_damper_leaves_the_bumper_free():
    # v√(km), as of a mass on a spring, and the damper's force and share of it beside.
    peak = overshoot.linear_damper_peak(700.0, 1.0, 500e3, 10.0)
    assert peak == pytest.approx(IMPULSE, rel=1e-6)


def test_at_critical_damping_nothing_overshoots():
    # F0 = 2v√(km)
    for times in (1.0, 1.0 + 1e-9, 3.0):
        force = 2 * IMPULSE * times
        peak = overshoot.linear_damper_peak(700.0, force, 500e3, 10.0)
        assert peak == pytest.approx(force, rel=1e-12)
    just_below = 2 * IMPULSE * 0.98
    assert overshoot.linear_damper_peak(700.0, just_below, 500e3, 10.0) > just_below


def test_half_critical_damping_by_numbers():
    # ξ = 1/2: φ = π/3, exp(−(2π/3)/√3) = e^−1.2092 = 0.29844
    peak = overshoot.linear_damper_peak(700.0, IMPULSE, 500e3, 10.0)
    assert peak / IMPULSE == pytest.approx(1.29844, abs=1e-5)


@given(positive, positive, positive, positive)
def test_a_power_of_one_is_bounded_as_a_spring(v, force, k, m):
    bound = overshoot.power_damper_bound(v, force, m, 3 * k, 3.0, 1.0)
    assert bound == pytest.approx(overshoot.damper_bound(v, force, k, m), rel=1e-9)


@given(positive, positive, positive, positive, positive, st.floats(0.3, 3.0))
def test_the_bound_of_a_power_law_balances_its_work(v, force, m, at_force, at, n):
    F = overshoot.power_damper_bound(v, force, m, at_force, at, n)
    depth = at * (F / at_force) ** (1 / n)
    assert F * depth / (n + 1) == pytest.approx(force * depth + m * v**2 / 2, rel=1e-8)


def test_dampers_that_mind_velocity_are_out_of_the_range_of_friction():
    with pytest.warns(OutOfRangeWarning, match=r"α = 0\.4, at most 0\.1"):
        overshoot.friction_peak(*IMPACT, 0.4)
    assert overshoot.friction_peak.worked(*IMPACT, 0.1).within_range


@pytest.mark.parametrize(
    "form", [overshoot.linear_damper_peak, overshoot.damper_bound, overshoot.friction_peak]
)
@pytest.mark.parametrize("k", range(4))
def test_what_is_not_positive_is_refused(form, k):
    numbers = list(IMPACT)
    numbers[k] = 0.0
    with pytest.raises(ValueError, match="is not allowed"):
        form(*numbers)


@pytest.mark.parametrize(
    "name",
    [
        "velocity", "damper_force", "mass", "reference_force", "reference_penetration",
        "contact_exponent",
    ],
)  # fmt: skip
def test_power_bound_refuses_too(name):
    numbers = {
        "velocity": 700.0, "damper_force": 1e6, "mass": 10.0, "reference_force": 1e5,
        "reference_penetration": 1.0, "contact_exponent": 1.1,
    }  # fmt: skip
    with pytest.raises(ValueError, match=f"^{name} = 0.0 is not allowed"):
        overshoot.power_damper_bound(**numbers | {name: 0.0})
