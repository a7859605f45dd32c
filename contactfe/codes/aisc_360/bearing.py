"""AISC 360-22, J7(b): bearing of rollers and of rockers.

Seen in a public copy; its coefficients are those of 2005, 2010 and 2016 too (from memory).
"""

import math
from functools import partial
from types import MappingProxyType

from contactfe.codes.aisc_360.common import EDITION, SEEN, STANDARD, Method, available, listed
from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.codes.us import INCH
from contactfe.hand.formula import Units, at_least, at_most, formula, limited
from contactfe.hand.quantities import Length, LineLoad, Stress

_J7 = "AISC 360-22, J7, eq. {}: seen in a public copy"


ROLLER = Clause(
    key="aisc_360.j7_roller",
    standard=STANDARD,
    edition=EDITION,
    number="J7(b), eqs J7-2 and J7-3",
    title="bearing of expansion rollers and rockers",
    intended_for="Steel rollers and rockers of expansion bearings on flat plates, which move slowly"
    " under static load, without friction in mind. An empirical rule, at strength level.",
    applies_here="The geometry is that of a post on a plate, but the rule is no yield check: at"
    " nominal strength the Hertz pressure is 2.3 to 3.3 Fy, less the stronger the steel. That is"
    " far above first yield (1.79 Fy) and, but for the strongest steels, above shakedown (2.31 Fy)."
    " It does not cover an impact, friction along the plate, or the bending of a tube or of the"
    " plate.",
    applicability="by analogy",
    level="strength",
    text=SEEN,
)

BAND = MappingProxyType({"SI": 630.0, "US customary": 25 * INCH})
"""Largest diameter, mm, of eq. J7-2 in each form: 630 mm and 25 in."""

_roller = partial(formula, symbols={"diameter": "d", "yield_strength": "Fy"})


@_roller(
    "nominal bearing strength of a roller up to 630 mm, per length",
    "rn",
    source=_J7.format("J7-2 in SI"),
    units="SI",
)
def roller_strength(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Nominal strength per length, for d up to 630 mm and Fy above 90 MPa.

    >>> print(roller_strength(150.0, 345.0))
    2295.0
    """
    limited(at_most("d", diameter, 630.0, "length"), at_least("Fy", yield_strength, 90.0, "stress"))
    return 1.2 * (yield_strength - 90) * diameter / 20


@_roller(
    "nominal bearing strength of a roller over 630 mm, per length",
    "rn",
    source=_J7.format("J7-3 in SI"),
    units="SI",
)
def large_roller_strength(diameter: Length, yield_strength: Stress) -> LineLoad:
    """The same for d over 630 mm, where it begins 0.3 % above :func:`roller_strength`.

    >>> print(large_roller_strength(900.0, 345.0))
    11551.5
    """
    limited(
        at_least("d", diameter, 630.0, "length"), at_least("Fy", yield_strength, 90.0, "stress")
    )
    return 30.2 * (yield_strength - 90) * math.sqrt(diameter) / 20


@_roller(
    "nominal bearing strength of a roller up to 25 in, per length",
    "rn",
    source=_J7.format("J7-2"),
    units="US customary",
)
def roller_strength_us(diameter: Length, yield_strength: Stress) -> LineLoad:
    """Nominal strength per length by the form in kip, in and ksi; for d up to 25 in, Fy over 13.

    >>> print(roller_strength_us(6 * 25.4, 344.7379))  # 6 in and 50 ksi: 13.32 kip/in
    2332.69
    """
    limited(at_most("d", diameter, 25.0, "length"), at_least("Fy", yield_strength, 13.0, "stress"))
    return 1.2 * (yield_strength - 13) * diameter / 20


@_roller(
    "nominal bearing strength of a roller over 25 in, per length",
    "rn",
    source=_J7.format("J7-3"),
    units="US customary",
)
def large_roller_strength_us(diameter: Length, yield_strength: Stress) -> LineLoad:
    """The same for d over 25 in, where it agrees with :func:`roller_strength_us`.

    >>> print(large_roller_strength_us(30 * 25.4, 344.7379))  # 30 in and 50 ksi: 60.797 kip/in
    10647.2
    """
    limited(at_least("d", diameter, 25.0, "length"), at_least("Fy", yield_strength, 13.0, "stress"))
    return 6.0 * (yield_strength - 13) * math.sqrt(diameter) / 20


_ROLLERS = {
    ("SI", True): roller_strength,
    ("SI", False): large_roller_strength,
    ("US customary", True): roller_strength_us,
    ("US customary", False): large_roller_strength_us,
}


def roller(
    line_load: float,
    diameter: float,
    yield_strength: float,
    method: Method = "LRFD",
    units: Units = "SI",
) -> ClauseCheck:
    """J7(b): bearing of expansion rollers and rockers; φ = 0.75, Ω = 2.00.

    ``line_load`` in N/mm, ``diameter`` d in mm, ``yield_strength`` Fy in MPa: the lower of the two
    parts, as the older allowable stress text states (seen). Eq. J7-2 holds up to 630 mm or 25 in,
    J7-3 above; the one that covers the diameter is used. Raises ValueError for a negative load, a
    diameter or strength that is not positive, or an unknown method or system of units.

    Source: AISC 360-22, J7(b), eqs J7-2 and J7-3, seen in a public copy.

    >>> print(roller(1000.0, 150.0, 345.0).resistance)
    φrn = φ·rn = 0.75·2295 N/mm = 1721.2 N/mm
    """
    if units not in BAND:
        raise ValueError(f"units = {units!r} is not allowed: it must be 'SI' or 'US customary'")
    nominal = _ROLLERS[units, diameter <= BAND[units]].worked(diameter, yield_strength)
    return ClauseCheck(
        clause=ROLLER,
        demand=stated("line load", "q", line_load, "line load"),
        resistance=available(nominal, method, 0.75, 2.0),
        steps=(nominal,),
        scope=listed(yield_strength, "plate"),
    )
