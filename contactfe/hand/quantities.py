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
    "damping",
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
        "damping": "N·s/mm",
    }
)
"""The unit that each quantity is held in. They are coherent, so masses are in tonnes (N s²/mm)."""

INCH, KIP = 25.4, 4448.2216152605  # mm, N
KSI, KIP_PER_INCH = KIP / INCH**2, KIP / INCH  # MPa, N/mm
"""US customary units in those of :data:`HELD_IN`. Inch, pound and standard gravity are exact by
definition (common practice, no source)."""

US: Mapping[Dimension, float] = MappingProxyType(
    {"length": INCH, "area": INCH**2, "force": KIP, "stress": KSI, "line load": KIP_PER_INCH}
)
"""The units of a formula whose constants are for inches and kips."""

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


Refuse = Callable[..., None]
"""What an argument may be: ``refuse(name=value)`` raises ValueError for anything else."""

POSITIVE: Refuse = check.positive
NOT_NEGATIVE: Refuse = check.not_negative
ANY: Refuse = check.finite
UNCHECKED: Refuse = check.nothing
"""For an argument that another formula, or the function itself, refuses."""


@dataclass(frozen=True)
class Quantity:
    """What an annotation says of a number: its dimension, None for a plain one, and its range."""

    dimension: Dimension | None
    refuse: Refuse


Length = Annotated[float, Quantity("length", POSITIVE)]
Area = Annotated[float, Quantity("area", POSITIVE)]
SectionModulus = Annotated[float, Quantity("section modulus", POSITIVE)]
SecondMoment = Annotated[float, Quantity("second moment of area", POSITIVE)]
Force = Annotated[float, Quantity("force", NOT_NEGATIVE)]
Moment = Annotated[float, Quantity("moment", NOT_NEGATIVE)]
LineLoad = Annotated[float, Quantity("line load", NOT_NEGATIVE)]
MomentPerLength = Annotated[float, Quantity("moment per length", ANY)]
Stress = Annotated[float, Quantity("stress", POSITIVE)]
Pressure = Annotated[float, Quantity("stress", NOT_NEGATIVE)]
SignedStress = Annotated[float, Quantity("stress", ANY)]
Angle = Annotated[float, Quantity("angle", ANY)]
LineStiffness = Annotated[float, Quantity("line stiffness", POSITIVE)]
BendingStiffness = Annotated[float, Quantity("bending stiffness", POSITIVE)]
Velocity = Annotated[float, Quantity("velocity", NOT_NEGATIVE)]
Time = Annotated[float, Quantity("time", POSITIVE)]
Mass = Annotated[float, Quantity("mass", POSITIVE)]
Stiffness = Annotated[float, Quantity("stiffness", POSITIVE)]
Energy = Annotated[float, Quantity("energy", NOT_NEGATIVE)]
Frequency = Annotated[float, Quantity("frequency", POSITIVE)]
Damping = Annotated[float, Quantity("damping", NOT_NEGATIVE)]
Number = Annotated[float, Quantity(None, ANY)]
Friction = Annotated[float, Quantity(None, NOT_NEGATIVE)]
Share = Annotated[float, Quantity(None, check.share)]
Poisson = Annotated[float, Quantity(None, check.poisson_ratio)]
PartialFactor = Annotated[float, Quantity(None, check.partial_factor)]

# Of any shape. Arithmetic of numbers and arrays has no type of its own that mypy could follow.
Lengths = Annotated[Any, Quantity("length", POSITIVE)]
LineLoads = Annotated[Any, Quantity("line load", NOT_NEGATIVE)]
Stresses = Annotated[Any, Quantity("stress", POSITIVE)]
MomentsPerLength = Annotated[Any, Quantity("moment per length", ANY)]
Angles = Annotated[Any, Quantity("angle", ANY)]
Numbers = Annotated[Any, Quantity(None, ANY)]
