"""Area, second moment and moduli of a solid or hollow round section, from its two diameters."""

import math
from functools import partial
from typing import Annotated

from contactfe.hand import check
from contactfe.hand.formula import formula
from contactfe.hand.quantities import UNCHECKED, Area, Length, SecondMoment, SectionModulus

Bore = Annotated[Length, UNCHECKED]
"""Bore of a hollow round, 0 of a solid one: refused where it is not in [0, outside diameter)."""

_of_circle = partial(formula, source="geometry of the circle")


@_of_circle("area of the section", "A")
def area(outside_diameter: Length, bore: Bore = 0.0) -> Area:
    """Area of a solid (bore 0) or hollow round.

    >>> print(area(150.0, 100.0))
    9817.477
    """
    check.bore(outside_diameter, bore)
    return math.pi / 4 * (outside_diameter**2 - bore**2)


@_of_circle("second moment of area", "I")
def second_moment(outside_diameter: Length, bore: Bore = 0.0) -> SecondMoment:
    """Second moment of area.

    >>> print(second_moment(150.0, 100.0) / 1e6)
    19.94175
    """
    check.bore(outside_diameter, bore)
    return math.pi / 64 * (outside_diameter**4 - bore**4)


@_of_circle("elastic section modulus", "W")
def elastic_modulus(outside_diameter: Length, bore: Bore = 0.0) -> SectionModulus:
    """Elastic section modulus.

    >>> print(elastic_modulus(150.0, 100.0) / 1e3)
    265.8900
    """
    check.bore(outside_diameter, bore)
    return math.pi / 32 * (outside_diameter**4 - bore**4) / outside_diameter


@_of_circle("plastic section modulus", "Z")
def plastic_modulus(outside_diameter: Length, bore: Bore = 0.0) -> SectionModulus:
    """Plastic section modulus: twice the first moment of half the section.

    >>> print(plastic_modulus(150.0, 100.0) / 1e3)
    395.8333
    """
    check.bore(outside_diameter, bore)
    return (outside_diameter**3 - bore**3) / 6
