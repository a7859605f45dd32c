"""The answer of a sizing in short: a line for each diameter, ahead of all else."""

from collections.abc import Iterator

from rich import box
from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.sizing.record import Best, Diameter, SizingResult, Wall
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.sizing_checks import BUT, fails_text, passes_text, ratio_text
from contactfe.report.sizing_words import bar_strength, of_bars, stock_key

NOTHING = "–"
"""In place of a figure that there is not."""

SOLID = "solid"


def summary(result: SizingResult) -> Iterator[RenderableType]:
    """A row a diameter: walls that pass, the least K, the stock size; then what none passes."""
    units = result.case.display
    length, mass = units.length.name, units.mass_per_length.name
    stocked = any(diameter.stock.walls for diameter in result.diameters)
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False,
        title=Text("Answer", style="bold"), title_justify="left",
    )  # fmt: skip
    table.add_column(Text(f"Ø\n\n[{length}]"), justify="right")
    table.add_column(Text(f"walls that pass,\nthe smallest first\n[{length}]"))
    table.add_column(Text(f"mass of the\nsmallest\n[{mass}]"), justify="right")
    table.add_column(Text(f"wall of\nleast K\n[{length}]"), justify="right")
    table.add_column(Text("K\n\n[1]"), justify="right")
    table.add_column(Text("it passes"))
    if stocked:
        table.add_column(Text("lightest stock size that passes"), overflow="fold")
        table.add_column(Text(f"its mass\n\n[{mass}]"), justify="right")
    for diameter in result.diameters:
        cells = [*_walls(diameter, units), *_best(diameter.best, units)]
        cells += _stock(diameter, units) if stocked else []
        table.add_row(*map(Text, (units.length.number(diameter.outside_diameter), *cells)))
    yield table
    yield from map(Text, _bored(result))
    for diameter in result.diameters:
        if diameter.in_the_way:
            text = f"{in_the_way(diameter, result.case)} {BUT}: passed are the other checks."
            yield Text(text, style="bold red")
        if not diameter.bands:
            yield Text(_infeasible(diameter, result.case), style="bold red")


def _bored(result: SizingResult) -> Iterator[str]:
    """That walls that pass as tubes may fail if they are bored from bar, where bar is weaker."""
    case = result.case
    weaker: list[tuple[Diameter, float | None]] = []
    if not case.post_thickness_steps:
        return
    for diameter in result.diameters:
        passing = [wall.yield_strength for wall in diameter.curve if wall.fits]
        strength = bar_strength(diameter, case)
        if passing and (strength is None or strength < max(passing)):
            weaker.append((diameter, strength))
    if not weaker:
        return
    units = case.display
    strengths = ", ".join(
        f"{'not known' if strength is None else units.stress.text(strength)}"
        f" at Ø {units.length.text(diameter.outside_diameter)}"
        for diameter, strength in weaker
    )
    known = [diameter for diameter, strength in weaker if strength is not None]
    judge = ""
    if known:
        listed = all(of_bars(diameter) for diameter in known)
        judge = "; stock sizes below" if listed else f"; {stock_key(case)} judges such"
    yield (
        "These walls are TUBES. Bored from bar they have the strength of the bar"
        f" ({strengths}) and may not pass{judge}."
    )


def _walls(diameter: Diameter, units: Display) -> tuple[str, str]:
    if not diameter.bands:
        return "NONE", NOTHING
    runs = [
        _size(band.least, units)
        + ("" if band.least is band.most else f" to {_size(band.most, units)}")
        for band in diameter.bands
    ]
    mass = units.mass_per_length.number(diameter.bands[0].least.mass_per_length)
    return ", ".join(runs) + (BUT if diameter.in_the_way else ""), mass


def _best(best: Best | None, units: Display) -> tuple[str, str, str]:
    if best is None:
        return NOTHING, NOTHING, NOTHING
    return _size(best.wall, units), words.pair(best.wall.concentration), passes_text(best.wall)


def _stock(diameter: Diameter, units: Display) -> tuple[str, str]:
    wall = diameter.stock.lightest
    if wall is None or wall.candidate.stock is None:
        return "NONE" if diameter.stock.walls else f"{NOTHING} (none near it)", NOTHING
    mass = units.mass_per_length.number(wall.mass_per_length)
    return wall.candidate.stock.designation + ("" if wall.passes else BUT), mass


def in_the_way(diameter: Diameter, case: Case) -> str:
    """The checks that no wall of a diameter changes and that do not pass."""
    checks = "; ".join(fails_text(check, case.display) for check in diameter.in_the_way)
    return (
        f"Ø {case.display.length.text(diameter.outside_diameter)}: WHATEVER THE WALL, NOT PASSED:"
        f" {checks}."
    )


def _infeasible(diameter: Diameter, case: Case) -> str:
    units = case.display
    head = f"Ø {units.length.text(diameter.outside_diameter)}: NO WALL PASSES"
    if diameter.closest is None:
        unsolved = all(wall.error for wall in diameter.curve)
        why = "none could be solved" if unsolved else "there is no check that a wall changes"
        return f"{head}, as {why}."
    wall = diameter.closest.wall
    size = _size(wall, units)
    closest = "the solid bar" if size == SOLID else f"{size} {units.length.name}"
    lacks = "; ".join(fails_text(check, units) for check in wall.changing if not check.passes)
    text = f"{head}. Closest is {closest}, which does not pass: {lacks}."
    if diameter.load_factor is None:
        return text
    load = units.line_load.text(diameter.load_factor * case.line_load)
    return (
        f"{text} It would pass at about {ratio_text(diameter.load_factor, 3)} of the loads, {load}."
    )


def _size(wall: Wall, units: Display) -> str:
    if wall.solid:
        return SOLID
    return significant(units.length.of(wall.wall), 4)
