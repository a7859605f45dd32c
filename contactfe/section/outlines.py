"""Outlines of the two bodies, as plain numbers, in the axes every result uses.

Origin: the first point of contact. x runs along the plate, y into the member: the member's
centre is at (0, radius), the plate's back at y = -thickness. Lengths in mm.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class MemberOutline:
    """Section of the engaging member: a solid round, or a tube, empty or filled.

    ``bore_radius`` is 0 for a solid round. ``lower_half`` keeps the part below the centre only,
    which is all that two equal diametral plates need: their mid-plane is a plane of symmetry.
    ``filled`` adds the bore as a part of its own, bonded to the tube.
    """

    radius: float
    bore_radius: float
    lower_half: bool = False
    filled: bool = False

    def __post_init__(self) -> None:
        if not 0.0 <= self.bore_radius < self.radius:
            raise ValueError(
                f"bore_radius must be at least 0 and less than radius = {self.radius:g} mm,"
                f" not {self.bore_radius:g} mm"
            )
        if self.filled and self.bore_radius == 0.0:
            raise ValueError("a filled section needs a bore_radius above 0 mm")

    @property
    def wall(self) -> float:
        """Radial thickness of steel, mm; of a solid round, its radius."""
        return self.radius - self.bore_radius

    @property
    def top(self) -> float:
        """Height of the highest point of the outline, mm."""
        return self.radius if self.lower_half else 2.0 * self.radius


@dataclass(frozen=True)
class PlateOutline:
    """Section of the bumper plate: a rectangle below y = 0.

    The member strikes at ``offset`` (mm) from the plate's middle, towards +x: the origin is there,
    and the middle of the plate at x = -offset.
    """

    width: float
    thickness: float
    offset: float = 0.0

    def __post_init__(self) -> None:
        if not (self.width > 0.0 and self.thickness > 0.0):
            raise ValueError(
                "width and thickness must be positive,"
                f" not {self.width:g} and {self.thickness:g} mm"
            )
        if not abs(self.offset) < self.width / 2.0:
            raise ValueError(
                f"offset must be within half the width of {self.width:g} mm, not {self.offset:g} mm"
            )

    @property
    def left(self) -> float:
        """Abscissa of the edge at the left, mm."""
        return -self.width / 2.0 - self.offset

    @property
    def right(self) -> float:
        """Abscissa of the edge at the right, mm."""
        return self.width / 2.0 - self.offset
