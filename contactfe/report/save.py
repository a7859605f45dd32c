"""The files of any result, by what it is.

Each kind has a module of its own; only that of the result at hand is loaded.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from contactfe.assess.envelope import EnvelopeResult
    from contactfe.assess.impact import ImpactResult
    from contactfe.assess.results import Comparison
    from contactfe.assess.sizing.record import SizingResult
    from contactfe.assess.stiffness import StiffnessResult
    from contactfe.assess.sweep.result import SweepResult

    Result: TypeAlias = (
        Comparison | ImpactResult | EnvelopeResult | SizingResult | StiffnessResult | SweepResult
    )

WRITERS = MappingProxyType(
    {
        "contactfe.assess.results.Comparison": ("contactfe.report.output", "save"),
        "contactfe.assess.impact.ImpactResult": ("contactfe.report.impact_folder", "save_impact"),
        "contactfe.assess.envelope.EnvelopeResult": (
            "contactfe.report.envelope", "save_envelope",
        ),
        "contactfe.assess.sizing.record.SizingResult": (
            "contactfe.report.sizing", "save_sizing",
        ),
        "contactfe.assess.stiffness.StiffnessResult": (
            "contactfe.report.stiffness_folder", "save_stiffness",
        ),
        "contactfe.assess.sweep.result.SweepResult": (
            "contactfe.report.sweep_files", "save_sweep",
        ),
    }
)  # fmt: skip
"""The function that writes each kind of result, and its module. By names: who made a result has
loaded its type, and no other need be."""


def save(result: Result, folder: str | Path) -> list[Path]:
    """Write what ``compare``, ``impact``, ``envelope``, ``size``, ``stiffness`` or ``sweep`` gave
    into ``folder``; returns the files. A failure leaves earlier results as they were.

    Raises
    ------
    InputError
        if the folder is not for that result, holds files of these names that contactfe did not
        write or that were changed since, or cannot be written
    TypeError
        if it is none of these results
    """
    for kind in type(result).__mro__:
        found = WRITERS.get(f"{kind.__module__}.{kind.__qualname__}")
        if found is not None:
            module, name = found
            return list(getattr(import_module(module), name)(result, folder))
    raise TypeError(
        f"save takes what compare, impact, envelope, size, stiffness or sweep returns, not"
        f" {type(result).__name__}"
    )
