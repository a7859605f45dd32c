"""The phrases and number formats that the table, the notebook page and the figures share."""

import math

from contactfe.assess.results import BodyResult, Value
from contactfe.case import Case, Section
from contactfe.case.display import Display, Unit

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
"""In place of a line load at first yield that lies beyond what the model carries."""


def with_uncertainty(value: Value, unit: Unit | None = None) -> tuple[str, str]:
    """A value and its uncertainty, both to the place of the uncertainty's first digit.

    They are in that unit, without its name; a ratio has none.

    >>> from contactfe.case.display import SI
    >>> with_uncertainty(Value(404.62, 0.81), SI.stress), with_uncertainty(Value(46.93, 0.14))
    (('404.6', '± 0.8'), ('46.9', '± 0.1'))
    """
    figure, blur = value.value, value.uncertainty
    if unit is not None:
        figure, blur = unit.of(figure), unit.of(blur)
    # 0.098 is shown as 0.1, and so counts as having one decimal.
    decimals = max(0, -math.floor(math.log10(float(f"{blur:.1g}")))) if blur > 0.0 else 3
    return f"{figure:.{decimals}f}", f"± {blur:.{decimals}f}"


def pair(value: Value, unit: Unit | None = None) -> str:
    """A value and its uncertainty on one line, without the name of the unit."""
    return " ".join(with_uncertainty(value, unit))


def peak(body: BodyResult, units: Display) -> str:
    """The peak von Mises stress of a body and its uncertainty, on one line, without the unit."""
    return pair(Value(body.peak.von_mises, body.uncertainty), units.stress)


def size(section: Section, units: Display) -> str:
    """Outside diameter, and wall of a tube.

    >>> from contactfe.case.display import SI, US
    >>> size(Section("a", 150.0, 25.0), SI), size(Section("b", 152.4), US)
    ('150 × 25 mm', '6 in solid')
    """
    if section.wall is None:
        return f"{units.length.text(section.outside_diameter)} solid"
    wall = f"{units.length.of(section.wall):.4g}"
    return f"{units.length.number(section.outside_diameter)} × {wall} {units.length.name}"


def limit(case: Case) -> str:
    """What the peak must stay below: the yield strength, or that over the margin asked for."""
    return "yield" if case.yield_margin == 1.0 else f"yield / {case.yield_margin:g}"


def verdict(body: BodyResult, case: Case) -> str:
    """Whether a body passes, in words that need no colour."""
    if body.satisfied:
        return f"below {limit(case)}"
    word = "ABOVE" if body.utilisation > 1.0 else "NOT CLEAR OF"
    return f"{word} {limit(case).upper()}"


def first_yield(body: BodyResult, units: Display) -> str:
    """Line load at first yield and its uncertainty, without the unit."""
    load, blur = body.first_yield_line_load, body.first_yield_uncertainty
    return BEYOND if load is None or blur is None else pair(Value(load, blur), units.line_load)


def how_held(case: Case) -> str:
    """One line on what is modelled: post, plate, plane state and line load."""
    return (
        f"{POST_HELD[case.held_by]}; plate {plate_size(case)} {PLATE_HELD[case.plate.held_by]};"
        f" {case.state}; line load {case.display.line_load.text(case.line_load)}"
    )


def plate_size(case: Case) -> str:
    """Width and thickness of the plate."""
    length = case.display.length
    return f"{length.number(case.plate.width)} × {length.text(case.plate.thickness)}"


def one_line(text: str) -> str:
    """A title or name without line breaks, which a case file may hold."""
    return " ".join(text.split())
