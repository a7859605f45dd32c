"""An envelope as a page: the answer, what governs each section, and a row for each contact."""

from collections.abc import Callable, Iterator, Sequence

from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body, Value
from contactfe.case import Case, Contact
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Line,
    Page,
    Table,
    cautions,
    lines,
    numbers,
)
from contactfe.report.ranking import places
from contactfe.report.verdicts import does_not_apply, verdict_lines

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
    return (
        Heading(words.one_line(case.title), 1),
        Line(words.how_held(case)),
        Heading("Answer"),
        *lines(answer(result)),
        *verdict_lines(case, names, result.checks, result.open_items),
        _sections(result),
        *does_not_apply(result.checks),
        *(block for section in result.sections for block in _contacts(case, section)),
        *cautions(words.cautions(case)),
    )


def answer(result: EnvelopeResult) -> list[str]:
    """Sentences: which section is best over all contacts, by how much, and what was not solved."""
    units = result.case.display
    best = result.section(result.by_utilisation[0])
    row = best.governing
    assert row is not None  # as it is ranked
    sentences = [
        f"Over {len(best.rows)} contacts the largest utilisation of “{_name(best)}” is"
        f" {words.pair(row.utilisation)}, of the {row.governs}, at"
        f" {contact_words(row.contact, units)}."
    ]
    if len(result.by_utilisation) > 1:
        sentences += [_next_best(result, best), _least_peak(result)]
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


def tie_words(section: SectionEnvelope, units: Display) -> str:
    """Which other contacts may govern as well, given the uncertainty; empty where none."""
    ties = [row.contact for row in section.ties]
    if not ties:
        return ""
    if len(ties) <= 3:
        which = "; ".join(contact_words(contact, units) for contact in ties)
        return f"the uncertainty does not part it from: {which}"
    spans = (
        _span("offset", [c.offset for c in ties], units.length.number, f" {units.length.name}"),
        _span("angle", [c.angle for c in ties], units.angle.number, f" {units.angle.name}"),
        _span("friction", [c.friction for c in ties], "{:g}".format, ""),
    )
    return f"the uncertainty does not part it from {len(ties)} others, at {', '.join(spans)}"


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


def _next_best(result: EnvelopeResult, best: SectionEnvelope) -> str:
    other = result.section(result.by_utilisation[1])
    assert best.governing is not None
    assert other.governing is not None
    mine, theirs = best.governing.utilisation, other.governing.utilisation
    apart = theirs.value - theirs.uncertainty > mine.value + mine.uncertainty
    sure = "" if apart else ", though not by more than the uncertainty"
    at = contact_words(other.governing.contact, result.case.display)
    return (
        f"That is the least of {len(result.by_utilisation)} sections{sure}: next is"
        f" “{_name(other)}” with {words.pair(theirs)}, of the {other.governing.governs}, at {at}."
    )


def _least_peak(result: EnvelopeResult) -> str:
    units = result.case.display
    best = result.section(result.by_peak[0])
    row = best.highest
    assert row is not None
    return (
        f"The least peak von Mises stress in the post is that of “{_name(best)}”: at most"
        f" {words.pair(row.post.peak, units.stress)} {units.stress.name}, at"
        f" {contact_words(row.contact, units)}."
    )


def _span(what: str, values: Sequence[float], number: Callable[[float], str], unit: str) -> str:
    low, high = number(min(values)), number(max(values))
    return f"{what} {low}{unit}" if low == high else f"{what} {low} to {high}{unit}"


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
        row, full = section.governing, section.assessed
        assert row is not None  # as it is ranked
        assert full is not None
        (whole,) = full.sections
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
        words.pair(body.peak, case.display.stress),
        body.peak.at.zone,
        words.pair(body.utilisation),
        Line(words.beside_limit(body), "good" if body.satisfied else "bad"),
    )


def _notes(result: EnvelopeResult) -> Iterator[str]:
    case = result.case
    yield (
        "Governing contact: the one of the largest utilisation of post or plate, uncertainty"
        " counted; stated as offset, angle and friction."
    )
    yield "First yield: at that contact, with loads that grow from nothing."
    yield (
        f"Utilisation: peak von Mises stress over {words.limit(case)}; the verdict counts the"
        " numerical uncertainty against the section."
    )
    yield "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel."
    if case.alignment is not None:
        yield (
            "The post is checked at the peak of the line load along it, with its own bending there;"
            " first yield is stated with that peak."
        )
    for section in result.sections:
        if ties := tie_words(section, case.display):
            yield f"{_name(section)}: {ties}."


def _contacts(case: Case, section: SectionEnvelope) -> Iterator[Block]:
    """Two lines a contact: the post's, and the plate's with the uncertainties of the contact."""
    units = case.display
    shown = _shown(section)
    less = len(section.rows) - len(shown)
    columns = (
        Column(),
        *numbers(
            f"offset\n\n[{units.length.name}]", f"angle\n\n[{units.angle.name}]",
            "fric-\ntion\n[1]",
        ),
        *_body_columns(case),
        *numbers(
            f"peak\npressure\n[{units.stress.name}]", f"half-\nwidth\n[{units.length.name}]",
            "T/q\n\n[1]",
        ),
        Column("motion", least=12),
        *numbers(f"largest\nreaction\n[{units.line_load.name}]"),
    )  # fmt: skip
    if case.alignment is not None:
        columns += numbers(f"peak q\n\n[{units.line_load.name}]")
    groups = []
    for row in shown:
        at = row.contact
        stated = (
            _mark(row, section), units.length.number(at.offset), units.angle.number(at.angle),
            f"{at.friction:g}",
        )  # fmt: skip
        if row.solved:
            found = zip(*_found(row, case), strict=True)
            groups.append(
                tuple(
                    (*begin, body.name, *_body(body, case), *cells)
                    for begin, body, cells in zip(
                        (stated, ("",) * len(stated)), (row.post, row.plate), found, strict=True
                    )
                )
            )
        else:
            empty = ("",) * (len(columns) - len(stated) - 1)
            groups.append(((*stated, "not solved", *empty),))
    marks = (
        f"{GOVERNING} governs, {TIE} not parted from it by the uncertainty. T: tangential load on"
        " the plate, positive along +x; q: line load."
    )
    title = f"the {len(shown)} worst contacts" if less else "contacts"
    more = f" {less} more are in envelope.csv." if less else ""
    yield Table(columns, tuple(groups), f"{_name(section)}: {title}", marks + more)
    for row in shown:
        if not row.solved:
            yield Line(f"{contact_words(row.contact, units)}: {row.error}")


def _found(row: Row, case: Case) -> Iterator[tuple[str, str]]:
    """What the contact comes to, in two lines."""
    units, values = case.display, row.values
    held = values["largest_reaction"]
    yield words.with_uncertainty(values["peak_pressure"], units.stress)
    yield words.with_uncertainty(values["half_width"], units.length)
    yield _ratio(values["tangential_ratio"])
    yield row.motion, held.at.zone
    yield words.with_uncertainty(held, units.line_load)
    if case.alignment is not None:
        yield units.line_load.number(row.line_load), ""


def _shown(section: SectionEnvelope) -> tuple[Row, ...]:
    """All rows, or the worst of many; those that were not solved last."""
    if len(section.rows) <= MOST_ROWS:
        return section.rows
    ranked = sorted(section.rows, key=lambda row: -row.most if row.solved else 0.0)
    return tuple(ranked[:WORST_ROWS])


def _mark(row: Row, section: SectionEnvelope) -> str:
    if row is section.governing:
        return GOVERNING
    return TIE if row in section.ties else ""


def _ratio(value: Value) -> tuple[str, str]:
    """T/q and its uncertainty, which it has none of without friction or in full sliding."""
    exact = value.uncertainty == 0.0
    return (f"{value.value:.3f}", "") if exact else words.with_uncertainty(value)
