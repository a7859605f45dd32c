"""What post and plate press on one another with while they touch: an elastic law and a dashpot.

The approach δ is counted from the closing of the gap, its rate δ' is positive while it grows, and
both may be numbers or arrays. A law is extended to δ < 0 as an odd function, so that it stays
smooth where an integrator steps a little past parting; that nothing pulls is ensured by the motion,
which ends a contact where its force falls to zero. Units are N, mm, s and t.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol


class Elastic(Protocol):
    """The part of the force that depends on the approach alone."""

    def force(self, approach: Any) -> Any:
        """Force, N, at an approach in mm."""

    def stored(self, approach: float) -> float:
        """Work, N mm, that it takes to press in by ``approach`` mm."""


class Dashpot(Protocol):
    """The part of the force that depends on the rate of the approach as well."""

    def force(self, approach: Any, rate: Any, elastic: Any, met: float) -> Any:
        """Force, N, at approach (mm), rate (mm/s) and elastic force (N) there.

        ``met`` is the velocity, mm/s, at which the two met.
        """


@dataclass(frozen=True)
class Spring:
    """F = kδ, k in N/mm."""

    stiffness: float

    def force(self, approach: Any) -> Any:
        """Force, N."""
        return self.stiffness * approach

    def stored(self, approach: float) -> float:
        """Work, N mm."""
        return 0.5 * self.stiffness * approach**2


@dataclass(frozen=True)
class PowerLaw:
    """F = F1 (δ/δ1)ⁿ, F1 in N at δ1 in mm."""

    reference_force: float
    reference_approach: float
    exponent: float

    def force(self, approach: Any) -> Any:
        """Force, N."""
        sign = 2.0 * (approach > 0.0) - 1.0
        share = abs(approach) / self.reference_approach
        return sign * self.reference_force * share**self.exponent

    def stored(self, approach: float) -> float:
        """Work, N mm."""
        return float(self.force(abs(approach))) * abs(approach) / (self.exponent + 1.0)


@dataclass(frozen=True)
class NoDashpot:
    """An elastic contact."""

    def force(self, approach: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Zero."""
        return 0.0 * approach


@dataclass(frozen=True)
class LinearDashpot:
    """cδ', c in N s/mm: with a spring, Kelvin's element."""

    coefficient: float

    def force(self, approach: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        return self.coefficient * rate


@dataclass(frozen=True)
class InProportion:
    """ζ δ'/v of the elastic force, v the velocity at which the two met; in both directions."""

    damping: float

    def force(self, approach: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        return self.damping * elastic * rate / met


@dataclass(frozen=True)
class PressedIn:
    """2ξ√(β√δ m) δ' while the approach grows, zero while it shrinks.

    β of βδ^1.5 in N/mm^1.5, effective mass m in t.
    """

    ratio: float
    beta: float
    mass: float

    def force(self, approach: Any, rate: Any, elastic: Any, met: float) -> Any:  # noqa: ARG002
        """Force, N."""
        root: Any = (self.beta * self.mass) ** 0.5 * abs(approach) ** 0.25
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

    def force(self, approach: Any, rate: Any, met: float) -> Any:
        """Force, N, at approach (mm) and rate (mm/s), the two having met at ``met`` mm/s."""
        elastic = self.elastic.force(approach)
        return elastic + self.dashpot.force(approach, rate, elastic, met)

    def pressing(self, approach: float, rate: float, met: float) -> float:
        """A figure of the sign of the force, which does not begin flat where the force does.

        A post that meets a tilted plate begins with the square of the approach, and a root of that
        is hard to find.
        """
        if isinstance(self.dashpot, NoDashpot):
            return approach
        if isinstance(self.dashpot, InProportion):
            return approach * (1.0 + self.dashpot.damping * rate / met)
        return float(self.force(approach, rate, met))
