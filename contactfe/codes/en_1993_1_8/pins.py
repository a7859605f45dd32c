"""EN 1993-1-8, 3.13.2, Table 3.10: shear, bearing and bending of a pin.

Seen in a public extract.
"""

from dataclasses import replace

from contactfe.codes.clause import UNITY, Clause, ClauseCheck, stated
from contactfe.codes.en_1993_1_8.common import EDITION, PINS, SEEN, SOURCE, STANDARD, SYMBOLS
from contactfe.codes.scope import european_strength
from contactfe.hand import check, round_section
from contactfe.hand.formula import formula

_NO_HOLE = (
    "Does not apply to a post on a flat plate: a pin bears on the wall of its hole over its own"
    " diameter, and a flat plate has no hole."
)

PIN_SHEAR = Clause(
    key="en_1993_1_8.pin_shear",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="shear of a pin",
    intended_for=PINS + "the whole section in shear.",
    applies_here="Applies to a short solid stub that is sheared off between two faces close"
    " together, not to a post that bends.",
    applicability="by analogy",
    level="strength",
    text=SEEN,
)


@formula(
    name="shear resistance of a pin",
    symbol="Fv,Rd",
    form="0.6·{area}·{tensile_strength}/{gamma_M2}",
    dimension="force",
    source=SOURCE.format("Table 3.10"),
    given=SYMBOLS,
)
def pin_shear_resistance(area: float, tensile_strength: float, gamma_M2: float = 1.25) -> float:
    """Resistance Fv,Rd = 0.6 A fup/γM2, N, with A in mm² and fup of the pin in MPa.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_shear_resistance(1000.0, 500.0))
    240000.0
    """
    check.positive(area=area, tensile_strength=tensile_strength)
    check.partial_factor(gamma_M2=gamma_M2)
    return 0.6 * area * tensile_strength / gamma_M2


def pin_shear(
    shear: float, diameter: float, tensile_strength: float, gamma_M2: float = 1.25
) -> ClauseCheck:
    """Table 3.10: shear of a pin in one plane.

    ``shear`` Fv,Ed in N, ``diameter`` in mm, ``tensile_strength`` fup in MPa; ``gamma_M2`` is an
    NDP, recommended 1.25. Raises ValueError for a negative force, values that are not positive or a
    partial factor below 1.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_shear(100e3, 50.0, 510.0).ratio, 4))
    0.208
    """
    check.positive(diameter=diameter)
    A = round_section.area.worked(diameter)
    return ClauseCheck(
        clause=PIN_SHEAR,
        demand=stated("shear", "Fv,Ed", shear, "force"),
        resistance=pin_shear_resistance.worked(A.value, tensile_strength, gamma_M2),
        steps=(A,),
    )


PIN_BEARING = Clause(
    key="en_1993_1_8.pin_bearing",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="bearing of plate and pin",
    intended_for=PINS + "bearing on the wall of the hole, at strength level.",
    applies_here=_NO_HOLE,
    applicability="by analogy",
    level="strength",
    text=SEEN,
)

REPLACEABLE_PIN_BEARING = Clause(
    key="en_1993_1_8.pin_bearing_serviceability",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="bearing of plate and pin that is to be replaceable",
    intended_for=PINS + "bearing on the wall of the hole in service, so that the pin comes out.",
    applies_here=_NO_HOLE,
    applicability="by analogy",
    level="service",
    text=SEEN,
)


@formula(
    name="bearing resistance of a pin",
    symbol="Fb,Rd",
    form="1.5·{thickness}·{diameter}·{yield_strength}/{gamma_M0}",
    dimension="force",
    source=SOURCE.format("Table 3.10"),
    given=SYMBOLS,
)
def pin_bearing_resistance(
    thickness: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> float:
    """Resistance Fb,Rd = 1.5 t d fy/γM0, N; t of the plate and d of the pin in mm, fy in MPa.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_bearing_resistance(30.0, 50.0, 355.0))
    798750.0
    """
    check.positive(thickness=thickness, diameter=diameter, yield_strength=yield_strength)
    check.partial_factor(gamma_M0=gamma_M0)
    return 1.5 * thickness * diameter * yield_strength / gamma_M0


@formula(
    name="bearing resistance of a replaceable pin",
    symbol="Fb,Rd,ser",
    form="0.6·{thickness}·{diameter}·{yield_strength}/{gamma_M6_ser}",
    dimension="force",
    source=SOURCE.format("Table 3.10"),
    given=SYMBOLS,
)
def replaceable_pin_bearing_resistance(
    thickness: float, diameter: float, yield_strength: float, gamma_M6_ser: float = 1.0
) -> float:
    """Resistance Fb,Rd,ser = 0.6 t d fy/γM6,ser, N; arguments as for the one at strength level.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(replaceable_pin_bearing_resistance(30.0, 50.0, 355.0))
    319500.0
    """
    check.positive(thickness=thickness, diameter=diameter, yield_strength=yield_strength)
    check.partial_factor(gamma_M6_ser=gamma_M6_ser)
    return 0.6 * thickness * diameter * yield_strength / gamma_M6_ser


def pin_bearing(
    force: float,
    thickness: float,
    diameter: float,
    yield_strength: float,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """Table 3.10: bearing of plate and pin.

    ``force`` Fb,Ed in N, plate ``thickness`` t and pin ``diameter`` d in mm, ``yield_strength`` fy
    in MPa, the lower of pin and plate; ``gamma_M0`` is an NDP, recommended 1.0. Raises ValueError
    for a negative force, values that are not positive or a partial factor below 1.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_bearing(100e3, 30.0, 50.0, 355.0).ratio, 4))
    0.1252
    """
    return ClauseCheck(
        clause=PIN_BEARING,
        demand=stated("force", "Fb,Ed", force, "force"),
        resistance=pin_bearing_resistance.worked(thickness, diameter, yield_strength, gamma_M0),
        scope=european_strength(yield_strength),
    )


def replaceable_pin_bearing(
    force: float,
    thickness: float,
    diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
) -> ClauseCheck:
    """Table 3.10: bearing of plate and pin in service, for a pin that is to be replaceable.

    ``force`` Fb,Ed,ser in N; ``gamma_M6_ser`` is an NDP, recommended 1.0; the rest, and the errors,
    as for :func:`pin_bearing`.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(replaceable_pin_bearing(100e3, 30.0, 50.0, 355.0).ratio, 4))
    0.313
    """
    return ClauseCheck(
        clause=REPLACEABLE_PIN_BEARING,
        demand=stated("force", "Fb,Ed,ser", force, "force"),
        resistance=replaceable_pin_bearing_resistance.worked(
            thickness, diameter, yield_strength, gamma_M6_ser
        ),
        scope=european_strength(yield_strength),
    )


PIN_BENDING = Clause(
    key="en_1993_1_8.pin_bending",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin",
    intended_for=PINS + "bending between the plates, at strength level.",
    applies_here="Applies to a solid post of little length; a post as a member is covered by EN"
    " 1993-1-1.",
    applicability="by analogy",
    level="strength",
    text=SEEN,
)

REPLACEABLE_PIN_BENDING = Clause(
    key="en_1993_1_8.pin_bending_serviceability",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin that is to be replaceable",
    intended_for=PINS + "bending in service, with the pin to stay straight enough to come out.",
    applies_here="Applies to a solid post of little length that is to stay straight.",
    applicability="by analogy",
    level="service",
    text=SEEN,
)


@formula(
    name="moment resistance of a pin",
    symbol="MRd",
    form="1.5·{elastic_modulus}·{yield_strength}/{gamma_M0}",
    dimension="moment",
    source=SOURCE.format("Table 3.10"),
    given={**SYMBOLS, "yield_strength": ("fyp", "stress")},
)
def pin_moment_resistance(
    elastic_modulus: float, yield_strength: float, gamma_M0: float = 1.0
) -> float:
    """Resistance MRd = 1.5 Wel fyp/γM0, N·mm, with Wel in mm³ and fyp of the pin in MPa.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_moment_resistance(1000.0, 355.0))
    532500.0
    """
    check.positive(elastic_modulus=elastic_modulus, yield_strength=yield_strength)
    check.partial_factor(gamma_M0=gamma_M0)
    return 1.5 * elastic_modulus * yield_strength / gamma_M0


@formula(
    name="moment resistance of a replaceable pin",
    symbol="MRd,ser",
    form="0.8·{elastic_modulus}·{yield_strength}/{gamma_M6_ser}",
    dimension="moment",
    source=SOURCE.format("Table 3.10"),
    given={**SYMBOLS, "yield_strength": ("fyp", "stress")},
)
def replaceable_pin_moment_resistance(
    elastic_modulus: float, yield_strength: float, gamma_M6_ser: float = 1.0
) -> float:
    """Resistance MRd,ser = 0.8 Wel fyp/γM6,ser, N·mm; arguments as for the one at strength level.

    Raises ValueError for values that are not positive or a partial factor below 1. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(replaceable_pin_moment_resistance(1000.0, 355.0))
    284000.0
    """
    check.positive(elastic_modulus=elastic_modulus, yield_strength=yield_strength)
    check.partial_factor(gamma_M6_ser=gamma_M6_ser)
    return 0.8 * elastic_modulus * yield_strength / gamma_M6_ser


def pin_bending(
    moment: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> ClauseCheck:
    """Table 3.10: bending of a pin.

    ``moment`` MEd in N·mm, ``diameter`` in mm, ``yield_strength`` fyp in MPa; ``gamma_M0`` is an
    NDP, recommended 1.0. Raises ValueError for a negative moment, values that are not positive or a
    partial factor below 1.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_bending(3e6, 50.0, 355.0).ratio, 4))
    0.4591
    """
    check.positive(diameter=diameter)
    W = replace(round_section.elastic_modulus.worked(diameter), symbol="Wel")
    return ClauseCheck(
        clause=PIN_BENDING,
        demand=stated("moment", "MEd", moment, "moment"),
        resistance=pin_moment_resistance.worked(W.value, yield_strength, gamma_M0),
        steps=(W,),
        scope=european_strength(yield_strength),
    )


def replaceable_pin_bending(
    moment: float, diameter: float, yield_strength: float, gamma_M6_ser: float = 1.0
) -> ClauseCheck:
    """Table 3.10: bending of a pin in service, for a pin that is to be replaceable.

    ``moment`` MEd,ser in N·mm; ``gamma_M6_ser`` is an NDP, recommended 1.0; the rest, and the
    errors, as for :func:`pin_bending`.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(replaceable_pin_bending(3e6, 50.0, 355.0).ratio, 4))
    0.8607
    """
    check.positive(diameter=diameter)
    W = replace(round_section.elastic_modulus.worked(diameter), symbol="Wel")
    return ClauseCheck(
        clause=REPLACEABLE_PIN_BENDING,
        demand=stated("moment", "MEd,ser", moment, "moment"),
        resistance=replaceable_pin_moment_resistance.worked(W.value, yield_strength, gamma_M6_ser),
        steps=(W,),
        scope=european_strength(yield_strength),
    )


PIN_BENDING_WITH_SHEAR = Clause(
    key="en_1993_1_8.pin_bending_with_shear",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin with shear",
    intended_for=PINS + "bending and shear together, at strength level.",
    applies_here="Applies to a solid post of little length; a post as a member is covered by EN"
    " 1993-1-1.",
    applicability="by analogy",
    level="strength",
    text=SEEN,
)


@formula(
    name="interaction of bending and shear in a pin",
    symbol="f",
    form="({moment}/{moment_resistance})² + ({shear}/{shear_resistance})²",
    dimension=None,
    source=SOURCE.format("Table 3.10"),
    given=SYMBOLS,
)
def pin_interaction(
    moment: float, shear: float, moment_resistance: float, shear_resistance: float
) -> float:
    """Sum (MEd/MRd)² + (Fv,Ed/Fv,Rd)², at most 1; moments in N·mm, forces in N.

    Raises ValueError for negative demands or resistances that are not positive. Source: EN
    1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_interaction(3.0, 8.0, 5.0, 10.0))
    1.0
    """
    check.not_negative(moment=moment, shear=shear)
    check.positive(moment_resistance=moment_resistance, shear_resistance=shear_resistance)
    return (moment / moment_resistance) ** 2 + (shear / shear_resistance) ** 2


def pin_bending_with_shear(
    moment: float,
    shear: float,
    diameter: float,
    yield_strength: float,
    tensile_strength: float,
    gamma_M0: float = 1.0,
    gamma_M2: float = 1.25,
) -> ClauseCheck:
    """Table 3.10: bending and shear of a pin together; the ratio grows with the load squared.

    Arguments and errors as for :func:`pin_bending` and :func:`pin_shear`.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_bending_with_shear(3e6, 100e3, 50.0, 355.0, 510.0).ratio, 4))
    0.254
    """
    bent = pin_bending(moment, diameter, yield_strength, gamma_M0)
    sheared = pin_shear(shear, diameter, tensile_strength, gamma_M2)
    return ClauseCheck(
        clause=PIN_BENDING_WITH_SHEAR,
        demand=pin_interaction.worked(
            moment, shear, bent.resistance.value, sheared.resistance.value
        ),
        resistance=UNITY,
        grows="as the load squared",
        steps=(*bent.steps, bent.resistance, *sheared.steps, sheared.resistance),
        scope=bent.scope,
    )
