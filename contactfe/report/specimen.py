"""How a test specimen of reduced size is named, and a table of figures that has it where the case
states a scale.
"""

from collections.abc import Iterable

from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.case.scaling import ratio
from contactfe.hand.similitude import Scaled, factor
from contactfe.report import words
from contactfe.report.blocks import Column, Row, Table, numbers

_SYMBOL = Column("symbol")


def specimen(scale: float) -> str:
    """The heading of a column.

    >>> specimen(0.25)
    'specimen 1:4'
    """
    return f"specimen {ratio(scale)}"


def scaled_number(
    value: float | Value | None, dimension: Scaled | None, scale: float, units: Display
) -> str:
    """A figure of the prototype, as held, as the specimen has it: in the unit shown, without name.

    With its uncertainty if it has one; empty where there is no figure. A plain ratio, of dimension
    None, is the same in both; at a scale of 1 both are. Raises KeyError for a dimension that
    results never state.

    >>> from contactfe.case.display import SI
    >>> scaled_number(450e3, "force", 0.25, SI), scaled_number(1.25, None, 0.25, SI)
    ('28.12', '1.250')
    >>> scaled_number(Value(0.8, 0.02), "length", 0.25, SI)
    '0.200 ± 0.005'
    """
    if value is None:
        return ""
    by = factor(dimension, scale)
    unit = None if dimension is None else units.unit(dimension)
    if isinstance(value, Value):
        if value.uncertainty > 0.0:
            return words.pair(Value(value.value * by, value.uncertainty * by), unit)
        value = value.value
    return significant(value * by) if unit is None else unit.number(value * by)


def figure_row(
    case: Case, label: str, beside: str, value: float | Value, dimension: Scaled | None
) -> Row:
    """Label, symbol or what else stands beside it, unit, value and the specimen's, of a figure as
    held.
    """
    units = case.display
    name = "1" if dimension is None else units.unit(dimension).name
    both = (scaled_number(value, dimension, scale, units) for scale in (1.0, case.scale or 1.0))
    return (label, beside, name, *both)


def figure_table(
    case: Case, title: str, groups: Iterable[Iterable[Row]], beside: Column = _SYMBOL
) -> Table:
    """A table of groups of such rows."""
    heads = ["value"] if case.scale is None else ["prototype", specimen(case.scale)]
    columns = (Column(least=52), beside, Column("unit"), *numbers(*heads))
    rows = (tuple(row[: len(columns)] for row in group) for group in groups)
    return Table(columns, tuple(rows), title)
