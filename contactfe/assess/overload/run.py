"""Every section of a case beyond first yield, on two mesh levels, and which is the better then."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from contactfe.assess.accuracy import COARSE, numerical_uncertainty
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import by_hand_checks
from contactfe.assess.checks import Check
from contactfe.assess.compare import compare
from contactfe.assess.overload.marks import Profile, dents, profile, read_again, read_strike, spans
from contactfe.assess.overload.rank import judged
from contactfe.assess.overload.result import (
    ZONE,
    Dent,
    Loading,
    Numbers,
    OverloadResult,
    SecondStrike,
    SectionOverload,
    Strike,
    Zone,
)
from contactfe.assess.overload.strikes import Followed, Struck, follow
from contactfe.assess.places import EDGES
from contactfe.assess.results import SectionResult
from contactfe.assess.value import BodyName, Figure, Value
from contactfe.case import Case, Section
from contactfe.case.overload import check_overload
from contactfe.errors import SolveError
from contactfe.section.grading import Patch
from contactfe.solve.strike import StrikeState, equilibrium
from contactfe.solve.yielding import at_nodes
from contactfe.study.crew import Crew, Progress, how_many
from contactfe.study.point import Kept, no_answer

MOST_FACTOR = 4.0
"""Loads over that at first yield up to which a section is solved."""

LEAST = 0.01
"""Least relative uncertainty of a figure beyond first yield: two meshes can agree by chance, and
halving the load steps moves dents by as much at most."""

AT_EDGE = 0.1
"""The same of the greatest plastic strain where that is at the edge of contact: a strain at a
single point, beside which pressure ends, moved by up to a tenth with mesh and steps."""

AT_LIMIT = 0.05
"""The same of a load at collapse, which elements of this kind meet from above: by 3 % with eight to
a punch, by 5 % in a plate that folds."""

_ALIKE = 1e-3
"""Loads that differ by less, relative, are one."""

_HALVINGS = 3
"""Of the step of load in which a plastic zone comes to span the wall."""

_BESIDE = ("post section", "root weld", "root socket", "plate bending", "collapse")
"""Limit states of the checks that are listed beside the solved section: of what it is not."""


@dataclass(frozen=True)
class BeyondYield:
    """A section with what is known of its first yield: a point, of which it solves what follows.

    ``first_yield`` N/mm is at the peak along the post, of ``body``; ``half_width`` and ``centre``
    mm are those of the patch under it.
    """

    number: int
    section: Section
    first_yield: Value | None
    body: BodyName
    half_width: float
    centre: float

    @property
    def group(self) -> int:
        """Sections share no bodies."""
        return self.number

    def solve(self, case: Case, kept: Kept) -> SectionOverload:
        """What is found. Raises SolveError with file and section, and InputError of a mesh."""
        try:
            return _section(case, self, Bodies(case, kept))
        except SolveError as error:
            raise SolveError(f"{case.source}: section “{self.section.name}”: {error}") from error

    def unsolved(self, case: Case, why: str) -> SectionOverload:
        """Raises SolveError."""
        raise no_answer(f"{case.source}: section “{self.section.name}”: {why}")


def overload(
    case: Case,
    processes: int | None = 1,
    progress: Progress | None = None,
    known: Iterable[SectionOverload] = (),
    keep: Callable[[SectionOverload], None] | None = None,
) -> OverloadResult:
    """Strike every section of a case beyond first yield, and rank them by what that leaves.

    The result does not depend on the number of processes; with more than one, a script must call
    this below ``if __name__ == "__main__":``, as every process reads the script anew.

    Parameters
    ----------
    case
        what the engineer stated; its loads are those of the factors of [overload], and its own
    processes
        how many to share the sections; as many as there are cores to use where it is None
    progress
        called with the number of sections done and that of all, first and after each
    known
        sections solved before for this very case, which are not solved again
    keep
        called with each section that was solved now, as soon as it is there

    Raises
    ------
    InputError
        if the case is one that this is not worked out for, or does not suit the model
    SolveError
        if a section cannot be solved
    """
    check_overload(case)
    comparison = compare(case, processes)
    points = [point_of(number, of) for number, of in enumerate(comparison.sections)]
    numbers = {point.section.name: point.number for point in points}
    there = {numbers[one.section]: one for one in known if one.section in numbers}
    with Crew(case.settled(), min(how_many(processes), len(points)), progress) as crew:
        return judged(comparison, crew.solve(points, there, keep))


def point_of(number: int, of: SectionResult) -> BeyondYield:
    """A section with its first yield, as `compare` finds it."""
    yields = [
        (body.first_yield_line_load, name)
        for name, body in of.bodies
        if body.first_yield_line_load is not None
    ]
    if not yields:
        return BeyondYield(number, of.section, None, "post", 0.0, 0.0)
    first, name = min(yields, key=lambda pair: pair[0].value)
    times = first.value / of.line_load
    width, centre = of.half_width.value * np.sqrt(times), of.contact.centre.value * times
    body: BodyName = "post" if name == "post" else "plate"
    return BeyondYield(number, of.section, first, body, float(width), float(centre))


def _section(case: Case, point: BeyondYield, bodies: Bodies) -> SectionOverload:
    section, first = point.section, point.first_yield
    at = loaded(case, section, bodies)
    whole = case.line_load / at.line_loads[0]
    if first is None:
        return SectionOverload(
            section.name, None, point.body, (), None, None, None, None, 0.0, "first yield",
            (at.line_loads[0],), 0, whole,
        )  # fmt: skip
    loads, too_far = _loads(case, first.value, at.line_loads[0])
    patch = Patch(point.centre, point.half_width)
    coarse, fine = (
        follow(at, section, bodies, patch, first.value, loads, scale) for scale in (COARSE, 1.0)
    )
    strikes = []
    for k, (struck, before) in enumerate(zip(fine.struck, coarse.struck, strict=False)):
        of_case = abs(loads[k] / at.line_loads[0] - 1.0) < _ALIKE
        strikes.append(
            _strike(case, section, fine, coarse, struck, before, first.value, whole, of_case)
        )
    end = strikes[-1].line_load if strikes else 0.0
    last = min(fine.loading[-1].line_load, coarse.loading[-1].line_load)
    ended = fine.ended or coarse.ended
    left = tuple(load for load in loads if load > end) + too_far
    return SectionOverload(
        section=section.name,
        first_yield=first,
        first_body=point.body,
        strikes=tuple(strikes),
        loading=_loading(fine, coarse),
        zones=(_zone_of(fine, 0), _zone_of(fine, 1)),
        spans=_spanned(fine, coarse, first.value),
        collapses=_collapsed(fine, coarse),
        solved_to=last,
        ended=ended,
        left_out=left,
        unknowns=fine.level.joint.unknowns,
        whole=whole,
    )


def _loads(case: Case, first: float, own: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Line loads to be solved, N/mm, rising, and those of the case that are beyond the range."""
    loads = [factor * first for factor in case.overload.factors]
    if own > first:
        loads = [load for load in loads if abs(load / own - 1.0) >= _ALIKE]
        if own <= MOST_FACTOR * first:
            loads.append(own)
    return tuple(sorted(loads)), (own,) if own > MOST_FACTOR * first else ()


def _strike(
    case: Case,
    section: Section,
    fine: Followed,
    coarse: Followed,
    struck: Struck,
    before: Struck,
    first: float,
    whole: float,
    of_case: bool,
) -> Strike:
    found, other = read_strike(fine, struck), read_strike(coarse, before)
    line_load = struck.loaded.line_load
    values = {key: _value(figure, other.get(key)) for key, figure in found.items()}
    # Of a restitution it is what is lost that is that unsure.
    lost, before_it = (Figure(1.0 - of["restitution"].value) for of in (found, other))
    values["restitution"] = replace(
        values["restitution"], uncertainty=_value(lost, before_it).uncertainty
    )
    down = (struck.loaded, *struck.unloading)
    post, plate = (
        Dent(tuple(p.x.tolist()), tuple(p.below.tolist())) for p in _dents_of(fine, struck)
    )
    second = []
    for again, coarser in zip(struck.again, before.again, strict=True):
        if again is not None and coarser is not None:
            mine, theirs = read_again(again, struck.loaded), read_again(coarser, before.loaded)
            added = {key: _value(figure, theirs[key]) for key, figure in mine.items()}
            second.append(SecondStrike(again.shift, **added))
    return Strike(
        line_load, line_load / first, of_case, values,
        (tuple(s.line_load for s in down), tuple(s.approach for s in down)), (post, plate),
        tuple(second), _beside(case, section, line_load * whole),
    )  # fmt: skip


def _value(fine: Figure, coarse: Figure | None) -> Value:
    """A figure by two levels; the whole of it is unsure where the coarse one has none."""
    other = 0.0 if coarse is None else coarse.value
    at_edge = fine.place is not None and fine.place.zone in EDGES
    least = (AT_EDGE if at_edge else LEAST) * abs(fine.value)
    uncertainty = numerical_uncertainty(fine.value, other, least=least)
    return Value(fine.value, uncertainty, fine.place)


def _beside(case: Case, section: Section, mean: float) -> tuple[Check, ...]:
    """The checks of what is not solved here, under a mean line load, N/mm."""
    at = case.loaded(mean)
    checks = by_hand_checks(at, section_by_hand(at, section))
    return tuple(c for c in checks if c.limit_state in _BESIDE)


def _loading(fine: Followed, coarse: Followed) -> Loading:
    states = fine.loading
    loads = np.array([state.line_load for state in states])
    depths = dents(fine.striking, states)
    others, before = [s.line_load for s in coarse.loading], dents(coarse.striking, coarse.loading)
    at = np.interp(loads, others, before.max(axis=1))
    # Of a strike the dent after its unloading, which may yield back: others are no surer than that.
    apart = []
    for struck in fine.struck:
        row = int(np.flatnonzero(loads == struck.loaded.line_load)[0])
        left = [dent.below.max() for dent in _dents_of(fine, struck)]
        apart.append(abs(max(left) - depths[row].max()))
        depths[row] = left
    off = np.interp(loads, [s.loaded.line_load for s in fine.struck], apart) if apart else at * 0.0
    deeper = depths.max(axis=1)
    sure = [
        numerical_uncertainty(a, b, least=LEAST * a) + c
        for a, b, c in zip(deeper, at, off, strict=True)
    ]
    return Loading(
        tuple(loads.tolist()), tuple(state.approach for state in states),
        (tuple(depths[:, 0].tolist()), tuple(depths[:, 1].tolist())), tuple(map(float, sure)),
    )  # fmt: skip


def _dents_of(of: Followed, struck: Struck) -> tuple[Profile, Profile]:
    """The dents of post and plate after an unloading."""
    post, plate = (profile(of.striking, struck.released, k, struck.loaded) for k in (0, 1))
    return post, plate


def _zone_of(of: Followed, number: int) -> Zone:
    """Where a body is plastic, and from which load of the path on: its nodes with their areas."""
    steel = of.striking.bodies[number]
    mesh = steel.body.mesh
    share = np.repeat(steel.area.sum(axis=1)[:, None] / 6.0, 6, axis=1)
    area = np.bincount(steel.nodes.ravel(), share.ravel(), minlength=mesh.doflocs.shape[1])
    since = np.full(mesh.doflocs.shape[1], np.inf)
    for state in reversed(of.loading):
        equivalent = state.bodies[number].plastic.equivalent
        since[at_nodes(steel, equivalent[..., None])[:, 0] > ZONE] = state.line_load
    inside = np.isfinite(since)
    x, y = mesh.doflocs[:, inside]
    return Zone(_rounded(x), _rounded(y), _rounded(area[inside]), _rounded(since[inside]))


def _rounded(values: Iterable[float]) -> Numbers:
    """Numbers to seven digits, which keep thousands of points short where they are written."""
    return tuple(float(f"{value:.7g}") for value in values)


def _spanned(fine: Followed, coarse: Followed, first: float) -> Value | None:
    """The line load at which a plastic zone spans the post's wall, by two levels."""
    loads = [_spans_at(level, first) for level in (fine, coarse)]
    if loads[0] is None:
        return None
    (load, step), other = loads[0], loads[1] or (fine.loading[-1].line_load, 0.0)
    return Value(load, max(numerical_uncertainty(load, other[0], least=LEAST * load), step))


def _spans_at(of: Followed, first: float) -> tuple[float, float] | None:
    """The load at which a plastic zone comes to span the wall, and how closely it was looked for.

    Between the states of the path about it, each half that has it is halved again.
    """
    steel = of.striking.bodies[0]
    if of.level.outline.bore_radius <= 0.0:
        return None
    pair = next(((a, b) for a, b in pairwise(of.loading) if spans(of.level, steel, b)), None)
    if pair is None:
        return None
    before, at = pair
    for _ in range(_HALVINGS):
        middle: StrikeState = equilibrium(
            of.striking, before, (before.line_load + at.line_load) / 2.0, first
        )
        if spans(of.level, steel, middle):
            at = middle
        else:
            before = middle
    return at.line_load, at.line_load - before.line_load


def _collapsed(fine: Followed, coarse: Followed) -> Value | None:
    if fine.ended != "collapse":
        return None
    load, other = (of.loading[-1].line_load for of in (fine, coarse))
    return Value(load, numerical_uncertainty(load, other, least=AT_LIMIT * load))
