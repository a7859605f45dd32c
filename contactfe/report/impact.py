"""An impact as data: JSON, and CSV of the time history.

For programs: mm, s, t, N, mm/s, N/mm and N mm, whatever units the case asks for; forces in CSV are
in kN.
"""

from __future__ import annotations

import csv
import math
from dataclasses import asdict
from pathlib import Path

from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.assess.impact_forms import Beside
from contactfe.case.motion import Motion
from contactfe.hand.formula import HELD_IN
from contactfe.hand.similitude import damper_factor, factor
from contactfe.impact.history import History
from contactfe.report.hand_document import worked_document
from contactfe.report.impact_given import given
from contactfe.report.impact_nearby import nearby_document
from contactfe.report.impact_page import CAUTIONS, no_form
from contactfe.report.json_file import Json, case_path, head

MOST_ROWS = 4000
"""Rows of a history in the CSV file; of a longer one every second, third, … time is written."""

_KILO = 1e3

_COLUMNS = {
    "time": "time [s]",
    "floor": "floor displacement [mm]",
    "bumper": "bumper displacement [mm]",
    "approach": "approach [mm]",
    "contact_force": "contact force [kN]",
    "damper_force": "damper force [kN]",
    "floor_velocity": "floor velocity [mm/s]",
    "bumper_velocity": "bumper velocity [mm/s]",
}


def impact_document(result: ImpactResult) -> Json:
    """The whole impact as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = result.case
    begin = head(case.title)
    return {
        **begin,
        "units": {**begin["units"], **{d.replace(" ", "_"): unit for d, unit in HELD_IN.items()}},
        "case": {
            "source": case.source,
            "path": case_path(case),
            "line_load": float(case.line_load),
            "effective_length": case.contact_length,
            "scale": case.scale,
        },
        "demand": _motion(result.motion),
        "given": list(given(result)),
        "closure": [worked_document(worked) for worked in result.closure],
        "damper_force_at_closure": [worked_document(worked) for worked in result.damping],
        "blows": [_section_impact(result, impact) for impact in result.impacts],
        "satisfied": result.satisfied,
        "specimen": None if case.scale is None else _specimen(result, case.scale),
        "cautions": list(CAUTIONS),
    }


def _motion(motion: Motion) -> Json:
    """The motion as stated; its contact law is under the key that results have for it."""
    return {
        "impact" if key == "contact_law" else key: value for key, value in asdict(motion).items()
    }


def _section_impact(result: ImpactResult, impact: SectionImpact) -> Json:
    return {
        "section": None if impact.section is None else impact.section.name,
        "end": impact.response.end,
        "contacts": impact.response.contacts,
        **{figure.key: figure.value for figure in impact.figures},
        "labels": {figure.key: figure.label for figure in impact.figures},
        "covered": impact.covered,
        "energies": {
            "brought": impact.response.impact.energy,
            "at_peak_contact_force": asdict(impact.at_peak),
            "at_end": asdict(impact.at_end),
            "largest_error": impact.balance,
        },
        "sensitivity": nearby_document(result, impact),
        "beside": [_beside(one) for one in impact.beside],
        "no_closed_form": no_form(result.motion),
    }


def _beside(one: Beside) -> Json:
    found = None if one.found is None or not math.isfinite(one.found) else one.found
    return {"kind": one.kind, **worked_document(one.worked), "integrated": found}


def _specimen(result: ImpactResult, scale: float) -> Json:
    """The figures of each impact as a specimen of reduced size has them, and factors of C."""
    return {
        "scale": scale,
        "damper_coefficient_factors": [
            damper_factor(scale, one.exponent) for one in result.motion.dampers
        ],
        "blows": [
            {f.key: f.value * factor(f.dimension, scale) for f in impact.figures}
            for impact in result.impacts
        ],
    }


def write_history(result: ImpactResult, path: Path) -> None:
    """Write the history of each impact, under the names and units of the columns.

    Raises OSError where the file cannot be written.
    """
    several = result.impacts[0].section is not None
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([*(["section"] if several else []), *_COLUMNS.values()])
        for impact in result.impacts:
            name = [impact.section.name] if impact.section is not None else []
            for row in _rows(impact.history):
                table.writerow([*name, *(f"{figure:.8g}" for figure in row)])


def _rows(history: History) -> list[tuple[float, ...]]:
    by = {"contact_force": _KILO, "damper_force": _KILO}
    columns = [getattr(history, name) / by.get(name, 1.0) for name in _COLUMNS]
    rows = list(zip(*columns, strict=True))
    return rows[:: -(-len(rows) // MOST_ROWS)]
