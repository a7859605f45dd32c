"""The one law of force over approach: what must hold of any curve, and of a power law exactly."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

from contactfe.errors import SolveError
from contactfe.solve.force_approach import ForceApproach


def power(exponent: float = 1.1, coefficient: float = 3.0, points: int = 7) -> ForceApproach:
    """q = Aδⁿ from 0.01 to 2 mm."""
    d = np.geomspace(0.01, 2.0, points)
    q = coefficient * d**exponent
    return ForceApproach(q, d, exponent * q / d)


@st.composite
def curves(draw) -> ForceApproach:
    """Steps of any size, with a monotone cubic's slopes in the logarithms."""
    steps = draw(st.lists(st.tuples(st.floats(0.05, 1.0), st.floats(0.8, 2.0)), min_size=3))
    rises = np.array(steps)
    x = draw(st.floats(-6.0, 2.0)) + np.cumsum(rises[:, 0])
    y = draw(st.floats(-3.0, 8.0)) + np.cumsum(rises[:, 0] * rises[:, 1])
    d, q = np.exp(x), np.exp(y)
    slope = np.maximum(PchipInterpolator(x, y)(x, 1), 0.5)
    return ForceApproach(q, d, slope * q / d)


def samples(curve, past=1.0):
    """Approaches from well below the first point to the end, or past it."""
    return np.geomspace(0.01 * curve.approach[0], past * curve.end, 101)


@given(curves())
def test_it_ascends_from_no_load(curve):
    onward = replace(curve, past_end="tangent")
    d = np.concatenate([[-1.0, 0.0], samples(curve, 3.0)])
    q, slope = onward.at(d)
    assert np.all(q[:2] == 0.0)
    assert np.all(slope[:2] == 0.0)
    assert np.all(np.diff(q[1:]) > 0.0)
    assert np.all(slope[2:] > 0.0)
    assert curve.line_load_at(curve.approach) == pytest.approx(curve.line_load, rel=1e-12)
    assert curve.tangent_at(curve.approach) == pytest.approx(curve.tangent_stiffness, rel=1e-12)


@given(curves(), st.sampled_from([1.0, 4.0]))
def test_the_inverse_undoes_it(curve, past):
    onward = replace(curve, past_end="tangent")
    d = samples(curve, past)
    assert onward.approach_at(onward.line_load_at(d)) == pytest.approx(d, rel=1e-11)
    q = np.geomspace(1e-3 * curve.line_load[0], past * curve.largest_load, 50)
    assert onward.line_load_at(onward.approach_at(q)) == pytest.approx(q, rel=1e-11)


@given(curves())
def test_its_tangent_is_its_slope(curve):
    d = samples(curve, 0.999)
    h = 1e-5 * d
    secant = (curve.line_load_at(d + h) - curve.line_load_at(d - h)) / (2.0 * h)
    # The second derivative jumps at a point of the curve.
    assert secant == pytest.approx(curve.tangent_at(d), rel=1e-3)
    inside = np.abs(d[:, None] / curve.approach - 1.0).min(axis=1) > 1e-4
    assert secant[inside] == pytest.approx(curve.tangent_at(d[inside]), rel=1e-6)


@given(curves(), st.floats(0.1, 1e4))
def test_as_the_law_of_an_impact_it_is_odd_and_over_the_length(curve, length):
    law = replace(curve, past_end="tangent", length=length)
    d = samples(curve, 2.0)
    assert law.force(d) == pytest.approx(length * law.line_load_at(d), rel=1e-12)
    assert np.all(law.force(-d) == -law.force(d))
    # One number at a time, as the equation of motion asks.
    assert [law.force(float(one)) for one in d] == pytest.approx(law.force(d), rel=1e-12)
    assert [law.force(-float(one)) for one in d] == pytest.approx(law.force(-d), rel=1e-12)
    assert law.force(0.0) == law.force(np.array([0.0]))[0] == 0.0
    assert [law.stored(-float(one)) for one in d] == [law.stored(float(one)) for one in d]


@settings(deadline=None)
@given(curves(), st.floats(0.005, 3.0))
def test_the_force_is_the_slope_of_the_work(curve, share):
    law = replace(curve, past_end="tangent", length=300.0)
    d = share * curve.end
    h = 1e-4 * d
    slope = (law.stored(d + h) - law.stored(d - h)) / (2.0 * h)
    assert slope == pytest.approx(law.force(d), rel=1e-6)
    kinks = [x for x in curve.approach if x < d]
    pieces = zip([0.0, *kinks], [*kinks, d], strict=True)
    parts = [quad(law.force, a, b, epsabs=0.0, epsrel=1e-9)[0] for a, b in pieces]
    assert law.stored(d) == pytest.approx(sum(parts), rel=1e-8)


@given(st.floats(1.0, 1.6), st.floats(1e2, 1e6))
def test_a_power_law_is_kept(exponent, coefficient):
    curve = power(exponent, coefficient)
    at = np.array([0.001, 0.0123, 0.777, 2.0])
    assert curve.line_load_at(at) == pytest.approx(coefficient * at**exponent, rel=1e-10)
    assert curve.approach_at(coefficient * at**exponent) == pytest.approx(at, rel=1e-10)
    works = coefficient * at ** (exponent + 1.0) / (exponent + 1.0)
    assert [curve.stored(float(d)) for d in at] == pytest.approx(works, rel=1e-10)


@given(st.floats(1.0, 1.6), st.floats(0.02, 0.5))
def test_a_curve_through_points_of_a_power_law_is_it(exponent, least):
    q = np.geomspace(0.01, 3.0, 9)
    at = np.linspace(least, 3.0, 5)
    curve = ForceApproach.through(q, q ** (1.0 / exponent), at)
    assert np.all(curve.line_load == at)
    assert curve.approach == pytest.approx(at ** (1.0 / exponent), rel=1e-10)
    assert curve.exponent == pytest.approx(exponent, rel=1e-8)


def test_below_its_first_point_it_goes_on_as_a_power():
    curve = power()
    d, q = curve.approach[0], curve.line_load[0]
    assert curve.line_load_at(0.1 * d) == pytest.approx(q * 0.1 ** curve.exponent[0], rel=1e-12)
    assert curve.line_load_at(0.0) == curve.tangent_at(0.0) == curve.approach_at(0.0) == 0.0
    assert curve.line_load_at(-3.0) == curve.tangent_at(-3.0) == 0.0


def test_past_its_end_it_says_so():
    curve = power()
    for call in (
        lambda: curve.line_load_at(1.01 * curve.end),
        lambda: curve.tangent_at(np.array([0.0, 1.01 * curve.end])),
        lambda: curve.approach_at(1.01 * curve.largest_load),
        lambda: curve.force(1.01 * curve.end),
        lambda: curve.force(np.array([-1.01 * curve.end])),
        lambda: curve.line_load_at(np.nan),
    ):
        with pytest.raises(SolveError, match="past the end of the force–approach curve"):
            call()
    # Rounding is no reason.
    assert curve.line_load_at(curve.end * (1 + 1e-10)) == pytest.approx(curve.largest_load)
    assert curve.approach_at(curve.largest_load * (1 + 1e-10)) == pytest.approx(curve.end)
    with pytest.raises(ValueError, match="line_load must not be negative"):
        curve.approach_at(-1.0)


def test_or_it_goes_on_along_its_tangent():
    curve = replace(power(), past_end="tangent")
    beyond, slope = curve.at(curve.end + np.array([0.1, 0.2]))
    assert slope == pytest.approx(curve.tangent_stiffness[-1], rel=1e-12)
    assert beyond == pytest.approx(
        curve.largest_load + np.array([0.1, 0.2]) * curve.tangent_stiffness[-1]
    )
    assert curve.approach_at(beyond) == pytest.approx(curve.end + np.array([0.1, 0.2]))
    assert np.isnan(curve.line_load_at(np.nan))  # no load would look as if it had parted


@given(curves(), st.floats(1e-3, 1.0))
def test_cut_short_it_is_the_same_up_to_there(curve, share):
    end = share * curve.end
    law = curve.law_up_to(end, 300.0)
    d = np.geomspace(1e-2 * end, end, 50)
    assert law.end == end
    assert law.line_load_at(d) == pytest.approx(curve.line_load_at(d), rel=1e-8)
    assert law.force(2.0 * end) == pytest.approx(
        300.0 * float(curve.line_load_at(end) + end * curve.tangent_at(end)), rel=1e-8
    )


def test_cut_at_its_end_it_is_itself():
    curve = power()
    law = curve.law_up_to(curve.end * (1.0 - 1e-13), 1.0)
    assert len(law.approach) == len(curve.approach)
    assert law.line_load == pytest.approx(curve.line_load, rel=1e-12)


def test_points_that_are_no_curve_are_refused():
    up = np.array([1.0, 2.0])
    for points in ((up, up[::-1], up), (up[::-1], up, up), (up[:1],) * 3, (up, up - 1, up)):
        with pytest.raises(SolveError, match="ascending"):
            ForceApproach(*points)
    # The last ends so steep that a cubic would first have to fall.
    for tangent in ([0.0, 1.0], [-1.0, 1.0], [np.nan, 1.0], [1.0, 9.0]):
        with pytest.raises(SolveError, match="tangents"):
            ForceApproach(up, up, np.array(tangent))


def test_what_is_counted_elsewhere_is_taken_off():
    """δ − c q at every load, and with it the slope; all of it back by a spring in series."""
    curve = power()
    less = curve.without(0.05)
    q = np.array([0.1, 1.0, 4.0])
    assert less.approach_at(q) == pytest.approx(curve.approach_at(q) - 0.05 * q, rel=2e-3)
    inside = slice(1, -1)
    assert 1.0 / less.tangent_stiffness[inside] == pytest.approx(
        1.0 / curve.tangent_stiffness[inside] - 0.05
    )


def test_of_a_curve_that_has_hardly_more_a_share_stays():
    curve = power()
    compliance = 1.0 / curve.tangent_stiffness
    less = curve.without(float(compliance.min()) * 1.2)
    assert np.all(np.diff(less.approach) > 0.0)
    assert np.all(1.0 / less.tangent_stiffness >= 0.05 * compliance * (1.0 - 1e-12))
    assert less.end < 0.5 * curve.end
