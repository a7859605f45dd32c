"""The steps of the hand calculation; what is the same in several sections stands there once."""

from collections.abc import Iterator
from dataclasses import replace

from contactfe.assess.by_hand.record import ByHand, SectionByHand
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.blocks import Block, Heading, Line
from contactfe.report.by_hand import TOPICS
from contactfe.report.steps import clause_lines, limits_text, step_lines


def steps(found: ByHand) -> Iterator[Block]:
    """Topic by topic each formula, then each clause, with the sections that it is of."""
    case, sections = found.case, found.sections
    yield Line(
        "Numbers are put in with five digits and the results found with all of them. A range is"
        " that of the formula; a number outside it is not to be relied on."
    )
    for topic, title in TOPICS.items():
        of = {s.key: s for one in sections for s in one.steps if s.topic == topic}
        if of:
            yield Heading(title, 3)
        for key in of:
            alike: dict[tuple[Block, ...], list[str]] = {}
            ranges: dict[str, list[str]] = {}
            for section in sections:
                if (step := section.step(key)) is not None:
                    name = section.section.name
                    without = replace(step, worked=replace(step.worked, limits=()))
                    alike.setdefault(tuple(step_lines(without, case)), []).append(name)
                    if step.worked.limits:
                        written = limits_text(step.worked.limits, case.display)
                        ranges.setdefault(written, []).append(name)
            yield from _each(alike, len(sections))
            for written, names in ranges.items():
                yield Line(f"range, {_named(names, len(sections))}: {written}", indent=3)
    yield from _clauses(case, sections)
    left = {why: None for section in sections for why in section.left_out}
    for why in left:
        names = [s.section.name for s in sections if why in s.left_out]
        yield Line(f"Left out, {_named(names, len(sections))}: {why}.")


def _clauses(case: Case, sections: tuple[SectionByHand, ...]) -> Iterator[Block]:
    for key in dict.fromkeys(c.key for section in sections for c in section.clauses):
        alike: dict[tuple[Block, ...], list[str]] = {}
        for section in sections:
            for clauses in section.clauses:
                if clauses.key == key:
                    written = tuple(clause_lines(clauses, case.display))
                    alike.setdefault(written, []).append(section.section.name)
        yield from _each(alike, len(sections))


def _each(alike: dict[tuple[Block, ...], list[str]], count: int) -> Iterator[Block]:
    for blocks, names in alike.items():
        if count > 1:
            yield Line(f"{_named(names, count)}:", "aside")
        yield from blocks


def _named(names: list[str], count: int) -> str:
    return "every section" if len(names) == count else ", ".join(map(words.one_line, names))
