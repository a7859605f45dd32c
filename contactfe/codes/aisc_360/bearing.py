"""AISC 360-22, J7(b): bearing of rollers and of rockers.

Seen in a public copy; its coefficients are those of 2005, 2010 and 2016 too (from memory).
"""

import math
from types import MappingProxyType

from contactfe.codes.aisc_360.common import EDITION, SEEN, STANDARD, Method, available, listed
from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.us import INCH, KIP_PER_INCH, KSI
from contactfe.hand import check
from contactfe.hand.formula import Limit, Units, at_least, at_most, formula

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

LEAST_YIELD = MappingProxyType({"SI": 90.0, "US customary": 13 * KSI})
"""Fy, MPa, at which the rule for rollers gives no strength at all: 90 MPa and 13 ksi."""

_ROLLER: Symbols = MappingProxyType(
    {"diameter": ("d", "length"), "yield_strength": ("Fy", "stress")}
)


def _band(units: Units, small: bool, diameter: float, yield_strength: float) -> tuple[Limit, ...]:
    side = at_most if small else at_least
    return (
        side("d", diameter, BAND[units], "length"),
        at_least("Fy", yield_strength, LEAST_YIELD[units], "stress"),
    )


@formula(
    name="nominal bearing strength of a roller up to 630 mm, per length",
    symbol="rn",
    form="1.2·({yield_strength} − 90)·{diameter}/20",
    dimension="line load",
    source=_J7.format("J7-2 in SI"),
    limits=lambda _, **at: _band("SI", True, **at),
    given=_ROLLER,
    units="SI",
)
def roller_strength(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn = 1.2 (Fy − 90) d/20, N/mm, d in mm and Fy in MPa.

    Holds for d up to 630 mm and Fy above 90 MPa. Raises ValueError for values that are not
    positive. Source: AISC 360-22, eq. J7-2 in SI, seen.

    >>> print(roller_strength(150.0, 345.0))
    2295.0
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 1.2 * (yield_strength - 90) * diameter / 20


@formula(
    name="nominal bearing strength of a roller over 630 mm, per length",
    symbol="rn",
    form="30.2·({yield_strength} − 90)·√({diameter})/20",
    dimension="line load",
    source=_J7.format("J7-3 in SI"),
    limits=lambda _, **at: _band("SI", False, **at),
    given=_ROLLER,
    units="SI",
)
def large_roller_strength(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn = 30.2 (Fy − 90) √d/20, N/mm, d in mm and Fy in MPa.

    Holds for d over 630 mm, where it begins 0.3 % above :func:`roller_strength`, and Fy above
    90 MPa. Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J7-3 in
    SI, seen.

    >>> print(large_roller_strength(900.0, 345.0))
    11551.5
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 30.2 * (yield_strength - 90) * math.sqrt(diameter) / 20


@formula(
    name="nominal bearing strength of a roller up to 25 in, per length",
    symbol="rn",
    form="1.2·({yield_strength} − 13)·{diameter}/20",
    dimension="line load",
    source=_J7.format("J7-2"),
    limits=lambda _, **at: _band("US customary", True, **at),
    given=_ROLLER,
    units="US customary",
)
def roller_strength_us(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn, N/mm, from d in mm and Fy in MPa by the US customary form.

    rn = 1.2 (Fy − 13) d/20 in kip/in, ksi and in. Holds for d up to 25 in and Fy above 13 ksi.
    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J7-2, seen.

    >>> print(roller_strength_us(6 * INCH, 50 * KSI) / KIP_PER_INCH)
    13.32
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 1.2 * (yield_strength / KSI - 13) * (diameter / INCH) / 20 * KIP_PER_INCH


@formula(
    name="nominal bearing strength of a roller over 25 in, per length",
    symbol="rn",
    form="6.0·({yield_strength} − 13)·√({diameter})/20",
    dimension="line load",
    source=_J7.format("J7-3"),
    limits=lambda _, **at: _band("US customary", False, **at),
    given=_ROLLER,
    units="US customary",
)
def large_roller_strength_us(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn, N/mm, from d in mm and Fy in MPa by the US customary form.

    rn = 6.0 (Fy − 13) √d/20 in kip/in, ksi and in. Holds for d over 25 in, where it agrees with
    :func:`roller_strength_us`, and Fy above 13 ksi. Raises ValueError for values that are not
    positive. Source: AISC 360-22, eq. J7-3, seen.

    >>> print(large_roller_strength_us(30 * INCH, 50 * KSI) / KIP_PER_INCH)
    60.797
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 6.0 * (yield_strength / KSI - 13) * math.sqrt(diameter / INCH) / 20 * KIP_PER_INCH


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
