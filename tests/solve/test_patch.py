import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.solve.lines import shape
from contactfe.solve.mortar import couple
from contactfe.solve.patch import between, extent, runs

PER_HALF_WIDTH = 8


def even_line(reach=1.7, per=PER_HALF_WIDTH, shift=0.0):
    """Nodes and their weights on a line for a patch of half-width 1, vertices ``shift`` off."""
    corners = np.linspace(-reach, reach, round(2 * reach * per) + 1) + shift
    x = np.sort(np.concatenate([corners, (corners[:-1] + corners[1:]) / 2]))
    k = 2 * np.arange(len(corners) - 1)
    edges = np.stack([k, k + 2, k + 1])
    return x, couple(x, edges, x, edges, lambda s: 0.0 * s).weight


def skewed(x, centre, half_width, skew, bulge):
    """p = (1 + skew s + bulge s²) √(1 − s²), s from the middle in half-widths."""
    s = (x - centre) / half_width
    return (1.0 + skew * s + bulge * s**2) * np.sqrt(np.maximum(1.0 - s**2, 0.0))


def as_solved(x, weight, pressure):
    """Nodal pressures as the contact gives them: each the mean of the curve under its function."""
    points, weights = np.polynomial.legendre.leggauss(24)
    force = np.zeros_like(x)
    for k in range(0, len(x) - 2, 2):
        half = (x[k + 2] - x[k]) / 2.0
        phi = shape(points)[[0, 2, 1]]  # in order of x
        force[k : k + 3] += phi @ (weights * half * pressure(x[k + 1] + half * points))
    return force / weight


@settings(deadline=None)
@given(
    st.floats(-0.05, 0.05), st.floats(0.9, 1.1), st.floats(-0.3, 0.3), st.floats(-0.2, 0.2),
    st.floats(-0.06, 0.06),
)  # fmt: skip
def test_extent_of_known_pressures(centre, half_width, skew, bulge, shift):
    # On evenly sized edges, an eighth of the half-width long. Means under a function differ from
    # values by the curvature; measured 0.2 % at most, in either figure.
    x, weight = even_line(shift=shift)
    p = as_solved(x, weight, lambda s: skewed(s, centre, half_width, skew, bulge))
    found = extent(x, p, weight)
    assert found == pytest.approx((centre, half_width), abs=3e-3)
    assert found[0] == pytest.approx(centre, abs=3e-3)


def test_extent_scales_and_shifts_with_the_line():
    x, weight = even_line()
    p = skewed(x, 0.02, 1.03, 0.1, 0.05)
    centre, half_width = extent(x, p, weight)
    moved = extent(7.0 + 3.0 * x, 50.0 * p, 3.0 * weight)
    assert moved == pytest.approx((7.0 + 3.0 * centre, 3.0 * half_width), rel=1e-9)


@pytest.mark.parametrize("nodes", [1, 2, 4])
def test_a_patch_of_few_nodes_reaches_to_its_outermost(nodes):
    x, weight = even_line()
    p = np.zeros_like(x)
    p[20 : 20 + nodes] = 1.0
    assert extent(x, p, weight) == pytest.approx(
        ((x[20] + x[19 + nodes]) / 2.0, (x[19 + nodes] - x[20]) / 2.0)
    )


def test_a_pressure_that_peaks_at_its_edges_reaches_to_its_outermost_nodes():
    # As under a flat punch: no root at the edges, so the fit has no such pressure to find.
    x, weight = even_line()
    p = np.where(np.abs(x) < 1.0 + 1e-9, 1.0 / np.sqrt(np.maximum(1.02 - x**2, 0.01)), 0.0)
    assert extent(x, p, weight) == pytest.approx((0.0, x[p > 0.0].max()), abs=1e-9)


def test_between_is_quadratic_on_each_edge_and_nothing_beyond():
    x, _ = even_line()
    values = 2.0 - 3.0 * x + 0.5 * x**2
    at = np.linspace(x[0], x[-1], 101)
    assert between(x, values, at) == pytest.approx(2.0 - 3.0 * at + 0.5 * at**2, abs=1e-12)
    assert between(x, values, np.array([x[0] - 1e-6, x[-1] + 1e-6])) == pytest.approx([0.0, 0.0])


def parts(regime, half_width=1.0):
    x = np.linspace(-1.0, 1.0, len(regime))
    return [(of, round(a, 6), round(b, 6)) for of, a, b in runs(x, np.array(regime), half_width)]


def test_parts_of_a_patch_from_left_to_right():
    assert parts([2] * 5 + [1] * 11 + [2] * 5) == [(2, -1, -0.6), (1, -0.5, 0.5), (2, 0.6, 1)]
    assert parts([1] * 21) == [(1, -1, 1)]


@pytest.mark.parametrize("at", [0, 30, 50, 100])
def test_a_single_node_that_reaches_the_bound_is_no_part_of_its_own(at):
    regime = [1] * 101  # nodes 0.02 apart, and parts of 0.06 count
    regime[at] = 2
    assert parts(regime) == [(1, -1, 1)]
    regime[30:36] = [2] * 6
    assert [of for of, _, _ in parts(regime)] == [1, 2, 1]


def test_speckles_side_by_side_leave_what_is_wide():
    regime = [2] * 40 + [1, 2, 1, 2] + [1] * 57
    assert [of for of, _, _ in parts(regime)] == [2, 1]
