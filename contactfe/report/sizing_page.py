"""A sizing as a page: the answer in short, then each diameter: its curve, and stock near it."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from contactfe.assess.sizing.record import Diameter, SizingResult, Wall
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.case.scaling import ratio
from contactfe.report import words
from contactfe.report.answer import Room, answer_page, spared
from contactfe.report.blocks import (
    GAP,
    Block,
    Column,
    Heading,
    Line,
    Page,
    Row,
    Table,
    framed,
    lines,
    numbers,
    texts,
)
from contactfe.report.check_names import BUT, short, spelled_out
from contactfe.report.sizing_words import answer, in_short, stock_size
from contactfe.report.specimen import scaled_number, specimen
from contactfe.report.verdicts import open_lines, stop_lines, verdict_lines

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

NOTHING = "–"
"""In place of a figure that there is not."""


def sizing_page(result: SizingResult) -> Page:
    """The whole sizing."""
    case = result.case
    return framed(
        case.title,
        words.cautions(case),
        Line(words.how_held(case)),
        *lines(_judged_by(result)),
        *_answer(result),
        *(block for diameter in result.diameters for block in _diameter(diameter, case)),
        Heading("Notes"),
        *lines(_notes(result)),
    )


def sizing_answer(result: SizingResult) -> Page:
    """The walls of each diameter that pass, and the stock size; what none passes, what is open."""
    case = result.case

    def blocks(room: Room) -> Iterator[Block]:
        first = next(iter(_answer(result)))
        assert isinstance(first, Table)
        yield spared(first, 6, room.rows)
        tried = [line for of in result.diameters for line in in_short(of, case)]
        yield from lines(tried[: room.named], "bad")
        if len(tried) > room.named:
            yield Line(f"{len(tried) - room.named} more lines on diameters are left out.")
        yield from verdict_lines(case, (), result.of_stop, result.open_items, room.named)

    return answer_page(case.title, words.how_held(case), blocks)


def _judged_by(result: SizingResult) -> Iterator[str]:
    yield f"Checks that count: {'; '.join(CHECKS[check] for check in result.checks)}."
    if result.contacts > 1:
        yield (
            f"Every wall is judged at all {result.contacts} contacts of [envelope]; figures are the"
            " worst of them."
        )


def _answer(result: SizingResult) -> Iterator[Block]:
    """A row a diameter; what none passes; the load, and what is open whatever the wall."""
    case, units = result.case, result.case.display
    length, mass = units.length.name, units.mass_per_length.name
    stocked = any(diameter.stock.walls for diameter in result.diameters)
    columns = (
        *numbers(f"Ø\n[{length}]"),
        *texts(f"walls that pass,\nthe smallest first\n[{length}]"),
        *numbers(f"mass of the\nsmallest\n[{mass}]", f"wall of\nleast K\n[{length}]", "K\n[1]"),
        *texts("that wall\npasses"),
    )
    if stocked:
        columns += texts("lightest stock size that passes", folds=True)
        columns += numbers(f"its mass\n[{mass}]")
    rows = tuple(_in_short(diameter, units, stocked) for diameter in result.diameters)
    yield Table(columns, (rows,), "Answer")
    for diameter in result.diameters:
        yield from lines(in_short(diameter, case), "bad")
    yield GAP
    yield from stop_lines(result.of_stop, units)
    yield from open_lines(case, result.open_items)


def _in_short(diameter: Diameter, units: Display, stocked: bool) -> Row:
    """Walls that pass and the mass of the smallest; that of least K; the lightest stock size."""
    length, mass = units.length, units.mass_per_length
    row = [length.number(diameter.outside_diameter), "NONE", *[NOTHING] * 4]
    if diameter.passing:
        ends = ((_size(band.least, length), _size(band.most, length)) for band in diameter.passing)
        row[1] = ", ".join(" to ".join(dict.fromkeys(both)) for both in ends)
        row[1] += BUT if diameter.in_the_way else ""
        row[2] = mass.number(diameter.passing[0].least.mass_per_length)
    if diameter.least_concentration is not None:
        wall = diameter.least_concentration.wall
        row[3:] = _size(wall, length), words.pair(wall.stress_concentration), _passes(wall)
    if not stocked:
        return row
    lightest = diameter.stock.lightest
    if lightest is None:
        return [*row, "NONE" if diameter.stock.walls else f"{NOTHING} (none near it)", NOTHING]
    name = stock_size(lightest).designation + ("" if lightest.passes else BUT)
    return [*row, name, mass.number(lightest.mass_per_length)]


def _size(wall: Wall, length: Unit, scale: float = 1.0) -> str:
    return "solid" if wall.solid else significant(length.of(scale * wall.wall), 4)


def _passes(wall: Wall) -> str:
    """Whether a wall passes, marked where it does but for what no wall changes."""
    return "yes" if wall.passes else f"yes{BUT}" if wall.passes_what_walls_change else "NO"


def _diameter(diameter: Diameter, case: Case) -> Iterator[Block]:
    outside = case.display.length.text(diameter.outside_diameter)
    if case.scale is not None:
        of = scaled_number(diameter.outside_diameter, "length", case.scale, case.display)
        outside += f" ({specimen(case.scale)}: {of} {case.display.length.name})"
    yield Heading(f"Outside diameter {outside}")
    yield from lines(answer(diameter, case))
    shown, every = _shown(diameter), len(diameter.walls)
    less = f"{len(shown)} of {every} walls are shown; contactfe size lists all."
    yield Table(
        _columns(case), (_rows(shown, diameter, case),), "Walls", less if len(shown) < every else ""
    )
    if diameter.stock.walls:
        columns = _columns(case, stocked=True)
        groups: list[tuple[Row, ...]] = []
        for (listed_in, size), walls in groupby(diameter.stock.walls, key=_list):
            name = Line(f"{listed_in},\nØ {case.display.length.text(size)}:", "strong")
            first: Row = ("", name, *[""] * (len(columns) - 2))
            groups.append((first, *_rows(walls, diameter, case)))
        yield Table(columns, tuple(groups), "Stock sizes")
        yield from lines(_unsolved(diameter.stock.walls))


def _shown(diameter: Diameter) -> tuple[Wall, ...]:
    walls = diameter.walls
    if len(walls) <= MOST_ROWS:
        return walls
    step = -(-len(walls) // MOST_ROWS)
    marked = {id(wall) for wall in walls if _mark(wall, diameter)}
    return tuple(
        wall for number, wall in enumerate(walls)
        if number % step == 0 or number == len(walls) - 1 or id(wall) in marked
    )  # fmt: skip


def _list(wall: Wall) -> tuple[str, float]:
    return stock_size(wall).listed_in, wall.outside_diameter


def _columns(case: Case, *, stocked: bool = False) -> tuple[Column, ...]:
    """Those of walls; of stock sizes, which have a name and do not scale."""
    units = case.display
    length, stress, load = units.length.name, units.stress.name, units.line_load.name
    sizes = [f"wall\n[{length}]"]
    if case.scale is not None and not stocked:
        sizes.append(f"wall\nat {ratio(case.scale)}\n[{length}]")
    return (
        *texts("", *(["size"] if stocked else []), folds=True),
        *numbers(
            *sizes, "bore\n/ Ø\n[1]", f"contact\nzone\n[{stress}]", f"bore\nunder load\n[{stress}]",
            f"bore at\nside\n[{stress}]", f"plate\n[{stress}]", "K\n[1]",
            f"first\nyield\n[{load}]", f"mass\n[{units.mass_per_length.name}]",
        ),
        *texts("pass", "governs", folds=True),
        *numbers("ratio\n[1]"),
    )  # fmt: skip


def _rows(walls: Iterable[Wall], diameter: Diameter, case: Case) -> tuple[Row, ...]:
    return tuple((_mark(wall, diameter), *_cells(wall, case)) for wall in walls)


def _cells(wall: Wall, case: Case) -> Row:
    units, stock, governing = case.display, wall.candidate.stock, wall.governing
    begin = [] if stock is None else [stock.designation.removeprefix(f"{stock.listed_in} ")]
    begin.append(_size(wall, units.length))
    if case.scale is not None and stock is None:
        begin.append(_size(wall, units.length, case.scale))
    begin.append(f"{wall.bore_ratio:.3f}")
    mass = units.mass_per_length.number(wall.mass_per_length)
    load = _pair(wall.first_yield_line_load, units.line_load) or words.BEYOND
    if governing is None:
        return (*begin, *[""] * 6, mass, "NO", "not solved", "")
    plate_first = wall.first_yield_line_load is not None and wall.first_yield_body == "plate"
    return (
        *begin, *(_pair(of, units.stress) for of in (*wall.places[:3], wall.plate_peak_von_mises)),
        _pair(wall.stress_concentration),
        load + (" p" if plate_first else ""), mass,
        _passes(wall) + ("*" if wall.passes_what_walls_change and wall.silent else ""),
        short(governing),
        ("" if governing.ratio is None else words.ratio_text(governing.most))
        + ("!" if governing.exceeded else ""),
    )  # fmt: skip


def _unsolved(walls: Sequence[Wall]) -> Iterator[str]:
    """Why stock sizes were not solved, a reason once."""
    why: dict[str, list[str]] = {}
    for wall in walls:
        if wall.error and wall.candidate.stock is not None:
            why.setdefault(wall.error, []).append(wall.candidate.stock.designation)
    for error, names in why.items():
        yield f"Not solved, {'; '.join(names)}: {error}."


def _pair(value: Value | None, unit: Unit | None = None) -> str:
    """A figure with its uncertainty, without spaces about ±: columns are many, and narrow."""
    return "" if value is None else words.pair(value, unit).replace(" ± ", "±")


def _mark(wall: Wall, diameter: Diameter) -> str:
    """The letters of what it is the answer to."""
    stock, best, closest = diameter.stock, diameter.least_concentration, diameter.closest_to_passing
    answers = {
        "S": (*(band.least for band in diameter.passing), stock.lightest),
        "L": tuple(band.most for band in diameter.passing),
        "K": (best and best.wall, stock.least_concentration),
        "C": (closest and closest.wall,),
    }
    return "".join(key for key, walls in answers.items() if any(wall is one for one in walls))


def _limits(walls: Sequence[Wall]) -> Iterator[str]:
    """Which walls are judged within their limits, by what, and which are not."""
    made = [wall for wall in walls if wall.limits is not None]
    if made:
        yield (
            "Within their limits: a tube is solved with its least wall and greatest diameter and"
            " with its greatest wall and least diameter too, and passes only if all three do; first"
            " yield, the places of stress, clauses and formulas are of nominal sizes, whose"
            " resistances have their own share of the wall."
        )
    if any(wall.limits is None and not wall.solid and not wall.error for wall in walls):
        yield "No limits are known of the other tubes: they are solved at their nominal wall alone."


def _notes(result: SizingResult) -> Iterator[str]:
    everything = [w for d in result.diameters for w in (*d.walls, *d.stock.walls)]
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
    named = [wall.governing for wall in everything if wall.governing is not None]
    for diameter in result.diameters:
        named += diameter.in_the_way
        if not diameter.passing and diameter.closest_to_passing is not None:
            named += [
                check for check in diameter.closest_to_passing.wall.changing if not check.passes
            ]
    yield from (f"  {line}." for line in spelled_out(named))
    yield (
        "K: peak von Mises stress of the post over line load / Ø. First yield: line load at which"
        " the yield strength itself is reached, all loads growing together; p: the plate yields"
        " first, else the post."
    )
    both = result.solved_on_both_levels
    yield (
        "±: numerical uncertainty, which verdicts count against the wall. The answers and a few"
        f" walls between are solved on two meshes ({both} of {result.solved});"
        " for the others the difference of the two is taken over from those beside them."
    )
    if result.case.alignment is not None:
        yield (
            "Every wall is solved at the peak of its line load along the post; K and the line load"
            " at first yield go by the mean. Peak over mean is taken as it stands where first yield"
            " is sought: under another force another part of the post meets the plate."
        )
    yield from _limits(everything)
    if any(diameter.in_the_way for diameter in result.diameters):
        yield f"{BUT}: passes all but the checks that no wall of that diameter changes."
    if any(wall.passes_what_walls_change and wall.silent for wall in everything):
        yield (
            "*: a clause or formula does not cover the numbers and gives no verdict; contactfe size"
            " lists which."
        )
    stocks = (stock for wall in everything if (stock := wall.candidate.stock) is not None)
    yield from dict.fromkeys(f"{of.listed_in}: {of.source}. {of.note}" for of in stocks)
    by = (f"Limits by {wall.limits.source}." for wall in everything if wall.limits is not None)
    yield from dict.fromkeys(by)
