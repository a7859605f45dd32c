"""What the arguments and the results of a formula are: dimension, unit, and what is allowed.

A formula says it in its annotations: ``radius: Length`` is a finite length greater than zero, in
mm, and is refused otherwise, by name and value. ``Annotated[Length, "ro"]`` gives it a symbol other
than that of :data:`SYMBOLS`, ``Annotated[Length, ANY]`` another range. A word, such as a plane
state, is a ``Literal``. Names in the plural, such as ``Lengths``, take arrays as well.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any, Literal

from contactfe.hand import check

Dimension = Literal[
    "length",
    "area",
    "section modulus",
    "second moment of area",
    "force",
    "moment",
    "line load",
    "stress",
    "angle",
    "line stiffness",
    "bedding",
    "bending stiffness",
    "moment per length",
    "velocity",
    "time",
    "mass",
    "stiffness",
    "energy",
    "frequency",
]
"""What a quantity measures; figures are held in the units of :data:`HELD_IN`."""

HELD_IN: Mapping[Dimension, str] = MappingProxyType(
    {
        "length": "mm",
        "area": "mm²",
        "section modulus": "mm³",
        "second moment of area": "mm⁴",
        "force": "N",
        "moment": "N·mm",
        "line load": "N/mm",
        "stress": "MPa",
        "angle": "rad",
        "line stiffness": "N/mm/mm",
        "bedding": "N/mm³",
        "bending stiffness": "N·mm",
        "moment per length": "N·mm/mm",
        "velocity": "mm/s",
        "time": "s",
        "mass": "t",
        "stiffness": "N/mm",
        "energy": "N·mm",
        "frequency": "rad/s",
    }
)
"""The unit that each quantity is held in. They are coherent, so masses are in tonnes (N s²/mm)."""

_INCH, _KIP = 25.4, 4448.2216152605

US: Mapping[Dimension, float] = MappingProxyType(
    {
        "length": _INCH,
        "area": _INCH**2,
        "force": _KIP,
        "stress": _KIP / _INCH**2,
        "line load": _KIP / _INCH,
    }
)
"""Inch, kip, ksi and kip/in in the units of :data:`HELD_IN`. Inch, pound and standard gravity are
exact by definition (common practice, no source)."""

SYMBOLS: Mapping[str, str] = MappingProxyType(
    {
        "line_load": "q",
        "radius": "R",
        "radius_1": "R1",
        "radius_2": "R2",
        "diameter": "D",
        "outside_diameter": "D",
        "bore": "d",
        "wall": "h",
        "mean_radius": "R",
        "bore_radius": "ri",
        "E_star": "E*",
        "young": "E",
        "young_1": "E1",
        "young_2": "E2",
        "poisson": "ν",
        "poisson_1": "ν1",
        "poisson_2": "ν2",
        "half_width": "a",
        "peak_pressure": "p0",
        "friction": "µ",
        "yield_strength": "Y",
        "thickness": "t",
        "span": "L",
        "offset": "e",
        "spring": "k",
        "bending_stiffness": "D",
        "shear_stiffness": "S",
        "moment": "M",
        "depth": "d",
        "force": "F",
        "length": "L",
        "angle": "φ",
    }
)
"""Symbol of each argument that means the same in every formula."""


@dataclass(frozen=True)
class Range:
    """What an argument may be: ``refuse(name=value)`` raises ValueError for anything else."""

    refuse: Callable[..., None]
    words: str


POSITIVE = Range(check.positive, "greater than 0")
NOT_NEGATIVE = Range(check.not_negative, "0 or more")
ANY = Range(check.finite, "of either sign")
SHARE = Range(check.share, "from 0 to below 1")
UNCHECKED = Range(lambda **_: None, "")
"""For an argument that another formula, or the function itself, refuses."""


@dataclass(frozen=True)
class Quantity:
    """What an annotation says of a number: its dimension, None for a plain one, and its range."""

    dimension: Dimension | None
    range: Range


def _of(dimension: Dimension | None, allowed: Range) -> Quantity:
    return Quantity(dimension, allowed)


Length = Annotated[float, _of("length", POSITIVE)]
Area = Annotated[float, _of("area", POSITIVE)]
SectionModulus = Annotated[float, _of("section modulus", POSITIVE)]
SecondMoment = Annotated[float, _of("second moment of area", POSITIVE)]
Force = Annotated[float, _of("force", NOT_NEGATIVE)]
Moment = Annotated[float, _of("moment", NOT_NEGATIVE)]
LineLoad = Annotated[float, _of("line load", NOT_NEGATIVE)]
MomentPerLength = Annotated[float, _of("moment per length", ANY)]
Stress = Annotated[float, _of("stress", POSITIVE)]
Pressure = Annotated[float, _of("stress", NOT_NEGATIVE)]
SignedStress = Annotated[float, _of("stress", ANY)]
Angle = Annotated[float, _of("angle", ANY)]
LineStiffness = Annotated[float, _of("line stiffness", POSITIVE)]
BendingStiffness = Annotated[float, _of("bending stiffness", POSITIVE)]
Velocity = Annotated[float, _of("velocity", NOT_NEGATIVE)]
Time = Annotated[float, _of("time", POSITIVE)]
Mass = Annotated[float, _of("mass", POSITIVE)]
Stiffness = Annotated[float, _of("stiffness", POSITIVE)]
Energy = Annotated[float, _of("energy", NOT_NEGATIVE)]
Frequency = Annotated[float, _of("frequency", POSITIVE)]
Number = Annotated[float, _of(None, ANY)]
Friction = Annotated[float, _of(None, NOT_NEGATIVE)]
Poisson = Annotated[float, _of(None, Range(check.poisson_ratio, "from 0 to 0.5"))]
PartialFactor = Annotated[float, _of(None, Range(check.partial_factor, "at least 1"))]
Share = Annotated[float, _of(None, Range(check.restitution, "over 0, at most 1"))]
Restitution = Annotated[float, _of(None, Range(check.restitution, "over 0, at most 1"))]

# Of any shape. Arithmetic of numbers and arrays has no type of its own that mypy could follow.
Lengths = Annotated[Any, _of("length", POSITIVE)]
LineLoads = Annotated[Any, _of("line load", NOT_NEGATIVE)]
Stresses = Annotated[Any, _of("stress", POSITIVE)]
MomentsPerLength = Annotated[Any, _of("moment per length", ANY)]
Angles = Annotated[Any, _of("angle", ANY)]
Velocities = Annotated[Any, _of("velocity", NOT_NEGATIVE)]
Forces = Annotated[Any, _of("force", NOT_NEGATIVE)]
Numbers = Annotated[Any, _of(None, ANY)]
