"""How a test specimen of reduced size is named and its figures are written."""

from contactfe.case.display import Display, significant
from contactfe.case.scaling import ratio
from contactfe.hand.similitude import Scaled, factor


def specimen(scale: float) -> str:
    """The heading of a column.

    >>> specimen(0.25)
    'specimen 1:4'
    """
    return f"specimen {ratio(scale)}"


def scaled_number(value: float, dimension: Scaled | None, scale: float, units: Display) -> str:
    """A figure of the prototype, as held, as the specimen has it: in the unit shown, without name.

    A plain ratio, of dimension None, is the same in both. Raises KeyError for a dimension that
    results never state.

    >>> from contactfe.case.display import SI
    >>> scaled_number(450e3, "force", 0.25, SI), scaled_number(1.25, None, 0.25, SI)
    ('28.12', '1.250')
    """
    figure = value * factor(dimension, scale)
    return significant(figure) if dimension is None else units.unit(dimension).number(figure)
