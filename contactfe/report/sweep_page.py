"""A sweep as text: what was varied, the best and the worst of each section, and what failed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.sweep.plan import CHECKED_ONE_IN, label
from contactfe.assess.sweep.result import Solution, SweepResult
from contactfe.assess.value import Value
from contactfe.case.display import significant
from contactfe.case.sweeping import Sweep, Swept
from contactfe.report import words
from contactfe.report.page import print_page, write_page
from contactfe.report.sweep_table import Line, lines
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


@dataclass
class Errors:
    """Rows that failed alike: but for numbers, their errors read the same."""

    example: str
    sample: int
    count: int = 0


@dataclass
class Summary:
    """What a section comes to over all samples; ``least`` and ``most`` by utilisation.

    ``beside`` is the largest ratio of the checks beside the solved stresses, and which it is of.
    """

    name: str
    rows: int = 0
    solved: int = 0
    passed: int = 0
    unjudged: int = 0
    checked: int = 0
    least: Line | None = None
    most: Line | None = None
    peaks: tuple[float, float] = (float("inf"), 0.0)
    beside: tuple[float, str] = (0.0, "")
    seconds: float = 0.0
    errors: dict[str, Errors] = field(default_factory=dict)

    def add(self, line: Line) -> None:
        """Take one more row in."""
        row, solution = line.row, line.row.solution
        self.rows += 1
        self.seconds += row.seconds
        if solution is None:
            alike = re.sub(r"[0-9.]+", "#", row.error)
            self.errors.setdefault(alike, Errors(row.error, line.sample)).count += 1
            return
        self.solved += 1
        self.passed += bool(line.passes)
        self.unjudged += line.passes is None
        self.checked += solution.uncertainties is not None
        self.beside = max(self.beside, (solution.other_ratio or 0.0, solution.other))
        peak = solution.number("post_peak")
        self.peaks = min(self.peaks[0], peak), max(self.peaks[1], peak)
        if self.least is None or _use(line) < _use(self.least):
            self.least = line
        if self.most is None or _use(line) > _use(self.most):
            self.most = line


def summaries(result: SweepResult) -> tuple[Summary, ...]:
    """What each section comes to; goes through all samples without keeping them."""
    found = {section.name: Summary(section.name) for section in result.case.sections}
    for line in lines(result):
        found[line.row.section].add(line)
    return tuple(found.values())


def print_sweep(result: SweepResult, of: tuple[Summary, ...], console: Console) -> None:
    """Print the page at its full width, whatever the width of the console."""
    print_page(sweep_page(result, of), console)


def write_sweep(result: SweepResult, of: tuple[Summary, ...], path: Path) -> None:
    """Write the page as plain text in UTF-8. Raises OSError where that cannot be done."""
    write_page(sweep_page(result, of), path)


def sweep_page(result: SweepResult, of: tuple[Summary, ...]) -> RenderableType:
    """The whole page for a rich console at least ``WIDTH`` wide; readable without colour."""
    sweep = result.plan.sweep
    seed = f", seed {sweep.seed}" if sweep.method == "latin hypercube" else ""
    count = result.plan.count
    keys = "1 key" if len(sweep.keys) == 1 else f"{len(sweep.keys)} keys"
    sections = "1 section" if len(of) == 1 else f"{len(of)} sections"
    return Group(
        Text(words.one_line(result.case.title), style="bold"),
        Text(f"Sweep of {keys} by {_METHODS[sweep.method]}{seed}: {count} samples of {sections}\n"),
        _keys(sweep),
        _sections(result, of),
        *open_lines(result.case, result.open_items),
        Text(""),
        *(Text(sentence) for sentence in _ends(result, of)),
        Text(""),
        *(Text(line) for line in _notes(result, of)),
        *(Text(f"Caution: {line}") for line in words.cautions(result.case)),
    )


def _keys(sweep: Sweep) -> Table:
    table = Table(box=None, pad_edge=False)
    table.add_column("key", overflow="fold")
    table.add_column("values")
    for key in sweep.keys:
        table.add_row(Text(words.one_line(label(key))), Text(_values(sweep, key)))
    table.add_row()
    return table


def _values(sweep: Sweep, key: Swept) -> str:
    texts = [f"{value:.6g}" for value in key.values]
    if sweep.method == "latin hypercube":
        even = "evenly" if key.spacing == "even" else "evenly in its logarithm"
        return f"{texts[0]} to {texts[1]}, {even}"
    if len(texts) > MOST_VALUES:
        return f"{len(texts)} values: {', '.join(texts[:2])}, …, {texts[-1]}"
    return ", ".join(texts)


def _sections(result: SweepResult, of: tuple[Summary, ...]) -> Table:
    units = result.case.display
    table = Table(box=None, pad_edge=False)
    table.add_column("section", overflow="fold", max_width=28)
    table.add_column("samples\nsolved", justify="right")
    table.add_column("pass every\ncheck", justify="right")
    table.add_column(Text(f"post peak von\nMises [{units.stress.name}]"), justify="right")
    table.add_column(Text("least utili-\nsation [1]"), justify="right")
    table.add_column("body and place", max_width=26)
    table.add_column(Text("largest utili-\nsation [1]"), justify="right")
    table.add_column("body and place", max_width=26)
    for section in of:
        if section.least is None or section.most is None:
            table.add_row(Text(words.one_line(section.name)), f"0 of {section.rows}", *[""] * 6)
            continue
        low, high = (units.stress.number(peak) for peak in section.peaks)
        table.add_row(
            Text(words.one_line(section.name)),
            f"{section.solved} of {section.rows}",
            f"{section.passed}",
            f"{low} to {high}",
            _utilisation(section.least),
            Text(", ".join(_governs(section.least))),
            _utilisation(section.most),
            Text(", ".join(_governs(section.most))),
        )
    table.add_row()
    return table


def _ends(result: SweepResult, of: tuple[Summary, ...]) -> Iterator[str]:
    """At which values of its keys a section's utilisation is least and largest."""
    keys = result.plan.sweep.keys
    for section in of:
        name = f"“{words.one_line(section.name)}”"
        ratio, label = section.beside
        if label:
            yield f"{name}, checks beside the stresses: at most {significant(ratio, 3)}, {label}"
        for what, line in (("least", section.least), ("largest", section.most)):
            if line is None:
                continue
            values = ", ".join(
                f"{key.path} = {value:.6g}{' ' if key.unit else ''}{key.unit}"
                for key, value in zip(keys, line.keys, strict=True)
                if value is not None
            )
            if not values:
                yield f"{name} has none of the keys: its samples are all the same."
                break
            yield f"{name}, {what} utilisation, sample {line.sample}: {words.one_line(values)}"


def _notes(result: SweepResult, of: tuple[Summary, ...]) -> Iterator[str]:
    rows, solved = sum(s.rows for s in of), sum(s.solved for s in of)
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
        f"Utilisation: peak von Mises stress over {words.limit(result.case)}, of post or plate,"
        " whichever is larger with its numerical uncertainty; the verdict counts that too."
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


def _governs(line: Line) -> tuple[str, str]:
    body = _body(line)
    figure = _solved(line).figure(f"{body}_peak")
    assert figure is not None
    assert figure.place is not None
    return body, figure.place.zone.removeprefix("plate ")


def _utilisation(line: Line) -> str:
    solution, uncertainties = _solved(line), line.uncertainties
    key = f"{_body(line)}_utilisation"
    use = solution.number(key)
    if uncertainties is None:
        return f"{use:.3g}"
    return words.pair(Value(use, uncertainties[solution.key(key)]))


def _body(line: Line) -> str:
    """The body of the larger utilisation, uncertainty counted."""
    post, plate = _uppers(line)
    return "post" if post >= plate else "plate"


def _use(line: Line) -> float:
    return max(_uppers(line))


def _uppers(line: Line) -> tuple[float, float]:
    """Utilisations of post and plate with their uncertainty added."""
    solution, uncertainties = _solved(line), line.uncertainties or {}
    post, plate = (
        solution.number(key) + uncertainties.get(solution.key(key), 0.0)
        for key in ("post_utilisation", "plate_utilisation")
    )
    return post, plate


def _solved(line: Line) -> Solution:
    assert line.row.solution is not None
    return line.row.solution
