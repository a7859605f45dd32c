"""EN 1993-1-8, 3.13: a round on a flat, and a post in its socket, by analogy with a pin."""

import math
from typing import Annotated

from contactfe.codes.clause import Sides
from contactfe.codes.en_1993_1_8.common import EN_1993_1_8
from contactfe.codes.scope import EUROPEAN_STEEL, SOCKET, european_strength, steel_contact
from contactfe.hand.quantities import Length, LineLoad, PartialFactor, Poisson, Pressure, Stress


@EN_1993_1_8.formula(
    "contact stress of a round on a flat",
    "σh,Ed",
    "eq. 3.15",
    derived="with d d0 for d² and a hole that grows without bound",
)
def flat_contact_stress(
    line_load: Annotated[LineLoad, "qEd,ser"], diameter: Length, young: Stress = EUROPEAN_STEEL
) -> Pressure:
    """The equation has 0.591 √(E F (d0 − d)/(d² t)) of a pin d in a hole d0 in a plate t.

    F/t is q, and (d0 − d)/(d d0) tends to 1/d. It is the Hertz pressure at ν = 0.3.
    """
    return 0.591 * math.sqrt(young * line_load / diameter)


@EN_1993_1_8.formula("contact strength in service", "fh,Rd", "eq. 3.16")
def contact_strength(yield_strength: Stress, gamma_M6_ser: PartialFactor = 1.0) -> Stress:
    """Strength of a pin that is to be replaceable, and of its plate."""
    return 2.5 * yield_strength / gamma_M6_ser


@EN_1993_1_8.clause(
    "en_1993_1_8.flat_contact_by_analogy",
    "3.13.2(3) by analogy",
    "contact stress of a round on a flat, by analogy",
    intended_for="The clause is for a pin in its hole in service. Here its hole is widened until it"
    " is a flat, and the same limit of 2.5 fy is kept. No clause says so.",
    applies_here="The stress is the Hertz pressure of a post on a plate. The limit is that of a"
    " steady service load and lies above first yield (1.79 fy) and shakedown (2.31 fy).",
    applicability="by analogy",
    level="service",
)
def flat_contact_by_analogy(
    line_load: Annotated[LineLoad, "qEd,ser"],
    diameter: Length,
    yield_strength: Stress,
    gamma_M6_ser: PartialFactor = 1.0,
    young: Stress = EUROPEAN_STEEL,
    poisson: Poisson = 0.3,
) -> Sides:
    """The lower fy of post and plate counts.

    >>> print(round(flat_contact_by_analogy(1000.0, 150.0, 355.0).ratio, 4))
    0.7879
    """
    return Sides(
        demand=flat_contact_stress.worked(line_load, diameter, young),
        resistance=contact_strength.worked(yield_strength, gamma_M6_ser),
        scope=(*european_strength(yield_strength), *steel_contact(young, poisson)),
        grows="as the root of the load",
    )


@EN_1993_1_8.formula("bearing strength, per projected area", "fb,Rd", "Table 3.10")
def bearing_strength(yield_strength: Stress, gamma_M0: PartialFactor = 1.0) -> Stress:
    """Bearing resistance of plate and pin over t d."""
    return 1.5 * yield_strength / gamma_M0


@EN_1993_1_8.clause(
    "en_1993_1_8.socket_by_analogy",
    "3.13.2, Table 3.10, by analogy",
    "bearing of a post in its socket, by analogy",
    intended_for="A pin in its hole: the bearing force over thickness and diameter against 1.5"
    " times the lower yield strength.",
    applies_here=SOCKET,
    applicability="by analogy",
    level="strength",
)
def socket(
    pressure: Annotated[Pressure, "p"], yield_strength: Stress, gamma_M0: PartialFactor = 1.0
) -> Sides:
    """The lower fy of post and socket counts.

    >>> print(socket(200.0, 235.0).resistance)
    fb,Rd = 1.5·fy/γM0 = 1.5·235 MPa/1 = 352.5 MPa
    """
    return Sides(
        demand=pressure,
        resistance=bearing_strength.worked(yield_strength, gamma_M0),
        scope=european_strength(yield_strength),
    )
