"""Every section of a case, each a point of a study whatever is asked of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from contactfe.assess.bodies import Bodies
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.study.crew import Crew, Progress, how_many
from contactfe.study.point import Kept, no_answer

Found = TypeVar("Found")
Ask = Callable[[Case, Section, Bodies], Found]


ALONE = 3
"""Sections of a long contact, at a time, that this process solves about as soon as another is ready
to: with 2 cores `compare` of 3 took 4.3 s alone and 4.5 s shared. Over a stated length, where the
post is solved in three dimensions, a section takes several times as long."""


@dataclass(frozen=True)
class OfSection(Generic[Found]):
    """What is asked of the section of that number, by a function of a module."""

    number: int
    ask: Ask[Found]

    @property
    def group(self) -> int:
        """Sections share no bodies."""
        return self.number

    def solve(self, case: Case, kept: Kept) -> Found:
        """What is found. Raises what is asked raises, a SolveError with file and section."""
        section = case.sections[self.number]
        try:
            return self.ask(case, section, Bodies(case, kept))
        except SolveError as error:
            raise SolveError(f"{case.source}: section “{section.name}”: {error}") from error

    def unsolved(self, case: Case, why: str) -> Found:
        """Raises SolveError."""
        raise no_answer(f"{case.source}: section “{case.sections[self.number].name}”: {why}")


def each_section(
    case: Case, ask: Ask[Found], processes: int | None = 1, progress: Progress | None = None
) -> list[Found]:
    """What is found of every section of a case, in turn or by processes that share them.

    None shares them where that is worth it.
    ``progress`` is called with the sections done and those of all, first and after each. Raises
    InputError for a mesh that cannot be used, and what ``ask`` raises, a SolveError with file and
    section.
    """
    count = len(case.sections)
    worth = count if processes is not None or case.alignment is not None else count // ALONE
    processes = max(1, min(how_many(processes), worth))
    Bodies(case).check_drawn()
    with Crew(case.settled(), processes, progress) as crew:
        return crew.solve([OfSection(number, ask) for number in range(count)])
