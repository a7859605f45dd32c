"""The comparison as a small HTML page for notebooks: one table, the answer, the cautions."""

from collections.abc import Iterator
from html import escape

from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.case.display import Display, significant
from contactfe.report import words

_CELL = "padding:0.25em 0.7em;text-align:{};vertical-align:top"
_RULE = "border-top:1px solid #9aa3ab"

_ALIGN = (
    *("left", "left", "right", "right", "right", "right"),
    *("left", "right", "left", "right", "left", "right"),
)
"""One for each of the ``_heads``."""


def html(comparison: Comparison) -> str:
    """A fragment of HTML for light and dark pages alike; sections in rank order of K."""
    heads = "".join(
        f'<th style="{_CELL.format(align)};font-weight:600">{head}</th>'
        for head, align in zip(_heads(comparison.case.display), _ALIGN, strict=True)
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


def _heads(units: Display) -> tuple[str, ...]:
    return (
        "section",
        "Ø × wall",
        f"mass<br>[{units.mass_per_length.name}]",
        f"half-width<br>[{units.length.name}]",
        f"peak pressure<br>[{units.stress.name}]",
        "K<br>[1]",
        "body",
        f"peak von Mises<br>[{units.stress.name}]",
        "where",
        "utilisation<br>[1]",
        "verdict",
        f"line load at<br>first yield [{units.line_load.name}]",
    )


def _rows(comparison: Comparison, result: SectionResult) -> Iterator[str]:
    section, units = result.section, comparison.case.display
    contact = (
        section.name,
        words.size(section, units),
        units.mass_per_length.number(result.mass_per_length),
        words.pair(result.half_width, units.length),
        words.pair(result.peak_pressure, units.stress),
        words.pair(result.stress_concentration),
    )
    yield _row([*contact, *_body(comparison, "post", result.member)], _RULE)
    yield _row([""] * len(contact) + _body(comparison, "plate", result.plate), "")


def _body(comparison: Comparison, name: str, body: BodyResult) -> list[str]:
    case = comparison.case
    return [
        name,
        words.peak(body, case.display),
        body.peak.zone,
        significant(body.utilisation, 3),
        words.verdict(body, case),
        words.first_yield(body, case.display),
    ]


def _row(cells: list[str], style: str) -> str:
    tds = "".join(
        f'<td style="{_CELL.format(align)}">{escape(cell)}</td>'
        for cell, align in zip(cells, _ALIGN, strict=True)
    )
    return f'<tr style="{style}">{tds}</tr>'
