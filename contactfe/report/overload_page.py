"""Strikes beyond first yield as a page: which section is the better then, and what each leaves."""

from collections.abc import Iterator

from contactfe.assess.overload.result import (
    ZONE,
    OverloadResult,
    SectionOverload,
    Strike,
)
from contactfe.assess.value import Value
from contactfe.case.display import Display, significant
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
from contactfe.report.overload_section import section_blocks
from contactfe.report.overload_words import (
    END,
    FINE,
    in_fine,
    left_out,
    named,
    percent,
    reserve_words,
)
from contactfe.report.ranking import ranked
from contactfe.report.verdicts import does_not_apply, verdict_lines

NOTES = (
    "Dent: how deep and wide the surface stays below a straight edge, or on the post a template of"
    f" its radius. Steel counts as plastic from a plastic strain of {100 * ZONE:g} % on.",
    "The same strike at the same place is elastic by construction. One that is shifted along"
    " the plate, by ½, 1 and 2 half-widths of the first, yields again where it adds that much"
    " plastic strain. The shakedown limit, a formula, is for loads that pass over the contact.",
    "Restitution: root of the share of the work of the impact force that comes back. It is that of"
    " a slow strike, with the elastic bending of ring and plate in it, and an upper bound for"
    " [contact_law] restitution: waves, and what holds post and plate, take more.",
    "Strains are small, rates do not count, the contact has no friction. Where real yield"
    " strengths are above the nominal ones, real dents are smaller; below some micrometres no"
    " surface is smooth enough to show one. Stress from bending along the post, and"
    " from the neighbours of a slice, grows with the load as if elastic;"
    " approach and energy are those of the slice under the peak line load."
    " A load of collapse is met from above, by some percent.",
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
        strikes_table(result),
        *does_not_apply(result.checks),
        *lines((*NOTES, words.UNCERTAINTY)),
        *(block for of in result.sections for block in section_blocks(result, of)),
    )


def overload_answer(result: OverloadResult) -> Page:
    """Which section dents least and which has the most reserve, and what fails beside that."""
    case = result.case

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield from lines(answer(result))
        names = [of.section for of in result.sections]
        yield from verdict_lines(case, names, result.checks, result.open_items, room.named)
        yield _brief(result, room.rows)

    what = f"Beyond first yield: {words.how_held(case)}"
    return answer_page(case.title, what, blocks, CAUTION.replace("elastic", "elastic-plastic", 1))


def answer(result: OverloadResult) -> list[str]:
    """Sentences: the least dent, the greatest reserve, how that stands to K, what else fails."""
    return [
        *_dents(result),
        *_flattened(result),
        *_reserves(result),
        *_beside_k(result),
        *_fail_first(result),
    ]


def _dents(result: OverloadResult) -> Iterator[str]:
    units, by, at = result.case.display, result.by_dent, result.compared_at
    if by is None or at is None:
        without = [of.section for of in result.sections if not of.strikes]
        yield f"Dents are not compared, as no strike was solved for {words.some(without, 3)}."
        return
    which = f"the largest {'to which all were' if len(by.names) > 1 else 'that was'} solved"
    deep = f"{in_fine(by.values[0], units)} {FINE[units.length.name]} deep"
    least = f"least for {named(by.names[0])}: {deep}" if len(by.names) > 1 else deep
    text = f"At {units.line_load.text(at)}, {which}, the dent is {least}"
    others = list(zip(by.names, by.values, strict=True))[1:]
    if others:
        text += "; " + ", ".join(
            f"{named(name)} {_times(value, by.values[0], units)}"
            f"{' (not parted by the uncertainty)' if name in by.leading else ''}"
            for name, value in (others if len(others) <= 3 else [others[0], others[-1]])
        )
    yield f"{text}."


def _flattened(result: OverloadResult) -> Iterator[str]:
    """The section whose ring, or plate, stays bent by much more than its dent is deep."""
    units = result.case.display
    bent = [
        (of, of.strikes[-1])
        for of in result.sections
        if of.strikes
        and of.strikes[-1].values["approach_left"].value > _BENT * of.strikes[-1].dent.value
    ]
    if bent:
        of, strike = max(bent, key=lambda pair: pair[1].values["approach_left"].value)
        left, load = strike.values["approach_left"], strike.line_load * of.whole
        yield (
            f"{named(of.section)} or its plate stays bent as well: of the approach"
            f" {in_fine(left, units)} {FINE[units.length.name]} stay after"
            f" {units.line_load.text(load)}, which no dent shows."
        )


_BENT = 3.0
"""Approach that stays, over the deeper dent, from which the answer says so: two dents, and more."""

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
        said.append(f"greatest for {named(best)}, {reserve_words(result.section(best), units)}")
    if ends:
        least = "least for " if len(by.names) > 1 else ""
        text = reserve_words(result.section(ends[-1]), units)
        said.append(f"{least}{named(ends[-1])}, {text}")
    yield f"Reserve until {END}: {'; '.join(said)}."


def _beside_k(result: OverloadResult) -> Iterator[str]:
    """How the orders stand to that of K: plainly where the section of least K is not the best."""
    units, least = result.case.display, result.comparison.least_concentration
    dent, reserve = result.by_dent, result.by_reserve
    if len(result.sections) < 2 or dent is None or reserve is None:
        return
    if least in dent.leading and least in reserve.leading:
        yield f"{named(least)}, of the least K, is the best beyond first yield too."
        return
    said = []
    if least not in dent.leading:
        at = _times(dent.values[dent.names.index(least)], dent.values[0], units)
        as_ = " as that of" if at.endswith("deep") else ", not that of"
        said.append(f"its dent is {at}{as_} {named(dent.names[0])}")
    if least not in reserve.leading:
        said.append(
            f"its reserve is not the greatest: {reserve_words(result.section(least), units)}"
        )
    of = result.section(least)
    assert of.first_yield is not None  # as it has strikes
    K = words.pair(result.comparison.concentration_of(least))
    yield (
        f"The order is NOT that of K: {named(least)} has the least, K = {K}, and first yields at"
        f" {units.line_load.text(of.first_yield.value * of.whole)}, but {', and '.join(said)}."
    )


def _fail_first(result: OverloadResult) -> Iterator[str]:
    """Other checks that fail at a load that a section was struck with: each at the least."""
    units, found = result.case.display, dict[tuple[str, str], str]()
    for of in result.sections:
        for strike in of.strikes:
            for check in strike.fails_beside:
                load = units.line_load.text(strike.line_load * of.whole)
                name = f"{named(of.section)}: {sentence_name(check)}, under {load}"
                found.setdefault((of.section, check.key), name)
    if found:
        each = list(found.values())
        rest = f"; {len(each) - 3} more" if len(each) > 3 else ""
        yield f"Fails beside that, of the loads solved: {'; '.join(each[:3])}{rest}."


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
    note = f"{left}{' '.join(left_out(result, result.sections))}"
    return Table(columns, (tuple(rows),), note=note)


def _short(strike: Strike) -> tuple[str, str, str]:
    strain = max(strike.values[f"{body}_plastic_strain"].value for body in ("post", "plate"))
    again = "yes" if any(s.yields for s in strike.second) else "no" if strike.second else ""
    return significant(100.0 * strain, 2), again, words.fixed(strike.values["restitution"].value, 3)


def strikes_table(result: OverloadResult) -> Table:
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
    note = "\n".join([*filter(None, [along]), *left_out(result, result.sections)])
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
        percent(strain),
        strain.at.zone,
        (", ".join(shifts) or "no") if strike.second else "no room",
        Line(fail, "bad"),
    )


_SHIFT = {0.5: "½"}
