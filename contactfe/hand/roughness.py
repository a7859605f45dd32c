"""How rough a surface may be for the contact to be that of smooth bodies.

Rough bodies meet at their highest points and spread the pressure beyond the smooth contact. By how
much goes by the roughness over the depth to which the smooth contact flattens the round, a²/R. The
limit is known for the contact of spheres; a line contact of the same half-width has twice the depth
that counts there, a²/(2R) over its whole length, and is taken by the same figure.
"""

from typing import Annotated

from contactfe.hand.formula import formula
from contactfe.hand.quantities import Length


@formula(
    "roughness up to which the contact is that of smooth bodies",
    "σs",
    source="K. L. Johnson, Contact Mechanics, 1985, section 13.5: from memory, not seen",
    note="root mean square of both surfaces together, at which contact stresses are within 7 %",
)
def greatest_roughness(half_width: Length, radius: Annotated[Length, "R"]) -> Length:
    """Root mean square of the heights of both surfaces, √(σ1² + σ2²).

    >>> print(greatest_roughness(2.5, 75.0))
    0.00416667
    """
    return 0.05 * half_width**2 / radius
