"""What was solved: every check by sections, and the meshes with what uncertainty is."""

from collections.abc import Iterator, Sequence

from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import Check, severity
from contactfe.assess.results import SectionResult
from contactfe.assess.value import Value
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.blocks import Block, Column, Line, Row, Table, lines, numbers
from contactfe.report.by_hand import ABREAST, NONE, Marks
from contactfe.report.verdicts import HEADING, check_cells, does_not_apply, ratio_text


def all_checks(found: Calculation) -> Iterator[Block]:
    """Every check, the worst first: those of the stop, then those of a few sections at a time."""
    checks = sorted(found.checks, key=lambda c: (c.applies, *severity(c)), reverse=True)
    names = found.comparison.by_concentration
    some = [("",), *(names[first : first + ABREAST] for first in range(0, len(names), ABREAST))]
    for columns in some:
        of = [check for check in checks if check.section in columns]
        if of:
            yield from _checks(of, columns, found.case.display)
    yield Line(
        "A ratio is demand over resistance, with what it may be off by because of the mesh; one"
        " without a word beside it passes, and one with n/a does not apply."
    )
    yield from does_not_apply(checks)


def _checks(checks: Sequence[Check], names: Sequence[str], units: Display) -> Iterator[Block]:
    """A table of checks by sections, and why some have no verdict."""
    marks, groups = Marks(), list[tuple[Row, ...]]()
    for label in dict.fromkeys(check.label for check in checks):
        alike = [check for check in checks if check.label == label]
        of = [[check for check in alike if check.section == name] for name in names]
        named = f"{label.partition(':')[0]}, "  # of a clause, whose label has it too
        sources = dict.fromkeys(check.source.removeprefix(named) for check in alike)
        groups.append(
            (
                (label, *(_ratios(some, marks) for some in of)),
                (Line("; ".join(sources), "quiet"), *(_sides(some, units) for some in of)),
            )
        )
    heads = numbers(*(words.one_line(name) or "the stop" for name in names))
    yield Table((Column("check, and its source", key=True), *heads), tuple(groups))
    yield from marks.notes("outside the range of its formula or clause", units)
    missing = dict.fromkeys((c.label, c.missing) for c in checks if c.missing)
    yield from lines((f"No verdict, {label}: {why}." for label, why in missing), "bad")


def _ratios(checks: Sequence[Check], marks: Marks) -> Line:
    """The ratio of a check, of each where several contacts have it, with its verdict."""
    texts = []
    for check in checks:
        said = HEADING[check.verdict] if check.applies else "n/a"
        text = ratio_text(check) + ("" if check.applies and check.passes else f" {said}")
        texts.append(text + marks.mark(check.exceeded, check.section))
    amiss = any(check.applies and not check.passes for check in checks)
    quiet = not any(check.applies for check in checks)
    return Line("\n".join(texts) or NONE, "bad" if amiss else "quiet" if quiet else "plain")


def _sides(checks: Sequence[Check], units: Display) -> Line:
    """Demand and resistance of each, with the unit of both."""
    texts = []
    for check in checks:
        demand, resistance, *_ = map(str, check_cells(check, units))
        unit = resistance.partition(" ")[2]
        texts.append(f"{demand.removesuffix(f' {unit}')} / {resistance}")
    return Line("\n".join(texts), "quiet")


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
