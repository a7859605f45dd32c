"""What friction does to a strip: statics, and a beam with a couple by the unit-load method."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import strip, strip_friction

L, T, Q, MU = 400.0, 50.0, 1000.0, 0.3
C = MU * Q * T / 2
place = st.floats(-0.45 * L, 0.45 * L)
ratio = st.sampled_from([0.0, 0.05, 1.0])


def beside(offset, clamped, phi):
    """Moments of a unit couple just left and right of the load, and at both edges.

    Of Timoshenko's beam with M = Ms + R s, and 1 more beyond the load. Clamped ends neither turn,
    ∫ M ds = 0, nor deflect, ∫ M s ds + Φ L² R L/12 = 0; Simpson's rule is exact on either side.
    """
    at = L / 2 + offset
    basis = [np.ones_like, lambda s: s, lambda s: 1.0 * (s > at)]

    def integral(f):
        total = 0.0
        for low, high in ((0.0, at), (at, L)):
            middle = (low + high) / 2
            s = np.array([np.nextafter(low, L), middle, np.nextafter(high, 0.0)])
            total += (high - low) / 6 * f(s) @ [1, 4, 1]
        return total

    start = force = 0.0
    if clamped:
        turn = [integral(f) for f in basis]
        bend = [integral(lambda s, f=f: f(s) * s) for f in basis]
        bend[1] += phi * L**3 / 12
        matrix = [[turn[0], turn[1]], [bend[0], bend[1]]]
        start, force = np.linalg.solve(matrix, [-turn[2], -bend[2]])
    else:
        force = -1.0 / L
    return np.array([start + force * at, start + force * at + 1, start, start + force * L + 1])


@given(place)
def test_beside_the_load_between_supported_edges(e):
    left, right, *_ = np.abs(beside(e, False, 0.0))
    found = strip_friction.supported_moment(C, L, e)
    assert found == pytest.approx(C * max(left, right), rel=1e-4)


@given(place, ratio)
def test_beside_the_load_between_clamped_edges(e, phi):
    # Friction either way: the couple adds on the right of the load, or on its left.
    left, right, *_ = np.abs(beside(e, True, phi))
    found = strip_friction.clamped_moment(C, L, e, phi)
    assert found == pytest.approx(C * max(left, right), rel=1e-4)


@given(place, ratio)
def test_at_the_nearer_clamped_edge(e, phi):
    *_, start, end = np.abs(beside(e, True, phi))
    nearer = end if e >= 0.0 else start
    found = strip_friction.edge_moment(C, L, e, phi)
    assert found == pytest.approx(-C * nearer, rel=1e-4, abs=1e-4 * C)


@given(st.floats(0.0, 1.0), st.floats(-100.0, 100.0), ratio)
def test_the_nearer_edge_governs_in_the_range_of_the_strip(mu, e, phi):
    """L/t ≥ 4 and two thicknesses from the edge; at the far edge the couple may add more."""
    couple, t = mu * Q * L / 8, L / 4
    *_, start, end = np.abs(beside(e, True, phi))
    *_, m_start, m_end = strip.reactions(Q, L, e, "clamped", phi)
    axial = [mu * Q * (L / 2 - side * e) / L for side in (1, -1)]
    totals = [
        6 * (abs(m) + couple * c) / t**2 + n / t
        for m, c, n in ((m_start, start, axial[0]), (m_end, end, axial[1]))
    ]
    moment = strip.edge_moment(Q, L, e, phi) + strip_friction.edge_moment(couple, L, e, phi)
    force = strip_friction.clamped_axial_force(Q, mu, L, e)
    found = -6 * moment / t**2 + force / t
    assert found == pytest.approx(max(totals), rel=1e-3)


def test_in_the_middle_by_hand():
    """The couple adds 1.5 µq/t to the stress, and the axial force a third of that."""
    couple = strip_friction.couple(Q, MU, T)
    assert couple == pytest.approx(MU * Q * T / 2)
    moment = strip_friction.supported_moment(couple, L, 0.0)
    assert moment == pytest.approx(couple / 2)
    assert strip_friction.clamped_moment(couple, L, 0.0, 0.0) == pytest.approx(couple / 2)
    assert strip_friction.edge_moment(couple, L, 0.0, 0.0) == pytest.approx(-couple / 4)
    axial = strip_friction.shared_axial_force(Q, MU)
    assert axial == pytest.approx(MU * Q / 2)
    assert strip_friction.clamped_axial_force(Q, MU, L, 0.0) == pytest.approx(axial)
    assert strip_friction.friction_stress(moment, axial, T) == pytest.approx(2 * MU * Q / T)
    assert strip_friction.friction_stress(moment, 0.0, T) == pytest.approx(1.5 * MU * Q / T)


def test_clamped_edges_share_by_their_distances():
    # A bar held at both ends: the force at three quarters of it.
    assert strip_friction.clamped_axial_force(Q, MU, L, 100.0) == pytest.approx(0.75 * MU * Q)
    assert strip_friction.clamped_axial_force(Q, MU, L, -100.0) == pytest.approx(0.75 * MU * Q)


@given(place, ratio)
def test_the_written_form_gives_the_number(e, phi):
    for worked in (
        strip_friction.couple.worked(Q, MU, T),
        strip_friction.supported_moment.worked(C, L, e),
        strip_friction.clamped_moment.worked(C, L, e, phi),
        strip_friction.edge_moment.worked(C, L, e, phi),
        strip_friction.shared_axial_force.worked(Q, MU),
        strip_friction.clamped_axial_force.worked(Q, MU, L, e),
        strip_friction.friction_stress.worked(-1e3, -20.0, T),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
        assert worked.source


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: strip_friction.couple(Q, -0.1, T), "friction = -0.1"),
        (lambda: strip_friction.couple(Q, MU, 0.0), "thickness = 0.0"),
        (lambda: strip_friction.supported_moment(-1.0, L, 0.0), "couple = -1.0"),
        (lambda: strip_friction.supported_moment(C, L, 200.0), "offset = 200.0"),
        (lambda: strip_friction.clamped_moment(C, L, 0.0, -1.0), "shear_ratio = -1.0"),
        (lambda: strip_friction.edge_moment(C, 0.0, 0.0, 0.0), "span = 0.0"),
        (lambda: strip_friction.shared_axial_force(-1.0, MU), "line_load = -1.0"),
        (lambda: strip_friction.clamped_axial_force(Q, np.nan, L, 0.0), "friction = nan"),
        (lambda: strip_friction.friction_stress(C, 1.0, 0.0), "thickness = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
