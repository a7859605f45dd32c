"""What a clause of a standard is, and the result of checking it: demand against resistance.

A clause is intended for a certain kind of member. A post that strikes a bumper plate is mostly
another, so each clause states what it is intended for and how far it applies to such a stop. Local
codes and licensed practice govern.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from contactfe.hand import check
from contactfe.hand.formula import Limit, Worked
from contactfe.hand.quantities import Dimension

GOVERNS = (
    "The clauses are given by the edition named, with what each is intended for. Local codes and"
    " licensed practice govern."
)
"""To be printed wherever clauses are."""

Applicability = Literal["as written", "by analogy"]
"""Whether a clause is used here on what it is intended for, or on something that resembles it."""

Level = Literal["strength", "service"]
"""Of what loads the demand is to be: those of the ultimate limit state, or those of service. At
"strength" a clause of AISC takes the load combinations of its method, LRFD or ASD."""

Growth = Literal[
    "as the load", "as the load squared", "as the root of the load", "faster than the load"
]
"""How a ratio of demand to resistance grows with all loads together; "faster than the load" where
no single power describes it, as the loads reduce the resistance too."""

POWER: Mapping[Growth, float] = MappingProxyType(
    {"as the load": 1.0, "as the load squared": 2.0, "as the root of the load": 0.5}
)
"""Power of the loads with which a ratio grows, where a single one describes it."""

Symbols = Mapping[str, str]
"""Symbol of each argument as a standard writes it; what ``formula`` takes."""


@dataclass(frozen=True)
class Clause:
    """One clause of one edition of a standard."""

    key: str  # stable, such as "aisc_360.j7_roller"
    standard: str  # "AISC 360"
    edition: str  # "2022"
    number: str  # of the clause and its equation: "J7(b), eq. J7-2"
    title: str  # in words: "bearing of expansion rollers and rockers"
    intended_for: str
    applies_here: str  # how far it applies to a post on a bumper plate
    applicability: Applicability
    level: Level
    text: str  # "seen in a public copy", or "from memory, not seen"

    @property
    def name(self) -> str:
        """Standard, edition and clause in one line.

        >>> words = ("bearing", "rollers", "by analogy only")
        >>> Clause("k", "AISC 360", "2022", "J7", *words, "by analogy", "strength", "seen").name
        'AISC 360 (2022), J7'
        """
        return f"{self.standard} ({self.edition}), {self.number}"


@dataclass(frozen=True)
class ClauseCheck:
    """A clause put to numbers.

    ``demand`` and ``resistance`` are of one dimension; the resistance has its resistance factor,
    safety factor or partial factor in it. ``steps`` are the formulas that led to the two, in
    order, without them. ``scope`` are the limits of what the clause is intended for, exceeded
    or not; the limits of the steps' own ranges count as well. ``grows`` says how the ratio grows
    with all loads together, the shape of the load unchanged. Where that is "faster than the load",
    ``load_factor`` is the one at which the ratio is 1, and None everywhere else.
    """

    clause: Clause
    demand: Worked
    resistance: Worked
    steps: tuple[Worked, ...] = ()
    scope: tuple[Limit, ...] = ()
    grows: Growth = "as the load"
    load_factor: float | None = None

    @property
    def ratio(self) -> float:
        """Demand over resistance; at most 1 if the clause is satisfied, infinite without any."""
        if self.resistance.value <= 0.0:
            return float("inf")
        return self.demand.value / self.resistance.value

    @property
    def reserve(self) -> float:
        """By what factor all loads together may grow until the ratio is 1.

        Below 1 where the clause is not satisfied, infinite without a demand, 0 without resistance.
        It does not say whether the clause still covers loads that large.
        """
        if self.load_factor is not None:
            return self.load_factor
        if self.ratio == 0.0:
            return math.inf
        return float(self.ratio ** (-1 / POWER[self.grows]))

    @property
    def exceeded(self) -> tuple[Limit, ...]:
        """The limits beyond which the clause, or a formula that leads to it, does not hold."""
        worked = (*self.steps, self.demand, self.resistance)
        found = [limit for limit in self.scope if limit.exceeded]
        found += [limit for step in worked for limit in step.exceeded if limit not in found]
        return tuple(found)

    @property
    def within(self) -> bool:
        """Whether the clause covers these numbers."""
        return not self.exceeded

    @property
    def satisfied(self) -> bool | None:
        """Whether the demand stays within the resistance; None outside the clause's scope."""
        return self.ratio <= 1.0 if self.within else None


def stated(name: str, symbol: str, value: float, dimension: Dimension | None) -> Worked:
    """A demand that comes to the clause as it is, such as a line load: it has no form.

    Raises ValueError for a value that is negative or not finite, under the demand's name.

    >>> print(stated("line load", "q", 1000.0, "line load"))
    q = 1000 N/mm
    """
    check.not_negative(**{name.replace(" ", "_"): value})
    return Worked(
        "clause.stated", name, symbol, None, {}, float(value), dimension,
        "from the analysis", note="As the analysis gives it.",
    )  # fmt: skip


UNITY = Worked(
    "clause.unity", "bound of an interaction", "1", None, {}, 1.0, None,
    "by the clause", note="The clause bounds a sum of ratios by 1.",
)  # fmt: skip
"""The resistance of a clause that bounds a sum of ratios. It reads: bound of an interaction: 1, by
the clause."""
