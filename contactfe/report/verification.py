"""The verification set as text and as a JSON-ready dictionary."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain

from contactfe.report.blocks import GAP, Block, Cell, Column, Heading, Line, Page, Table
from contactfe.report.json_file import Json, finite, head
from contactfe.verify.row import Kind, Origin, Outcome

_HEADINGS: dict[Kind, str] = {
    "hand formula": "Hand formulas beside known values",
    "standard": "Clauses of standards",
    "exact field": "Exact fields and series",
    "finite elements": "Cases solved by finite elements",
    "reference library": "Cases solved here and by an independent open library",
}

_ORIGINS: dict[Origin, str] = {
    "seen": "printed and seen",
    "companion": "given by a published companion to a book that was not seen",
    "from memory": "printed but from memory, not seen",
    "computed here": "computed here from a source's formula, or derived here",
    "library": "found by another library",
}

MOST_FAILED = 10
"""Rows that do not pass which an answer names."""

WIDEST = 9
"""Characters of the widest number."""

_COLUMNS = tuple(
    Column(head, numbers, width, width)
    for head, numbers, width in (
        ("case", False, 56), ("known", True, WIDEST + 1), ("this tool", True, WIDEST + 1),
        ("unit", False, 8), ("difference", True, 10), ("allowed", True, 8), ("pass", False, 7),
        ("why allowed", False, 22),
    )
)  # fmt: skip
"""Of fixed width, so that tables one below another line up."""

_PASSED = {None: Line("not run", "strong"), True: Line("yes", "good"), False: Line("NO", "bad")}


def verification_page(outcomes: Sequence[Outcome]) -> Page:
    """Every row by kind, those that did not pass once more, and the sum; readable without colour.

    Within a kind, each source stands once, above the rows that are held against it.
    """
    return (
        *_by_kind(outcomes),
        Line(
            "Difference: this tool's value less the known one, in percent of the known value,"
            " or without % in the row's unit. Allowed: the largest difference that"
            " passes, with its reason.",
            "quiet",
        ),
        GAP,
        _origins(outcomes),
        GAP,
        *_failed(outcomes),
        GAP,
        _sum(outcomes),
    )


def verification_answer(outcomes: Sequence[Outcome]) -> Page:
    """How many rows of each kind pass, those that do not, and where the known values are from."""
    kinds = [
        (heading, _count(of))
        for kind, heading in _HEADINGS.items()
        if (of := [outcome for outcome in outcomes if outcome.row.kind == kind])
    ]
    failed = tuple(_failed(outcomes))
    left = len(failed) - MOST_FAILED - 1
    return (
        Heading("Verification", 1),
        _sum(outcomes),
        *failed[: MOST_FAILED + 1],
        *((Line(f"{left} more did not pass: --full.", "bad"),) if left > 0 else ()),
        Table((Column("held against known values"), Column("pass")), (tuple(kinds),)),
        _origins(outcomes),
    )


def _by_kind(outcomes: Sequence[Outcome]) -> Iterator[Block]:
    """Each source of a kind once, above all that is held against it, in the order of first rows."""
    for kind, heading in _HEADINGS.items():
        sources: dict[str, list[Outcome]] = {}
        for outcome in outcomes:
            if outcome.row.kind == kind:
                sources.setdefault(outcome.row.source, []).append(outcome)
        if sources:
            yield Heading(f"{heading}: {_count(list(chain(*sources.values())))}")
        columns = _COLUMNS
        for source, group in sources.items():
            yield Table(columns, (tuple(map(_cells, group)),), source)
            columns = tuple(replace(column, head="") for column in _COLUMNS)


def _cells(outcome: Outcome) -> tuple[Cell, ...]:
    row = outcome.row
    return (
        row.case,
        _number(outcome.published),
        _number(outcome.value),
        "" if row.unit == "1" else row.unit,
        "" if outcome.difference is None else _difference(outcome.difference, row.absolute),
        _allowed(outcome),
        _PASSED[outcome.passed],
        row.why,
    )


def _number(value: float | None) -> str:
    if value is None:
        return ""
    text = f"{value:.6g}"
    return text if len(text) <= WIDEST else f"{value:.2e}"


def _difference(value: float, absolute: bool) -> str:
    return f"{value:+.3g}" if absolute else f"{100.0 * value:+z.3f} %"


def _allowed(outcome: Outcome) -> str:
    row = outcome.row
    return f"{row.allowed:.3g}" if row.absolute else f"{100.0 * row.allowed:.3g} %"


def _origins(outcomes: Sequence[Outcome]) -> Line:
    """How many known values of the rows that were run were printed and seen, and how many not."""
    counts = Counter(outcome.row.origin for outcome in outcomes if outcome.passed is not None)
    parts = (f"{counts[kind]} {words}" for kind, words in _ORIGINS.items() if counts[kind])
    return Line(f"Of the known values: {', '.join(parts)}.", "quiet")


def _failed(outcomes: Sequence[Outcome]) -> Iterator[Line]:
    failed = [o for o in outcomes if o.passed is False]
    if failed:
        yield Line("Did not pass", "bad")
    for o in failed:
        row = o.row
        unit = "" if row.unit == "1" else f" {row.unit}"
        found = o.remark
        if o.value is not None and o.difference is not None:
            found = (
                f"{_number(o.value)}{unit}, known {_number(o.published)}{unit}, difference"
                f" {_difference(o.difference, row.absolute)}, allowed {_allowed(o)}"
            )
        yield Line(f"{row.key}: {row.case}: {found}")


def _sum(outcomes: Sequence[Outcome]) -> Line:
    why = Counter(o.remark for o in outcomes if o.passed is None)
    line = f"{_count(outcomes)}, in {sum(o.seconds for o in outcomes):.0f} s"
    if why:
        reasons = "; ".join(f"{number} as {reason}" for reason, number in why.items())
        line += f". Not run: {reasons}"
    failed = any(o.passed is False for o in outcomes)
    return Line(f"{line}.", "bad" if failed else "strong")


def _count(outcomes: Sequence[Outcome]) -> str:
    """How many pass, of those that were run; and how many were not.

    >>> _count([])
    '0 of 0 pass'
    """
    counts = Counter(o.passed for o in outcomes)
    text = f"{counts[True]} of {counts[True] + counts[False]} pass"
    return f"{text}, {counts[None]} not run" if counts[None] else text


def verification_document(outcomes: Sequence[Outcome]) -> Json:
    """Every row as plain numbers, text and null, in the order of the set, after the counts.

    Each row has its own ``unit``, "1" for a plain number. ``difference`` and ``allowed`` are ratios
    to the published value, or in ``unit`` where ``absolute``; ``seconds`` of the first row of a
    shared solve hold the solve. What was not run, or not solved, has null for its numbers and says
    why in ``remark``; so has a value that is no number.
    """
    counts = Counter(o.passed for o in outcomes)
    return {
        **{key: value for key, value in head("Verification").items() if key != "units"},
        "passed": counts[True],
        "failed": counts[False],
        "not_run": counts[None],
        "seconds": sum(o.seconds for o in outcomes),
        "rows": [_row(o) for o in outcomes],
    }


def _row(outcome: Outcome) -> Json:
    row = outcome.row
    return {
        "key": row.key,
        "kind": row.kind,
        "case": row.case,
        "source": row.source,
        "unit": row.unit,
        "published": outcome.published,
        "value": finite(outcome.value),
        "difference": finite(outcome.difference),
        "allowed": row.allowed,
        "absolute": row.absolute,
        "why_allowed": row.why,
        "passed": outcome.passed,
        "remark": outcome.remark,
        "seconds": outcome.seconds,
    }
