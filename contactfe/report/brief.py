"""A result in a few lines for a prompt: the answer, the checks, what is open, what it is of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import singledispatch
from typing import TypeVar

from contactfe.assess.by_hand.record import ByHand
from contactfe.assess.checks import Check, OpenItem, counted, governing
from contactfe.assess.envelope import EnvelopeResult
from contactfe.assess.impact import ImpactResult
from contactfe.assess.results import Comparison
from contactfe.assess.sizing.record import Diameter, SizingResult
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.assess.sweep.result import SweepResult
from contactfe.assess.sweep.summary import summary
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Unit
from contactfe.report import words
from contactfe.report.open_items import worded
from contactfe.report.verdicts import HEADING, ratio_text

Part = TypeVar("Part")

MOST = 4
"""Lines for sections or diameters; how many more there are is said."""


def brief(result: object) -> str:
    """The lines of any result of the public interface."""
    return "\n".join(_lines(result))


@singledispatch
def _lines(result: object) -> Iterator[str]:
    raise TypeError(f"{type(result).__name__} is no result of contactfe")


@_lines.register
def _(result: Comparison) -> Iterator[str]:
    best, unit = result.section(result.least_concentration), result.case.display.stress
    K, peak = _text(best.stress_concentration), _text(best.member.peak, unit)
    yield f"Least K: {_named(result.least_concentration)}, {K}, post peak von Mises {peak}"
    yield from _checks(result.checks, result.open_items)
    yield _of("Comparison", result.case)


@_lines.register
def _(result: EnvelopeResult) -> Iterator[str]:
    best = result.by_utilisation[0]
    use = _text(result.utilisation_of(best))
    solved = sum(row.solved for row in result.rows)
    yield f"Least utilisation over all contacts: {_named(best)}, {use}"
    if solved < len(result.rows):
        yield f"Solved: {solved} of {len(result.rows)} rows"
    yield from _checks(result.checks, result.open_items)
    yield _of("Envelope", result.case)


@_lines.register
def _(result: SizingResult) -> Iterator[str]:
    yield from _first(result.diameters, "diameters", lambda of: _diameter(of, result.case))
    yield from _checks(result.of_stop, result.open_items)
    yield f"Sizing, {result.solved} solves: {words.one_line(result.case.title)}"


def _diameter(of: Diameter, case: Case) -> str:
    length = case.display.length
    walls = " and ".join(
        f"{length.text(band.least.wall)} to {length.text(band.most.wall)}" for band in of.bands
    )
    passing = f"walls of {walls} pass" if walls else "no wall passes"
    if walls and of.in_the_way:
        passing += f", but {of.in_the_way[0].label} {HEADING[of.in_the_way[0].verdict]}"
    K = None if of.best is None else of.best.wall.concentration
    if of.best is not None and K is not None:
        passing += f"; least K {_text(K)} at {length.text(of.best.wall.wall)}"
    return f"Ø {length.text(of.outside_diameter)}: {passing}"


@_lines.register
def _(result: ImpactResult) -> Iterator[str]:
    most = max(result.impacts, key=lambda impact: impact.contact.value)
    text = f"Peak contact force: {result.case.display.force.text(most.contact.value)}"
    if most.section is not None:
        text += f", {_named(most.section.name)}"
    yield f"{text}, level {_named(most.level)}" if most.level else text
    yield from _checks(result.checks)
    yield _of("Impact", result.case)


@_lines.register
def _(result: StiffnessResult) -> Iterator[str]:
    yield from _first(result.sections, "sections", lambda of: _stiffness(of, result.case))
    yield _of("Stiffness", result.case)


def _stiffness(of: SectionStiffness, case: Case) -> str:
    unit, load = case.display.line_stiffness, case.display.line_load.text(case.line_load)
    secant, tangent = _text(of.secant, unit), _text(of.tangent, unit)
    return f"{_named(of.section.name)}: secant {secant}, tangent {tangent} at {load}"


@_lines.register
def _(result: SweepResult) -> Iterator[str]:
    found = summary(result)
    rows, passed = (sum(getattr(of, what) for of in found.sections) for what in ("rows", "passed"))
    yield f"{passed} of {rows} rows pass every check; {found.solved} are solved"
    yield from _open(result.open_items)
    yield f"{_of('Sweep', result.case)}; {result.plan.count} samples"


@_lines.register
def _(result: ByHand) -> Iterator[str]:
    yield from _checks(result.checks, result.open_items)
    yield _of("By hand", result.case)


def _checks(checks: Iterable[Check], items: Iterable[OpenItem] = ()) -> Iterator[str]:
    """How many checks pass, the one that governs, and what is open."""
    found, worst = counted(checks), governing(checks)
    if worst is None:
        yield "No check applies"
    else:
        of = f" of {_named(worst.section)}" if worst.section else ""
        yield (
            f"{sum(check.passes for check in found)} of {len(found)} checks pass; governing:"
            f" {worst.label}{of} {HEADING[worst.verdict]}, ratio {ratio_text(worst)}"
        )
    yield from _open(items)


def _open(items: Iterable[OpenItem]) -> Iterator[str]:
    if labels := [worded(item)[0] for item in items if not item.accepted]:
        yield f"Open: {'; '.join(labels)}"


def _first(parts: Sequence[Part], of: str, line: Callable[[Part], str]) -> Iterator[str]:
    yield from map(line, parts[:MOST])
    if (more := len(parts) - MOST) > 0:
        yield f"and {more} more {of}"


def _of(what: str, case: Case) -> str:
    number = len(case.sections)
    sections = "1 section" if number == 1 else f"{number} sections"
    return f"{what}, {sections}: {words.one_line(case.title)}"


def _named(name: str) -> str:
    return f"“{words.one_line(name)}”"


def _text(value: Value, unit: Unit | None = None) -> str:
    """A value with its uncertainty and its unit."""
    return " ".join((*words.with_uncertainty(value, unit), *(() if unit is None else (unit.name,))))
