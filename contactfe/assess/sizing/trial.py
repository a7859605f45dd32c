"""One candidate tried: solved at every contact on one mesh level, and worked out by hand."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from contactfe.assess.accuracy import COARSE, Solved, expected_patches, settled, slipping
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import by_hand_checks
from contactfe.assess.checks import Check, worst_of_each
from contactfe.assess.limits import check_patch, check_slimness
from contactfe.assess.places import (
    BORE_SIDE,
    BORE_UNDER_LOAD,
    BORE_UNDER_SECOND,
    CONTACT,
    EDGE,
    SECOND_CONTACT,
    SECOND_EDGE,
)
from contactfe.assess.readout import zones
from contactfe.assess.sizing.candidates import contacts_of
from contactfe.assess.sizing.early_yield import EarlyYield, early_yield
from contactfe.assess.sizing.record import PLACES, Candidate, Start, Trial
from contactfe.assess.value import Figure, key_of
from contactfe.case import Case, Section
from contactfe.errors import InputError, SolveError
from contactfe.study.point import Kept, no_answer

_KIND = {
    CONTACT: 0, EDGE: 0, SECOND_CONTACT: 0, SECOND_EDGE: 0,
    BORE_UNDER_LOAD: 1, BORE_UNDER_SECOND: 1, BORE_SIDE: 2,
}  # fmt: skip
"""Which of ``PLACES`` a zone belongs to; the last where it is not named here."""


@dataclass(frozen=True)
class Job:
    """A candidate to be tried; on the fine level where its coarse trial is given."""

    number: int
    candidate: Candidate
    coarse: Trial | None = None
    margin: float = 1.0  # of the stress up to which loads grow

    @property
    def group(self) -> int:
        """Candidates share no post."""
        return self.number

    def solve(self, case: Case, kept: Kept) -> Trial:
        """The trial."""
        at = of_steel(case, self.candidate)
        return attempt(at, self.candidate, Bodies(at, kept), self.coarse, self.margin)

    def unsolved(self, case: Case, why: str) -> Trial:
        """Raises SolveError."""
        raise no_answer(f"{case.source}: {self.candidate.section.name}: {why}")


def of_steel(case: Case, candidate: Candidate) -> Case:
    """The case with the steel of a candidate, where that is not the post's at its own wall."""
    if candidate.steel is None:
        return case
    return replace(case, post=replace(case.post, steel=candidate.steel))


def attempt(
    case: Case,
    candidate: Candidate,
    bodies: Bodies,
    coarse: Trial | None = None,
    margin: float = 1.0,
) -> Trial:
    """Solve a candidate on the coarse level, or on the fine one where that trial is given.

    ``case`` is that of ``of_steel``, and ``bodies`` are of it. Loads grow until the yield strengths
    over ``margin`` are reached. What keeps a contact from being solved becomes the error of the
    trial.
    """
    section = candidate.section
    try:
        steel = case.post_material(section)
        solved = tuple(
            _solved(case.at(contact), section, bodies, start)
            for contact, start in zip(contacts_of(case), _starts(case, coarse), strict=True)
        )
    except (InputError, SolveError) as error:
        text = str(error).removeprefix(f"{case.source}: ")
        refused = isinstance(error, InputError)
        return Trial(candidate, coarse is not None, error=text, refused=refused)
    peaks = [zones(one, "post_peak") for _, one in solved]
    posts, plates = [at[0] for at in peaks], [_plate(one) for _, one in solved]
    post_at, plate_at = _highest(posts), _highest(plates)
    strengths = (steel.yield_strength / margin, case.plate_material.yield_strength / margin)
    first, yields_at = _first(bodies, [one for _, one in solved], strengths, coarse, margin)
    hand = _by_hand([at for at, _ in solved], section) if coarse is None else coarse.hand
    return Trial(
        candidate=candidate,
        fine=coarse is not None,
        places=tuple(_most(of_place) for of_place in zip(*map(_places, peaks), strict=True)),
        plate=plates[plate_at].value,
        post_zone=_zone(posts[post_at]),
        plate_zone=_zone(plates[plate_at]),
        post_at=post_at,
        plate_at=plate_at,
        yields_at=yields_at,
        slips=any(slipping(one.reading) for _, one in solved),
        yield_factor=None if first is None else first.factor,
        first_body="post" if first is None else first.body,
        steel=steel,
        hand=hand,
        starts=tuple((one.patches, one.focus, at.spread) for at, one in solved),
    )


def _first(
    bodies: Bodies,
    solved: Sequence[Solved],
    strengths: tuple[float, float],
    coarse: Trial | None,
    margin: float,
) -> tuple[EarlyYield | None, int]:
    """First yield as all loads grow, and the number of the contact at which it comes.

    Every contact is followed: stress grows faster with the load where the post bends than where it
    is pressed, so the contact of the largest stress need not be the first to yield. The fine level
    follows the contact that the coarse one found, or the two would not compare.
    """
    if coarse is not None and margin == 1.0:
        if coarse.yield_factor is None:
            return None, coarse.yields_at
        numbers, guess = [coarse.yields_at], coarse.yield_factor
    else:
        numbers, guess = list(range(len(solved))), 1.0
    found = {}
    for number in numbers:
        one = solved[number]
        first = early_yield(bodies, one.level, one.reading, *strengths, guess)
        if first is not None:
            found[number] = first
    earliest = min(found, key=lambda number: found[number].factor, default=None)
    if earliest is None:
        return None, numbers[0]
    return found[earliest], earliest


def _starts(case: Case, coarse: Trial | None) -> tuple[Start | None, ...]:
    return (None,) * len(contacts_of(case)) if coarse is None else coarse.starts


def _solved(at: Case, section: Section, bodies: Bodies, start: Start | None) -> tuple[Case, Solved]:
    """A contact solved on the coarse level, or on the fine one from what the coarse one found."""
    if start is not None:
        patches, focus, spread = start
        at = replace(at, spread=spread)
        return at, settled(at, section, bodies, patches, 1.0, focus)
    check_slimness(at, section)
    at = loaded(at, section, bodies)
    expected = expected_patches(at, section)
    for number, patch in enumerate(expected):
        check_patch(at, section, number, patch)
    return at, settled(at, section, bodies, expected, COARSE, ())


def _places(peaks: Sequence[Figure]) -> tuple[float | None, ...]:
    """Peak von Mises stress of the post by ``PLACES``; None where it has no such place."""
    found: list[float | None] = [None] * len(PLACES)
    for peak in peaks:
        kind = _KIND.get(_zone(peak), len(PLACES) - 1)
        found[kind] = _most([found[kind], peak.value])
    return tuple(found)


def _plate(solved: Solved) -> Figure:
    """The largest peak of the plates."""
    numbers = range(len(solved.reading.patches))
    peaks = [zones(solved, key_of("plate_peak", number))[0] for number in numbers]
    return peaks[_highest(peaks)]


def _highest(figures: Sequence[Figure]) -> int:
    return max(range(len(figures)), key=lambda k: figures[k].value)


def _zone(figure: Figure) -> str:
    assert figure.place is not None
    return figure.place.zone


def _most(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), default=None)


def _by_hand(cases: Sequence[Case], section: Section) -> tuple[Check, ...]:
    """Every stress and clause by hand, each at the contact where it is worst."""
    found = (checks_at(at, section, number) for number, at in enumerate(cases))
    return worst_of_each(check for checks in found for check in checks)


def checks_at(at: Case, section: Section, number: int) -> tuple[Check, ...]:
    """Every stress and clause by hand at the contact of that number, which ``at`` has."""
    return by_hand_checks(at, section_by_hand(at, section), number)
