"""What a clause of a standard is, and what comes of checking it: demand beside resistance.

A clause was written for something. A post that strikes a bumper plate is mostly something else, so
each one says what it was written for and how far it carries to such a stop. Local codes and
licensed practice govern.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Limit, Worked

GOVERNS = (
    "The clauses are given by the edition named, with what each was written for. Local codes and"
    " licensed practice govern."
)
"""To be printed wherever clauses are."""

Reach = Literal["as written", "by analogy"]
"""Whether a clause was written for what it is used on here, or for something that resembles it."""

Symbols = Mapping[str, tuple[str, Dimension | None]]
"""Symbol and dimension of arguments, as a standard writes them; what ``formula`` takes."""


@dataclass(frozen=True)
class Clause:
    """One clause of one edition of a standard."""

    key: str  # stable, such as "aisc_360.j7_roller"
    standard: str  # "AISC 360"
    edition: str  # "2022"
    number: str  # of the clause and its equation: "J7(b), eq. J7-2"
    title: str  # in words: "bearing of expansion rollers and rockers"
    written_for: str
    carries: str  # how far it carries to a post on a bumper plate
    reach: Reach
    text: str  # "seen in a public copy", or "from memory, not seen"

    @property
    def name(self) -> str:
        """Standard, edition and clause in one line.

        >>> Clause("k", "AISC 360", "2022", "J7", "t", "w", "c", "by analogy", "x").name
        'AISC 360 (2022), J7'
        """
        return f"{self.standard} ({self.edition}), {self.number}"


@dataclass(frozen=True)
class ClauseCheck:
    """A clause put to numbers.

    ``demand`` and ``resistance`` are of one dimension; the resistance has its resistance factor,
    safety factor or partial factor in it. ``steps`` are the formulas that led to the two, in
    order, without them. ``scope`` are the limits of what the clause was written for, passed or
    not; the limits of the steps' own ranges count as well.
    """

    clause: Clause
    demand: Worked
    resistance: Worked
    steps: tuple[Worked, ...] = ()
    scope: tuple[Limit, ...] = ()

    @property
    def ratio(self) -> float:
        """Demand over resistance; at most 1 if the clause is satisfied, infinite without any."""
        if self.resistance.value <= 0.0:
            return float("inf")
        return self.demand.value / self.resistance.value

    @property
    def passed(self) -> tuple[Limit, ...]:
        """The limits beyond which the clause, or a formula on the way, does not hold."""
        worked = (*self.steps, self.demand, self.resistance)
        found = [limit for limit in self.scope if limit.passed]
        found += [limit for step in worked for limit in step.passed if limit not in found]
        return tuple(found)

    @property
    def within(self) -> bool:
        """Whether the clause covers these numbers."""
        return not self.passed

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
    "the clause", note="The clause bounds a sum of ratios by 1.",
)  # fmt: skip
"""The resistance of a clause that bounds a sum of ratios."""
