"""What a sweep returns: frozen records of numbers, mm, MPa, N/mm and kg/m."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

from annotated_types import MaxLen

from contactfe.assess.checks import OpenItem, Verdict
from contactfe.assess.relief import not_long
from contactfe.assess.value import Figure, key_of
from contactfe.case import Case
from contactfe.case.wording import LONGEST
from contactfe.shown import Shown

if TYPE_CHECKING:
    from contactfe.assess.sweep.plan import Plan


@dataclass(frozen=True)
class Solution:
    """A section solved: figures by the keys of the registry, with what belongs to them.

    ``uncertainties`` is None where it was solved on one mesh level. ``line_load`` is that on the
    first plate, and its peak where the load is shared unevenly along the post; ``plate`` the number
    of the plate with the larger peak, 1 or 2. ``other`` is the governing check of those beside the
    solved stresses, by its label, with its ratio and the verdict of all of them; empty where there
    is none.
    """

    figures: Mapping[str, Figure]
    uncertainties: Mapping[str, float] | None
    line_load: float
    plate: int
    mass_per_length: float
    unknowns: int
    meshes: int
    other: str
    other_ratio: float | None
    other_verdict: Verdict

    def key(self, quantity: str) -> str:
        """The key of a quantity; those of a plate are of the plate with the larger peak."""
        return key_of(quantity, self.plate - 1 if quantity.startswith("plate_") else 0)

    def figure(self, quantity: str) -> Figure | None:
        """The figure of a quantity; None where the section has none."""
        return self.figures.get(self.key(quantity))

    def number(self, quantity: str) -> float:
        """The number of one that every section has. Raises KeyError for another."""
        return self.figures[self.key(quantity)].value


@dataclass(frozen=True)
class SweepRow:
    """A section in a sample: solved, or the error that kept it from being so.

    ``refused`` says that the error is one of the input, and not of the solution.
    """

    section: str
    solution: Solution | None
    seconds: float
    error: Annotated[str, MaxLen(LONGEST)] = ""
    refused: bool = False


@dataclass(frozen=True)
class Sample:
    """A sample by its number in the plan, with a row for each section of the case."""

    number: int
    rows: tuple[SweepRow, ...]


@dataclass(frozen=True, repr=False)
class SweepResult(Shown):
    """A sweep: the case that it starts from, its plan, and the samples in the order of the plan.

    ``samples`` may be a tuple, or anything that can be gone through more than once.
    """

    case: Case
    plan: Plan
    samples: Iterable[Sample]

    @property
    def open_items(self) -> tuple[OpenItem, ...]:
        """What no check of the case, as the file states it, covers.

        The relief of a tube is among them where its contact is not stated to be long and even: the
        samples have no bounds of it.
        """
        from contactfe.assess.by_hand.case import by_hand
        from contactfe.assess.open_items import open_items

        case = self.case
        items = open_items(case, case.sections, by_hand(case).checks)
        whys = [(s.name, why) for s in case.sections if (why := not_long(case, s))]
        if not whys:
            return items
        return (*items, OpenItem("relief", case, tuple(name for name, _ in whys), whys[0][1]))
