"""Outlines of the two bodies as plain numbers, in the axes every result uses; and the shapes that
a section may have, with all that the other rooms ask of a shape.

Origin: the first point of contact. x runs along the plate, y into the member: the member's
centre is at (0, radius), the plate's back at y = -thickness. Lengths in mm.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

Shape = Literal["solid", "tube", "filled tube", "own mesh"]


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
class Geometry:
    """A section as a shape: mm and mm². What is not stated is as of a shape that no formula covers.

    ``outline`` is what the mesher draws of the whole; of a drawn section the full round that its
    contact line belongs to. ``key`` is the key of the case that makes it this shape,
    ``thickness_key`` the one that states the thickness its steel's strength goes by, and
    ``product`` what that steel is looked up as. ``sizes`` are its sizes beside the diameter, by
    their key.

    ``wall`` is the thinnest steel about a bore, None without a bore or where only a mesh knows it;
    the areas are None where only a mesh knows them. ``hollow`` says whether it may be held at a
    bore, along the edges of the group ``core`` of its mesh, and bends in its plane as a ring does.
    ``round`` says whether its edges are circles about one centre, ``symmetric`` whether it is so
    to the load line. ``read_at`` is where its stress is read beside the contact.

    ``in_plane`` are the closed forms of its slice; ``along`` what its formulas and clauses as a
    beam along the post take it for, an infill left out.

    In words: its ``kind`` behind its sizes, what ``bends`` in its plane, what it ``adds`` to the
    approach of a solid, what the steel ends at along the load line, ``end``, and its ``hole``.
    """

    shape: Shape
    outline: MemberOutline
    key: str
    steel_thickness: float
    thickness_key: str
    product: Literal["solid", "tube"]
    kind: str = ""
    sizes: tuple[tuple[str, float], ...] = ()
    wall: float | None = None
    area: float | None = None
    infill_area: float | None = None
    hollow: bool = True
    core: str = "bore"
    round: bool = False
    symmetric: bool = False
    read_at: Literal["bore", "centre"] | None = None
    in_plane: Literal["disc", "ring"] | None = None
    along: Literal["solid", "tube"] | None = None
    bends: str = "the section"
    adds: str = ""
    end: str = "bore"
    hole: str = "bore"

    @property
    def bore(self) -> float:
        """Diameter of the bore that the mesher draws, mm; 0 where it draws none."""
        return 2.0 * self.outline.bore_radius


def geometry_of(
    outside_diameter: float,
    wall: float | None,
    *,
    filled: bool,
    drawn: bool,
    governing_thickness: float | None,
) -> Geometry:
    """The shape of a section as its keys state it: drawn where a mesh is, solid without a wall."""
    if drawn:
        return _own_mesh(outside_diameter, governing_thickness, filled=filled)
    if wall is None:
        return _solid(outside_diameter)
    return _filled_tube(outside_diameter, wall) if filled else _tube(outside_diameter, wall)


def _solid(D: float) -> Geometry:
    return Geometry(
        shape="solid", outline=MemberOutline(D / 2, 0.0), key="outside_diameter", kind="solid",
        steel_thickness=D, thickness_key="outside_diameter", product="solid",
        area=math.pi * (D / 2) ** 2, infill_area=0.0, hollow=False, round=True, symmetric=True,
        read_at="centre", in_plane="disc", along="solid",
    )  # fmt: skip


def _tube(D: float, wall: float) -> Geometry:
    radius, bore = D / 2, D / 2 - wall
    return Geometry(
        shape="tube", outline=MemberOutline(radius, bore), key="wall", sizes=(("wall", wall),),
        steel_thickness=wall, thickness_key="wall", product="tube", wall=wall,
        area=math.pi * (radius**2 - bore**2), infill_area=0.0, round=True, symmetric=True,
        read_at="bore", in_plane="ring", along="tube", bends="the ring", adds="the bore",
    )  # fmt: skip


def _filled_tube(D: float, wall: float) -> Geometry:
    """A tube whose infill is bonded to it: no closed form of a ring holds."""
    tube = _tube(D, wall)
    return replace(
        tube, shape="filled tube", outline=replace(tube.outline, filled=True), kind="filled",
        infill_area=math.pi * tube.outline.bore_radius**2, in_plane=None,
        bends="the filled tube", adds="bore and infill", hole="filled bore",
    )  # fmt: skip


def _own_mesh(D: float, governing_thickness: float | None, *, filled: bool) -> Geometry:
    """Drawn elsewhere: its steel counts as cut from bar, or as a tube where its thickness is given.

    What of it is hollow, where, and how much, its mesh alone knows.
    """
    stated = governing_thickness is not None
    return Geometry(
        shape="own mesh", outline=MemberOutline(D / 2, 0.0), key="mesh", kind="own mesh",
        steel_thickness=D if governing_thickness is None else governing_thickness,
        thickness_key="steel_thickness" if stated else "outside_diameter",
        product="tube" if stated else "solid", infill_area=None if filled else 0.0, core="hold",
        adds="the drawn shape", end="hole",
    )  # fmt: skip


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
