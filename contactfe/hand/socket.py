"""A socket at the root: the post stands in it, held by bearing over its depth.

Derived here. The force F acts at L from the mouth and the post does not bend within the depth h, so
that the bearing force per length runs straight along it, w = a + b(x − h/2), x from the mouth. Its
sum is F and its moment about the mouth −F L: a = F/h and b = −12 F (L + h/2)/h³. It is greatest at
the mouth, and turns over beyond the middle. Over the projected width D it is a mean pressure.

The shear force is F less what bears up to x: it passes zero at x0 = h²/(3(2L + h)), where the
bending moment is greatest, and has its own greatest value, of the other sign, halfway from there to
the bottom. Both are more than at the mouth.

A post that does bend presses more at the mouth and less below. On a bed of 0.3 to 1 times its
Young's modulus the peak is 1.1 to 1.4 times the straight one at a depth of one diameter, 1.2 to 2.1
times at one and a half and 1.6 to 3.3 at two; to one and a half, moment and shear are below those
given here (a beam on springs, computed here). So no more than 1.5 diameters of the depth count. The
straight pressure is in equilibrium with the load: held to a strength of ductile steel it is safe
against collapse, by the static theorem. It is no measure of first yield at the mouth, of wear or of
play.
"""

from functools import partial
from typing import Annotated

from contactfe.hand.formula import formula
from contactfe.hand.quantities import Force, Length, Pressure

DEEPEST = 1.5
"""Depth that counts, in diameters, at most: a choice made here."""

Depth = Annotated[Length, "h"]

_formula = partial(
    formula, source="statics, bearing that runs straight over the depth: derived here"
)


@_formula("depth of the socket that counts", "h")
def depth_counted(depth: Annotated[Length, "hs"], outside_diameter: Length) -> Length:
    """Of a deeper socket only 1.5 diameters below the mouth.

    >>> print(depth_counted(400.0, 150.0))
    225.0
    """
    return min(depth, 1.5 * outside_diameter)


@_formula("bearing pressure at the mouth of the socket", "p")
def mouth_pressure(
    force: Force, length: Length, depth: Depth, outside_diameter: Length
) -> Pressure:
    """Greatest pressure, over the projected width.

    >>> print(round(mouth_pressure(100e3, 600.0, 200.0, 150.0), 3))
    73.333
    """
    return 2 * force * (3 * length + 2 * depth) / (depth**2 * outside_diameter)


@_formula("distance of the force that gives the greatest moment in the socket", "L'")
def greatest_lever(length: Length, depth: Depth) -> Length:
    """The greatest bending moment over the force.

    >>> print(round(greatest_lever(600.0, 200.0), 4))
    604.6863
    """
    return length + depth**2 / (6 * (2 * length + depth)) * (1 - depth / (9 * (2 * length + depth)))


@_formula("greatest shear force in the socket", "V'")
def inner_shear(force: Force, length: Length, depth: Depth) -> Force:
    """Greatest shear force within the depth, of the sign opposite to that of the force.

    >>> print(round(inner_shear(100e3, 600.0, 200.0)))
    476190
    """
    return force * (3 * length + depth) ** 2 / (3 * depth * (2 * length + depth))


def together(force: float, length: float, depth: float) -> tuple[tuple[float, float], ...]:
    """Pairs of bending moment, N mm, and shear force, N, that cover all that meet in the socket.

    As :func:`greatest_lever` and :func:`inner_shear`, arguments and source. From the mouth to the
    greatest moment the shear force falls: the first pair is that moment with the force itself. From
    there to the greatest shear force the one falls and the other grows: of each part of that way
    the moment at its beginning stands with the shear force at its end. Both fall from there on.
    """
    at_mouth, slope = 2 * (3 * length + 2 * depth) / depth**2, -6 * (2 * length + depth) / depth**3
    begin = depth**2 / (3 * (2 * length + depth))
    places = [begin + (depth - begin) / 2 * k / _PARTS for k in range(_PARTS + 1)]
    shears = [force * (1 - at_mouth * x - slope * x**2 / 2) for x in places]
    moments = [force * (length + x - at_mouth * x**2 / 2 - slope * x**3 / 6) for x in places[:-1]]
    ends = zip(moments, map(abs, shears[1:]), strict=True)
    return (moments[0], force), *ends


_PARTS = 16
