"""Every contact of an envelope solved for every section: which governs each, which is best."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import (
    beside_solved,
    by_hand_checks,
    infill_checks,
    von_mises_check,
)
from contactfe.assess.checks import Check, Checked, OpenItem, Verdict, verdict_of, worst_of_each
from contactfe.assess.compare import compared
from contactfe.assess.hazard import motion_checks
from contactfe.assess.open_items import open_items
from contactfe.assess.readout import read_out
from contactfe.assess.relief import reliefs
from contactfe.assess.resources import check_space
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.row import Row
from contactfe.assess.section import assess_section
from contactfe.assess.softness import softness
from contactfe.assess.value import Value
from contactfe.case import Case, Contact, Section
from contactfe.case.wording import told
from contactfe.errors import InputError, SolveError
from contactfe.shown import Shown
from contactfe.study.crew import Crew, Progress, how_many
from contactfe.study.point import Kept, no_answer


@dataclass(frozen=True)
class AtContact:
    """A section at a contact of the envelope of a case: a point, of which a row is the answer."""

    number: int
    section: Section
    contact: Contact

    @property
    def group(self) -> tuple[str, float]:
        """Contacts at one place of the plate share both bodies, or nearly."""
        return self.section.name, self.contact.offset

    def solve(self, case: Case, kept: Kept) -> Row:
        """The row; an InputError or SolveError becomes one that states it."""
        at = case.at(self.contact)
        bodies = Bodies(at, kept)
        try:
            at = loaded(at, self.section, bodies)
            levels = solve_levels(at, self.section, bodies)
        except (InputError, SolveError) as error:
            text, refused = told(error, case.source), isinstance(error, InputError)
            return Row(self.section.name, self.contact, error=text, refused=refused)
        return Row(
            self.section.name, self.contact, read_out(levels).values,
            motion=levels.fine.reading.patch.state.motion, stopped=levels.stopped,
            line_load=at.line_loads[0], spread=at.spread,
        )  # fmt: skip

    def unsolved(self, case: Case, why: str) -> Row:
        """Raises SolveError."""
        raise no_answer(f"{case.source}: section “{self.section.name}”: {why}")


@dataclass(frozen=True)
class InFull:
    """The same point, of which all that ``compare`` finds is the answer."""

    number: int
    at: AtContact

    @property
    def group(self) -> int:
        """There is one of each section."""
        return self.number

    def solve(self, case: Case, kept: Kept) -> Comparison:
        """The comparison. Raises what ``compare`` raises."""
        section = self.at.section
        alone = replace(case.at(self.at.contact), sections=(section,), envelope=None)
        return compared(alone, [assess_section(alone, section, Bodies(alone, kept))])

    def unsolved(self, case: Case, why: str) -> Comparison:
        """Raises SolveError."""
        raise no_answer(f"{case.source}: section “{self.at.section.name}”: {why}")


@dataclass(frozen=True)
class SectionEnvelope:
    """A section at every contact, in the order of the envelope.

    ``verdicts`` are those of the rows, by every check that applies there.
    ``governing`` is the row of the largest utilisation of post or plate, uncertainty counted, and
    ``ties`` those that its uncertainty does not part from it; ``assessed`` is all that ``compare``
    finds of the section at that contact. None, and empty, where no contact could be solved.
    """

    section: Section
    rows: tuple[Row, ...]
    verdicts: tuple[Verdict, ...]
    governing: Row | None
    ties: tuple[Row, ...]
    assessed: Comparison | None

    @property
    def solved(self) -> tuple[Row, ...]:
        """The rows that were solved."""
        return tuple(row for row in self.rows if row.solved)

    @property
    def at_governing(self) -> SectionResult | None:
        """The section as assessed where it governs."""
        return None if self.assessed is None else self.assessed.sections[0]

    @property
    def reason(self) -> str | None:
        """The reason that it gives."""
        return None if self.assessed is None else self.assessed.reason

    @property
    def highest_post_peak(self) -> Row | None:
        """The row of the post's largest peak von Mises stress."""
        return max(self.solved, key=lambda row: row.post.peak_von_mises.value, default=None)

    @property
    def satisfied(self) -> bool:
        """Whether every contact was solved and passes every check that applies."""
        return all(verdict == "passes" for verdict in self.verdicts)


@dataclass(frozen=True, repr=False)
class EnvelopeResult(Checked, Shown):
    """Every section of a case over its envelope, and the answer.

    The rankings hold the names of the sections that were solved, best first: by the governing
    utilisation, and by the post's largest peak von Mises stress. ``checks`` are those of every
    section, each at the contact where it is worst, and of the load; ``open_items`` what none of
    them covers.
    """

    case: Case
    sections: tuple[SectionEnvelope, ...]
    by_utilisation: tuple[str, ...]
    by_peak: tuple[str, ...]
    checks: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]

    @property
    def rows(self) -> tuple[Row, ...]:
        """All rows, section after section."""
        return tuple(row for section in self.sections for row in section.rows)

    def utilisation_of(self, name: str) -> Value:
        """The governing utilisation of the section of that name, which is ranked."""
        row = self.section(name).governing
        assert row is not None
        return row.utilisation

    @property
    def accurate(self) -> bool:
        """Whether every row that was solved reached the accuracy that the case asks for."""
        return not any(row.stopped for row in self.rows)

    def section(self, name: str) -> SectionEnvelope:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)


def envelope(
    case: Case,
    processes: int | None = None,
    progress: Progress | None = None,
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
    check_space()
    points = contacts_of(case)
    numbers = {(point.section.name, point.contact): point.number for point in points}
    there = {number: row for row in known if (number := numbers.get(row.place)) is not None}
    with Crew(case.settled(), how_many(processes), progress) as crew:
        rows = crew.solve(points, there, keep)
        _check_some(case, rows)
        governs = {s.name: governing(r for r in rows if r.section == s.name) for s in case.sections}
        worst = [p for p, row in zip(points, rows, strict=True) if row is governs[row.section][0]]
        full = crew.solve([InFull(*pair) for pair in enumerate(worst)], counted=False)
    assessed = {p.section.name: one for p, one in zip(worst, full, strict=True)}
    return _judged(case, rows, governs, assessed)


def contacts_of(case: Case) -> list[AtContact]:
    """Every contact of every section, for a case that states an envelope."""
    assert case.envelope is not None
    pairs = ((section, at) for section in case.sections for at in case.envelope.contacts)
    return [AtContact(number, *pair) for number, pair in enumerate(pairs)]


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
    solved = [row for row in rows if row.solved]
    if not solved:
        return None, ()
    worst = max(solved, key=lambda row: row.most)
    least = worst.utilisation.value - worst.utilisation.uncertainty
    return worst, tuple(row for row in solved if row is not worst and row.most >= least)


def _check_some(case: Case, rows: Sequence[Row]) -> None:
    if any(row.solved for row in rows):
        return
    text = f"{case.source}: none of {len(rows)} contacts could be solved; first: {rows[0].error}"
    raise InputError(text) if all(row.refused for row in rows) else SolveError(text)


def _judged(
    case: Case,
    found: Sequence[Row],
    worst: dict[str, tuple[Row | None, tuple[Row, ...]]],
    assessed: dict[str, Comparison],
) -> EnvelopeResult:
    rows = {s.name: tuple(r for r in found if r.section == s.name) for s in case.sections}
    checks = {
        s.name: [_row_checks(case, s, row, number) for number, row in enumerate(rows[s.name])]
        for s in case.sections
    }
    sections = tuple(
        SectionEnvelope(
            s,
            rows[s.name],
            tuple(map(verdict_of, checks[s.name])),
            *worst[s.name],
            assessed.get(s.name),
        )
        for s in case.sections
    )
    every = (
        *motion_checks(case),
        *worst_of_each(check for s in case.sections for of in checks[s.name] for check in of),
    )
    results = [section for one in assessed.values() for section in one.sections]

    def ranked(key: Callable[[Row], float]) -> tuple[str, ...]:
        """Names by the largest of a figure over the rows."""
        most = {s.section.name: [key(row) for row in s.solved] for s in sections}
        return tuple(sorted((name for name in most if most[name]), key=lambda n: max(most[n])))

    return EnvelopeResult(
        case,
        sections,
        ranked(lambda row: row.most),
        ranked(lambda row: row.post.peak_von_mises.value),
        every,
        open_items(case, case.sections, every, reliefs(case, results), softness(case, results)),
    )


def _row_checks(case: Case, section: Section, row: Row, contact: int) -> tuple[Check, ...]:
    """Every check of a section at one contact of an envelope, the one of that number.

    ``case`` is that of the envelope. One check without a verdict where it was not solved.
    """
    if not row.solved:
        unsolved = Check(
            "contacts", "contacts solved", "stress", "contacts", section.name, "post", None, None,
            None, "solved", missing=row.error, contact=contact,
        )  # fmt: skip
        return (unsolved,)
    at = replace(case.at(row.contact), spread=row.spread)
    strengths = at.post_material(section).yield_strength, at.plate_material.yield_strength
    solved = [
        von_mises_check(at, section, body.name, body.peak_von_mises, strength, contact)
        for body, strength in zip((row.post, row.plate), strengths, strict=True)
    ]
    hand = by_hand_checks(at, section_by_hand(at, section), contact)
    return beside_solved((*solved, *infill_checks(section, row.values, contact)), hand)
