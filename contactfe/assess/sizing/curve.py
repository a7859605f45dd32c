"""The walls of one outside diameter as far as they are solved, and what is to be solved next."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from contactfe.assess.sizing.answers import (
    bands,
    best,
    concentration,
    ratio,
    unchanging,
    worst_unchanging,
)
from contactfe.assess.sizing.candidates import jumps_of, shares_of, wall
from contactfe.assess.sizing.judge import Levels, Pair, judge
from contactfe.assess.sizing.record import Asked, Candidate, Diameter, StockAnswer, Trial, Wall
from contactfe.assess.sizing.search import Point, requests
from contactfe.case import Case
from contactfe.case.sizing import SOLID, Sizing, Walls

COMPARED = 20
"""One in so many walls of a curve, but its two ends at least, is solved on both mesh levels in any
case, to find how much the levels differ along it."""

_NO_STOCK = StockAnswer((), None, None)


@dataclass(frozen=True)
class Curve:
    """Walls of an outside diameter, mm, by their share of it; ``pairs`` grow as they are solved."""

    case: Case
    sizing: Sizing
    outside_diameter: float
    pairs: dict[float, Pair] = field(default_factory=dict)

    @property
    def shares(self) -> tuple[float, ...]:
        """Those that are tried in any case. Raises InputError as ``shares_of`` does."""
        return shares_of(self.case, self.sizing, self.outside_diameter)

    @property
    def levels(self) -> Levels:
        """How the two mesh levels differ along it."""
        return Levels(list(self.pairs.values()))

    def walls(self) -> tuple[Wall, ...]:
        """Those that are solved, judged; rising."""
        levels = self.levels
        walls = [
            judge(self.case, self.pairs[share], levels, self.sizing.checks)
            for share in sorted(self.pairs)
        ]
        apart = unchanging(walls)
        return tuple(replace(wall, unchanging=apart) for wall in walls)

    def diameter(self) -> Diameter:
        """What the walls that are solved come to, without stock sizes and what is closest."""
        walls = self.walls()
        return Diameter(
            outside_diameter=self.outside_diameter,
            least_bore=self.sizing.bore(self.outside_diameter),
            walls=walls,
            unchanging_checks=worst_unchanging(walls),
            passing=bands(walls),
            least_concentration=best(
                walls, concentration, lambda w: w.stress_concentration.uncertainty
            ),
            closest_to_passing=None,
            load_factor_to_pass=None,
            stock=_NO_STOCK,
            catalogue=(),
        )

    def wanted(self) -> list[tuple[float, bool]]:
        """Shares to be tried, and whether on both levels, once those in any case are solved."""
        walls = self.walls()
        solved = [w.share for w in walls if not w.error]
        stated = set(self.shares)
        grid = [s for s in solved if s in stated]
        steps = max(round(len(grid) / COMPARED), 2) - 1
        compared = {grid[round(k * (len(grid) - 1) / steps)] for k in range(steps + 1) if grid}
        jumps = jumps_of(self.case, self.sizing, self.outside_diameter)
        points = [
            Point(
                w.share,
                ratio(w),
                w.passes_what_walls_change,
                concentration(w),
                w.solved_on_both_levels,
            )
            for w in walls
        ]
        return [
            *((share, True) for share in sorted(compared)),
            *((request.share, request.sure) for request in requests(points, jumps)),
        ]


class Growing:
    """The curve of the walls that a section could have, solved one by one, evenly from the start.

    They have its steel and hold, and what fills it; each is judged as in a sizing of the case at
    its one contact. Raises InputError where the diameter leaves no wall to try.
    """

    def __init__(self, case: Case) -> None:
        section = case.sections[0]
        post = replace(
            case.post, steel=section.steel or case.post.steel, held_by=case.hold(section)
        )
        walls = Walls(most=0.45) if case.support(section).core else Walls()  # a core needs a bore
        alone = replace(case, post=post, envelope=None)
        sizing = case.sizing or Sizing(walls=walls)
        self.curve = Curve(alone, sizing, section.outside_diameter)
        self._section = section
        self._first = list(_evenly(self.curve.shares))

    def asked(self) -> Asked | None:
        """What is to be tried next; None where all is found."""
        pairs = self.curve.pairs
        for share in self._first[: _ENDS + 1]:
            if share in pairs and not pairs[share].sure:
                return self._again(share)
        for share in self._first:
            if share not in pairs:
                return self._candidate(share), None, 1.0
        for share, sure in self.curve.wanted():
            if share not in pairs:
                return self._candidate(share), None, 1.0
            if sure and not pairs[share].sure:
                return self._again(share)
        return None

    def add(self, asked: Asked, trial: Trial) -> None:
        """Take up a trial of what was asked."""
        candidate, coarse, _ = asked
        pair = Pair(trial) if coarse is None else Pair(coarse, trial)
        self.curve.pairs[candidate.share] = pair

    def found(self) -> Diameter | None:
        """What is known of the diameter; None where no wall is solved."""
        solved = any(not pair.error for pair in self.curve.pairs.values())
        return self.curve.diameter() if solved else None

    def _again(self, share: float) -> Asked:
        coarse = self.curve.pairs[share].coarse
        return coarse.candidate, coarse, 1.0

    def _candidate(self, share: float) -> Candidate:
        """The section with another wall, and all that it has beside its sizes."""
        plain = wall(self.curve.outside_diameter, share)
        section = plain.section
        if share < SOLID:
            mine = self._section
            section = replace(section, infill=mine.infill, wall_tolerance=mine.wall_tolerance)
        return replace(plain, section=section)


_ENDS = 2
"""The first of those tried evenly, which are solved on both levels."""


def _evenly(shares: tuple[float, ...]) -> Iterator[float]:
    """Rising shares in an order in which those that came so far are always spread evenly.

    >>> list(_evenly((0.1, 0.2, 0.3, 0.4, 0.5)))
    [0.5, 0.1, 0.3, 0.2, 0.4]
    """
    count = len(shares)
    order = dict.fromkeys((count - 1, 0))
    parts = 2
    while len(order) < count:
        order |= dict.fromkeys(round(k * (count - 1) / parts) for k in range(1, parts))
        parts *= 2
    return (shares[k] for k in order)
