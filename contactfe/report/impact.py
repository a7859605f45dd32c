"""An impact as data: JSON, and CSV of the time history.

JSON has mm, s, t, N, mm/s, N/mm and N mm, whatever units the case asks for; CSV has those, with
velocities in its unit of length over a second.
"""

from __future__ import annotations

import math
from dataclasses import asdict
from functools import partial
from pathlib import Path

from contactfe.assess.impact import ImpactResult, SectionImpact, roots_by_level
from contactfe.assess.impact_forms import Beside
from contactfe.case.display import Unit
from contactfe.case.motion import Motion
from contactfe.case.units import Dimension
from contactfe.hand.quantities import HELD_IN
from contactfe.hand.similitude import damper_factor, factor
from contactfe.report.csv_file import Column, write_csv
from contactfe.report.hand_document import worked_document
from contactfe.report.impact_given import given
from contactfe.report.impact_levels import levels_document
from contactfe.report.impact_nearby import nearby_document
from contactfe.report.impact_page import CAUTIONS, no_form
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.root import root_by_level_data
from contactfe.report.verdicts import check_data

MOST_ROWS = 4000
"""Rows of a history in the CSV file; of a longer one every second, third, … time is written."""

_Row = tuple[SectionImpact, int]
"""An impact and the number of one of the times of its history."""


def _figure(name: str, row: _Row) -> float:
    """A figure of the history, as held."""
    impact, k = row
    return float(getattr(impact.history, name)[k])


def _column(head: str, name: str, of: Dimension) -> Column[_Row]:
    return Column(head, "real", partial(_figure, name), of)


_COLUMNS = (
    _column("time", "time", "time"),
    _column("floor displacement", "floor", "length"),
    _column("bumper displacement", "bumper", "length"),
    _column("approach", "approach", "length"),
    _column("contact force", "contact_force", "force"),
    _column("damper force", "damper_force", "force"),
)


def _velocity(of: str, length: Unit) -> Column[_Row]:
    """A velocity in the unit of the displacements over a second."""
    return Column(
        f"{of} velocity [{length.name}/s]",
        "real",
        lambda row: length.of(_figure(f"{of}_velocity", row)),
    )


_LEVEL = Column[_Row]("level", "text", lambda row: row[0].level)
_SECTION = Column[_Row]("section", "text", lambda row: getattr(row[0].section, "name", None))


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
        "damper_force_at_closure": [
            worked_document(worked) for worked in result.damper_force_at_closure
        ],
        "blows": [_section_impact(result, impact) for impact in result.blows],
        "satisfied": result.satisfied,
        "checks": [check_data(check) for check in result.checks],
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
        "level": impact.level or None,
        **{figure.key: figure.value for figure in impact.figures},
        "labels": {figure.key: figure.label for figure in impact.figures},
        "covered": impact.covered,
        "energies": {
            "brought": impact.response.impact.energy,
            "at_peak_contact_force": asdict(impact.at_peak_contact_force),
            "at_end": asdict(impact.at_end),
            "largest_error": impact.largest_error,
        },
        "sensitivity": nearby_document(
            impact.motion, impact.nearby, impact.peak_contact_force.value
        ),
        "levels": levels_document(impact),
        "root": root_by_level_data(roots_by_level(result, impact)),
        "beside": [_beside(one) for one in impact.beside],
        "no_closed_form": no_form(impact.motion),
    }


def _beside(one: Beside) -> Json:
    found = None if one.integrated is None or not math.isfinite(one.integrated) else one.integrated
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
            for impact in result.blows
        ],
    }


def write_history(result: ImpactResult, path: Path) -> None:
    """Write the history of each impact, at the level that governs.

    Raises OSError where the file cannot be written.
    """
    units = result.case.display
    columns = (*_COLUMNS, *(_velocity(of, units.length) for of in ("floor", "bumper")))
    if result.motion.levels:
        columns = (_LEVEL, *columns)
    if result.blows[0].section is not None:
        columns = (_SECTION, *columns)
    rows = ((impact, k) for impact in result.blows for k in _shown(len(impact.history.time)))
    write_csv(path, columns, rows, units, digits=8)


def _shown(times: int) -> range:
    return range(0, times, -(-times // MOST_ROWS))
