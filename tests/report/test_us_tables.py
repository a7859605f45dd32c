"""CSV tables of a case in US customary units: the same figures as in SI, by exact factors."""

import csv
import math
import re
from dataclasses import replace

import pytest
from envelopes import case as envelope_case
from envelopes import row as envelope_row
from motions import moving
from restated import restated
from sizings import case as sizing_case
from sizings import pool
from springs import bending
from sweeps import UNCERTAINTIES
from sweeps import result as sweep_result
from sweeps import row as sweep_row

from contactfe.assess.impact import impact_force
from contactfe.assess.sizing.run import size
from contactfe.report.csv_file import write_csv
from contactfe.report.envelope import COLUMNS
from contactfe.report.hand_over import write_hand_over
from contactfe.report.impact import write_history
from contactfe.report.sizing import columns as sizing_columns
from contactfe.report.stiffness_points import write_curves
from contactfe.report.sweep_table import write_table

# Exact by definition (common practice, no source), and not out of the program.
INCH, POUND, GRAVITY = 25.4, 0.45359237, 9.80665
KIP = POUND * GRAVITY  # kN
UNITS = {
    "mm": ("in", INCH),
    "mm/s": ("in/s", INCH),
    "MPa": ("ksi", 1e3 * KIP / INCH**2),
    "kN": ("kip", KIP),
    "N/mm": ("kip/in", 1e3 * KIP / INCH),
    "kN/mm": ("kip/in", KIP / INCH),
    "N/mm/mm": ("kip/in/in", 1e3 * KIP / INCH**2),
    "kN·m": ("kip·in", KIP * INCH / 1e3),
    "kN·s/mm": ("kip·s/in", KIP / INCH),
    "t": ("lb", POUND / 1e3),
    "kg/m": ("lb/ft", POUND / 0.3048),
    **{unit: (unit, 1.0) for unit in ("1", "deg", "s", "yes/no")},
}
"""Of each unit of SI, the customary one and how many of the first are one of it."""


def envelope_table(units, path):
    of = envelope_case(units=units, offset=["0 mm", "40 mm"], angle=["6 deg"])
    rows = [
        (envelope_row(of.sections[0].name, contact), "passes") for contact in of.envelope.contacts
    ]
    write_csv(path, COLUMNS, rows, of.display)


def sizing_table(units, path):
    with pytest.MonkeyPatch.context() as patch:
        pool(patch)
        found = size(sizing_case(units=units, stock=["bored bar"], scale=0.25))
    walls = [(of, wall) for of in found.diameters for wall in (*of.walls, *of.stock.walls)]
    write_csv(path, sizing_columns(0.25), walls, found.case.display)


def sweep_table(units, path):
    made = sweep_result(
        [sweep_row(200.0, UNCERTAINTIES)] * 2, {"plate.thickness": ["45 mm", "60 mm"]}
    )
    write_table(replace(made, case=restated(made.case, report_units=units)), path)


def history(units, path):
    found = impact_force(moving())
    write_history(replace(found, case=restated(found.case, report_units=units)), path)


def curve(units, path):
    write_curves(bending(report_units=units, scale=0.25), path)


def hand_over(units, path):
    motion = moving(contact_law__restitution=0.65).motion
    write_hand_over(bending(report_units=units, motion=motion), path)


@pytest.mark.parametrize(
    "write", [envelope_table, sizing_table, sweep_table, history, curve, hand_over]
)
def test_a_table_is_in_customary_units_with_all_its_figures(write, tmp_path):
    tables = []
    for units in ("SI", "US customary"):
        write(units, tmp_path / "table.csv")
        with (tmp_path / "table.csv").open(newline="", encoding="utf-8") as file:
            tables.append(list(csv.reader(file)))
    (si, *rows), (us, *others) = tables
    assert len(rows) == len(others) > 1
    converted = 0
    for k, (head, other) in enumerate(zip(si, us, strict=True)):
        name, unit = re.fullmatch(r"(.*?)(?: \[([^\]]+)\])?", head).groups()
        key = name.startswith("plate.thickness")  # in the unit that the case writes it in
        shown, factor = (unit, 1.0) if unit is None or key else UNITS[unit]
        assert other == (name if unit is None else f"{name} [{shown}]")
        for one, same in zip((row[k] for row in rows), (row[k] for row in others), strict=True):
            try:
                figure = float(one)
            except ValueError:
                assert one == same
                continue
            # Of eight digits written, the last is rounded on both sides.
            close = math.isclose(float(same), figure / factor, rel_tol=2e-7, abs_tol=1e-9)
            assert close or name == "seconds", head
            converted += factor != 1.0 and figure != 0.0
    assert converted > 5
