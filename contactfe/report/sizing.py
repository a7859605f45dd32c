"""The files of a sizing: its page, a figure, JSON and CSV, and a record of trials, which grows.

In JSON lengths are in mm, stresses in MPa, line loads in N/mm and masses in kg/m, whatever units
the case asks for; the CSV file and the sentences of the answer are in those.
"""

from dataclasses import asdict
from pathlib import Path

from contactfe.assess.checks import WALLS, Check
from contactfe.assess.results import AsMade
from contactfe.assess.sizing.candidates import contacts_of
from contactfe.assess.sizing.record import PLACES, Band, Best, Diameter, SizingResult, Wall
from contactfe.assess.sizing.search import TOLERANCE
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.csv_file import Column, both, columns_of, write_csv
from contactfe.report.figures import save_figures
from contactfe.report.folder import ResultsFolder
from contactfe.report.json_file import Json, case_path, finite, head
from contactfe.report.output import Output
from contactfe.report.record import add
from contactfe.report.sizing_page import sizing_answer, sizing_page
from contactfe.report.sizing_record import TRIALS, owner, trial_record
from contactfe.report.sizing_words import answer
from contactfe.report.tolerance import tolerance_data
from contactfe.report.values import pair
from contactfe.report.verdicts import check_data, open_data


def sizing_document(result: SizingResult) -> Json:
    """The whole result as a dictionary that ``json`` can write; no value is NaN or infinite.

    Every wall has every key; one that was not solved has null and says why in ``error``.
    """
    case = result.case
    return {
        **head(case.title),
        "case": {
            "path": case_path(case),
            "line_load": case.line_load,
            "state": case.state,
            "post_held_by": case.held_by,
            "yield_margin": case.yield_margin,
            "plate_yield_strength": case.plate_material.yield_strength,
            "scale": case.scale,
            "contacts": [asdict(contact) for contact in contacts_of(case)],
        },
        "checks": list(result.checks),
        "tolerance": TOLERANCE,
        "diameters": [_diameter(d, case) for d in result.diameters],
        "solved": result.solved,
        "solved_on_both_levels": result.solved_on_both_levels,
        "satisfied": result.satisfied,
        "load_check": next((check_data(c) for c in result.of_stop if c.key == "load"), None),
        "motion_checks": [check_data(c) for c in result.of_stop if c.key != "load"],
        "open_items": open_data(result.open_items),
        "cautions": list(words.cautions(case)),
    }


FILES = ("size.json", "size.csv", "size.txt", "size.png")
FOLDER = ResultsFolder(
    "size", FILES[0], lambda _: FILES[1:], "the sizing", record=TRIALS, owner=owner
)


def _write(result: SizingResult, draft: Path) -> None:
    walls = ((of, wall) for of in result.diameters for wall in (*of.walls, *of.stock.walls))
    write_csv(draft / "size.csv", columns(result.case.scale), walls, result.case.display)
    save_figures(result, draft)


def _keep(result: SizingResult, folder: Path) -> None:
    """Add the trials that the record lacks, so that a later run can go on from there."""
    with trial_record(result.case, folder) as record:
        there = {one.asked for one in record}
        for one in result.tried:
            if one.asked not in there:
                add(record, one)


OUTPUT = Output(FOLDER, "size.txt", sizing_answer, sizing_page, sizing_document, _write, _keep)
save_sizing = OUTPUT.save


def _diameter(diameter: Diameter, case: Case) -> Json:
    stock = diameter.stock
    return {
        "outside_diameter": diameter.outside_diameter,
        "least_bore": diameter.least_bore,
        "satisfied": diameter.satisfied,
        "unchanging_checks": [_check(check) for check in diameter.unchanging_checks],
        "passing": [_band(band) for band in diameter.passing],
        "smallest_wall": None if diameter.smallest is None else diameter.smallest.least.wall,
        "least_concentration": None
        if diameter.least_concentration is None
        else _best(diameter.least_concentration),
        "closest_to_passing": None
        if diameter.closest_to_passing is None
        else _best(diameter.closest_to_passing),
        "load_factor_to_pass": diameter.load_factor_to_pass,
        "walls": [_wall(wall) for wall in diameter.walls],
        "stock": {
            "walls": [_wall(wall) for wall in stock.walls],
            "lightest": None if stock.lightest is None else _name(stock.lightest),
            "least_concentration": (
                None if stock.least_concentration is None else _name(stock.least_concentration)
            ),
        },
        "catalogue": [
            {
                "list": near.list,
                "outside_diameter": near.outside_diameter,
                "least_bore_ratio": near.least_bore_ratio,
                "size": near.size,
            }
            for near in diameter.catalogue
        ],
        "answer": " ".join(answer(diameter, case)),
    }


def _band(band: Band) -> Json:
    return {
        "from": band.least.wall,
        "to": band.most.wall,
        "fails_below": None if band.fails_below is None else band.fails_below.wall,
        "fails_above": None if band.fails_above is None else band.fails_above.wall,
    }


def _best(best: Best) -> Json:
    return {
        "wall": best.wall.wall,
        "lies_between": [best.low.wall, best.high.wall],
        "not_parted_from": [best.alike_from, best.alike_to],
        **pair("stress_concentration", best.wall.stress_concentration),
        "passes": best.wall.passes,
        "governing": None if best.wall.governing is None else _check(best.wall.governing),
    }


def _wall(wall: Wall) -> Json:
    solved = not wall.error
    return {
        "size": _name(wall),
        "outside_diameter": wall.outside_diameter,
        "wall": wall.wall,
        "bore_ratio": wall.bore_ratio,
        "solid": wall.solid,
        "mass_per_length": wall.mass_per_length,
        "error": wall.error or None,
        "passes": wall.passes,
        "verdict": wall.verdict,
        "passes_what_walls_change": wall.passes_what_walls_change,
        "solved_on_both_levels": wall.solved_on_both_levels,
        "yield_strength": wall.yield_strength if solved else None,
        "places": {
            name: pair("peak_von_mises", value)
            for name, value in zip(PLACES, wall.places or (None,) * len(PLACES), strict=True)
        },
        **pair("post_peak_von_mises", wall.post_peak_von_mises if solved else None),
        "post_zone": wall.post_zone or None,
        "post_worst_contact": wall.post_worst_contact if solved else None,
        **pair("plate_peak_von_mises", wall.plate_peak_von_mises if solved else None),
        "plate_zone": wall.plate_zone or None,
        "plate_worst_contact": wall.plate_worst_contact if solved else None,
        **pair("stress_concentration", wall.stress_concentration if solved else None),
        **pair("post_utilisation", wall.post_utilisation if solved else None),
        **pair("plate_utilisation", wall.plate_utilisation if solved else None),
        **pair("first_yield_line_load", wall.first_yield_line_load),
        "first_yield_body": None if wall.first_yield_line_load is None else wall.first_yield_body,
        "governing_place": wall.governing_place if solved else None,
        "checks": [_check(check) for check in wall.checks],
        "tolerance": tolerance_data(wall.limits, wall.as_made),
    }


def _check(check: Check) -> Json:
    """A check; ``ratio`` has its uncertainty in it, as that is what is not to exceed 1."""
    return {
        **check_data(check),
        "ratio": finite(check.most),
        "satisfied": None if check.verdict == "no verdict" else check.passes,
        "covers": not check.exceeded,
        "beyond": [f"{limit}" for limit in check.exceeded],
    }


def _name(wall: Wall) -> str | None:
    """Designation of a stock size; None for any other wall."""
    stock = wall.candidate.stock
    return None if stock is None else stock.designation


def columns(scale: float | None = None) -> tuple[Column[tuple[Diameter, Wall]], ...]:
    """Those of the CSV file; with a scale, the sizes of the specimen too."""
    return (
        Column("sized diameter", "real", lambda pair: pair[0].outside_diameter, "length"),
        *columns_of(lambda pair: pair[1], (*_SIZE, *_specimen(scale), *_JUDGED)),
    )


def _specimen(scale: float | None) -> tuple[Column[Wall], ...]:
    if scale is None:
        return ()
    return (
        Column("specimen wall", "real", lambda wall: scale * wall.wall, "length"),
        Column("specimen diameter", "real", lambda wall: scale * wall.outside_diameter, "length"),
    )


def _solved(wall: Wall) -> Wall | None:
    return None if wall.governing is None else wall


*_FIRST_PLACES, _EDGE = PLACES  # the last came later, and is the last of all columns


def _place(name: str) -> tuple[Column[Wall], ...]:
    number = PLACES.index(name)
    return both(f"{name} peak von Mises", "stress", lambda wall: wall.places[number])


_SIZE = (
    Column[Wall]("stock size", "text", _name),
    Column[Wall]("outside diameter", "real", lambda wall: wall.outside_diameter, "length"),
    Column[Wall]("wall", "real", lambda wall: wall.wall, "length"),
    Column[Wall]("wall over diameter", "real", lambda wall: wall.share, "1"),
    Column[Wall]("bore over diameter", "real", lambda wall: wall.bore_ratio, "1"),
)

_SOLVED: tuple[Column[Wall], ...] = (
    *columns_of(
        lambda wall: wall.governing,
        (
            Column[Check]("governing check", "text", lambda check: check.label),
            Column[Check]("governing ratio", "real", lambda check: check.most, "1"),
        ),
    ),
    Column("governing place", "text", lambda wall: wall.governing_place),
    *(column for name in _FIRST_PLACES for column in _place(name)),
    *both("plate peak von Mises", "stress", lambda wall: wall.plate_peak_von_mises),
    *both("K", None, lambda wall: wall.stress_concentration),
    *both("post utilisation", None, lambda wall: wall.post_utilisation),
    *both("plate utilisation", None, lambda wall: wall.plate_utilisation),
    *both("line load at first yield", "line load", lambda wall: wall.first_yield_line_load),
    Column(
        "yields first",
        "text",
        lambda wall: wall.first_yield_body if wall.first_yield_line_load else None,
    ),
    Column("solved on both levels [yes/no]", "yes or no", lambda wall: wall.solved_on_both_levels),
)


def _made(number: int) -> tuple[Column[Wall], ...]:
    """A limit of the wall, and K there."""

    def at(wall: Wall) -> AsMade | None:
        return wall.as_made[number] if wall.as_made else None

    columns = (
        Column[AsMade](WALLS[number], "real", lambda one: one.wall, "length"),
        *both(f"K at {WALLS[number]}", None, lambda one: one.stress_concentration),
    )
    return columns_of(at, columns)


_JUDGED: tuple[Column[Wall], ...] = (
    Column("mass", "real", lambda wall: wall.mass_per_length, "mass per length"),
    Column("passes [yes/no]", "yes or no", lambda wall: wall.passes),
    *columns_of(_solved, _SOLVED),
    Column("error", "text", lambda wall: wall.error),
    Column(
        "passes what walls change [yes/no]", "yes or no", lambda wall: wall.passes_what_walls_change
    ),
    *(column for number in range(len(WALLS)) for column in _made(number)),
    *columns_of(_solved, _place(_EDGE)),
)
