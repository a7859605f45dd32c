"""A fluid viscous damper: its force against a velocity.

Its coefficient, whose unit would depend on the exponent, is given as a force at a stated velocity:
1000 kN(s/m)^0.4 is 1000 kN at 1 m/s.
"""

from typing import Annotated

from contactfe.hand.formula import at_least, at_most, formula, limited
from contactfe.hand.quantities import POSITIVE, Force, Number, Velocity

SOFTEST_EXPONENT, STIFFEST_EXPONENT = 0.3, 2.0
"""Velocity exponents of fluid viscous dampers: common practice, no source; seismic ones to 1."""


@formula(
    "force of the viscous damper",
    "Fd",
    source="the law of fluid viscous dampers, F = C·v^α: common practice, no source",
)
def damper_force(
    velocity: Annotated[Velocity, "v"],
    reference_force: Annotated[Force, POSITIVE, "F1"],
    reference_velocity: Annotated[Velocity, POSITIVE, "v1"],
    exponent: Annotated[Number, POSITIVE, "α"],
) -> Force:
    """Force of a viscous damper against a velocity, by its force at another.

    >>> print(damper_force(700.0, 1000e3, 1000.0, 0.4) / 1e3)
    867.04
    """
    limited(at_least("α", exponent, SOFTEST_EXPONENT), at_most("α", exponent, STIFFEST_EXPONENT))
    return float(reference_force * (velocity / reference_velocity) ** exponent)
