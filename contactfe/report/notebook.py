"""The comparison as a small HTML page for notebooks: one table, the answer, notes, the cautions."""

from collections.abc import Iterator
from html import escape

from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.verdicts import verdict_lines

_CELL = "padding:0.25em 0.7em;text-align:{};vertical-align:top"
_RULE = "border-top:1px solid #9aa3ab"

_ALIGN = (
    *("left", "left", "right", "right", "right", "right"),
    *("left", "right", "left", "right", "right", "left", "right", "right"),
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
    lines = verdict_lines(
        comparison.case, comparison.by_concentration, comparison.checks, comparison.open_items
    )
    verdict = "<br>".join(escape(line.plain) for line in lines if line.plain)
    notes = "<br>".join(escape(line) for line in _notes(comparison))
    cautions = "<br>".join(escape(line) for line in words.cautions(comparison.case))
    return (
        f"<div><p><b>{escape(comparison.case.title)}</b><br>"
        f"{escape(words.how_held(comparison.case))}</p>"
        f'<table style="border-collapse:collapse"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>"
        f"<p>{escape(comparison.reason)}</p>"
        f"<p>{verdict}</p>"
        f"<p>{notes}</p>"
        f'<p style="font-size:85%">K: peak von Mises stress of the post over line load / outside'
        f" diameter. Utilisation: peak over {escape(words.limit(comparison.case))}."
        f" {escape(words.shakedown(comparison.case))}<br>{cautions}"
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
        f"yield strength<br>[{units.stress.name}]",
        "against the limit",
        f"line load at<br>first yield [{units.line_load.name}]",
        f"at the shake-<br>down limit [{units.line_load.name}]",
    )


def _rows(comparison: Comparison, result: SectionResult) -> Iterator[str]:
    section, units = result.section, comparison.case.display
    name = section.name
    size = words.size(section, units)
    mass = units.mass_per_length.number(result.mass_per_length)
    K = words.pair(result.stress_concentration)
    for number, (what, body) in enumerate(result.bodies):
        # The plate shares the contact of the post; the second plate of a corner has its own.
        cells = [name, size, mass, "", "", K] if number == 0 else [""] * 6
        if number != 1:
            patch = result.patches[max(number - 1, 0)]
            cells[3] = words.pair(patch.half_width, units.length)
            cells[4] = words.pair(patch.peak_pressure, units.stress)
        yield _row([*cells, *_body(comparison, what, body)], _RULE if number == 0 else "")


def _body(comparison: Comparison, name: str, body: BodyResult) -> list[str]:
    case = comparison.case
    return [
        name,
        words.peak(body, case.display),
        body.peak.at.zone,
        words.pair(body.utilisation),
        case.display.stress.number(body.material.yield_strength),
        words.beside_limit(body),
        words.first_yield(body, case.display),
        case.display.line_load.number(body.shakedown_line_load),
    ]


def _notes(comparison: Comparison) -> Iterator[str]:
    """A line for each contact, infill and accuracy of a section, where there is any to tell of."""
    case = comparison.case
    for name in comparison.by_concentration:
        result = comparison.section(name)
        of = f"“{name}”"
        if words.unalike(case):
            for (plate, _), patch in zip(result.bodies[1:], result.patches, strict=True):
                yield f"{of}, {plate}: {words.contact_found(patch, case.display)}."
        if result.section.infill is not None:
            yield f"{of}, infill: {words.infill_found(result.values, case.display)}."
        if case.accuracy is not None:
            yield words.accuracy(case, result)


def _row(cells: list[str], style: str) -> str:
    tds = "".join(
        f'<td style="{_CELL.format(align)}">{escape(cell)}</td>'
        for cell, align in zip(cells, _ALIGN, strict=True)
    )
    return f'<tr style="{style}">{tds}</tr>'
