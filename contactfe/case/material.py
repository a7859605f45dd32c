"""What one linear elastic steel is to the analysis."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from contactfe.case.table import Reading
from contactfe.case.wording import with_value

HardeningKind = Literal["isotropic", "kinematic"]
"""Whether the yield surface grows with plastic strain or moves."""

LEAST_YOUNG = 10.0
"""Least Young's modulus of a steel over its yield strength, against one in the wrong unit: every
structural metal has far more (common practice, no source)."""

MOST_HARDENING = 0.1
"""Greatest plastic modulus of a steel over its Young's modulus, against one in the wrong unit or
a modulus of elasticity in its place: structural metals have far less (common practice, no
source)."""

# The bound itself passes, however its conversion rounds.
_EDGE = 1 + 1e-9

ROLLED_WALL = 0.93
"""Share of the nominal wall of a tube made to a product standard that AISC 360, B4.2 takes for
design, unless that standard is one for which it takes all (seen in a public copy)."""


@dataclass(frozen=True)
class Material:
    """A steel at one thickness; stresses and moduli in MPa.

    Beyond first yield it hardens linearly: ``hardening`` is the slope of its yield strength over
    plastic strain, 0 of one that is elastic, perfectly plastic.
    """

    name: str  # the grade as the case file names it, or "stated" where the file states the values
    young: float
    poisson: float
    yield_strength: float  # first yield in tension
    source: str  # where the strengths and the elastic constants came from, as a sentence
    ultimate_strength: float | None = None  # in tension; None where it is not stated
    design_wall: float = 1.0  # share of a tube's nominal wall that AISC 360, B4.2 takes for design
    other_material: bool = False  # in no table of AISC 360: by its A3.1b the engineer decides
    hardening: float = 0.0
    hardening_kind: HardeningKind = "isotropic"


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


def hardening_faults(
    written: Mapping[str, Any], young: float, hardening: float, reading: Reading
) -> Iterator[tuple[str, str]]:
    """Key and message of each rule that the hardening of a steel breaks, in MPa as its modulus."""
    if "hardening_kind" in written and "hardening" not in written:
        yield "hardening_kind", "must not be stated without hardening"
    most = MOST_HARDENING * young
    if hardening > most * _EDGE:
        yield "hardening", f"must be at most a tenth of young, {reading.shown(most, 'stress')}"
