"""Area, second moment and moduli of a solid or hollow round section, from its two diameters."""

import math
from collections.abc import Mapping

from contactfe.hand import check
from contactfe.hand.formula import Dimension, formula

ROUND: Mapping[str, tuple[str, Dimension | None]] = {
    "outside_diameter": ("D", "length"),
    "bore": ("d", "length"),
}
"""Symbols of the two diameters, by which everything that stands on this section is given."""

D4 = "({outside_diameter}⁴ − {bore}⁴)"
D3 = "({outside_diameter}³ − {bore}³)"
"""The differences that the forms of such a section are written with."""

_SECTION = "geometry of the circle"


@formula(
    name="area of the section",
    symbol="A",
    form="π/4·({outside_diameter}² − {bore}²)",
    dimension="area",
    given=ROUND,
    source=_SECTION,
)
def area(outside_diameter: float, bore: float = 0.0) -> float:
    """Area A, mm², of a solid (bore 0) or hollow round: π(D² − d²)/4.

    ``outside_diameter`` D and ``bore`` d in mm. Raises ValueError for a
    diameter that is not positive or a bore not in [0, D).

    Source: geometry.

    >>> print(area(150.0, 100.0))
    9817.477
    """
    check.bore(outside_diameter, bore)
    return math.pi / 4 * (outside_diameter**2 - bore**2)


@formula(
    name="second moment of area",
    symbol="I",
    form=f"π/64·{D4}",
    dimension="second moment of area",
    given=ROUND,
    source=_SECTION,
)
def second_moment(outside_diameter: float, bore: float = 0.0) -> float:
    """Second moment of area I, mm⁴: π(D⁴ − d⁴)/64. Arguments and errors as in :func:`area`.

    Source: geometry.

    >>> print(second_moment(150.0, 100.0) / 1e6)
    19.94175
    """
    check.bore(outside_diameter, bore)
    return math.pi / 64 * (outside_diameter**4 - bore**4)


@formula(
    name="elastic section modulus",
    symbol="W",
    form=f"π/32·{D4}/{{outside_diameter}}",
    dimension="section modulus",
    given=ROUND,
    source=_SECTION,
)
def elastic_modulus(outside_diameter: float, bore: float = 0.0) -> float:
    """Elastic section modulus W, mm³: π(D⁴ − d⁴)/(32D). Arguments and errors as in :func:`area`.

    Source: geometry.

    >>> print(elastic_modulus(150.0, 100.0) / 1e3)
    265.8900
    """
    return second_moment(outside_diameter, bore) / (outside_diameter / 2)


@formula(
    name="plastic section modulus",
    symbol="Z",
    form=f"{D3}/6",
    dimension="section modulus",
    given=ROUND,
    source=_SECTION,
)
def plastic_modulus(outside_diameter: float, bore: float = 0.0) -> float:
    """Plastic section modulus Z, mm³: (D³ − d³)/6. Arguments and errors as in :func:`area`.

    Source: geometry: twice the first moment of half the section.

    >>> print(plastic_modulus(150.0, 100.0) / 1e3)
    395.8333
    """
    check.bore(outside_diameter, bore)
    return (outside_diameter**3 - bore**3) / 6


@formula(
    name="shape factor",
    symbol="Z/W",
    form=f"16/(3·π)·{{outside_diameter}}·{D3}/{D4}",
    dimension=None,
    given=ROUND,
    source=_SECTION,
)
def shape_factor(outside_diameter: float, bore: float = 0.0) -> float:
    """Plastic over elastic section modulus: 1.698 of a solid round, 4/π of a thin tube.

    Arguments and errors as in :func:`area`. Source: geometry.

    >>> print(shape_factor(150.0), shape_factor(150.0, 100.0))
    1.6977 1.4887
    """
    return plastic_modulus(outside_diameter, bore) / elastic_modulus(outside_diameter, bore)
