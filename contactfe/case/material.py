"""What one linear elastic steel is to the analysis."""

from dataclasses import dataclass


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
