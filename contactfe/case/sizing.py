"""Which walls are tried when the wall is sized, and which checks they have to pass."""

from dataclasses import dataclass
from typing import Literal

CheckKind = Literal["stress", "post", "clauses", "hand"]
"""What counts: the solved stresses of post and plate; the stresses of the post along its axis by
hand; the clauses of the standards; every other stress by hand, of contact, section and plate."""

CHECKS: tuple[CheckKind, ...] = ("stress", "post", "clauses")
"""Those that count unless stated. The last is left out: its formulas estimate what is solved."""

SOLID = 0.5
"""Wall over outside diameter of a solid bar."""

LEAST_BORE = 20.0
"""Least bore of a tube, mm, unless stated: heads for deep-hole drilling begin at about that size,
and a slimmer bore in a post is work that few shops take (common practice, no source)."""

LEAST_BORE_RATIO = 0.25
"""Bore over outside diameter that takes its place where it is less, as slim tubes are drawn and not
drilled (common practice, no source)."""


@dataclass(frozen=True)
class Walls:
    """An even range of walls as shares of the outside diameter, both ends included."""

    least: float = 0.05
    most: float = SOLID
    count: int = 40

    def shares(self, _outside_diameter: float) -> tuple[float, ...]:
        """Walls over an outside diameter (mm), rising; here whatever it is.

        >>> Walls(0.1, 0.5, 3).shares(150.0)
        (0.1, 0.3, 0.5)
        """
        return _even(self.least, self.most, self.count)


@dataclass(frozen=True)
class WallLengths:
    """The same in mm."""

    least: float
    most: float
    count: int

    def shares(self, outside_diameter: float) -> tuple[float, ...]:
        """As that of ``Walls``; what leaves no bore is a solid bar.

        >>> WallLengths(40.0, 80.0, 3).shares(100.0)
        (0.4, 0.5)
        """
        even = _even(self.least, self.most, self.count)
        return tuple(dict.fromkeys(min(wall / outside_diameter, SOLID) for wall in even))


@dataclass(frozen=True)
class Sizing:
    """What is to be sized; by default the diameters of the case's sections, without lists.

    Between the wall that leaves the least bore and the solid bar no wall is tried.
    """

    outside_diameters: tuple[float, ...] = ()  # mm; those of the case's sections where empty
    walls: Walls | WallLengths = Walls()
    stock: tuple[str, ...] = ()  # names of lists of sizes
    checks: tuple[CheckKind, ...] = CHECKS
    least_bore: float | None = None  # mm; by the outside diameter where it is None

    def bore(self, outside_diameter: float) -> float:
        """The least bore, mm, that is tried at an outside diameter, mm.

        >>> Sizing().bore(150.0), Sizing().bore(60.0), Sizing(least_bore=30.0).bore(150.0)
        (20.0, 15.0, 30.0)
        """
        if self.least_bore is not None:
            return self.least_bore
        return min(LEAST_BORE, LEAST_BORE_RATIO * outside_diameter)


def _even(least: float, most: float, count: int) -> tuple[float, ...]:
    # Weights that are exactly 0 and 1 at the ends.
    steps = count - 1
    return tuple(least * ((steps - k) / steps) + most * (k / steps) for k in range(count))
