"""What of a case is moved on the page: its quantities and choices, and what a move writes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from contactfe.case import Case, Section
from contactfe.case.display import Unit
from contactfe.case.grades import Product
from contactfe.case.steels import grades
from contactfe.case.stock import sizes
from contactfe.errors import InputError
from contactfe.explore.state import State, put, resize
from contactfe.hand.quantities import Dimension
from contactfe.report import words

Json = dict[str, Any]

STEPS = 400
"""Steps of a slider, about."""

NEAREST = 24
"""Stock sizes that are offered: those nearest to the section as it is."""

SOLID_BAR = "solid"
"""What the field of the wall has for a solid bar."""

AS_POST, AS_STATED, NO_STOCK = "as the post", "as the case states it", "none"

_SIZE = "section.outside_diameter", "section.wall", "section.solid", "section.designation"
_OF_STEEL = "steel", "young", "poisson", "yield", "ultimate", "hardening", "hardening_kind"

_THINNEST = 0.03
"""Least wall of the slider, over the diameter; the field takes any."""

_END = 0.999
"""Share of the radius from which on the slider of the wall stands at its end: a solid bar."""

_NOISE = 1e-9

_STEEPEST = math.radians(60.0)


@dataclass(frozen=True)
class Moved:
    """A quantity with a slider, and a field that takes any value in any unit.

    ``span`` is that of the slider for the case as it was opened, or for its ``own`` as it is, in
    the unit that the quantity is held in; ``of`` is its value. Without a dimension it is a plain
    number.
    """

    key: str
    label: str
    dimension: Dimension | None
    of: Callable[[Case], float]
    span: Callable[[Case], tuple[float, float]]
    own: bool = False

    def shown(self, case: Case, first: Case) -> Json:
        """How it stands, in the unit that the case is shown in."""
        unit = None if self.dimension is None else case.display.unit(self.dimension)
        value, (least, most) = self.of(case), self.span(case if self.own else first)
        ends = [float(_in(unit, end)) for end in (min(least, value), max(most, value))]
        step = _round(ends[1] - ends[0])
        return {
            "key": self.key,
            "label": self.label,
            "unit": "" if unit is None else unit.name,
            "text": self._text(case, unit, value),
            "value": float(_in(unit, value)),
            "least": step * math.floor(ends[0] / step + _NOISE),
            "most": step * math.ceil(ends[1] / step - _NOISE),
            "step": step,
            "note": _note(self.key, case),
        }

    def _text(self, case: Case, unit: Unit | None, value: float) -> str:
        if self.of is _wall and case.sections[0].wall is None:
            return SOLID_BAR
        return f"{value:g}" if unit is None else unit.text(value)


def moved_of(case: Case) -> Iterator[Moved]:
    """The quantities of a case that are moved, in their order on the page."""
    yield Moved(
        "section.outside_diameter", "Outside diameter", "length",
        lambda c: c.sections[0].outside_diameter,
        lambda c: (0.5 * c.sections[0].outside_diameter, 2.0 * c.sections[0].outside_diameter),
    )  # fmt: skip
    yield Moved(
        "section.wall", "Wall", "length", _wall,
        lambda c: (_THINNEST * c.sections[0].outside_diameter, c.sections[0].radius),
        own=True,
    )  # fmt: skip
    if not case.load.by_motion:
        yield _load(case)
    yield Moved(
        "contact.offset", "Offset", "length", lambda c: c.contact.offset,
        lambda c: (-0.4 * c.plate.width, 0.4 * c.plate.width),
    )  # fmt: skip
    if case.corner is None:
        yield Moved(
            "contact.angle", "Angle", "angle", lambda c: c.contact.angle,
            lambda _: (-_STEEPEST, _STEEPEST),
        )  # fmt: skip
    yield Moved(
        "contact.friction", "Friction", None, lambda c: c.contact.friction, lambda _: (0.0, 0.6)
    )
    yield Moved(
        "plate.thickness", "Plate thickness", "length", lambda c: c.plate.thickness,
        lambda c: (0.25 * c.plate.thickness, 2.5 * c.plate.thickness),
    )  # fmt: skip


def _note(key: str, case: Case) -> str:
    """What is to be known of an input as the case stands."""
    if key == "contact.angle" and case.contact.friction == 0.0:
        return "has an effect with friction only"
    return ""


def _wall(case: Case) -> float:
    """The wall of the section that is moved; the radius of a solid bar."""
    section = case.sections[0]
    return section.radius if section.wall is None else section.wall


def _load(case: Case) -> Moved:
    """The load, as the case states it: a force over a length, or a line load."""
    length = case.load.contact_length
    if length is None:
        return Moved(
            "load.line_load", "Line load", "line load", lambda c: c.line_load,
            lambda c: (0.1 * c.line_load, 3.0 * c.line_load),
        )  # fmt: skip
    return Moved(
        "load.force", "Force", "force", lambda c: c.line_load * length,
        lambda c: (0.1 * c.line_load * length, 3.0 * c.line_load * length),
    )  # fmt: skip


def shown(state: State, first: State) -> list[Json]:
    """Every input as it stands, for the page; ``first`` is the state that was opened."""
    case = state.case
    section = case.sections[0]
    found = [one.shown(case, first.case) for one in moved_of(case)]
    at = next(k for k, one in enumerate(found) if one["key"] == "section.outside_diameter") + 1
    solid = {"key": "section.solid", "label": "Solid bar", "on": section.wall is None}
    stock = _choice(
        "section.designation", "Stock size", section.stock or NO_STOCK,
        [(NO_STOCK, NO_STOCK), *((d, f"{d} ({size})") for d, size in _nearest(case))],
    )  # fmt: skip
    found[at:at] = [solid]
    of_plate = case.plate.steel if isinstance(case.plate.steel, str) else AS_STATED
    own = [] if "steel" in first.tables["plate"] else [(AS_STATED, AS_STATED)]
    return [
        *found,
        stock,
        _choice(
            "section.steel", "Steel of the section", section.steel or AS_POST,
            [(AS_POST, AS_POST), *_steels(case, section.geometry.product, section.steel)],
        ),
        _choice(
            "plate.steel", "Steel of the plate", of_plate, [*own, *_steels(case, "plate", of_plate)]
        ),
        _choice(
            "report.units", "Units", case.report_units,
            [(units, units) for units in ("SI", "US customary")],
        ),
    ]  # fmt: skip


def moved(state: State, first: State, key: str, value: object) -> State:
    """The state after a move: a number, in the unit shown, or text with a unit of its own.

    Raises InputError where the page has no such input, or what comes out is no case.
    """
    if key in _SIZE:
        return resize(state, _sizes(state, key, value))
    if key == "section.steel":
        return _section(state, "steel", None if value == AS_POST else value)
    if key == "plate.steel":
        stated = first.tables["plate"]
        of = {k: stated[k] for k in _OF_STEEL if k in stated} if value == AS_STATED else {}
        of = of or {"steel": value}

        def change(tables: Json) -> None:
            kept = {k: v for k, v in tables["plate"].items() if k not in _OF_STEEL}
            tables["plate"] = kept | of

        return state.changed(change)
    if key == "report.units":
        return put(state, key, value)
    return put(state, key, _written(state, key, value))


def _sizes(state: State, key: str, value: object) -> Json:
    """What a section states of its size after a move of it; a wall as thick as the radius, or
    that is said to be none, is that of a solid bar.
    """
    section, length = state.case.sections[0], state.case.display.length
    if key == "section.designation" and value != NO_STOCK:
        return {"designation": value}
    kept = state.tables["section"][0]
    D = kept.get("outside_diameter", _exact(length, section.outside_diameter))
    wall = None if section.wall is None else kept.get("wall", _exact(length, section.wall))
    if key == "section.outside_diameter":
        D = _written(state, key, value)
    elif key == "section.wall":
        end = isinstance(value, int | float) and value >= _END * length.of(section.radius)
        wall = None if end or value == SOLID_BAR else _written(state, key, value)
    elif key == "section.solid":
        wall = None if value else _exact(length, section.outside_diameter / 6.0)
    return {"outside_diameter": D} | ({} if wall is None else {"wall": wall})


def _section(state: State, key: str, value: object | None) -> State:
    def change(tables: Json) -> None:
        first = tables["section"][0]
        first.pop(key, None)
        if value is not None:
            first[key] = value

    return state.changed(change)


def _written(state: State, key: str, value: object) -> object:
    """A value as a case file has it: with a unit, that shown where none is written."""
    case = state.case
    one = next((one for one in moved_of(case) if one.key == key), None)
    if one is None:
        raise InputError(f"{state.source}: {key}: is not moved on this page")
    text = value.strip() if isinstance(value, str) else value
    try:
        number = float(text)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        return text
    if one.dimension is None:
        return number
    return f"{number:.8g} {case.display.unit(one.dimension).name}"


def _exact(unit: Unit, value: float) -> str:
    """A figure as a case file has it: not rounded, as where it is shown."""
    return f"{unit.of(value):.8g} {unit.name}"


def _steels(case: Case, product: Product, chosen: str | None) -> list[tuple[str, str]]:
    """Steels that are made as a product, and the one that is chosen whatever it is made as."""
    every = (*case.grades, *grades())
    return [(of.name, of.name) for of in every if product in of.largest or of.name == chosen]


def _nearest(case: Case) -> list[tuple[str, str]]:
    """Stock sizes nearest to the section as it is, list by list, each with its size in words."""
    section = case.sections[0]
    D, wall = section.outside_diameter, section.wall or section.radius

    def far(size: Any) -> float:
        return float(abs(size.outside_diameter / D - 1.0) + abs(size.wall / wall - 1.0) / 4.0)

    near = sorted(sizes(), key=far)[:NEAREST]
    if section.stock is not None:
        near = [*near, *(size for size in sizes() if size.designation == section.stock)]
    chosen = {size.designation for size in near}
    return [
        (s.designation, words.size(Section("", s.outside_diameter, s.wall), case.display))
        for s in sizes()
        if s.designation in chosen
    ]


def _choice(key: str, label: str, value: str, options: list[tuple[str, str]]) -> Json:
    return {"key": key, "label": label, "choice": value, "options": options}


def _in(unit: Unit | None, value: float) -> float:
    return value if unit is None else unit.of(value)


def _round(span: float) -> float:
    """A round step of 1, 2 or 5 of which a span has about ``STEPS``.

    >>> _round(225.0), _round(0.6), _round(9.0)
    (0.5, 0.001, 0.02)
    """
    step = 10.0 ** math.floor(math.log10(span / STEPS))
    return next(step * k for k in (1.0, 2.0, 5.0, 10.0) if step * k >= span / STEPS * 0.7)
