"""AISC 360-22, J7: bearing of rollers and of rockers, and of a post in a socket.

The coefficients of J7(b) are those of 2005, 2010 and 2016 too (from memory).
"""

import math
from types import MappingProxyType
from typing import Annotated

from contactfe.codes.aisc_360.common import AISC, Method, available, listed
from contactfe.codes.clause import Sides
from contactfe.codes.scope import SOCKET
from contactfe.hand.formula import Units, at_least, at_most, limited
from contactfe.hand.quantities import INCH, Length, LineLoad, Pressure, Stress

BAND = MappingProxyType({"SI": 630.0, "US customary": 25 * INCH})
"""Largest diameter, mm, of eq. J7-2 in each form: 630 mm and 25 in. At 630 mm eq. J7-3 begins 0.3 %
above it, and at 25 in both agree."""


@AISC.formula(
    "nominal bearing strength of a roller up to 630 mm, per length",
    "rn",
    "J7, eq. J7-2 in SI",
    units="SI",
)
def roller_strength(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Strength of a roller per length."""
    limited(at_most("d", diameter, 630, "length"), at_least("Fy", yield_strength, 90, "stress"))
    return 1.2 * (yield_strength - 90) * diameter / 20


@AISC.formula(
    "nominal bearing strength of a roller over 630 mm, per length",
    "rn",
    "J7, eq. J7-3 in SI",
    units="SI",
)
def large_roller_strength(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Strength of a large roller per length."""
    limited(at_least("d", diameter, 630, "length"), at_least("Fy", yield_strength, 90, "stress"))
    return 30.2 * (yield_strength - 90) * math.sqrt(diameter) / 20


@AISC.formula(
    "nominal bearing strength of a roller up to 25 in, per length",
    "rn",
    "J7, eq. J7-2",
    units="US customary",
)
def roller_strength_us(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Strength of a roller per length, by the form for inches and ksi."""
    limited(at_most("d", diameter, 25, "length"), at_least("Fy", yield_strength, 13, "stress"))
    return 1.2 * (yield_strength - 13) * diameter / 20


@AISC.formula(
    "nominal bearing strength of a roller over 25 in, per length",
    "rn",
    "J7, eq. J7-3",
    units="US customary",
)
def large_roller_strength_us(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Strength of a large roller per length, by the form for inches and ksi."""
    limited(at_least("d", diameter, 25, "length"), at_least("Fy", yield_strength, 13, "stress"))
    return 6.0 * (yield_strength - 13) * math.sqrt(diameter) / 20


_ROLLERS = {
    "SI": (roller_strength, large_roller_strength),
    "US customary": (roller_strength_us, large_roller_strength_us),
}


@AISC.clause(
    "aisc_360.j7_roller",
    "J7(b), eqs J7-2 and J7-3",
    "bearing of expansion rollers and rockers",
    intended_for="Steel rollers and rockers of expansion bearings on flat plates, which move slowly"
    " under static load, without friction in mind. An empirical rule, at strength level.",
    applies_here="The geometry is that of a post on a plate, but the rule is no yield check: at"
    " nominal strength the Hertz pressure is 2.3 to 3.3 Fy, less the stronger the steel. That is"
    " far above first yield (1.79 Fy) and, but for the strongest steels, above shakedown (2.31 Fy)."
    " It does not cover an impact, friction along the plate, or the bending of a tube or of the"
    " plate.",
    applicability="by analogy",
    level="strength",
)
def roller(
    line_load: LineLoad,
    diameter: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
    units: Units = "SI",
) -> Sides:
    """Fy is the lower of the two parts, as the older allowable stress text states (seen).

    Of eqs J7-2 and J7-3 the one that covers the diameter is used.

    >>> print(roller(1000.0, 150.0, 345.0).resistance)
    φrn = φ·rn = 0.75·2295 N/mm = 1721.2 N/mm
    """
    nominal = _ROLLERS[units][diameter > BAND[units]].worked(diameter, yield_strength)
    return Sides(
        demand=line_load,
        resistance=available(nominal, method, phi=0.75, omega=2.00),
        steps=(nominal,),
        scope=listed(yield_strength, "plate"),
    )


@AISC.formula("nominal bearing strength, per projected area", "rn", "J7(a), eq. J7-1")
def bearing_strength(yield_strength: Stress) -> Stress:
    """Strength of finished surfaces, and of pins in holes."""
    return 1.8 * yield_strength


@AISC.clause(
    "aisc_360.j7_socket_by_analogy",
    "J7(a), eq. J7-1, by analogy",
    "bearing of a post in its socket, by analogy",
    intended_for="Finished surfaces and pins in reamed, drilled or bored holes: the force on the"
    " projected area against 1.8 times the lower yield strength.",
    applies_here=SOCKET,
    applicability="by analogy",
    level="strength",
)
def socket(
    pressure: Annotated[Pressure, "p"], yield_strength: Stress, method: Method = "LRFD"
) -> Sides:
    """Fy is the lower of post and socket.

    >>> print(socket(200.0, 250.0).resistance)
    φrn = φ·rn = 0.75·450 MPa = 337.5 MPa
    """
    nominal = bearing_strength.worked(yield_strength)
    return Sides(
        demand=pressure,
        resistance=available(nominal, method, phi=0.75, omega=2.00),
        steps=(nominal,),
    )
