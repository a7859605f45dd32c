"""What the clauses for round members need of a tube beyond :mod:`contactfe.hand.round_section`."""

from contactfe.hand import check
from contactfe.hand.formula import formula


def fits(outside_diameter: float, wall: float) -> None:
    """Raise ValueError unless the diameter is positive and 0 < wall < outside_diameter/2."""
    check.positive(outside_diameter=outside_diameter)
    check.tube_wall(outside_diameter / 2, wall)


def bore(outside_diameter: float, wall: float | None) -> float:
    """Bore, mm, of a tube, or 0 of a solid round, for which ``wall`` is None; sizes in mm.

    Raises ValueError for a diameter that is not positive or a wall that does not fit.

    >>> bore(150.0, 25.0), bore(150.0, None)
    (100.0, 0.0)
    """
    if wall is None:
        check.positive(outside_diameter=outside_diameter)
        return 0.0
    fits(outside_diameter, wall)
    return outside_diameter - 2 * wall


@formula(
    name="diameter over wall",
    symbol="D/t",
    form="{outside_diameter}/{wall}",
    dimension=None,
    source="definition",
    given={"wall": ("t", "length")},
)
def slenderness(outside_diameter: float, wall: float) -> float:
    """Diameter over wall D/t, which decides whether the wall buckles; both in mm.

    Raises ValueError unless 0 < wall < outside_diameter/2.

    >>> print(slenderness(150.0, 25.0))
    6.0
    """
    fits(outside_diameter, wall)
    return outside_diameter / wall
