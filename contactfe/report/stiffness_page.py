"""Contact stiffness as text: each section, its shares, and what stands for it in other programs."""

from collections.abc import Iterator

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.follow import MOST
from contactfe.assess.results import Value
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.hand.similitude import factor
from contactfe.report import stiffness_words, words
from contactfe.report.specimen import specimen
from contactfe.report.stiffness import specimen_coefficient
from contactfe.solve.curve import ForceApproach

NONE = "none"
"""In place of the figures of a ring that there is not."""


def stiffness_page(result: StiffnessResult) -> RenderableType:
    """The whole result for a rich console of the page's width; readable without colour."""
    case = result.case
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text(f"Contact stiffness: {words.how_held(case, evenly=True)}\n"),
    ]
    for section in result.sections:
        parts += [*_heading(case, section), _figures(case, section), Text("")]
        parts += [_points(case, section), Text("")]
        if early := stiffness_words.ends_early(section, MOST):
            parts.append(Text(f"{early}\n"))
    parts += [Text(note) for note in stiffness_words.notes(result)]
    parts.append(Text(""))
    parts += [Text(f"Caution: {line}") for line in words.cautions(case, evenly=True)]
    return Group(*parts)


def _heading(case: Case, section: SectionStiffness) -> Iterator[Text]:
    name, size = words.one_line(section.section.name), words.size(section.section, case.display)
    yield Text(f"{name}: {size}", style="bold")
    yield Text(f"Approach: of {stiffness_words.datum(case, section.section)}.")


def _figures(case: Case, section: SectionStiffness) -> Table:
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("at the load of the case", min_width=50)
    table.add_column("unit")
    table.add_column("", justify="right")
    table.add_column("of the approach", justify="right")
    if case.scale is not None:
        table.add_column(specimen(case.scale), justify="right")
    for cells in _rows(case, section):
        table.add_row(*map(Text, cells[: len(table.columns)]))
    return table


def _rows(case: Case, section: SectionStiffness) -> Iterator[tuple[str, ...]]:
    units, length = case.display, case.effective_length
    scale = 1.0 if case.scale is None else case.scale

    def row(what: str, value: Value, unit: Unit, share: str = "") -> tuple[str, ...]:
        scaled = _times(value, factor(unit.dimension, scale))
        return what, unit.name, _text(value, unit), share, _text(scaled, unit)

    yield row("line load", Value(case.line_load, 0.0), units.line_load)
    if length is not None:
        force = Value(case.line_load * length, 0.0)
        yield row("force on the effective length", force, units.force)
    yield row("half-width", section.half_width, units.length)
    yield row("approach", section.approach, units.length, "100 %")
    labels = stiffness_words.part_labels(case, section.section)
    for label, part in zip(labels, section.parts, strict=True):
        if part is section.parts[1] and _no_ring(case, section):
            yield f"  {label}", units.length.name, NONE, "", NONE
            continue
        share = f"{100.0 * part.value / section.approach.value:.1f} %"
        yield row(f"  {label}", part, units.length, share.replace("-0.0 %", "0.0 %"))
    yield row("tangent stiffness, per length of line", section.tangent, units.line_stiffness)
    yield row("secant stiffness, per length of line", section.secant, units.line_stiffness)
    if length is not None:
        yield row("tangent stiffness, whole", _times(section.tangent, length), units.stiffness)
        yield row("secant stiffness, whole", _times(section.secant, length), units.stiffness)
    if section.way is not None and length is not None:
        yield from _with_the_post(case, section.way.curve, length, scale)
    exponent = words.pair(section.exponent)
    yield "local exponent, d ln q / d ln δ", "1", exponent, "", exponent


def _with_the_post(
    case: Case, whole: ForceApproach, length: float, scale: float
) -> Iterator[tuple[str, ...]]:
    """The same with the bending of the post along its axis in series."""
    units, q = case.display, case.line_load
    way = float(whole.approach_at(q))
    for what, value, unit in (
        ("travel of the floor, with the post's bending", way, units.length),
        ("tangent stiffness, whole, with it", length * float(whole.tangent_at(way)),
         units.stiffness),
        ("secant stiffness, whole, with it", length * q / way, units.stiffness),
    ):  # fmt: skip
        by = factor(unit.dimension, scale)
        yield what, unit.name, unit.number(value), "", unit.number(by * value)


def _no_ring(case: Case, section: SectionStiffness) -> bool:
    """Whether there is no ring to give way, and the figure of it is numerical noise."""
    ring = section.parts[1]
    noise = abs(ring.value) <= ring.uncertainty
    return noise and not stiffness_words.ring_adds(case, section.section)


def _times(value: Value, by: float) -> Value:
    return Value(value.value * by, value.uncertainty * by)


def _text(value: Value, unit: Unit) -> str:
    """A figure, with its uncertainty if it has one: a load that is given has none."""
    return words.pair(value, unit) if value.uncertainty > 0.0 else unit.number(value.value)


def _points(case: Case, section: SectionStiffness) -> RenderableType:
    """The power law and the spring on lines of their own, and the points as a table."""
    units, power, spring = case.display, section.power, section.spring
    q, d = units.line_load, units.length
    low, high = q.number(power.low), q.text(power.high)
    lines = [
        f"Power law q = A·δ^n: n = {power.exponent:.4f}, A = {coefficient_text(case, section)};"
        f" from {low} to {high} within {words.percent(power.error)} of the force.",
        f"Linear spring: {_stiffness(case, spring.stiffness)}; up to the load within"
        f" {words.percent(spring.error)} of it.",
        f"Points for a gap element, joined by straight lines, within"
        f" {words.percent(section.points.error)} of the load{_of_the_way(section)}:",
    ]
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("")
    for k in range(len(section.points.approach)):
        table.add_column(str(k), justify="right")
    for what, unit, figures in _point_rows(case, section, q, d):
        table.add_row(Text(f"{what} [{unit.name}]"), *(Text(figure) for figure in figures))
    return Group(*map(Text, lines), table)


def _of_the_way(section: SectionStiffness) -> str:
    points = section.way_points
    return "" if points is None else f", with the post's bending {words.percent(points.error)}"


def _point_rows(
    case: Case, section: SectionStiffness, q: Unit, d: Unit
) -> Iterator[tuple[str, Unit, list[str]]]:
    points, units, length = section.points, case.display, case.effective_length
    rows = [("approach", d, points.approach), ("line load", q, points.line_load)]
    if section.way_points is not None:
        rows.insert(1, ("travel, with the post's bending", d, section.way_points.approach))
    if length is not None:
        rows.append(("force", units.force, points.line_load * length))
    for what, unit, values in rows:
        yield what, unit, [significant(unit.of(float(x))) for x in values]
    if case.scale is not None:
        for what, unit, values in rows:
            by = factor(unit.dimension, case.scale)
            scaled = [significant(unit.of(float(by * x))) for x in values]
            yield f"{what}, {specimen(case.scale)}", unit, scaled


def coefficient_text(case: Case, section: SectionStiffness) -> str:
    """A of the power law with its unit, of the whole contact and of a specimen where stated."""
    units, power, length = case.display, section.power, case.effective_length
    text = _coefficient(power.coefficient, power.exponent, units.line_load, units)
    if length is not None:
        whole = _coefficient(power.coefficient * length, power.exponent, units.force, units)
        text += f" ({whole} as a whole)"
    if case.scale is not None:
        of = specimen_coefficient(section, case.scale)
        scaled = _coefficient(of, power.exponent, units.line_load, units)
        text += f", {specimen(case.scale)}: {scaled}"
    return text


def _coefficient(value: float, exponent: float, unit: Unit, units: Display) -> str:
    shown = unit.of(value) * units.length.held**exponent
    return f"{significant(shown)} {unit.name} per {units.length.name}^n"


def _stiffness(case: Case, per_line: float) -> str:
    units, length = case.display, case.effective_length
    text = units.line_stiffness.text(per_line)
    return text if length is None else f"{text} ({units.stiffness.text(per_line * length)} whole)"
