"""Elastic contact of a round steel post on a bumper plate, checked against yield and hand formulas.

The names most work needs are here, loaded when first used so that importing the package costs
nothing: ``read_case`` and ``case_from_dict`` give a case, ``compare`` solves and ranks its
sections, ``save`` writes figures, fields and results, ``document`` gives them as plain data;
``by_hand`` works every formula and clause out that applies to a case, without solving it;
``envelope`` solves them at every contact of the case's envelope, ``save_envelope`` writes that.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from contactfe.errors import ContactfeError, InputError, SolveError

if TYPE_CHECKING:
    from contactfe.assess.by_hand import by_hand
    from contactfe.assess.compare import compare
    from contactfe.assess.envelope import envelope
    from contactfe.case import case_from_dict, read_case
    from contactfe.report.document import document
    from contactfe.report.envelope_folder import save_envelope
    from contactfe.report.output import save

__version__ = "0.1.0"

__all__ = [
    "ContactfeError",
    "InputError",
    "SolveError",
    "by_hand",
    "case_from_dict",
    "compare",
    "document",
    "envelope",
    "read_case",
    "save",
    "save_envelope",
]

_LATE = {
    "read_case": "contactfe.case",
    "case_from_dict": "contactfe.case",
    "by_hand": "contactfe.assess.by_hand",
    "compare": "contactfe.assess.compare",
    "envelope": "contactfe.assess.envelope",
    "document": "contactfe.report.document",
    "save": "contactfe.report.output",
    "save_envelope": "contactfe.report.envelope_folder",
}


def __getattr__(name: str) -> Any:
    if name in _LATE:
        return getattr(import_module(_LATE[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
