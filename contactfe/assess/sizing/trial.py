"""One candidate tried: solved at every contact on one mesh level, and worked out by hand."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from contactfe.assess.accuracy import COARSE, Solved, expected_patches, settled, slipping
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.by_hand.record import Clauses, Step
from contactfe.assess.checks import Check, LimitState
from contactfe.assess.level import Reading
from contactfe.assess.limits import check_patch, check_slimness
from contactfe.assess.places import (
    BORE_SIDE,
    BORE_UNDER_LOAD,
    BORE_UNDER_SECOND,
    CONTACT,
    EDGE,
    SECOND_CONTACT,
    SECOND_EDGE,
    Peak,
)
from contactfe.assess.sizing.candidates import contacts_of
from contactfe.assess.sizing.early_yield import EarlyYield, early_yield
from contactfe.assess.sizing.judge import rank
from contactfe.assess.sizing.record import PLACES, Candidate, Start, Trial
from contactfe.case import Case, Section
from contactfe.errors import InputError, SolveError
from contactfe.hand.formula import Limit

_KIND = {
    CONTACT: 0, EDGE: 0, SECOND_CONTACT: 0, SECOND_EDGE: 0,
    BORE_UNDER_LOAD: 1, BORE_UNDER_SECOND: 1, BORE_SIDE: 2,
}  # fmt: skip
"""Which of ``PLACES`` a zone belongs to; the last where it is not named here."""


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
    readings = [one.reading for _, one in solved]
    places = [_places(reading) for reading in readings]
    posts = [max(v for v in at if v is not None) for at in places]
    plates = [_plate(reading).von_mises for reading in readings]
    post_at, plate_at = posts.index(max(posts)), plates.index(max(plates))
    strengths = (steel.yield_strength / margin, case.plate_material.yield_strength / margin)
    first, yields_at = _first(bodies, [one for _, one in solved], strengths, coarse, margin)
    hand = _by_hand([at for at, _ in solved], section) if coarse is None else coarse.hand
    return Trial(
        candidate=candidate,
        fine=coarse is not None,
        places=tuple(_most(of_place) for of_place in zip(*places, strict=True)),
        plate=max(plates),
        post_zone=readings[post_at].member_peaks[0].zone,
        plate_zone=_plate(readings[plate_at]).zone,
        post_at=post_at,
        plate_at=plate_at,
        yields_at=yields_at,
        slips=any(map(slipping, readings)),
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


def _places(reading: Reading) -> tuple[float | None, ...]:
    """Peak von Mises stress of the post by ``PLACES``; None where it has no such place."""
    found: list[float | None] = [None] * len(PLACES)
    for peak in reading.member_peaks:
        kind = _KIND.get(peak.zone, len(PLACES) - 1)
        found[kind] = _most([found[kind], peak.von_mises])
    return tuple(found)


def _plate(reading: Reading) -> Peak:
    return max((p.peaks[0] for p in reading.patches), key=lambda peak: peak.von_mises)


def _most(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), default=None)


def _by_hand(cases: Sequence[Case], section: Section) -> tuple[Check, ...]:
    """Every stress and clause by hand, each at the contact where it is worst."""
    worst: dict[str, Check] = {}
    for number, at in enumerate(cases):
        for check in checks_at(at, section, number):
            before = worst.get(check.key, check)
            worst[check.key] = max(before, check, key=lambda c: rank(c)[1:])
    return tuple(worst.values())


def checks_at(at: Case, section: Section, number: int) -> Iterator[Check]:
    """Every stress and clause by hand at the contact of that number, which ``at`` has."""
    found = section_by_hand(at, section)
    for step in found.steps:
        if step.against is not None:
            yield step_check(at, section, step, number)
    for clause in found.clauses:
        yield clause_check(at, section, clause, number)


_OF_TOPIC: Mapping[str, LimitState] = MappingProxyType(
    {"plate": "plate bending", "second plate": "plate bending", "post": "post bending"}
)
"""What a stress by hand guards against; any other topic is of the contact and the section there."""

_OF_PART: Mapping[str, LimitState] = MappingProxyType(
    {
        "post on plate": "contact stress",
        "post on second plate": "contact stress",
        "post section": "post bending",
        "root weld": "root weld",
    }
)
"""The same of a clause, by the part that it is put to; any other is a plate."""

_SHEAR = {"aisc_360.g5", "aisc_360.g5_solid_by_analogy", "en_1993_1_1.6_2_6_tube",
          "en_1993_1_1.6_2_6_solid"}  # fmt: skip
"""Clauses put to the post's section that are of its shear."""


def step_check(at: Case, section: Section, step: Step, contact: int) -> Check:
    """A stress by hand against what it is measured by.

    Out of the range of its formula it has no verdict, unless it is too large even so.
    """
    assert step.against is not None
    post = step.topic == "post"
    use = abs(step.worked.value) / step.against
    beyond = [limit for limit in step.worked.exceeded if not _of_yield(limit)]
    return Check(
        key=step.key,
        label=f"{step.label}, by hand",
        kind="post" if post else "hand",
        limit_state=_OF_TOPIC.get(step.topic, "contact stress"),
        section=section.name,
        body="plate" if "plate" in step.topic or "_plate" in step.key else "post",
        demand=abs(step.worked.value),
        resistance=step.against,
        dimension=step.worked.dimension,
        source=step.worked.source,
        missing=_in_words(at, beyond) if use <= 1.0 else "",
        contact=contact,
        reserve=1.0 / use if post and use > 0.0 else None,
    )


def clause_check(at: Case, section: Section, clause: Clauses, contact: int) -> Check:
    """A clause put to numbers; it does not apply outside its scope."""
    check = clause.check
    state = _OF_PART.get(clause.part, "plate bending")
    return Check(
        key=clause.key,
        label=f"{check.clause.name}: {clause.part}",
        kind="clauses",
        limit_state="post shear" if clause.key in _SHEAR else state,
        section=section.name,
        body="plate" if state == "plate bending" else "post",
        demand=check.demand.value,
        resistance=check.resistance.value,
        dimension=check.demand.dimension,
        source=check.clause.name,
        missing=_in_words(at, check.exceeded),
        applies=check.within,
        contact=contact,
        reserve=check.room,
    )


def _in_words(at: Case, exceeded: Sequence[Limit]) -> str:
    return "; ".join(map(at.display.limit, exceeded))


def _of_yield(limit: Limit) -> bool:
    """Whether a limit of a formula's range is the yield strength itself.

    A stress that exceeds it is beyond a formula for elastic steel, but that is what a check of the
    stress finds, and no reason to withhold its verdict.
    """
    return limit.what.startswith("σ/Y")
