"""A sweep as text: what was varied, the best and the worst of each section, and what failed."""

from __future__ import annotations

from collections.abc import Iterator

from contactfe.assess.sweep.plan import CHECKED_ONE_IN, label
from contactfe.assess.sweep.result import SweepResult
from contactfe.assess.sweep.summary import Judged, SectionSummary, SweepSummary, summary
from contactfe.case.display import Display, significant
from contactfe.case.sweeping import Sweep, Swept
from contactfe.report import words
from contactfe.report.answer import Room, answer_page, spared
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
    numbers,
)
from contactfe.report.verdicts import open_lines

MOST_ERRORS = 5
"""Kinds of error that are listed; the table has that of every row."""

MOST_VALUES = 6
"""Values of a key that are listed; of more, the first two and the last."""

_METHODS = {
    "grid": "every combination of the values",
    "list": "the values side by side",
    "latin hypercube": "a Latin hypercube",
}


def sweep_page(found: SweepSummary) -> Page:
    """The whole page."""
    case, plan = found.result.case, found.result.plan
    sweep = plan.sweep
    method = _METHODS[sweep.method]
    if sweep.method == "latin hypercube":
        method += f", seed {sweep.seed}"
    keys, sections = _count(len(sweep.keys), "key"), _count(len(case.sections), "section")
    return framed(
        case.title,
        words.cautions(case),
        Line(f"Sweep of {keys} by {method}: {plan.count} samples of {sections}"),
        GAP,
        _keys(sweep),
        _sections(found.sections, case.display),
        *open_lines(case, found.result.open_items),
        GAP,
        *lines(_ends(found)),
        GAP,
        *lines(_notes(found)),
    )


def sweep_answer(found: SweepSummary) -> Page:
    """How many samples of each section pass, at which values it is best and worst."""
    case, plan = found.result.case, found.result.plan

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield spared(_sections(found.sections, case.display), 3, room.rows)
        ends = list(_ends(found))
        yield from lines(ends[: 2 * room.named])
        if len(ends) > 2 * room.named:
            yield Line(f"{len(ends) - 2 * room.named} more lines of this kind are left out.")
        yield from open_lines(case, found.result.open_items, by_name=True)
        rows = sum(section.rows for section in found.sections)
        if found.solved < rows:
            yield Line(f"{rows - found.solved} of {rows} rows could not be solved.", "bad")

    keys = _count(len(plan.sweep.keys), "key")
    return answer_page(case.title, f"Sweep of {keys}: {plan.count} samples", blocks)


def result_answer(result: SweepResult) -> Page:
    """The same of a result, whose samples are all gone through."""
    return sweep_answer(summary(result))


def _count(number: int, of: str) -> str:
    return f"1 {of}" if number == 1 else f"{number} {of}s"


def _keys(sweep: Sweep) -> Table:
    rows = tuple((words.one_line(label(key)), _values(sweep, key)) for key in sweep.keys)
    return Table((Column("key", folds=True), Column("values")), (rows,))


def _values(sweep: Sweep, key: Swept) -> str:
    texts = [f"{value:.6g}" for value in key.values]
    if sweep.method == "latin hypercube":
        even = "evenly" if key.spacing == "even" else "evenly in its logarithm"
        return f"{texts[0]} to {texts[1]}, {even}"
    if len(texts) > MOST_VALUES:
        return f"{len(texts)} values: {', '.join(texts[:2])}, …, {texts[-1]}"
    return ", ".join(texts)


def _sections(sections: tuple[SectionSummary, ...], units: Display) -> Table:
    place = Column("body and place", most=26)
    columns = (
        Column("section", folds=True, most=28),
        *numbers(
            "samples\nsolved", "pass every\ncheck", f"post peak von\nMises [{units.stress.name}]",
            "least utili-\nsation [1]",
        ),
        place,
        *numbers("largest utili-\nsation [1]"),
        place,
    )  # fmt: skip
    return Table(columns, (tuple(_section(section, units) for section in sections),))


def _section(section: SectionSummary, units: Display) -> Row:
    name, solved = words.one_line(section.name), f"{section.solved} of {section.rows}"
    if section.least is None or section.most is None:
        return (name, solved, *[""] * 6)
    low, high = map(units.stress.number, section.peaks)
    passed = f"{section.passed}"
    return (name, solved, passed, f"{low} to {high}", *_end(section.least), *_end(section.most))


def _end(one: Judged) -> tuple[str, str]:
    """The larger utilisation of a row, and its body and place."""
    body, use = one.governing
    peak = one.solution.figure(f"{body}_peak")
    assert peak is not None
    assert peak.place is not None
    return (
        f"{use.value:.3g}" if one.uncertainties is None else words.pair(use),
        f"{body}, {peak.place.zone.removeprefix('plate ')}",
    )


def _ends(summary: SweepSummary) -> Iterator[str]:
    """At which values of its keys a section's utilisation is least and largest."""
    keys = summary.result.plan.sweep.keys
    for section in summary.sections:
        name = f"“{words.one_line(section.name)}”"
        ratio, label = section.beside
        if label:
            yield f"{name}, greatest ratio of the other checks: {significant(ratio, 3)}, {label}"
        for what, one in (("least", section.least), ("largest", section.most)):
            if one is None:
                continue
            values = ", ".join(
                f"{key.path} = {value:.6g}{' ' if key.unit else ''}{key.unit}"
                for key, value in zip(keys, one.keys, strict=True)
                if value is not None
            )
            if not values:
                yield f"{name} has none of the keys: its samples are all the same."
                break
            yield f"{name}, {what} utilisation, sample {one.sample}: {words.one_line(values)}"


def _notes(summary: SweepSummary) -> Iterator[str]:
    of = summary.sections
    rows, solved = sum(s.rows for s in of), summary.solved
    for section in of:
        most = sorted(section.errors.values(), key=lambda e: -e.count)
        for error in most[:MOST_ERRORS]:
            yield (
                f"Not solved, “{words.one_line(section.name)}”: {error.count} of"
                f" {section.rows}, such as sample {error.sample}: {words.one_line(error.example)}"
            )
        if len(most) > MOST_ERRORS:
            yield f"and {len(most) - MOST_ERRORS} other kinds of error, which the table states."
    if solved < rows:
        yield f"{rows - solved} of {rows} rows could not be solved and do not count as passed."
    checked = sum(s.checked for s in of)
    yield (
        f"Utilisation: peak von Mises stress over {words.limit(summary.result.case)}, of post or"
        " plate, whichever is larger with its numerical uncertainty; the verdict counts that too."
    )
    if checked < solved:
        yield (
            f"Uncertainty: {checked} of {solved} rows were solved on two mesh levels, about one in"
            f" {CHECKED_ONE_IN} chosen by the sample's number; the others have the largest relative"
            " uncertainty of those of their section, which is an estimate and no bound."
            " levels = 2 in [sweep] gives each its own, in half as much time again."
        )
    if unjudged := sum(s.unjudged for s in of):
        yield f"Of {unjudged} rows the uncertainty is not known: none of their section was checked."
    seconds = sum(s.seconds for s in of)
    yield f"Work: {seconds:.3g} s of one core, {seconds / max(rows, 1):.2g} s a row."
