"""What a time-history model takes for the contact: a spring, a power law, or a table of points.

All act once the gap is closed, on the displacement of the post from there on. Each is drawn from a
force–approach curve, and says how far it is off.
"""

from dataclasses import dataclass

import numpy as np

from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach

FITTED = (0.1, 1.0)
"""Loads over the one that it is for, that a power law is fitted between."""

_STEPS = 4
"""Points of a table up to the load that it is for, at even steps of the half-width."""

_SAMPLES = 200

_SAME = 1e-9
"""Loads that differ by less, over the one that a table is for, are one point."""


@dataclass(frozen=True)
class PowerLaw:
    """q = A δ^n: ``coefficient`` A in N/mm per mm^n, ``exponent`` n.

    ``from_line_load`` and ``to_line_load`` bound the line loads it is fitted for, N/mm;
    ``largest_relative_error`` is its largest relative error in force between them.
    """

    coefficient: float
    exponent: float
    from_line_load: float
    to_line_load: float
    largest_relative_error: float


@dataclass(frozen=True)
class Linear:
    """A spring that is right at no load and at one other.

    ``stiffness`` in N/mm per mm; ``largest_error_over_load`` is its largest error in force up to
    that load, over it.
    """

    stiffness: float
    largest_error_over_load: float


@dataclass(frozen=True)
class Table:
    """Points of a curve to be joined by straight lines, the first of them the origin.

    ``line_load`` (n,) N/mm and ``approach`` (n,) mm; ``largest_error_over_load`` is the largest
    error in force up to the last point, over the load that the points are for.
    """

    line_load: Floats
    approach: Floats
    largest_error_over_load: float


def power_law(curve: ForceApproach, load: float) -> PowerLaw:
    """The power law nearest to a curve by least squares in logarithms, over :data:`FITTED`.

    ``load`` is the line load that it is for, N/mm. Its loads are evenly spread in the logarithm.
    """
    low, high = (share * load for share in FITTED)
    q = np.geomspace(low, high, _SAMPLES)
    approach = curve.approach_at(q)
    exponent, rise = np.polyfit(np.log(approach), np.log(q), 1)
    coefficient = np.exp(rise)
    error = np.abs(coefficient * approach**exponent / q - 1.0).max()
    return PowerLaw(float(coefficient), float(exponent), low, high, float(error))


def linear(curve: ForceApproach, load: float) -> Linear:
    """The secant of a curve at a line load, N/mm."""
    most = float(curve.approach_at(load))
    approach = np.linspace(0.0, most, _SAMPLES)
    error = np.abs(load * approach / most - curve.line_load_at(approach)).max() / load
    return Linear(load / most, float(error))


def table(curve: ForceApproach, load: float, also: tuple[float, ...] | None = None) -> Table:
    """A few points of a curve for a line load, N/mm, which is one of them.

    Those of the loads ``also``, N/mm, are added; by default that of the curve's end.
    """
    q = load * (np.arange(_STEPS + 1) / _STEPS) ** 2
    for more in (curve.largest_load,) if also is None else also:
        if np.abs(q - more).min() > _SAME * load:
            q = np.sort(np.append(q, more))
    points = curve.approach_at(q)
    approach = np.linspace(0.0, points[-1], _SAMPLES)
    lines = np.interp(approach, points, q)
    error = np.abs(lines - curve.line_load_at(approach)).max() / load
    return Table(q, points, float(error))
