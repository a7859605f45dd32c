"""A fillet weld all round the root of the post, under bending moment, shear force and torque.

The weld is a line along the circle of diameter D at the root, with a throat a: the throat's area is
turned into the plane of the root, as the standards do for their design stresses. The force on each
mm of weld over a is the stress in the throat. What it may be is for the clauses of a standard to
say.

Valid for a throat of at most a tenth of the diameter. Taken as a ring from D to D + 2a instead, the
modulus of the throat is a little greater, 11 % there (derived here), so the line is on the safe
side. Plug welds, welds inside a bore and the plate's own flexibility are left out.
"""

from functools import partial
from math import inf, pi, sqrt
from typing import Annotated

from contactfe.hand.formula import Limit, at_least, at_most, formula, limited, shown
from contactfe.hand.quantities import Force, Length, Moment, Stress

Throat = Annotated[Length, "a"]

_formula = partial(formula, source="the weld as a line: common practice, no source")


def _small(throat: float, outside_diameter: float) -> Limit:
    return at_most("a/D", throat / outside_diameter, 0.1)


def _bent_rather_than_sheared(
    force: float, moment: float, outside_diameter: float, torque: float
) -> Limit:
    """Where the resultant covers what a thin ring has, see :func:`resultant_stress`."""
    lever, twist = (at / force if force else inf for at in (moment, torque))
    least = sqrt(3 + (4 * twist / outside_diameter if torque else 0.0)) / 4
    return at_least("M/(F·D)", lever / outside_diameter, least)


@_formula("stress in the throat from bending", "σw")
def bending_stress(moment: Moment, throat: Throat, outside_diameter: Length) -> Stress:
    """Greatest stress in the throat from bending, along the post.

    >>> print(bending_stress(60e6, 10.0, 150.0))
    339.5305
    """
    limited(_small(throat, outside_diameter))
    return moment / (pi / 4 * outside_diameter**2 * throat)


@_formula("mean stress in the throat from shear", "τw")
def shear_stress(force: Force, throat: Throat, outside_diameter: Length) -> Stress:
    """Mean stress in the throat from the shear force.

    A thin ring carries twice that where bending vanishes, and none where bending is greatest.
    """
    limited(_small(throat, outside_diameter))
    return force / (pi * outside_diameter * throat)


@_formula("stress in the throat from torsion", "τT")
def torsion_stress(
    torque: Annotated[Moment, "T"], throat: Throat, outside_diameter: Length
) -> Stress:
    """Stress in the throat from a torque about the axis of the post, the same all round.

    >>> print(round(torsion_stress(6.75e6, 10.0, 150.0), 4))
    19.0986
    """
    limited(_small(throat, outside_diameter))
    return torque / (pi / 2 * outside_diameter**2 * throat)


@_formula(
    "resultant stress in the throat",
    "fR",
    note="σw is the stress in the throat from bending, τw the mean one from shear, τT that from"
    " torsion",
)
def resultant_stress(
    force: Force,
    moment: Moment,
    throat: Throat,
    outside_diameter: Length,
    torque: Annotated[Moment, "T"] = 0.0,
) -> Stress:
    """Resultant of the greatest stress of bending, the mean one of shear and torsion, at one place.

    In a thin ring they do not meet so: at the angle α from the farthest fibre they are σw cos α and
    2τw sin α + τT. The resultant covers that as long as 4M/(FD) is at least √(3 + 4T/(FD)), which
    is M/(FD) of √3/4 without torque (derived here).
    """
    D = outside_diameter
    bending = shown("bending", bending_stress.plain(moment, throat, D), "σw", "stress")
    shear = shown("shear", shear_stress.plain(force, throat, D), "τw", "stress")
    twist = shown("twist", torsion_stress.plain(torque, throat, D), "τT", "stress")
    limited(_small(throat, D), _bent_rather_than_sheared(force, moment, D, torque))
    return sqrt(bending**2 + (shear + twist) ** 2)


@_formula("throat required", "a")
def required_throat(
    force: Force,
    moment: Moment,
    outside_diameter: Length,
    strength: Annotated[Stress, "fw"],
    torque: Annotated[Moment, "T"] = 0.0,
) -> Length:
    """Throat at which the resultant stress is the design strength of the weld.

    The strength is that of the throat, whatever the direction of the stress.

    >>> print(required_throat(100e3, 60e6, 150.0, 233.0))
    14.6006
    """
    D = outside_diameter
    along = 4 * moment / (pi * D**2)
    throat = sqrt(along**2 + (force / (pi * D) + 2 * torque / (pi * D**2)) ** 2) / strength
    limited(_small(throat, D), _bent_rather_than_sheared(force, moment, D, torque))
    return throat
