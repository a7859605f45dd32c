"""The comparison as text: what was asked, each section, the answer, details, hand formulas."""

from collections.abc import Iterator
from pathlib import Path

from rich import box
from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.assess.value import Value
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.at_scale import at_scale
from contactfe.report.by_hand import clause_tables, input_lines
from contactfe.report.details import details
from contactfe.report.page import print_page, write_page
from contactfe.report.ranking import places, ranked
from contactfe.report.verdicts import does_not_apply, verdict_lines


def print_comparison(comparison: Comparison, console: Console) -> None:
    """Print the comparison at its full width, whatever the width of the console."""
    print_page(comparison_table(comparison), console)


def write_table(comparison: Comparison, path: Path) -> None:
    """Write the comparison as plain text in UTF-8. Raises OSError where that cannot be done."""
    write_page(comparison_table(comparison), path)


def comparison_table(comparison: Comparison) -> RenderableType:
    """The whole comparison for a rich console at least ``WIDTH`` wide; readable without colour."""
    best_first = [comparison.section(name) for name in comparison.by_concentration]
    parts: list[RenderableType] = [*_heading(comparison), *_answer(comparison)]
    parts.append(_sections(comparison, best_first))
    parts.extend(_notes(comparison))
    parts.extend(details(comparison, best_first))
    parts.extend(at_scale(comparison, best_first))
    for result in best_first:
        parts.append(_hand(result, comparison.case.display))
    parts.extend(_sources(comparison))
    parts.extend(input_lines(comparison.case))
    parts.extend(clause_tables([result.by_hand for result in best_first], comparison.case.display))
    parts.extend(does_not_apply(comparison.checks))
    parts.append(Text(f"{words.STEPS}\n"))
    parts.extend(Text(f"Caution: {line}") for line in words.cautions(comparison.case))
    return Group(*parts)


def _heading(comparison: Comparison) -> Iterator[Text]:
    case = comparison.case
    yield Text(words.one_line(case.title), style="bold")
    yield Text(words.how_held(case))
    yield Text("")


def _sections(comparison: Comparison, best_first: list[SectionResult]) -> Table:
    """Two lines a section, the post's with the contact and the plate's; a third in a corner."""
    units = comparison.case.display
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False)
    table.add_column("")
    table.add_column(Text("section\nØ × wall"), overflow="fold", max_width=26)
    for header in (
        f"mass\n\n[{units.mass_per_length.name}]",
        f"half-\nwidth\n[{units.length.name}]",
        f"peak\npressure\n[{units.stress.name}]",
        "K\n\n[1]",
    ):
        table.add_column(Text(header), justify="right")
    table.add_column("body", max_width=6)
    table.add_column(Text(f"peak von\nMises\n[{units.stress.name}]"), justify="right")
    table.add_column("where", max_width=21)
    table.add_column(Text(f"yield\nstrength\n[{units.stress.name}]"), justify="right")
    table.add_column(Text("utili-\nsation\n[1]"), justify="right")
    table.add_column(Text(f"against\n{words.limit(comparison.case)}"))
    load = units.line_load.name
    table.add_column(Text(f"line load at\nfirst yield\n[{load}]"), justify="right")
    rank = places(comparison.by_concentration, comparison.concentration_of)
    for r in best_first:
        a, a_uncertainty = words.with_uncertainty(r.half_width, units.length)
        p, p_uncertainty = words.with_uncertainty(r.peak_pressure, units.stress)
        K, K_uncertainty = words.with_uncertainty(r.stress_concentration)
        mass, name = units.mass_per_length.number(r.mass_per_length), words.one_line(r.section.name)
        rows = [
            [rank[r.section.name], name, mass, a, p, K],
            ["", words.size(r.section, units), "", a_uncertainty, p_uncertainty, K_uncertainty],
        ]
        for patch in r.patches[1:]:
            width = "\n".join(words.with_uncertainty(patch.half_width, units.length))
            pressure = "\n".join(words.with_uncertainty(patch.peak_pressure, units.stress))
            rows.append(["", "", "", width, pressure, ""])
        for row, (what, body) in zip(rows, r.bodies, strict=True):
            last = row is rows[-1]
            table.add_row(*map(Text, (*row, what)), *_body(comparison, body), end_section=last)
    return table


def _body(comparison: Comparison, body: BodyResult) -> list[Text]:
    case = comparison.case
    return [
        Text(words.peak(body, case.display)),
        Text(body.peak.at.zone),
        Text(case.display.stress.number(body.material.yield_strength)),
        Text(words.pair(body.utilisation)),
        Text(words.beside_limit(body), style="green" if body.satisfied else "bold red"),
        Text(words.first_yield(body, case.display)),
    ]


def _notes(comparison: Comparison) -> Iterator[Text]:
    case = comparison.case
    lines = [
        "K: peak von Mises stress of the post over line load / outside diameter"
        + (", the mean line load" if case.alignment is not None else "")
        + "; it compares sections of one outside diameter, at this load.",
        f"Utilisation: peak von Mises stress over {words.limit(case)}; the verdict counts the"
        " numerical uncertainty against the section. Places that share a rank are not parted by"
        " the uncertainty (=).",
        "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel. Figures"
        " in sentences are rounded; their ± stands in the tables.",
        *_shakedown(comparison),
    ]
    if case.alignment is not None:
        lines.append(
            "Line loads here, at first yield and at the shakedown limit, are those of the peak"
            " along the post: see “Along the post”."
        )
    if case.corner is not None:
        lines.append(
            "Corner: K and first yield are stated with the line load on the first plate, both loads"
            " growing together; the shakedown limit is that of either contact by itself."
        )
    if any(b.first_yield is None for r in comparison.sections for _, b in r.bodies):
        lines.append(
            f"{words.BEYOND}: first yield needs a wider patch or more displacement than the model"
            " allows; half-width and displacement are at most 0.1 of the radius."
        )
    yield Text("\n" + "\n".join(lines) + "\n", style="dim")


def _shakedown(comparison: Comparison) -> Iterator[str]:
    """The limit of each body; sections whose limits are the same stand together."""
    unit = comparison.case.display.line_load
    alike: dict[str, list[str]] = {}
    for r in comparison.sections:
        limits = ", ".join(f"{what} {unit.text(b.shakedown_line_load)}" for what, b in r.bodies)
        alike.setdefault(limits, []).append(words.one_line(r.section.name))
    for limits, names in alike.items():
        of = "every section" if len(names) == len(comparison.sections) else ", ".join(names)
        yield f"Line load at the shakedown limit, {of}: {limits}."
    yield words.shakedown(comparison.case)


def _hand(result: SectionResult, units: Display) -> RenderableType:
    name = words.one_line(result.section.name)
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False, expand=True,
        title=Text(f"{name}: hand formulas beside computed values", style="bold"),
        title_justify="left",
    )  # fmt: skip
    table.add_column("hand formula", width=50)
    for header in ("unit", "hand", "computed", "difference"):
        table.add_column(header, justify="left" if header == "unit" else "right")
    table.add_column("why they differ", ratio=1)
    above = ""
    for check in result.hand:
        unit = units.unit(check.dimension)
        remark = "as above" if check.remark and check.remark == above else check.remark
        above = check.remark
        table.add_row(
            Text(check.label),
            Text(unit.name),
            significant(unit.of(check.hand)),
            words.pair(Value(check.computed, check.uncertainty), unit),
            f"{100 * check.difference:+.1f} %",
            Text(remark),
        )
    return Padding(table, (0, 0, 1, 0))


def _sources(comparison: Comparison) -> Iterator[Text]:
    """Each source once, with the formulas taken from it."""
    labels: dict[str, list[str]] = {}
    for result in comparison.sections:
        for check in result.hand:
            of = labels.setdefault(check.source, [])
            if check.label not in of:
                of.append(check.label)
    yield Text("Difference: hand over computed, less one.")
    yield Text("\nSources of the hand formulas", style="bold")
    for source, of in labels.items():
        yield Text(f"{source}: {'; '.join(of)}.")
    yield Text("")


def _answer(comparison: Comparison) -> Iterator[Text]:
    case = comparison.case
    yield Text("Answer", style="bold")
    yield Text(f"{comparison.reason}\n")
    yield from verdict_lines(
        case, comparison.by_concentration, comparison.checks, comparison.open_items
    )
    for what, names, figure in (
        ("stress concentration K", comparison.by_concentration, comparison.concentration_of),
        ("utilisation", comparison.by_utilisation, comparison.utilisation_of),
        ("mass", comparison.by_mass, comparison.mass_of),
    ):
        yield Text(f"By {what}, least first: {ranked(names, figure)}")
    yield Text("")
