"""What the clauses for round members need of a tube beyond :mod:`contactfe.hand.round_section`."""

from contactfe.hand import check
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Length, Number


def fits(outside_diameter: float, wall: float) -> None:
    """Raise ValueError unless the diameter is positive and 0 < wall < outside_diameter/2."""
    check.positive(outside_diameter=outside_diameter)
    check.tube_wall(outside_diameter / 2, wall)


def bore(outside_diameter: float, wall: float | None) -> float:
    """Bore, mm, of a tube, or 0 of a solid round, for which ``wall`` is None; sizes in mm.

    Raises ValueError for a wall that does not fit.

    >>> bore(150.0, 25.0), bore(150.0, None)
    (100.0, 0.0)
    """
    if wall is None:
        return 0.0
    fits(outside_diameter, wall)
    return outside_diameter - 2 * wall


@formula("diameter over wall", "D/t", source="definition", symbols={"wall": "t"})
def slenderness(outside_diameter: Length, wall: Length) -> Number:
    """Diameter over wall, which decides whether the wall buckles."""
    fits(outside_diameter, wall)
    return outside_diameter / wall
