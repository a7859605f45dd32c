"""From a prototype to a specimen of reduced size: how each quantity scales at equal stress.

The specimen is of the prototype's material, every length of it by S = length of the specimen over
length of the prototype, and it is to be under the same stress and the same acceleration. That fixes
force by S² (stress times area) and time by √S (length over acceleration); a quantity of the
dimension force^φ·length^λ·time^τ then scales by S^(2φ + λ + τ/2). Nothing else is tabulated here.

Mass scales by S² (force over acceleration), the material's own by S³: the rest is artificial mass,
which has to be added to the specimen. Without any, time scales by S, velocity by 1 and acceleration
by 1/S, and gravity is out of scale; that is another rule, which this module does not give.

Source: H. Krawinkler and P. D. Moncarz, Similitude requirements for dynamic models, ACI SP-73
(1982): abstract seen, the table from memory, not seen; the exponents are derived here by dimension.
Valid for what is elastic or yields without regard to its rate; not for welds, surface finish, or
strengths that depend on thickness, which do not scale.
"""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated, Literal

from contactfe.hand import check
from contactfe.hand.formula import formula
from contactfe.hand.quantities import POSITIVE, UNCHECKED, Dimension, Number, Share

OfMaterial = Literal["density", "mass per length"]
"""What the steel itself has, without the mass that is added to a specimen."""

Scaled = Dimension | Literal["acceleration"] | OfMaterial
"""What this module knows the scaling of."""

FORCE_LENGTH_TIME: Mapping[Scaled, tuple[int, int, int]] = MappingProxyType(
    {
        "length": (0, 1, 0),
        "area": (0, 2, 0),
        "section modulus": (0, 3, 0),
        "second moment of area": (0, 4, 0),
        "force": (1, 0, 0),
        "moment": (1, 1, 0),
        "line load": (1, -1, 0),
        "stress": (1, -2, 0),
        "angle": (0, 0, 0),
        "line stiffness": (1, -2, 0),
        "bedding": (1, -3, 0),
        "bending stiffness": (1, 1, 0),
        "moment per length": (1, 0, 0),
        "velocity": (0, 1, -1),
        "acceleration": (0, 1, -2),
        "time": (0, 0, 1),
        "frequency": (0, 0, -1),
        "mass": (1, -1, 2),
        "stiffness": (1, -1, 0),
        "energy": (1, 1, 0),
        "damping": (1, -1, 1),
        # Of the material, which is the same: density keeps its value, mass per length goes by area.
        "density": (0, 0, 0),
        "mass per length": (0, 2, 0),
    }
)
"""Exponents φ, λ, τ of force, length and time in each quantity."""

SOURCE = (
    "H. Krawinkler and P. D. Moncarz, ACI SP-73 (1982): abstract seen, table from memory, not seen;"
    " derived here by dimension"
)
"""Where the rules are from, for reports."""

_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


Scale = Annotated[Share, "S"]
Exponent = Annotated[Number, UNCHECKED]


@formula("similitude factor at equal stress and acceleration", "r", source=SOURCE)
def similitude_factor(
    scale: Scale,
    force: Annotated[Exponent, "φ"],
    length: Annotated[Exponent, "λ"],
    time: Annotated[Exponent, "τ"],
) -> Number:
    """Specimen over prototype of a quantity of force^φ·length^λ·time^τ.

    >>> print(similitude_factor(0.25, 0.0, 1.0, -1.0))
    0.5
    """
    return float(scale ** (2 * force + length + time / 2))


@formula("similitude factor of a damper's coefficient", "rC", source=SOURCE)
def damper_factor(scale: Scale, exponent: Annotated[Number, POSITIVE, "α"]) -> Number:
    """Specimen over prototype of the C of a damper's law F = C·v^α.

    C is a force over a velocity to the power α, so force S² over (√S)^α; α itself is kept. A damper
    that is stated by a force at a velocity is scaled by these two alone, whatever α.

    >>> print(damper_factor(0.25, 1.0))
    0.125
    """
    return float(scale ** (2 - exponent / 2))


def exponent(dimension: Scaled | None) -> Fraction:
    """The power of S that a quantity scales by; a plain ratio, of dimension None, keeps its value.

    Raises KeyError for a dimension that is not among :data:`Scaled`.

    >>> exponent("velocity"), exponent("mass"), exponent("bedding")
    (Fraction(1, 2), Fraction(2, 1), Fraction(-1, 1))
    """
    if dimension is None:
        return Fraction(0)
    force, length, time = FORCE_LENGTH_TIME[dimension]
    return 2 * force + length + Fraction(time, 2)


def factor(dimension: Scaled | None, scale: float) -> float:
    """Specimen over prototype of a quantity, by its dimension: a figure times this is the model's.

    ``scale`` S is length of the specimen over length of the prototype. A dimension of None is that
    of a plain ratio. Density and mass per length are those of the steel itself, which the added
    mass is no part of. Raises ValueError for S not in (0, 1], KeyError as :func:`exponent`.

    >>> factor("force", 0.25), factor("time", 0.25), factor("stress", 0.25)
    (0.0625, 0.5, 1.0)
    """
    check.share(scale=scale)
    return float(scale ** float(exponent(dimension)))


def rule(dimension: Scaled | None) -> str:
    """The factor of a quantity in symbols. Raises KeyError as :func:`exponent`.

    >>> [rule(of) for of in ("line load", "force", "time", "frequency", "bedding", "stress")]
    ['S', 'S²', '√S', '1/√S', '1/S', '1']
    """
    power = exponent(dimension)
    if power == 0:
        return "1"
    size = abs(power)
    raised = "" if size.numerator == 1 else str(size.numerator).translate(_SUPERSCRIPTS)
    written = ("√" if size.denominator == 2 else "") + f"S{raised}"
    return written if power > 0 else f"1/{written}"
