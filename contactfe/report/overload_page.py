"""Strikes beyond first yield as a page: which section is the better then, and what each leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from contactfe.assess.checks import Check
from contactfe.assess.limits import LARGEST_DISPLACEMENT, LARGEST_PATCH
from contactfe.assess.overload.marks import MARKS, Mark
from contactfe.assess.overload.result import (
    ZONE,
    Ended,
    OverloadResult,
    SecondStrike,
    SectionOverload,
    Strike,
)
from contactfe.assess.overload.run import MOST_FACTOR
from contactfe.assess.overload.strikes import LARGEST_STRAIN
from contactfe.assess.results import SectionResult
from contactfe.assess.value import Value
from contactfe.case.display import Display, Unit, significant
from contactfe.case.material import Material
from contactfe.report import words
from contactfe.report.answer import CAUTION, Room, answer_page, more
from contactfe.report.blocks import (
    Block,
    Cell,
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
from contactfe.report.check_names import sentence_name
from contactfe.report.ranking import ranked
from contactfe.report.verdicts import HEADING, TONE, does_not_apply, ratio_text, verdict_lines

FINE = {"mm": "µm", "in": "0.001 in"}
"""What dents are shown in, by the unit of lengths: a thousandth of it."""

WHY: dict[Ended, str] = {
    "": f"above {MOST_FACTOR:g} times first yield",
    "collapse": "the section collapses before",
    "no solution": "no equilibrium was found",
    "plastic strain": f"plastic strain above {100 * LARGEST_STRAIN:g} %, beyond small strains",
    "half-width": f"half-width above {LARGEST_PATCH:g} of the radius, or no room on the plate",
    "displacement": f"displacement above {LARGEST_DISPLACEMENT:g} of the radius",
    "first yield": "first yield itself is beyond the range of the model",
}
"""Why a load is left out, by how the path of loading ended."""

NOTES = (
    "Dent: how deep and wide the surface stays below a straight edge, or on the post a template of"
    f" its radius. Steel counts as plastic from a plastic strain of {100 * ZONE:g} % on.",
    "The same strike at the same place is elastic by construction. One that is shifted along"
    " the plate, by ½, 1 and 2 half-widths of the first, yields again where it adds that much"
    " plastic strain. The shakedown limit, a formula, is for loads that pass over the contact.",
    "Restitution: root of the share of the work of the impact force that comes back. It is that of"
    " a slow strike and of the contact alone, so that it is an upper bound for [contact_law]"
    " restitution: waves, and what holds post and plate, take more.",
    "Strains are small, rates do not count, the contact has no friction. Real yield strengths are"
    " above the nominal ones, and real dents smaller. Stress from bending along the post, and"
    " from the neighbours of a slice, grows with the load as if elastic;"
    " approach and energy are those of a slice.",
)
"""What the figures are and what they are not."""


def overload_page(result: OverloadResult) -> Page:
    """The whole result."""
    case = result.case
    names = [of.section for of in result.sections]
    return framed(
        case.title,
        words.cautions(case, yields=True),
        Line(words.how_held(case)),
        Heading("Answer"),
        *lines(answer(result)),
        *verdict_lines(case, names, result.checks, result.open_items),
        *_orders(result),
        _table(result),
        *does_not_apply(result.checks),
        *lines((*NOTES, words.UNCERTAINTY)),
        *(block for of in result.sections for block in _section(result, of)),
    )


def overload_answer(result: OverloadResult) -> Page:
    """Which section dents least and which has the most reserve, and what fails beside that."""
    case = result.case

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield Line(" ".join(answer(result)))
        names = [of.section for of in result.sections]
        yield from verdict_lines(case, names, result.checks, result.open_items, room.named)
        yield _brief(result, room.rows)

    what = f"Beyond first yield: {words.how_held(case)}"
    return answer_page(case.title, what, blocks, CAUTION.replace("elastic", "elastic-plastic", 1))


def answer(result: OverloadResult) -> list[str]:
    """Sentences: the least dent, the greatest reserve, how that stands to K, what else fails."""
    return [*_dents(result), *_reserves(result), *_beside_k(result), *_fail_first(result)]


def in_fine(value: Value, units: Display) -> str:
    """A depth in the unit that dents are shown in, with its uncertainty."""
    return _pair(value.over(units.length.held / 1000.0))


def _percent(value: Value) -> str:
    return _pair(value.over(0.01))


def _pair(value: Value, unit: Unit | None = None) -> str:
    """A figure and its uncertainty; nothing without one is 0."""
    return "0" if value.value == value.uncertainty == 0.0 else words.pair(value, unit)


def _named(name: str) -> str:
    return f"“{words.one_line(name)}”"


def _dents(result: OverloadResult) -> Iterator[str]:
    units, by, at = result.case.display, result.by_dent, result.compared_at
    if by is None or at is None:
        without = [of.section for of in result.sections if not of.strikes]
        yield f"Dents are not compared, as no strike was solved for {words.some(without, 3)}."
        return
    which = f"the largest {'to which all were' if len(by.names) > 1 else 'that was'} solved"
    deep = f"{in_fine(by.values[0], units)} {FINE[units.length.name]} deep"
    least = f"least for {_named(by.names[0])}: {deep}" if len(by.names) > 1 else deep
    text = f"At {units.line_load.text(at)}, {which}, the dent is {least}"
    others = list(zip(by.names, by.values, strict=True))[1:]
    if others:
        text += "; " + ", ".join(
            f"{_named(name)} {_times(value, by.values[0], units)}"
            f"{' (not parted by the uncertainty)' if name in by.leading else ''}"
            for name, value in (others if len(others) <= 3 else [others[0], others[-1]])
        )
    yield f"{text}."


SEEN = 1e-5
"""Dent, mm, from which others are stated over it: less is lost in what any surface is made to."""


def _times(deep: Value, over: Value, units: Display) -> str:
    if over.value < SEEN:
        return f"{in_fine(deep, units)} {FINE[units.length.name]}"
    return f"{significant(deep.value / over.value, 2)} times as deep"


def _reserves(result: OverloadResult) -> Iterator[str]:
    by, units = result.by_reserve, result.case.display
    if by is None:
        return
    without = [name for name in by.names if result.section(name).reserve is None]
    ends = [name for name in by.names if name not in without]
    said = []
    if without:
        times = significant(min(by.values[by.names.index(name)].value for name in without), 3)
        said.append(f"not reached by {words.some(without, 3)} up to {times} times first yield")
    elif len(ends) > 1:
        best = ends.pop(0)
        said.append(f"greatest for {_named(best)}, {reserve_words(result.section(best), units)}")
    if ends:
        least = "least for " if len(by.names) > 1 else ""
        text = reserve_words(result.section(ends[-1]), units)
        said.append(f"{least}{_named(ends[-1])}, {text}")
    yield f"Reserve until {END}: {'; '.join(said)}."


END = "a plastic zone goes through the wall or the section collapses"


def reserve_words(of: SectionOverload, units: Display) -> str:
    """The mean line load of that end, which of the two it is, and how it stands to first yield."""
    load = units.line_load
    if of.first_yield is None:
        return "not known"
    end = of.reserve or Value(of.solved_to, 0.0)
    times = f"{significant(end.value / of.first_yield.value, 3)} times first yield"
    if of.reserve is None:
        return f"not reached up to {load.text(end.value * of.whole)}, {times}"
    what = "through the wall" if of.reserve is of.spans else "collapse"
    return f"{what} at {words.pair(end.over(1.0 / of.whole), load)} {load.name}, {times}"


def _beside_k(result: OverloadResult) -> Iterator[str]:
    """How the orders stand to that of K: plainly where the section of least K is not the best."""
    units, least = result.case.display, result.comparison.least_concentration
    dent, reserve = result.by_dent, result.by_reserve
    if len(result.sections) < 2 or dent is None or reserve is None:
        return
    if least in dent.leading and least in reserve.leading:
        yield f"{_named(least)}, of the least K, is the best beyond first yield too."
        return
    said = []
    if least not in dent.leading:
        at = _times(dent.values[dent.names.index(least)], dent.values[0], units)
        as_ = " as that of" if at.endswith("deep") else ", not that of"
        said.append(f"its dent is {at}{as_} {_named(dent.names[0])}")
    if least not in reserve.leading:
        said.append(
            f"its reserve is not the greatest: {reserve_words(result.section(least), units)}"
        )
    of = result.section(least)
    assert of.first_yield is not None  # as it has strikes
    K = words.pair(result.comparison.concentration_of(least))
    yield (
        f"The order is NOT that of K: {_named(least)} has the least, K = {K}, and first yields at"
        f" {units.line_load.text(of.first_yield.value * of.whole)}, but {', and '.join(said)}."
    )


def _fail_first(result: OverloadResult) -> Iterator[str]:
    """Other checks that fail at a load that a section was struck with: each at the least."""
    units, found = result.case.display, dict[tuple[str, str], str]()
    for of in result.sections:
        for strike in of.strikes:
            for check in strike.fails_beside:
                load = units.line_load.text(strike.line_load * of.whole)
                name = f"{_named(of.section)}: {sentence_name(check)}, from {load}"
                found.setdefault((of.section, check.key), name)
    if found:
        named = list(found.values())
        rest = f"; {len(named) - 3} more" if len(named) > 3 else ""
        yield f"Fails beside that: {'; '.join(named[:3])}{rest}."


def _orders(result: OverloadResult) -> Iterator[Block]:
    """The order of the sections by each figure."""
    comparison = result.comparison
    if (by := result.by_dent) is not None:
        values = dict(zip(by.names, by.values, strict=True))
        yield Line(f"By dent, least first: {ranked(by.names, values.__getitem__)}")
    if (by := result.by_reserve) is not None:
        each = (
            f"{words.one_line(name)} ({'above ' * (result.section(name).reserve is None)}"
            f"{significant(value.value, 3)})"
            for name, value in zip(by.names, by.values, strict=True)
        )
        yield Line(f"By reserve over first yield, greatest first: {', '.join(each)}")
    order = ranked(comparison.by_concentration, comparison.concentration_of)
    yield Line(f"By stress concentration K, least first: {order}")


def _best_first(result: OverloadResult) -> list[SectionOverload]:
    by = result.by_dent
    return [result.section(name) for name in by.names] if by else list(result.sections)


def _columns(units: Display) -> tuple[Column, ...]:
    load, fine = units.line_load.name, FINE[units.length.name]
    return (
        *numbers("times\nfirst\nyield", f"load\n[{load}]"),
        *numbers(f"dent of\npost\n[{fine}]", f"dent of\nplate\n[{fine}]"),
        *numbers("plastic\nstrain\n[%]"),
    )


def _brief(result: OverloadResult, most: int) -> Table:
    """As many of the greatest strikes of each section as there are lines for."""
    units, sections = result.case.display, _best_first(result)[:most]
    each, rows = max(1, most // len(sections)), list[Row]()
    for of in sections:
        for number, strike in enumerate(of.strikes[-each:]):
            head = "" if number else words.one_line(of.section)
            rows.append((head, *_row(of, strike, units)[:4], *_short(strike)))
        if not of.strikes:
            rows.append((words.one_line(of.section), "", "none", *[""] * 5))
    columns = (
        Column("section", folds=True, most=15, key=True),
        *_columns(units),
        Column("yields\nagain", drop=2),
        Column("resti-\ntution", numbers=True, drop=3),
    )
    left = more(len(result.sections) - len(sections))
    note = f"{left}{' '.join(_left_out(result, result.sections))}"
    return Table(columns, (tuple(rows),), note=note)


def _short(strike: Strike) -> tuple[str, str, str]:
    strain = max(strike.values[f"{body}_plastic_strain"].value for body in ("post", "plate"))
    again = "yes" if any(s.yields for s in strike.second) else "no" if strike.second else ""
    return significant(100.0 * strain, 2), again, words.fixed(strike.values["restitution"].value, 3)


def _table(result: OverloadResult) -> Table:
    """A line a strike, section by section, best by dent first."""
    units = result.case.display
    columns = (
        Column("section\nfirst yield\nreserve", folds=True, most=24, key=True),
        *_columns(units),
        Column("where it is\ngreatest", most=19),
        Column("next strike yields\nagain if shifted by\n[half-widths]", most=19),
        Column("other checks\nthat fail", most=24),
    )
    groups = [_rows(of, units) for of in _best_first(result)]
    along = "Line loads are means along the post." if result.case.alignment is not None else ""
    note = "\n".join([*filter(None, [along]), *_left_out(result, result.sections)])
    return Table(columns, tuple(groups), note=note)


def _rows(of: SectionOverload, units: Display) -> tuple[Row, ...]:
    """The strikes of a section; its name, first yield and reserve stand below one another."""
    load, name = units.line_load, words.one_line(of.section)
    if not of.strikes or of.first_yield is None:
        return ((name, "", "none solved", *[""] * 6),)
    reserve = f"above {load.number(of.solved_to * of.whole)}"
    if of.reserve is not None:
        reserve = words.pair(of.reserve.over(1.0 / of.whole), load)
    heads = [name, words.pair(of.first_yield.over(1.0 / of.whole), load), reserve]
    last = len(of.strikes) - 1
    heads = [*heads[:last], "\n".join(heads[last:]), *[""] * last]
    return tuple(
        (head, *_row(of, strike, units)) for head, strike in zip(heads, of.strikes, strict=False)
    )


def _row(of: SectionOverload, strike: Strike, units: Display) -> tuple[Cell, ...]:
    strain = max(
        (strike.values[f"{body}_plastic_strain"] for body in ("post", "plate")),
        key=lambda value: value.value,
    )
    fail = ", ".join(sentence_name(check) for check in strike.fails_beside)
    shifts = [_SHIFT.get(s.shift, f"{s.shift:g}") for s in strike.second if s.yields]
    return (
        f"{strike.factor:.3g}",
        units.line_load.number(strike.line_load * of.whole),
        *(in_fine(strike.values[f"{body}_dent_depth"], units) for body in ("post", "plate")),
        _percent(strain),
        strain.at.zone,
        (", ".join(shifts) or "no") if strike.second else "no room",
        Line(fail, "bad"),
    )


_SHIFT = {0.5: "½"}


def _left_out(result: OverloadResult, of: Sequence[SectionOverload]) -> Iterator[str]:
    """Each load that a section was not struck with, and why."""
    units = result.case.display
    for section in of:
        if section.left_out:
            loads = [units.line_load.number(load * section.whole) for load in section.left_out]
            at = f"{_named(section.section)} at {', '.join(loads)} {units.line_load.name}"
            yield f"Left out: {at}: {WHY[section.ended]}."


def _section(result: OverloadResult, of: SectionOverload) -> Iterator[Block]:
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
    yield from lines(_left_out(result, [of]))
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
        return f"{mark.label} [{unit}]", lambda value: _pair(value.over(by))
    shown = units.unit(mark.dimension)
    return f"{mark.label} [{shown.name}]", lambda value: _pair(value, shown)


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
    ("plastic strain of the post [%]", lambda of: _percent(of.post)),
    ("plastic strain of the plate [%]", lambda of: _percent(of.plate)),
    ("heat, over that of the first [%]", lambda of: _percent(of.dissipated)),
)


def _beside(of: SectionOverload, units: Display) -> Iterator[Block]:
    """The checks of what is not solved here, at each of the loads."""
    rows = []
    for number, check in enumerate(of.strikes[0].beside):
        found = [strike.beside[number] for strike in of.strikes]
        if any(one.applies for one in found):
            rows.append((sentence_name(check), *map(_judged, found)))
    if rows:
        columns = (Column("ratio of demand to resistance", most=46, key=True), *_loads(of, units))
        yield Table(columns, (tuple(rows),), "Other checks at the same loads")


def _judged(check: Check) -> Cell:
    if not check.applies:
        return "does not apply"
    return Line(f"{ratio_text(check)} {HEADING[check.verdict]}", TONE[check.verdict])
