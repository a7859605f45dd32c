"""What was solved: the sections beside one another, their figures, every check, and the meshes."""

from collections.abc import Iterator, Sequence

from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import Check, severity
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.value import Value
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.at_scale import at_scale
from contactfe.report.blocks import (
    Block,
    Column,
    Line,
    Row,
    Table,
    lines,
    numbers,
    texts,
)
from contactfe.report.calculation.summary import sides, verdict
from contactfe.report.check_names import why
from contactfe.report.details import details
from contactfe.report.ranking import places
from contactfe.report.values import page_columns, page_pairs

_FIGURES = ("stress_concentration", "half_width", "peak_pressure", "approach")


def compared(comparison: Comparison, best_first: Sequence[SectionResult]) -> Iterator[Block]:
    """Tables of the sections, best first, and those of what the case calls for."""
    case, units = comparison.case, comparison.case.display
    rank = places(comparison.by_concentration, comparison.concentration_of)
    columns = (Column("section", key=True), *numbers("place"), *page_columns(units, *_FIGURES))
    rows: list[Row] = []
    bodies = []
    for result in best_first:
        name = words.one_line(result.section.name)
        for number in range(len(result.patches)):
            pairs = page_pairs(result.values, units, *_FIGURES, number=number)
            first = (name, rank[result.section.name]) if number == 0 else ("second plate", "")
            rows.append((*first, *(" ".join(filter(None, pair)) for pair in pairs)))
        bodies.append(tuple(_bodies(result, units)))
    yield Table(columns, (tuple(rows),), "Contact", _K)
    stress, load = units.stress.name, units.line_load.name
    columns = (
        Column("section", key=True), *texts("body"), *numbers(f"peak von\nMises [{stress}]"),
        *texts("where"),
        *numbers(
            f"yield\nstrength [{stress}]", "utilisation\n[1]",
            f"line load at\nfirst yield [{load}]", f"at the shake-\ndown limit [{load}]",
        ),
    )  # fmt: skip
    notes = (words.utilisation(case), words.UNCERTAINTY, words.shakedown(case))
    yield Table(columns, tuple(bodies), "Stresses", " ".join(notes))
    yield from details(comparison, best_first)
    yield from at_scale(comparison, best_first)


_K = (
    "K: peak von Mises stress of the post over line load / outside diameter; it compares sections"
    " of one outside diameter, at this load."
)


def _bodies(result: SectionResult, units: Display) -> Iterator[Row]:
    name = words.one_line(result.section.name)
    for what, body in result.bodies:
        yield (
            name,
            what,
            words.peak(body, units),
            body.peak_von_mises.at.zone,
            units.stress.number(body.material.yield_strength),
            words.ratio_text(body.utilisation.value, body.utilisation.uncertainty),
            words.first_yield(body, units),
            units.line_load.number(body.shakedown_line_load),
        )
        name = ""


def all_checks(found: Calculation) -> Iterator[Block]:
    """Each check by itself: alike ones of all sections together, the worst first."""
    units, of = found.case.display, dict[str, list[Check]]()
    for check in sorted(found.checks, key=lambda c: (c.applies, *severity(c)), reverse=True):
        of.setdefault(check.label, []).append(check)
    columns = (
        Column("check", key=True), Column("of", key=True),
        *numbers("demand", "resistance", "ratio"), *texts("verdict", "source; why no verdict"),
    )  # fmt: skip
    groups = []
    for label, checks in of.items():
        rows: list[Row] = []
        told = ""
        for check in checks:
            result = verdict(check) if check.applies else Line("does not apply", "quiet")
            source = "; ".join(filter(None, (check.source, why(check, units))))
            name = words.one_line(check.section) or "the stop"
            shown = "as above" if source == told else source
            rows.append(("" if rows else label, name, *sides(check, units), result, shown))
            told = source
        groups.append(tuple(rows))
    yield Table(columns, tuple(groups))


def meshes(best_first: Sequence[SectionResult]) -> Iterator[Block]:
    """What each section was solved with, how well forces balance, and what ± is."""
    columns = (
        Column("section", key=True),
        *numbers(
            "unknowns\n[1]", "mesh levels\n[1]", "meshes drawn\nanew [1]",
            "residual over the\nline load [1]", "peak of the\npost, ± [%]", "of the\nplate, ± [%]",
        ),
    )  # fmt: skip
    rows = tuple(
        (
            words.one_line(r.section.name),
            str(r.unknowns),
            str(len(r.levels)),
            str(r.remeshed),
            f"{r.reading.state.force_balance:.0e}",
            *(_percent(body.peak_von_mises) for body in (r.member, r.plate)),
        )
        for r in best_first
    )
    yield Table(columns, (rows,))
    yield from lines(_MEANS)


def _percent(peak: Value) -> str:
    return significant(100.0 * peak.uncertainty / peak.value, 2)


_MEANS = (
    "Quadratic triangles, graded to the contact; the contact is solved by its pressures, without"
    " penetration and without tension. Unknowns are the displacements of the finest mesh. The"
    " residual is the largest of any nodal force that is not balanced, or of their sum.",
    "±: what a figure may be off by because of the mesh, from the difference between two mesh"
    " levels; the levels and how it was held against known answers are described in the pages on"
    " accuracy. It is not that of loads, sizes, steel or of the idealisation. A check passes if its"
    " ratio with ± added is at most 1.",
)
