"""What a case is by hand, as a table: formulas and clauses down the page, sections across it."""

from collections.abc import Iterator, Sequence

from contactfe.assess.by_hand.record import ByHand, SectionByHand, Step
from contactfe.assess.checks import Check, counted, verdict_of
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.codes.clause import GOVERNS, Growth, editions
from contactfe.hand.formula import Limit
from contactfe.hand.quantities import Dimension
from contactfe.report import words
from contactfe.report.answer import RATIO, Room, answer_page, judged, judged_columns, more
from contactfe.report.blocks import (
    GAP,
    Block,
    Column,
    Heading,
    Line,
    Page,
    Row,
    Table,
    framed,
    lines,
)
from contactfe.report.check_names import sentence_name
from contactfe.report.inputs import inputs
from contactfe.report.root import root_table
from contactfe.report.verdicts import does_not_apply, ratio_text, verdict_lines

MOST_TIED = 4
"""Sections that are named as having the greatest ratio; more are counted."""

ABREAST = 4
"""Sections side by side in one table, as many as a page has room for."""

TOPICS = {
    "contact": "Contact",
    "second contact": "Contact with the second plate",
    "section": "Section as a ring or disc",
    "plate": "Plate",
    "second plate": "Second plate",
    "post": "Post along its axis",
}

NONE = "·"
"""In place of a figure where a formula or clause does not apply to a section."""

GROWTH: dict[Growth, str] = {
    "as the load": "",
    "as the load squared": " ~ q²",
    "as the root of the load": " ~ √q",
    "faster than the load": " > q",
}
"""Behind a ratio that does not grow in proportion to the loads."""

ABOVE = "ABOVE 1: "
"""Before a ratio or utilisation that is more than it may be."""


def by_hand_page(found: ByHand) -> Page:
    """The whole page."""
    case = found.case
    names = [section.section.name for section in found.sections]
    return framed(
        case.title,
        words.cautions(case, evenly=True),
        Line(f"By hand, without a mesh: {words.how_held(case, evenly=True)}"),
        *verdict_lines(case, names, found.checks, found.open_items),
        *input_lines(case),
        *hand_tables(found.sections, case),
        *does_not_apply(found.checks),
    )


def hand_answer(found: ByHand) -> Page:
    """What governs each section by hand, and what passes and is open."""
    case, names = found.case, [section.section.name for section in found.sections]

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield from _greatest(found.checks, names)
        yield from verdict_lines(case, names, found.checks, found.open_items, room.named)
        yield _by_hand(found, room.rows)

    what = f"By hand, without a mesh: {words.how_held(case, evenly=True)}"
    return answer_page(case.title, what, blocks)


def _greatest(checks: Sequence[Check], names: Sequence[str]) -> Iterator[Line]:
    """The greatest ratio and whose it is, and what settles stresses that have no verdict."""
    counting = [check for check in counted(checks) if check.section]
    known = [check for check in counting if check.ratio is not None]
    worst = max(known, key=lambda check: check.most, default=None)
    if worst is None:
        yield Line("No check applies to any section.")
        return
    # A contact alone goes by the outside diameter, so that sections often share it to the digit.
    ratio = ratio_text(worst)
    tied = [c.section for c in known if c.key == worst.key and ratio_text(c) == ratio]
    of = f"of {words.some(tied, MOST_TIED)}" + (" (a tie)" if len(tied) > 1 else "")
    if len(tied) == len(names) > 1:
        of = f"a tie of all {len(tied)} sections"
    yield Line(f"The greatest ratio is {ratio}, {of}: {sentence_name(worst)}.")
    open_ = {c.section for c in counting if c.kind == "hand" and c.verdict == "no verdict"}
    if any(verdict_of(c for c in counting if c.section == name) == "no verdict" for name in open_):
        yield Line(
            "NO VERDICT on a stress by hand: it is outside the range of its formula; contactfe"
            " compare solves the stress and settles it."
        )


_SHOWN: tuple[tuple[str, str, Dimension, int], ...] = (
    ("hertz_half_width", "half-width", "length", 4),
    ("hertz_peak_pressure", "peak\npressure", "stress", 3),
    ("hertz_peak_von_mises", "peak von\nMises", "stress", 2),
    ("ring_bore_under_load", "bore hoop\nstress", "stress", 1),
    ("post_von_mises", "at the\nroot", "stress", 5),
)
"""Figures by hand in the table of an answer, their heads, and the order in which they are left
out."""


def _by_hand(found: ByHand, most: int) -> Table:
    """A line a section, in the order of the case: its contact, and the check that governs."""
    units = found.case.display
    shown = [
        (key, head, drop, units.unit(dimension))
        for key, head, dimension, drop in _SHOWN
        if any(of.step(key) is not None for of in found.sections)
    ]
    columns = (
        Column("section", folds=True, most=24, key=True),
        Column("Ø × wall", drop=6),
        *(
            Column(f"{head}\n[{unit.name}]", numbers=True, drop=drop)
            for _, head, drop, unit in shown
        ),
        *judged_columns(),
    )
    rows = []
    for of in found.sections[:most]:
        name = of.section.name
        steps = [(of.step(key), unit) for key, *_, unit in shown]
        figures = ["–" if step is None else unit.number(step.worked.value) for step, unit in steps]
        checks = [check for check in found.checks if check.section == name]
        row = (words.one_line(name), words.size(of.section, units), *figures)
        rows.append((*row, *judged(checks)))
    return Table(columns, (tuple(rows),), note=more(len(found.sections) - len(rows)) + RATIO)


def input_lines(case: Case) -> Iterator[Block]:
    """What the case states and what was looked up for it, above all that follows from it."""
    yield Heading("Given")
    yield from lines(inputs(case))


def hand_tables(found: Sequence[SectionByHand], case: Case) -> Iterator[Block]:
    """Formulas, then clauses, of a few sections at a time, each with its notes."""
    units = case.display
    for first in range(0, len(found), ABREAST):
        some = found[first : first + ABREAST]
        marks = Marks()
        yield _formulas(some, case, marks)
        yield from marks.notes("outside the range of its formula", units)
    yield from _left_out(found)
    yield from root_table(found, case)
    yield from clause_tables(found, units)


def clause_tables(found: Sequence[SectionByHand], units: Display) -> Iterator[Block]:
    """The clauses of a few sections at a time, then what each is intended for."""
    if not any(section.clauses for section in found):
        return
    for first in range(0, len(found), ABREAST):
        some = found[first : first + ABREAST]
        marks = Marks()
        yield _clauses(some, units, marks)
        yield from marks.notes("outside the scope of its clause, or of a formula in it", units)
    yield from applicability(found)


class Marks:
    """Numbers in brackets for limits that were exceeded, each explained once under the table."""

    def __init__(self) -> None:
        self._numbers: dict[tuple[str, float, str], int] = {}
        self._worst: dict[int, dict[str, Limit]] = {}

    def mark(self, exceeded: Sequence[Limit], section: str) -> str:
        """Text to stand behind a figure; empty where no limit was."""
        numbers = []
        for limit in exceeded:
            key = (limit.what, limit.bound, limit.side)
            number = self._numbers.setdefault(key, len(self._numbers) + 1)
            worst = self._worst.setdefault(number, {})
            pick = max if limit.side == "at most" else min
            worst[section] = pick(limit, worst.get(section, limit), key=lambda at: at.value)
            numbers.append(number)
        return "".join(f" ({number})" for number in sorted(numbers))

    def notes(self, what: str, units: Display) -> Iterator[Line]:
        """The explanations, in order."""
        for number, worst in self._worst.items():
            limit = next(iter(worst.values()))
            at = ", ".join(f"{name} {units.beside(limit)}" for name, limit in worst.items())
            rule = f"{limit.what} must be {limit.side} {units.bound(limit)}"
            yield Line(f"({number}) {what}: {rule}; worst: {at}.")
        yield GAP


def _formulas(some: Sequence[SectionByHand], case: Case, marks: Marks) -> Table:
    units = case.display
    rows: list[Row] = []
    steps = (step for section in some for step in section.steps if not step.minor)
    keys = list(dict.fromkeys(step.key for step in steps))
    keys.sort(key=lambda key: list(TOPICS).index(_any(some, key).topic))
    topic = None
    for key in keys:
        step = _any(some, key)
        if step.topic != topic:
            rows.append((Line(TOPICS[step.topic], "strong"), *[""] * (2 + len(some))))
            topic = step.topic
        dimension = step.worked.dimension
        unit = None if dimension is None else units.unit(dimension)
        cells, shares = [], []
        for section in some:
            here = section.step(key)
            if here is None:
                cells.append(NONE)
                shares.append(NONE)
                continue
            value = here.worked.value
            figure = significant(value if unit is None else unit.of(value))
            mark = marks.mark(here.worked.exceeded, section.section.name)
            cells.append(f"{figure}{mark}")
            shares.append(f"{_share(here.utilisation)}{mark}")
        name = "1" if unit is None else unit.name
        rows.append((f"  {step.label}", step.worked.symbol, name, *cells))
        if step.against is not None:
            rows.append((f"    over {words.limit(case)}", "", "1", *shares))
    return _table("Hand formulas", some, [rows])


def _share(share: float | None) -> str:
    """A utilisation, in words that need no colour where it is too much."""
    if share is None:
        return NONE
    return f"{ABOVE if share > 1.0 else ''}{words.ratio_text(share, digits=3)}"


def _clauses(some: Sequence[SectionByHand], units: Display, marks: Marks) -> Table:
    groups = []
    for key in dict.fromkeys(c.key for section in some for c in section.clauses):
        clauses = next(c for s in some for c in s.clauses if c.key == key)
        check = clauses.check
        dimension = check.demand.dimension
        unit = None if dimension is None else units.unit(dimension)
        ratios, figures = [], []
        for section in some:
            here = next((c.check for c in section.clauses if c.key == key), None)
            if here is None:
                ratios.append(NONE)
                figures.append("")
                continue
            mark = marks.mark(here.exceeded, section.section.name)
            ratios.append(f"{_share(here.ratio)}{mark}")
            both = [here.demand.value, here.resistance.value]
            figures.append(" / ".join(significant(v if unit is None else unit.of(v)) for v in both))
        title = f"  {check.clause.title}, {clauses.part}"
        resistance = check.resistance.symbol
        resistance = f"({resistance})" if "/" in resistance else resistance
        symbols = f"{check.demand.symbol} / {resistance}"
        name = "1" if unit is None else unit.name
        ratio = f"ratio{GROWTH[check.ratio_grows]}"
        head = f"{check.clause.name}; {check.clause.level}"
        groups.append([(head, ratio, "1", *ratios), (title, symbols, name, *figures)])
    return _table("Clauses of standards: ratio of demand to resistance", some, groups)


def applicability(found: Sequence[SectionByHand]) -> Iterator[Block]:
    """What each clause is intended for and how far it applies here, once."""
    yield Heading("What the clauses are intended for, and how far they apply here")
    clauses = {c.check.clause.key: c.check.clause for s in found for c in s.clauses}
    for clause in clauses.values():
        yield Line(
            f"{clause.name} ({clause.text}; here {clause.reach}). Intended for:"
            f" {clause.written_for} How far it applies here: {clause.carries}"
        )
    yield Line(
        "Ratios grow in proportion to the loads; those marked ~ q² as their square, ~ √q as their"
        " root, > q faster than they. Clauses for strength and for service are put to the same"
        " load, that of the case."
    )
    yield from lines(editions(clauses.values()))
    yield Line(GOVERNS)
    yield GAP


def _left_out(found: Sequence[SectionByHand]) -> Iterator[Line]:
    """What does not apply, and to which sections."""
    where: dict[str, list[str]] = {}
    for section in found:
        for why in section.left_out:
            where.setdefault(why, []).append(words.one_line(section.section.name))
    for why, names in where.items():
        of = "every section" if len(names) == len(found) else ", ".join(names)
        yield Line(f"Left out, {of}: {why}.")
    yield GAP


def _any(some: Sequence[SectionByHand], key: str) -> Step:
    """The step of that key of the first section that has it."""
    return next(step for section in some if (step := section.step(key)) is not None)


def _table(title: str, some: Sequence[SectionByHand], groups: Sequence[Sequence[Row]]) -> Table:
    names = [words.one_line(section.section.name) for section in some]
    columns = (
        Column(most=62), Column("symbol", most=15), Column("unit"),
        *(Column(name, numbers=True, folds=True) for name in names),
    )  # fmt: skip
    return Table(columns, tuple(tuple(group) for group in groups), title)
