"""Contact stiffness as text: the springs of a model without the post and of one with it, then each
section, its points for a gap element and its shares.
"""

from collections.abc import Iterator
from dataclasses import replace

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.follow import MOST
from contactfe.assess.gap_element import Table as Points
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.hand.similitude import factor
from contactfe.report import stiffness_words, words
from contactfe.report.specimen import specimen
from contactfe.report.stiffness import specimen_coefficient

NONE = "none"
"""In place of the figures of a ring that there is not."""


def stiffness_page(result: StiffnessResult) -> RenderableType:
    """The whole result for a rich console of the page's width; readable without colour."""
    case = result.case
    # Its figures are of the contact alone or of the post as it bends, each under its own heading.
    plain = replace(case, alignment=None, distribution=None)
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text(f"Contact stiffness: {words.how_held(plain)}"),
        Text(f"{stiffness_words.up_to(result)} {stiffness_words.sign(case)}\n"),
        *_warnings(result),
        *_springs(result),
    ]
    for section in result.sections:
        parts += [*_heading(case, section), *_points(case, section), _figures(case, section)]
        parts += [Text(""), _power(case, section), Text("")]
        if early := stiffness_words.ends_early(section, MOST):
            parts.append(Text(f"{early}\n"))
    parts += [Text(note) for note in stiffness_words.notes(result)]
    parts.append(Text(""))
    parts += [Text(f"Caution: {line}") for line in words.cautions(plain)]
    return Group(*parts)


def _warnings(result: StiffnessResult) -> Iterator[Text]:
    lines = [*stiffness_words.short(result), *stiffness_words.past_the_peak(result)]
    for line in lines:
        yield Text(line, style="bold red")
    if lines:
        yield Text("")


def _springs(result: StiffnessResult) -> Iterator[RenderableType]:
    """The springs of all sections, those of a model without the post and with it apart."""
    case, twice = result.case, stiffness_words.twice(result)
    if twice is not None:
        yield Text(stiffness_words.NOT_MODELLED, style="bold")
        yield Text(stiffness_words.bends_against(case))
        yield _spring_table(result, with_post=True)
        yield Text("")
    yield Text(stiffness_words.MODELLED, style="bold")
    if line := stiffness_words.without_bending(case):
        yield Text(line)
    yield _spring_table(result, with_post=False)
    if twice is not None:
        yield Text(f"\n{twice}", style="bold")
    yield Text("")


def _spring_table(result: StiffnessResult, with_post: bool) -> Table:
    case, units = result.case, result.case.display
    length = case.contact_length
    along = 1.0 if length is None else length
    force, stiffness = units.line_load, units.line_stiffness
    if length is not None:
        force, stiffness = units.force, units.stiffness
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("")
    of = "displacement" if with_post else "approach"
    for head in (
        f"linear spring\n[{stiffness.name}]", f"up to\n[{force.name}]", "within, of\nthat force",
        f"tangent, at the\nload [{stiffness.name}]", f"{of}, at the\nload [{units.length.name}]",
    ):  # fmt: skip
        table.add_column(Text(head), justify="right")
    if case.scale is not None:
        table.add_column(
            Text(f"spring, {specimen(case.scale)}\n[{stiffness.name}]"), justify="right"
        )
    for section in result.sections:
        post = section.with_post
        if not with_post:
            spring, error = along * section.spring.stiffness, section.spring.error
            tangent = words.pair(_times(section.tangent, along), stiffness)
            displacement = words.pair(section.approach, units.length)
        elif post is not None:
            spring, error = post.spring.stiffness, post.spring.error
            tangent, displacement = (
                stiffness.number(post.tangent),
                units.length.number(post.displacement),
            )
        else:
            continue
        cells = [words.one_line(section.section.name), stiffness.number(spring)]
        cells += [force.number(along * section.up_to), words.percent(error), tangent, displacement]
        if case.scale is not None:
            cells.append(stiffness.number(spring * factor(stiffness.dimension, case.scale)))
        table.add_row(*map(Text, cells))
    return table


def _heading(case: Case, section: SectionStiffness) -> Iterator[Text]:
    name, size = words.one_line(section.section.name), words.size(section.section, case.display)
    yield Text(f"{name}: {size}", style="bold")
    yield Text(f"Approach: of {stiffness_words.datum(case, section.section)}.")


def _figures(case: Case, section: SectionStiffness) -> Table:
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("the contact alone, at the load of the case", min_width=50)
    table.add_column("unit")
    table.add_column("", justify="right")
    table.add_column("of the approach", justify="right")
    if case.scale is not None:
        table.add_column(specimen(case.scale), justify="right")
    for cells in _rows(case, section):
        table.add_row(*map(Text, cells[: len(table.columns)]))
    return table


def _rows(case: Case, section: SectionStiffness) -> Iterator[tuple[str, ...]]:
    units, length = case.display, case.contact_length
    scale = 1.0 if case.scale is None else case.scale

    def row(what: str, value: Value, unit: Unit, share: str = "") -> tuple[str, ...]:
        scaled = _times(value, factor(unit.dimension, scale))
        return what, unit.name, _text(value, unit), share, _text(scaled, unit)

    yield row("line load", Value(case.line_load, 0.0), units.line_load)
    if length is not None:
        force = Value(case.line_load * length, 0.0)
        yield row("force on the contact length", force, units.force)
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
    exponent = words.pair(section.exponent)
    yield "local exponent, d ln q / d ln δ", "1", exponent, "", exponent


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


def _power(case: Case, section: SectionStiffness) -> Text:
    """The power law, for the contact alone."""
    q, power = case.display.line_load, section.power
    return Text(
        f"Power law of the contact alone, q = A·δ^n: n = {power.exponent:.4f},"
        f" A = {coefficient_text(case, section)}; from {q.number(power.low)} to"
        f" {q.text(power.high)} within {words.percent(power.error)} of the force."
    )


def _points(case: Case, section: SectionStiffness) -> Iterator[RenderableType]:
    """The points for a gap element, those of a model without the post and with it apart."""
    if section.with_post is not None:
        points = section.with_post.points
        yield from _point_table(case, points, stiffness_words.NOT_MODELLED, "displacement")
    yield from _point_table(case, section.points, stiffness_words.MODELLED, "approach")


def _point_table(case: Case, points: Points, heading: str, of: str) -> Iterator[RenderableType]:
    within = words.percent(points.error)
    yield Text(f"{heading}; points joined by straight lines, within {within}", style="bold")
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("")
    for k in range(len(points.approach)):
        table.add_column(str(k), justify="right")
    for what, unit, figures in _point_rows(case, points, of):
        table.add_row(Text(f"{what} [{unit.name}]"), *(Text(figure) for figure in figures))
    yield table
    yield Text("")


def _point_rows(case: Case, points: Points, of: str) -> Iterator[tuple[str, Unit, list[str]]]:
    units, length = case.display, case.contact_length
    rows = [(of, units.length, points.approach), ("line load", units.line_load, points.line_load)]
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
    units, power, length = case.display, section.power, case.contact_length
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
