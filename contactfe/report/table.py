"""The comparison as text: what was asked, each section, the answer, details, hand formulas."""

from collections.abc import Iterator

from contactfe.assess.results import BodyResult, Comparison, HandCheck, SectionResult
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import significant
from contactfe.report import reason, words
from contactfe.report.answer import RATIO, Room, answer_page, judged, judged_columns, more
from contactfe.report.at_scale import at_scale
from contactfe.report.blocks import (
    GAP,
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
from contactfe.report.by_hand import clause_tables, input_lines
from contactfe.report.details import details
from contactfe.report.ranking import places, ranked
from contactfe.report.remarks import remark
from contactfe.report.root import root_table
from contactfe.report.tolerance import ranked_as_made
from contactfe.report.values import page_columns, page_pairs
from contactfe.report.verdicts import does_not_apply, verdict_lines

FIGURES = ("half_width", "peak_pressure", "stress_concentration")
"""Quantities in the table of the sections, beside those of post and plate."""


def comparison_page(comparison: Comparison) -> Page:
    """The whole comparison."""
    case = comparison.case
    best_first = [comparison.section(name) for name in comparison.by_concentration]
    return framed(
        case.title,
        words.cautions(case),
        *_first(comparison),
        *details(comparison, best_first),
        *at_scale(comparison, best_first),
        *(hand_table(case, result) for result in best_first),
        *_sources(comparison),
        *input_lines(case),
        *root_table([result.by_hand for result in best_first], case),
        *clause_tables([result.by_hand for result in best_first], case.display),
        *does_not_apply(comparison.checks),
        Line(words.STEPS),
    )


def comparison_answer(comparison: Comparison) -> Page:
    """Which section is best and by how much, what passes and what is open, and why."""
    case = comparison.case

    def blocks(room: Room) -> Iterator[Block]:
        yield Heading("Answer")
        yield Line(" ".join(reason.best(comparison)))
        names, items = comparison.by_concentration, comparison.open_items
        yield from verdict_lines(case, names, comparison.checks, items, room.named)
        short = [r.section.name for r in comparison.sections if r.stopped]
        if case.accuracy is not None and short:
            asked = words.percent(case.accuracy)
            yield Line(
                f"Accuracy of {asked} NOT REACHED: {words.some(short, 2 * room.named)}.", "bad"
            )
        yield in_short(comparison, room.rows)
        if room.reasons:
            yield Heading("Why")
            yield Line(" ".join(reason.why(comparison)[: room.reasons]))

    return answer_page(case.title, words.how_held(case), blocks)


def in_short(comparison: Comparison, most: int) -> Table:
    """A line a section, best first, up to so many."""
    units = comparison.case.display
    stress = units.stress
    columns = (
        Column(drop=9),
        Column("section", folds=True, most=24, key=True),
        Column("Ø × wall", drop=6),
        Column(f"mass\n[{units.mass_per_length.name}]", numbers=True, drop=5),
        Column("steel", drop=8),
        Column(f"yield\n[{stress.name}]", numbers=True, drop=7),
        *page_columns(units, "stress_concentration"),
        Column(f"post's\npeak\n[{stress.name}]", numbers=True),
        Column(f"plate's\npeak\n[{stress.name}]", numbers=True, drop=3),
        Column("utili-\nsation\n[1]", numbers=True, drop=4),
        *judged_columns(),
    )
    rank = places(comparison.by_concentration, comparison.concentration_of)
    rows = []
    for name in comparison.by_concentration[:most]:
        r = comparison.section(name)
        body = r.member
        rows.append(
            (
                rank[name],
                words.one_line(name),
                words.size(r.section, units),
                units.mass_per_length.number(r.mass_per_length),
                body.material.name,
                stress.number(body.material.yield_strength),
                words.pair(r.stress_concentration),
                words.pair(body.peak_von_mises, stress),
                words.pair(r.plate.peak_von_mises, stress),
                words.ratio_text(body.utilisation.value, body.utilisation.uncertainty),
                *judged([check for check in comparison.checks if check.section == name]),
            )
        )
    left = len(comparison.by_concentration) - len(rows)
    K = "K: peak von Mises stress of the post over q/D, line load over diameter. "
    return Table(columns, (tuple(rows),), note=f"{more(left)}{K}{RATIO}")


def _first(comparison: Comparison) -> Iterator[Block]:
    yield Line(words.how_held(comparison.case))
    yield from _answer(comparison)
    yield sections_table(comparison)


def sections_table(comparison: Comparison, *also: str) -> Table:
    """Two lines a section, the post's with the contact and the plate's; a third in a corner.

    ``also`` are quantities that it has beside those of a page.
    """
    units, stress = comparison.case.display, comparison.case.display.stress.name
    shown = (*FIGURES, *also)
    columns = (
        Column(),
        Column("section\nØ × wall", folds=True, most=26),
        *numbers(f"mass\n[{units.mass_per_length.name}]"),
        *page_columns(units, *shown),
        Column("body", most=6),
        *numbers(f"peak von\nMises\n[{stress}]"),
        Column("where", most=21),
        *numbers(f"yield\nstrength\n[{stress}]", "utili-\nsation\n[1]"),
        Column(f"against\n{words.limit(comparison.case)}"),
        *numbers(f"line load at\nfirst yield\n[{units.line_load.name}]"),
    )  # fmt: skip
    rank = places(comparison.by_concentration, comparison.concentration_of)
    groups = []
    for name in comparison.by_concentration:
        r = comparison.section(name)
        mass = units.mass_per_length.number(r.mass_per_length)
        figures, uncertainties = zip(*page_pairs(r.values, units, *shown), strict=True)
        rows = [
            (rank[name], words.one_line(name), mass, *figures),
            ("", words.size(r.section, units), "", *uncertainties),
        ]
        if len(r.patches) > 1:
            second = page_pairs(r.values, units, *shown, number=1)
            rows.append(("", "", "", *(f"{figure}\n{of}".strip() for figure, of in second)))
        groups.append(
            tuple(
                (*row, what, *_body(comparison, body))
                for row, (what, body) in zip(rows, r.bodies, strict=True)
            )
        )
    return Table(columns, tuple(groups), note="\n".join(_notes(comparison)))


def _body(comparison: Comparison, body: BodyResult) -> tuple[Cell, ...]:
    case = comparison.case
    return (
        words.peak(body, case.display),
        body.peak_von_mises.at.zone,
        case.display.stress.number(body.material.yield_strength),
        words.ratio_text(body.utilisation.value, body.utilisation.uncertainty),
        Line(words.beside_limit(body), "good" if body.satisfied else "bad"),
        words.first_yield(body, case.display),
    )


def _notes(comparison: Comparison) -> Iterator[str]:
    case = comparison.case
    mean = ", the mean line load" if case.alignment is not None else ""
    yield (
        f"K: peak von Mises stress of the post over line load / outside diameter{mean}; it compares"
        " sections of one outside diameter, at this load."
    )
    parted = "Places that share a rank are not parted by the uncertainty (=)."
    yield f"{words.utilisation(case)} {parted}"
    rounded = "Figures in sentences are rounded; their ± stands in the tables."
    yield f"{words.UNCERTAINTY} {rounded}"
    yield from _shakedown(comparison)
    if case.alignment is not None:
        yield (
            "Line loads here, at first yield and at the shakedown limit, are those of the peak"
            " along the post: see “Along the post”."
        )
    if case.corner is not None:
        yield (
            "Corner: K and first yield are stated with the line load on the first plate, both loads"
            " growing together; the shakedown limit is that of either contact by itself."
        )
    if any(b.first_yield_line_load is None for r in comparison.sections for _, b in r.bodies):
        yield (
            f"{words.BEYOND}: first yield needs a wider patch or more displacement than the model"
            " allows; half-width and displacement are at most 0.1 of the radius."
        )


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


def hand_row(case: Case, check: HandCheck) -> tuple[str, str, str, str, str]:
    """A formula with its unit, its figure, the computed one and their difference."""
    unit = case.display.unit(check.dimension)
    computed = words.pair(Value(check.computed, check.computed_uncertainty), unit)
    difference = f"{100 * check.difference:+.1f} %"
    return check.label, unit.name, significant(unit.of(check.hand)), computed, difference


def hand_table(case: Case, result: SectionResult) -> Table:
    """The formulas of a section beside computed figures, and why they differ."""
    columns = (
        Column("hand formula", least=50, most=50), Column("unit"),
        *numbers("hand", "computed", "difference"), Column("why they differ"),
    )  # fmt: skip
    rows, above = [], ""
    for check in result.hand_checks:
        why = remark(case, result, check)
        shown, above = ("as above" if why and why == above else why), why
        rows.append((*hand_row(case, check), shown))
    name = words.one_line(result.section.name)
    return Table(columns, (tuple(rows),), f"{name}: hand formulas beside computed values")


def _sources(comparison: Comparison) -> Iterator[Block]:
    """Each source once, with the formulas taken from it."""
    labels: dict[str, list[str]] = {}
    for result in comparison.sections:
        for check in result.hand_checks:
            of = labels.setdefault(check.source, [])
            if check.label not in of:
                of.append(check.label)
    yield Line("Difference: hand over computed, less one.")
    yield Heading("Sources of the hand formulas")
    yield from lines(f"{source}: {'; '.join(of)}." for source, of in labels.items())


def _answer(comparison: Comparison) -> Iterator[Block]:
    case = comparison.case
    yield Heading("Answer")
    yield Line(comparison.reason)
    yield from verdict_lines(
        case, comparison.by_concentration, comparison.checks, comparison.open_items
    )
    for what, names, figure in (
        ("stress concentration K", comparison.by_concentration, comparison.concentration_of),
        ("utilisation", comparison.by_utilisation, comparison.utilisation_of),
        ("mass", comparison.by_mass, comparison.mass_of),
    ):
        yield Line(f"By {what}, least first: {ranked(names, figure)}")
        if figure == comparison.concentration_of:
            yield from lines(ranked_as_made(comparison))
    yield GAP
