"""A sizing as text: the answer for each diameter, the curve, and the stock sizes near it."""

from collections.abc import Iterator
from pathlib import Path

from rich import box
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.results import Value
from contactfe.assess.sizing.record import Diameter, Judged, SizingResult, Wall
from contactfe.case import Case
from contactfe.case.display import Unit, significant
from contactfe.report import words
from contactfe.report.page import print_page, write_page
from contactfe.report.sizing_words import answer
from contactfe.report.specimen import scaled_number, specimen

MOST_ROWS = 24
"""Rows of a curve up to which all are printed; of more, the answers and every so manieth. The CSV
file has them all."""

CHECKS = {
    "stress": "the solved von Mises stress of post and plate, with the margin asked for and the"
    " numerical uncertainty",
    "post": "the stresses of the post along its axis by hand",
    "clauses": "every clause of the standards applied",
    "hand": "every other stress by hand",
}

_MARKS = {"smallest": "S", "largest": "L", "best": "K", "closest": "C"}


def print_sizing(result: SizingResult, console: Console) -> None:
    """Print the sizing at its full width, whatever the width of the console."""
    print_page(sizing_page(result), console)


def write_sizing_table(result: SizingResult, path: Path) -> None:
    """Write the sizing as plain text in UTF-8. Raises OSError where that cannot be done."""
    write_page(sizing_page(result), path)


def sizing_page(result: SizingResult) -> RenderableType:
    """The whole sizing for a rich console as wide as ``page.WIDTH``; readable without colour."""
    case = result.case
    parts: list[RenderableType] = [
        Text(words.one_line(case.title), style="bold"),
        Text(f"{words.how_held(case)}"),
        Text(f"Checks that count: {'; '.join(CHECKS[check] for check in result.checks)}."),
    ]
    if result.contacts > 1:
        parts.append(
            Text(f"Every wall is judged at all {result.contacts} contacts of [envelope]; figures"
                 " are the worst of them.")
        )  # fmt: skip
    for diameter in result.diameters:
        parts += _diameter(diameter, result)
    parts += [Text(f"Caution: {line}") for line in words.CAUTIONS]
    return Group(*parts)


def _diameter(diameter: Diameter, result: SizingResult) -> Iterator[RenderableType]:
    case = result.case
    outside = case.display.length.text(diameter.outside_diameter)
    if case.scale is not None:
        of = scaled_number(diameter.outside_diameter, "length", case.scale, case.display)
        outside += f" ({specimen(case.scale)}: {of} {case.display.length.name})"
    yield Text(f"\nOutside diameter {outside}", style="bold")
    for sentence in answer(diameter, case):
        yield Text(sentence)
    yield Text("")
    yield _table(_shown(diameter), case, diameter, "Walls")
    if diameter.stock.walls:
        yield Text("")
        yield _table(diameter.stock.walls, case, diameter, "Stock sizes")
        yield from _sources(diameter)
    yield Text("\n" + "\n".join(_notes(diameter, result)) + "\n", style="dim")


def _shown(diameter: Diameter) -> tuple[Wall, ...]:
    walls = diameter.curve
    if len(walls) <= MOST_ROWS:
        return walls
    step = -(-len(walls) // MOST_ROWS)
    marked = {id(wall) for wall in walls if _mark(wall, diameter)}
    return tuple(
        wall for number, wall in enumerate(walls)
        if number % step == 0 or number == len(walls) - 1 or id(wall) in marked
    )  # fmt: skip


def _table(walls: tuple[Wall, ...], case: Case, diameter: Diameter, title: str) -> Table:
    units = case.display
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False,
        title=Text(title, style="bold"), title_justify="left",
    )  # fmt: skip
    table.add_column("")
    stocked = title != "Walls"
    if stocked:
        table.add_column(Text("size"), overflow="fold", max_width=24)
    right = [f"wall\n\n[{units.length.name}]"]
    if case.scale is not None:
        right.append(f"{specimen(case.scale)}\nwall\n[{units.length.name}]")
    stress, load = units.stress.name, units.line_load.name
    right += [
        "bore\n/ Ø\n[1]", f"contact\nzone\n[{stress}]", f"bore\nunder load\n[{stress}]",
        f"bore at\nside\n[{stress}]", f"plate\n\n[{stress}]", "K\n\n[1]",
        f"line load at\nfirst yield\n[{load}]", f"mass\n\n[{units.mass_per_length.name}]",
    ]  # fmt: skip
    for header in right:
        table.add_column(Text(header), justify="right")
    table.add_column("passes")
    table.add_column(Text("governs\n(ratio, not above 1)"), overflow="fold")
    for wall in walls:
        table.add_row(*map(Text, _cells(wall, case, diameter, stocked)))
    return table


def _cells(wall: Wall, case: Case, diameter: Diameter, stocked: bool) -> list[str]:
    units = case.display
    solid = wall.candidate.section.wall is None
    cells = [_mark(wall, diameter)]
    if stocked and wall.candidate.stock is not None:
        cells.append(wall.candidate.stock.designation)
    cells.append("solid" if solid else significant(units.length.of(wall.wall), 4))
    if case.scale is not None:
        at_scale = scaled_number(wall.wall, "length", case.scale, units)
        cells.append("solid" if solid else at_scale)
    cells.append(f"{wall.bore_ratio:.3f}")
    mass = units.mass_per_length.number(wall.mass_per_length)
    governing = wall.governing
    if governing is None:
        return [*cells, *["not solved"], *[""] * 5, mass, "NO", wall.error]
    contact, under, side = wall.places[:3]
    scope = "" if governing.covers else ", out of range"
    return [
        *cells, _pair(contact, units.stress), _pair(under, units.stress),
        _pair(side, units.stress), _pair(wall.plate, units.stress), _pair(wall.concentration),
        words.BEYOND if wall.first_yield is None else _yield(wall, units.line_load),
        mass, ("yes*" if wall.uncovered else "yes") if wall.passes else "NO",
        f"{_short(governing)} ({significant(governing.ratio, 4)}{scope})",
    ]  # fmt: skip


def _short(check: Judged) -> str:
    return check.label.replace("von Mises stress of the ", "stress in the ")


def _yield(wall: Wall, unit: Unit) -> str:
    return _pair(wall.first_yield, unit) + (" p" if wall.first_body == "plate" else "")


def _pair(value: Value | None, unit: Unit | None = None) -> str:
    return "" if value is None else words.pair(value, unit)


def _mark(wall: Wall, diameter: Diameter) -> str:
    marks = ""
    for band in diameter.bands:
        marks += _MARKS["smallest"] if wall is band.least else ""
        marks += _MARKS["largest"] if wall is band.most else ""
    if diameter.best is not None and wall is diameter.best.wall:
        marks += _MARKS["best"]
    if diameter.closest is not None and wall is diameter.closest.wall:
        marks += _MARKS["closest"]
    stock = diameter.stock
    marks += _MARKS["smallest"] if wall is stock.lightest else ""
    marks += _MARKS["best"] if wall is stock.least_concentration else ""
    return marks


def _notes(diameter: Diameter, result: SizingResult) -> Iterator[str]:
    yield (
        "S: smallest wall that passes, or lightest stock size; L: largest that passes; K: least"
        " stress concentration; C: closest to passing."
    )
    yield (
        "K: peak von Mises stress of the post over line load / Ø. p: the plate yields first, else"
        " the post. First yield: yield strength itself, loads growing together."
    )
    yield (
        "±: numerical uncertainty. The answers and a few walls between are solved on two meshes;"
        " for the others the difference of the two is"
    )
    yield (
        f"taken over from those beside them ({result.solved_fine} of {result.solved} were solved on"
        " both). Verdicts count it against the wall."
    )
    if result.case.along is not None:
        yield (
            "Every wall is solved at the peak of its line load along the post; K and the line load"
            " at first yield go by the mean."
        )
    if diameter.stock.walls:
        yield "Stock sizes are solved at their nominal wall, without what it may fall short by."
    if any(wall.passes and wall.uncovered for wall in (*diameter.curve, *diameter.stock.walls)):
        yield (
            "*: a clause or formula that counts does not cover the numbers and gives no verdict;"
            " size.json has which."
        )
    if len(diameter.curve) > MOST_ROWS:
        yield f"Not all of {len(diameter.curve)} walls are shown; size.csv has them."


def _sources(diameter: Diameter) -> Iterator[Text]:
    found: dict[str, None] = {}
    for wall in diameter.stock.walls:
        stock = wall.candidate.stock
        assert stock is not None
        found.setdefault(f"{stock.listed_in}: {stock.source}. {stock.note}")
    for line in found:
        yield Text(line, style="dim")
