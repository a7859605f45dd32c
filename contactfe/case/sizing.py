"""Which walls are tried when the wall is sized."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Sizing:
    """Outside diameters (mm), the range of walls as shares of the diameter, and lists of sizes."""

    outside_diameters: tuple[float, ...]
    least_wall: float = 0.05  # of the outside diameter
    most_wall: float = 0.5  # of the outside diameter; a half is a solid bar
    count: int = 40  # walls of the curve
    stock: tuple[str, ...] = ()  # names of lists of sizes
