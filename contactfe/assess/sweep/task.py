"""A sample to be solved, in few words: it is sent from process to process."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contactfe.assess.sweep.plan import Written
from contactfe.assess.sweep.result import Sample, SweepRow
from contactfe.case.across import Location
from contactfe.case.wording import told
from contactfe.study.point import Kept


@dataclass(frozen=True)
class Work:
    """What all samples of a sweep share: the tables of the file, and where each key's values go."""

    data: Mapping[str, Any]
    source: str
    places: tuple[tuple[Location, ...], ...]
    sections: tuple[str, ...]


@dataclass(frozen=True)
class Task:
    """A sample to be solved: the values of the keys, and whether on two mesh levels."""

    number: int
    values: tuple[Written, ...]
    checked: bool

    @property
    def group(self) -> int:
        """The plan's order has samples that share bodies follow one another; that is enough."""
        return self.number

    def solve(self, work: Work, kept: Kept) -> Sample:
        """The sample."""
        from contactfe.assess.sweep.work import solve_task  # which loads the solver

        return solve_task(work, self, kept)

    def unsolved(self, work: Work, why: str) -> Sample:
        """The sample with a row for each section that says why."""
        return Sample(
            self.number, tuple(SweepRow(name, None, 0.0, told(why)) for name in work.sections)
        )
