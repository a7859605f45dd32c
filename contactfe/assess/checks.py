"""The one list of checks: every comparison of a demand with a resistance, and what it comes to.

A check passes if its ratio with the numerical uncertainty added is at most 1. Where an input that
decides is missing, or a formula or clause does not cover the numbers, there is no verdict. Every
verdict of the tool, in words, in JSON and as an exit status, is read off such a list.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from contactfe.case import Case
from contactfe.hand.formula import Limit
from contactfe.hand.quantities import Dimension
from contactfe.plain import plain
from contactfe.section.outlines import Shape

Verdict = Literal["passes", "fails", "no verdict"]

Kind = Literal["stress", "post", "clauses", "hand", "load", "motion"]
"""Of what sort a check is: a solved stress, the post along its axis, a clause, another stress by
hand, the load against the motion, what the stop and its dampers do in the motion."""

LimitState = Literal[
    "contact stress", "ring bending", "post section", "root weld", "root socket",
    "plate bending", "collapse", "infill", "load", "engagement", "damper stroke", "damper force",
    "floor displacement", "contacts",
]  # fmt: skip
"""What a check guards against. One that does not apply leaves nothing open while another check of
its limit state does; solved stresses stand for the first two, the bending of the plate, and, where
that of the post passes, collapse."""


@dataclass(frozen=True)
class Check:
    """A demand put against a resistance, in the unit in which figures of ``dimension`` are held.

    ``key`` is stable and unique among the checks of a ``section``, which is "" for the stop as a
    whole; ``body`` is the part that is checked. ``ratio_uncertainty`` is that of the ratio.
    ``missing`` says which input is not there to decide, and ``exceeded`` which limits of its
    formula or clause the numbers pass; with either there is no verdict. What does not ``apply``,
    such as a clause outside its scope, is listed and never counts. ``contact`` is the number of the
    contact, of those tried, at which it is worst, and ``reserve`` the factor by which all loads may
    grow until the ratio is 1, None where that is not known. ``covered_by`` is the key of the check
    of the same section by which one does not apply; empty where its own scope decides.
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
    ratio_uncertainty: float = 0.0
    missing: str = ""
    exceeded: tuple[Limit, ...] = ()
    applies: bool = True
    contact: int = 0
    reserve: float | None = None
    covered_by: str = ""

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
        return float("inf") if self.ratio is None else self.ratio + self.ratio_uncertainty

    @property
    def verdict(self) -> Verdict:
        """Passes if the ratio with its uncertainty is at most 1 and it is known to hold."""
        if self.missing or self.exceeded or self.ratio is None:
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


def severity(check: Check) -> tuple[int, float]:
    """Rises from what passes to what has no verdict to what fails, and with the ratio."""
    order: dict[Verdict, int] = {"passes": 0, "no verdict": 1, "fails": 2}
    return order[check.verdict], check.most


def governing(checks: Iterable[Check]) -> Check | None:
    """The one of the greatest severity of those that apply; None where none does."""
    return max(counted(checks), key=severity, default=None)


def worst_of_each(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Of checks at several contacts, each at the contact where it is worst, as they come.

    One that applies anywhere counts before one that does not.
    """
    worst: dict[tuple[str, str], Check] = {}
    for check in checks:
        place = (check.section, check.key)
        before = worst.setdefault(place, check)
        if (check.applies, severity(check)) > (before.applies, severity(before)):
            worst[place] = check
    return tuple(worst.values())


WALLS = ("least wall", "greatest wall")
"""The limits of a tube, by which the checks of its solved stresses there are named."""


def as_made(check: Check) -> bool:
    """Whether a check is of a tube at a limit of its wall."""
    return check.key.endswith(tuple(f"_{wall.replace(' ', '_')}" for wall in WALLS))


OpenKey = Literal[
    "motion", "law", "ground", "sharing", "tilt", "post", "root", "relief", "infill", "tolerance"
]
"""What may be open, by the key under which [accept] takes it."""

Why = (
    Literal[
        "plane stress",
        "length not stated",
        "force not found",
        "limits not solved",
        "limits in [contact] alone",
        "checked",
    ]
    | Shape
    | float
)
"""What leaves a slice that of a long even contact; that a section is drawn elsewhere; by what share
a tenth more of displacement raises the impact force, or that this was not found; how many times the
energy of the contact a stated law takes; that a run solves no limits of a wall, or none at the
contacts of an envelope; that a run has checked what it knows of a limit state."""


@dataclass(frozen=True)
class Bounds:
    """Between which values the post's peak von Mises stress in a section lies, MPa.

    ``slice_peak`` is as solved, ``half_space_peak`` by hand without relief, the axial stress of the
    post's own bending added to it in full; ``bore`` is the largest hoop stress of the slice at the
    bore, None where it has none. ``why`` says what keeps the slice from holding.
    """

    section: str
    slice_peak: float
    half_space_peak: float
    bore: float | None
    why: Why


@dataclass(frozen=True)
class OpenItem:
    """A limit state that the job needs and no check of this run of a case covers.

    ``sections`` names those that it concerns, none where it concerns all. ``why`` is what the case
    by itself does not show of the reason, None where it shows all; ``bounds`` what is known all the
    same, section by section.
    """

    key: OpenKey
    case: Case
    sections: tuple[str, ...] = ()
    why: Why | None = None
    bounds: tuple[Bounds, ...] = ()

    @property
    def accepted(self) -> str:
        """The reason for which the case accepts it; empty where it does not."""
        return dict(self.case.accepted).get(self.key, "")


class Checked:
    """What a list of checks judges, beside the items that none of them covers."""

    checks: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]

    @property
    def satisfied(self) -> bool:
        """Whether every check that applies passes: of the load, and of all sections everywhere."""
        return verdict_of(self.checks) == "passes"

    @property
    def settled(self) -> bool:
        """Whether it is satisfied, and the case accepts what is open."""
        return self.satisfied and all(item.accepted for item in self.open_items)
