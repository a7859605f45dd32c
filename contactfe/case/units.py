"""A number with its unit, as an engineer writes it, turned into N, mm, MPa and radians.

Nothing is guessed: one decimal number, then units out of a short list. Only names on that list
pass, so there are no prefixes or plurals to misread.

A library of units takes a quarter of a second to load, which every command would pay. What this
list needs of one is a page of arithmetic, here; the tests hold it against the library.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from contactfe.case.unit_meant import in_known_units, meant
from contactfe.case.wording import listed, short
from contactfe.errors import InputError

Dimension = Literal[
    "length",
    "force",
    "line load",
    "stress",
    "density",
    "mass per length",
    "angle",
    "line stiffness",
    "moment per length",
    "area",
    "section modulus",
    "second moment of area",
    "moment",
    "bending stiffness",
    "bedding",
    "stiffness",
    "time",
    "velocity",
    "mass",
    "energy",
    "frequency",
    "damping",
]


@dataclass(frozen=True)
class Measures:
    """What a figure of a record measures, as a mark in its annotation.

    That of a figure which no file states as a quantity, but a smaller specimen has another of.
    """

    dimension: Dimension


LengthUnit = Literal["mm", "cm", "m", "in", "inch", "ft"]
"""The units of length among those known, for a key that names one."""

# Unit in which each dimension is held inside contactfe, and how one is written in a case file.
_HELD_IN: dict[Dimension, str] = {
    "length": "mm",
    "force": "N",
    "line load": "N/mm",
    "stress": "MPa",
    "density": "kg/m3",
    "mass per length": "kg/m",
    "angle": "rad",
    "line stiffness": "N/mm2",
    "moment per length": "N*mm/mm",
    "area": "mm2",
    "section modulus": "mm3",
    "second moment of area": "mm4",
    "moment": "N*mm",
    "bending stiffness": "N*mm",
    "bedding": "N/mm3",
    "stiffness": "N/mm",
    "time": "s",
    "velocity": "mm/s",
    "mass": "t",
    "energy": "N*mm",
    "frequency": "rad/s",
    "damping": "N*s/mm",
}
_EXAMPLE: dict[Dimension, str] = {
    "length": '"150 mm"',
    "force": '"450 kN"',
    "line load": '"1.5 kN/mm"',
    "stress": '"345 MPa"',
    "density": '"7850 kg/m3"',
    "mass per length": '"139 kg/m"',
    "angle": '"15 deg"',
    "line stiffness": '"2 kN/mm/mm"',
    "moment per length": '"12 kN*mm/mm"',
    "area": '"98 cm2"',
    "section modulus": '"330 cm3"',
    "second moment of area": '"2490 cm4"',
    "moment": '"270 kN*m"',
    "bending stiffness": '"3800 kN*m"',
    "bedding": '"0.1 N/mm3"',
    "stiffness": '"80 kN/mm"',
    "time": '"3 s"',
    "velocity": '"0.7 m/s"',
    "mass": '"2000 t"',
    "energy": '"50 kN*m"',
    "frequency": '"2 rad/s"',
    "damping": '"90 kN*s/mm"',
}
# The same for who writes US units.
_US_EXAMPLE: dict[Dimension, str] = {
    "length": '"6 in"',
    "force": '"100 kip"',
    "line load": '"8.5 kip/in"',
    "stress": '"50 ksi"',
    "density": '"490 lb/ft3"',
    "mass per length": '"94 lb/ft"',
    "line stiffness": '"300 kip/in/in"',
    "moment per length": '"3 kip*in/in"',
    "area": '"15 in2"',
    "section modulus": '"20 in3"',
    "second moment of area": '"60 in4"',
    "moment": '"2400 kip*in"',
    "bending stiffness": '"34000 kip*in"',
    "bedding": '"400 kip/in3"',
    "stiffness": '"450 kip/in"',
    "velocity": '"28 in/s"',
    "mass": '"4400000 lb"',
    "energy": '"440 kip*in"',
    "damping": '"50 kip*s/in"',
}
_US_UNITS = frozenset({"in", "inch", "ft", "lbf", "kip", "psi", "ksi", "lb"})

# A mass may be written by the force that it takes to accelerate it, which in US units is usual:
# 1 N s²/mm is 1 t exactly.
_ALSO: dict[Dimension, str] = {"mass": "N*s2/mm"}

# Force is a base dimension beside length, mass and time: a weight does not pass for a
# force, or a mass for either. So is angle, or an angle would pass for a plain ratio such as mm/mm.
# inch, pound and standard gravity are exact by definition (common practice, no source).
# Each is so many of another unit; the base units have none.
_UNITS: dict[str, tuple[float, str]] = {
    "mm": (1.0, ""),
    "cm": (10.0, "mm"),
    "m": (1000.0, "mm"),
    "in": (25.4, "mm"),
    "inch": (25.4, "mm"),
    "ft": (304.8, "mm"),
    "N": (1.0, ""),
    "kN": (1000.0, "N"),
    "MN": (1000000.0, "N"),
    "kgf": (9.80665, "N"),
    "lbf": (4.4482216152605, "N"),
    "kip": (4448.2216152605, "N"),
    "Pa": (0.000001, "N/mm2"),
    "kPa": (0.001, "N/mm2"),
    "MPa": (1.0, "N/mm2"),
    "GPa": (1000.0, "N/mm2"),
    "psi": (1.0, "lbf/in2"),
    "ksi": (1.0, "kip/in2"),
    "kg": (1.0, ""),
    "g": (0.001, "kg"),
    "t": (1000.0, "kg"),
    "lb": (0.45359237, "kg"),
    "s": (1.0, ""),
    "ms": (0.001, "s"),
    "rad": (1.0, ""),
    "mrad": (0.001, "rad"),
    "deg": (math.pi / 180, "rad"),
}

# Those of a dimension that have a name of their own, for messages.
_BY_NAME: dict[Dimension, tuple[str, ...]] = {
    "length": ("mm", "cm", "m", "in", "inch", "ft"),
    "force": ("N", "kN", "MN", "kgf", "lbf", "kip"),
    "stress": ("Pa", "kPa", "MPa", "GPa", "psi", "ksi"),
    "mass": ("t", "kg", "g", "lb"),
    "time": ("s", "ms"),
    "angle": ("deg", "rad", "mrad"),
}

LARGEST = 1e30
"""Bound on what is read: products and ratios of such numbers stay within a float."""

_LONGEST = 60
"""Characters of a unit; one that is longer is taken apart too deep."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?(?![0-9.])")
_PART = re.compile(r"(/?)\s*([A-Za-z]+)\^?([2-4]?)")
_EXPRESSION = re.compile(r"[A-Za-z]+(?:\^?[2-4])?(?:\s*[*/]\s*[A-Za-z]+(?:\^?[2-4])?)*")
_SIGNS = str.maketrans({"²": "2", "³": "3", "⁴": "4", "·": "*", "°": "deg"})


def _named(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _in_units(dimension: Dimension) -> str:
    """The units of a dimension that has any by name, such as mm for a length; else nothing."""
    units = _BY_NAME.get(dimension)
    return "" if units is None else f", in {listed(units, 'or')}"


def _powers(unit: str) -> Counter[str]:
    """Of each name in a unit that is made of known ones."""
    powers: Counter[str] = Counter()
    for over, name, power in _PART.findall(unit):
        powers[name] += (-1 if over else 1) * int(power or 1)
    return powers


def _in_base(powers: Mapping[str, int]) -> tuple[Counter[str], Counter[float]]:
    """Powers of the base units that a unit comes to, and of the factors that it takes."""
    base: Counter[str] = Counter()
    factors: Counter[float] = Counter()
    for name, power in powers.items():
        factor, other = _UNITS[name]
        if not other:
            base[name] += power
            continue
        factors[factor] += power
        deeper, more = _in_base({one: power * of for one, of in _powers(other).items()})
        base.update(deeper)
        factors.update(more)
    return base, factors


@cache
def _factor(unit: str, held_in: str) -> float | None:
    """What turns a number in a unit into one in another; None where they measure something else.

    Equal factors cancel before they are multiplied, those above the line first: 1 kN/m is 1 N/mm.
    """
    powers = _powers(unit)
    powers.subtract(_powers(held_in))
    base, factors = _in_base(powers)
    if any(base.values()):
        return None
    above = math.prod(factor**power for factor, power in factors.items() if power > 0)
    return math.prod((factor**power for factor, power in factors.items() if power < 0), start=above)


def _held(unit: str, dimension: Dimension) -> float | None:
    """What turns a number in a known unit into one as held; None where it measures another."""
    units = (_HELD_IN[dimension], _ALSO.get(dimension))
    factors = (_factor(unit, of) for of in units if of)
    return next((factor for factor in factors if factor is not None), None)


def _names(unit: str) -> set[str]:
    return set(re.findall(r"[A-Za-z]+", unit))


def _is_known(unit: str) -> bool:
    """Whether a unit is made of known names, by * and / and powers."""
    return (
        len(unit) <= _LONGEST
        and _names(unit) <= _UNITS.keys()
        and _EXPRESSION.fullmatch(unit) is not None
    )


def _meant(unit: str, dimension: Dimension) -> str | None:
    """The known unit of the dimension that may be meant, such as lbf/in by lb/in."""

    def fits(unit: str) -> bool:
        return _is_known(unit) and _held(unit, dimension) is not None

    return meant(unit, _UNITS, fits)


def _not_known(unit: str, dimension: Dimension) -> str:
    if len(unit) > _LONGEST:
        long = f"has a unit of more than {_LONGEST} characters, {short(unit)}"
        return f"{long}; {_example(dimension)}"
    said = in_known_units(unit)
    # Failing one of the dimension, the right name of what is written.
    other = _meant(unit, dimension) or (None if said else meant(unit, _UNITS, _is_known))
    hint = f"did you mean {other}? " if other else f"{said}; " if said else ""
    # The units of the dimension where it has any by name, or else all, which make one together.
    every = f"known are {', '.join(_UNITS)}, joined by * and /, with powers as in mm2 or mm^2; "
    return (
        f"has a unit that is not known, {unit}; {hint}{'' if dimension in _BY_NAME else every}"
        f"{_example(dimension, other or said or unit)}{_in_units(dimension)}"
    )


def _of_another(unit: str, dimension: Dimension) -> str:
    # lb is a mass here, so "lb/in" is no line load.
    kinds = [kind for kind in _HELD_IN if _held(unit, kind) is not None]
    what = f"is {_named(kinds[0])}, not" if kinds else "is not"
    other = _meant(unit, dimension)
    hint = f"did you mean {other}? " if other else ""
    return (
        f"{what} {_named(dimension)}; {hint}{_example(dimension, unit)}{_in_units(dimension)}"
        f"{_of_weight(dimension, kinds)}"
    )


def known_units() -> tuple[str, ...]:
    """The names of units that a quantity may be written in.

    >>> known_units()[:3]
    ('mm', 'cm', 'm')
    """
    return tuple(_UNITS)


def example_of(dimension: Dimension, us: bool = False) -> str:
    """How a quantity of a dimension may be written.

    >>> example_of("length"), example_of("length", us=True)
    ('150 mm', '6 in')
    """
    us_example = _US_EXAMPLE.get(dimension) if us else None
    return (us_example or _EXAMPLE[dimension]).strip('"')


def how_written(dimension: Dimension) -> str:
    """What a quantity of a dimension is in a file.

    >>> how_written("angle"), how_written("line load")
    ('an angle with its unit: deg, rad or mrad', 'a line load such as 1.5 kN/mm or 8.5 kip/in')
    """
    units = _BY_NAME.get(dimension)
    if units is not None:
        return f"{_named(dimension)} with its unit: {listed(units, 'or')}"
    examples = (of[dimension].strip('"') for of in (_EXAMPLE, _US_EXAMPLE) if dimension in of)
    return f"{_named(dimension)} such as {listed(list(examples), 'or')}"


def _example(dimension: Dimension, unit: str = "") -> str:
    """How a quantity is written, in US units for who wrote one of them."""
    us = not _US_UNITS.isdisjoint(_names(unit))
    example = _US_EXAMPLE.get(dimension) if us else None
    return f"write for example {example or _EXAMPLE[dimension]}"


def _of_weight(dimension: Dimension, kinds: list[Dimension]) -> str:
    """What helps where a mass is stated by its weight, or a force by its mass."""
    if {dimension, *kinds[:1]} != {"mass", "force"}:
        return ""
    return "; 1000 lb weigh 1 kip, 1 t weighs 9.81 kN"


def parse_quantity(text: object, dimension: Dimension) -> float:
    """Read one number with its unit, such as "150 mm", "8.5 kip/in" or "345 N/mm2".

    Gives a length in mm, a force in N, a line load in N/mm, a stress in MPa, a density in kg/m³,
    a mass per length in kg/m, an angle in rad, a line stiffness in N/mm per mm of line, a moment
    per length in N mm per mm; the sign is kept. A line stiffness has the dimension of a stress and
    may be written as one; so a moment per length may be written as a force. A mass, in t, may be
    written as a force times a time squared over a length.

    Raises InputError for no unit, no number or more than one, a comma, a unit that is not known,
    a quantity of another dimension, and a number too large to hold.

    >>> parse_quantity("6 in", "length")
    152.4
    >>> parse_quantity("50 ksi", "stress")
    344.738
    """
    example = _example(dimension)
    example_in = f"{example}{_in_units(dimension)}"
    if isinstance(text, int | float) and not isinstance(text, bool):
        raise InputError(f"has no unit; {example_in}")
    if not isinstance(text, str):
        raise InputError(f"must be text with a number and a unit; {example}")
    if "," in text:
        raise InputError(
            f"has a comma; the decimal sign is a point and thousands are not split; {example}"
        )
    stripped = text.strip()
    number = _NUMBER.match(stripped)
    if number is None:
        raise InputError(f"must start with one finite decimal number; {example}")
    unit = stripped[number.end() :].strip().translate(_SIGNS)
    if not unit:
        raise InputError(f"has no unit; {example_in}")
    if not unit[0].isalpha() and any(sign.isdigit() for sign in unit):
        raise InputError(f"must be one decimal number, no fraction, no sum, no range; {example}")

    if not _is_known(unit):
        raise InputError(_not_known(unit, dimension))
    factor = _held(unit, dimension)
    if factor is None:
        raise InputError(_of_another(unit, dimension))
    value = float(number[0]) * factor
    if not abs(value) <= LARGEST:
        raise InputError(f"is too large a number; {example}")
    return value


def is_quantity(text: str) -> bool:
    """Whether a text that has been read begins with a number.

    >>> is_quantity("6 in"), is_quantity("in")
    (True, False)
    """
    return _NUMBER.match(text.strip()) is not None


def dimension_of(text: str) -> Dimension:
    """What a quantity with its unit measures; the first of those that share a unit.

    Raises InputError for what is no quantity, or one that nothing here measures.

    >>> dimension_of("5 kip/in"), dimension_of("2 in3")
    ('line load', 'section modulus')
    """
    stripped = text.strip()
    number = _NUMBER.match(stripped)
    unit = stripped[number.end() :].strip().translate(_SIGNS) if number else ""
    found = (kind for kind in _HELD_IN if _is_known(unit) and _held(unit, kind) is not None)
    dimension = next(found, None)
    if dimension is None:
        raise InputError(
            f"must be a number with a unit that is known, such as {_EXAMPLE['stress']}"
        )
    return dimension


def times(text: str, factor: float) -> str:
    """A quantity that :func:`parse_quantity` reads, times a factor, in the unit that it is in.

    To twelve digits, so that "0.1 mm" times 3 is not 0.30000000000000004 mm.

    >>> times("150 mm", 0.25), times("1 kip / in", 0.5)
    ('37.5 mm', '0.5 kip / in')
    """
    stripped = text.strip()
    number = _NUMBER.match(stripped)
    if number is None:
        raise ValueError(f"{text!r} is no quantity")
    return f"{float(number[0]) * factor:.12g} {stripped[number.end() :].strip()}"


def parse_percent(text: object) -> float:
    """Read one number of percent, such as "2 %", as the fraction that it is; the sign is kept.

    Raises InputError for anything else, also for a number without its sign.

    >>> parse_percent("2 %")
    0.02
    """
    stripped = text.strip() if isinstance(text, str) else ""
    number = _NUMBER.match(stripped)
    if number is None or stripped[number.end() :].strip() != "%":
        raise InputError('must be text with one decimal number and %; write for example "2 %"')
    return float(number[0]) / 100
