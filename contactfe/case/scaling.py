"""A case carried to a test specimen of reduced size, at equal stress.

What a figure measures stands in the annotation of its field, and the factors are those of
:mod:`contactfe.hand.similitude`. What is a plain ratio, an angle or of the
material stays. The specimen is of the prototype's steel as the prototype has it: the bands of
thickness that its strengths go by shrink with it, or a thinner specimen would be a stronger one.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from contactfe.case.display import significant
from contactfe.case.grades import Grade
from contactfe.case.model import Case
from contactfe.case.steels import grades
from contactfe.case.table import dimensions
from contactfe.errors import InputError
from contactfe.hand.similitude import factor

_BANDS = "its bands of thickness are scaled with the specimen"


def scaled(case: Case, scale: float | None = None) -> Case:
    """The specimen of a case: every length times ``scale``, under the same stresses; by the case's
    own ``scale`` where none is given.

    Steels keep the strengths that they have in the prototype, at its thicknesses. A stock size
    becomes the tube that it is, scaled, and lists of stock sizes are not searched; an own mesh is
    read in a smaller unit. A sweep is left out: its values are those of the prototype.

    Raises ValueError for a scale that does not lie in (0, 1], InputError where there is none.
    """
    scale = case.scale if scale is None else scale
    if scale is None:
        raise InputError(
            f"{case.source}: states no scale; write scale = 0.25 at its top, or give it:"
            " scaled(case, 0.25)"
        )
    every = {grade.name: grade for grade in (*grades(), *case.grades)}
    specimen: Case = _scaled(replace(case, grades=tuple(every.values())), scale)
    return replace(
        specimen,
        title=specimen_title(case, scale),
        sections=tuple(
            # The unit of a mesh says nothing of a section without one.
            replace(section, stock=None, mesh_unit=section.mesh_unit if section.mesh else 1.0)
            for section in specimen.sections
        ),
        grades=tuple(_noted(grade) for grade in specimen.grades),
        sizing=specimen.sizing and replace(specimen.sizing, stock=()),
        sweep=None,
        scale=None,
    )


def ratio(scale: float) -> str:
    """Length of a specimen to that of its prototype, as drawings write it.

    >>> ratio(0.25), ratio(1 / 3), ratio(0.3)
    ('1:4', '1:3', '1:3.333')
    """
    across = significant(1 / scale)
    return f"1:{across.rstrip('0').rstrip('.') if '.' in across else across}"


def specimen_title(case: Case, scale: float) -> str:
    """The title of a specimen of a case."""
    return f"{case.title}, specimen {ratio(scale)}"


def _scaled(held: Any, scale: float) -> Any:
    """A record with every record in it, or anything else as it is."""
    if isinstance(held, tuple):
        return tuple(_scaled(one, scale) for one in held)
    if not is_dataclass(held) or isinstance(held, type):
        return held
    changed = {one.name: _scaled(getattr(held, one.name), scale) for one in fields(held)}
    for name, dimension in dimensions(type(held)).items():
        changed[name] = _times(changed[name], factor(dimension, scale))
    return replace(held, **changed)


def _times(value: Any, by: float) -> Any:
    """A figure, or every figure of several; None where none is stated."""
    match value:
        case None:
            return None
        case _ if is_dataclass(value):  # of which every record has been scaled
            return value
        case tuple():
            return tuple(by * one for one in value)
        case Mapping():
            return {key: by * one for key, one in value.items()}
    return by * value


def _noted(grade: Grade) -> Grade:
    """A grade whose source names its scaled bands, once."""
    if len(grade.bands) == 1 or grade.source.endswith(_BANDS):
        return grade
    return replace(grade, source=f"{grade.source}; {_BANDS}")
