"""A page as PDF, set by Typst: every text of it goes in as data, so that none can run."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import typst
from matplotlib import get_data_path
from matplotlib.ft2font import FT2Font

from contactfe.case.wording import visible
from contactfe.report.blocks import Figure
from contactfe.report.figures.drawn import drawn
from contactfe.report.sheets import Json, Sheets, breakable, data

_FONTS = Path(get_data_path(), "fonts", "ttf")
"""DejaVu, which the figures are drawn with and which has most of the letters that others lack."""

_TEMPLATE = Path(__file__).with_name("document.typ")


def as_pdf(sheets: Sheets) -> bytes:
    """The page as a file of PDF/A-2b, with its fonts in it; the same page gives the same bytes."""
    has = _letters()

    def show(text: str) -> str:
        return breakable(visible(text, has))

    content = {
        "title": show(sheets.title),
        "head": [show(line) for line in sheets.head],
        "foot": [show(part) for part in sheets.foot],
        "paper": {"A4": "a4", "US Letter": "us-letter"}[sheets.paper],
        "mark": sheets.mark,
        "blocks": data(sheets.page, show, lambda figure: _figure(figure, show)),
    }
    made: bytes = typst.compile(
        _TEMPLATE,
        font_paths=[_FONTS],
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(content)},
        pdf_standards="a-2b",
        timestamp=datetime(sheets.day.year, sheets.day.month, sheets.day.day, tzinfo=UTC),
    )
    return made


def _figure(figure: Figure, show: Callable[[str], str]) -> Json:
    found = drawn(figure, text=True)
    return {
        "kind": "figure",
        "svg": visible(found.svg, _letters()),
        "width": found.width,
        "alt": show(figure.alt),
        "caption": show(found.caption),
    }


@cache
def _letters() -> Callable[[str], bool]:
    """Whether the font that stands in for others has a letter for a character."""
    known = FT2Font(str(_FONTS / "DejaVuSans.ttf")).get_charmap()
    return lambda character: ord(character) in known
