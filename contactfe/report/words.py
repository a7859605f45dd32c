"""The phrases and number formats that the table, the notebook page and the figures share."""

import math

from contactfe.assess.results import BodyResult, Value
from contactfe.case import Case, Section

POST_HELD = {
    "beam shear": "post held by its own beam shear",
    "opposed": "post struck alike from the opposite side",
}

PLATE_HELD = {
    "bedded": "bedded on a rigid, smooth base",
    "two edges": "held along its two edges",
}

CAUTIONS = (
    "The figures are those of an elastic plane (2D) idealisation: straight bodies in full contact"
    " along the post, no friction, no yielding, no impact, no ends.",
    "They do not take the place of the judgement of a licensed engineer.",
    "The building code in force where the stop is built governs.",
)
"""What must stand on every page that may end in a calculation file."""

BEYOND = "beyond model"
"""In place of a line load at first yield that would need a wider patch than the model allows."""


def significant(value: float, digits: int = 4) -> str:
    """A number to that many significant digits, never in powers of ten.

    >>> print(significant(1.11754), significant(3842.31), significant(123456.0), significant(0.0))
    1.118 3842 123456 0
    """
    if value == 0.0 or not math.isfinite(value):
        return f"{value:g}"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{decimals}f}"


def with_uncertainty(value: float, uncertainty: float) -> tuple[str, str]:
    """A value and its uncertainty, both to the place of the uncertainty's first digit.

    >>> with_uncertainty(404.62, 0.81)
    ('404.6', '± 0.8')
    """
    decimals = max(0, -math.floor(math.log10(uncertainty))) if uncertainty > 0.0 else 3
    return f"{value:.{decimals}f}", f"± {uncertainty:.{decimals}f}"


def pair(value: Value) -> str:
    """A value and its uncertainty on one line."""
    return " ".join(with_uncertainty(value.value, value.uncertainty))


def peak(body: BodyResult) -> str:
    """The peak von Mises stress of a body and its uncertainty, on one line, without the unit."""
    return " ".join(with_uncertainty(body.peak.von_mises, body.uncertainty))


def size(section: Section) -> str:
    """Outside diameter, and wall of a tube.

    >>> size(Section("a", 150.0, 25.0)), size(Section("b", 152.4))
    ('150 × 25 mm', '152.4 mm solid')
    """
    if section.wall is None:
        return f"{section.outside_diameter:.5g} mm solid"
    return f"{section.outside_diameter:.5g} × {section.wall:.4g} mm"


def limit(case: Case) -> str:
    """What the peak must stay below: the yield strength, or that over the margin asked for."""
    return "yield" if case.yield_margin == 1.0 else f"yield / {case.yield_margin:g}"


def verdict(body: BodyResult, case: Case) -> str:
    """Whether a body passes, in words that need no colour."""
    if body.satisfied:
        return f"below {limit(case)}"
    word = "ABOVE" if body.utilisation > 1.0 else "NOT CLEAR OF"
    return f"{word} {limit(case).upper()}"


def first_yield(body: BodyResult) -> str:
    """Line load at first yield, without the unit."""
    load = body.first_yield_line_load
    return BEYOND if load is None else significant(load)


def how_held(case: Case) -> str:
    """One line on what is modelled: post, plate, plane state and line load."""
    plate = case.plate
    return (
        f"{POST_HELD[case.held_by]}; plate {plate.width:.5g} × {plate.thickness:.5g} mm"
        f" {PLATE_HELD[plate.held_by]}; {case.state}; line load {significant(case.line_load)} N/mm"
    )


def one_line(text: str) -> str:
    """A title or name without line breaks, which a case file may hold."""
    return " ".join(text.split())
