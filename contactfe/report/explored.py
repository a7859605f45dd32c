"""What the page of `contactfe explore` says of the section that is moved, as blocks."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.checks import counted, governing, verdict_of
from contactfe.assess.handchecks import HAND_KEYS
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.results import Comparison, HandCheck, SectionResult
from contactfe.assess.sizing.record import Trial
from contactfe.case import Case
from contactfe.case.display import significant
from contactfe.report import reason, words
from contactfe.report.blocks import Block, Column, Line, Row, Table, numbers
from contactfe.report.check_names import short
from contactfe.report.overload_page import strikes_table
from contactfe.report.overload_section import section_blocks
from contactfe.report.table import hand_row, in_short
from contactfe.report.values import page_labels, page_pairs
from contactfe.report.verdicts import HEADING, TONE, ratio_text, verdict_lines

GLANCE = {
    "stress_concentration": "",
    "post_peak": "hertz_peak_von_mises",
    "plate_peak": "hertz_peak_von_mises_plate",
    "half_width": "hertz_half_width",
    "peak_pressure": "hertz_peak_pressure",
    "bore_hoop_under_load": "ring_bore_under_load",
}
"""Quantities that stand below the verdict, each with the key of the hand figure beside it."""

_NAMED = 4
"""Sections of a verdict with a line each: as many as the page holds."""

_WIDEST = 2
"""How soon a column of a comparison's answer is left out, at most, to be on the page."""


def at_a_glance(case: Case, hand: SectionByHand, found: Comparison | Trial | None = None) -> Table:
    """The section that is moved, the first of the case: its figures by hand and, where they are
    there, as solved: of one coarse mesh without ± and without a verdict, of a comparison with both.
    """
    match found:
        case None:
            rows, known = [_NO_VERDICT], {}
        case Trial():
            rows, known = [_NO_VERDICT], _coarse(case, found)
        case Comparison():
            rows, known = list(_verdict(found)), _solved(case, found.sections[0])
    units = case.display
    for key, label in zip(GLANCE, page_labels(units, *GLANCE), strict=True):
        by_hand = _by_hand(case, hand, key)
        if key in known or by_hand:
            rows.append((label, *known.get(key, ("", "")), by_hand))
    return Table((Column(), *numbers("solved", "", "by hand")), (tuple(rows),))


_NO_VERDICT: Row = ("Verdict", Line(HEADING["no verdict"], "quiet"), "", "")


def _verdict(comparison: Comparison) -> Iterator[Row]:
    """The verdict, never without how much is open beside it, nor without that of a stop that
    does not pass.
    """
    result = comparison.sections[0]
    found, worst = result.verdict, governing(result.checks)
    still = sum(not item.accepted for item in comparison.open_items)
    yield "Verdict", Line(HEADING[found], TONE[found]), f"{still} OPEN" if still else "", ""
    amiss = [check for check in comparison.checks if not check.section and not check.passes]
    if counted(amiss):
        stop = verdict_of(amiss)
        yield "Stop as a whole", Line(HEADING[stop], TONE[stop]), "", ""
    if worst is not None:
        yield f"Governs: {short(worst)}, ratio", ratio_text(worst), "", ""


def _coarse(case: Case, trial: Trial) -> dict[str, tuple[str, str]]:
    nominal, stress = case.line_load / case.sections[0].outside_diameter, case.display.stress
    post = max(peak for peak in trial.places if peak is not None)
    figures = words.fixed(post / nominal, 1), stress.number(post), stress.number(trial.plate)
    return {key: (figure, "") for key, figure in zip(GLANCE, figures, strict=False)}


def _solved(case: Case, result: SectionResult) -> dict[str, tuple[str, str]]:
    pairs = page_pairs(result.values, case.display, *GLANCE)
    return {key: pair for key, pair in zip(GLANCE, pairs, strict=True) if pair[0]}


def _by_hand(case: Case, hand: SectionByHand, key: str) -> str:
    """A hand figure in its unit; K is that of the half-space. Empty where no formula applies."""
    of_post = hand.step(GLANCE["post_peak"])
    step = hand.step(GLANCE[key]) if GLANCE[key] else of_post
    if step is None or step.worked.dimension is None:
        return ""
    if not GLANCE[key]:
        nominal = case.line_load / hand.section.outside_diameter
        return words.fixed(step.worked.value / nominal, 1)
    return significant(case.display.unit(step.worked.dimension).of(step.worked.value))


def verdicts(comparison: Comparison) -> Iterator[Block]:
    """Every section of the case and the stop, and what is open."""
    names, items = comparison.by_concentration, comparison.open_items
    yield from verdict_lines(comparison.case, names, comparison.checks, items, _NAMED)


def beside(comparison: Comparison) -> Iterator[Block]:
    """The sections beside one another, of which the last may be the solid bar, and why."""
    table = in_short(comparison, len(comparison.sections))
    kept = [k for k, column in enumerate(table.columns) if column.drop <= _WIDEST]
    rows = tuple(tuple(row[k] for k in kept) for row in table.groups[0])
    yield Table(tuple(table.columns[k] for k in kept), (rows,), note=table.note)
    yield Line(" ".join([reason.best(comparison)[0], *reason.why(comparison)[:2]]))


def beyond(result: OverloadResult) -> Iterator[Block]:
    """The one section struck beyond first yield, and how the load of the case stands to it."""
    case, (of,) = result.case, result.sections
    if of.first_yield is not None:
        times = case.line_load / of.whole / of.first_yield.value
        load = case.display.line_load.text(case.line_load)
        where = "so that it stays elastic" if times < 1.0 else "the strike of that factor below"
        yield Line(f"Load of the case: {load}, {significant(times, 3)} times first yield, {where}.")
    table = strikes_table(result)  # without its first column, which has what the lines say
    said = (block for block in section_blocks(result, of) if isinstance(block, Line))
    yield from (line for line in said if line.text not in table.note)
    yield replace(
        table, columns=table.columns[1:], groups=(tuple(row[1:] for row in table.groups[0]),)
    )


def by_hand(
    case: Case, found: SectionByHand, checks: Sequence[HandCheck] | None = None
) -> Iterator[Block]:
    """The hand figures of a section, with those solved beside them where they are there."""
    known = {} if checks is None else {check.key: hand_row(case, check) for check in checks}
    rows: list[Row] = []
    for step in found.steps:
        if step.key in known:
            rows.append(known[step.key])
        elif checks is None and step.key in HAND_KEYS and step.worked.dimension is not None:
            unit = case.display.unit(step.worked.dimension)
            rows.append((step.label, unit.name, significant(unit.of(step.worked.value)), "", ""))
    columns = (Column("by hand"), Column("unit"), *numbers("hand", "solved", "difference"))
    yield Table(columns, (tuple(rows),))
