"""What is solved of a state and shown of it, in the order in which it is wanted."""

from __future__ import annotations

import base64
import tempfile
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import AbstractContextManager, nullcontext, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from contactfe.assess.as_made import assess_as_made
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.calculation import calculate
from contactfe.assess.compare import compared
from contactfe.assess.overload.rank import judged
from contactfe.assess.overload.run import point_of
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.sizing.curve import Growing
from contactfe.assess.sizing.record import Candidate
from contactfe.assess.sizing.trial import Job, attempt
from contactfe.case import Case, Section
from contactfe.case.overload import check_overload
from contactfe.case.sizing import SOLID
from contactfe.case.wording import told
from contactfe.errors import ContactfeError, InputError, SolveError
from contactfe.explore.state import State
from contactfe.report import explored, words
from contactfe.report.blocks import Block, Line, Tone
from contactfe.report.html import as_html
from contactfe.report.slugs import unique_slugs
from contactfe.study.crew import Progress
from contactfe.study.point import Kept

if TYPE_CHECKING:
    from contactfe.report.figures.drawn import Picture

Json = dict[str, Any]
Made = TypeVar("Made")

DOTS = 130
"""Of a picture, per inch: on the screen it has 610 of its 870 dots across."""

MOST_RESULTS, MOST_CURVES = 8, 6
"""Sections and curves that a process remembers, beside the bodies it keeps."""

REDRAWN = 4
"""Walls solved from one drawing of their curve to the next."""


class Memory:
    """What a process knows from one state to the next; the least lately used goes first."""

    def __init__(self, kept: Kept) -> None:
        self.kept = kept
        self._results: OrderedDict[Hashable, object] = OrderedDict()
        self._curves: OrderedDict[Hashable, object] = OrderedDict()

    def result(self, case: Case, section: Section) -> SectionResult:
        """A section solved and checked as `compare` does. Raises what that raises."""
        alone = _plain(replace(case, sections=(section,)))

        def solve() -> SectionResult:
            return assess_as_made(case, section, Bodies(case, self.kept))

        return _remembered(self._results, alone, solve, MOST_RESULTS)

    def curve(self, case: Case) -> Growing:
        """The walls that its first section could have, as far as they are solved."""
        section = replace(case.sections[0], name="", wall=None, stock=None)
        alone = _plain(replace(case, sections=(section,)))
        return _remembered(self._curves, alone, lambda: Growing(case), MOST_CURVES)


def _plain(case: Case) -> str:
    """A case without what no section is solved by, as a key."""
    return repr(replace(case, source="", title="", envelope=None, sweep=None))


def _remembered(
    known: OrderedDict[Hashable, object], key: Hashable, make: Callable[[], Made], most: int
) -> Made:
    found: Any = known.pop(key) if key in known else make()
    known[key] = found
    while len(known) > most:
        known.popitem(last=False)
    return found  # type: ignore[no-any-return]


@dataclass(frozen=True)
class Glance:
    """A state whose first section is to be solved on one coarse mesh."""

    state: State

    def parts(self, memory: Memory) -> Iterator[Json]:
        """The answer without ± and verdict; nothing where it is not solved, which Solve tells."""
        with suppress(ContactfeError):
            case = self.state.case.settled()
            Bodies(case, memory.kept).keep(case.sections[:1])
            yield _coarse(case, memory)


@dataclass(frozen=True)
class Solve:
    """A state to be solved on two meshes or more.

    ``most`` is the top of the scale of colours, MPa, if it is fixed.
    """

    state: State
    most: float | None

    def parts(self, memory: Memory) -> Iterator[Json]:
        """What is shown of it, as it is found: the most wanted first.

        Where the section cannot be solved, the others and the walls that it could have are shown
        all the same.
        """
        first = None
        try:
            case = self.state.case.settled()
            Bodies(case, memory.kept).keep(case.sections)
            first = memory.result(case, case.sections[0])
        except ContactfeError as error:
            yield _refused(error, self.state.source)
            if self.state.case.load.by_motion and isinstance(error, SolveError):
                return  # there may be no load
        else:
            comparison = _compared(case, [first])
            answer = explored.at_a_glance(case, first.by_hand, comparison)
            held = words.how_held(case)
            yield {"answer": _html([answer]), "held": held, "stage": "solved"}
            yield {"hand": _html(explored.by_hand(case, first.by_hand, first.hand_checks))}
            yield {"verdicts": _html(explored.verdicts(comparison))}
            yield self._picture(comparison)
        yield from self._others(case, first, memory)
        yield from _curve(case, memory)
        if first is not None:
            yield {"stage": "complete"}

    def _picture(self, comparison: Comparison) -> Json:
        from contactfe.report.figures.drawn import picture
        from contactfe.report.figures.sections import scale_of, sections_figure

        shown = comparison.sections
        most = scale_of(shown) if self.most is None else self.most
        drawn = picture(sections_figure, comparison, shown, most, dots=DOTS)
        return {"picture": _image(drawn), "most": most}

    def _others(self, case: Case, first: SectionResult | None, memory: Memory) -> Iterator[Json]:
        """The pinned sections, and the solid bar of the diameter, beside the one that is moved."""
        found = [] if first is None else [first]
        lines = []
        for section in case.sections[1:]:
            try:
                found.append(memory.result(case, section))
            except ContactfeError as error:
                lines.append(_not_solved(section.name, error, self.state.source, "bad"))
        if found:
            comparison = _compared(case, found)
            yield {"verdicts": _html([*explored.verdicts(comparison), *lines])}
        if first is not None:  # what is open is of all of them
            yield {"answer": _html([explored.at_a_glance(case, first.by_hand, comparison)])}
        if case.sections[0].geometry.hollow:
            solid = _solid(case, case.sections[0])
            at = replace(case, sections=(*case.sections, solid))
            try:
                found.append(memory.result(at, solid))
            except ContactfeError as error:
                lines.append(_not_solved(solid.name, error, self.state.source, "quiet"))
        table = explored.beside(_compared(case, found)) if found else ()
        yield {"beside": _html([*table, *lines])}


def _coarse(case: Case, memory: Memory) -> Json:
    """The first section on one coarse mesh. Raises InputError where it is not solved."""
    section = case.sections[0]
    share = SOLID if section.wall is None else section.wall / section.outside_diameter
    alone = replace(case, envelope=None)  # at the one contact of the case
    trial = attempt(alone, Candidate(section, share), Bodies(alone, memory.kept), alone=True)
    if trial.error:
        raise InputError(trial.error)
    answer = explored.at_a_glance(case, section_by_hand(case, section), trial)
    return {"answer": _html([answer]), "stage": "coarse"}


def _curve(case: Case, memory: Memory) -> Iterator[Json]:
    """The stress over the wall, drawn anew as it grows."""
    try:
        growing = memory.curve(case)
    except InputError as error:
        yield {"curve": {"text": told(error, case.source)}}
        return
    if growing.curve.pairs:
        yield from _drawn_curve(case, growing)
    fresh = 0
    while (asked := growing.asked()) is not None:
        growing.add(asked, Job(0, *asked).solve(growing.curve.case, memory.kept))
        fresh += 1
        if fresh % REDRAWN == 0:
            yield from _drawn_curve(case, growing)
        else:
            yield {}
    if fresh % REDRAWN:
        yield from _drawn_curve(case, growing)


def _drawn_curve(case: Case, growing: Growing) -> Iterator[Json]:
    from contactfe.report.figures.drawn import picture
    from contactfe.report.figures.sizing import curve_figure

    diameter = growing.found()
    if diameter is None:
        yield {}
        return
    section = case.sections[0]
    at = diameter, growing.curve.case, section.wall or section.radius
    yield {"curve": _image(picture(curve_figure, *at, dots=DOTS))}


@dataclass(frozen=True)
class Beyond:
    """A state whose first section is to be struck beyond first yield, as `overload` does it."""

    state: State

    def parts(self, memory: Memory) -> Iterator[Json]:
        """What that leaves, told and drawn; or why it is not solved."""
        from contactfe.report.figures.drawn import picture
        from contactfe.report.figures.overload import section_figure

        try:
            stated = self.state.case
            alone = replace(stated, sections=stated.sections[:1])
            check_overload(alone)
            case = alone.settled()
            first = memory.result(case, case.sections[0])
            of = point_of(0, first).solve(case, memory.kept)
        except ContactfeError as error:
            why = (Line(line, "bad") for line in told(error, self.state.source).splitlines())
            yield {"beyond": _html(why), "plastic": None, "working": ""}
            return
        result = judged(_compared(case, [first]), [of])
        yield {"beyond": _html(explored.beyond(result))}
        yield {"plastic": _image(picture(section_figure, result, of, dots=DOTS)), "working": ""}


@dataclass(frozen=True)
class Report:
    """The calculation of a state to be written, as a document to sign."""

    state: State

    def parts(self, _memory: Memory) -> Iterator[Json]:
        """The document, once all is solved that the case asks for."""
        from contactfe.report.calculation.file import write_report

        def tell(_: str) -> AbstractContextManager[Progress]:
            return nullcontext(lambda _done, _of: None)

        case, tables = self.state.case, self.state.tables
        name = f"{unique_slugs([Path(case.source).stem])[0]}-report.pdf"
        with tempfile.TemporaryDirectory() as folder:
            try:
                found = calculate(case, tables, tell)
                write_report(found, self.state.text.encode(), Path(folder) / name, "pdf")
                made = (Path(folder) / name).read_bytes()
            except ContactfeError as error:
                yield {"say": told(error, case.source)}
                return
        yield {"file": {"name": name, "type": "application/pdf", "data": _base64(made)}}


def by_hand(state: State) -> Json:
    """What formulas give for the first section, which takes no solving."""
    case = state.case.settled()
    found = section_by_hand(case, case.sections[0])
    return {
        "answer": _html([explored.at_a_glance(case, found)]),
        "hand": _html(explored.by_hand(case, found)),
        "held": words.how_held(case, evenly=True),
    }


def _compared(case: Case, found: list[SectionResult]) -> Comparison:
    return compared(replace(case, sections=tuple(r.section for r in found)), found)


def _solid(case: Case, of: Section) -> Section:
    """The solid bar of the diameter of a section, of its steel and hold."""
    return Section(
        name=f"solid {case.display.length.text(of.outside_diameter)}",
        outside_diameter=of.outside_diameter, steel=of.steel, held_by=of.held_by,
    )  # fmt: skip


def _refused(error: Exception, source: str) -> Json:
    return {"answer": _html([Line(told(error, source), "bad")]), "stage": "refused"}


def _not_solved(name: str, error: Exception, source: str, tone: Tone) -> Line:
    return Line(f"“{name}”: {told(error, source)}", tone)


def _html(blocks: Iterable[Block]) -> str:
    return str(as_html(blocks))


def _image(of: Picture) -> Json:
    return {
        "src": f"data:image/png;base64,{_base64(of.png)}",
        "caption": of.caption,
        "alt": of.alt,
    }


def _base64(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
