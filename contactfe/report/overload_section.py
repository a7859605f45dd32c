"""All that was found of a section struck beyond first yield, as blocks of a page."""

from collections.abc import Callable, Iterator

from contactfe.assess.checks import Check
from contactfe.assess.overload.marks import MARKS, Mark
from contactfe.assess.overload.result import OverloadResult, SecondStrike, SectionOverload
from contactfe.assess.results import SectionResult
from contactfe.assess.value import Value
from contactfe.case.display import Display
from contactfe.case.material import Material
from contactfe.report import words
from contactfe.report.blocks import Block, Cell, Column, Heading, Line, Table, lines, numbers
from contactfe.report.check_names import sentence_name
from contactfe.report.overload_words import (
    END,
    FINE,
    in_fine,
    left_out,
    pair,
    percent,
    reserve_words,
)
from contactfe.report.verdicts import HEADING, TONE, ratio_text


def section_blocks(result: OverloadResult, of: SectionOverload) -> Iterator[Block]:
    """All that was found of a section."""
    units, solved = result.case.display, result.comparison.section(of.section)
    yield Heading(f"{words.one_line(of.section)}: {words.size(solved.section, units)}", 2)
    yield Line(
        f"Post: {_steel(solved.member.material, units)}; plate:"
        f" {_steel(solved.plate.material, units)}."
    )
    if of.first_yield is not None:
        load = units.line_load
        first = words.pair(of.first_yield.over(1.0 / of.whole), load)
        yield Line(f"First yield at {first} {load.name}, in the {of.first_body}.")
        yield Line(f"Reserve until {END}: {reserve_words(of, units)}.")
    yield from lines(left_out(result, [of]))
    if of.strikes:
        yield _figures(of, units)
        yield _second(of, solved, units)
        yield from _beside(of, units)


def _steel(of: Material, units: Display) -> str:
    hardens = f"hardening {units.stress.text(of.hardening)}, {of.hardening_kind}"
    return (
        f"yield strength {units.stress.text(of.yield_strength)},"
        f" {hardens if of.hardening else 'no hardening'}"
    )


def _loads(of: SectionOverload, units: Display) -> tuple[Column, ...]:
    """A column a strike: its mean line load, and how that stands to first yield."""
    load = units.line_load
    return numbers(
        *(
            f"{load.number(strike.line_load * of.whole)}\n{strike.factor:.3g} ×"
            f"{' (case)' if strike.of_case else ''}"
            for strike in of.strikes
        )
    )


def _figures(of: SectionOverload, units: Display) -> Table:
    """Every figure of every strike."""
    columns = (Column(f"line load [{units.line_load.name}]\nover first yield", most=46, key=True),)
    rows = []
    for mark in MARKS:
        values = [strike.values.get(mark.key) for strike in of.strikes]
        if any(values):
            label, text = _shown(mark, units)
            rows.append((label, *("" if of is None else text(of) for of in values)))
    places = [
        (
            f"where, in the {body}",
            *(v.at.zone if v.value else "" for v in strains),
        )
        for body in ("post", "plate")
        for strains in ([s.values[f"{body}_plastic_strain"] for s in of.strikes],)
    ]
    return Table((*columns, *_loads(of, units)), (tuple(rows), tuple(places)), "Each strike")


def _shown(mark: Mark, units: Display) -> tuple[str, Callable[[Value], str]]:
    """Label with unit, and how its figures are written: dents finely, strains in per cent."""
    if mark.key.endswith("dent_depth"):
        return f"{mark.label} [{FINE[units.length.name]}]", lambda value: in_fine(value, units)
    if mark.dimension is None:
        percent = mark.key != "restitution"
        unit, by = ("%", 0.01) if percent else ("1", 1.0)
        return f"{mark.label} [{unit}]", lambda value: pair(value.over(by))
    shown = units.unit(mark.dimension)
    return f"{mark.label} [{shown.name}]", lambda value: pair(value, shown)


def _second(of: SectionOverload, solved: SectionResult, units: Display) -> Table:
    """What strikes after it add, and the loads up to which those that pass over cease to."""
    columns = (Column("after a strike,\nshifted by", key=True), *_loads(of, units))
    shifts = sorted({second.shift for strike in of.strikes for second in strike.second})
    groups = []
    for shift in shifts:
        found = [next((s for s in k.second if s.shift == shift), None) for k in of.strikes]
        rows = [
            (
                f"{shift:g} half-widths: {what}",
                *("no room" if one is None else text(one) for one in found),
            )
            for what, text in _ADDS
        ]
        groups.append(tuple(rows))
    load = units.line_load
    limits = "; ".join(
        f"{name} {load.text(body.shakedown_line_load * of.whole)}" for name, body in solved.bodies
    )
    return Table(
        columns, tuple(groups), "Further strikes with the same load",
        note=f"Shakedown limit, by formula, for loads that pass over: {limits}.",
    )  # fmt: skip


_ADDS: tuple[tuple[str, Callable[[SecondStrike], Cell]], ...] = (
    ("yields again", lambda of: Line("YES", "bad") if of.yields else Line("no", "good")),
    ("plastic strain of the post [%]", lambda of: percent(of.post)),
    ("plastic strain of the plate [%]", lambda of: percent(of.plate)),
    ("heat, over that of the first [%]", lambda of: percent(of.dissipated)),
)


def _beside(of: SectionOverload, units: Display) -> Iterator[Block]:
    """The checks of what is not solved here, at each of the loads."""
    rows = []
    for check in of.strikes[0].beside:
        found = [one for s in of.strikes for one in s.beside if one.key == check.key]
        if len(found) == len(of.strikes) and any(one.applies for one in found):
            rows.append((sentence_name(check), *map(_judged, found)))
    if rows:
        columns = (Column("ratio of demand to resistance", most=46, key=True), *_loads(of, units))
        yield Table(columns, (tuple(rows),), "Other checks at the same loads")


def _judged(check: Check) -> Cell:
    if not check.applies:
        return "does not apply"
    return Line(f"{ratio_text(check)} {HEADING[check.verdict]}", TONE[check.verdict])
