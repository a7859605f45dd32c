"""The case: what the engineer stated, complete and in N, mm and MPa."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from contactfe.case.display import DISPLAYS, Display, ReportUnits
from contactfe.case.material import Material
from contactfe.case.steels import Product, steel

PostHold = Literal["beam shear", "opposed"]
PlateHold = Literal["bedded", "two edges"]
PlaneState = Literal["plane strain", "plane stress"]

_MM2_IN_M2 = 1e6


@dataclass(frozen=True)
class Section:
    """One candidate for the post: a round bar, or a round tube; lengths in mm."""

    name: str  # unique in a case
    outside_diameter: float
    wall: float | None = None  # less than the radius; None for a solid round
    steel: str | None = None  # its grade where it differs from the post's; None where it does not

    @property
    def shape(self) -> Literal["solid", "tube"]:
        """Solid where no wall is stated."""
        return "solid" if self.wall is None else "tube"

    @property
    def radius(self) -> float:
        """Outside radius, mm."""
        return self.outside_diameter / 2

    @property
    def bore_radius(self) -> float:
        """Inside radius, mm; 0 for a solid round."""
        return 0.0 if self.wall is None else self.radius - self.wall

    @property
    def area(self) -> float:
        """Area of the cross section, mm²."""
        return math.pi * (self.radius**2 - self.bore_radius**2)

    @property
    def steel_thickness(self) -> float:
        """Thickness that governs the yield strength, mm: the wall, or the diameter of a solid."""
        return self.outside_diameter if self.wall is None else self.wall


@dataclass(frozen=True)
class Post:
    """What all candidate sections share."""

    held_by: PostHold  # what balances the contact force
    steel: str | Material  # name of a grade, or the material as stated
    density: float  # kg/m³


@dataclass(frozen=True)
class Plate:
    """The bumper plate; lengths in mm."""

    width: float  # along the face that is struck
    thickness: float  # in the direction of the blow
    held_by: PlateHold  # its back on a rigid base, or two edge lines
    steel: str | Material  # name of a grade, or the material as stated


@dataclass(frozen=True)
class Case:
    """One stop: a post, its candidate sections, the plate it strikes, and how hard."""

    title: str
    source: str  # path of the case file as given, or "<data>"
    post: Post
    plate: Plate
    sections: tuple[Section, ...]  # in the order of the file
    line_load: float  # N per mm of contact line
    effective_length: float | None  # mm of contact line where a force was stated, else None
    state: PlaneState
    yield_margin: float  # the peak von Mises stress may reach yield strength / yield_margin
    report_units: ReportUnits  # of what is printed and drawn; the numbers here stay as they are

    @property
    def held_by(self) -> PostHold:
        """What balances the contact force on the post."""
        return self.post.held_by

    @property
    def display(self) -> Display:
        """The units that results are shown in."""
        return DISPLAYS[self.report_units]

    def post_material(self, section: Section) -> Material:
        """The steel of a section, at its own thickness; the section need not be in the case.

        Raises InputError where the grade is not made as this shape, or not this thick.
        """
        return _material(section.steel or self.post.steel, section.steel_thickness, section.shape)

    @property
    def plate_material(self) -> Material:
        """The steel of the plate, at its thickness."""
        return _material(self.plate.steel, self.plate.thickness, "plate")

    def mass_per_length(self, section: Section) -> float:
        """Mass of the bare section, kg/m."""
        return self.post.density * section.area / _MM2_IN_M2


def _material(of: str | Material, thickness: float, product: Product) -> Material:
    return of if isinstance(of, Material) else steel(of, thickness, product)
