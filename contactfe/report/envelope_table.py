"""An envelope as text: what governs each section, the answer, and a row for each contact."""

from collections.abc import Iterator
from pathlib import Path

from rich import box
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body, Value
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.envelope import answer, contact_words, tie_words
from contactfe.report.page import print_page, write_page
from contactfe.report.ranking import places
from contactfe.report.verdicts import does_not_apply, verdict_lines

MOST_ROWS = 12
"""Rows of a section up to which all are printed; the CSV file has them in any case."""

WORST_ROWS = 8
"""Of more, those of the largest utilisation."""

GOVERNING = ">"
TIE = "~"


def print_envelope(result: EnvelopeResult, console: Console) -> None:
    """Print the envelope at its full width, whatever the width of the console."""
    print_page(envelope_table(result), console)


def write_envelope_table(result: EnvelopeResult, path: Path) -> None:
    """Write the envelope as plain text in UTF-8. Raises OSError where that cannot be done."""
    write_page(envelope_table(result), path)


def envelope_table(result: EnvelopeResult) -> RenderableType:
    """The whole envelope for a rich console at least ``WIDTH`` wide; readable without colour."""
    case = result.case
    names = [section.section.name for section in result.sections]
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text(words.how_held(case)),
        Text(""),
        Text("Answer", style="bold"),
        *(Text(sentence) for sentence in answer(result)),
        Text(""),
        *verdict_lines(case, names, result.checks, result.open_items),
        _sections(result),
        *_notes(result),
        *does_not_apply(result.checks),
    ]
    for section in result.sections:
        parts.extend(_rows(case, section))
    parts.extend(Text(f"Caution: {line}") for line in words.cautions(case))
    return Group(*parts)


def _sections(result: EnvelopeResult) -> Table:
    """Two lines a section, best first: post and plate at the contact that governs."""
    units = result.case.display
    table = _plain_table()
    table.add_column("")
    table.add_column(Text("section\nØ × wall"), overflow="fold", max_width=28)
    table.add_column(Text("contacts\nsolved"), justify="right")
    table.add_column(Text("governing\ncontact"))
    table.add_column("body")
    table.add_column(Text(f"peak von\nMises\n[{units.stress.name}]"), justify="right")
    table.add_column("where")
    table.add_column(Text("utili-\nsation\n[1]"), justify="right")
    table.add_column(Text(f"yield\nstrength\n[{units.stress.name}]"), justify="right")
    table.add_column(Text(f"against\n{words.limit(result.case)}"))
    table.add_column(Text(f"line load at\nfirst yield\n[{units.line_load.name}]"), justify="right")
    rank = places(result.by_utilisation, result.utilisation_of)
    for name in result.by_utilisation:
        section = result.section(name)
        row, full = section.governing, section.assessed
        assert row is not None  # as it is ranked
        assert full is not None
        (whole,) = full.sections
        c = row.contact
        first = [
            rank[name], words.one_line(name), f"{len(section.solved)} of {len(section.rows)}",
            f"{units.length.text(c.offset)}, {units.angle.text(c.angle)}",
        ]  # fmt: skip
        second = ["", words.size(section.section, units), "", f"friction {c.friction:g}"]
        for cells, label, body, all_of in (
            (first, "post", row.post, whole.member),
            (second, "plate", row.plate, whole.plate),
        ):
            table.add_row(
                *map(Text, cells), Text(label),
                Text(words.pair(body.peak, units.stress)), Text(body.peak.at.zone),
                Text(words.pair(body.utilisation)),
                Text(units.stress.number(all_of.material.yield_strength)),
                Text(words.beside_limit(all_of), style=_style(body.satisfied)),
                Text(words.first_yield(all_of, units)),
                end_section=label == "plate",
            )  # fmt: skip
    return table


def _notes(result: EnvelopeResult) -> Iterator[Text]:
    case, units = result.case, result.case.display
    lines = [
        "Governing contact: the one of the largest utilisation of post or plate, uncertainty"
        " counted; stated as offset, angle and friction.",
        "First yield: at that contact, with loads that grow from nothing.",
        f"Utilisation: peak von Mises stress over {words.limit(case)}; the verdict counts the"
        " numerical uncertainty against the section.",
        "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel.",
    ]
    if case.alignment is not None:
        lines.append(
            "The post is checked at the peak of the line load along it, with its own bending there;"
            " first yield is stated with that peak."
        )
    for section in result.sections:
        if ties := tie_words(section, units):
            lines.append(f"{words.one_line(section.section.name)}: {ties}.")
    yield Text("\n" + "\n".join(lines) + "\n", style="dim")


def _rows(case: Case, section: SectionEnvelope) -> Iterator[RenderableType]:
    units = case.display
    shown = _shown(section)
    less = len(section.rows) - len(shown)
    name = words.one_line(section.section.name)
    table = _plain_table(f"{name}: " + (f"the {len(shown)} worst contacts" if less else "contacts"))
    table.add_column("")
    for header in (
        f"offset\n\n[{units.length.name}]", f"angle\n\n[{units.angle.name}]", "fric-\ntion\n[1]",
    ):  # fmt: skip
        table.add_column(Text(header), justify="right")
    table.add_column("body")
    table.add_column(Text(f"peak von\nMises\n[{units.stress.name}]"), justify="right")
    table.add_column("where")
    table.add_column(Text("utili-\nsation\n[1]"), justify="right")
    table.add_column(Text(f"below\n{words.limit(case)}"))
    for header in (
        f"peak\npressure\n[{units.stress.name}]", f"half-\nwidth\n[{units.length.name}]",
        "T/q\n\n[1]",
    ):  # fmt: skip
        table.add_column(Text(header), justify="right")
    table.add_column("motion")
    table.add_column(Text(f"largest\nreaction\n[{units.line_load.name}]"), justify="right")
    if case.alignment is not None:
        header = f"peak line\nload q\n[{units.line_load.name}]"
        table.add_column(Text(header), justify="right")
    for row in shown:
        contact = row.contact
        stated = [
            _mark(row, section), units.length.number(contact.offset),
            units.angle.number(contact.angle), f"{contact.friction:g}",
        ]  # fmt: skip
        if not row.solved:
            table.add_row(*map(Text, stated), Text("not solved"), end_section=True)
        else:
            _add(table, stated, row, case)
    yield table
    unsolved = [row for row in shown if not row.solved]
    for row in unsolved:
        yield Text(f"{contact_words(row.contact, units)}: {row.error}")
    marks = f"{GOVERNING} governs, {TIE} not parted from it by the uncertainty"
    yield Text(
        f"{marks}. T: tangential load on the plate, positive along +x; q: line load."
        + (f" {less} more are in envelope.csv." if less else "")
        + "\n",
        style="dim",
    )


def _add(table: Table, stated: list[str], row: Row, case: Case) -> None:
    """Two lines: the post's with the contact, and the plate's with the uncertainties of it."""
    units, values = case.display, row.values
    held = values["largest_reaction"]
    columns = [
        words.with_uncertainty(values["peak_pressure"], units.stress),
        words.with_uncertainty(values["half_width"], units.length),
        _ratio(values["tangential_ratio"]),
        (row.motion, held.at.zone),
        words.with_uncertainty(held, units.line_load),
    ]
    if case.alignment is not None:
        columns.append((units.line_load.number(row.line_load), ""))
    lines = (stated, "post", row.post), ([""] * len(stated), "plate", row.plate)
    for number, (begin, label, body) in enumerate(lines):
        table.add_row(
            *map(Text, begin), Text(label), Text(words.pair(body.peak, units.stress)),
            Text(body.peak.at.zone), Text(words.pair(body.utilisation)),
            Text(_passes(body), style=_style(body.satisfied)),
            *(Text(column[number]) for column in columns),
            end_section=number == 1,
        )  # fmt: skip


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


def _passes(body: Body) -> str:
    """In words that need no colour."""
    if body.satisfied:
        return "yes"
    return "NO" if body.utilisation.value > 1.0 else "NOT CLEAR"


def _style(satisfied: bool) -> str:
    return "green" if satisfied else "bold red"


def _plain_table(title: str | None = None) -> Table:
    return Table(
        box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False,
        title=None if title is None else Text(title, style="bold"), title_justify="left",
    )  # fmt: skip


def _ratio(value: Value) -> tuple[str, str]:
    """T/q and its uncertainty, which it has none of without friction or in full sliding."""
    exact = value.uncertainty == 0.0
    return (f"{value.value:.3f}", "") if exact else words.with_uncertainty(value)
