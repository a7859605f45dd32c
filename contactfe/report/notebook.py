"""The comparison as a small HTML page for notebooks: one table, the answer, the cautions."""

from collections.abc import Iterator
from html import escape

from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.report import words

_CELL = "padding:0.25em 0.7em;text-align:{};vertical-align:top"
_RULE = "border-top:1px solid #9aa3ab"

_COLUMNS = (
    ("section", "left"),
    ("Ø × wall", "left"),
    ("mass<br>[kg/m]", "right"),
    ("half-width<br>[mm]", "right"),
    ("peak pressure<br>[MPa]", "right"),
    ("K<br>[1]", "right"),
    ("body", "left"),
    ("peak von Mises<br>[MPa]", "right"),
    ("where", "left"),
    ("utilisation<br>[1]", "right"),
    ("verdict", "left"),
    ("line load at<br>first yield [N/mm]", "right"),
)


def html(comparison: Comparison) -> str:
    """A fragment of HTML for light and dark pages alike; sections in rank order of K."""
    heads = "".join(
        f'<th style="{_CELL.format(align)};font-weight:600">{head}</th>' for head, align in _COLUMNS
    )
    rows = "".join(
        row
        for name in comparison.by_concentration
        for row in _rows(comparison, comparison.section(name))
    )
    cautions = "<br>".join(escape(line) for line in words.CAUTIONS)
    return (
        f"<div><p><b>{escape(comparison.case.title)}</b><br>"
        f"{escape(words.how_held(comparison.case))}</p>"
        f'<table style="border-collapse:collapse"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>"
        f"<p>{escape(comparison.reason)}</p>"
        f'<p style="font-size:85%">K: peak von Mises stress of the post over line load / outside'
        f" diameter. Utilisation: peak over {escape(words.limit(comparison.case))}.<br>{cautions}"
        f"</p></div>"
    )


def _rows(comparison: Comparison, result: SectionResult) -> Iterator[str]:
    section = result.section
    contact = (
        section.name,
        words.size(section),
        words.significant(result.mass_per_length),
        words.pair(result.half_width),
        words.pair(result.peak_pressure),
        words.pair(result.stress_concentration),
    )
    yield _row([*contact, *_body(comparison, "post", result.member)], _RULE)
    yield _row([""] * len(contact) + _body(comparison, "plate", result.plate), "")


def _body(comparison: Comparison, name: str, body: BodyResult) -> list[str]:
    return [
        name,
        words.peak(body),
        body.peak.zone,
        words.significant(body.utilisation, 3),
        words.verdict(body, comparison.case),
        words.first_yield(body),
    ]


def _row(cells: list[str], style: str) -> str:
    tds = "".join(
        f'<td style="{_CELL.format(align)}">{escape(cell)}</td>'
        for cell, (_, align) in zip(cells, _COLUMNS, strict=True)
    )
    return f'<tr style="{style}">{tds}</tr>'
