"""A page as a fragment of HTML, for notebooks."""

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import groupby
from typing import Any

from jinja2 import Environment, PackageLoader, Template

from contactfe.report.blocks import GAP, Block, Heading, Line


def as_html(page: Iterable[Block]) -> str:
    """The page; every text of it is escaped."""
    return _template().render(parts=_parts(page))


def _parts(page: Iterable[Block]) -> Iterator[tuple[str, Any]]:
    """Headings, tables, and the lines between them by paragraphs."""

    def paragraph(block: Block) -> str:
        return "gap" if block == GAP else "lines" if isinstance(block, Line) else "alone"

    for kind, blocks in groupby(page, paragraph):
        if kind == "lines":
            yield kind, list(blocks)
        elif kind == "alone":
            for block in blocks:
                yield ("heading" if isinstance(block, Heading) else "table"), block


@cache
def _template() -> Template:
    loader = PackageLoader("contactfe", "report")
    return Environment(loader=loader, autoescape=True).get_template("page.html")
