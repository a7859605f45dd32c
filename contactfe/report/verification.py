"""The verification set as text and as a JSON-ready dictionary."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from rich import box
from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

import contactfe
from contactfe.report.page import print_page
from contactfe.report.versions import library_versions
from contactfe.verify.row import Kind, Origin, Outcome, origin

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

WIDEST = 9
"""Characters of the widest number."""


def print_verification(outcomes: Sequence[Outcome], console: Console) -> None:
    """Print the table at its full width, whatever the width of the console."""
    print_page(verification_table(outcomes), console)


def verification_table(outcomes: Sequence[Outcome]) -> RenderableType:
    """Every row by kind, those that did not pass once more, and the sum; readable without colour.

    Within a kind, each source stands once, above the rows that are held against it.
    """
    parts: list[RenderableType] = []
    for kind, heading in _HEADINGS.items():
        of_kind = [o for o in outcomes if o.row.kind == kind]
        if of_kind:
            parts.append(Text(f"{heading}: {_count(of_kind)}", style="bold"))
            parts.append(_columns(show_header=True))
            parts.extend(_by_source(of_kind))
    parts.append(
        Text(
            "Difference: this tool's value less the published one, in percent of the published"
            " value, or without % in the row's unit. Allowed: the largest difference that"
            " passes, with its reason.\n",
            style="dim",
        )
    )
    parts.append(_origins(outcomes))
    parts.extend(_failed(outcomes))
    parts.append(_sum(outcomes))
    return Group(*parts)


def _columns(show_header: bool) -> Table:
    """Columns of fixed width, so that tables one below another line up."""
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False, show_header=show_header
    )
    table.add_column("  case", width=56)
    table.add_column("published", justify="right", width=WIDEST + 1)
    table.add_column("this tool", justify="right", width=WIDEST + 1)
    table.add_column("unit", width=8)
    table.add_column("difference", justify="right", width=10)
    table.add_column("allowed", justify="right", width=8)
    table.add_column("pass", width=7)
    table.add_column("why allowed", width=22)
    return table


def _by_source(outcomes: Sequence[Outcome]) -> Iterator[RenderableType]:
    """Each source once, above all that is held against it, in the order of their first rows."""
    groups: dict[str, list[Outcome]] = {}
    for outcome in outcomes:
        groups.setdefault(outcome.row.source, []).append(outcome)
    for source, group in groups.items():
        yield Text(source, style="italic")
        table = _columns(show_header=False)
        for outcome in group:
            _add(table, outcome)
        yield Padding(table, (0, 0, 1, 0))


def _add(table: Table, outcome: Outcome) -> None:
    row = outcome.row
    table.add_row(
        Padding(Text(row.case), (0, 0, 0, 2)),
        _number(outcome.published),
        _number(outcome.tool),
        Text("" if row.unit == "1" else row.unit),
        "" if outcome.difference is None else _difference(outcome.difference, row.absolute),
        _allowed(outcome),
        _passes(outcome),
        Text(row.why),
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


def _passes(outcome: Outcome) -> Text:
    """In words that need no colour."""
    if outcome.passed is None:
        return Text("not run", style="yellow")
    return Text("yes", style="green") if outcome.passed else Text("NO", style="bold red")


def _origins(outcomes: Sequence[Outcome]) -> Text:
    """How many of the values in the published column were printed and seen, and how many not."""
    counts = Counter(origin(outcome.row) for outcome in outcomes)
    parts = (f"{counts[kind]} {words}" for kind, words in _ORIGINS.items() if counts[kind])
    return Text(f"Of the values called published: {', '.join(parts)}.\n", style="dim")


def _failed(outcomes: Sequence[Outcome]) -> Iterator[Text]:
    failed = [o for o in outcomes if o.passed is False]
    if not failed:
        return
    yield Text("Did not pass", style="bold red")
    for o in failed:
        row = o.row
        unit = "" if row.unit == "1" else f" {row.unit}"
        found = o.remark
        if o.tool is not None and o.difference is not None:
            found = (
                f"{_number(o.tool)}{unit}, published {_number(o.published)}{unit}, difference"
                f" {_difference(o.difference, row.absolute)}, allowed {_allowed(o)}"
            )
        yield Text(f"{row.key}: {row.case}: {found}")
    yield Text("")


def _sum(outcomes: Sequence[Outcome]) -> Text:
    why = Counter(o.remark for o in outcomes if o.passed is None)
    line = f"{_count(outcomes)}, in {sum(o.seconds for o in outcomes):.0f} s"
    if why:
        reasons = "; ".join(f"{number} as {reason}" for reason, number in why.items())
        line += f". Not run: {reasons}"
    failed = any(o.passed is False for o in outcomes)
    return Text(f"{line}.", style="bold red" if failed else "bold")


def _count(outcomes: Sequence[Outcome]) -> str:
    """How many pass, of those that were run; and how many were not.

    >>> _count([])
    '0 of 0 pass'
    """
    run = [o for o in outcomes if o.passed is not None]
    left = len(outcomes) - len(run)
    text = f"{sum(bool(o.passed) for o in run)} of {len(run)} pass"
    return f"{text}, {left} not run" if left else text


def verification_document(outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """Every row as plain numbers, text and null, in the order of the set, after the counts.

    Each row has its own ``unit``, "1" for a plain number. ``difference`` and ``allowed`` are ratios
    to the published value, or in ``unit`` where ``absolute``; ``seconds`` of the first row of a
    shared solve hold the solve. What was not run, or not solved, has null for its numbers and says
    why in ``remark``; so has a value that is no number.
    """
    return {
        "title": "Verification",
        "generator": {"name": "contactfe", "version": contactfe.__version__},
        "libraries": library_versions(),
        "passed": sum(o.passed is True for o in outcomes),
        "failed": sum(o.passed is False for o in outcomes),
        "not_run": sum(o.passed is None for o in outcomes),
        "seconds": sum(o.seconds for o in outcomes),
        "rows": [_row(o) for o in outcomes],
    }


def _row(outcome: Outcome) -> dict[str, Any]:
    row = outcome.row
    return {
        "key": row.key,
        "kind": row.kind,
        "case": row.case,
        "source": row.source,
        "unit": row.unit,
        "published": outcome.published,
        "value": _finite(outcome.tool),
        "difference": _finite(outcome.difference),
        "allowed": row.allowed,
        "absolute": row.absolute,
        "why_allowed": row.why,
        "passed": outcome.passed,
        "remark": outcome.remark,
        "seconds": outcome.seconds,
    }


def _finite(value: float | None) -> float | None:
    """JSON has neither NaN nor infinity."""
    return value if value is not None and math.isfinite(value) else None
