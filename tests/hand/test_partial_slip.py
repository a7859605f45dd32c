"""Partial slip: the traction must stick in the middle, slip at the edges and carry the load."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import hertz, partial_slip, sliding
from contactfe.hand.formula import OutOfRangeWarning

share = st.floats(0.0, 1.0)


@pytest.mark.parametrize("mobilised", [0.02, 0.3, 0.75, 0.99])
def test_traction_carries_the_tangential_load(mobilised):
    a, p0, mu = 2.0, 700.0, 0.3
    c = partial_slip.stick_half_width(a, mobilised)
    total = 2 * sum(
        quad(partial_slip.traction, *piece, args=(a, p0, mu, mobilised))[0]
        for piece in ((0.0, c), (c, a))
    )
    # The square roots at c and a cost the quadrature some digits.
    assert total == pytest.approx(mobilised * mu * np.pi / 2 * a * p0, rel=1e-6)


@given(share, st.floats(-1.5, 1.5))
def test_edges_slip_and_the_middle_holds_with_less(mobilised, x):
    found = partial_slip.traction(x, 1.0, 1.0, 0.3, mobilised)
    limit = 0.3 * hertz.pressure(x, 1.0, 1.0)
    c = partial_slip.stick_half_width(1.0, mobilised)
    if abs(x) >= c:
        assert found == limit
    else:
        assert -1e-15 <= found < limit


@given(share, st.floats(-0.999, 0.999))
def test_where_it_sticks_the_traction_stretches_neither_body(mobilised, part):
    # Friction acts on the two bodies in opposite senses; not to slip, neither may stretch along x
    # there. On the surface the traction alone gives σz = 0, so it must give σx = 0 too.
    c = partial_slip.stick_half_width(1.0, mobilised)
    sx, _, _ = partial_slip.stress_field(part * c, 0.0, 1.0, 1.0, 0.3, mobilised)
    if c > 0:
        assert sx == pytest.approx(-hertz.pressure(part * c, 1.0, 1.0), abs=1e-12)


@given(share, st.floats(-3, 3))
def test_field_meets_the_traction(mobilised, x):
    _, sz, txz = partial_slip.stress_field(x, 0.0, 1.0, 1.0, 0.3, mobilised)
    assert sz == pytest.approx(-hertz.pressure(x, 1.0, 1.0), abs=1e-12)
    # Roots near the two edges turn rounding of 1e-16 into 1e-8.
    assert -txz == pytest.approx(partial_slip.traction(x, 1.0, 1.0, 0.3, mobilised), abs=1e-7)


@given(share)
def test_edge_stress_is_that_of_the_field(mobilised):
    sx, _, _ = partial_slip.stress_field(-1.0, 0.0, 1.0, 1.0, 0.3, mobilised)
    assert partial_slip.edge_stress(1.0, 0.3, mobilised) == pytest.approx(sx, abs=1e-7)


@given(st.floats(-3, 3), st.floats(0, 3))
def test_limits(x, z):
    np.testing.assert_array_equal(
        partial_slip.stress_field(x, z, 1.0, 1.0, 0.3, 1.0),
        sliding.stress_field(x, z, 1.0, 1.0, 0.3),
    )
    np.testing.assert_allclose(
        partial_slip.stress_field(x, z, 1.0, 1.0, 0.3, 0.0),
        hertz.stress_field(x, z, 1.0, 1.0),
        atol=1e-14,
    )


def test_mobilised_friction():
    assert partial_slip.mobilised_friction(1000.0, 0.0, 0.3) == 0.0
    assert partial_slip.mobilised_friction(1000.0, 75.0, 0.3) == pytest.approx(0.25)
    assert partial_slip.mobilised_friction(1000.0, 0.3 * 1000.0, 0.3) == 1.0


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: partial_slip.mobilised_friction(1000.0, 301.0, 0.3), "tangential_load = 301.0"),
        (lambda: partial_slip.mobilised_friction(1000.0, -1.0, 0.3), "tangential_load = -1.0"),
        (lambda: partial_slip.mobilised_friction(0.0, 0.0, 0.3), "line_load = 0.0"),
        (lambda: partial_slip.mobilised_friction(1.0, 0.0, 0.0), "friction = 0.0"),
        (lambda: partial_slip.stick_half_width(1.0, 1.1), "mobilised = 1.1"),
        (lambda: partial_slip.stick_half_width(0.0, 0.5), "half_width = 0.0"),
        (lambda: partial_slip.traction(0.0, 1.0, 1.0, -0.3, 0.5), "friction = -0.3"),
        (lambda: partial_slip.traction(0.0, 1.0, 1.0, 0.3, np.nan), "mobilised = nan"),
        (lambda: partial_slip.stress_field(0.0, -1.0, 1.0, 1.0, 0.3, 0.5), "z = -1.0"),
        (lambda: partial_slip.edge_stress(1.0, 0.3, -0.1), "mobilised = -0.1"),
        (lambda: partial_slip.edge_stress(-1.0, 0.3, 0.1), "peak_pressure = -1.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@pytest.mark.parametrize("part", [0.0, 0.3, 1.0])
def test_the_form_computes_to_the_value(part):
    for worked in (
        partial_slip.mobilised_friction.worked(1000.0, part * 250.0, 0.25),
        partial_slip.stick_half_width.worked(0.8, part),
        partial_slip.edge_stress.worked(700.0, 0.25, part),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)
        assert worked.within


def test_too_much_friction_is_marked():
    with pytest.warns(OutOfRangeWarning, match=r"µ = 1\.1, at most 1"):
        partial_slip.edge_stress(700.0, 1.1, 0.5)
    assert not partial_slip.mobilised_friction.worked(1000.0, 100.0, 1.1).within
