"""Calculations of made-up cases for tests of the report, from sections that are solved once."""

import io
from dataclasses import replace
from datetime import date

from pypdf import PdfReader

from contactfe.assess.calculation import Calculation
from contactfe.assess.results import Comparison
from contactfe.report.calculation import calculation
from contactfe.report.pdf import as_pdf
from contactfe.report.sheets import Sheets

DATA = {
    "title": "Invented stop $1$ [a]",
    "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "420 MPa"},
    "plate": {
        "width": "300 mm",
        "thickness": "50 mm",
        "held_by": "rigid base",
        "young": "210 GPa",
        "poisson": 0.3,
        "yield": "690 MPa",
    },
    "load": {"line_load": "1.2 kN/mm"},
    "section": [
        {"name": "solid 120", "outside_diameter": "120 mm"},
        {"name": "tube/120 [x] 20", "outside_diameter": "120 mm", "wall": "20 mm"},
    ],
}
"""An invented stop, with characters in its names that markup languages would take for their own."""

TODAY = date(2026, 5, 4)
FILE = b"the case file as it lies on the disk"


def found(comparison: Comparison, **parts: object) -> Calculation:
    return Calculation(DATA, comparison, **parts)


def sheets(of: Calculation) -> Sheets:
    return calculation(of, FILE, TODAY)


def stated(comparison: Comparison, **changes: object) -> Comparison:
    """The same comparison of a case that states other things; they change no figure."""
    case = replace(comparison.case, **changes)
    items = tuple(replace(item, case=case) for item in comparison.open_items)
    return replace(comparison, case=case, open_items=items)


def of_sections(comparison: Comparison, count: int) -> Comparison:
    """The comparison with so many sections: those that it has, again and again by other names."""
    every, checks = [], []
    for number in range(count):
        one = comparison.sections[number % len(comparison.sections)]
        name = one.section.name if count <= len(comparison.sections) else f"section {number + 1}"
        section = replace(one.section, name=name)
        own = tuple(replace(check, section=name) for check in one.checks)
        by_hand = replace(one.by_hand, section=section)
        every.append(replace(one, section=section, checks=own, by_hand=by_hand))
        checks += own
    names = tuple(result.section.name for result in every)
    case = replace(comparison.case, sections=tuple(result.section for result in every))
    items = tuple(replace(i, case=case, sections=(), bounds=()) for i in comparison.open_items)
    return replace(
        comparison, case=case, sections=tuple(every), by_concentration=names,
        by_utilisation=names, by_mass=names, checks=tuple(checks), open_items=items,
    )  # fmt: skip


def read(made: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(made))


def joined(text: str) -> str:
    """A text without blanks and marks of where a word may break, which a PDF sets as it likes."""
    return "".join(text.replace("\u200b", "").split())


def pages(of: Sheets) -> list[str]:
    """The text of each sheet."""
    return [joined(page.extract_text()) for page in read(as_pdf(of)).pages]
