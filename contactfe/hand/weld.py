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
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula

_WELD: dict[str, tuple[str, Dimension | None]] = {
    "throat": ("a", "length"),
    "moment": ("M", "moment"),
    "strength": ("fw", "stress"),
}
_LINE = "the weld as a line: common practice, no source"
_AREA = "(π·{outside_diameter}·{throat})"
_MODULUS = "(π/4·{outside_diameter}²·{throat})"


def throat_limits(throat: float, outside_diameter: float) -> tuple[Limit, ...]:
    """How small the throat is beside the diameter: a/D, at most a tenth.

    ``throat`` a and ``outside_diameter`` D in mm. At the bound the modulus of the line is 11 % less
    than that of a ring from D to D + 2a (derived here). Raises ValueError for a size that is not
    positive.
    """
    check.positive(throat=throat, outside_diameter=outside_diameter)
    return (at_most("a/D", throat / outside_diameter, 0.1),)


def _small_throat(_: float, **given: Any) -> tuple[Limit, ...]:
    return throat_limits(given["throat"], given["outside_diameter"])


@formula(
    name="area of the throat",
    symbol="Aw",
    form=f"{_AREA}",
    dimension="area",
    given=_WELD,
    limits=_small_throat,
    source=_LINE,
)
def throat_area(throat: float, outside_diameter: float) -> float:
    """Area Aw, mm², of the throat of a fillet weld all round: πDa.

    ``throat`` a and ``outside_diameter`` D in mm. Raises ValueError for a size that is not
    positive.

    Source: common practice, no source.

    >>> print(throat_area(10.0, 150.0))
    4712.389
    """
    check.positive(throat=throat, outside_diameter=outside_diameter)
    return math.pi * outside_diameter * throat


@formula(
    name="section modulus of the throat",
    symbol="Ww",
    form=f"{_MODULUS}",
    dimension="section modulus",
    given=_WELD,
    limits=_small_throat,
    source=_LINE,
)
def throat_modulus(throat: float, outside_diameter: float) -> float:
    """Section modulus Ww, mm³, of the throat of a fillet weld all round: πD²a/4.

    Arguments, source and errors as in :func:`throat_area`.

    >>> print(throat_modulus(10.0, 150.0))
    176714.6
    """
    return throat_area.plain(throat, outside_diameter) * outside_diameter / 4


@formula(
    name="stress in the throat from bending",
    symbol="σw",
    form=f"{{moment}}/{_MODULUS}",
    dimension="stress",
    given=_WELD,
    limits=_small_throat,
    source=_LINE,
)
def bending_stress(moment: float, throat: float, outside_diameter: float) -> float:
    """Greatest stress σw, MPa, in the throat from bending: M/Ww, along the post.

    ``moment`` M at the root in N mm; the rest as in :func:`throat_area`. Raises ValueError for a
    negative moment or a size that is not positive.

    Source: common practice, no source.

    >>> print(bending_stress(60e6, 10.0, 150.0))
    339.5305
    """
    check.not_negative(moment=moment)
    return moment / throat_modulus.plain(throat, outside_diameter)


@formula(
    name="mean stress in the throat from shear",
    symbol="τw",
    form=f"{{force}}/{_AREA}",
    dimension="stress",
    given=_WELD,
    limits=_small_throat,
    source=_LINE,
)
def shear_stress(force: float, throat: float, outside_diameter: float) -> float:
    """Mean stress τw, MPa, in the throat from the shear force: F/Aw.

    ``force`` F in N; the rest as in :func:`throat_area`. A thin ring carries twice that where
    bending vanishes, and none where bending is greatest. Raises ValueError for a negative force or
    a size that is not positive.

    Source: common practice, no source.

    >>> print(shear_stress(100e3, 10.0, 150.0))
    21.2207
    """
    check.not_negative(force=force)
    return force / throat_area.plain(throat, outside_diameter)


def _bent_rather_than_sheared(_: float, **given: Any) -> tuple[Limit, ...]:
    lever = given["moment"] / given["force"] if given["force"] else math.inf
    least = math.sqrt(3) / 4
    return (at_least("M/(F·D)", lever / given["outside_diameter"], least),)


def _throat_stresses(**given: Any) -> dict[str, Given]:
    size = given["throat"], given["outside_diameter"]
    return {
        "bending": Given("σw", bending_stress.plain(given["moment"], *size), "stress"),
        "shear": Given("τw", shear_stress.plain(given["force"], *size), "stress"),
    }


@formula(
    name="resultant stress in the throat",
    symbol="fR",
    form="√({bending}² + {shear}²)",
    dimension="stress",
    given=_WELD,
    limits=lambda value, **given: (
        *_small_throat(value, **given),
        *_bent_rather_than_sheared(value, **given),
    ),
    parts=_throat_stresses,
    note="σw is the stress in the throat from bending, τw the mean one from shear",
    source=_LINE,
)
def resultant_stress(force: float, moment: float, throat: float, outside_diameter: float) -> float:
    """Resultant stress fR, MPa, in the throat: √(σw² + τw²).

    It takes the greatest stress of bending and the mean one of shear at one place. In a thin ring
    the two never meet: the resultant is there max(σw, 2τw), which fR covers as long as M/(FD) is
    at least √3/4 (derived here). Arguments and errors as in :func:`bending_stress` and
    :func:`shear_stress`.

    Source: common practice, no source.

    >>> print(resultant_stress(100e3, 60e6, 10.0, 150.0))
    340.193
    """
    bending = bending_stress.plain(moment, throat, outside_diameter)
    return math.hypot(bending, shear_stress.plain(force, throat, outside_diameter))


@formula(
    name="throat required",
    symbol="a",
    form=(
        "√((4·{moment}/(π·{outside_diameter}²))² + ({force}/(π·{outside_diameter}))²)/{strength}"
    ),
    dimension="length",
    given=_WELD,
    limits=lambda value, **given: (
        at_most("a/D", value / given["outside_diameter"], 0.1),
        *_bent_rather_than_sheared(value, **given),
    ),
    source=_LINE,
)
def required_throat(force: float, moment: float, outside_diameter: float, strength: float) -> float:
    """Throat a, mm, at which the resultant stress is the design strength of the weld.

    ``strength`` fw in MPa, of the throat, whatever the direction of the stress; the rest, range and
    source as in :func:`resultant_stress`. Raises ValueError for a negative force or moment, or a
    diameter or strength that is not positive.

    >>> print(required_throat(100e3, 60e6, 150.0, 233.0))
    14.6006
    """
    check.positive(strength=strength)
    return resultant_stress.plain(force, moment, 1.0, outside_diameter) / strength
