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
from contactfe.report.json_file import Json, finite
from contactfe.report.open_items import not_long, worded

MOST = 3
"""Checks of a section that are named where all that fail or are above 1 are fewer; what has no
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
    case: Case, names: Iterable[str], checks: Sequence[Check], items: Sequence[OpenItem]
) -> Iterator[Block]:
    """The load, the sections and the open items, to stand beside the answer.

    What fails comes first, the worst of it before the others; beyond ``MOST_LINES`` sections of a
    verdict are named together.
    """
    units = case.display
    yield Heading("Verdict")
    yield from stop_lines([check for check in checks if not check.section], units)
    of = {name: [check for check in checks if check.section == name] for name in names}
    verdicts = {name: verdict_of(own) for name, own in of.items()}
    for verdict in _WORST_FIRST:
        some = [name for name in of if verdicts[name] == verdict]
        if verdict != "passes":
            some.sort(key=lambda name: _severity(of[name]), reverse=True)
        yield from (_line(name, of[name], units) for name in some[:MOST_LINES])
        if rest := some[MOST_LINES:]:
            text = f"{len(rest)} more {SUMS[verdict]}: {', '.join(map(words.one_line, rest))}."
            yield Line(text, TONE[verdict])
    yield from open_lines(case, items)
    yield GAP


def gathered(
    case: Case,
    names: Iterable[str],
    checks: Sequence[Check],
    items: Sequence[OpenItem],
    most: int = MOST,
) -> Iterator[Line]:
    """The same in as few lines as an answer has room for: what does not pass first.

    A check of the stop that does not pass has a line, a section by the check that governs it; of
    more than ``most`` of a kind the worst do, and the others are counted. What is open is named.
    """
    stop = list(stop_lines([c for c in checks if not c.section], case.display))
    amiss = [line for line in stop if line.tone == "bad"]
    yield from amiss[:most]
    if len(amiss) > most:
        yield Line(f"{len(amiss) - most} more checks of the stop do not pass.", "bad")
    of = {name: [check for check in checks if check.section == name] for name in names}
    verdicts = {name: verdict_of(own) for name, own in of.items()}
    for verdict in _WORST_FIRST[:2]:
        some = [name for name in of if verdicts[name] == verdict]
        some.sort(key=lambda name: _severity(of[name]), reverse=True)
        yield from (_in_short(name, of[name], case.display) for name in some[:most])
        if rest := some[most:]:
            yield Line(
                f"{len(rest)} more {SUMS[verdict]}: {words.some(rest, 2 * most)}.", TONE[verdict]
            )
    if passing := [name for name in of if verdicts[name] == "passes"]:
        yield Line(f"Passes: {words.some(passing, 2 * most)}.", "good")
    yield from (line for line in stop if line.tone != "bad")
    if still := [worded(item)[0] for item in items if not item.accepted]:
        yield Line(f"OPEN: {'; '.join(still)}.", "strong")
    if accepted := [worded(item)[0] for item in items if item.accepted]:
        yield Line(f"Accepted by the case: {'; '.join(accepted)}.")


def _in_short(name: str, checks: Sequence[Check], units: Display) -> Line:
    """A section that does not pass, by the worst of its checks."""
    found, worst = verdict_of(checks), governing(checks)
    text = f"“{words.one_line(name)}” {HEADING[found]}"
    if worst is None:
        return Line(f"{text}: no check applies.", TONE[found])
    because = why(worst, units)
    text += f": {_named(worst)}" + (f" ({because})" if because else "")
    others = sum(not check.passes for check in counted(checks)) - 1
    more = f"; {others} more {'does' if others == 1 else 'do'} not pass" if others else ""
    return Line(f"{text}{more}.", TONE[found])


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
        many = len(passing) > 1
        pass_ = f"{len(passing)} checks pass" if many else "1 check passes"
        yield Line(f"Stop in its motion: {pass_}; governing: {_named(worst)}.", "good")


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


def why(check: Check, units: Display) -> str:
    """Why a check has no verdict; empty where it has one."""
    if check.missing or not check.exceeded:
        return check.missing
    limits = (
        f"{limit.what} = {units.beside(limit)}, {limit.side} {units.bound(limit)}"
        for limit in check.exceeded
    )
    return f"outside its range: {', '.join(limits)}"


def ratio_text(check: Check) -> str:
    """Demand over resistance with its uncertainty, where it has one."""
    if check.ratio is None:
        return "not known"
    return words.ratio_text(check.ratio, check.uncertainty, 3)


def check_cells(check: Check, units: Display) -> tuple[Cell, Cell, Cell, Cell]:
    """Demand, resistance, their ratio and the verdict of a check, to stand in a table."""
    unit = None if check.dimension is None else units.unit(check.dimension)

    def text(value: float | None) -> str:
        if value is None:
            return "not known"
        return f"{value:.3g}" if unit is None else unit.text(value)

    verdict = Line(HEADING[check.verdict], TONE[check.verdict])
    return text(check.demand), text(check.resistance), ratio_text(check), verdict


def _line(name: str, checks: Sequence[Check], units: Display) -> Line:
    found, worst = verdict_of(checks), governing(checks)
    text = f"“{words.one_line(name)}” {HEADING[found]}"
    if worst is None:
        return Line(f"{text}: no check applies.", TONE[found])
    if found == "passes":
        text += f" {len(counted(checks))} checks; governing: {_named(worst)}"
    else:
        amiss = [check for check in counted(checks) if not check.passes]
        amiss.sort(key=severity, reverse=True)  # what fails, then what is most above 1
        named = max(MOST, sum(check.verdict == "fails" or check.most > 1.0 for check in amiss))
        text += ": " + "; ".join(
            f"{_named(c)} {HEADING[c.verdict]}" + (f" ({because})" if because else "")
            for c in amiss[:named]
            for because in (why(c, units),)
        )
        if len(amiss) > named:
            text += f"; {len(amiss) - named} more with {HEADING['no verdict']}"
    return Line(f"{text}.", TONE[found])


def _named(check: Check) -> str:
    return f"{check.label}, ratio {ratio_text(check)}"


def open_lines(case: Case, items: Iterable[OpenItem]) -> Iterator[Line]:
    """What is open, what the case accepts, and an even load where that is its own statement."""
    if case.distribution is not None:
        yield Line("The load is even along the post: stated in [load] distribution.")
    for item in items:
        label, because = worded(item)
        of = f", {', '.join(map(words.one_line, item.sections))}" if item.sections else ""
        if item.accepted:
            yield Line(f"Accepted: {label}{of} ({because}). Reason stated: {item.accepted}.")
        else:
            yield Line(f"OPEN: {label}{of} ({because}).", "strong")


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
        "ratio_uncertainty": finite(check.uncertainty),
        "verdict": check.verdict,
        "applies": check.applies,
        "covered_by": check.covered_by or None,
        "contact": check.contact,
        "why": check.missing or "; ".join(map(str, check.exceeded)) or None,
        "source": check.source,
    }
