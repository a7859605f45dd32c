"""The one list of checks: every comparison of a demand with a resistance, and what it comes to.

A check passes if its ratio with the numerical uncertainty added is at most 1. Where an input that
decides is missing, or a formula or clause does not cover the numbers, there is no verdict. Every
verdict of the tool, in words, in JSON and as an exit status, is read off such a list.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from contactfe.hand.formula import Dimension
from contactfe.plain import plain

Verdict = Literal["passes", "fails", "no verdict"]

Kind = Literal["stress", "post", "clauses", "hand", "load"]
"""Of what sort a check is: a solved stress, the post along its axis, a clause, another stress by
hand, the load against the motion."""

LimitState = Literal[
    "contact stress", "post bending", "post shear", "root weld", "plate bending", "collapse",
    "load",
]  # fmt: skip
"""What a check guards against. One that does not apply leaves nothing open while another check of
its limit state does."""


@dataclass(frozen=True)
class Check:
    """A demand put against a resistance, in the unit in which figures of ``dimension`` are held.

    ``key`` is stable and unique among the checks of a ``section``, which is "" for the stop as a
    whole; ``body`` is the part that is checked. ``uncertainty`` is that of the ratio. ``missing``
    says why there is no verdict, empty where there is one; what does not ``apply``, such as a
    clause outside its scope, never has one. ``contact`` is the number of the contact, of those
    tried, at which it is worst, and ``reserve`` the factor by which all loads may grow until the
    ratio is 1, None where that is not known.
    """

    key: str
    label: str
    kind: Kind
    limit_state: LimitState
    section: str
    body: str
    demand: float | None
    resistance: float | None
    dimension: Dimension | None
    source: str
    uncertainty: float = 0.0
    missing: str = ""
    applies: bool = True
    contact: int = 0
    reserve: float | None = None

    def __post_init__(self) -> None:
        plain(self)

    @property
    def ratio(self) -> float | None:
        """Demand over resistance: infinite without resistance, None where one is not known."""
        if self.demand is None or self.resistance is None:
            return None
        if self.resistance <= 0.0:
            return float("inf")
        return self.demand / self.resistance

    @property
    def most(self) -> float:
        """The ratio with its uncertainty added; infinite where it is not known."""
        return float("inf") if self.ratio is None else self.ratio + self.uncertainty

    @property
    def verdict(self) -> Verdict:
        """Passes if the ratio with its uncertainty is at most 1 and nothing is missing."""
        if self.missing or self.ratio is None:
            return "no verdict"
        return "passes" if self.most <= 1.0 else "fails"

    @property
    def passes(self) -> bool:
        """Whether it passes."""
        return self.verdict == "passes"


def counted(checks: Iterable[Check]) -> tuple[Check, ...]:
    """The checks that a verdict is read off: all that apply."""
    return tuple(check for check in checks if check.applies)


def verdict_of(checks: Iterable[Check]) -> Verdict:
    """Fails if any that applies does, else no verdict if one has none, else passes.

    No verdict of no checks.
    """
    found = [check.verdict for check in counted(checks)]
    if "fails" in found:
        return "fails"
    return "no verdict" if not found or "no verdict" in found else "passes"


def governing(checks: Iterable[Check]) -> Check | None:
    """The failing check of the largest ratio, else one without a verdict, else the largest ratio.

    None where none applies.
    """
    order = {"fails": 2, "no verdict": 1, "passes": 0}
    return max(counted(checks), key=lambda c: (order[c.verdict], c.most), default=None)
