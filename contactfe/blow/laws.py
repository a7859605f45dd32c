"""What post and plate press on one another with while they touch: an elastic law and a dashpot.

The approach δ is counted from the closing of the gap, its rate δ' is positive while it grows, and
both may be numbers or arrays. A law is carried on for δ < 0 as an odd function, so that it stays
smooth where an integrator steps a little past parting; that nothing pulls is kept by the motion,
which ends a contact where its force falls to nought. Units are N, mm, s and t.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np


class Elastic(Protocol):
    """The part of the force that depends on the approach alone."""

    def force(self, way: Any) -> Any:
        """Force, N, at an approach in mm."""

    def stored(self, way: float) -> float:
        """Work, N mm, that it takes to press in by ``way`` mm."""


class Dashpot(Protocol):
    """The part of the force that depends on the rate of the approach as well."""

    def force(self, way: Any, rate: Any, elastic: Any, met: float) -> Any:
        """Force, N, at approach (mm), rate (mm/s) and elastic force (N) there.

        ``met`` is the velocity, mm/s, at which the two met.
        """


@dataclass(frozen=True)
class Spring:
    """F = kδ, k in N/mm."""

    stiffness: float

    def force(self, way: Any) -> Any:
        """Force, N."""
        return self.stiffness * way

    def stored(self, way: float) -> float:
        """Work, N mm."""
        return 0.5 * self.stiffness * way**2


@dataclass(frozen=True)
class PowerLaw:
    """F = F1 (δ/δ1)ⁿ, F1 in N at δ1 in mm."""

    reference_force: float
    reference_way: float
    exponent: float

    def force(self, way: Any) -> Any:
        """Force, N."""
        sign = 2.0 * (way > 0.0) - 1.0
        return sign * self.reference_force * (abs(way) / self.reference_way) ** self.exponent

    def stored(self, way: float) -> float:
        """Work, N mm."""
        return float(self.force(abs(way))) * abs(way) / (self.exponent + 1.0)


@dataclass(frozen=True)
class Curve:
    """F(δ) as given by ``law`` up to the approach ``end``, mm; beyond, along its tangent there.

    A motion that goes past the end is not to be relied on: it tells how far a curve must go.
    ``law`` takes arrays of δ from 0 to ``end`` and ``one`` a single δ, ``slope`` is the derivative,
    N/mm, at the end.
    """

    law: Callable[[Any], Any]
    one: Callable[[float], float]
    end: float
    slope: float

    def force(self, way: Any) -> Any:
        """Force, N."""
        size = abs(way)
        if isinstance(way, float):  # in the equation of motion, where numpy would be slow
            value = self.one(min(size, self.end)) + self.slope * max(size - self.end, 0.0)
            return value if way > 0.0 else -value
        inside = self.law(np.minimum(size, self.end))
        return (2.0 * (way > 0.0) - 1.0) * (inside + self.slope * np.maximum(size - self.end, 0.0))

    def stored(self, way: float) -> float:
        """Work, N mm, by Gauss's rule in the root of the approach.

        In the root, for a power law begins steeply.
        """
        ends = np.linspace(0.0, abs(way) ** 0.5, _PANELS + 1)
        half, middle = np.diff(ends)[:, None] / 2.0, (ends[:-1] + ends[1:])[:, None] / 2.0
        root = middle + half * self._rule[0]
        return float(np.sum(half * self._rule[1] * self.force(root**2) * 2.0 * root))

    @cached_property
    def _rule(self) -> tuple[Any, Any]:
        return np.polynomial.legendre.leggauss(8)


_PANELS = 50


@dataclass(frozen=True)
class NoDashpot:
    """An elastic contact."""

    def force(self, way: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Nought."""
        return 0.0 * way


@dataclass(frozen=True)
class LinearDashpot:
    """cδ', c in N s/mm: with a spring, Kelvin's element."""

    coefficient: float

    def force(self, way: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        return self.coefficient * rate


@dataclass(frozen=True)
class InProportion:
    """ζ δ'/v of the elastic force, v being the velocity at which the two met; both ways."""

    damping: float

    def force(self, way: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        return self.damping * elastic * rate / met


@dataclass(frozen=True)
class PressedIn:
    """2ξ√(β√δ m) δ' while the approach grows, nought while it shrinks.

    β of βδ^1.5 in N/mm^1.5, effective mass m in t.
    """

    ratio: float
    beta: float
    mass: float

    def force(self, way: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        root: Any = (self.beta * self.mass) ** 0.5 * abs(way) ** 0.25
        return 2.0 * self.ratio * root * rate * (rate > 0.0)


@dataclass(frozen=True)
class Contact:
    """An elastic law with its dashpot."""

    elastic: Elastic
    dashpot: Dashpot = NoDashpot()

    @property
    def damped(self) -> bool:
        """Whether there is a dashpot."""
        return not isinstance(self.dashpot, NoDashpot)

    def force(self, way: Any, rate: Any, met: float) -> Any:
        """Force, N, at approach (mm) and rate (mm/s), the two having met at ``met`` mm/s."""
        elastic = self.elastic.force(way)
        return elastic + self.dashpot.force(way, rate, elastic, met)

    def pressing(self, way: float, rate: float, met: float) -> float:
        """A figure of the sign of the force, which does not begin flat where the force does.

        A post that meets a tilted plate begins with the square of the approach, and a root of that
        is hard to find.
        """
        if isinstance(self.dashpot, NoDashpot):
            return way
        if isinstance(self.dashpot, InProportion):
            return way * (1.0 + self.dashpot.damping * rate / met)
        return float(self.force(way, rate, met))
