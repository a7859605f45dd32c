"""What one linear elastic steel is to the analysis."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from contactfe.case.wording import with_value

LEAST_YOUNG = 10.0
"""Least Young's modulus of a steel over its yield strength, against one in the wrong unit: every
structural metal has far more (common practice, no source)."""

ROLLED_WALL = 0.93
"""Share of the nominal wall of a tube made to a product standard that AISC 360, B4.2 takes for
design, unless that standard is one for which it takes all (seen in a public copy)."""


@dataclass(frozen=True)
class Material:
    """A steel at one thickness; stresses and moduli in MPa."""

    name: str  # the grade as the case file names it, or "stated" where the file states the values
    young: float
    poisson: float
    yield_strength: float  # first yield in tension
    source: str  # where the strengths and the elastic constants came from, as a sentence
    ultimate_strength: float | None = None  # in tension; None where it is not stated
    design_wall: float = 1.0  # share of a tube's nominal wall that AISC 360, B4.2 takes for design
    other_material: bool = False  # in no table of AISC 360: by its A3.1b the engineer decides


def too_soft(written: Mapping[str, Any], young: float, strengths: Sequence[float]) -> str:
    """Why the modulus of a steel does not go with its yield strengths, MPa; empty where it does.

    Both are named as the table has them.
    """
    most, k = max((strength, k) for k, strength in enumerate(strengths))
    if young >= LEAST_YOUNG * most:
        return ""
    at = written["yield"][k] if isinstance(written["yield"], list) else written["yield"]
    return (
        f"{with_value('young', written['young'])} must be at least {LEAST_YOUNG:g} times"
        f" {with_value('yield', at)}; that of steel is about 200 GPa, 29000 ksi"
    )
