"""EN 1993-1-8, 3.13.2(3): contact stress of a pin in service, and of a flat by analogy.

Seen in a public extract.
"""

import math

from contactfe.codes.clause import Clause, ClauseCheck
from contactfe.codes.en_1993_1_8.common import (
    EDITION,
    PINS,
    SEEN,
    SOURCE,
    STANDARD,
    SYMBOLS,
)
from contactfe.codes.scope import EUROPEAN_STEEL, european_strength, steel_contact
from contactfe.hand import check
from contactfe.hand.formula import Limit, at_most, formula

WIDEST_CONTACT = 0.5
"""Half-width of the contact over the radius of the pin up to which its stress is answered for:
common practice, no source. A pin in a closer hole lies against its wall all round, and the Hertz
pressure, which falls to nothing with the clearance, has no meaning."""

PIN_CONTACT = Clause(
    key="en_1993_1_8.pin_contact",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2(3), eqs 3.14 to 3.16",
    title="contact stress of a replaceable pin",
    intended_for=PINS + "the Hertz pressure in the hole in service, so that a pin that is to be"
    " replaceable comes out.",
    applies_here="As written it needs a hole with clearance; a flat plate has none. In a close"
    " hole, where the contact is wide compared with the pin, the stress means little and no verdict"
    " is given.",
    applicability="by analogy",
    level="service",
    text=SEEN,
)

FLAT_CONTACT = Clause(
    key="en_1993_1_8.flat_contact_by_analogy",
    standard=STANDARD,
    edition=EDITION,
    number="3.13.2(3) by analogy",
    title="contact stress of a round on a flat, by analogy",
    intended_for="The clause is for a pin in its hole in service. Here its hole is widened until it"
    " is a flat, and the same limit of 2.5 fy is kept. No clause says so.",
    applies_here="The stress is the Hertz pressure of a post on a plate. The limit is that of a"
    " steady service load and lies above first yield (1.79 fy) and shakedown (2.31 fy).",
    applicability="by analogy",
    level="service",
    text=SEEN,
)


@formula(
    name="contact stress of a pin",
    symbol="σh,Ed",
    form="0.591·√({young}·{force}·({hole_diameter} − {pin_diameter})"
    "/({pin_diameter}²·{thickness}))",
    dimension="stress",
    source=SOURCE.format("eq. 3.15"),
    given=SYMBOLS,
)
def pin_contact_stress(
    force: float,
    thickness: float,
    pin_diameter: float,
    hole_diameter: float,
    young: float = EUROPEAN_STEEL,
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


def _narrow_contact(a: float, **at: float) -> list[Limit]:
    return [at_most("a/R", 2 * a / at["pin_diameter"], WIDEST_CONTACT)]


@formula(
    name="half-width of the contact of a pin",
    symbol="a",
    form="2/(0.591·π)·{pin_diameter}·√({force}/({young}·{thickness}"
    "·({hole_diameter} − {pin_diameter})))",
    dimension="length",
    source="derived here: a = 2q/(π·σh,Ed), the half-width that belongs to the pressure of EN"
    " 1993-1-8:2005, eq. 3.15 (seen in a public extract), with q = FEd,ser/t",
    limits=_narrow_contact,
    given=SYMBOLS,
    note="Infinite in a hole without clearance.",
)
def pin_contact_half_width(
    force: float,
    thickness: float,
    pin_diameter: float,
    hole_diameter: float,
    young: float = EUROPEAN_STEEL,
) -> float:
    """Half-width a = 2 q/(π σh,Ed) of the contact, mm, with q = FEd,ser/t; infinite if d0 = d.

    ``force`` in N, sizes in mm, ``young`` E in MPa. Holds for a/R up to 0.5, with R = d/2
    (:data:`WIDEST_CONTACT`). Errors as for :func:`pin_contact_stress`. Source: derived here from
    the half-ellipse of pressure of Hertz and EN 1993-1-8:2005, eq. 3.15 (seen).

    >>> print(pin_contact_half_width(100e3, 30.0, 50.0, 51.0))
    6.785664
    """
    pin_contact_stress.plain(force, thickness, pin_diameter, hole_diameter, young)
    clearance = hole_diameter - pin_diameter
    if clearance == 0.0:
        return math.inf
    return 2 / (0.591 * math.pi) * pin_diameter * math.sqrt(force / (young * thickness * clearance))


@formula(
    name="contact stress of a round on a flat",
    symbol="σh,Ed",
    form="0.591·√({young}·{line_load}/{diameter})",
    dimension="stress",
    source="derived here: EN 1993-1-8:2005, eq. 3.15 (seen in a public extract) with d d0 for d²"
    " and a hole that grows without bound",
    given={**SYMBOLS, "line_load": ("qEd,ser", "line load")},
)
def flat_contact_stress(line_load: float, diameter: float, young: float = EUROPEAN_STEEL) -> float:
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
    source=SOURCE.format("eq. 3.16"),
    given=SYMBOLS,
)
def contact_strength(yield_strength: float, gamma_M6_ser: float = 1.0) -> float:
    """Strength fh,Rd = 2.5 fy/γM6,ser, MPa.

    Raises ValueError for values that are not positive or a partial factor below 1.

    Source: EN 1993-1-8:2005, eq. 3.16, seen in a public extract.

    >>> print(contact_strength(355.0))
    887.5
    """
    check.positive(yield_strength=yield_strength)
    check.partial_factor(gamma_M6_ser=gamma_M6_ser)
    return 2.5 * yield_strength / gamma_M6_ser


def pin_contact(
    force: float,
    thickness: float,
    pin_diameter: float,
    hole_diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
    young: float = EUROPEAN_STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """3.13.2(3): contact stress of a replaceable pin in service against 2.5 fy/γM6,ser.

    ``force`` FEd,ser in N; plate ``thickness`` t, ``pin_diameter`` d and ``hole_diameter`` d0 in
    mm; ``yield_strength`` fy, the lower of pin and plate, and ``young`` E in MPa; ``gamma_M6_ser``
    is an NDP, recommended 1.0; ``poisson`` for the scope: the coefficient has 0.3 in it. A close
    hole, in which the contact is wider than half the pin, is out of scope. The ratio grows with the
    root of the force. Raises ValueError for a negative force, values that are not positive, a
    partial factor below 1, a hole smaller than the pin, or ν outside [0, 0.5].

    Source: EN 1993-1-8:2005, 3.13.2(3), eqs 3.14 to 3.16, seen in a public extract.

    >>> print(round(pin_contact(100e3, 30.0, 50.0, 51.0, 355.0).ratio, 4))
    0.3524
    """
    pin = force, thickness, pin_diameter, hole_diameter, young
    return ClauseCheck(
        clause=PIN_CONTACT,
        demand=pin_contact_stress.worked(*pin),
        resistance=contact_strength.worked(yield_strength, gamma_M6_ser),
        steps=(pin_contact_half_width.worked(*pin),),
        scope=(
            *european_strength(yield_strength),
            *steel_contact(young, poisson),
        ),
        grows="as the root of the load",
    )


def flat_contact_by_analogy(
    line_load: float,
    diameter: float,
    yield_strength: float,
    gamma_M6_ser: float = 1.0,
    young: float = EUROPEAN_STEEL,
    poisson: float = 0.3,
) -> ClauseCheck:
    """Contact stress of a round on a flat against 2.5 fy/γM6,ser, by analogy with 3.13.2(3).

    ``line_load`` in service in N/mm, ``diameter`` of the post in mm; the rest as for
    :func:`pin_contact`. The ratio grows with the root of the load. Raises ValueError for a negative
    load, values that are not positive, a partial factor below 1, or ν outside [0, 0.5].

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
            *steel_contact(young, poisson),
        ),
        grows="as the root of the load",
    )
