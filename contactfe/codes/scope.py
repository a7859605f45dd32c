"""Limits that many clauses share: the steel that they are intended for."""

from contactfe.hand.formula import Limit, at_least, at_most

EUROPEAN_STRENGTH = 460.0
"""Largest yield strength, MPa, of the grades S235 to S460 that EN 1993-1-1 and -1-8 cover: EN
1993-1-1:2005, Table 3.1 and EN 1993-1-8:2005, 1.1, from memory, not seen."""

EUROPEAN_STEEL = 210e3
"""Design modulus of steel, MPa: EN 1993-1-1, 3.2.6, value seen, clause from memory."""

STEEL_MODULUS = (190e3, 220e3)
"""Young's moduli, MPa, that pass for steel; common practice, no source."""

STEEL_POISSON = (0.25, 0.35)
"""Poisson's ratios that pass for the 0.3 which coefficients after Hertz have in them: 1 − ν² then
stays within 4 % of 0.91, so a pressure within 2 %; common practice, no source."""


SOCKET = (
    "Applies to a post that fits its bored socket as a pin does its hole. The pressure at the"
    " mouth, where it is greatest, is held to the strength, not the mean one. It covers neither the"
    " bending of a tube's wall, nor the socket's own wall and its anchorage, nor play, wear and"
    " repeated impact. A torque of friction at the contact is carried by friction in the socket,"
    " whose bearing forces together exceed that of the contact."
)
"""How far the bearing of pins in holes applies to the root of a post in a socket."""


def steel_modulus(young: float) -> tuple[Limit, ...]:
    """Young's modulus, MPa, is one of steel."""
    least, most = STEEL_MODULUS
    return at_least("E", young, least, "stress"), at_most("E", young, most, "stress")


def steel_poisson(poisson: float) -> tuple[Limit, ...]:
    """Poisson's ratio is near enough to 0.3."""
    least, most = STEEL_POISSON
    return at_least("ν", poisson, least), at_most("ν", poisson, most)


def steel_contact(young: float, poisson: float) -> tuple[Limit, ...]:
    """Both constants are near enough to those in a coefficient after Hertz for steel."""
    return (*steel_modulus(young), *steel_poisson(poisson))


def european_strength(yield_strength: float) -> tuple[Limit, ...]:
    """Yield strength, MPa, is one of the grades up to S460."""
    return (at_most("fy", yield_strength, EUROPEAN_STRENGTH, "stress"),)
