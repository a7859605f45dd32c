"""Every contact of an envelope solved for every section: which governs each, which is best."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from contactfe.assess.bodies import Bodies
from contactfe.assess.results import Comparison
from contactfe.assess.row import Row, Strike
from contactfe.assess.runs import Crew, usable_cores
from contactfe.case import Case, Contact, Section
from contactfe.errors import InputError, SolveError


@dataclass(frozen=True)
class SectionEnvelope:
    """A section at every contact, in the order of the envelope.

    ``governing`` is the row of the largest utilisation of post or plate, uncertainty counted, and
    ``ties`` those that its uncertainty does not part from it; ``assessed`` is all that ``compare``
    finds of the section at that contact. None, and empty, where no contact could be solved.
    """

    section: Section
    rows: tuple[Row, ...]
    governing: Row | None
    ties: tuple[Row, ...]
    assessed: Comparison | None

    @property
    def solved(self) -> tuple[tuple[Row, Strike], ...]:
        """The rows that were solved, with their figures."""
        return tuple((row, row.strike) for row in self.rows if row.strike is not None)

    @property
    def highest(self) -> Row | None:
        """The row of the post's largest peak von Mises stress."""
        rows = max(self.solved, key=lambda pair: pair[1].post.peak.value, default=None)
        return None if rows is None else rows[0]

    @property
    def satisfied(self) -> bool:
        """Whether every contact was solved and passes."""
        return all(row.satisfied for row in self.rows)


@dataclass(frozen=True)
class EnvelopeResult:
    """Every section of a case over its envelope, and the answer.

    The rankings hold the names of the sections that were solved, best first: by the governing
    utilisation, and by the post's largest peak von Mises stress.
    """

    case: Case
    sections: tuple[SectionEnvelope, ...]
    by_utilisation: tuple[str, ...]
    by_peak: tuple[str, ...]

    @property
    def rows(self) -> tuple[Row, ...]:
        """All rows, section after section."""
        return tuple(row for section in self.sections for row in section.rows)

    @property
    def satisfied(self) -> bool:
        """Whether every section passes at every contact."""
        return all(section.satisfied for section in self.sections)

    @property
    def accurate(self) -> bool:
        """Whether every row that was solved reached the accuracy that the case asks for."""
        return not any(row.strike.stopped for row in self.rows if row.strike is not None)

    def section(self, name: str) -> SectionEnvelope:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)


def envelope(
    case: Case,
    processes: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    known: Iterable[Row] = (),
    keep: Callable[[Row], None] | None = None,
) -> EnvelopeResult:
    """Solve every section of a case at every contact of its envelope.

    The result does not depend on the number of processes. With more than one, a script must call
    this below ``if __name__ == "__main__":``, as every process reads the script anew.

    Parameters
    ----------
    case
        what the engineer stated, with an envelope
    processes
        how many to share the work; as many as there are cores to use where it is None
    progress
        called with the number of rows that are there and of all, first and after each row
    known
        rows solved before for this very case, which are not solved again
    keep
        called with each row that was solved now, as soon as it is there

    Raises
    ------
    InputError
        if the case states no envelope, or no contact of it suits the model
    SolveError
        if no contact could be solved, or a process of several ended before its time
    """
    check_envelope(case)
    assert case.envelope is not None
    if processes is not None and processes < 1:
        raise InputError(f"processes = {processes} must be at least 1")
    contacts = case.envelope.contacts
    jobs = [(section, contact) for section in case.sections for contact in contacts]
    asked = {(section.name, contact) for section, contact in jobs}
    found = {_place(row): row for row in known if _place(row) in asked}

    def tell() -> None:
        if progress is not None:
            progress(len(found), len(jobs))

    with Crew(case, processes or usable_cores()) as crew:
        tell()
        for row in crew.rows([job for job in jobs if (job[0].name, job[1]) not in found]):
            found[_place(row)] = row
            if keep is not None:
                keep(row)
            tell()
        _check_some(case, [found[section.name, contact] for section, contact in jobs])
        return _judged(case, found, contacts, crew)


def check_envelope(case: Case) -> None:
    """Refuse a case that states no envelope, or a mesh of its own that cannot be used; asked before
    anything is written.

    Raises
    ------
    InputError
        naming the file and what to add or to change
    """
    if case.envelope is None:
        raise InputError(
            f"{case.source}: has no [envelope]; add one that states what is to be tried, such as"
            ' offset = ["-50 mm", "0 mm", "50 mm"], angle = ["0 deg", "10 deg"] or'
            " friction = [0.0, 0.2]"
        )
    Bodies(case).check_drawn()


def governing(rows: Iterable[Row]) -> tuple[Row | None, tuple[Row, ...]]:
    """The row of the largest utilisation, uncertainty counted, and those it may tie with."""
    solved = [row for row in rows if row.strike is not None]
    if not solved:
        return None, ()
    worst = max(solved, key=lambda row: row.most)
    least = worst.utilisation.value - worst.utilisation.uncertainty
    return worst, tuple(row for row in solved if row is not worst and row.most >= least)


def _place(row: Row) -> tuple[str, Contact]:
    return row.section, row.contact


def _check_some(case: Case, rows: Sequence[Row]) -> None:
    if any(row.strike is not None for row in rows):
        return
    text = f"{case.source}: none of {len(rows)} contacts could be solved; first: {rows[0].error}"
    raise InputError(text) if all(row.refused for row in rows) else SolveError(text)


def _judged(
    case: Case,
    found: dict[tuple[str, Contact], Row],
    contacts: tuple[Contact, ...],
    crew: Crew,
) -> EnvelopeResult:
    rows = {s.name: tuple(found[s.name, contact] for contact in contacts) for s in case.sections}
    worst = {name: governing(of) for name, of in rows.items()}
    jobs = [(s, row.contact) for s in case.sections if (row := worst[s.name][0]) is not None]
    names = [section.name for section, _ in jobs]
    assessed = dict(zip(names, crew.assessed(jobs), strict=True))
    sections = tuple(
        SectionEnvelope(s, rows[s.name], *worst[s.name], assessed.get(s.name))
        for s in case.sections
    )

    def ranked(key: Callable[[Row], float]) -> tuple[str, ...]:
        """Names by the largest of a figure over the rows."""
        most = {s.section.name: [key(row) for row, _ in s.solved] for s in sections}
        return tuple(sorted((name for name in most if most[name]), key=lambda n: max(most[n])))

    return EnvelopeResult(
        case,
        sections,
        ranked(lambda row: row.most),
        ranked(lambda row: row.strike.post.peak.value if row.strike else 0.0),
    )
