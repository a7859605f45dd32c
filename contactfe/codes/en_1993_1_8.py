"""EN 1993-1-8, Design of joints: pins, their contact stress, and the fillet weld at the root.

3.13 with Table 3.10 was seen in a public extract; 4.5 is from memory, not seen. Partial factors are
NDPs (nationally determined parameters); the default is the recommended value. The forms hold in
any coherent units.
"""

import math
from dataclasses import replace
from types import MappingProxyType

from contactfe.codes.clause import UNITY, Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import european_strength, steel_modulus, steel_poisson
from contactfe.hand import cantilever, check
from contactfe.hand.formula import at_least, at_most, formula

STEEL = 210e3
"""Young's modulus of steel, MPa: EN 1993-1-1, 3.2.6, value seen, clause from memory."""

_STANDARD, _EDITION = "EN 1993-1-8", "2005"
_SEEN = "seen in a public extract"
_SOURCE = "EN 1993-1-8:2005, {}: seen in a public extract"
_WELD_SOURCE = "EN 1993-1-8:2005, {}: from memory, not seen"
_SYMBOLS: Symbols = MappingProxyType(
    {
        "pin_diameter": ("d", "length"),
        "hole_diameter": ("d0", "length"),
        "diameter": ("d", "length"),
        "yield_strength": ("fy", "stress"),
        "tensile_strength": ("fup", "stress"),
        "area": ("A", "area"),
        "elastic_modulus": ("Wel", "section modulus"),
        "gamma_M0": ("γM0", None),
        "gamma_M2": ("γM2", None),
        "gamma_M6_ser": ("γM6,ser", None),
        "force": ("FEd,ser", "force"),
        "moment": ("MEd", "moment"),
        "shear": ("Fv,Ed", "force"),
        "moment_resistance": ("MRd", "moment"),
        "shear_resistance": ("Fv,Rd", "force"),
    }
)
_NO_HOLE = (
    "It does not carry to a post on a flat plate: a pin bears on the wall of its hole over its own"
    " diameter, and a flat plate has no hole."
)
_PINS = "Pins in holes of joints that turn, under predominantly static load; "


# Table 3.10, pins

PIN_SHEAR = Clause(
    key="en_1993_1_8.pin_shear",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="shear of a pin",
    written_for=_PINS + "the whole section in shear.",
    carries="It carries to a short solid stub that is sheared off between two faces close together,"
    " not to a post that bends.",
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="shear resistance of a pin",
    symbol="Fv,Rd",
    form="0.6·{area}·{tensile_strength}/{gamma_M2}",
    dimension="force",
    source=_SOURCE.format("Table 3.10"),
    given=_SYMBOLS,
)
def pin_shear_resistance(area: float, tensile_strength: float, gamma_M2: float = 1.25) -> float:
    """Resistance Fv,Rd = 0.6 A fup/γM2, N, with A in mm² and fup of the pin in MPa.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_shear_resistance(1000.0, 500.0))
    240000.0
    """
    check.positive(area=area, tensile_strength=tensile_strength, gamma_M2=gamma_M2)
    return 0.6 * area * tensile_strength / gamma_M2


def pin_shear(
    shear: float, diameter: float, tensile_strength: float, gamma_M2: float = 1.25
) -> ClauseCheck:
    """Table 3.10: shear of a pin in one plane.

    ``shear`` Fv,Ed in N, ``diameter`` in mm, ``tensile_strength`` fup in MPa; ``gamma_M2`` is an
    NDP, recommended 1.25. Raises ValueError for a negative force or values that are not positive.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_shear(100e3, 50.0, 510.0).ratio, 4))
    0.208
    """
    check.positive(diameter=diameter)
    A = cantilever.area.worked(diameter)
    return ClauseCheck(
        clause=PIN_SHEAR,
        demand=stated("shear", "Fv,Ed", shear, "force"),
        resistance=pin_shear_resistance.worked(A.value, tensile_strength, gamma_M2),
        steps=(A,),
    )


PIN_BEARING = Clause(
    key="en_1993_1_8.pin_bearing",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="bearing of plate and pin",
    written_for=_PINS + "bearing on the wall of the hole, at strength level.",
    carries=_NO_HOLE,
    reach="by analogy",
    text=_SEEN,
)

REPLACEABLE_PIN_BEARING = Clause(
    key="en_1993_1_8.pin_bearing_serviceability",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="bearing of plate and pin that is to be replaceable",
    written_for=_PINS + "bearing on the wall of the hole in service, so that the pin comes out.",
    carries=_NO_HOLE,
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="bearing resistance of a pin",
    symbol="Fb,Rd",
    form="1.5·{thickness}·{diameter}·{yield_strength}/{gamma_M0}",
    dimension="force",
    source=_SOURCE.format("Table 3.10"),
    given=_SYMBOLS,
)
def pin_bearing_resistance(
    thickness: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> float:
    """Resistance Fb,Rd = 1.5 t d fy/γM0, N; t of the plate and d of the pin in mm, fy in MPa.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_bearing_resistance(30.0, 50.0, 355.0))
    798750.0
    """
    check.positive(
        thickness=thickness, diameter=diameter, yield_strength=yield_strength, gamma_M0=gamma_M0
    )
    return 1.5 * thickness * diameter * yield_strength / gamma_M0


@formula(
    name="bearing resistance of a replaceable pin",
    symbol="Fb,Rd,ser",
    form="0.6·{thickness}·{diameter}·{yield_strength}/{gamma_M6_ser}",
    dimension="force",
    source=_SOURCE.format("Table 3.10"),
    given=_SYMBOLS,
)
def replaceable_pin_bearing_resistance(
    thickness: float, diameter: float, yield_strength: float, gamma_M6_ser: float = 1.0
) -> float:
    """Resistance Fb,Rd,ser = 0.6 t d fy/γM6,ser, N; arguments as for the one at strength level.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, Table 3.10, seen.

    >>> print(replaceable_pin_bearing_resistance(30.0, 50.0, 355.0))
    319500.0
    """
    check.positive(
        thickness=thickness,
        diameter=diameter,
        yield_strength=yield_strength,
        gamma_M6_ser=gamma_M6_ser,
    )
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
    for a negative force or values that are not positive.

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
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin",
    written_for=_PINS + "bending between the plates, at strength level.",
    carries="It carries to a solid post of little length; a post as a member is covered by EN"
    " 1993-1-1.",
    reach="by analogy",
    text=_SEEN,
)

REPLACEABLE_PIN_BENDING = Clause(
    key="en_1993_1_8.pin_bending_serviceability",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin that is to be replaceable",
    written_for=_PINS + "bending in service, with the pin to stay straight enough to come out.",
    carries="It carries to a solid post of little length that is to stay straight.",
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="moment resistance of a pin",
    symbol="MRd",
    form="1.5·{elastic_modulus}·{yield_strength}/{gamma_M0}",
    dimension="moment",
    source=_SOURCE.format("Table 3.10"),
    given={**_SYMBOLS, "yield_strength": ("fyp", "stress")},
)
def pin_moment_resistance(
    elastic_modulus: float, yield_strength: float, gamma_M0: float = 1.0
) -> float:
    """Resistance MRd = 1.5 Wel fyp/γM0, N·mm, with Wel in mm³ and fyp of the pin in MPa.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, Table 3.10, seen.

    >>> print(pin_moment_resistance(1000.0, 355.0))
    532500.0
    """
    check.positive(
        elastic_modulus=elastic_modulus, yield_strength=yield_strength, gamma_M0=gamma_M0
    )
    return 1.5 * elastic_modulus * yield_strength / gamma_M0


@formula(
    name="moment resistance of a replaceable pin",
    symbol="MRd,ser",
    form="0.8·{elastic_modulus}·{yield_strength}/{gamma_M6_ser}",
    dimension="moment",
    source=_SOURCE.format("Table 3.10"),
    given={**_SYMBOLS, "yield_strength": ("fyp", "stress")},
)
def replaceable_pin_moment_resistance(
    elastic_modulus: float, yield_strength: float, gamma_M6_ser: float = 1.0
) -> float:
    """Resistance MRd,ser = 0.8 Wel fyp/γM6,ser, N·mm; arguments as for the one at strength level.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, Table 3.10, seen.

    >>> print(replaceable_pin_moment_resistance(1000.0, 355.0))
    284000.0
    """
    check.positive(
        elastic_modulus=elastic_modulus, yield_strength=yield_strength, gamma_M6_ser=gamma_M6_ser
    )
    return 0.8 * elastic_modulus * yield_strength / gamma_M6_ser


def pin_bending(
    moment: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> ClauseCheck:
    """Table 3.10: bending of a pin.

    ``moment`` MEd in N·mm, ``diameter`` in mm, ``yield_strength`` fyp in MPa; ``gamma_M0`` is an
    NDP, recommended 1.0. Raises ValueError for a negative moment or values that are not positive.

    Source: EN 1993-1-8:2005, 3.13.2, Table 3.10, seen in a public extract.

    >>> print(round(pin_bending(3e6, 50.0, 355.0).ratio, 4))
    0.4591
    """
    check.positive(diameter=diameter)
    W = replace(cantilever.elastic_modulus.worked(diameter), symbol="Wel")
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
    W = replace(cantilever.elastic_modulus.worked(diameter), symbol="Wel")
    return ClauseCheck(
        clause=REPLACEABLE_PIN_BENDING,
        demand=stated("moment", "MEd,ser", moment, "moment"),
        resistance=replaceable_pin_moment_resistance.worked(W.value, yield_strength, gamma_M6_ser),
        steps=(W,),
        scope=european_strength(yield_strength),
    )


PIN_BENDING_WITH_SHEAR = Clause(
    key="en_1993_1_8.pin_bending_with_shear",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2, Table 3.10",
    title="bending of a pin with shear",
    written_for=_PINS + "bending and shear together, at strength level.",
    carries="It carries to a solid post of little length; a post as a member is covered by EN"
    " 1993-1-1.",
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="interaction of bending and shear in a pin",
    symbol="f",
    form="({moment}/{moment_resistance})² + ({shear}/{shear_resistance})²",
    dimension=None,
    source=_SOURCE.format("Table 3.10"),
    given=_SYMBOLS,
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
        steps=(*bent.steps, bent.resistance, *sheared.steps, sheared.resistance),
        scope=bent.scope,
    )


# 3.13.2(3), contact stress in service

PIN_CONTACT = Clause(
    key="en_1993_1_8.pin_contact",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2(3), eqs 3.14 to 3.16",
    title="contact stress of a replaceable pin",
    written_for=_PINS + "the Hertz pressure in the hole in service, so that a pin that is to be"
    " replaceable comes out.",
    carries="As written it needs a hole with its clearance; a flat plate has none.",
    reach="by analogy",
    text=_SEEN,
)

FLAT_CONTACT = Clause(
    key="en_1993_1_8.flat_contact_by_analogy",
    standard=_STANDARD,
    edition=_EDITION,
    number="3.13.2(3) by analogy",
    title="contact stress of a round on a flat, by analogy",
    written_for="The clause is for a pin in its hole in service. Here its hole is let grow until it"
    " is a flat, and the same limit of 2.5 fy is kept. No clause says so.",
    carries="The stress is the Hertz pressure of a post on a plate. The limit is that of a steady"
    " service load and lies above first yield (1.79 fy) and shakedown (2.31 fy).",
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="contact stress of a pin",
    symbol="σh,Ed",
    form="0.591·√({young}·{force}·({hole_diameter} − {pin_diameter})"
    "/({pin_diameter}²·{thickness}))",
    dimension="stress",
    source=_SOURCE.format("eq. 3.15"),
    given=_SYMBOLS,
)
def pin_contact_stress(
    force: float,
    thickness: float,
    pin_diameter: float,
    hole_diameter: float,
    young: float = STEEL,
) -> float:
    """Contact stress σh,Ed = 0.591 √(E FEd,ser (d0 − d)/(d² t)), MPa.

    ``force`` in N, sizes in mm, ``young`` E in MPa. It is the Hertz pressure at ν = 0.3 with d²
    written for d d0, so it lies above it by √(d0/d). The clause uses it in close holes, where
    Hertz theory itself does not hold. Raises ValueError for a negative force, values that are not
    positive or a hole smaller than the pin.

    Source: EN 1993-1-8:2005, eq. 3.15, seen in a public extract.

    >>> print(pin_contact_stress(100e3, 30.0, 50.0, 51.0))
    312.7278
    """
    check.not_negative(force=force)
    check.positive(
        thickness=thickness, pin_diameter=pin_diameter, hole_diameter=hole_diameter, young=young
    )
    if hole_diameter < pin_diameter:
        raise ValueError(
            f"hole_diameter = {hole_diameter!r} is not allowed: it must be at least the"
            f" pin_diameter {pin_diameter}"
        )
    return 0.591 * math.sqrt(
        young * force * (hole_diameter - pin_diameter) / (pin_diameter**2 * thickness)
    )


@formula(
    name="contact stress of a round on a flat",
    symbol="σh,Ed",
    form="0.591·√({young}·{line_load}/{diameter})",
    dimension="stress",
    source="derived here: EN 1993-1-8:2005, eq. 3.15 (seen in a public extract) with d d0 for d²"
    " and a hole that grows without bound",
    given={**_SYMBOLS, "line_load": ("qEd,ser", "line load")},
)
def flat_contact_stress(line_load: float, diameter: float, young: float = STEEL) -> float:
    """Contact stress 0.591 √(E q/d), MPa, with q in N/mm, d in mm and E in MPa.

    Raises ValueError for a negative load or values that are not positive. Source: derived here from
    EN 1993-1-8:2005, eq. 3.15 (seen): F/t is q, and (d0 − d)/(d d0) tends to 1/d.

    >>> print(flat_contact_stress(1000.0, 150.0))
    699.2806
    """
    check.not_negative(line_load=line_load)
    check.positive(diameter=diameter, young=young)
    return 0.591 * math.sqrt(young * line_load / diameter)


@formula(
    name="contact strength in service",
    symbol="fh,Rd",
    form="2.5·{yield_strength}/{gamma_M6_ser}",
    dimension="stress",
    source=_SOURCE.format("eq. 3.16"),
    given=_SYMBOLS,
)
def contact_strength(yield_strength: float, gamma_M6_ser: float = 1.0) -> float:
    """Strength fh,Rd = 2.5 fy/γM6,ser, MPa. Raises ValueError for values that are not positive.

    Source: EN 1993-1-8:2005, eq. 3.16, seen in a public extract.

    >>> print(contact_strength(355.0))
    887.5
    """
    check.positive(yield_strength=yield_strength, gamma_M6_ser=gamma_M6_ser)
    return 2.5 * yield_strength / gamma_M6_ser


def pin_contact(
    force: float,
    thickness: float,
    pin_diameter: float,
    hole_diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
    young: float = STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """3.13.2(3): contact stress of a replaceable pin in service against 2.5 fy/γM6,ser.

    ``force`` FEd,ser in N; plate ``thickness`` t, ``pin_diameter`` d and ``hole_diameter`` d0 in
    mm; ``yield_strength`` fy, the lower of pin and plate, and ``young`` E in MPa; ``gamma_M6_ser``
    is an NDP, recommended 1.0; ``poisson`` for the scope: the coefficient has 0.3 in it. The ratio
    grows with the root of the force. Raises ValueError for a negative force, values that are not
    positive, a hole smaller than the pin, or ν outside [0, 0.5].

    Source: EN 1993-1-8:2005, 3.13.2(3), eqs 3.14 to 3.16, seen in a public extract.

    >>> print(round(pin_contact(100e3, 30.0, 50.0, 51.0, 355.0).ratio, 4))
    0.3524
    """
    return ClauseCheck(
        clause=PIN_CONTACT,
        demand=pin_contact_stress.worked(force, thickness, pin_diameter, hole_diameter, young),
        resistance=contact_strength.worked(yield_strength, gamma_M6_ser),
        scope=(
            *european_strength(yield_strength),
            *steel_modulus(young),
            *steel_poisson(poisson),
        ),
    )


def flat_contact_by_analogy(
    line_load: float,
    diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
    young: float = STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """Contact stress of a round on a flat against 2.5 fy/γM6,ser, by analogy with 3.13.2(3).

    ``line_load`` in service in N/mm, ``diameter`` of the post in mm; the rest as for
    :func:`pin_contact`. The ratio grows with the root of the load. Raises ValueError for a negative
    load, values that are not positive, or ν outside [0, 0.5].

    Source: derived here from EN 1993-1-8:2005, eqs 3.14 to 3.16 (seen); see :data:`FLAT_CONTACT`.

    >>> print(round(flat_contact_by_analogy(1000.0, 150.0, 355.0).ratio, 4))
    0.7879
    """
    return ClauseCheck(
        clause=FLAT_CONTACT,
        demand=flat_contact_stress.worked(line_load, diameter, young),
        resistance=contact_strength.worked(yield_strength, gamma_M6_ser),
        scope=(
            *european_strength(yield_strength),
            *steel_modulus(young),
            *steel_poisson(poisson),
        ),
    )


# 4.5.3.3, weld

FILLET_WELD = Clause(
    key="en_1993_1_8.4_5_3_3",
    standard=_STANDARD,
    edition=_EDITION,
    number="4.5.3.3, eqs 4.2 to 4.4",
    title="strength of fillet welds, simplified method",
    written_for="Fillet welds under predominantly static load: the resultant force per length of"
    " weld, whatever its direction, against the shear strength of the throat.",
    carries="It carries to the weld all round at the post's root, with the force per length of beam"
    " theory. Neither fatigue nor a blow that comes again and again is in it.",
    reach="as written",
    text="from memory, not seen",
)
LEAST_THROAT = 3.0
"""Least throat, mm, of a fillet weld that counts: 4.5.2(2), from memory, not seen."""

CORRELATION = (0.8, 1.0)
"""Least and greatest factor βw of Table 4.1, of S235 and S460: from memory, not seen."""

_WELD: Symbols = MappingProxyType(
    {
        "tensile_strength": ("fu", "stress"),
        "correlation": ("βw", None),
        "gamma_M2": ("γM2", None),
        "throat": ("a", "length"),
    }
)


@formula(
    name="resistance of a fillet weld, per length",
    symbol="Fw,Rd",
    form="{tensile_strength}/(√(3)·{correlation}·{gamma_M2})·{throat}",
    dimension="line load",
    source=_WELD_SOURCE.format("eqs 4.3 and 4.4"),
    given=_WELD,
)
def weld_resistance(
    throat: float, tensile_strength: float, correlation: float, gamma_M2: float = 1.25
) -> float:
    """Resistance Fw,Rd = (fu/√3)/(βw γM2) a, N/mm; throat a in mm, fu of the weaker part in MPa.

    Raises ValueError for values that are not positive. Source: EN 1993-1-8:2005, eqs 4.3 and 4.4,
    from memory, not seen.

    >>> print(weld_resistance(5.0, 470.0, 0.9))
    1206.02
    """
    check.positive(
        throat=throat,
        tensile_strength=tensile_strength,
        correlation=correlation,
        gamma_M2=gamma_M2,
    )
    return tensile_strength / (math.sqrt(3) * correlation * gamma_M2) * throat


def fillet_weld(
    line_load: float,
    throat: float,
    tensile_strength: float,
    correlation: float,
    gamma_M2: float = 1.25,
) -> ClauseCheck:
    """4.5.3.3: resultant force per length of a fillet weld, by the simplified method.

    ``line_load`` Fw,Ed in N/mm of weld, ``throat`` a in mm, ``tensile_strength`` fu of the weaker
    part in MPa, ``correlation`` βw of Table 4.1 (0.8 for S235, 0.85 for S275, 0.9 for S355, 1.0 for
    S420 and S460, from memory); ``gamma_M2`` is an NDP, recommended 1.25. Raises ValueError for a
    negative load or values that are not positive.

    Source: EN 1993-1-8:2005, 4.5.3.3, eqs 4.2 to 4.4, from memory, not seen.

    >>> print(round(fillet_weld(500.0, 5.0, 470.0, 0.9).ratio, 4))
    0.4146
    """
    least, greatest = CORRELATION
    return ClauseCheck(
        clause=FILLET_WELD,
        demand=stated("line load", "Fw,Ed", line_load, "line load"),
        resistance=weld_resistance.worked(throat, tensile_strength, correlation, gamma_M2),
        scope=(
            at_least("throat", throat, LEAST_THROAT, "length"),
            at_least("βw", correlation, least),
            at_most("βw", correlation, greatest),
        ),
    )
