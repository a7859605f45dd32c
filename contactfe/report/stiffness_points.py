"""The points of a contact for a gap element, as a table of a page, and its curve as CSV."""

from collections.abc import Iterable, Mapping, Sequence
from operator import itemgetter
from pathlib import Path
from typing import Any

import numpy as np

from contactfe.assess.hand_over import HandOver
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.hand.similitude import factor
from contactfe.report import words
from contactfe.report.blocks import Table, numbers
from contactfe.report.csv_file import Column as CsvColumn
from contactfe.report.csv_file import write_csv
from contactfe.report.specimen import specimen
from contactfe.solve.elastic import Floats

_Columns = dict[str, Iterable[Any]]
"""A figure of each point under each heading."""


def points_table(case: Case, both: Sequence[HandOver], scale: float | None = None) -> Table:
    """The points of each model for a gap element, with the stiffness at each.

    All have those of the same forces, to be joined by straight lines. Of a specimen at a scale too.
    """
    length, (force, stiffness, _) = case.display.length, units_of_force(case)
    columns = {f"force\n[{force.name}]": force.of(both[0].force)}
    if scale is not None:
        columns[f"force,\n{specimen(scale)}\n[{force.name}]"] = _small(force, both[0].force, scale)
    for one in both:
        d, of = one.points.approach, "post not\nmodelled:" if one.with_post else "post an\nelement:"
        columns |= {
            f"{of}\ndisplacement\n[{length.name}]": length.of(d),
            f"{of}\ntangent\n[{stiffness.name}]": stiffness.of(one.tangent_stiffness),
            f"{of}\nsecant\n[{stiffness.name}]": stiffness.of(one.secant_stiffness),
        }
        if scale is not None:
            head = f"{of}\ndisplacement,\n{specimen(scale)}\n[{length.name}]"
            columns[head] = _small(length, d, scale)
    rows = [[significant(float(x)) for x in row] for row in zip(*columns.values(), strict=True)]
    for k, head in enumerate(columns):
        if f"[{stiffness.name}]" in head:
            rows[0][k] = ""  # none at the origin
    return Table(numbers(*columns), (tuple(rows),))


def _small(unit: Unit, values: Floats, scale: float) -> Floats:
    """What a specimen has, in that unit."""
    return unit.of(values * factor(unit.dimension, scale))


def points_within(both: Sequence[HandOver]) -> str:
    """How far what is between the points is off."""
    within = " and ".join(words.percent(one.points.largest_error_over_load) for one in both)
    return f"joined by straight lines: within {within} of the force"


def units_of_force(case: Case) -> tuple[Unit, Unit, Unit]:
    """Units of force, stiffness and energy; per length of line where that of the contact is not
    stated.
    """
    units = case.display
    if case.contact_length is None:
        return units.line_load, units.line_stiffness, units.moment_per_length
    return units.force, units.stiffness, units.energy


def write_curves(result: StiffnessResult, path: Path) -> None:
    """Write one line for each point of each curve. Raises OSError where that cannot be done."""
    _write(path, result, [_curve(result.case, section) for section in result.sections])


def _curve(case: Case, section: SectionStiffness) -> _Columns:
    curve, shares = section.curve, ("contact, post", "ring", "contact, plate", "plate's bending")
    units = case.display
    length, slope = units.length, units.line_stiffness
    parts = zip(
        *(
            (of.contact_post, of.ring, of.contact_plate, of.plate_bending)
            for of in section.curve_shares
        ),
        strict=True,
    )
    figures = {"line load": curve.line_load, "approach": curve.approach}
    whole = _force(case, curve.line_load)
    return {
        **_headed(units, figures),
        f"approach, uncertainty [{length.name}]": length.of(np.asarray(section.uncertainties)),
        f"tangent stiffness [{slope.name}]": slope.of(curve.tangent_stiffness),
        f"secant stiffness [{slope.name}]": slope.of(curve.line_load / curve.approach),
        "exponent [1]": curve.exponent,
        **{
            f"share of the {of} [{length.name}]": length.of(np.asarray(x))
            for of, x in zip(shares, parts, strict=True)
        },
        **_headed(units, whole),
        **_specimen(case, figures | whole),
    }


def _force(case: Case, line_load: Floats) -> dict[str, Floats]:
    """The force of the whole contact, where its length is stated."""
    return {} if case.contact_length is None else {"force": line_load * case.contact_length}


def _headed(
    units: Display, figures: Mapping[str, Floats], scale: float | None = None
) -> dict[str, Floats]:
    """Figures as held, in the units shown, by headings that name them; of a specimen at a scale."""
    of, shown = "" if scale is None else f", {specimen(scale)}", {}
    for what, values in figures.items():
        unit = {"line load": units.line_load, "force": units.force}.get(what, units.length)
        shown[f"{what}{of} [{unit.name}]"] = unit.of(values * factor(unit.dimension, scale or 1.0))
    return shown


def _specimen(case: Case, figures: Mapping[str, Floats]) -> dict[str, Floats]:
    """The same of a specimen of reduced size, where a scale is stated."""
    return {} if case.scale is None else _headed(case.display, figures, case.scale)


def _write(path: Path, result: StiffnessResult, tables: Sequence[_Columns]) -> None:
    columns = [CsvColumn[tuple[Any, ...]]("section", "text", itemgetter(0))]
    columns += [CsvColumn(head, "real", itemgetter(k)) for k, head in enumerate(tables[0], 1)]
    rows = (
        (section.section.name, *row)
        for section, table in zip(result.sections, tables, strict=True)
        for row in zip(*table.values(), strict=True)
    )
    write_csv(path, columns, rows, digits=8)
