"""A sizing as data: JSON and CSV.

For programs, lengths are in mm, stresses in MPa, line loads in N/mm and masses in kg/m, whatever
units the case asks for; the sentences of the answer are in those.
"""

import csv
from pathlib import Path

from contactfe.assess.checks import Check
from contactfe.assess.sizing.candidates import contacts_of
from contactfe.assess.sizing.record import PLACES, Band, Best, Diameter, SizingResult, Wall
from contactfe.assess.sizing.search import TOLERANCE
from contactfe.assess.value import Value
from contactfe.case import Case, Contact
from contactfe.report import words
from contactfe.report.json_file import Json, case_path, finite, head
from contactfe.report.sizing_words import answer
from contactfe.report.values import pair, pair_heads
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
            "contacts": [_contact(contact) for contact in contacts_of(case)],
        },
        "checks": list(result.checks),
        "tolerance": TOLERANCE,
        "diameters": [_diameter(d, case) for d in result.diameters],
        "solved": result.solved,
        "solved_on_both_levels": result.solved_fine,
        "satisfied": result.satisfied,
        "load_check": None if result.load is None else check_data(result.load),
        "open_items": open_data(result.open_items),
        "cautions": list(words.cautions(case)),
    }


def write_csv(result: SizingResult, path: Path) -> None:
    """Write a line for each wall and stock size, under one that names the columns and units.

    Raises OSError where the file cannot be written.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(_columns(result.case))
        for diameter in result.diameters:
            for wall in (*diameter.curve, *diameter.stock.walls):
                table.writerow(_cells(wall, diameter, result.case))


def _diameter(diameter: Diameter, case: Case) -> Json:
    stock = diameter.stock
    return {
        "outside_diameter": diameter.outside_diameter,
        "least_bore": diameter.least_bore,
        "satisfied": diameter.feasible,
        "unchanging_checks": [_check(check) for check in diameter.unchanging],
        "passing": [_band(band) for band in diameter.bands],
        "smallest_wall": None if diameter.smallest is None else diameter.smallest.least.wall,
        "least_concentration": None if diameter.best is None else _best(diameter.best),
        "closest_to_passing": None if diameter.closest is None else _best(diameter.closest),
        "load_factor_to_pass": diameter.load_factor,
        "walls": [_wall(wall) for wall in diameter.curve],
        "stock": {
            "walls": [_wall(wall) for wall in stock.walls],
            "lightest": None if stock.lightest is None else _name(stock.lightest),
            "least_concentration": (
                None if stock.least_concentration is None else _name(stock.least_concentration)
            ),
        },
        "catalogue": [
            {
                "list": near.listed_in,
                "outside_diameter": near.outside_diameter,
                "least_bore_ratio": near.least_bore_ratio,
                "size": near.designation,
            }
            for near in diameter.catalogue
        ],
        "answer": " ".join(answer(diameter, case)),
    }


def _band(band: Band) -> Json:
    return {
        "from": band.least.wall,
        "to": band.most.wall,
        "fails_below": None if band.below is None else band.below.wall,
        "fails_above": None if band.above is None else band.above.wall,
    }


def _best(best: Best) -> Json:
    return {
        "wall": best.wall.wall,
        "lies_between": [best.low.wall, best.high.wall],
        "not_parted_from": [best.alike_from, best.alike_to],
        **pair("stress_concentration", best.wall.concentration),
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
        "passes_what_walls_change": wall.fits,
        "solved_on_both_levels": wall.solved_fine,
        "yield_strength": wall.yield_strength if solved else None,
        "places": {
            name: pair("peak_von_mises", value)
            for name, value in zip(PLACES, wall.places or (None,) * len(PLACES), strict=True)
        },
        **pair("post_peak_von_mises", wall.post if solved else None),
        "post_zone": wall.post_zone or None,
        "post_worst_contact": wall.post_at if solved else None,
        **pair("plate_peak_von_mises", wall.plate if solved else None),
        "plate_zone": wall.plate_zone or None,
        "plate_worst_contact": wall.plate_at if solved else None,
        **pair("stress_concentration", wall.concentration if solved else None),
        **pair("post_utilisation", wall.post_utilisation if solved else None),
        **pair("plate_utilisation", wall.plate_utilisation if solved else None),
        **pair("first_yield_line_load", wall.first_yield),
        "first_yield_body": None if wall.first_yield is None else wall.first_body,
        "governing_place": wall.place if solved else None,
        "checks": [_check(check) for check in wall.checks],
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


def _contact(contact: Contact) -> Json:
    return {"offset": contact.offset, "angle": contact.angle, "friction": contact.friction}


def _name(wall: Wall) -> str | None:
    """Designation of a stock size; None for any other wall."""
    stock = wall.candidate.stock
    return None if stock is None else stock.designation


def _columns(case: Case) -> list[str]:
    specimen = [] if case.scale is None else ["specimen wall [mm]", "specimen diameter [mm]"]
    return [
        "sized diameter [mm]", "stock size", "outside diameter [mm]", "wall [mm]",
        "wall over diameter [1]", "bore over diameter [1]", *specimen, "mass [kg/m]",
        "passes [yes/no]", "governing check", "governing ratio [1]", "governing place",
        *(
            column
            for place in PLACES
            for column in pair_heads(f"{place} peak von Mises", "MPa")
        ),
        *pair_heads("plate peak von Mises", "MPa"), *pair_heads("K", "1"),
        *pair_heads("post utilisation", "1"), *pair_heads("plate utilisation", "1"),
        *pair_heads("line load at first yield", "N/mm"), "yields first",
        "solved on both levels [yes/no]", "error",
        "passes what walls change [yes/no]",
    ]  # fmt: skip


def _cells(wall: Wall, diameter: Diameter, case: Case) -> list[object]:
    D, scale = wall.outside_diameter, case.scale
    begin = [
        diameter.outside_diameter, _name(wall) or "", D, wall.wall, wall.share, wall.bore_ratio,
        *([] if scale is None else [scale * wall.wall, scale * D]), wall.mass_per_length,
        "yes" if wall.passes else "no",
    ]  # fmt: skip
    governing = wall.governing
    if governing is None:
        return [*begin, *[""] * (len(_columns(case)) - len(begin) - 2), wall.error, "no"]
    return [
        *begin, governing.label, governing.most, wall.place,
        *(cell for value in wall.places for cell in _both(value)), *_both(wall.plate),
        *_both(wall.concentration), *_both(wall.post_utilisation), *_both(wall.plate_utilisation),
        *_both(wall.first_yield), "" if wall.first_yield is None else wall.first_body,
        "yes" if wall.solved_fine else "no", "",
        "yes" if wall.fits else "no",
    ]  # fmt: skip


def _both(value: Value | None) -> tuple[object, object]:
    return ("", "") if value is None else (value.value, value.uncertainty)
