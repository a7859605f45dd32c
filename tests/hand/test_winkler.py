"""Plate on a bed that gives way: the beam's equation, free ends, and the exact elastic strip."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_bvp

from contactfe.hand import strip, winkler

Q, T, K = 1000.0, 50.0, 100.0
D = strip.bending_stiffness(T, 200e3, 0.3, "plane strain")
ELL = winkler.characteristic_length(D, K)
lengths = st.floats(10.0, 1e3)


def bent(span):
    """Half a plate with a free end at span/2 on a bed that pulls, by the beam's equation alone.

    Lengths over ℓ, w over q/(kℓ): w'''' + 4w = 0, no turn and half the load at 0.
    """

    def change(_, y):
        return np.array([y[1], y[2], y[3], -4 * y[0]])

    def ends(a, b):
        return np.array([a[1], a[3] - 2.0, b[2], b[3]])

    x = np.linspace(0.0, span / 2, 41)
    found = solve_bvp(change, ends, x, np.ones((4, x.size)), tol=1e-9)
    assert found.success
    return found.sol


class TestLong:
    @given(lengths, lengths, st.floats(1.0, 1e4))
    def test_pressure_is_bedding_times_deflection(self, q, ell, k):
        for bed in ("bonded", "loose"):
            w = winkler.deflection_under_load(q, ell, k, bed)
            assert winkler.bed_pressure(q, ell, bed) == pytest.approx(k * w)

    def test_the_bed_carries_the_load(self):
        half = quad(lambda x: K * winkler.deflection(x, Q, ELL, K), 0, 30 * ELL, limit=200)[0]
        assert 2 * half == pytest.approx(Q)

    def test_moment_is_the_curvature(self):
        x, h = np.linspace(0.1, 4.0, 40) * ELL, 1e-3 * ELL
        near = [winkler.deflection(x + i * h, Q, ELL, K) for i in (-1, 0, 1)]
        curvature = (near[0] - 2 * near[1] + near[2]) / h**2
        # h² over 12 of the fourth derivative, which is 4 w/ℓ⁴.
        np.testing.assert_allclose(
            -D * curvature, winkler.moment(x, Q, ELL), atol=1e-5 * Q * ELL / 4
        )

    def test_fields_meet_the_peaks(self):
        assert winkler.moment(0.0, Q, ELL) == winkler.moment_under_load(Q, ELL, "bonded")
        w = winkler.deflection_under_load(Q, ELL, K, "bonded")
        assert winkler.deflection(0.0, Q, ELL, K) == pytest.approx(w)

    def test_extremes_beyond_the_load(self):
        x = np.linspace(0, 10, 10001) * ELL
        M = winkler.moment(x, Q, ELL) / winkler.moment(0.0, Q, ELL)
        w = winkler.deflection(x, Q, ELL, K) / winkler.deflection(0.0, Q, ELL, K)
        assert M.min() == pytest.approx(-0.208, abs=5e-4)
        assert w.min() == pytest.approx(-0.0432, abs=5e-5)


class TestFinite:
    @pytest.mark.parametrize("u", [0.5, 2.0, np.pi, 5.0, 2 * np.pi])
    def test_is_the_solution_of_the_beam(self, u):
        w, _, curvature, _ = bent(u)(0.0)
        span = u * ELL
        deflection = winkler.finite_deflection(Q, span, ELL, K)
        assert deflection == pytest.approx(w * Q / (K * ELL), rel=1e-6)
        moment = winkler.finite_moment(Q, span, ELL)
        assert moment == pytest.approx(-curvature * Q * ELL / 4, rel=1e-6)

    def test_a_loose_plate_lets_go_where_the_pressure_ends(self):
        assert bent(np.pi)(np.pi / 2)[0] == pytest.approx(0.0, abs=1e-7)
        span = np.pi * ELL
        moment = winkler.moment_under_load(Q, ELL, "loose")
        assert moment == pytest.approx(winkler.finite_moment(Q, span, ELL))
        w = winkler.deflection_under_load(Q, ELL, K, "loose")
        assert w == pytest.approx(winkler.finite_deflection(Q, span, ELL, K))

    def test_short_and_long(self):
        assert winkler.finite_moment(Q, 0.1 * ELL, ELL) == pytest.approx(Q * ELL / 80, rel=1e-5)
        rigid = winkler.finite_deflection(Q, 0.1 * ELL, ELL, K)
        assert rigid == pytest.approx(Q / (K * 0.1 * ELL), rel=1e-5)
        assert winkler.finite_moment(Q, 2e3 * ELL, ELL) == pytest.approx(Q * ELL / 4)
        long = winkler.finite_deflection(Q, 2e3 * ELL, ELL, K)
        assert long == pytest.approx(Q / (2 * K * ELL))

    @given(st.floats(0.01, 50.0))
    def test_no_length_bends_more_than_a_loose_plate(self, u):
        most = winkler.moment_under_load(Q, ELL, "loose")
        assert winkler.finite_moment(Q, u * ELL, ELL) <= most * (1 + 1e-12)

    def test_a_reach_of_pi_counts_as_long(self):
        span = 2 * np.pi * ELL
        M = winkler.finite_moment(Q, span, ELL) / winkler.moment_under_load(Q, ELL, "bonded")
        w = winkler.finite_deflection(Q, span, ELL, K)
        w /= winkler.deflection_under_load(Q, ELL, K, "bonded")
        assert (M, w) == (pytest.approx(0.996, abs=5e-4), pytest.approx(1.011, abs=5e-4))


def on_a_bed(k, bedding, young, poisson):
    """Back stress and deflection over pressure for cos kx on a plate of thickness 1, plane stress.

    From the stress function f(y) cos kx as in the test of the strip; the back meets a bed that
    gives way by −σy/bedding, without shear. y runs down from the impacted face.
    """

    def at(y):
        a, b, u = np.exp(-k * y), np.exp(k * (y - 1)), 1 - y
        f = np.array([a, y * a, b, u * b])
        d1 = np.array([-k * a, (1 - k * y) * a, k * b, (k * u - 1) * b])
        d2 = np.array([k * k * a, (k * k * y - 2 * k) * a, k * k * b, (k * k * u - 2 * k) * b])
        d3 = k * k * np.array([-k * a, (3 - k * y) * a, k * b, (k * u - 3) * b])
        return f, d1, d2, d3

    (top, dtop, _, _), (back, d1, d2, d3) = at(0.0), at(1.0)
    # u = (f'' + νk²f)/(Ek) sin kx from εx, and v = V cos kx from the shear strain.
    V = ((d3 + poisson * k * k * d1) / k - 2 * (1 + poisson) * k * d1) / (young * k)
    rows = [-k * k * top, dtop, -k * k * back + bedding * V, d1]
    c = np.linalg.solve(rows, [-1.0, 0.0, 0.0, 0.0])
    return d2 @ c, V @ c


def integral(part):
    return sum(quad(part, a, b, limit=200)[0] for a, b in ((1e-3, 0.3), (0.3, 3), (3, 50))) / np.pi


@pytest.mark.parametrize("poisson", [0.0, 0.3, 3 / 7])  # 3/7 stands for 0.3 in plane strain
@pytest.mark.parametrize(
    ("ell", "stress", "bend"),
    [(1.0, (0.14, 0.19), (0.06, 0.075)), (2.0, (0.04, 0.05), (0.03, 0.05))],
)
def test_exact_strip_on_a_bed(poisson, ell, stress, bend):
    """What thinness_limits states of ℓ = t and ℓ = 2t: the beam stretches the back more, and
    gives way less."""
    bedding = 4 / (12 * ell**4)
    back = integral(lambda k: on_a_bed(k, bedding, 1.0, poisson)[0])
    M = winkler.moment_under_load(1.0, ell, "bonded")
    excess = strip.back_stress(M, 1.0, 1.0) / back - 1
    w = integral(lambda k: on_a_bed(k, bedding, 1.0, poisson)[1])
    short = w / winkler.deflection_under_load(1.0, ell, bedding, "bonded") - 1
    assert stress[0] < excess < stress[1]
    assert bend[0] < short < bend[1]


WORKED = [
    (winkler.characteristic_length, (D, K)),
    (winkler.characteristic_length, (7e6, 3.5)),
    (winkler.moment_under_load, (Q, ELL, "bonded")),
    (winkler.moment_under_load, (300.0, 77.0, "loose")),
    (winkler.deflection_under_load, (Q, ELL, K, "bonded")),
    (winkler.deflection_under_load, (300.0, 77.0, 12.0, "loose")),
    (winkler.bed_pressure, (Q, ELL, "bonded")),
    (winkler.bed_pressure, (300.0, 77.0, "loose")),
    (winkler.finite_moment, (Q, 400.0, ELL)),
    (winkler.finite_moment, (300.0, 900.0, 77.0)),
    (winkler.finite_deflection, (Q, 400.0, ELL, K)),
    (winkler.finite_deflection, (300.0, 900.0, 77.0, 12.0)),
]


@pytest.mark.parametrize(("formula", "arguments"), WORKED)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


def test_limits_mark():
    def passed(limits):
        return [limit.exceeded for limit in limits]

    assert passed(winkler.reach_limits(3.15 * ELL, ELL, "bonded")) == [False]
    assert passed(winkler.reach_limits(3.13 * ELL, ELL, "bonded")) == [True]
    assert passed(winkler.reach_limits(1.58 * ELL, ELL, "loose")) == [False]
    assert passed(winkler.reach_limits(1.56 * ELL, ELL, "loose")) == [True]
    assert passed(winkler.thinness_limits(T, 2.01 * T)) == [False]
    assert passed(winkler.thinness_limits(T, 1.99 * T)) == [True]


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: winkler.characteristic_length(0.0, K), "bending_stiffness = 0.0"),
        (lambda: winkler.characteristic_length(D, -1.0), "bedding = -1.0"),
        (lambda: winkler.moment_under_load(-1.0, ELL, "bonded"), "line_load = -1.0"),
        (lambda: winkler.moment_under_load(Q, 0.0, "bonded"), "characteristic_length = 0.0"),
        (lambda: winkler.moment_under_load(Q, ELL, "glued"), "bed = 'glued'"),
        (lambda: winkler.deflection_under_load(Q, ELL, 0.0, "loose"), "bedding = 0.0"),
        (lambda: winkler.deflection_under_load(Q, ELL, K, "glued"), "'bonded', 'loose'"),
        (lambda: winkler.deflection_under_load(-1.0, ELL, K, "loose"), "line_load = -1.0"),
        (lambda: winkler.bed_pressure(Q, ELL, "glued"), "bed = 'glued'"),
        (lambda: winkler.bed_pressure(-1.0, ELL, "loose"), "line_load = -1.0"),
        (lambda: winkler.moment(0.0, Q, 0.0), "characteristic_length = 0.0"),
        (lambda: winkler.deflection(0.0, Q, ELL, 0.0), "bedding = 0.0"),
        (lambda: winkler.deflection(0.0, -1.0, ELL, K), "line_load = -1.0"),
        (lambda: winkler.finite_moment(Q, 0.0, ELL), "span = 0.0"),
        (lambda: winkler.finite_moment(-1.0, 400.0, ELL), "line_load = -1.0"),
        (lambda: winkler.finite_deflection(Q, 400.0, ELL, 0.0), "bedding = 0.0"),
        (lambda: winkler.reach_limits(0.0, ELL, "loose"), "edge_distance = 0.0"),
        (lambda: winkler.reach_limits(1.0, ELL, "glued"), "bed = 'glued'"),
        (lambda: winkler.thinness_limits(0.0, ELL), "thickness = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
