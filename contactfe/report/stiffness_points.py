"""The curve of a contact and its points for a gap element: on the page and as CSV.

The curve is in N, mm and kN, whatever units the case asks for. The points are what someone copies
into another program: they are in the report's units, which their heads name.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from operator import itemgetter
from pathlib import Path
from typing import Any

from contactfe.assess.gap_element import Table as Points
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.case.display import SI, Display, significant
from contactfe.hand.similitude import factor
from contactfe.report import words
from contactfe.report.blocks import Block, Column, Heading, Table, numbers
from contactfe.report.csv_file import Column as CsvColumn
from contactfe.report.csv_file import write_csv
from contactfe.report.specimen import specimen
from contactfe.report.stiffness_springs import MODELLED, NOT_MODELLED
from contactfe.solve.elastic import Floats

_DIGITS = 8

_Columns = dict[str, Iterable[Any]]


def point_tables(case: Case, section: SectionStiffness) -> Iterator[Block]:
    """The points for a gap element, those of a model without the post and with it apart."""
    if section.with_post is not None:
        yield from _table(case, section.with_post.points, NOT_MODELLED, "displacement")
    yield from _table(case, section.points, MODELLED, "approach")


def _table(case: Case, points: Points, heading: str, of: str) -> Iterator[Block]:
    q, units = points.line_load, case.display
    figures = {of: points.approach, "line load": q, **_force(case, q)}
    shown = _headed(units, figures) | _specimen(case, units, figures)
    rows = tuple((head, *(significant(float(x)) for x in row)) for head, row in shown.items())
    within = words.percent(points.error)
    yield Heading(f"{heading}; points joined by straight lines, within {within}")
    yield Table((Column(), *numbers(*map(str, range(len(q))))), (rows,))


def write_curves(result: StiffnessResult, path: Path) -> None:
    """Write one line for each point of each curve. Raises OSError where that cannot be done."""
    case, shares = result.case, ("contact, post", "ring", "contact, plate", "plate's bending")
    tables: list[_Columns] = []
    for section in result.sections:
        curve = section.curve
        figures = {"line load": curve.line_load, "approach": curve.approach}
        whole = _force(case, curve.line_load)
        parts = zip(*((of.post, of.ring, of.layer, of.plate) for of in section.shares), strict=True)
        tables.append(
            {
                **_headed(SI, figures),
                "approach, uncertainty [mm]": section.uncertainties,
                "tangent stiffness [N/mm/mm]": curve.tangent,
                "secant stiffness [N/mm/mm]": curve.line_load / curve.approach,
                "exponent [1]": curve.exponent,
                **{f"share of the {of} [mm]": x for of, x in zip(shares, parts, strict=True)},
                **_headed(SI, whole),
                **_specimen(case, SI, figures | whole),
            }
        )
    _write(result, tables, path)


def write_points(result: StiffnessResult, path: Path) -> None:
    """Write the points of each section, from no load on. Raises OSError as above."""
    case, units = result.case, result.case.display
    length = units.length
    bent = any(section.with_post is not None for section in result.sections)
    tables: list[_Columns] = []
    for section in result.sections:
        q, d, post = section.points.line_load, section.points.approach, section.with_post
        whole, count = _force(case, q), len(q)
        table: _Columns = {
            "point": range(count),
            **_headed(units, {"approach": d, "line load": q} | whole),
            **_specimen(case, units, {"line load": q, "approach": d} | whole),
        }
        if bent:
            travel = [None] * count if post is None else length.of(post.points.approach)
            table[f"travel with the post's bending [{length.name}]"] = travel
        if case.motion is not None:
            table[f"gap [{length.name}]"] = [length.of(case.motion.gap)] * count
        tables.append(table)
    _write(result, tables, path)


def _force(case: Case, line_load: Floats) -> dict[str, Floats]:
    """The force of the whole contact, where its length is stated."""
    return {} if case.contact_length is None else {"force": line_load * case.contact_length}


def _headed(units: Display, figures: Mapping[str, Floats], scale: float = 1.0) -> dict[str, Floats]:
    """Figures as held, in the units shown, by headings that name them; at that scale."""
    of, shown = "" if scale == 1.0 else f", {specimen(scale)}", {}
    for what, values in figures.items():
        unit = {"line load": units.line_load, "force": units.force}.get(what, units.length)
        shown[f"{what}{of} [{unit.name}]"] = unit.of(values * factor(unit.dimension, scale))
    return shown


def _specimen(case: Case, units: Display, figures: Mapping[str, Floats]) -> dict[str, Floats]:
    """The same of a specimen of reduced size, where a scale is stated."""
    return {} if case.scale is None else _headed(units, figures, case.scale)


def _write(result: StiffnessResult, tables: Sequence[_Columns], path: Path) -> None:
    columns = [CsvColumn[tuple[Any, ...]]("section", "text", itemgetter(0))]
    columns += [CsvColumn(head, "real", itemgetter(k)) for k, head in enumerate(tables[0], 1)]
    names = (section.section.name for section in result.sections)
    rows = (
        (name, *row)
        for name, table in zip(names, tables, strict=True)
        for row in zip(*table.values(), strict=True)
    )
    write_csv(path, columns, rows, _DIGITS)
