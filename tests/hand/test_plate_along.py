"""A plate under a load of finite length, against finite differences of the plate equation."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import splu

from contactfe.hand import plate_along, strip

SPAN, NU = 400.0, 0.3


def plate(length, offset, cells=40, reach=2.5):
    """Greatest Mz and Mx under a load of 1 N/mm on that length, by second-order differences.

    All four edges are supported, so D∇⁴w = q is Poisson's equation twice; the far ones are 2.5
    spans from the load's middle.
    """
    h = SPAN / cells
    n, m = cells - 1, 2 * int(reach * cells) - 1
    x = h * np.arange(1, n + 1) - SPAN / 2.0
    z = h * (np.arange(m) - (m - 1) / 2.0)

    def second(count):
        return diags([1.0, -2.0, 1.0], [-1, 0, 1], (count, count)) / h**2

    across = kron(second(n), identity(m))
    along = kron(identity(n), second(m))
    q = np.zeros((n, m))
    # What a node stands for that lies under the load, in part at its ends.
    covered = np.clip((length / 2.0 + h / 2.0 - np.abs(z)) / h, 0.0, 1.0)
    q[np.argmin(np.abs(x - offset))] = covered / h
    solve = splu((across + along).tocsc()).solve
    w = solve(solve(q.ravel()))
    Mz = -(along @ w + NU * (across @ w))
    Mx = -(across @ w + NU * (along @ w))
    return Mz.max(), Mx.max()


@pytest.mark.parametrize(("length", "offset"), [(100.0, 0.0), (400.0, 0.0), (300.0, 90.0)])
def test_even_load_against_finite_differences(length, offset):
    Mz, Mx = plate(length, offset)
    M = strip.supported_moment(1.0, SPAN, offset)
    found = plate_along.along_moment(M, length, SPAN, offset, NU)
    assert found == pytest.approx(Mz, rel=1e-3)  # of 40 cells
    assert Mx < M  # as the strip has it, on the safe side


def superposed(edges, loads, offset, z, x):
    """Mz at (x, z) of even pieces of a load between ``edges``, from the differential equation."""
    n = np.arange(1, 1500)
    a = n * np.pi / SPAN
    f = 2.0 / SPAN * np.sin(a * (SPAN / 2.0 + offset)) * np.sin(a * (SPAN / 2.0 + x))

    def integral(s):  # of (1 + a t) exp(−a t), even in t, and of its second derivative
        t = np.abs(s)
        return np.sign(s) * (2.0 / a - (2.0 / a + t) * np.exp(-a * t)), -a * a * s * np.exp(-a * t)

    total = 0.0
    for low, high, q in zip(edges, edges[1:], loads, strict=False):
        (W1, C1), (W0, C0) = integral(z - low), integral(z - high)
        total += q * float(np.sum(f * (NU * a**2 * (W1 - W0) - (C1 - C0)) / (4.0 * a**3)))
    return total


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from([0.0, 0.6, 1.0]), min_size=2, max_size=6),
    st.floats(0.2, 4.0),
    st.floats(-0.35, 0.35),
    st.floats(-0.5, 0.5),
    st.floats(-40.0, 40.0),
)
@example([1.0, 1.0], 1.1, 0.0, 0.0, 0.0)  # the bound itself
@example([0.0, 1.0, 0.0], 3.3, 0.2, 0.0, 0.0)
def test_no_sharing_bends_it_more(loads, length, offset, z, x):
    c, e = length * SPAN, offset * SPAN
    edges = np.linspace(-c / 2.0, c / 2.0, len(loads) + 1)
    M = strip.supported_moment(1.0, SPAN, e)
    bound = plate_along.along_moment(M, c, SPAN, e, NU)
    at = float(np.clip(e + x, -0.45 * SPAN, 0.45 * SPAN))
    assert superposed(edges, loads, e, z * c, at) <= bound * (1.0 + 1e-3)


def test_long_and_short():
    M = 100e3
    long = plate_along.share_along(40.0 * SPAN, SPAN, 50.0, NU)
    assert long == pytest.approx(NU, abs=1e-9)
    short = plate_along.share_along(0.02 * SPAN, SPAN, 0.0, NU)
    assert plate_along.along_moment(M, 0.02 * SPAN, SPAN, 0.0, NU) == pytest.approx(short * M)
    # The bound never falls as the contact grows, and never comes to the moment across.
    shares = [plate_along.greatest_share(c, SPAN, 0.0, NU) for c in (10.0, 100.0, 460.0, 4000.0)]
    assert shares == sorted(shares)
    assert shares[-1] < 0.35


def test_both_stresses():
    assert plate_along.von_mises(200.0, 60.0) == 200.0
    assert plate_along.von_mises(200.0, 230.0) == pytest.approx(
        np.sqrt(200.0**2 - 200.0 * 230.0 + 230.0**2)
    )
