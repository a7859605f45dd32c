"""The units that results are shown in: their names, factors and digits, for text and figures.

Inside, and in files for other programs, figures stay in N, mm, MPa, kg/m and rad. They turn into
these units where they become text or ink, and nowhere else.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, fields
from functools import cache
from typing import TYPE_CHECKING, Literal, TypeVar

from contactfe.case.units import Dimension, parse_quantity

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from contactfe.hand.formula import Limit

    Figures = TypeVar("Figures", float, NDArray[np.float64])

ReportUnits = Literal["SI", "US customary"]
"""What a case file may ask for."""


def significant(value: float, digits: int = 4) -> str:
    """A number to that many significant digits, never in powers of ten.

    >>> print(significant(1.11754), significant(3842.31), significant(123456.0), significant(0.0))
    1.118 3842 123456 0
    >>> significant(math.inf)
    'infinite'
    """
    if not math.isfinite(value):
        return "infinite" if value > 0.0 else "not known"
    if value == 0.0:
        return f"{value:g}"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{decimals}f}"


@dataclass(frozen=True)
class Unit:
    """A unit by its name in a case file, of a dimension, and how a figure in it is written.

    ``form`` is for figures without an uncertainty beside them, which otherwise sets how many
    digits count.
    """

    name: str
    dimension: Dimension
    form: Callable[[float], str]

    @property
    def held(self) -> float:
        """One of this unit in the unit that its dimension is held in: 25.4 for the inch."""
        return _held(self.name, self.dimension)

    def of(self, value: Figures) -> Figures:
        """Figures as held, in this unit.

        >>> US.length.of(304.8)
        12.0
        """
        return value / self.held

    def number(self, value: float) -> str:
        """A figure as held, written in this unit but without its name."""
        return self.form(self.of(value))

    def text(self, value: float) -> str:
        """A figure as held, written in this unit.

        >>> SI.stress.text(405.3), US.stress.text(405.3), US.length.text(152.4)
        ('405 MPa', '58.8 ksi', '6 in')
        """
        return f"{self.number(value)} {self.name}"

    def signed(self, value: float) -> str:
        """The same with its sign, plus or minus."""
        text = self.text(value)
        return text if text.startswith("-") else f"+{text}"


@cache
def _held(name: str, dimension: Dimension) -> float:
    """The case file's own conversion, so that no factor is written twice."""
    return parse_quantity(f"1 {name}", dimension)


@dataclass(frozen=True)
class Display:
    """The unit of every quantity that results state with one. K, utilisations and ν have none."""

    length: Unit
    stress: Unit
    line_load: Unit
    mass_per_length: Unit
    angle: Unit
    line_stiffness: Unit
    moment_per_length: Unit  # along the post
    force: Unit
    moment: Unit
    area: Unit
    section_modulus: Unit
    second_moment_of_area: Unit
    bending_stiffness: Unit  # of a strip, for each length along the post
    bedding: Unit
    stiffness: Unit
    time: Unit
    velocity: Unit
    mass: Unit
    energy: Unit
    damping: Unit

    def limit(self, limit: Limit) -> str:
        """A limit of a formula's range, and where a use of it stands.

        >>> from contactfe.hand.formula import Limit
        >>> US.limit(Limit("d", 100.0, 635.0, "at most", "length"))
        'd = 3.94 in, at most 25 in'
        """
        return f"{limit.what} = {self.beside(limit)}, {limit.side} {self.bound(limit)}"

    def bound(self, limit: Limit) -> str:
        """The bound of a limit, with its unit."""
        return self.figure(limit.bound, limit.dimension, 4)

    def beside(self, limit: Limit) -> str:
        """The value of a limit, with as many digits as tell it from the bound.

        >>> from contactfe.hand.formula import Limit
        >>> [SI.beside(Limit("σ/Y", x, 1.0, "at most")) for x in (0.41, 0.11745, 1.0018, 999.7)]
        ['0.41', '0.117', '1.002', '1000']
        """
        noise = abs(limit.value) < 1e-9 * abs(limit.bound)
        value = 0.0 if noise else limit.value
        texts = [self.figure(value, limit.dimension, digits) for digits in range(3, 9)]
        bound = self.bound(limit)
        apart = [text for text in texts if text != bound or limit.value == limit.bound]
        return apart[0] if apart else texts[-1]

    def figure(self, value: float, dimension: str | None, digits: int) -> str:
        """A figure without idle zeros, with its unit if it has one."""
        unit = None if dimension is None else self.unit(dimension)
        number = significant(value if unit is None else unit.of(value), digits)
        if "." in number:
            number = number.rstrip("0").rstrip(".")
        return number if unit is None else f"{number} {unit.name}"

    def unit(self, dimension: str) -> Unit:
        """The unit of a dimension. Raises KeyError for one that results never state."""
        for field in fields(self):
            unit: Unit = getattr(self, field.name)
            if unit.dimension == dimension:
                return unit
        raise KeyError(dimension)


def _stress(decimals: int) -> Callable[[float], str]:
    """Fixed decimals, but never fewer than two digits that count."""

    def form(value: float) -> str:
        small = 0.0 < abs(value) < 10.0 ** (1 - decimals)
        return significant(value, 2) if small else f"{value:.{decimals}f}"

    return form


SI = Display(
    Unit("mm", "length", "{:.5g}".format),
    Unit("MPa", "stress", _stress(0)),
    Unit("N/mm", "line load", significant),
    Unit("kg/m", "mass per length", significant),
    Unit("deg", "angle", "{:.5g}".format),
    Unit("N/mm/mm", "line stiffness", significant),
    Unit("N·mm/mm", "moment per length", significant),
    Unit("kN", "force", significant),
    Unit("kN·m", "moment", significant),
    Unit("mm²", "area", significant),
    Unit("mm³", "section modulus", significant),
    Unit("mm⁴", "second moment of area", significant),
    Unit("kN·m", "bending stiffness", significant),
    Unit("N/mm³", "bedding", significant),
    Unit("kN/mm", "stiffness", significant),
    Unit("s", "time", significant),
    Unit("m/s", "velocity", significant),
    Unit("t", "mass", significant),
    Unit("kN·m", "energy", significant),
    Unit("kN·s/mm", "damping", significant),
)
# A ksi is 7 MPa: its first decimal is worth about what a whole MPa is.
US = Display(
    Unit("in", "length", "{:.5g}".format),
    Unit("ksi", "stress", _stress(1)),
    Unit("kip/in", "line load", significant),
    Unit("lb/ft", "mass per length", significant),
    Unit("deg", "angle", "{:.5g}".format),
    Unit("kip/in/in", "line stiffness", significant),
    Unit("kip·in/in", "moment per length", significant),
    Unit("kip", "force", significant),
    Unit("kip·in", "moment", significant),
    Unit("in²", "area", significant),
    Unit("in³", "section modulus", significant),
    Unit("in⁴", "second moment of area", significant),
    Unit("kip·in", "bending stiffness", significant),
    Unit("kip/in³", "bedding", significant),
    Unit("kip/in", "stiffness", significant),
    Unit("s", "time", significant),
    Unit("in/s", "velocity", significant),
    Unit("lb", "mass", significant),
    Unit("kip·in", "energy", significant),
    Unit("kip·s/in", "damping", significant),
)

DISPLAYS: dict[ReportUnits, Display] = {"SI": SI, "US customary": US}
