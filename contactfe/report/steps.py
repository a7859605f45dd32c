"""Every step of the hand calculation written out: symbols, numbers with units, result, source."""

from collections.abc import Iterator, Sequence
from functools import partial

from contactfe.assess.by_hand.record import ByHand, Clauses, SectionByHand, Step
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.codes.clause import GOVERNS, editions
from contactfe.hand.formula import Limit, Worked
from contactfe.hand.quantities import Dimension
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Heading, Line, Page, framed, lines
from contactfe.report.by_hand import TOPICS, input_lines
from contactfe.report.root import root_table
from contactfe.report.verdicts import verdict_lines


def steps_page(found: ByHand, *, solved: bool = False) -> Page:
    """The steps of every section of a case.

    ``solved`` where they go by contacts that were solved, and so by [alignment] where it is stated.
    """
    case, evenly = found.case, not solved
    names = [section.section.name for section in found.sections]
    verdict = [] if solved else verdict_lines(case, names, found.checks, found.open_items)
    return framed(
        case.title,
        words.cautions(case, evenly=evenly),
        Line(f"By hand, step by step: {words.how_held(case, evenly=evenly)}"),
        Line(
            "Numbers are put in with five digits and the results found with all of them. A range is"
            " that of the formula; a number outside it is not to be relied on."
        ),
        *verdict,
        *input_lines(case),
        *(block for section in found.sections for block in _section(section, case)),
        GAP,
        *root_table(found.sections, case),
        *lines(editions(c.check.clause for s in found.sections for c in s.clauses)),
        Line(GOVERNS),
    )


def _section(found: SectionByHand, case: Case) -> Iterator[Block]:
    section, units = found.section, case.display
    head = f"{words.one_line(section.name)}, {words.size(section, units)}"
    yield Heading(head, 2)
    topic, number = "", 0
    for step in found.steps:
        if step.topic != topic:
            topic = step.topic
            yield Heading(TOPICS[topic])
        number += 1
        yield from _written(f"{number}. {step.label}", step.worked, units, against(step, case))
    for clauses in found.clauses:
        number += 1
        yield from _clause(number, clauses, units)
    for why in found.left_out:
        yield Line(f"Left out: {why}.")


def against(step: Step, case: Case) -> str:
    """What a figure is of what it is measured by; empty where it is not measured."""
    if step.utilisation is None or step.against is None:
        return ""
    share = significant(step.utilisation, 3)
    above = ", ABOVE" if step.utilisation > 1.0 else ""
    allowed = case.display.stress.text(step.against)
    return f"that is {share} of {words.limit(case)}, {allowed}{above}"


def _clause(number: int, clauses: Clauses, units: Display) -> Iterator[Block]:
    check = clauses.check
    clause = check.clause
    yield Heading(f"{clause.name}: {clause.title}, {clauses.part}")
    worked = [*check.steps, check.demand, check.resistance]
    if clauses.required is not None:
        worked.append(clauses.required)
    for letter, step in zip("abcdefghijklmnopqrstuvwxyz", worked, strict=False):
        yield from _written(f"{number}{letter}. {step.name}", step, units, "")
    verdict = {
        True: "satisfied",
        False: "NOT SATISFIED",
        None: "no verdict: outside its scope",
    }[check.satisfied]
    reserve = f"up to 1 at {significant(check.load_factor, 3)} times these loads"
    yield _under(f"demand / resistance = {significant(check.ratio, 4)}: {verdict}; {reserve}")
    if check.scope:
        yield _under(f"scope: {limits_text(check.scope, units)}")
    yield _under(f"for {clause.level}; {clause.text}; here {clause.reach}")
    yield _under(f"intended for: {clause.written_for}")
    yield _under(f"how far it applies here: {clause.carries}")


def _written(head: str, worked: Worked, units: Display, against: str) -> Iterator[Block]:
    """One formula: a line each for symbols, numbers, result, note, range and source."""
    if worked.formula == "clause.unity":
        yield Line(f"{head}: 1, by the clause")
        return
    if worked.form is None and not worked.given:
        figure = units.figure(worked.value, worked.dimension, 5)
        yield Line(f"{head}: {worked.symbol} = {figure}, {worked.source}")
        return
    yield Line(head)
    symbols, numbers = worked.by_symbols(), worked.by_numbers(partial(units.figure, digits=5))
    lead = " " * len(worked.symbol)
    if symbols == worked.symbol:  # a ratio that is its own name
        yield _under(f"{symbols} = {numbers}")
    else:
        # A form that is too long to write has, in place of its symbols, what it was found from.
        given = symbols or ", ".join(put_in(worked, units))
        yield _under(f"{worked.symbol} {'=' if symbols else 'found from'} {given}")
        if symbols and numbers != symbols:
            yield _under(f"{lead} = {numbers}")
    yield _under(f"{lead} = {units.figure(worked.value, worked.dimension, 5)}")
    if against:
        yield _under(against)
    if worked.note:
        yield _under(worked.note)
    if worked.limits:
        yield _under(f"range: {limits_text(worked.limits, units)}")
    yield _under(f"source: {worked.source}")


def _under(text: str) -> Line:
    """A line under a head, which keeps to its own edge where it must be broken."""
    return Line(text, indent=3)


def five_digits(units: Display, value: float, dimension: Dimension | None) -> str:
    """A figure of a formula; a frequency is always shown as held."""
    if dimension == "frequency":
        return f"{units.figure(value, None, 5)} rad/s"
    return units.figure(value, dimension, 5)


def put_in(worked: Worked, units: Display) -> Iterator[str]:
    """Everything that a formula was given, by symbols."""
    for given in worked.given.values():
        value = given.value
        if isinstance(value, str):
            yield value
        else:
            yield f"{given.symbol} = {units.figure(value, given.dimension, 5)}"


def limits_text(limits: Sequence[Limit], units: Display) -> str:
    """The limits of a range, and where the numbers stand in it."""
    return "; ".join(units.limit(at) + (" (OUTSIDE)" if at.exceeded else "") for at in limits)
