"""What a sweep comes to: each row with what is known of it, and each section over all samples."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from contactfe.assess.sweep.result import Solution, SweepResult, SweepRow
from contactfe.assess.sweep.uncertainty import uncertainty
from contactfe.assess.value import Value


@dataclass(frozen=True)
class Judged:
    """A row with its keys, of which one that the section does not have is None.

    ``uncertainties`` are None where they are not known, or the row was not solved.
    """

    sample: int
    keys: tuple[int | float | None, ...]
    row: SweepRow
    uncertainties: Mapping[str, float] | None

    @property
    def below_yield(self) -> bool | None:
        """Whether post and plate stay below what is allowed, uncertainty counted.

        False for a row that was not solved, None where the uncertainty is not known.
        """
        if self.row.solution is None:
            return False
        if self.uncertainties is None:
            return None
        return all(use.upper <= 1.0 for use in self.utilisations.values())

    @property
    def passes(self) -> bool | None:
        """Whether every check passes: :attr:`below_yield`, and those beside the stresses.

        False for a row that was not solved, None where there is no verdict.
        """
        below, solution = self.below_yield, self.row.solution
        if solution is None or below is False or solution.other_verdict == "fails":
            return False
        return None if solution.other_verdict == "no verdict" else below

    @property
    def solution(self) -> Solution:
        """That of a row that was solved."""
        assert self.row.solution is not None
        return self.row.solution

    @property
    def utilisations(self) -> dict[str, Value]:
        """Those of post and plate; without uncertainty where it is not known."""
        solution, known = self.solution, self.uncertainties or {}
        return {
            body: Value(solution.number(key), known.get(solution.key(key), 0.0))
            for body, key in (("post", "post_utilisation"), ("plate", "plate_utilisation"))
        }

    @property
    def governing(self) -> tuple[str, Value]:
        """The body of the larger utilisation, its uncertainty counted, and that."""
        return max(self.utilisations.items(), key=lambda of: of[1].upper)


@dataclass
class Errors:
    """Rows that failed alike: but for numbers, their errors read the same."""

    example: str
    sample: int
    count: int = 0


@dataclass
class SectionSummary:
    """What a section comes to over all samples; ``least`` and ``most`` by utilisation.

    ``beside`` is the largest ratio of the checks beside the solved stresses, and which it is of.
    """

    name: str
    rows: int = 0
    solved: int = 0
    passed: int = 0
    unjudged: int = 0
    checked: int = 0
    least: Judged | None = None
    most: Judged | None = None
    peaks: tuple[float, float] = (float("inf"), 0.0)
    beside: tuple[float, str] = (0.0, "")
    seconds: float = 0.0
    errors: dict[str, Errors] = field(default_factory=dict)

    def add(self, one: Judged) -> None:
        """Take one more row in."""
        row, solution = one.row, one.row.solution
        self.rows += 1
        self.seconds += row.seconds
        if solution is None:
            alike = re.sub(r"[0-9.]+", "#", row.error)
            self.errors.setdefault(alike, Errors(row.error, one.sample)).count += 1
            return
        self.solved += 1
        self.passed += bool(one.passes)
        self.unjudged += one.passes is None
        self.checked += solution.uncertainties is not None
        self.beside = max(self.beside, (solution.other_ratio or 0.0, solution.other))
        peak = solution.number("post_peak")
        self.peaks = min(self.peaks[0], peak), max(self.peaks[1], peak)
        self.least = min(self.least or one, one, key=_largest)
        self.most = max(self.most or one, one, key=_largest)


@dataclass(frozen=True)
class SweepSummary:
    """A sweep and what each section of it comes to."""

    result: SweepResult
    sections: tuple[SectionSummary, ...]

    @property
    def solved(self) -> int:
        """Rows that were solved."""
        return sum(section.solved for section in self.sections)

    @property
    def settled(self) -> bool:
        """Whether every row passes every check, and no item is open that is not accepted."""
        return all(item.accepted for item in self.result.open_items) and all(
            section.passed == section.rows for section in self.sections
        )


def summary(result: SweepResult) -> SweepSummary:
    """What a sweep comes to; goes through all samples without keeping them."""
    found = {section.name: SectionSummary(section.name) for section in result.case.sections}
    for one in judged(result):
        found[one.row.section].add(one)
    return SweepSummary(result, tuple(found.values()))


def judged(result: SweepResult) -> Iterator[Judged]:
    """The rows of a sweep, sample after sample."""
    known = uncertainty(result)
    for sample in result.samples:
        for row in sample.rows:
            keys = result.plan.numbers_of(sample.number, row.section)
            yield Judged(sample.number, keys, row, known.of(row))


def _largest(one: Judged) -> float:
    return one.governing[1].upper
