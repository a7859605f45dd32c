"""What a sweep returns: frozen records of numbers, mm, MPa, N/mm and kg/m."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from contactfe.assess.checks import OpenItem, Verdict
from contactfe.assess.relief import not_long
from contactfe.case import Case

if TYPE_CHECKING:
    from contactfe.assess.sweep.plan import Plan


@dataclass(frozen=True)
class Uncertainties:
    """Numerical uncertainties of the figures of the same names."""

    peak_pressure: float
    half_width: float
    approach: float
    post_peak: float
    plate_peak: float
    bore_hoop_under_load: float | None
    bore_hoop_at_side: float | None


@dataclass(frozen=True)
class Figures:
    """A section solved. ``uncertainties`` is None where it was solved on one mesh level.

    Peaks are of the von Mises stress, each in a zone at (x, y); allowed is the yield strength over
    the margin. ``plate`` is the number of the plate with the larger peak, 1 or 2, and x and y of
    its peak are in that plate's axes. The approach is positive where post and plate come together.
    The bore hoop stresses are those of a tube, tension positive. The line load is that on the first
    plate, and its peak where the load is shared unevenly along the post. ``other`` is the governing
    check of those beside the solved stresses, by its label, with its ratio and the verdict of all
    of them; empty where there is none.
    """

    line_load: float
    peak_pressure: float
    half_width: float
    approach: float
    post_peak: float
    post_zone: str
    post_x: float
    post_y: float
    post_allowed: float
    plate: int
    plate_peak: float
    plate_zone: str
    plate_x: float
    plate_y: float
    plate_allowed: float
    stress_concentration: float  # post's peak over line load per outside diameter
    bore_hoop_under_load: float | None
    bore_hoop_at_side: float | None
    mass_per_length: float
    unknowns: int
    meshes: int
    uncertainties: Uncertainties | None
    other: str
    other_ratio: float | None
    other_verdict: Verdict


@dataclass(frozen=True)
class SweepRow:
    """A section in a sample: solved, or the error that kept it from being so.

    ``refused`` says that the error is one of the input, and not of the solution.
    """

    section: str
    figures: Figures | None
    seconds: float
    error: str = ""
    refused: bool = False


@dataclass(frozen=True)
class Sample:
    """A sample by its number in the plan, with a row for each section of the case."""

    number: int
    rows: tuple[SweepRow, ...]


@dataclass(frozen=True)
class SweepResult:
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
        uneven = case.alignment is not None
        whys = [(s.name, why) for s in case.sections if (why := not_long(case, s, uneven=uneven))]
        if not whys:
            return items
        names = tuple(name for name, _ in whys)
        accepted = dict(case.accepted).get("relief", "")
        label = "relief of a tube over a finite contact"
        why = f"{whys[0][1]}; compare has its bounds"
        return (*items, OpenItem("relief", label, why, names, accepted))
