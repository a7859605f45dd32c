"""An envelope as a page: the answer, what governs each section, and a row for each contact."""

from collections.abc import Callable, Iterator, Sequence

from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body
from contactfe.case import Case, Contact
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.answer import RATIO, Room, answer_page, judged, judged_columns, more
from contactfe.report.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Line,
    Page,
    Table,
    framed,
    lines,
    numbers,
)
from contactfe.report.ranking import places
from contactfe.report.values import page_columns, page_pairs
from contactfe.report.verdicts import does_not_apply, verdict_lines

FIGURES = ("peak_pressure", "half_width", "tangential_ratio")
"""Quantities in the table of the contacts, beside those of post and plate."""

MOST_ROWS = 12
"""Rows of a section up to which all are printed; the CSV file has them in any case."""

WORST_ROWS = 8
"""Of more, those of the largest utilisation."""

GOVERNING = ">"
TIE = "~"


def envelope_page(result: EnvelopeResult) -> Page:
    """The whole envelope."""
    case = result.case
    names = [section.section.name for section in result.sections]
    return framed(
        case.title,
        words.cautions(case),
        Line(words.how_held(case)),
        Heading("Answer"),
        *lines(answer(result)),
        *verdict_lines(case, names, result.checks, result.open_items),
        _sections(result),
        *does_not_apply(result.checks),
        *(block for section in result.sections for block in _contacts(case, section)),
    )


def envelope_answer(result: EnvelopeResult) -> Page:
    """Which section is best over all contacts, what passes, and where each is governed."""
    case = result.case
    names = [section.section.name for section in result.sections]

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield from verdict_lines(case, names, result.checks, result.open_items, room.named)
        yield Line(" ".join(answer(result)))
        yield _in_short(result, room.rows)

    return answer_page(case.title, words.how_held(case), blocks)


def _in_short(result: EnvelopeResult, most: int) -> Table:
    """A line a section, best first: its governing contact, and its governing check of all."""
    units, names = result.case.display, result.by_utilisation
    columns = (
        Column("section", folds=True, most=24, key=True),
        Column("Ø × wall", drop=2),
        Column(f"governing contact\n[{units.length.name}, {units.angle.name}, 1]"),
        Column(f"peak von\nMises [{units.stress.name}]", numbers=True, drop=1),
        *judged_columns(),
    )
    rows = []
    for name in names[:most]:
        section = result.section(name)
        row = section.governing
        assert row is not None  # as it is ranked
        at, body = row.contact, row.post if row.governs == "post" else row.plate
        contact = (units.length.number(at.offset), units.angle.number(at.angle))
        rows.append(
            (
                words.one_line(name),
                words.size(section.section, units),
                f"{', '.join(contact)}, {at.friction:g}",
                words.pair(body.peak_von_mises, units.stress),
                *judged([check for check in result.checks if check.section == name]),
            )
        )
    note = f"{more(len(names) - len(rows))}Contact: offset, angle, friction. {RATIO}"
    return Table(columns, (tuple(rows),), note=note)


def answer(result: EnvelopeResult) -> list[str]:
    """Sentences: which section is best over all contacts, by how much, and what was not solved."""
    best = result.section(result.by_utilisation[0])
    many = len(result.by_utilisation) > 1
    sentences = [
        f"The largest utilisation (von Mises) over {len(best.rows)} contacts is"
        f"{' least' if many else ''} for “{_name(best)}”: {_governs(best, result.case)}."
    ]
    if many:
        sentences += [_next_best(result), _least_peak(result)]
    sentences += [
        f"“{_name(section)}” could not be solved at any contact and is not ranked."
        for section in result.sections
        if section.governing is None
    ]
    if failed := sum(not row.solved for row in result.rows):
        sentences.append(
            f"{failed} of {len(result.rows)} rows could not be solved and count as not passed."
        )
    if short := sum(bool(row.stopped) for row in result.rows):
        sentences.append(f"In {short} rows the accuracy asked for was not reached.")
    return sentences


def _governs(section: SectionEnvelope, case: Case) -> str:
    """The governing utilisation of a section that is ranked, and where it is."""
    row = section.governing
    assert row is not None
    at = contact_words(row.contact, case.display)
    use = words.ratio_text(row.utilisation.value, row.utilisation.uncertainty)
    return f"{use}, in the {row.governs}, at {at}"


def _next_best(result: EnvelopeResult) -> str:
    other = result.section(result.by_utilisation[1])
    mine, theirs = map(result.utilisation_of, result.by_utilisation[:2])
    apart = theirs.value - theirs.uncertainty > mine.upper
    sure = "" if apart else ", within the uncertainty"
    return f"Next is “{_name(other)}”{sure}: {_governs(other, result.case)}."


def _least_peak(result: EnvelopeResult) -> str:
    units = result.case.display
    best = result.section(result.by_peak[0])
    row = best.highest_post_peak
    assert row is not None
    return (
        f"The largest von Mises stress in the post is least for “{_name(best)}”:"
        f" {words.pair(row.post.peak_von_mises, units.stress)} {units.stress.name}, at"
        f" {contact_words(row.contact, units)}."
    )


def tie_words(section: SectionEnvelope, units: Display) -> str:
    """Which other contacts may govern as well, given the uncertainty; empty where none."""
    ties = [row.contact for row in section.ties]
    if not ties:
        return ""
    if len(ties) <= 3:
        which = "; ".join(contact_words(contact, units) for contact in ties)
        return f"the uncertainty does not part it from: {which}"
    spans = ", ".join(
        (
            f"offset {_span([c.offset for c in ties], units.length.number)} {units.length.name}",
            f"angle {_span([c.angle for c in ties], units.angle.number)} {units.angle.name}",
            f"friction {_span([c.friction for c in ties], '{:g}'.format)}",
        )
    )
    return f"the uncertainty does not part it from {len(ties)} others, at {spans}"


def _span(values: Sequence[float], number: Callable[[float], str]) -> str:
    return " to ".join(dict.fromkeys((number(min(values)), number(max(values)))))


def contact_words(contact: Contact, units: Display) -> str:
    """A contact in words.

    >>> from contactfe.case.display import SI
    >>> contact_words(Contact(-50.0, 0.0, 0.2), SI)
    'offset -50 mm, angle 0 deg, friction 0.2'
    """
    return (
        f"offset {units.length.text(contact.offset)}, angle {units.angle.text(contact.angle)},"
        f" friction {contact.friction:g}"
    )


def _name(section: SectionEnvelope) -> str:
    return words.one_line(section.section.name)


def _sections(result: EnvelopeResult) -> Table:
    """Two lines a section, best first: post and plate at the contact that governs."""
    units = result.case.display
    columns = (
        Column(),
        Column("section\nØ × wall", folds=True, most=28),
        *numbers("contacts\nsolved"),
        Column("governing\ncontact"),
        *_body_columns(result.case),
        *numbers(
            f"yield\nstrength\n[{units.stress.name}]",
            f"line load at\nfirst yield\n[{units.line_load.name}]",
        ),
    )
    rank = places(result.by_utilisation, result.utilisation_of)
    groups = []
    for name in result.by_utilisation:
        section = result.section(name)
        row, whole = section.governing, section.at_governing
        assert row is not None  # as it is ranked
        assert whole is not None
        c = row.contact
        solved = f"{len(section.solved)} of {len(section.rows)}"
        at = f"{units.length.text(c.offset)}, {units.angle.text(c.angle)}"
        begin = (
            (rank[name], words.one_line(name), solved, at),
            ("", words.size(section.section, units), "", f"friction {c.friction:g}"),
        )
        groups.append(
            tuple(
                (
                    *cells, what, *_body(body, result.case),
                    units.stress.number(body.material.yield_strength),
                    words.first_yield(body, units),
                )
                for cells, (what, body) in zip(begin, whole.bodies, strict=True)
            )
        )  # fmt: skip
    return Table(columns, tuple(groups), note="\n".join(_notes(result)))


def _body_columns(case: Case) -> tuple[Column, ...]:
    return (
        Column("body"),
        *numbers(f"peak von\nMises\n[{case.display.stress.name}]"),
        Column("where", most=21),
        *numbers("utili-\nsation\n[1]"),
        Column(f"against\n{words.limit(case)}"),
    )


def _body(body: Body, case: Case) -> tuple[Cell, ...]:
    """What stands in those columns, but for its name."""
    return (
        words.pair(body.peak_von_mises, case.display.stress),
        body.peak_von_mises.at.zone,
        words.ratio_text(body.utilisation.value, body.utilisation.uncertainty),
        Line(words.beside_limit(body), "good" if body.satisfied else "bad"),
    )


def _notes(result: EnvelopeResult) -> Iterator[str]:
    case = result.case
    yield (
        "Governing contact: the one of the largest utilisation of post or plate, uncertainty"
        " counted; stated as offset, angle and friction."
    )
    yield "First yield: at that contact, with loads that grow from nothing."
    yield words.utilisation(case)
    yield words.UNCERTAINTY
    if case.alignment is not None:
        yield (
            "The plate is checked at the peak of the line load along the post, the post where it is"
            " stressed most; first yield is stated with that peak."
        )
    for section in result.sections:
        if ties := tie_words(section, case.display):
            yield f"{_name(section)}: {ties}."


def _contacts(case: Case, section: SectionEnvelope) -> Iterator[Block]:
    """The contacts that were solved, or the worst of many, and why others were not."""
    units, name = case.display, _name(section)
    solved, failed = section.solved, [row for row in section.rows if not row.solved]
    if len(section.rows) > MOST_ROWS:
        solved = tuple(sorted(solved, key=lambda row: row.most, reverse=True)[:WORST_ROWS])
        failed = failed[:WORST_ROWS]
    columns = (
        Column(),
        *numbers(
            f"offset\n[{units.length.name}]", f"angle\n[{units.angle.name}]",
            "fric-\ntion\n[1]",
        ),
        *_body_columns(case),
        *page_columns(units, *FIGURES),
        Column("motion,\nreaction at", least=12),
        *numbers(f"largest\nreaction\n[{units.line_load.name}]"),
        *(numbers(f"peak q\n[{units.line_load.name}]") if case.alignment is not None else ()),
    )  # fmt: skip
    note = (
        f"{GOVERNING} governs, {TIE} not parted from it by the uncertainty. T: tangential load on"
        " the plate, positive along +x; q: line load"
        + ("." if case.alignment is None else ", the peak along the post.")
    )
    if less := len(section.rows) - len(solved) - len(failed):
        note += f" There are {less} more in the files of contactfe envelope."
    worst = len(solved) < len(section.solved)
    title = f"{name}: the {len(solved)} worst contacts" if worst else f"{name}: contacts"
    yield Table(columns, tuple(_contact(row, section, case) for row in solved), title, note)
    for row in failed:
        yield Line(f"Not solved, {contact_words(row.contact, units)}: {row.error}")


def _contact(row: Row, section: SectionEnvelope, case: Case) -> tuple[tuple[Cell, ...], ...]:
    """Two lines: the post's, and the plate's with the uncertainties of what both share."""
    units, at, values = case.display, row.contact, row.values
    mark = GOVERNING if row is section.governing else TIE if row in section.ties else ""
    held = values["largest_reaction"]
    pairs = [
        *page_pairs(values, units, *FIGURES),
        (row.motion, held.at.zone),
        words.with_uncertainty(held, units.line_load),
    ]
    if case.alignment is not None:
        pairs.append((units.line_load.number(row.line_load), ""))
    first, second = zip(*pairs, strict=True)
    stated = (mark, units.length.number(at.offset), units.angle.number(at.angle))
    return (
        (*stated, f"{at.friction:g}", "post", *_body(row.post, case), *first),
        ("", "", "", "", "plate", *_body(row.plate, case), *second),
    )
