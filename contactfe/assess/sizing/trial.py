"""One candidate tried: solved at every contact on one mesh level, and worked out by hand."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from contactfe.assess.accuracy import (
    COARSE,
    Solved,
    beside_slice,
    expected_patches,
    settled,
    slipping,
)
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
from contactfe.assess.sizing.record import PLACES, Asked, Candidate, Start, Trial
from contactfe.assess.value import Figure, key_of
from contactfe.case import Case, Section
from contactfe.case.tolerance import Limits
from contactfe.case.wording import told
from contactfe.errors import InputError, SolveError
from contactfe.study.memory import give_back
from contactfe.study.point import Kept, no_answer

_KINDS = {
    CONTACT: (0,), EDGE: (0, 4), SECOND_CONTACT: (0,), SECOND_EDGE: (0, 4),
    BORE_UNDER_LOAD: (1,), BORE_UNDER_SECOND: (1,), BORE_SIDE: (2,),
}  # fmt: skip
"""Which of ``PLACES`` a zone belongs to."""

_ELSEWHERE = (3,)
"""That of a zone which is not named there."""


@dataclass(frozen=True)
class Job:
    """A candidate to be tried; on the fine level where its coarse trial is given."""

    number: int
    candidate: Candidate
    coarse: Trial | None = None
    margin: float = 1.0  # of the stress up to which loads grow

    @property
    def asked(self) -> Asked:
        """What its trial follows from beside the case."""
        return self.candidate, self.coarse, self.margin

    @property
    def group(self) -> int:
        """Candidates share no post."""
        return self.number

    def solve(self, case: Case, kept: Kept) -> Trial:
        """The trial."""
        at = of_steel(case, self.candidate)
        bodies = Bodies(at, kept)
        trial = attempt(at, self.candidate, bodies, self.coarse, self.margin)
        bodies.forget(self.candidate.section)  # no other candidate has its post
        give_back()
        return trial

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
    *,
    alone: bool = False,
) -> Trial:
    """Solve a candidate on the coarse level, or on the fine one where that trial is given.

    ``case`` is that of ``of_steel``, and ``bodies`` are of it. Loads grow until the yield strengths
    over ``margin`` are reached. What keeps a contact from being solved becomes the error of the
    trial. A tube whose limits are known is tried with its least and its greatest wall as well.
    ``alone`` leaves all out but the peaks of its own sizes.
    """
    trial = _attempt(case, candidate, bodies, coarse, margin, alone)
    limits = case.limits(candidate.section, candidate.stock)
    if trial.error or limits is None or margin != 1.0 or alone:
        return trial
    return replace(trial, made=tuple(_made(case, candidate, bodies, coarse, limits)))


def _made(
    case: Case, candidate: Candidate, bodies: Bodies, coarse: Trial | None, limits: Limits
) -> Iterator[Trial]:
    """A tube tried with its least and its greatest wall."""
    for number, (outside, wall) in enumerate(limits.made):
        if limits.fault:
            yield Trial(candidate, coarse is not None, error=f"its tolerance {limits.fault}")
            continue
        at = case.as_made(candidate.section, outside, wall)
        own, made = Bodies(at, bodies.kept), Candidate(at.sections[0], wall / outside)
        of = None if coarse is None else coarse.made[number]
        if of is not None and of.error:
            yield replace(of, fine=True)
            continue
        yield _attempt(at, made, own, of, 1.0, alone=True)
        own.forget(made.section)


def _attempt(
    case: Case,
    candidate: Candidate,
    bodies: Bodies,
    coarse: Trial | None,
    margin: float,
    alone: bool = False,
) -> Trial:
    """A candidate at its own sizes; ``alone`` without first yield and what is by hand."""
    section, contacts = candidate.section, contacts_of(case)
    follow = {} if alone else _follow(coarse, margin, len(contacts))
    try:
        steel = case.post_material(section)
        strengths = (steel.yield_strength / margin, case.plate_material.yield_strength / margin)
        found = [
            _found(case.at(contact), section, bodies, start, strengths, follow.get(number))
            for number, (contact, start) in enumerate(
                zip(contacts, _starts(case, coarse), strict=True)
            )
        ]
    except (InputError, SolveError) as error:
        text, refused = told(error, case.source), isinstance(error, InputError)
        return Trial(candidate, coarse is not None, error=text, refused=refused)
    posts, plates = [one.peaks[0] for one in found], [one.plate for one in found]
    post_at, plate_at = _highest(posts), _highest(plates)
    first, yields_at = _first([one.first for one in found], coarse)
    hand: tuple[Check, ...] = () if coarse is None else coarse.hand
    if coarse is None and not alone:
        hand = _by_hand([one.case for one in found], section)
    places = zip(*(_places(one.peaks) for one in found), strict=True)
    return Trial(
        candidate=candidate,
        fine=coarse is not None,
        places=tuple(_most(of_place) for of_place in places),
        plate=plates[plate_at].value,
        post_zone=_zone(posts[post_at]),
        plate_zone=_zone(plates[plate_at]),
        post_at=post_at,
        plate_at=plate_at,
        yields_at=yields_at,
        slips=any(one.slips for one in found),
        unsure=max(one.unsure for one in found),
        yield_factor=None if first is None else first.factor,
        first_body="post" if first is None else first.body,
        steel=steel,
        hand=hand,
        starts=tuple(one.start for one in found),
    )


@dataclass(frozen=True)
class _Found:
    """What is kept of a contact that was solved: its fields are let go before the next one."""

    case: Case
    peaks: tuple[Figure, ...]
    plate: Figure
    slips: bool
    unsure: float
    start: Start
    first: EarlyYield | None


def _found(
    at: Case,
    section: Section,
    bodies: Bodies,
    start: Start | None,
    strengths: tuple[float, float],
    guess: float | None,
) -> _Found:
    """A contact solved and read, and followed to first yield from ``guess``, if there is one."""
    at, one = _solved(at, section, bodies, start)
    peaks = zones(one, "post_peak")
    return _Found(
        case=at,
        peaks=peaks,
        plate=_plate(one),
        slips=slipping(one.reading),
        unsure=beside_slice(at, one.reading, peaks[0].value) / peaks[0].value,
        start=(one.patches, one.focus, at.spread),
        first=None if guess is None
        else early_yield(bodies, one.level, one.reading, *strengths, guess),
    )  # fmt: skip


def _follow(coarse: Trial | None, margin: float, count: int) -> dict[int, float]:
    """The numbers of the contacts that are followed to first yield, and the load to begin with.

    Every contact is: stress grows faster with the load where the post bends than where it is
    pressed, so the contact of the largest stress need not be the first to yield. The fine level
    follows the contact that the coarse one found, or the two would not compare.
    """
    if coarse is None or margin != 1.0:
        return dict.fromkeys(range(count), 1.0)
    return {} if coarse.yield_factor is None else {coarse.yields_at: coarse.yield_factor}


def _first(
    found: Sequence[EarlyYield | None], coarse: Trial | None
) -> tuple[EarlyYield | None, int]:
    """First yield as all loads grow, and the number of the contact at which it comes."""
    known = {number: first for number, first in enumerate(found) if first is not None}
    if not known:
        return None, 0 if coarse is None else coarse.yields_at
    earliest = min(known, key=lambda number: known[number].factor)
    return known[earliest], earliest


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
        for kind in _KINDS.get(_zone(peak), _ELSEWHERE):
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
