"""A demand as data: JSON, and CSV of the time history.

For programs: mm, s, t, N, mm/s, N/mm and N mm, whatever units the case asks for; forces in CSV are
in kN.
"""

from __future__ import annotations

import csv
import math
from dataclasses import asdict
from pathlib import Path

from contactfe.assess.blow_forms import Beside
from contactfe.assess.demand import DemandResult, Struck
from contactfe.assess.nearby import SENSITIVE
from contactfe.blow.history import History
from contactfe.hand.formula import HELD_IN
from contactfe.hand.similitude import damper_factor, factor
from contactfe.report import demand_words
from contactfe.report.hand_document import worked_document
from contactfe.report.json_file import Json, case_path, head

MOST_ROWS = 4000
"""Rows of a history in the CSV file; of a longer one every second, third, … time is written."""

_KILO = 1e3

_COLUMNS = {
    "time": "time [s]",
    "floor": "floor travel [mm]",
    "bumper": "bumper travel [mm]",
    "approach": "approach [mm]",
    "contact_force": "contact force [kN]",
    "damper_force": "damper force [kN]",
    "floor_velocity": "floor velocity [mm/s]",
    "bumper_velocity": "bumper velocity [mm/s]",
}


def demand_document(result: DemandResult) -> Json:
    """The whole demand as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = result.case
    begin = head(case.title)
    return {
        **begin,
        "units": {**begin["units"], **{d.replace(" ", "_"): unit for d, unit in HELD_IN.items()}},
        "case": {
            "source": case.source,
            "path": case_path(case),
            "line_load": float(case.line_load),
            "effective_length": case.effective_length,
            "scale": case.scale,
        },
        "demand": asdict(result.demand),
        "given": [
            *demand_words.given(result.demand, case.display),
            *demand_words.along_the_axis(case),
        ],
        "closure": [worked_document(worked) for worked in result.closure],
        "damper_force_at_closure": [worked_document(worked) for worked in result.damping],
        "blows": [_struck(result, struck) for struck in result.blows],
        "satisfied": result.satisfied,
        "specimen": None if case.scale is None else _specimen(result, case.scale),
        "cautions": list(demand_words.CAUTIONS),
    }


def _struck(result: DemandResult, struck: Struck) -> Json:
    blow = struck.strike.blow
    return {
        "section": None if struck.section is None else struck.section.name,
        "end": struck.strike.end,
        "contacts": struck.strike.contacts,
        **{figure.key: figure.value for figure in struck.figures},
        "labels": {figure.key: figure.label for figure in struck.figures},
        "covered": struck.covered,
        "energies": {
            "brought": blow.energy,
            "at_peak_contact_force": asdict(struck.at_peak),
            "at_end": asdict(struck.at_end),
            "largest_error": struck.balance,
        },
        "sensitivity": _sensitivity(result, struck),
        "beside": [_beside(one) for one in struck.beside],
        "no_closed_form": demand_words.no_form(result.demand),
    }


def _sensitivity(result: DemandResult, struck: Struck) -> Json | None:
    """The force of motions near the one stated; None where the velocity at closure is."""
    stated = result.demand.displacement
    if not struck.nearby or stated is None:
        return None
    force = struck.contact.value
    motions: Json = {
        one.key: {
            "displacement": one.displacement,
            "velocity_at_closure": one.velocity,
            "gap_closes": one.velocity > 0.0,
            "peak_contact_force": one.force,
            "over_peak_contact_force": None if one.force is None else one.force / force,
            "not_found": one.why,
        }
        for one in struck.nearby
    }
    return {
        **motions,
        "gap_over_displacement": result.demand.gap / stated,
        "sensitive": struck.sensitive,
        "sensitive_above": 1.0 + SENSITIVE,
        "note": demand_words.PSEUDO_VELOCITY,
    }


def _beside(one: Beside) -> Json:
    found = None if one.found is None or not math.isfinite(one.found) else one.found
    return {"kind": one.kind, **worked_document(one.worked), "integrated": found}


def _specimen(result: DemandResult, scale: float) -> Json:
    """The figures of each blow as a specimen of reduced size has them, and factors of C."""
    return {
        "scale": scale,
        "damper_coefficient_factors": [
            damper_factor(scale, one.exponent) for one in result.demand.dampers
        ],
        "blows": [
            {f.key: f.value * factor(f.dimension, scale) for f in struck.figures}
            for struck in result.blows
        ],
    }


def write_history(result: DemandResult, path: Path) -> None:
    """Write the history of each blow, under the names and units of the columns.

    Raises OSError where the file cannot be written.
    """
    several = result.blows[0].section is not None
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([*(["section"] if several else []), *_COLUMNS.values()])
        for struck in result.blows:
            name = [struck.section.name] if struck.section is not None else []
            for row in _rows(struck.history):
                table.writerow([*name, *(f"{figure:.8g}" for figure in row)])


def _rows(history: History) -> list[tuple[float, ...]]:
    by = {"contact_force": _KILO, "damper_force": _KILO}
    columns = [getattr(history, name) / by.get(name, 1.0) for name in _COLUMNS]
    rows = list(zip(*columns, strict=True))
    return rows[:: -(-len(rows) // MOST_ROWS)]
