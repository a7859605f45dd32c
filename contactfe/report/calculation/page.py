"""The document: its chapters in their order, and what stands on every sheet."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from string import ascii_uppercase
from typing import TypeGuard

import contactfe
from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import Check, OpenItem
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.results import Comparison, SectionResult
from contactfe.report import words
from contactfe.report.at_scale import at_scale
from contactfe.report.blocks import GAP, Block, Figure, Heading, Line, NewSheet, Page, Table, lines
from contactfe.report.by_hand import applicability, input_lines
from contactfe.report.calculation.appendix import steps
from contactfe.report.calculation.by_hand import check_sheet, formulas, sources
from contactfe.report.calculation.inputs import idealisation, stated
from contactfe.report.calculation.solved import all_checks, meshes
from contactfe.report.calculation.summary import summary
from contactfe.report.details import details
from contactfe.report.drawing_note import drawing_note
from contactfe.report.envelope_page import envelope_answer, envelope_page
from contactfe.report.figures.draw import FIGURES, figures
from contactfe.report.impact_given import damper_table, given
from contactfe.report.impact_levels import check_table
from contactfe.report.impact_page import formula_lines, impact_answer, impact_page
from contactfe.report.json_file import case_path
from contactfe.report.overload_page import answer, overload_answer, overload_page
from contactfe.report.overload_section import section_blocks
from contactfe.report.root import root_table
from contactfe.report.scale import scale_answer, scale_page
from contactfe.report.sheets import Sheets
from contactfe.report.sizing_page import sizing_answer, sizing_page
from contactfe.report.stiffness_page import stiffness_answer, stiffness_page
from contactfe.report.stiffness_springs import without_sharing
from contactfe.report.table import sections_table
from contactfe.report.verdicts import open_lines, verdict_lines

_CAUTION = "Caution: "


def calculation(found: Calculation, content: bytes, today: date) -> Sheets:
    """The document of a case whose file has that content; ``today`` dates the file alone."""
    case, document = found.case, found.case.document
    named = (
        document.project,
        document.calculation and f"calculation {document.calculation}",
        document.revision and f"revision {document.revision}",
    )
    digest = hashlib.sha256(content).hexdigest()
    title = words.one_line(case.title)
    return Sheets(
        tuple(_chapters(found, digest)),
        title,
        (_short(title), " · ".join(filter(None, named))),
        (f"contactfe {contactfe.__version__}", f"case file sha256 {digest[:16]}"),
        mark_of(case_path(case) or title),
        document.date or today,
        document.paper,
    )


def mark_of(case: str) -> str:
    """What a document of a case, by its path, is known by; the path itself stays at home."""
    return f"contactfe-report-{hashlib.sha256(case.encode()).hexdigest()[:24]}"


_SHORT = 160
"""Characters of a title that stand on every sheet; the first has all."""


def _short(title: str) -> str:
    return title if len(title) <= _SHORT else f"{title[:_SHORT].rstrip()}…"


def _chapters(found: Calculation, digest: str) -> Iterator[Block]:
    case, comparison = found.case, found.comparison
    best_first = [comparison.section(name) for name in comparison.by_concentration]
    hand = [result.by_hand for result in best_first]
    impact, others = tuple(_of_impact(found)), tuple(_others(found))
    chapters = (*impact, _of_comparison(comparison, best_first), *others)
    yield from summary(found, digest)
    yield Heading("Idealisation and inputs", 2)
    yield from idealisation(found)
    yield from input_lines(case)
    for chapter in chapters:
        yield from chapter.body()
    yield Heading("All checks", 2)
    yield from all_checks(found)
    yield Heading("Mesh, residuals and uncertainty", 2)
    yield from meshes(best_first)
    yield Heading("Formulas beside computed figures, and those that govern", 2)
    yield from formulas(found, best_first)
    yield NewSheet()
    yield Heading("Independent check", 2)
    yield from check_sheet(found, best_first[0])
    yield Heading("Cautions", 2)
    even = {t for of in (case, without_sharing(case)) for t in words.cautions(of, evenly=True)}
    also = [text for chapter in chapters for text in chapter.cautions if text not in even]
    yield from lines(dict.fromkeys((*words.cautions(case), *also)))
    letters = iter(ascii_uppercase)
    yield NewSheet(small=True)
    yield _appendix(letters, "the case file")
    yield from stated(found)
    for chapter in chapters:
        if rest := tuple(chapter.rest()):
            yield _appendix(letters, chapter.title)
            yield from rest
    yield _appendix(letters, "note for the drawing")
    told = [*open_lines(case, comparison.open_items)]
    note = drawing_note(comparison)[1:]
    yield from (block for block in note if not _is_caution(block) and block not in told)
    yield NewSheet(small=True, columns=2)
    yield _appendix(letters, "every formula worked out")
    yield from steps(found)
    if any(section.clauses for section in hand):
        yield _appendix(letters, "the clauses of standards")
        yield from applicability(hand)
    yield _appendix(letters, "sources")
    yield from sources(found, best_first)


def _appendix(letters: Iterator[str], title: str) -> Heading:
    return Heading(f"Appendix {next(letters)}: {title[0].lower()}{title[1:]}", 2)


@dataclass(frozen=True)
class _Chapter:
    """What one command finds: its answer with its figures, and in the appendix what its page has
    beside that and beside what was ``told``.
    """

    title: str
    answer: Page
    page: Page
    figures: Iterable[Figure] = ()
    told: Page = ()

    def body(self) -> Iterator[Block]:
        """The answer under a heading of its own."""
        yield Heading(self.title, 2)
        for block in self.answer:
            if isinstance(block, Heading):
                if block.text != "Answer":
                    yield replace(block, level=3)
            else:
                yield next((whole for whole in self.page if _same(whole, block)), block)
        yield from self.figures

    def rest(self) -> Iterator[Block]:
        """The rest of the page, with those of its headings that still have something below."""
        told, above = [*self.answer, *self.told], list[Heading]()
        for block in self.page[1:]:
            if said := [one for one in told if _same(block, one)]:
                told.remove(said[0])  # what another section says in the same words stays
            elif _is_caution(block):
                pass
            elif isinstance(block, Heading):
                above = [*(one for one in above if one.level < block.level), block]
            elif block == GAP or isinstance(block, NewSheet):
                yield block
            else:
                yield from (replace(one, level=3) for one in above)
                yield block
                above = []

    @property
    def cautions(self) -> Iterator[str]:
        """What the page ends with; it goes to the cautions of the whole."""
        return (b.text.removeprefix(_CAUTION) for b in self.page if _is_caution(b))


def _same(one: Block, other: Block) -> bool:
    """Whether two blocks say the same; a table does without its note too."""
    if not (isinstance(one, Table) and isinstance(other, Table)):
        return one == other and one != GAP
    heads = ([column.head for column in table.columns] for table in (one, other))
    return len({*map(tuple, heads)}) == 1 and one.groups == other.groups


def _is_caution(block: Block) -> TypeGuard[Line]:
    return isinstance(block, Line) and block.text.startswith(_CAUTION)


def _short_of(page: Page) -> Page:
    """An answer without its title, what was solved, and the caution that it ends with."""
    return page[2:-2]


def _of_impact(found: Calculation) -> Iterator[_Chapter]:
    if (impact := found.impact) is None:
        return
    best = found.comparison.least_concentration
    of = [i for i in impact.blows if i.section is None or i.section.name == best]
    yield _Chapter(
        "Demand: the first impact",
        (*_short_of(impact_answer(impact)), GAP, *lines(given(impact)), *damper_table(impact)),
        impact_page(impact),
        figures(replace(impact, blows=tuple(of))),
        (*(t for one in impact.blows for t in check_table(impact, one)), *formula_lines(impact)),
    )


def _of_comparison(comparison: Comparison, best_first: Sequence[SectionResult]) -> _Chapter:
    case, drawn = comparison.case, tuple(figures(comparison))
    page = (
        Heading(case.title, 1),
        *details(comparison, best_first),
        *at_scale(comparison, best_first),
        *root_table([result.by_hand for result in best_first], case),
        *drawn[len(FIGURES) :],
    )
    answer = (sections_table(comparison, "approach"),)
    return _Chapter("Comparison of the sections", answer, page, drawn[: len(FIGURES)])


def _others(found: Calculation) -> Iterator[_Chapter]:
    """What else the case asks for."""
    if (around := found.envelope) is not None:
        names = [section.section.name for section in around.sections]
        yield _Chapter(
            "Envelope of contacts", _short_of(envelope_answer(around)), envelope_page(around),
            figures(around), _verdict(found, names, around.checks, around.open_items),
        )  # fmt: skip
    if (sized := found.sizing) is not None:
        yield _Chapter(
            "Sizing of the wall", _short_of(sizing_answer(sized)), sizing_page(sized),
            figures(sized), _verdict(found, (), sized.of_stop, sized.open_items),
        )  # fmt: skip
    if found.overload is not None:
        yield _of_overload(found, found.overload)
    if (curves := found.stiffness) is not None:
        answer = _short_of(stiffness_answer(curves))
        yield _Chapter("Stiffness of the contact", answer, stiffness_page(curves), figures(curves))
    if (small := found.specimen) is not None:
        yield _Chapter("Test specimen", _short_of(scale_answer(small)), scale_page(small))


def _of_overload(found: Calculation, of: OverloadResult) -> _Chapter:
    """Strikes beyond first yield: in the appendix a sheet for each section.

    As its figures are of another steel than all others, so is what its page says that they are of.
    """
    title = "Beyond first yield"
    blocks = [tuple(section_blocks(of, section)) for section in of.sections]
    model = words.cautions(of.case, yields=True)[0]
    of_it = Line(f"{_CAUTION}{title}: {model[0].lower()}{model[1:]}")
    page = (
        of_it if b == Line(_CAUTION + model) else b
        for b in overload_page(of)
        if not any(b in own for own in blocks)
    )
    sheets = (block for own in blocks for block in (NewSheet(small=True), *own))
    names = [section.section for section in of.sections]
    told = (*lines(answer(of)), *_verdict(found, names, of.checks, of.open_items))
    return _Chapter(title, _short_of(overload_answer(of)), (*page, *sheets), figures(of), told)


def _verdict(
    found: Calculation, names: Iterable[str], checks: Sequence[Check], items: Sequence[OpenItem]
) -> Page:
    """What the summary and the list of checks have in another form.

    An open item of another reason, or of other sections, than the summary has is not said there.
    """
    case, same = found.case, [item for item in items if item in found.open_items]
    return (Line(words.how_held(case)), *verdict_lines(case, names, checks, same))
