"""Plate strip giving way: the beam equations, energy and reciprocity, springs."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import strip, strip_deflection

L, T = 400.0, 50.0
D = strip.bending_stiffness(T, 200e3, 0.3, "plane strain")
S = strip.shear_stiffness(T, 200e3, 0.3)
Q = 1000.0
edges = st.sampled_from(["supported", "clamped"])
shear = st.sampled_from([np.inf, S, S / 20])
place = st.floats(-0.45 * L, 0.45 * L)


def ratio(shear_stiffness):
    return 12 * D / (shear_stiffness * L**2)


class TestDeflection:
    @given(place, place, edges, shear)
    def test_reciprocity(self, one, other, held, s):
        there = strip_deflection.deflection(one, Q, L, other, held, D, s)
        here = strip_deflection.deflection(other, Q, L, one, held, D, s)
        assert there == pytest.approx(here, rel=1e-9)

    @given(place, edges, shear)
    def test_work_of_the_load_is_the_energy_stored(self, e, held, s):
        def stored(x):
            return strip.moment(x, Q, L, e, held, ratio(s)) ** 2 / D

        bent = quad(stored, -L / 2, e)[0] + quad(stored, e, L / 2)[0]
        left, right, _, _ = strip.reactions(Q, L, e, held, ratio(s))
        sheared = (left**2 * (L / 2 + e) + right**2 * (L / 2 - e)) / s
        work = Q * strip_deflection.deflection(e, Q, L, e, held, D, s)
        assert work == pytest.approx(bent + sheared, rel=1e-9)

    @given(place, edges, shear)
    def test_edges_do_not_move_and_clamped_sections_do_not_turn(self, e, held, s):
        ends = np.array([-L / 2, L / 2])
        np.testing.assert_allclose(
            strip_deflection.deflection(ends, Q, L, e, held, D, s), 0, atol=1e-12
        )
        if held == "clamped":
            left, right, _, _ = strip.reactions(Q, L, e, held, ratio(s))
            sheared = np.array([left, -right]) / s
            found = strip_deflection.slope(ends, Q, L, e, held, D, s)
            np.testing.assert_allclose(found, sheared, atol=1e-14)

    @given(place, edges, shear, st.floats(-0.49 * L, 0.49 * L))
    def test_slope_is_the_derivative(self, e, held, s, x):
        h = 1e-3
        after = strip_deflection.deflection(x + h, Q, L, e, held, D, s)
        before = strip_deflection.deflection(x - h, Q, L, e, held, D, s)
        if abs(x - e) > h:
            found = strip_deflection.slope(x, Q, L, e, held, D, s)
            # Rounding of w of 1e-16 over h; w''' h² is smaller still.
            assert found == pytest.approx((after - before) / (2 * h), abs=1e-9)

    @given(place, edges, shear)
    def test_the_plate_falls_away_towards_its_middle(self, e, held, s):
        under = strip_deflection.slope(e, Q, L, e, held, D, s)
        opposite = strip_deflection.slope(-e, Q, L, -e, held, D, s)
        assert under == pytest.approx(-opposite, abs=1e-15)
        assert under * e <= 1e-15

    @pytest.mark.parametrize(("held", "part"), [("supported", 1.0), ("clamped", 0.25)])
    def test_in_the_middle(self, held, part):
        bent, sheared = part * Q * L**3 / (48 * D), Q * L / (4 * S)
        assert strip_deflection.deflection(0.0, Q, L, 0.0, held, D) == pytest.approx(bent)
        assert strip_deflection.deflection(0.0, Q, L, 0.0, held, D, S) == pytest.approx(
            bent + sheared
        )
        assert strip_deflection.slope(0.0, Q, L, 0.0, held, D, S) == pytest.approx(0.0, abs=1e-15)

    def test_a_round_touches_nearer_the_edge(self):
        # Surface of the plate −w, of the round s²/(2R) from its lowest point: they are nearest
        # where the slopes agree.
        e, R = 80.0, 75.0
        turn = strip_deflection.slope(e, Q, L, e, "supported", D)
        s = np.linspace(-1, 1, 200001)
        gap = s**2 / (2 * R) + turn * s
        assert s[gap.argmin()] == pytest.approx(-R * turn, abs=1e-5)
        assert s[gap.argmin()] > 0


class TestSprings:
    @given(place, st.floats(10.0, 1e6))
    def test_each_edge_gives_way_by_its_reaction(self, e, k):
        left, right, _, _ = strip.reactions(Q, L, e, "supported")
        found = strip_deflection.settlement([-L / 2, L / 2], Q, L, e, k)
        np.testing.assert_allclose(found, [left / k, right / k], rtol=1e-9)

    @given(place, st.floats(10.0, 1e6))
    def test_tilt_is_its_slope(self, e, k):
        ends = strip_deflection.settlement([-L / 2, L / 2], Q, L, e, k)
        assert strip_deflection.tilt(Q, L, e, k) == pytest.approx(
            (ends[1] - ends[0]) / L, abs=1e-15 * Q
        )
        assert strip_deflection.settlement(0.0, Q, L, e, k) == pytest.approx(Q / (2 * k))


@given(place, shear, st.floats(10.0, 1e6))
def test_the_scalar_formulas_are_the_functions_of_x_at_the_load_and_their_forms_compute(e, s, k):
    s = S if s == np.inf else s
    for worked, field in (
        (
            strip_deflection.supported_deflection.worked(Q, L, e, D, s),
            strip_deflection.deflection(e, Q, L, e, "supported", D, s),
        ),
        (
            strip_deflection.clamped_deflection.worked(Q, L, e, D, s),
            strip_deflection.deflection(e, Q, L, e, "clamped", D, s),
        ),
        (
            strip_deflection.settlement_under_load.worked(Q, L, e, k),
            strip_deflection.settlement(e, Q, L, e, k),
        ),
    ):
        # The field is a difference of terms of the order of QL: some digits are lost there.
        assert worked.value == pytest.approx(float(field), rel=1e-9)
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-7)


def test_small_movement():
    def passed(limits):
        return [limit.exceeded for limit in limits]

    assert passed(strip_deflection.movement_limits(0.5 * T, -0.05, T)) == [False, False]
    assert passed(strip_deflection.movement_limits(0.51 * T, -0.051, T)) == [True, True]


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: strip_deflection.deflection(np.nan, Q, L, 0.0, "supported", D), "x = nan"),
        (lambda: strip_deflection.deflection(0.0, Q, L, 0.0, "bolted", D), "edges"),
        (
            lambda: strip_deflection.deflection(0.0, Q, L, 0.0, "supported", 0.0),
            "bending_stiffness = 0.0",
        ),
        (
            lambda: strip_deflection.slope(0.0, Q, L, 0.0, "supported", D, 0.0),
            "shear_stiffness = 0.0",
        ),
        (lambda: strip_deflection.settlement(0.0, Q, L, 0.0, 0.0), "spring = 0.0"),
        (lambda: strip_deflection.tilt(Q, L, -200.0, 1e3), "offset = -200.0"),
        (
            lambda: strip_deflection.supported_deflection(Q, L, 0.0, D, np.inf),
            "shear_stiffness = inf",
        ),
        (
            lambda: strip_deflection.clamped_deflection(Q, L, 0.0, D, np.inf),
            "shear_stiffness = inf",
        ),
        (lambda: strip_deflection.clamped_deflection(Q, L, 0.0, 0.0, S), "bending_stiffness = 0.0"),
        (lambda: strip_deflection.settlement_under_load(Q, L, 0.0, 0.0), "spring = 0.0"),
        (lambda: strip_deflection.movement_limits(0.1, 0.0, 0.0), "thickness = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
