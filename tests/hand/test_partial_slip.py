"""Partial slip: the traction must stick in the middle, slip at the edges and carry the load."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import hertz, partial_slip, sliding

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
    # there. The traction is that of full sliding less one of the same form on what sticks.
    c = partial_slip.stick_half_width(1.0, mobilised)
    if c > 0:
        full = sliding.friction_stress(part * c, 0.0, 1.0, 0.3)
        held = sliding.friction_stress(part * c, 0.0, c, 0.3 * c)
        assert full[0] - held[0] == pytest.approx(0.0, abs=1e-12)
        found = partial_slip.traction(part * c, 1.0, 1.0, 0.3, mobilised)
        assert held[2] - full[2] == pytest.approx(found, abs=1e-12)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: partial_slip.stick_half_width(1.0, 1.1), "mobilised = 1.1"),
        (lambda: partial_slip.stick_half_width(0.0, 0.5), "half_width = 0.0"),
        (lambda: partial_slip.traction(0.0, 1.0, 1.0, -0.3, 0.5), "friction = -0.3"),
        (lambda: partial_slip.traction(0.0, 1.0, 1.0, 0.3, np.nan), "mobilised = nan"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
