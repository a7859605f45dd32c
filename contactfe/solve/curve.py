"""The force–approach curve of a joint: how far its holds come together under any load.

Between the loads at which nodes begin to touch all is linear, so the solved contact is known at
every load from a handful of bordered systems: :func:`.contact.pieces_of_touching`. Its slope is a
staircase, though, with a step of up to a percent at each node, and middles and ends of edges take
turns in it. So the curve is drawn through the loads at which one more edge at each end of the patch
has come to touch, and is smooth between: within 0.05 % of the solved contact, and 0.5 % where
only some five nodes touch, which there is itself off by as much.
"""

import bisect
import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import CubicHermiteSpline, CubicSpline

from contactfe.errors import SolveError
from contactfe.solve.contact import Piece, pieces_of_touching
from contactfe.solve.elastic import Floats
from contactfe.solve.joint import Joint, normal_system

_FEWEST = 5
"""Nodes that must touch in a patch for its approach to count: with 5 it is within 0.1 %, with 1 it
is off by a tenth."""

_STEP = 4
"""Nodes of a patch that begin to touch from one knot to the next: an edge of two at each end."""

_FEWEST_KNOTS = 4

BEYOND = 1.2
"""Load that the contact is followed to, over the end of the curve, so that it ends like it goes."""

_PAST = 1e-9
"""What rounding may put a load past the end of a curve by, relative."""


@dataclass(frozen=True)
class ForceApproach:
    """Line load on the first plate against the approach of the holds, without friction.

    ``line_load`` (n,) N/mm ascends; ``approach`` (n,) mm is the rigid-body displacement of the
    post's hold towards that of the plate, square to the plate; ``tangent`` (n,) N/mm per mm is the
    slope of the line load over the approach. Between the points the curve is cubic in logarithms,
    with these slopes. Below the first point, where too few nodes touch, it goes on as a power law
    with the slope there, down to no load at no approach; a gap that is open, a negative approach,
    has no load.
    """

    line_load: Floats
    approach: Floats
    tangent: Floats

    @property
    def exponent(self) -> Floats:
        """Local exponent (n,) of the line load as a power of the approach: d ln q / d ln δ."""
        exponent: Floats = self.tangent * self.approach / self.line_load
        return exponent

    def line_load_at(self, approach: ArrayLike) -> Floats:
        """Line load, N/mm, of the same shape as ``approach``, mm.

        Raises SolveError for an approach past the end of the curve.
        """
        load, _ = self._at(approach)
        return load

    def one_line_load(self, approach: float) -> float:
        """:meth:`line_load_at` of one number, some forty times as fast: for an equation of motion.

        Raises SolveError as it does.
        """
        first = float(self.approach[0])
        if approach <= first:
            share = max(approach, 0.0) / first
            return float(self.line_load[0] * share ** self.exponent[0])
        x: float = math.log(approach)
        knots, pieces = self._pieces
        k = bisect.bisect_right(knots, x) - 1
        if k >= len(pieces):
            return float(self.line_load_at(approach))  # the end, or beyond it
        a, b, c, d = pieces[k]
        h = x - knots[k]
        return math.exp(((a * h + b) * h + c) * h + d)

    def tangent_at(self, approach: ArrayLike) -> Floats:
        """Slope of the line load over the approach, N/mm per mm, at an ``approach`` in mm.

        Raises SolveError for an approach past the end of the curve.
        """
        _, slope = self._at(approach)
        return slope

    def approach_at(self, line_load: ArrayLike) -> Floats:
        """Approach, mm, of the same shape as ``line_load``, N/mm, which may be zero or more.

        Raises ValueError for a negative load, SolveError for one past the end of the curve.
        """
        q = np.asarray(line_load, dtype=float)
        if not np.all(q >= 0.0):
            raise ValueError(f"line_load must not be negative, as {np.min(q):g} N/mm is")
        if np.any(q > self.line_load[-1] * (1.0 + _PAST)):
            raise SolveError(
                f"a line load of {np.max(q):.5g} N/mm is past the end of the force–approach curve,"
                f" {self.line_load[-1]:.5g} N/mm"
            )
        known, above = np.log(self.line_load), q > self.line_load[0]
        sought = np.log(np.where(above, q, self.line_load[0]))
        x = np.interp(sought, known, np.log(self.approach))
        # Newton's method from a guess within a thousandth or so: each step squares the error.
        for _ in range(4):
            x = x - (self._spline(x) - sought) / self._spline(x, 1)
        below = self.approach[0] * (q / self.line_load[0]) ** (1.0 / self.exponent[0])
        approach: Floats = np.where(above, np.exp(x), below)
        return approach

    def _at(self, approach: ArrayLike) -> tuple[Floats, Floats]:
        d = np.asarray(approach, dtype=float)
        if not np.all(d <= self.approach[-1] * (1.0 + _PAST)):
            raise SolveError(
                f"an approach of {np.max(d):.5g} mm is past the end of the force–approach curve,"
                f" {self.approach[-1]:.5g} mm at {self.line_load[-1]:.5g} N/mm"
            )
        first, power = self.approach[0], self.exponent[0]
        x = np.log(np.maximum(d, first))
        load = np.exp(self._spline(x))
        slope = load / np.exp(x) * self._spline(x, 1)
        small = np.maximum(d, 0.0) / first
        below = self.line_load[0] * small**power
        # Where the post is away from the plate there is no slope either.
        rise = np.where(d > 0.0, self.tangent[0] * small ** (power - 1.0), 0.0)
        return np.where(d > first, load, below), np.where(d > first, slope, rise)

    @cached_property
    def _pieces(self) -> tuple[list[float], list[list[float]]]:
        """Knots of the spline and, of each piece, the coefficients of its cubic."""
        return self._spline.x.tolist(), self._spline.c.T.tolist()

    @cached_property
    def _spline(self) -> CubicHermiteSpline:
        """The logarithm of the line load over that of the approach."""
        return CubicHermiteSpline(np.log(self.approach), np.log(self.line_load), self.exponent)


def curve_of(
    joint: Joint, loads: Floats, points: int = 100
) -> tuple[ForceApproach, tuple[Piece, ...]]:
    """The curve of a joint up to ``loads`` (k,) N/mm, which grow together, and its pieces.

    Its ``points`` lie at even steps of the square root of the load, as half-widths do. The pieces
    are those of ``BEYOND`` times the loads.

    Raises
    ------
    SolveError
        if the contact does not settle, or the mesh is too coarse or too narrow to follow it
    """
    pieces = tuple(pieces_of_touching(normal_system(joint), BEYOND * loads))
    share, rigid_displacement = _knots(pieces, len(loads))
    through = CubicSpline(np.log(share), np.log(rigid_displacement))
    shares = np.linspace(np.sqrt(share[0]), 1.0, points) ** 2
    x = np.log(shares)
    approach = np.exp(through(x))
    q = loads[0] * shares
    return ForceApproach(q, approach, q / (approach * through(x, 1))), pieces


def at_share(pieces: tuple[Piece, ...], share: float) -> tuple[Floats, Floats]:
    """Nodal pressures (n,) MPa and displacement (k,) mm, as solved, at a share of a curve's loads.

    The displacement is the rigid-body one towards each plate.
    """
    of_path = share / BEYOND
    piece = next((piece for piece in pieces if of_path <= piece.end), pieces[-1])
    p, rigid_displacement = (
        x[0] + of_path * x[1] for x in (piece.pressure, piece.rigid_displacement)
    )
    return np.maximum(p, 0.0), rigid_displacement


def _knots(pieces: tuple[Piece, ...], patches: int) -> tuple[Floats, Floats]:
    """Shares of the loads that a curve is drawn through, and mm of approach to the first plate."""
    share, rigid_displacement, next_count = [], [], _FEWEST * patches
    for piece in pieces:
        touching = int(np.count_nonzero(piece.pressure.any(axis=0)))
        if touching >= next_count:
            share.append(BEYOND * piece.start)
            rigid_displacement.append(
                float(piece.rigid_displacement[0, 0] + piece.start * piece.rigid_displacement[1, 0])
            )
            next_count = touching + _STEP * patches
    if len(share) < _FEWEST_KNOTS or share[0] > 0.5:
        raise SolveError("too few nodes touch for a force–approach curve: a finer mesh is needed")
    return np.array(share), np.array(rigid_displacement)
