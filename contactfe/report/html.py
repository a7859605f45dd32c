"""A page as HTML: a fragment for notebooks, or one file that needs no other."""

from collections.abc import Iterable
from functools import cache

from jinja2 import Environment, PackageLoader
from markupsafe import Markup

from contactfe.case.wording import visible
from contactfe.report.blocks import Block, Figure
from contactfe.report.sheets import Json, Sheets, data

_BELOW = 2
"""Levels of a notebook's own headings, below which those of a page begin."""


def as_html(page: Iterable[Block]) -> str:
    """The page as a fragment; every text of it is escaped."""
    blocks = data(page, visible, _figure)
    return _templates().get_template("page.html").render(blocks=blocks, above=_BELOW)


def as_document(sheets: Sheets) -> str:
    """The page as a file of its own, without a script, that asks for no other."""
    return (
        _templates()
        .get_template("document.html")
        .render(
            blocks=data(sheets.page, visible, _figure),
            above=0,
            title=visible(sheets.title),
            head=list(map(visible, sheets.head)),
            foot=list(map(visible, sheets.foot)),
            mark=sheets.mark,
            paper={"A4": "A4", "US Letter": "letter"}[sheets.paper],
        )
    )


def _figure(figure: Figure) -> Json:
    from contactfe.report.figures.drawn import drawn  # which loads matplotlib

    found = drawn(figure, text=False)
    # What matplotlib writes is escaped by it; what stands before the figure itself is of a file.
    svg = Markup(visible(found.svg[found.svg.index("<svg") :]))
    caption = visible(found.caption)
    return {"kind": "figure", "svg": svg, "alt": visible(figure.alt), "caption": caption}


@cache
def _templates() -> Environment:
    return Environment(loader=PackageLoader("contactfe", "report"), autoescape=True)
