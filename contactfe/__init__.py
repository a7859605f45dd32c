"""Elastic contact of a round steel post on a bumper plate, checked against yield and hand formulas.

The names most work needs are here, loaded when first used so that importing the package costs
nothing: ``read_case`` and ``case_from_dict`` give a case, ``compare`` solves and ranks its
sections, ``document`` gives its results as plain data;
``by_hand`` works every formula and clause out that applies to a case, without solving it;
``envelope`` solves them at every contact of the case's envelope;
``impact_force`` finds the contact force that a motion gives;
``scaled`` gives the test specimen of a case;
``sweep`` solves a case file with many values of its keys;
``size`` finds the walls that pass and the best of them;
``stiffness`` finds the force–approach curve of each section;
``overload`` strikes each section beyond first yield;
``save`` writes what any of these found, its figures, tables and pages, into a folder. Each kind has
a name of its own too: ``save_impact``, ``save_envelope``, ``save_sizing``, ``save_stiffness``,
``save_overload`` and ``save_sweep``, which also writes a single table.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from contactfe.errors import ContactfeError, InputError, SolveError

if TYPE_CHECKING:
    from contactfe.assess.by_hand.case import by_hand
    from contactfe.assess.compare import compare
    from contactfe.assess.envelope import envelope
    from contactfe.assess.impact import impact_force
    from contactfe.assess.overload.run import overload
    from contactfe.assess.sizing.run import size
    from contactfe.assess.stiffness import stiffness
    from contactfe.assess.sweep.run import sweep
    from contactfe.case import case_from_dict, read_case
    from contactfe.case.scaling import scaled
    from contactfe.report.document import document
    from contactfe.report.envelope import save_envelope
    from contactfe.report.impact_output import save_impact
    from contactfe.report.output import save
    from contactfe.report.overload import save_overload
    from contactfe.report.sizing import save_sizing
    from contactfe.report.stiffness_output import save_stiffness
    from contactfe.report.sweep_files import save_sweep

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
    "impact_force",
    "overload",
    "read_case",
    "save",
    "save_envelope",
    "save_impact",
    "save_overload",
    "save_sizing",
    "save_stiffness",
    "save_sweep",
    "scaled",
    "size",
    "stiffness",
    "sweep",
]

_LATE = {
    "impact_force": "contactfe.assess.impact",
    "save_impact": "contactfe.report.impact_output",
    "read_case": "contactfe.case",
    "case_from_dict": "contactfe.case",
    "by_hand": "contactfe.assess.by_hand.case",
    "compare": "contactfe.assess.compare",
    "envelope": "contactfe.assess.envelope",
    "document": "contactfe.report.document",
    "save": "contactfe.report.output",
    "save_envelope": "contactfe.report.envelope",
    "size": "contactfe.assess.sizing.run",
    "save_sizing": "contactfe.report.sizing",
    "save_stiffness": "contactfe.report.stiffness_output",
    "stiffness": "contactfe.assess.stiffness",
    "overload": "contactfe.assess.overload.run",
    "save_overload": "contactfe.report.overload",
    "save_sweep": "contactfe.report.sweep_files",
    "sweep": "contactfe.assess.sweep.run",
    "scaled": "contactfe.case.scaling",
}


def __getattr__(name: str) -> Any:
    if name in _LATE:
        return getattr(import_module(_LATE[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    """What is there, and what is loaded when it is first used: so completion offers both."""
    return sorted({*globals(), *__all__})
