"""The document: its chapters in their order, and what stands on every sheet."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

import contactfe
from contactfe.assess.by_hand.record import ByHand
from contactfe.assess.calculation import Calculation
from contactfe.assess.results import SectionResult
from contactfe.report import words
from contactfe.report.blocks import Block, Heading, Line, NewSheet, Page, Worked, lines
from contactfe.report.by_hand import clause_tables, input_lines
from contactfe.report.calculation.appendix import steps
from contactfe.report.calculation.by_hand import check_sheet, formulas, impact_formulas, sources
from contactfe.report.calculation.inputs import idealisation, stated
from contactfe.report.calculation.solved import (
    all_checks,
    compared,
    meshes,
)
from contactfe.report.calculation.summary import summary
from contactfe.report.envelope_page import envelope_page
from contactfe.report.figures.draw import figures
from contactfe.report.impact_page import impact_page
from contactfe.report.json_file import case_path
from contactfe.report.root import root_table
from contactfe.report.scale import scale_page
from contactfe.report.sheets import Sheets
from contactfe.report.sizing_page import sizing_page
from contactfe.report.stiffness_page import stiffness_page

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
    impact, others = _of_impact(found), _others(found)
    yield from summary(found, digest)
    yield Heading("Idealisation", 2)
    yield from idealisation(found)
    yield Heading("Inputs", 2)
    yield from stated(found)
    yield from input_lines(case)
    for part in impact:
        yield from part.blocks()
    yield Heading("Comparison of the sections", 2)
    yield from compared(comparison, best_first)
    yield from figures(comparison)
    for part in others:
        yield from part.blocks()
    yield from _checked(found, best_first)
    yield Heading("Sources", 2)
    yield from sources(found, best_first)
    yield Heading("Cautions", 2)
    also = [text for part in (*impact, *others) for text in part.cautions]
    yield from lines(dict.fromkeys((*words.cautions(case), *also)))
    yield NewSheet(small=True)
    yield Heading("Appendix: every formula worked out", 2)
    yield from steps(ByHand(case, tuple(result.by_hand for result in comparison.sections)))


def _checked(found: Calculation, best_first: Sequence[SectionResult]) -> Iterator[Block]:
    """Everything that is checked, by what, and what can be checked anew."""
    case, hand = found.case, [result.by_hand for result in best_first]
    yield Heading("All checks", 2)
    yield from all_checks(found)
    yield from root_table(hand, case)
    if any(section.clauses for section in hand):
        yield Heading("Clauses of standards", 2)
        yield from clause_tables(hand, case.display)
    yield Heading("Mesh, residuals and uncertainty", 2)
    yield from meshes(best_first)
    yield Heading("Formulas that govern or have a computed figure beside them", 2)
    yield from formulas(found, best_first)
    yield NewSheet()
    yield Heading("Independent check", 2)
    yield from check_sheet(found, best_first[0])


@dataclass(frozen=True)
class _Part:
    """The page of another command as a chapter of this one, and what stands after it."""

    title: str
    page: Page
    after: tuple[Block, ...] = ()

    def blocks(self) -> Iterator[Block]:
        """Its blocks under a heading of their own, without its cautions."""
        yield Heading(self.title, 2)
        for block in self.page[1:]:
            match block:
                case Heading(text):
                    yield Heading(text, 3)
                case Line(text) if text.startswith(_CAUTION):
                    pass
                case _:
                    yield block
        yield from self.after

    @property
    def cautions(self) -> tuple[str, ...]:
        """What it ends with; it goes to the cautions of the whole."""
        found = (block.text for block in self.page if isinstance(block, Line))
        return tuple(t.removeprefix(_CAUTION) for t in found if t.startswith(_CAUTION))


def _of_impact(found: Calculation) -> tuple[_Part, ...]:
    if (impact := found.impact) is None:
        return ()
    best = found.comparison.least_concentration
    of = [i for i in impact.blows if i.section is None or i.section.name == best]
    drawn = figures(replace(impact, blows=tuple(of)))
    written = tuple(impact_formulas(impact))
    # Its page has them on lines.
    heads = tuple(f"{block.head}: " for block in written if isinstance(block, Worked))
    page = (
        b for b in impact_page(impact) if not (isinstance(b, Line) and b.text.startswith(heads))
    )
    return (_Part("Demand: the first impact", tuple(page), (*written, *drawn)),)


def _others(found: Calculation) -> tuple[_Part, ...]:
    """What else the case asks for."""
    parts = []
    if (around := found.envelope) is not None:
        parts.append(_Part("Envelope of contacts", envelope_page(around), tuple(figures(around))))
    if (sized := found.sizing) is not None:
        parts.append(_Part("Sizing of the wall", sizing_page(sized), tuple(figures(sized))))
    if (curves := found.stiffness) is not None:
        parts.append(
            _Part("Stiffness of the contact", stiffness_page(curves), tuple(figures(curves)))
        )
    if (small := found.specimen) is not None:
        parts.append(_Part("Test specimen", scale_page(small)))
    return tuple(parts)
