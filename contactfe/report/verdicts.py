"""What the list of checks and the open items come to: in lines for a page, and as data.

Every page and document takes its verdict from here.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, replace

from contactfe.assess.checks import (
    Check,
    OpenItem,
    Verdict,
    counted,
    governing,
    severity,
    verdict_of,
)
from contactfe.case import Case
from contactfe.case.display import Display
from contactfe.case.settings import Report
from contactfe.hand.quantities import HELD_IN
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Cell, Heading, Line, Tone
from contactfe.report.check_names import sentence_name, why
from contactfe.report.json_file import Json, finite
from contactfe.report.open_items import not_long, settled_by, worded

MOST = 3
"""Checks of a section that are named where those that fail or are above 1 are fewer; what has no
verdict beyond them is counted."""

MOST_LINES = 6
"""Sections of one verdict that have a line each."""

SUMS = {"passes": "pass", "fails": "FAIL", "no verdict": "have NO VERDICT"}
"""The same of several."""

HEADING = {"passes": "passes", "fails": "FAILS", "no verdict": "NO VERDICT"}
"""A verdict in words that need no colour."""

TONE: dict[Verdict, Tone] = {"passes": "good", "fails": "bad", "no verdict": "bad"}


_WORST_FIRST: tuple[Verdict, ...] = ("fails", "no verdict", "passes")


def verdict_lines(
    case: Case,
    names: Iterable[str],
    checks: Sequence[Check],
    items: Sequence[OpenItem],
    most: int | None = None,
) -> Iterator[Block]:
    """The stop, the sections and the open items, to stand beside the answer: what is amiss first.

    An answer has room for ``most`` of a kind: so many checks of the stop that do not pass and
    sections of a verdict have a line, each by its worst check, and what passes and what is open is
    named. Without it all is told, under its own heading, with a line for ``MOST_LINES`` sections
    of a verdict.
    """
    units, room = case.display, MOST_LINES if most is None else most
    if most is None:
        yield Heading("Verdict")
    stop = list(stop_lines([check for check in checks if not check.section], units))
    amiss = [line for line in stop if line.tone == "bad"]
    yield from amiss[:most]
    if rest := len(amiss) - len(amiss[:most]):
        yield Line(f"{rest} more checks of the stop do not pass.", "bad")
    of = {name: [check for check in checks if check.section == name] for name in names}
    for verdict in _WORST_FIRST:
        some, told = [name for name in of if verdict_of(of[name]) == verdict], room
        if verdict != "passes":
            some.sort(key=lambda name: _severity(of[name]), reverse=True)
        else:
            yield from (line for line in stop if line.tone != "bad")
            told = room if most is None else 0
        least = MOST if most is None else 1
        yield from (_line(name, of[name], units, least) for name in some[:told])
        if others := some[told:]:
            head = f"{len(others)} more {SUMS[verdict]}" if told else "Passes"
            named = words.some(others, len(others) if most is None else 2 * most)
            yield Line(f"{head}: {named}.", TONE[verdict])
    yield from open_lines(case, items, by_name=most is not None)
    if most is None:
        yield GAP


def _severity(checks: Sequence[Check]) -> tuple[int, float]:
    worst = governing(checks)
    return (-1, 0.0) if worst is None else severity(worst)


def stop_lines(checks: Sequence[Check], units: Display) -> Iterator[Line]:
    """Checks of the stop as a whole: the load, what does not pass, and how many others do."""
    yield from (_load_line(check, units) for check in checks if check.kind != "motion")
    others = [check for check in checks if check.kind == "motion"]
    yield from (_stop_line(check, units) for check in others if not check.passes)
    passing = [check for check in others if check.passes]
    if (worst := governing(passing)) is not None:
        pass_ = f"{len(passing)} checks pass" if len(passing) > 1 else "1 check passes"
        struck = all(check.limit_state == "engagement" for check in passing)
        what = "Gap against the displacements stated" if struck else "Stop in its motion"
        yield Line(f"{what}: {pass_}; governing: {_named(worst)}.", "good")


def _stop_line(check: Check, units: Display) -> Line:
    """A check of the stop as a whole: what is asked of it beside what it has."""
    text = f"{check.label[0].upper()}{check.label[1:]} {HEADING[check.verdict]}"
    if check.demand is not None and check.resistance is not None and check.dimension is not None:
        unit = units.unit(check.dimension)
        demand, resistance = unit.text(check.demand), unit.text(check.resistance)
        text += f": {demand} against {resistance}, ratio {ratio_text(check)}"
    if check.missing:
        text += f": {check.missing}"
    return Line(f"{text}.", TONE[check.verdict])


def _load_line(check: Check, units: Display) -> Line:
    """The load beside the peak contact force."""
    text = f"Load {HEADING[check.verdict]}"
    if check.demand is None or check.resistance is None:
        return Line(f"{text}: {check.missing}.", TONE[check.verdict])
    force, stated = units.force.text(check.demand), units.force.text(check.resistance)
    if check.passes and check.ratio == 1.0:
        text += f": it is the peak contact force of the motion, {force}."
    else:
        text += (
            f": {stated} against the peak contact force of the motion, {force}, ratio"
            f" {ratio_text(check)}."
        )
    return Line(text, TONE[check.verdict])


def does_not_apply(checks: Iterable[Check]) -> Iterator[Block]:
    """What does not cover the numbers, each once, its sections and what covers it; or nothing."""
    where: dict[str, list[str]] = {}
    checks = list(checks)
    labels = {check.key: check.label for check in checks}
    for check in checks:
        if not check.applies:
            by = f", which passes the {labels[check.covered_by]}" if check.covered_by else ""
            where.setdefault(check.label + by, []).append(words.one_line(check.section))
    if not where:
        return
    text = "; ".join(f"{label} ({', '.join(names)})" for label, names in where.items())
    yield Line(f"Does not apply, beyond its scope: {text}.", "quiet")
    yield GAP


def verdict_data(checks: Iterable[Check], items: Iterable[OpenItem]) -> Json:
    """Both lists as records; numbers as held, and null where one is not known or not finite."""
    return {
        "checks": [check_data(check) for check in checks],
        "open_items": open_data(items),
    }


def open_data(items: Iterable[OpenItem]) -> list[Json]:
    """Open items as records; stresses in MPa, in numbers and words, whatever the case asks for."""
    return [
        {
            "key": item.key,
            "label": label,
            "why": because,
            "sections": list(item.sections) or None,
            "accepted": item.accepted or None,
            "bounds": [asdict(of) | {"why": not_long(of.why)} for of in item.bounds],
        }
        for item in items
        for label, because in (worded(replace(item, case=replace(item.case, report=Report("SI")))),)
    ]


def ratio_text(check: Check) -> str:
    """Demand over resistance with its uncertainty, where it has one."""
    if check.ratio is None:
        return "not known"
    return words.ratio_text(check.ratio, check.ratio_uncertainty, 3)


def check_cells(check: Check, units: Display) -> tuple[Cell, Cell, Cell, Cell]:
    """Demand, resistance, their ratio and the verdict of a check, to stand in a table."""
    unit = None if check.dimension is None else units.unit(check.dimension)

    def text(value: float | None) -> str:
        if value is None:
            return "not known"
        return f"{value:.3g}" if unit is None else unit.text(value)

    verdict = Line(HEADING[check.verdict], TONE[check.verdict])
    return text(check.demand), text(check.resistance), ratio_text(check), verdict


def _line(name: str, checks: Sequence[Check], units: Display, least: int) -> Line:
    """A section by the check that governs, or by what does not pass: ``least`` checks, and where
    there is room for several all that fail or are above 1.
    """
    found, worst = verdict_of(checks), governing(checks)
    text = f"“{words.one_line(name)}” {HEADING[found]}"
    if worst is None:
        return Line(f"{text}: no check applies.", TONE[found])
    if found == "passes":
        text += f" {len(counted(checks))} checks; governing: {_named(worst)}"
        return Line(f"{text}.", TONE[found])
    amiss = [check for check in counted(checks) if not check.passes]
    amiss.sort(key=severity, reverse=True)  # what fails, then what is most above 1
    named = sum(check.verdict == "fails" or check.most > 1.0 for check in amiss)
    named = least if least == 1 else max(least, named)
    parts = []
    for check in amiss[:named]:
        other = "" if check.verdict == found else f" {HEADING[check.verdict]}"
        because = why(check, units)
        parts.append(f"{_named(check)}{other}{because and f' ({because})'}")
    if (more := len(amiss) - named) > 0:
        parts.append(f"{more} more {'check does' if more == 1 else 'checks do'} not pass")
    return Line(f"{text}: {'; '.join(parts)}.", TONE[found])


def _named(check: Check) -> str:
    return f"{sentence_name(check)}, ratio {ratio_text(check)}"


def _by_name(item: OpenItem) -> str:
    by = settled_by(item)
    return worded(item)[0] + (by and f" ({by})")


def open_lines(case: Case, items: Sequence[OpenItem], *, by_name: bool = False) -> Iterator[Line]:
    """What is open, what the case accepts, and an even load where that is its own statement.

    By name a line for all that is open, with what settles it, and one for all that is accepted.
    """
    if by_name:
        if still := [_by_name(item) for item in items if not item.accepted]:
            yield Line(f"OPEN: {'; '.join(still)}.", "strong")
        if accepted := [worded(item)[0] for item in items if item.accepted]:
            yield Line(f"Accepted by the case: {'; '.join(accepted)}.")
        return
    if case.distribution is not None:
        yield Line("The load is even along the post: stated in [load] distribution.")
    for item in items:
        label, because = worded(item)
        of = f", {', '.join(map(words.one_line, item.sections))}" if item.sections else ""
        if item.accepted:
            yield Line(f"Accepted: {label}{of} ({because}). Reason stated: {item.accepted}.")
        else:
            settle = (by := settled_by(item)) and f": {by}"
            yield Line(f"OPEN: {label}{of} ({because}){settle}.", "strong")


def check_data(check: Check) -> Json:
    """A check as a record."""
    return {
        "key": check.key,
        "label": check.label,
        "kind": check.kind,
        "limit_state": check.limit_state,
        "section": check.section or None,
        "body": check.body,
        "demand": finite(check.demand),
        "resistance": finite(check.resistance),
        "unit": None if check.dimension is None else HELD_IN[check.dimension],
        "ratio": finite(check.ratio),
        "ratio_uncertainty": finite(check.ratio_uncertainty),
        "verdict": check.verdict,
        "applies": check.applies,
        "covered_by": check.covered_by or None,
        "contact": check.contact,
        "why": check.missing or "; ".join(map(str, check.exceeded)) or None,
        "source": check.source,
    }
