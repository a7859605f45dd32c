"""A sizing as text: the answer in short, then each diameter: its curve, and stock sizes near it."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from rich import box
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from contactfe.assess.checks import Check
from contactfe.assess.sizing.record import Diameter, SizingResult, Wall
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Unit, significant
from contactfe.case.scaling import ratio
from contactfe.report import words
from contactfe.report.page import print_page, write_page
from contactfe.report.sizing_checks import BUT, passes_text, ratio_text, short, spelled_out
from contactfe.report.sizing_summary import summary
from contactfe.report.sizing_words import answer
from contactfe.report.specimen import scaled_number, specimen
from contactfe.report.verdicts import load_line, open_lines

MOST_ROWS = 24
"""Rows of a curve up to which all are printed; of more, the answers and walls at even steps. The
CSV file has them all."""

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
        Text(words.how_held(case)),
        Text(f"Checks that count: {'; '.join(CHECKS[check] for check in result.checks)}."),
    ]
    if result.contacts > 1:
        parts.append(
            Text(f"Every wall is judged at all {result.contacts} contacts of [envelope]; figures"
                 " are the worst of them.")
        )  # fmt: skip
    parts += [Text(""), *summary(result), Text(""), *beside_answer(result)]
    for diameter in result.diameters:
        parts += _diameter(diameter, case)
    parts += [Text("\nNotes", style="bold"), *map(Text, _notes(result)), Text("")]
    parts += [Text(f"Caution: {line}") for line in words.cautions(case)]
    return Group(*parts)


def beside_answer(result: SizingResult) -> Iterator[Text]:
    """The load, and what is open whatever the wall."""
    if result.load is not None:
        yield load_line(result.load, result.case.display)
    yield from open_lines(result.case, result.open_items)


def _diameter(diameter: Diameter, case: Case) -> Iterator[RenderableType]:
    outside = case.display.length.text(diameter.outside_diameter)
    if case.scale is not None:
        of = scaled_number(diameter.outside_diameter, "length", case.scale, case.display)
        outside += f" ({specimen(case.scale)}: {of} {case.display.length.name})"
    yield Text(f"\nOutside diameter {outside}", style="bold")
    for sentence in answer(diameter, case):
        yield Text(sentence)
    yield Text("")
    shown = _shown(diameter)
    yield _table(shown, case, diameter, stocked=False)
    if len(shown) < len(diameter.curve):
        yield Text(f"{len(shown)} of {len(diameter.curve)} walls are shown; size.csv has all.")
    if diameter.stock.walls:
        yield Text("")
        yield _table(diameter.stock.walls, case, diameter, stocked=True)
        yield from map(Text, _unsolved(diameter.stock.walls))


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


def _table(walls: tuple[Wall, ...], case: Case, diameter: Diameter, *, stocked: bool) -> Table:
    """The walls as rows; stock sizes list by list, below its name and diameter."""
    units = case.display
    table = Table(
        box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False,
        title=Text("Stock sizes" if stocked else "Walls", style="bold"), title_justify="left",
    )  # fmt: skip
    table.add_column("")
    length, stress, load = units.length.name, units.stress.name, units.line_load.name
    right = [f"wall\n\n[{length}]"]
    if case.scale is not None and not stocked:  # sizes of stock do not scale
        right.append(f"wall\nat {ratio(case.scale)}\n[{length}]")
    right += [
        "bore\n/ Ø\n[1]", f"contact\nzone\n[{stress}]", f"bore\nunder load\n[{stress}]",
        f"bore at\nside\n[{stress}]", f"plate\n\n[{stress}]", "K\n\n[1]",
        f"first\nyield\n[{load}]", f"mass\n\n[{units.mass_per_length.name}]",
    ]  # fmt: skip
    if stocked:
        table.add_column("size", overflow="fold")
    for header in right:
        table.add_column(Text(header), justify="right")
    table.add_column("pass")
    table.add_column("governs", overflow="fold")
    table.add_column(Text("ratio\n\n[1]"), justify="right")
    above: tuple[str, float] | None = None
    for wall in walls:
        stock = wall.candidate.stock
        if stocked and stock is not None:
            at = (stock.listed_in, stock.outside_diameter)
            if at != above:
                above = at
                heading = f"{at[0]},\nØ {units.length.text(at[1])}:"
                table.add_row("", Text(heading, style="bold"))
        table.add_row(*map(Text, _cells(wall, case, diameter, stocked)))
    return table


def _cells(wall: Wall, case: Case, diameter: Diameter, stocked: bool) -> list[str]:
    units, stock = case.display, wall.candidate.stock
    solid = wall.solid
    cells = [_mark(wall, diameter)]
    if stocked and stock is not None:
        cells.append(stock.designation.removeprefix(f"{stock.listed_in} "))
    cells.append("solid" if solid else significant(units.length.of(wall.wall), 4))
    if case.scale is not None and not stocked:
        at_scale = significant(units.length.of(case.scale * wall.wall), 4)
        cells.append("solid" if solid else at_scale)
    cells.append(f"{wall.bore_ratio:.3f}")
    mass = units.mass_per_length.number(wall.mass_per_length)
    governing = wall.governing
    if governing is None:
        return [*cells, *[""] * 6, mass, "NO", "not solved", ""]
    contact, under, side = wall.places[:3]
    return [
        *cells, _pair(contact, units.stress), _pair(under, units.stress),
        _pair(side, units.stress), _pair(wall.plate, units.stress), _pair(wall.concentration),
        words.BEYOND if wall.first_yield is None else _yield(wall, units.line_load),
        mass, passes_text(wall) + ("*" if wall.fits and wall.silent else ""), short(governing),
        ("" if governing.ratio is None else ratio_text(governing.most))
        + ("!" if governing.exceeded else ""),
    ]  # fmt: skip


def _unsolved(walls: tuple[Wall, ...]) -> Iterator[str]:
    """Why stock sizes were not solved, a reason once."""
    why: dict[str, list[str]] = {}
    for wall in walls:
        if wall.error and wall.candidate.stock is not None:
            why.setdefault(wall.error, []).append(wall.candidate.stock.designation)
    for error, names in why.items():
        yield f"Not solved, {'; '.join(names)}: {error}."


def _yield(wall: Wall, unit: Unit) -> str:
    return _pair(wall.first_yield, unit) + (" p" if wall.first_body == "plate" else "")


def _pair(value: Value | None, unit: Unit | None = None) -> str:
    """A figure with its uncertainty, without spaces about ±: columns are many, and narrow."""
    return "" if value is None else words.pair(value, unit).replace(" ± ", "±")


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


def _notes(result: SizingResult) -> Iterator[str]:
    everything = [w for d in result.diameters for w in (*d.curve, *d.stock.walls)]
    yield (
        "S: smallest wall that passes, or lightest stock size; L: largest that passes; K: least"
        " stress concentration; C: closest to passing."
    )
    ranged = any(w.governing is not None and w.governing.exceeded for w in everything)
    yield (
        "Governs: of the checks that the wall changes the one of the largest ratio, of those that"
        " do not pass where there are any; its ratio is not to exceed 1."
        + (" !: outside the range of its formula or clause." if ranged else "")
    )
    yield from (f"  {line}." for line in spelled_out(_named(result, everything)))
    yield (
        "K: peak von Mises stress of the post over line load / Ø. First yield: line load at which"
        " the yield strength itself is reached, all loads growing together; p: the plate yields"
        " first, else the post."
    )
    yield (
        "±: numerical uncertainty, which verdicts count against the wall. The answers and a few"
        f" walls between are solved on two meshes ({result.solved_fine} of {result.solved}); for"
        " the others the difference of the two is taken over from those beside them."
    )
    if result.case.alignment is not None:
        yield (
            "Every wall is solved at the peak of its line load along the post; K and the line load"
            " at first yield go by the mean. Peak over mean is taken as it stands where first yield"
            " is sought: under another force another part of the post meets the plate."
        )
    if any(d.stock.walls for d in result.diameters):
        yield "Stock sizes are solved at their nominal wall, without what it may fall short by."
    if any(diameter.in_the_way for diameter in result.diameters):
        yield f"{BUT}: passes all but the checks that no wall of that diameter changes."
    if any(wall.fits and wall.silent for wall in everything):
        yield (
            "*: a clause or formula does not cover the numbers and gives no verdict; size.json has"
            " which."
        )
    yield from _sources(everything)


def _named(result: SizingResult, walls: Sequence[Wall]) -> Iterator[Check]:
    """The checks that the page names in short: in its tables, and where nothing passes."""
    yield from (wall.governing for wall in walls if wall.governing is not None)
    for diameter in result.diameters:
        yield from diameter.in_the_way
        if not diameter.bands and diameter.closest is not None:
            yield from (check for check in diameter.closest.wall.changing if not check.passes)


def _sources(walls: Sequence[Wall]) -> Iterator[str]:
    """Where the lists of sizes are from, and what they leave open, a list once."""
    stocks = (stock for wall in walls if (stock := wall.candidate.stock) is not None)
    yield from dict.fromkeys(f"{at.listed_in}: {at.source}. {at.note}" for at in stocks)
