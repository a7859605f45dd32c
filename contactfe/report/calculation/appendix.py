"""The steps of the hand calculation; what is the same in several sections stands there once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.calculation import Calculation
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.hand.formula import Limit, Worked
from contactfe.report import blocks, words
from contactfe.report.blocks import Block, Heading, Line
from contactfe.report.by_hand import TOPICS
from contactfe.report.calculation.by_hand import impact_formulas, in_numbers, in_symbols
from contactfe.report.steps import against


def steps(found: Calculation) -> Iterator[Block]:
    """Topic by topic each formula, then each clause, with the sections that it is of."""
    case, sections = found.case, [result.by_hand for result in found.comparison.sections]
    ranges: dict[str, int] = {}
    yield Line(
        "Numbers are put in with five digits and the results found with all of them. Where no"
        " section is named, a formula is of every section. Ranges are those of the formulas, by"
        " their numbers in the list at the end; a number outside one is not to be relied on."
    )
    if found.impact is not None:
        yield Heading("First impact")
        yield from impact_formulas(found.impact)
    for topic, title in TOPICS.items():
        of = {s.key: s for one in sections for s in one.steps if s.topic == topic}
        if of:
            yield Heading(title)
        for key in of:
            alike = _Alike(case.display, len(sections), ranges)
            for section in sections:
                if (step := section.step(key)) is not None:
                    alike.add(section, step.label, step.worked, against(step, case))
            yield from alike.blocks()
    yield from _clauses(case, sections, ranges)
    left = dict.fromkeys(why for section in sections for why in section.left_out)
    for why in left:
        names = [s.section.name for s in sections if why in s.left_out]
        yield Line(f"Left out{_named(names, len(sections))}: {why}.")
    if ranges:
        yield Heading("Ranges")
        for text, number in ranges.items():
            yield Line(f"({number}) {text}", "bad" if _OUTSIDE in text else "quiet")


_OUTSIDE = "OUTSIDE"


class _Alike:
    """A formula of several sections: those of the same numbers together, then its ranges.

    A range has a number, the same wherever it and what stands in it are the same.
    """

    def __init__(self, units: Display, count: int, ranges: dict[str, int]) -> None:
        self._units, self._count, self._numbers = units, count, ranges
        self._of: dict[str, tuple[blocks.Worked, dict[str, tuple[blocks.Worked, list[str]]]]] = {}
        self._limits: dict[tuple[str, str, str], list[tuple[str, Limit]]] = {}

    def add(self, section: SectionByHand, head: str, of: Worked, said: str = "") -> None:
        """One more section, with what is said below its numbers."""
        name, form = section.section.name, in_symbols(head, of)
        put = in_numbers("", of, self._units, said)
        _, sets = self._of.setdefault(repr(form), (form, {}))
        sets.setdefault(repr(put), (put, []))[1].append(name)
        for limit in of.limits:
            key = (limit.what, limit.side, self._units.bound(limit))
            self._limits.setdefault(key, []).append((name, limit))

    def blocks(self) -> Iterator[blocks.Worked]:
        """The formula, each set of numbers once, below the last the ranges of all."""
        *_, (last, _) = self._of.values()
        for form, found in self._of.values():
            ranges = self._ranges() if form is last else ()
            sets = [
                replace(put, head="" if len(names) == self._count else _listed(names))
                for put, names in found.values()
            ]
            yield replace(form, sets=tuple(sets), notes=(*form.notes, *ranges))

    def _ranges(self) -> Iterator[Line]:
        parts, beyond = [], False
        for (what, side, bound), found in self._limits.items():
            values: dict[str, list[str]] = {}
            for name, limit in found:
                mark = f" ({_OUTSIDE})" if limit.exceeded else ""
                values.setdefault(self._units.beside(limit) + mark, []).append(name)
            texts = (f"{v}{_named(names, self._count)}" for v, names in values.items())
            text = f"{what} = {' or '.join(texts)}, {side} {bound}"
            outside = any(limit.exceeded for _, limit in found)
            number = self._numbers.setdefault(text, len(self._numbers) + 1)
            parts.append(f"({number}) {_OUTSIDE}" if outside else f"({number})")
            beyond |= outside
        if parts:
            yield Line(f"range: {', '.join(parts)}", "bad" if beyond else "quiet")


def _clauses(
    case: Case, sections: Sequence[SectionByHand], ranges: dict[str, int]
) -> Iterator[Block]:
    before: list[Block] = []
    for key in dict.fromkeys(c.key for section in sections for c in section.clauses):
        found = [(s, c) for s in sections for c in s.clauses if c.key == key]
        first = found[0][1]
        yield Heading(f"{first.check.clause.name}: {first.check.clause.title}, {first.part}")
        of: dict[str, _Alike] = {}
        for section, clauses in found:
            check = clauses.check
            every = [*check.steps, check.demand, check.resistance]
            if clauses.required is not None:
                every.append(clauses.required)
            for part in every:
                if part.formula != "clause.unity":
                    alike = of.setdefault(part.name, _Alike(case.display, len(sections), ranges))
                    alike.add(section, part.name, part)
        for block in (block for alike in of.values() for block in alike.blocks()):
            yield Line(f"{block.head}: as above") if block in before else block
            before.append(block)
        ratios: dict[str, list[str]] = {}
        for section, clauses in found:
            check = clauses.check
            verdict = {True: "satisfied", False: "NOT SATISFIED", None: "outside its scope"}
            text = f"{significant(check.ratio, 4)}, {verdict[check.satisfied]}"
            text += f"; up to 1 at {significant(check.load_factor, 3)} times these loads"
            ratios.setdefault(text, []).append(section.section.name)
        for text, names in ratios.items():
            yield Line(f"demand / resistance{_named(names, len(sections))} = {text}", indent=3)


def _named(names: Sequence[str], count: int) -> str:
    """The sections in brackets, where they are not all."""
    return "" if len(names) == count else f" ({_listed(names)})"


def _listed(names: Iterable[str]) -> str:
    return ", ".join(map(words.one_line, names))
