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

_Columns = dict[str, Iterable[Any]]
"""A figure of each point under each heading."""


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
    _write(path, result, [_curve(result.case, section) for section in result.sections])


def _curve(case: Case, section: SectionStiffness) -> _Columns:
    curve, shares = section.curve, ("contact, post", "ring", "contact, plate", "plate's bending")
    parts = zip(*((of.post, of.ring, of.layer, of.plate) for of in section.shares), strict=True)
    figures = {"line load": curve.line_load, "approach": curve.approach}
    whole = _force(case, curve.line_load)
    return {
        **_headed(SI, figures),
        "approach, uncertainty [mm]": section.uncertainties,
        "tangent stiffness [N/mm/mm]": curve.tangent,
        "secant stiffness [N/mm/mm]": curve.line_load / curve.approach,
        "exponent [1]": curve.exponent,
        **{f"share of the {of} [mm]": x for of, x in zip(shares, parts, strict=True)},
        **_headed(SI, whole),
        **_specimen(case, SI, figures | whole),
    }


def write_points(result: StiffnessResult, path: Path) -> None:
    """Write the points of each section, from no load on. Raises OSError as above."""
    bent = any(section.with_post is not None for section in result.sections)
    _write(path, result, [_points(result.case, section, bent) for section in result.sections])


def _points(case: Case, section: SectionStiffness, bent: bool) -> _Columns:
    """``bent`` where a section has points with the post's bending."""
    units, points, post = case.display, section.points, section.with_post
    length, count, whole = units.length, len(points.line_load), _force(case, points.line_load)
    figures = {"line load": points.line_load, "approach": points.approach}
    table: _Columns = {
        "point": range(count),
        **_headed(units, {"approach": points.approach} | figures | whole),
        **_specimen(case, units, figures | whole),
    }
    if bent:
        travel = [None] * count if post is None else length.of(post.points.approach)
        table[f"travel with the post's bending [{length.name}]"] = travel
    if case.motion is not None:
        table[f"gap [{length.name}]"] = [length.of(case.motion.gap)] * count
    return table


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


def _specimen(case: Case, units: Display, figures: Mapping[str, Floats]) -> dict[str, Floats]:
    """The same of a specimen of reduced size, where a scale is stated."""
    return {} if case.scale is None else _headed(units, figures, case.scale)


def _write(path: Path, result: StiffnessResult, tables: Sequence[_Columns]) -> None:
    columns = [CsvColumn[tuple[Any, ...]]("section", "text", itemgetter(0))]
    columns += [CsvColumn(head, "real", itemgetter(k)) for k, head in enumerate(tables[0], 1)]
    rows = (
        (section.section.name, *row)
        for section, table in zip(result.sections, tables, strict=True)
        for row in zip(*table.values(), strict=True)
    )
    write_csv(path, columns, rows, digits=8)
