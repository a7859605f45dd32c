"""An impact as text: what is given, its figures and energies, and closed forms beside it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.assess.impact_figures import Figure
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.hand.formula import Dimension, Worked
from contactfe.hand.similitude import damper_factor
from contactfe.report import impact_words, words
from contactfe.report.by_hand import Marks
from contactfe.report.specimen import scaled_number, specimen


def impact_page(result: ImpactResult) -> RenderableType:
    """The whole impact for a rich console of the page's width; readable without colour."""
    case, units = result.case, result.case.display
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text("Impact: from the motion of the floor to the contact force of the first impact\n"),
        *(Text(line) for line in impact_words.given(result.motion, units)),
        *(Text(line) for line in impact_words.along_the_axis(case)),
        Text(""),
    ]
    if result.motion.dampers:
        parts += [_dampers(result), Text("")]
    for impact in result.impacts:
        parts += _section_impact(result, impact)
    parts += [Text(line) for line in _sources(result)]
    parts.append(Text(f"{impact_words.HOW_FOUND}\n"))
    parts += [Text(f"Caution: {line}") for line in impact_words.CAUTIONS]
    return Group(*parts)


def _dampers(result: ImpactResult) -> Table:
    """The law F = C·v^α of each kind, which a specimen has another C of."""
    case, units = result.case, result.case.display
    table = _table("Dampers: F = C·v^α along their axis", case)
    rows: list[tuple[str, str, str, str, str]] = []
    for number, one in enumerate(result.motion.dampers, 1):
        C = impact_words.coefficient(one, units)
        scaled = C * damper_factor(case.scale or 1.0, one.exponent)
        count = str(one.count)
        of = f" of kind {number}" if len(result.motion.dampers) > 1 else ""
        rows += [
            (f"how many{of}", "", "1", count, count),
            ("coefficient of one", "C", impact_words.coefficient_unit(one, units),
             significant(C), significant(scaled)),
            ("exponent", "α", "1", f"{one.exponent:g}", f"{one.exponent:g}"),
            ("angle to the impact direction", "φ", units.angle.name,
             *(units.angle.number(one.angle),) * 2),
        ]  # fmt: skip
    for row in rows:
        table.add_row(*map(Text, row[: len(table.columns)]))
    return table


def _section_impact(result: ImpactResult, impact: SectionImpact) -> Iterator[RenderableType]:
    case, units = result.case, result.case.display
    if impact.section is not None:
        name, size = words.one_line(impact.section.name), words.size(impact.section, units)
        yield Text(f"{name}: {size}\n", style="bold")
    yield _figures(result, impact)
    covers = impact_words.covers(result, impact)
    yield Text(f"\n{covers}", style="" if impact.covered else "bold red")
    for line in (
        impact_words.sensitivity(result, impact), impact_words.not_found(result, impact)
    ):  # fmt: skip
        if line is not None:
            yield Text(line, style="bold red")
    if root := impact_words.root(result, impact):
        yield Text(root, style="bold red")
    yield Text(f"{impact_words.ending(impact, units)}\n")
    yield from _nearby(result, impact)
    yield _energies(case, impact)
    yield Text("")
    yield from _beside(result, impact)


def _figures(result: ImpactResult, impact: SectionImpact) -> Table:
    case, units = result.case, result.case.display
    table = _table("The first impact", case)
    bound = [
        Figure("pseudo_velocity", step.name, step.symbol, step.value, step.dimension)
        for step in result.closure[2:]
    ]
    first, *others = impact.figures
    for figure in (first, *bound, *others):
        unit = None if figure.dimension is None else units.unit(figure.dimension)
        cells = [figure.label, figure.symbol, "1" if unit is None else unit.name]
        cells.append(_number(figure.value, unit))
        if case.scale is not None:
            cells.append(scaled_number(figure.value, figure.dimension, case.scale, units))
        table.add_row(*map(Text, cells))
    return table


def _nearby(result: ImpactResult, impact: SectionImpact) -> Iterator[RenderableType]:
    """The force beside those of motions near the one stated."""
    case, units = result.case, result.case.display
    stated = result.motion.displacement
    if not impact.nearby or stated is None:
        return
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False, title_justify="left",
        title=Text("The force beside that of motions near the one stated", style="bold"),
    )  # fmt: skip
    table.add_column("", min_width=24)
    heads = [
        f"displacement\n[{units.length.name}]", f"v at closure\n[{units.velocity.name}]",
        f"peak contact force\n[{units.force.name}]", "of that of the\nmotion stated",
    ]  # fmt: skip
    if case.scale is not None:
        heads.append(f"force, {specimen(case.scale)}\n[{units.force.name}]")
    for head in heads:
        table.add_column(Text(head), justify="right")
    shown = [
        (impact_words.NEARBY[one.key], one.displacement, one.velocity, one.force,
         impact_words.nearby_force(one, units)) for one in impact.nearby
    ]  # fmt: skip
    force, v = impact.contact.value, impact.response.impact.velocity
    shown.append(("as stated", stated, v, force, units.force.number(force)))
    for label, displacement, velocity, found, text in sorted(shown, key=lambda row: row[2]):
        cells = [label, units.length.number(displacement), units.velocity.number(velocity), text]
        cells.append("" if found is None else f"{100.0 * found / force:.0f} %")
        if case.scale is not None:
            cells.append("" if found is None else scaled_number(found, "force", case.scale, units))
        table.add_row(*map(Text, cells))
    yield table
    yield Text(f"{impact_words.PSEUDO_VELOCITY}\n")


def _energies(case: Case, impact: SectionImpact) -> Table:
    """Where the energy is at the peak of the contact force and at the end."""
    unit, at_closure = case.display.energy, impact.response.impact.energy
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False, title_justify="left",
        title=Text("Where the energy is", style="bold"),
    )  # fmt: skip
    table.add_column("", min_width=44)
    for when in ("at the peak contact force", "at the end"):
        table.add_column(Text(f"{when}\n[{unit.name}]"), justify="right")
        table.add_column(Text("of the energy\nat closure"), justify="right")
    both = (impact.at_peak, impact.at_end)
    rows = [(label, [getattr(at, key) for at in both]) for key, label in impact_words.ENERGIES]
    rows = [row for row in rows if any(abs(value) > 1e-9 * at_closure for value in row[1])]
    for label, values in rows:
        table.add_row(Text(label), *_pairs(values, at_closure, unit))
    table.add_section()
    table.add_row(Text("sum"), *_pairs([at.total for at in both], at_closure, unit))
    errors = [f"{100.0 * at.error(impact.response.impact):+.0e} %" for at in both]
    table.add_row(
        Text("error of the balance"), Text(""), Text(errors[0]), Text(""), Text(errors[1])
    )
    return table


def _pairs(values: list[float], of: float, unit: Unit) -> Iterator[Text]:
    most = max(map(abs, (*values, of)))
    for value in values:
        yield Text(words.alike([value], most, unit)[0])
        yield Text(f"{100.0 * value / of:.2f} %".replace("-0.00 %", "0.00 %"))


def _beside(result: ImpactResult, impact: SectionImpact) -> Iterator[RenderableType]:
    units = result.case.display
    marks = Marks()
    name = "this impact" if impact.section is None else words.one_line(impact.section.name)
    shown = [one for one in impact.beside if one.found is not None]
    if shown:
        table = Table(
            box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False, title_justify="left",
            title=Text("Beside closed forms", style="bold"),
        )  # fmt: skip
        table.add_column("", max_width=66)
        table.add_column("is a")
        for header in ("symbol", "unit"):
            table.add_column(header)
        for header in ("form", "integrated", "form over it"):
            table.add_column(header, justify="right")
        for one in shown:
            worked, found = one.worked, one.found
            assert found is not None
            unit = None if worked.dimension is None else units.unit(worked.dimension)
            cells = (
                worked.name, one.kind, worked.symbol, "1" if unit is None else unit.name,
                f"{_number(worked.value, unit)}{marks.mark(worked.exceeded, name)}",
                _number(found, unit), significant(worked.value / found),
            )  # fmt: skip
            table.add_row(*map(Text, cells))
        yield table
        yield from marks.notes("outside the range of its form", units)
    if why := impact_words.no_form(result.motion):
        yield Text(f"{why}\n")


def _sources(result: ImpactResult) -> Iterator[str]:
    """Every formula once, written out with its numbers."""
    units = result.case.display
    steps = [*result.closure, *result.damping]
    steps += [one.worked for impact in result.impacts for one in impact.beside]
    if not steps:
        return
    yield "Formulas"
    yield from dict.fromkeys(_written(worked, units) for worked in steps)
    yield ""


def _written(worked: Worked, units: Display) -> str:
    figure = partial(_figure, units=units)
    parts = [worked.symbol, worked.by_symbols(), worked.by_numbers(figure)]
    parts.append(figure(worked.value, worked.dimension))
    line = f"{worked.name}: {' = '.join(dict.fromkeys(filter(None, parts)))}"
    beyond = "; ".join(units.limit(at) for at in worked.exceeded)
    notes = [worked.note, f"OUTSIDE its range, {beyond}" if beyond else "", worked.source]
    return "; ".join([line, *filter(None, notes)])


def _figure(value: float, dimension: Dimension | None, units: Display) -> str:
    """A figure to five digits with its unit; one that is never shown with a unit is as held."""
    if dimension == "frequency":
        return f"{significant(value, 5)} rad/s"
    unit = None if dimension is None else units.unit(dimension)
    number = significant(value if unit is None else unit.of(value), 5)
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return number if unit is None else f"{number} {unit.name}"


def _number(value: float, unit: Unit | None) -> str:
    return significant(value) if unit is None else unit.number(value)


def _table(title: str, case: Case) -> Table:
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False, title_justify="left",
        title=Text(title, style="bold"),
    )  # fmt: skip
    table.add_column("", min_width=52)
    table.add_column("symbol")
    table.add_column("unit")
    table.add_column("value" if case.scale is None else "prototype", justify="right")
    if case.scale is not None:
        table.add_column(specimen(case.scale), justify="right")
    return table
