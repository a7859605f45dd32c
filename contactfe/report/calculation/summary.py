"""The first sheet: the title block, the answer, every check at its worst, and what is open."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import contactfe
from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import Check, counted, severity
from contactfe.case.display import Display
from contactfe.report import envelope_page, sizing_words, words
from contactfe.report.blocks import (
    GAP,
    Block,
    Column,
    Fields,
    Heading,
    Line,
    Row,
    Table,
    lines,
    numbers,
    texts,
)
from contactfe.report.open_items import worded
from contactfe.report.table import in_short
from contactfe.report.verdicts import check_cells, ratio_text

MOST_CHECKS = 12
"""Rows of checks up to which all are on the first sheet; of more, what the others come to."""

DIGEST = 16
"""Digits of the digest of the case file that are printed."""


def summary(found: Calculation, digest: str) -> Iterator[Block]:
    """All of it."""
    case, of = found.case, found.case.document
    yield Fields(
        (
            ("project", words.one_line(of.project or "")),
            ("prepared", of.prepared or ""),
            ("calculation", of.calculation or ""),
            ("checked", of.checked or ""),
            ("revision", of.revision or ""),
            ("approved", of.approved or ""),
            ("date", "" if of.date is None else of.date.isoformat()),
            ("signed", ""),
            ("solved by", f"contactfe {contactfe.__version__}, report in {case.report_units}"),
            ("case file", f"{_name(case.source)}, sha256 {digest[:DIGEST]}"),
        )
    )
    yield Heading("Summary", 2)
    yield Line(f"Solved: {words.how_held(case)}.")
    yield GAP
    yield from _answer(found)
    table = in_short(found.whole, len(found.comparison.sections))
    yield replace(table, title="The sections, least stress concentration first")
    yield from open_table(found)
    yield from checks_table(found.checks, case.display)


def _answer(found: Calculation) -> Iterator[Line]:
    case, comparison = found.case, found.comparison
    yield Line(comparison.reason)
    short = (words.accuracy(case, r) for r in comparison.sections if r.stopped)
    yield from lines(short, "bad")
    if found.envelope is not None:
        yield from lines(envelope_page.answer(found.envelope)[:1])
    if found.sizing is not None:
        for diameter in found.sizing.diameters:
            yield from lines(sizing_words.which_pass(diameter, case))
            yield from lines(sizing_words.in_short(diameter, case), "bad")


def _name(source: str) -> str:
    return source.replace("\\", "/").rpartition("/")[2]


def open_table(found: Calculation) -> Iterator[Block]:
    """What no check covers, with why, and the reason for which the case accepts it."""
    case, rows = found.case, []
    for item in found.open_items:
        label, why = worded(item)
        of = ", ".join(map(words.one_line, item.sections)) or "every section"
        settled = item.accepted and f"accepted: {item.accepted}"
        rows.append((Line(label, "plain" if settled else "strong"), of, why, settled or "OPEN"))
    if not rows:
        yield Line("No item is open.", "good")
        return
    columns = (Column("item", key=True), *texts("of", "why", "state"))
    yield Table(columns, (tuple(rows),), "Open items")
    if case.distribution is not None:
        yield Line("The load is even along the post: stated in [load] distribution.")


def checks_table(checks: Sequence[Check], units: Display) -> Iterator[Table]:
    """Every check that applies, by what it is and what it comes to, at the section of its worst."""
    groups: dict[tuple[str, str], list[Check]] = {}
    for check in sorted(counted(checks), key=severity, reverse=True):
        groups.setdefault((check.label, check.verdict), []).append(check)
    columns = (
        Column("check", key=True), *texts("of"), *numbers("demand", "resistance", "ratio"),
        *texts("verdict"),
    )  # fmt: skip
    every = list(groups.values())
    passing = [alike for alike in every[MOST_CHECKS:] if alike[0].verdict == "passes"]
    rows = [_row(alike, units) for alike in every if alike not in passing]
    if passing:
        worst = passing[0][0]
        *_, verdict = check_cells(worst, units)
        ratio = f"at most {ratio_text(worst)}"
        rows.append((f"{len(passing)} more", "", "", "", ratio, verdict))
    note = (
        "Of several sections of one verdict the figures are those of the first named, which is the"
        " worst. A check passes if its ratio, with ± added, is at most 1. Each by itself: “All"
        " checks”."
    )
    yield Table(columns, (tuple(rows),), "Checks, governing first", note)


def _row(alike: Sequence[Check], units: Display) -> Row:
    worst = alike[0]
    names = dict.fromkeys(words.one_line(check.section) for check in alike if check.section)
    return (worst.label, ", ".join(names) or "the stop", *check_cells(worst, units))
