"""What a clause of a standard is, how one is declared, and what comes of checking it.

A clause is one declaration: a function of loads, sizes and strengths that returns its
:class:`Sides`, under :meth:`Standard.clause`, which says what it is, what it is intended for and
how far it applies here. Called, it gives a :class:`ClauseCheck`. All are in :data:`CLAUSES`.

A clause is intended for a certain kind of member. A post that strikes a bumper plate is mostly
another, so each clause states what it is intended for and how far it applies to such a stop. Local
codes and licensed practice govern.
"""

import functools
import inspect
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, ParamSpec, TypeVar

from contactfe.hand.formula import Arguments, Formula, Limit, Units, Worked, formula

P = ParamSpec("P")
R = TypeVar("R")

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

Text = Literal[
    "seen in a public copy",
    "seen in a public extract",
    "seen in a public extract of a textbook",
    "seen in public open-source libraries",
    "from memory, not seen",
]
"""Whether and where the text of a clause, or that behind a formula, was seen."""


@dataclass(frozen=True)
class Clause:
    """One clause of one edition of a standard."""

    key: str  # stable, such as "aisc_360.j7_roller"
    standard: str  # "AISC 360"
    edition: str  # "2022"
    number: str  # of the clause and its equation: "J7(b), eq. J7-2"
    title: str  # in words: "bearing of expansion rollers and rockers"
    written_for: str
    carries: str  # how far it applies to a post on a bumper plate
    reach: Applicability
    level: Level
    text: Text
    newer_edition: str = (
        ""  # the edition after this one and what is known of it; empty where none is known
    )

    @property
    def name(self) -> str:
        """Standard, edition and clause in one line.

        >>> from contactfe.codes.clause import CLAUSES
        >>> CLAUSES["aisc_360.g5"].name
        'AISC 360 (2022), G5, eqs G5-1 and G5-2'
        """
        return f"{self.standard} ({self.edition}), {self.number}"


def editions(clauses: Iterable[Clause]) -> tuple[str, ...]:
    """A sentence for each standard of the clauses: the edition taken, and the newer one if any."""
    every = {(of.standard, of.edition): of.newer_edition for of in clauses}
    return tuple(
        f"{standard}, clauses of: {edition}."
        + (f" Newer: {newer}." if newer else " No newer edition is known here.")
        for (standard, edition), newer in every.items()
    )


CLAUSES: dict[str, Clause] = {}
"""Every clause that is declared, by its key."""


@dataclass(frozen=True)
class Sides:
    """Demand and resistance of a clause on certain numbers; the rest is as in :class:`ClauseCheck`.

    A ``demand`` that is a plain number is the first argument of the clause.
    """

    demand: Worked | float
    resistance: Worked
    steps: tuple[Worked, ...] = ()
    scope: tuple[Limit, ...] = ()
    grows: Growth = "as the load"
    load_factor: float | None = None


@dataclass(frozen=True)
class ClauseCheck:
    """A clause put to numbers.

    ``demand`` and ``resistance`` are of one dimension; the resistance has its resistance factor,
    safety factor or partial factor in it. ``steps`` are the formulas that led to the two, in order,
    without them. ``scope`` are the limits of what the clause is intended for, exceeded or not; the
    limits of the steps' own ranges count as well. ``ratio_grows`` says how the ratio grows with all
    loads together, the shape of the load unchanged. Where that is "faster than the load",
    ``stated_load_factor`` is the one at which the ratio is 1, and None everywhere else.
    """

    clause: Clause
    demand: Worked
    resistance: Worked
    steps: tuple[Worked, ...] = ()
    scope: tuple[Limit, ...] = ()
    ratio_grows: Growth = "as the load"
    stated_load_factor: float | None = None

    @property
    def ratio(self) -> float:
        """Demand over resistance; at most 1 if the clause is satisfied, infinite without any."""
        if self.resistance.value <= 0.0:
            return float("inf")
        return self.demand.value / self.resistance.value

    @property
    def load_factor(self) -> float:
        """By what factor all loads together may grow until the ratio is 1.

        Below 1 where the clause is not satisfied, infinite without a demand, 0 without resistance.
        It does not say whether the clause still covers loads that large.
        """
        if self.stated_load_factor is not None:
            return self.stated_load_factor
        if self.ratio == 0.0:
            return math.inf
        return float(self.ratio ** (-1 / POWER[self.ratio_grows]))

    @property
    def exceeded(self) -> tuple[Limit, ...]:
        """The limits beyond which the clause, or a formula that leads to it, does not hold."""
        worked = (*self.steps, self.demand, self.resistance)
        found = [limit for limit in self.scope if limit.exceeded]
        found += [limit for step in worked for limit in step.exceeded if limit not in found]
        return tuple(found)

    @property
    def within_scope(self) -> bool:
        """Whether the clause covers these numbers."""
        return not self.exceeded

    @property
    def satisfied(self) -> bool | None:
        """Whether the demand stays within the resistance; None outside the clause's scope."""
        return self.ratio <= 1.0 if self.within_scope else None


UNITY = Worked(
    "clause.unity", "bound of an interaction", "1", None, {}, 1.0, None,
    "by the clause", note="The clause bounds a sum of ratios by 1.",
)  # fmt: skip
"""The resistance of a clause that bounds a sum of ratios. It reads: bound of an interaction: 1, by
the clause."""


@dataclass(frozen=True)
class Standard:
    """One edition of a standard, and what its clauses and its formulas have in common.

    ``text`` says how it was seen; a clause or a formula that was seen otherwise says so itself.
    ``newer`` names the edition after it and what is known to be otherwise there, without the full
    stop; it is empty where none is known.
    """

    name: str
    edition: str
    cited: str  # as sources name it: "AISC 360-22"
    text: Text
    symbols: Mapping[str, str]  # as the standard writes them
    newer: str = ""

    def source(self, where: str, text: Text | None = None, derived: str = "") -> str:
        """A place in the standard as a source, with what is ``derived`` here from it."""
        place, seen = f"{self.cited}, {where}", text or self.text
        return f"derived here from {place} ({seen}): {derived}" if derived else f"{place}: {seen}"

    def formula(
        self,
        name: str,
        symbol: str,
        where: str,
        *,
        text: Text | None = None,
        derived: str = "",
        note: str = "",
        units: Units | None = None,
    ) -> Callable[[Callable[P, R]], Formula[P, R]]:
        """A formula of the standard by its place there, or one ``derived`` here from it."""
        return formula(
            name, symbol, source=self.source(where, text, derived), symbols=self.symbols,
            note=note, units=units,
        )  # fmt: skip

    def clause(
        self,
        key: str,
        number: str,
        title: str,
        *,
        intended_for: str,
        applies_here: str,
        applicability: Applicability,
        level: Level,
        text: Text | None = None,
    ) -> Callable[[Callable[P, Sides]], Callable[P, ClauseCheck]]:
        """Make a function that returns its :class:`Sides` a clause of the standard.

        Its arguments are annotated as those of a formula are.
        """
        assert key not in CLAUSES, key
        clause = CLAUSES[key] = Clause(
            key, self.name, self.edition, number, title, intended_for, applies_here,
            applicability, level, text or self.text, self.newer,
        )  # fmt: skip

        def make(function: Callable[P, Sides]) -> Callable[P, ClauseCheck]:
            arguments = Arguments(function, self.symbols)
            first = next(iter(arguments.dimensions))

            @functools.wraps(function)
            def check(*args: P.args, **kwargs: P.kwargs) -> ClauseCheck:
                given = arguments.bound(*args, **kwargs)
                found = function(**given)  # type: ignore[call-arg]
                demand = found.demand
                if not isinstance(demand, Worked):
                    assert demand == given[first], f"the demand of {key} is not its {first}"
                    demand = _stated(arguments, first, demand)
                return ClauseCheck(
                    clause, demand, found.resistance, found.steps, found.scope, found.grows,
                    found.load_factor,
                )  # fmt: skip

            check.__doc__ = (
                f"{clause.number}: {clause.title}.\n\n{inspect.getdoc(function) or ''}\n\n"
                f"Takes {arguments.described()}. Source: {clause.name}, {clause.text}"
            )
            return check

        return make


def _stated(arguments: Arguments, name: str, value: float) -> Worked:
    """A demand that comes to the clause as it is, such as a line load: it has no form."""
    given = arguments.given(name, value)
    return Worked(
        "clause.stated", name.replace("_", " "), given.symbol, None, {}, float(value),
        given.dimension, "from the analysis", note="As the analysis gives it.",
    )  # fmt: skip
