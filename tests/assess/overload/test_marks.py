"""How a dent is measured, and a plastic zone: of profiles and strains that are given."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.assess.overload.marks import Profile, _edge, _width

X = np.linspace(-5.0, 5.0, 401)


def test_a_straight_edge_lies_on_the_shoulders_of_a_dent():
    dent = -2.0 * np.exp(-(X**2)) + 0.3 * np.exp(-((np.abs(X) - 2.5) ** 2) / 0.2)
    below = _edge(X, dent) - dent
    shoulder = dent[np.abs(X) > 1.0].max()
    assert below.max() == pytest.approx(shoulder - dent.min(), rel=1e-12)
    between = np.abs(X) < 2.0
    assert np.ptp(_edge(X, dent)[between]) < 1e-12


@given(st.lists(st.floats(-1.0, 1.0), min_size=3, max_size=30), st.floats(-3, 3), st.floats(-1, 1))
def test_depth_does_not_change_as_the_body_moves_or_turns(heights, up, turn):
    x = np.arange(len(heights), dtype=float)
    y = np.array(heights)
    below, moved = _edge(x, y) - y, y + up + turn * x
    assert below.min() >= -1e-12
    np.testing.assert_allclose(_edge(x, moved) - moved, below, atol=1e-9)


def test_a_crown_is_no_dent():
    crown = 1.0 - X**2
    assert (_edge(X, crown) - crown).max() == pytest.approx(0.0, abs=1e-12)


def test_width_is_that_at_a_tenth_of_the_depth():
    """Of a parabola 1 − (x/2)² deep: 0.1 at x = ±2√0.9."""
    below = np.maximum(1.0 - (X / 2.0) ** 2, 0.0)
    assert _width(Profile(X, below)) == pytest.approx(4.0 * np.sqrt(0.9), rel=1e-3)


def test_no_dent_has_no_width():
    assert _width(Profile(X, np.zeros_like(X))) == 0.0
