"""All that a case asks for, solved in one run: the comparison, and what its other tables state."""

from collections.abc import Callable, Iterable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from contactfe.assess.checks import Check, OpenItem
from contactfe.assess.compare import compare
from contactfe.assess.envelope import EnvelopeResult, check_envelope, envelope
from contactfe.assess.impact import ImpactResult, impact_force
from contactfe.assess.overload.result import OverloadResult, SectionOverload
from contactfe.assess.overload.run import overload
from contactfe.assess.results import Comparison
from contactfe.assess.row import Row
from contactfe.assess.sizing.record import SizingResult, Tried
from contactfe.assess.sizing.run import size
from contactfe.assess.stiffness import StiffnessResult, stiffness
from contactfe.case import Case
from contactfe.case.overload import check_overload
from contactfe.case.specimen import Specimen, specimen
from contactfe.study.crew import Progress

POINTS = 100
"""Points of each curve of stiffness, as of the command."""

Tell = Callable[[str], AbstractContextManager[Progress]]
"""Makes the progress of what is counted, by its name."""


@dataclass(frozen=True)
class Calculation:
    """What a case comes to, and the tables of its file; None of what it does not ask for."""

    stated: Mapping[str, Any]
    comparison: Comparison
    impact: ImpactResult | None = None
    envelope: EnvelopeResult | None = None
    sizing: SizingResult | None = None
    stiffness: StiffnessResult | None = None
    specimen: Specimen | None = None
    overload: OverloadResult | None = None

    @property
    def case(self) -> Case:
        """The case."""
        return self.comparison.case

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every check of what was solved, each once, but for those of walls that were tried."""
        of = (self.comparison, self.impact, self.envelope, self.overload)
        return tuple(dict.fromkeys(check for one in of if one is not None for check in one.checks))

    @property
    def open_items(self) -> tuple[OpenItem, ...]:
        """What no check covers, as the comparison has it, and what only another result leaves.

        What the comparison leaves to the impact is not open where that is among the results.
        """
        known = {(item.key, item.sections) for item in self.comparison.open_items}
        others = () if self.envelope is None else self.envelope.open_items
        more = (
            replace(item, why="limits in [contact] alone") if item.key == "tolerance" else item
            for item in others
            if (item.key, item.sections) not in known
        )
        items = (*self.comparison.open_items, *more)
        if self.impact is None:
            return items
        judged = any(check.limit_state == "load" for check in self.impact.checks)
        return tuple(
            replace(item, why="checked") if item.key == "ground" else item
            for item in items
            if not (judged and item.key == "motion" and item.why is None)
        )

    @property
    def whole(self) -> Comparison:
        """The comparison with the checks and the open items of all that was solved."""
        return replace(self.comparison, checks=self.checks, open_items=self.open_items)


def calculate(
    case: Case,
    stated: Mapping[str, Any],
    tell: Tell,
    processes: int | None = 1,
    rows: Iterable[Row] = (),
    tried: Iterable[Tried] = (),
    struck: Iterable[SectionOverload] = (),
) -> Calculation:
    """Solve all that a case asks for, whose file has the tables ``stated``.

    The comparison always; the impact and the stiffness of the contact where it states [motion];
    the envelope, the sizing, the strikes beyond first yield and the specimen where it states those.
    ``rows`` of the envelope, walls ``tried`` and sections ``struck``, solved before for this very
    case, are not solved again. Raises what each of them does.
    """
    beyond = "overload" in stated  # a case has factors without it too
    if case.envelope is not None:
        check_envelope(case)
    if beyond:
        check_overload(case)
    with tell("sections") as progress:
        compared = compare(case, processes, progress)
    impact = contact = around = sized = struck_beyond = None
    if case.motion is not None:
        with tell("sections in the motion") as progress:
            impact = impact_force(case, processes, progress)
        with tell("curves of stiffness") as progress:
            contact = stiffness(case, POINTS, processes, progress)
    if case.envelope is not None:
        with tell("contacts") as progress:
            around = envelope(case, processes, progress, rows)
    if case.sizing is not None:
        with tell("solves of walls") as progress:
            sized = size(case, processes, progress, tried)
    if beyond:
        with tell("sections beyond first yield") as progress:
            struck_beyond = overload(case, processes, progress, struck)
    small = None if case.scale is None else specimen(case, stated, case.scale, Path())
    return Calculation(stated, compared, impact, around, sized, contact, small, struck_beyond)
