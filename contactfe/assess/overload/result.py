"""What is found of strikes beyond first yield: frozen records, and no computing but of ratios."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from contactfe.assess.checks import Check, Checked, OpenItem
from contactfe.assess.results import Comparison
from contactfe.assess.value import BodyName, Value, Values
from contactfe.case import Case
from contactfe.shown import Shown

Numbers = tuple[float, ...]

ZONE = 1e-4
"""Plastic strain from which steel counts as plastic: 0.01 %."""

Ended = Literal[
    "", "collapse", "no solution", "plastic strain", "half-width", "displacement", "first yield"
]
"""Why a section was not loaded further: it collapses; no equilibrium was found; plastic strain,
patch or displacement are beyond the small-strain model; its load at first yield already is."""


@dataclass(frozen=True)
class SecondStrike:
    """A strike with the same load, ``shift`` half-widths along the plate from the first.

    ``post`` and ``plate`` are the greatest plastic strain that it adds, ``dissipated`` the energy
    that it turns into heat over that of the first.
    """

    shift: float
    post: Value
    plate: Value
    dissipated: Value

    @property
    def yields(self) -> bool:
        """Whether it adds as much plastic strain anywhere as steel counts as plastic from."""
        return max(self.post.value, self.plate.value) > ZONE


@dataclass(frozen=True)
class Dent:
    """The dent that stays in a body: ``below`` mm under a straight edge, at x mm on the plate."""

    x: Numbers
    below: Numbers


@dataclass(frozen=True)
class Zone:
    """Where steel is plastic: x, y (mm) of points that stand for ``area`` mm² each, and the least
    load of the path, N/mm, at which they are.
    """

    x: Numbers
    y: Numbers
    area: Numbers
    from_load: Numbers


@dataclass(frozen=True)
class Strike:
    """A section struck once, with a line load in N/mm, and released.

    ``line_load`` is the peak along the post, ``factor`` that over the load at first yield;
    ``values`` are the figures of :mod:`.marks`. ``unloading`` has line loads and approaches on the
    way down. ``second`` are strikes after it, those that the plate has room for. ``beside`` are the
    checks that are none of the solved section: clauses, the post along its axis, its root.
    """

    line_load: float
    factor: float
    of_case: bool
    values: Values
    unloading: tuple[Numbers, Numbers]
    dents: tuple[Dent, Dent]
    second: tuple[SecondStrike, ...]
    beside: tuple[Check, ...]

    @property
    def dent(self) -> Value:
        """The deeper dent of post and plate, mm."""
        both = self.values["post_dent_depth"], self.values["plate_dent_depth"]
        return max(both, key=lambda value: value.value)

    @property
    def fails_beside(self) -> tuple[Check, ...]:
        """The checks beside the solved section that fail under this load."""
        return tuple(check for check in self.beside if check.applies and check.verdict == "fails")


@dataclass(frozen=True)
class Loading:
    """The path of loading: line loads N/mm, approaches mm, and the dents (post, plate) that each
    would leave, mm, on the fine level, with the uncertainty of the deeper.
    """

    line_load: Numbers
    approach: Numbers
    dents: tuple[Numbers, Numbers]
    uncertainty: Numbers


@dataclass(frozen=True)
class SectionOverload:
    """A section beyond first yield, by its name.

    ``first_yield`` N/mm is the line load at first yield, at the peak along the post, of
    ``first_body``. ``spans`` is the line load at which one
    plastic zone reaches from the contact to the bore, ``collapses`` that at which the section takes
    no more; None where that was not met up to ``solved_to``, where the path ``ended``. ``left_out``
    are loads, N/mm, that were asked for beyond that. ``whole`` is the mean line load over the peak.
    """

    section: str
    first_yield: Value | None
    first_body: BodyName
    strikes: tuple[Strike, ...]
    loading: Loading | None
    zones: tuple[Zone, Zone] | None
    spans: Value | None
    collapses: Value | None
    solved_to: float
    ended: Ended
    left_out: Numbers
    unknowns: int
    whole: float

    @property
    def reserve(self) -> Value | None:
        """The lesser of the loads at which the plastic zone spans the wall or it collapses."""
        known = [load for load in (self.spans, self.collapses) if load is not None]
        return min(known, key=lambda load: load.value, default=None)

    @property
    def sure_of(self) -> float:
        """Line load, N/mm, that it is known to take: with no such end to it up to there."""
        found = self.reserve
        return self.solved_to if found is None else found.value - found.uncertainty


@dataclass(frozen=True)
class Ranked:
    """Names of the sections, best first, and the figure of each; ties within ± stand as they come.

    ``leading`` are those that the figure's uncertainty does not part from the best.
    """

    names: tuple[str, ...]
    values: tuple[Value, ...]
    leading: tuple[str, ...]


@dataclass(frozen=True, repr=False)
class OverloadResult(Checked, Shown):
    """Every section of a case beyond first yield, and the answer.

    ``by_dent`` ranks by the deeper dent that the same mean line load ``compared_at``, N/mm, leaves,
    the largest to which all were solved; ``by_reserve`` by the load at which the plastic zone spans
    the wall or the section collapses, over its own at first yield: what was not met so far comes
    first, and has the load that it was solved to.
    """

    case: Case
    sections: tuple[SectionOverload, ...]
    comparison: Comparison
    compared_at: float | None
    by_dent: Ranked | None
    by_reserve: Ranked | None
    checks: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]

    def section(self, name: str) -> SectionOverload:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section == name:
                return result
        raise KeyError(name)
