"""A fillet weld all round the root of the post, under its bending moment and shear force.

The weld is a line along the circle of diameter D at the root, with a throat a: the throat's area is
turned into the plane of the root, as the standards do for their design stresses. The force on each
mm of weld over a is the stress in the throat. What it may be is for the clauses of a standard to
say.

Valid for a throat small beside the diameter (:func:`throat_limits`); taken as a ring from D to
D + 2a instead, the modulus of the throat is a little greater, so the line is on the safe side.
Plug welds, welds inside a bore and the plate's own flexibility are left out.
"""

import math
from functools import partial

from contactfe.hand import check
from contactfe.hand.formula import Limit, at_least, at_most, formula, limited, shown
from contactfe.hand.quantities import Area, Force, Length, Moment, SectionModulus, Stress

_as_a_line = partial(
    formula, source="the weld as a line: common practice, no source", symbols={"throat": "a"}
)


def throat_limits(throat: float, outside_diameter: float) -> tuple[Limit, ...]:
    """How small the throat is beside the diameter: a/D, at most a tenth; both in mm.

    At the bound the modulus of the line is 11 % less than that of a ring from D to D + 2a (derived
    here). Raises ValueError for a size that is not positive.
    """
    check.positive(throat=throat, outside_diameter=outside_diameter)
    return (at_most("a/D", throat / outside_diameter, 0.1),)


@_as_a_line("area of the throat", "Aw")
def throat_area(throat: Length, outside_diameter: Length) -> Area:
    """Area of the throat of a fillet weld all round.

    >>> print(throat_area(10.0, 150.0))
    4712.389
    """
    limited(*throat_limits(throat, outside_diameter))
    return math.pi * outside_diameter * throat


@_as_a_line("section modulus of the throat", "Ww")
def throat_modulus(throat: Length, outside_diameter: Length) -> SectionModulus:
    """Section modulus of the throat of a fillet weld all round.

    >>> print(throat_modulus(10.0, 150.0))
    176714.6
    """
    limited(*throat_limits(throat, outside_diameter))
    return math.pi / 4 * outside_diameter**2 * throat


@_as_a_line("stress in the throat from bending", "σw")
def bending_stress(moment: Moment, throat: Length, outside_diameter: Length) -> Stress:
    """Greatest stress in the throat from the moment at the root, along the post.

    >>> print(bending_stress(60e6, 10.0, 150.0))
    339.5305
    """
    limited(*throat_limits(throat, outside_diameter))
    return moment / (math.pi / 4 * outside_diameter**2 * throat)


@_as_a_line("mean stress in the throat from shear", "τw")
def shear_stress(force: Force, throat: Length, outside_diameter: Length) -> Stress:
    """Mean stress in the throat from the shear force.

    A thin ring carries twice that where bending vanishes, and none where bending is greatest.

    >>> print(shear_stress(100e3, 10.0, 150.0))
    21.2207
    """
    limited(*throat_limits(throat, outside_diameter))
    return force / (math.pi * outside_diameter * throat)


@_as_a_line(
    "resultant stress in the throat",
    "fR",
    note="σw is the stress in the throat from bending, τw the mean one from shear",
)
def resultant_stress(
    force: Force, moment: Moment, throat: Length, outside_diameter: Length
) -> Stress:
    """Resultant of the greatest stress of bending and the mean one of shear, at one place.

    In a thin ring the two never meet: the resultant is there max(σw, 2τw), which this one covers as
    long as M/(FD) is at least √3/4 (derived here).

    >>> print(resultant_stress(100e3, 60e6, 10.0, 150.0))
    340.193
    """
    lever = moment / force if force else math.inf
    bent_rather_than_sheared = at_least("M/(F·D)", lever / outside_diameter, math.sqrt(3) / 4)
    limited(*throat_limits(throat, outside_diameter), bent_rather_than_sheared)
    bending = shown(
        "bending", bending_stress.plain(moment, throat, outside_diameter), "σw", "stress"
    )
    shear = shown("shear", shear_stress.plain(force, throat, outside_diameter), "τw", "stress")
    return math.sqrt(bending**2 + shear**2)
