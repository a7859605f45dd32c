"""What working out a case by hand returns: frozen records, and no computing."""

from dataclasses import dataclass
from typing import Literal

from contactfe.assess.by_hand.root import RootResultants
from contactfe.assess.checks import Check, Checked, OpenItem
from contactfe.case import Case, Section
from contactfe.codes.clause import ClauseCheck
from contactfe.hand.formula import Worked
from contactfe.shown import Shown

Topic = Literal["contact", "second contact", "section", "plate", "second plate", "post"]
"""What a step is about, in the order in which they are shown: the contact with each plate, the
section as a ring or disc, each plate as a strip or a layer, and the post along its axis."""


@dataclass(frozen=True)
class Step:
    """One worked formula in its place.

    ``key`` is stable and unique among the steps of a section; ``label`` says in words what it gives
    there; ``against`` is what a figure is measured by, the yield strength over the margin asked
    for, MPa, or None. A ``minor`` step only leads to another.
    """

    key: str
    topic: Topic
    label: str
    worked: Worked
    against: float | None = None
    minor: bool = False

    @property
    def utilisation(self) -> float | None:
        """The figure over what it is measured by; not to exceed 1."""
        return None if self.against is None else abs(self.worked.value) / self.against


@dataclass(frozen=True)
class Clauses:
    """One clause put to one part of a section; ``key`` is unique among those of a section.

    ``required`` is the size at which the part would just satisfy the clause, where a formula gives
    it.
    """

    key: str
    part: str  # "post on plate", "post on second plate", "post section", "root weld"
    check: ClauseCheck
    required: Worked | None = None


@dataclass(frozen=True)
class SectionByHand:
    """Steps in the order in which they are worked out, clauses, and what does not apply and why.

    ``root`` is what the post hands on to what holds its root, None without a [cantilever].
    """

    section: Section
    steps: tuple[Step, ...]
    clauses: tuple[Clauses, ...]
    left_out: tuple[str, ...]
    root: RootResultants | None = None

    def step(self, key: str) -> Step | None:
        """The step of that key, or None where it does not apply to the section."""
        return next((step for step in self.steps if step.key == key), None)

    def value(self, key: str) -> float:
        """The value of the step of that key. Raises KeyError where it does not apply."""
        step = self.step(key)
        if step is None:
            raise KeyError(key)
        return step.worked.value


@dataclass(frozen=True, repr=False)
class ByHand(Checked, Shown):
    """A case worked out by hand, section by section in the order of the case.

    ``checks`` are those of every section and of the load, ``open_items`` what none of them covers.
    """

    case: Case
    sections: tuple[SectionByHand, ...]
    checks: tuple[Check, ...] = ()
    open_items: tuple[OpenItem, ...] = ()
