"""What was worked out by hand: formulas set as such, five to be checked, and where all are from."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from contactfe.assess.by_hand.record import Step
from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import governing
from contactfe.assess.impact import ImpactResult
from contactfe.assess.results import HandCheck, SectionResult
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Display
from contactfe.hand.formula import Worked
from contactfe.report import blocks, words
from contactfe.report.blocks import Block, Column, Line, Table, numbers, texts
from contactfe.report.mathematics import by_numbers, by_symbols, symbol
from contactfe.report.remarks import remark
from contactfe.report.steps import against, five_digits, limits_text, put_in
from contactfe.report.table import hand_row, hand_table

FIVE = 5

RANGE = "range: "

_CHECKED = (
    "hertz_half_width", "hertz_peak_pressure", "hertz_peak_von_mises_plate",
    "curved_beam_bore_under_load", "disc_centre_along", "strip_back_stress", "layer_back_stress",
    "hertz_peak_von_mises", "sliding_peak_von_mises", "hertz_first_yield_line_load_plate",
    "sliding_peak_von_mises_plate", "hertz_first_yield_line_load", "approach",
)  # fmt: skip
"""Formulas that a pocket calculator is enough for, by the keys of their steps, the first first."""


def check_sheet(found: Calculation, best: SectionResult) -> Iterator[Block]:
    """The five figures that a checker can redo, beside the computed ones, with room for theirs."""
    case, name = found.case, words.one_line(best.section.name)
    yield Line(
        f"Five figures of “{name}” that can be worked out anew with a pocket calculator from what"
        " stands here alone. Where the formula is of a simpler body than the one that was solved,"
        " the two differ for the reason named."
    )
    modulus = best.by_hand.step("contact_modulus")
    if modulus is not None:
        yield _briefly(worked(modulus.label, modulus.worked, case.display))
    five = _five(best)
    for number, check in enumerate(five, 1):
        yield _briefly(_beside(case, best, check, f"{number}. "))
    columns = (
        Column("figure", key=True), *texts("unit"),
        *numbers("by hand", "computed", "difference"), *texts("checker’s figure", "initials"),
    )  # fmt: skip
    rows = tuple((*hand_row(case, check), "_" * 14, "_" * 8) for check in five)
    yield Table(columns, (rows,), "Checked")


def _briefly(block: blocks.Worked) -> blocks.Worked:
    """Without the range where the numbers are within it."""
    notes = (n for n in block.notes if n.tone == "bad" or not n.text.startswith(RANGE))
    return replace(block, notes=tuple(notes))


def _five(best: SectionResult) -> list[HandCheck]:
    known = {check.key: check for check in best.hand_checks if check.step.worked.form is not None}
    first = [known[key] for key in _CHECKED if key in known]
    others = [check for check in known.values() if check not in first]
    return [*first, *others][:FIVE]


def formulas(found: Calculation, best_first: Sequence[SectionResult]) -> Iterator[Block]:
    """Those beside computed figures of the best section, and those that govern a section."""
    yield hand_table(found.case, best_first[0])
    yield Line(
        "Difference: hand over computed, less one. The appendix has every formula worked out."
    )
    yield unseen(found, best_first)
    yield from _governing(found.case, best_first)


def _governing(case: Case, results: Sequence[SectionResult]) -> Iterator[Block]:
    """The formulas of checks that govern a section, or that one does not pass, each once."""
    steps: dict[str, tuple[Step, str]] = {}
    for result in results:
        worst = governing(result.checks)
        for check in result.checks:
            step = result.by_hand.step(check.key)
            counts = check.applies and (check == worst or not check.passes)
            if step is not None and counts:
                steps.setdefault(check.key, (step, result.section.name))
    for step, name in steps.values():
        of = f"{step.label}, “{words.one_line(name)}”"
        yield worked(of, step.worked, case.display, against(step, case))


def _beside(case: Case, result: SectionResult, check: HandCheck, number: str = "") -> blocks.Worked:
    unit = case.display.unit(check.dimension)
    computed = words.pair(Value(check.computed, check.computed_uncertainty), unit)
    said = f"computed: {computed} {unit.name}, hand over computed {100 * check.difference:+.1f} %"
    because = remark(case, result, check)
    head = f"{number}{check.label}"
    return worked(head, check.step.worked, case.display, f"{said}; {because}" if because else said)


def worked(head: str, of: Worked, units: Display, said: str = "") -> blocks.Worked:
    """A formula as a block: symbols, numbers, result; below it what is said, range and source."""
    whole, numbers = in_symbols(head, of), in_numbers("", of, units, said)
    sides = [*whole.sides, *(side for side in numbers.sides if side not in whole.sides)]
    text = f"{RANGE}{limits_text(of.limits, units)}"
    limits = [Line(text, "quiet" if of.within_range else "bad")] if of.limits else []
    *notes, source = whole.notes
    return blocks.Worked(head, tuple(sides), (*numbers.notes, *notes, *limits, source))


def in_symbols(head: str, of: Worked) -> blocks.Worked:
    """A formula without numbers, with its note and source."""
    form = by_symbols(of)
    name = symbol(of.symbol)
    sides = (name,) if form is None or form == name else (name, form)
    notes = [Line(of.note, "quiet")] if of.note else []
    return blocks.Worked(head, sides, (*notes, Line(f"source: {of.source}", "quiet")))


def in_numbers(head: str, of: Worked, units: Display, said: str = "") -> blocks.Worked:
    """The numbers of a formula and its result, with what is said of it."""
    figure = partial(five_digits, units)
    put, result = by_numbers(of, figure), figure(of.value, of.dimension).replace("-", "−")
    notes = [Line(said)] if said else []
    if of.form is None and of.given:
        notes.append(Line(f"found from {', '.join(put_in(of, units))}", "quiet"))
    sides = (result,) if put is None or put == result else (put, result)
    return blocks.Worked(head, sides, tuple(notes))


def impact_formulas(impact: ImpactResult) -> Iterator[Block]:
    """Every formula of an impact, and those beside what was integrated, each once."""
    beside = [of.worked for one in impact.blows for of in one.beside]
    for of in {
        str(of): of for of in (*impact.closure, *impact.damper_force_at_closure, *beside)
    }.values():
        yield worked(of.name, of, impact.case.display)


def sources(found: Calculation, results: Sequence[SectionResult]) -> Iterator[Block]:
    """Where formulas, clauses and steels are from: those seen, those from memory, and the rest."""
    for kind, some in _by_kind(found, results).items():
        if some:
            yield Table((Column("source", key=True), *texts("of")), (tuple(some),), kind)


def unseen(found: Calculation, results: Sequence[SectionResult]) -> Line:
    """How many of the sources are to be looked up."""
    kinds = _by_kind(found, results)
    return Line(
        f"Sources: {len(kinds[_KINDS[1]])} of {sum(map(len, kinds.values()))} are from memory, as"
        " their text was not at hand, and are to be looked up; the last appendix lists them."
    )


def _by_kind(
    found: Calculation, results: Sequence[SectionResult]
) -> dict[str, list[tuple[str, str]]]:
    """Each source once, with what is from it."""
    of: dict[str, dict[str, None]] = {}
    for source, what in _sources(found, results):
        of.setdefault(source, {})[what] = None
    kinds: dict[str, list[tuple[str, str]]] = {kind: [] for kind in _KINDS}
    for source, labels in of.items():
        seen = "seen" in source and "not seen" not in source
        kind = _KINDS[0 if seen else 1 if "from memory" in source else 2]
        kinds[kind].append((source, "; ".join(labels)))
    return kinds


_KINDS = (
    "Seen",
    "From memory: the text was not at hand and is to be looked up",
    "Stated in the case, derived here, definitions and common practice",
)
"""Headings of the lists of sources."""


def _sources(found: Calculation, results: Sequence[SectionResult]) -> Iterable[tuple[str, str]]:
    case = found.case
    for result in results:
        for step in result.by_hand.steps:
            yield step.worked.source, step.worked.name
        for clauses in result.by_hand.clauses:
            check = clauses.check
            for part in (*check.steps, check.demand, check.resistance):
                if part.formula != "clause.unity":
                    yield part.source, check.clause.name
        yield case.post_material(result.section).source, "steel of the post"
        if result.limits is not None:
            yield result.limits.source, "limits of the wall"
    yield case.plate_material.source, "steel of the plate"
    if found.impact is not None:
        for of in (*found.impact.closure, *found.impact.damper_force_at_closure):
            yield of.source, of.name
        for one in found.impact.blows:
            for beside in one.beside:
                yield beside.worked.source, beside.worked.name
