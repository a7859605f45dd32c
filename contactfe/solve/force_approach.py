"""The force–approach curve: the line load of a contact over the approach of the bodies.

One law for all that presses a section: its own curve as solved, that of a slice along a bent post,
the same with the post in series, and the elastic law of an impact, over a length of contact.

The parts of scipy that it takes are loaded where they are needed: most cases need no such curve.
"""

import bisect
import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal, Self

import numpy as np
from numpy.typing import ArrayLike

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats

if TYPE_CHECKING:
    from scipy.interpolate import PPoly

_PAST = 1e-9
"""What rounding may put a load past the end of a curve by, relative."""

_LEAST = 1e-200
"""Share of the first point that stands for none, of which there is every power."""

_MOST_STEPS = 50

_LEFT = 0.05
"""Share of its own compliance that a curve keeps at the least of what is taken from it."""


@dataclass(frozen=True)
class ForceApproach:
    """Line load over the approach, without friction: a curve through points that ascend.

    ``line_load`` (n,) in N/mm; ``approach`` (n,) in mm is the rigid-body displacement of the post's
    hold towards that of the plate, square to the plate; ``tangent_stiffness`` (n,) in N/mm per mm
    is the slope of the line load over the approach. Between the points the curve is cubic in
    logarithms, with these slopes. Below the first point, where too few nodes touch, it goes on as a
    power law with the slope there, down to no load at no approach; a gap that is open, a negative
    approach, has no load. ``past_end`` is what is past the last point: an error, or the last
    tangent, which is there for a search alone: what is found there is for the caller to refuse.
    ``length`` mm of contact are what :meth:`force` and :meth:`stored` are of.

    Raises SolveError for points that do not ascend from above zero, or tangents with which the
    curve does not ascend between them (F. N. Fritsch, R. E. Carlson, SIAM Journal on Numerical
    Analysis 17, 1980: a slope of at most three secants; from memory, not seen).
    """

    line_load: Floats
    approach: Floats
    tangent_stiffness: Floats
    past_end: Literal["error", "tangent"] = "error"
    length: float = 1.0

    def __post_init__(self) -> None:
        both = (self.approach, self.line_load)
        if len(self.approach) < 2 or not all(x[0] > 0 and np.all(np.diff(x) > 0) for x in both):
            raise SolveError(
                "a force–approach curve needs two points or more, of ascending approach and load"
            )
        x, y = (np.log(one) for one in (self.approach, self.line_load))
        steepest = 3.0 * np.diff(y) / np.diff(x)  # a cubic up to which ascends all along
        ends = self.exponent[:-1], self.exponent[1:]
        if not np.all(self.tangent_stiffness > 0) or any(np.any(end > steepest) for end in ends):
            raise SolveError(
                "the tangents of a force–approach curve must be positive, and so that it ascends"
                " between its points"
            )

    @classmethod
    def through(cls, line_load: Floats, approach: Floats, at: Floats) -> Self:
        """The curve with points at the line loads ``at``, on a cubic spline through those given.

        The spline is of the logarithm of the approach over that of the line load.
        """
        from scipy.interpolate import CubicSpline

        spline, x = CubicSpline(np.log(line_load), np.log(approach)), np.log(at)
        there = np.exp(spline(x))
        return cls(at, there, at / (there * spline(x, 1)))

    @property
    def largest_load(self) -> float:
        """The line load at the end of the curve, N/mm."""
        return float(self.line_load[-1])

    @property
    def end(self) -> float:
        """The approach at the end of the curve, mm."""
        return float(self.approach[-1])

    @property
    def exponent(self) -> Floats:
        """Local exponent (n,) of the line load as a power of the approach: d ln q / d ln δ."""
        exponent: Floats = self.tangent_stiffness * self.approach / self.line_load
        return exponent

    def at(self, approach: ArrayLike) -> tuple[Floats, Floats]:
        """Line load, N/mm, and its slope, N/mm per mm, each of the shape of ``approach``, mm.

        Raises SolveError for an approach past the end, where the curve does not go on.
        """
        d = np.asarray(approach, dtype=float)
        if self.past_end == "error" and not np.all(d <= self.end * (1.0 + _PAST)):
            raise SolveError(
                f"an approach of {np.max(d):.5g} mm is past the end of the force–approach curve,"
                f" {self.end:.5g} mm at {self.largest_load:.5g} N/mm"
            )
        inside = np.clip(d, _LEAST * self.approach[0], self.end)
        x = np.log(inside)
        load = np.exp(self._spline(x))
        slope = load / inside * self._spline(x, 1)
        load = load + self.tangent_stiffness[-1] * np.maximum(d - self.end, 0.0)
        # Where the post is away from the plate there is no slope either.
        return np.where(d <= 0.0, 0.0, load), np.where(d <= 0.0, 0.0, slope)

    def line_load_at(self, approach: ArrayLike) -> Floats:
        """The line load of :meth:`at`."""
        return self.at(approach)[0]

    def tangent_at(self, approach: ArrayLike) -> Floats:
        """The slope of :meth:`at`."""
        return self.at(approach)[1]

    def approach_at(self, line_load: ArrayLike) -> Floats:
        """Approach, mm, of the same shape as ``line_load``, N/mm, which may be zero or more.

        Raises ValueError for a negative load, SolveError for one past the end as :meth:`at` does.
        """
        q = np.asarray(line_load, dtype=float)
        if not np.all(q >= 0.0):
            raise ValueError(f"line_load must not be negative, as {np.min(q):g} N/mm is")
        if self.past_end == "error" and np.any(q > self.largest_load * (1.0 + _PAST)):
            raise SolveError(
                f"a line load of {np.max(q):.5g} N/mm is past the end of the force–approach curve,"
                f" {self.largest_load:.5g} N/mm"
            )
        sought = np.log(np.clip(q, _LEAST * self.line_load[0], self.largest_load))
        known, end = np.log(self.approach), math.log(self.end)
        x = np.interp(sought, np.log(self.line_load), known)
        # Newton's method from a guess that is near: each step squares the error.
        for _ in range(_MOST_STEPS):
            step = (self._spline(x) - sought) / self._spline(x, 1)
            x = np.minimum(x - step, end)
            if np.all(np.abs(step) <= 1e-14 * np.maximum(10.0, np.abs(x))):
                break
        else:
            raise SolveError("the inverse of the force–approach curve was not found")
        past = np.maximum(q - self.largest_load, 0.0) / self.tangent_stiffness[-1]
        approach: Floats = np.where(q > 0.0, np.exp(x) + past, 0.0)
        return approach

    def without(self, compliance: float) -> Self:
        """The curve less a ``compliance``, mm per N/mm, which is counted elsewhere.

        Where the curve has hardly more of it, ``_LEFT`` of its own stays: a thin ring gives way
        less per load as the patch on it grows.
        """
        from scipy.integrate import cumulative_trapezoid

        left = np.maximum(1.0 / self.tangent_stiffness - compliance, _LEFT / self.tangent_stiffness)
        first = self.approach[0] - compliance * self.line_load[0]
        approach = max(float(first), _LEFT * float(self.approach[0])) + cumulative_trapezoid(
            left, self.line_load, initial=0.0
        )
        exact = self.approach - compliance * self.line_load
        if np.all(left > _LEFT / self.tangent_stiffness) and exact[0] > 0.0:
            approach = exact
        return replace(self, approach=approach, tangent_stiffness=1.0 / left)

    def law_up_to(self, approach: float, length: float) -> Self:
        """The curve up to an ``approach``, mm, and on along its tangent there, over a length, mm.

        A motion that goes past that end is not to be relied on: it shows how far a curve must go.
        """
        inside = self.approach[self.approach < approach * (1.0 - _PAST)]
        points = np.append(inside if len(inside) else approach / 2.0, approach)
        load, slope = self.at(points)  # a point more on a cubic leaves it what it is
        return type(self)(load, points, slope, "tangent", length)

    def force(self, approach: Any) -> Any:
        """Force, N, over the whole length: odd in the approach, mm, a number or an array."""
        size = abs(approach)
        if isinstance(approach, float):  # in the equation of motion, where numpy would be slow
            return math.copysign(self.length * self._one_line_load(size), approach)
        return np.sign(approach) * self.length * self.line_load_at(size)

    def stored(self, approach: float) -> float:
        """Work, N mm, that it takes to press in by ``approach`` mm over the whole length.

        By Gauss's rule from point to point.
        """
        size = abs(approach)
        if size <= self.approach[0]:
            return float(self.force(size)) * size / float(self.exponent[0] + 1.0)
        k = int(np.searchsorted(self.approach, size)) - 1
        return float(self._work[k]) + self._between(self.approach[k], size)

    @cached_property
    def _work(self) -> Floats:
        """That up to each point."""
        parts = [self._between(a, b) for a, b in pairwise(self.approach)]
        work: Floats = np.cumsum([self.stored(float(self.approach[0])), *parts])
        return work

    def _between(self, low: float, high: float) -> float:
        from scipy.integrate import fixed_quad

        return float(fixed_quad(self.force, low, high, n=8)[0])

    def _one_line_load(self, approach: float) -> float:
        """:meth:`line_load_at` of one number, some forty times as fast."""
        if approach <= 0.0:
            return 0.0
        x, (knots, pieces) = math.log(approach), self._pieces
        if x >= knots[-1]:
            if self.past_end == "error":
                return float(self.line_load_at(approach))
            return self.largest_load + float(self.tangent_stiffness[-1]) * (approach - self.end)
        k = max(bisect.bisect_right(knots, x) - 1, 0)
        a, b, c, d = pieces[k]
        h = x - knots[k]
        return math.exp(((a * h + b) * h + c) * h + d)

    @cached_property
    def _pieces(self) -> tuple[list[float], list[list[float]]]:
        """Where the pieces of the spline begin and end, and the coefficients of their cubics."""
        return self._spline.x.tolist(), self._spline.c.T.tolist()

    @cached_property
    def _spline(self) -> "PPoly":
        """The logarithm of the line load over that of the approach; its first piece goes on."""
        from scipy.interpolate import CubicHermiteSpline, PPoly

        x, y, power = np.log(self.approach), np.log(self.line_load), self.exponent
        first = [[0.0], [0.0], [power[0]], [y[0] - power[0]]]
        between = CubicHermiteSpline(x, y, power).c
        return PPoly(np.hstack([first, between]), np.append(x[0] - 1.0, x))
