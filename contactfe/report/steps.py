"""Every step of the hand calculation written out: symbols, numbers with units, result, source."""

from collections.abc import Iterator
from functools import partial

from rich.console import Group, RenderableType
from rich.text import Text

from contactfe.assess.by_hand.record import ByHand, Clauses, SectionByHand
from contactfe.case.display import Display, significant
from contactfe.codes.clause import GOVERNS
from contactfe.hand.formula import Dimension, Limit, Worked
from contactfe.report import words
from contactfe.report.by_hand import TOPICS, limit_text


def steps_page(found: ByHand) -> RenderableType:
    """The steps of every section of a case, for a rich console as wide as ``page.WIDTH``."""
    case = found.case
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text(f"By hand, step by step: {words.how_held(case)}"),
        Text(
            "Numbers are put in with five digits and the results found with all of them. A range is"
            " that of the formula; a number outside it is not to be relied on.\n"
        ),
    ]
    for section in found.sections:
        parts += _section(section, case.display)
    parts += [Text(GOVERNS), Text("")]
    parts += [Text(f"Caution: {line}") for line in words.CAUTIONS]
    return Group(*parts)


def _section(found: SectionByHand, units: Display) -> Iterator[Text]:
    section = found.section
    head = f"{words.one_line(section.name)}, {words.size(section, units)}"
    yield Text(f"{head}\n{'=' * len(head)}", style="bold")
    topic, number = "", 0
    for step in found.steps:
        if step.topic != topic:
            topic = step.topic
            yield Text(f"\n{TOPICS[topic]}", style="bold")
        number += 1
        against = ""
        if step.utilisation is not None and step.against is not None:
            share = significant(step.utilisation, 3)
            against = f"that is {share} of the yield strength, {units.stress.text(step.against)}"
        yield from _written(f"{number}. {step.label}", step.worked, units, against)
    for clauses in found.clauses:
        number += 1
        yield from _clause(number, clauses, units)
    for why in found.left_out:
        yield Text(f"Left out: {why}.")
    yield Text("")


def _clause(number: int, clauses: Clauses, units: Display) -> Iterator[Text]:
    check = clauses.check
    clause = check.clause
    yield Text(f"\n{clause.name}: {clause.title}, {clauses.part}", style="bold")
    worked = [*check.steps, check.demand, check.resistance]
    for letter, step in zip("abcdefghijklmnopqrstuvwxyz", worked, strict=False):
        yield from _written(f"{number}{letter}. {step.name}", step, units, "")
    verdict = {
        True: "satisfied",
        False: "NOT SATISFIED",
        None: "no verdict: outside its scope",
    }[check.satisfied]
    yield Text(f"   demand / resistance = {significant(check.ratio, 4)}: {verdict}")
    for limit in check.scope:
        yield Text(f"   scope: {_limit(limit, units)}{': OUTSIDE' if limit.passed else ''}")
    yield Text(f"   {clause.reach}: written for {clause.written_for} {clause.carries}")


def _written(head: str, worked: Worked, units: Display, against: str) -> Iterator[Text]:
    """One formula: a line each for symbols, numbers, result, note, range and source."""
    yield Text(head)
    symbols, numbers = worked.by_symbols(), worked.by_numbers(partial(_figure, units=units))
    lead = " " * len(worked.symbol)
    if symbols:
        yield Text(f"   {worked.symbol} = {symbols}")
        if numbers != symbols:
            yield Text(f"   {lead} = {numbers}")
        yield Text(f"   {lead} = {_figure(worked.value, worked.dimension, units)}")
    else:
        put_in = ", ".join(_put_in(worked, units))
        yield Text(f"   {worked.symbol} of {put_in}")
        yield Text(f"   {lead} = {_figure(worked.value, worked.dimension, units)}")
    if against:
        yield Text(f"   {against}")
    if worked.note:
        yield Text(f"   {worked.note}")
    for limit in worked.limits:
        mark = ": OUTSIDE ITS RANGE" if limit.passed else ""
        yield Text(f"   range: {_limit(limit, units)}{mark}")
    yield Text(f"   source: {worked.source}")


def _put_in(worked: Worked, units: Display) -> Iterator[str]:
    for given in worked.given.values():
        value = given.value
        if isinstance(value, str):
            yield value
        else:
            yield f"{given.symbol} = {_figure(value, given.dimension, units)}"


def _figure(value: float, dimension: Dimension | None, units: Display) -> str:
    """A figure to five digits with its unit."""
    if dimension is None:
        return significant(value, 5)
    unit = units.unit(dimension)
    return f"{significant(unit.of(value), 5)} {unit.name}"


def _limit(limit: Limit, units: Display) -> str:
    value, bound = (limit_text(at, limit, units) for at in (limit.value, limit.bound))
    return f"{limit.what} = {value}, {limit.side} {bound}"
