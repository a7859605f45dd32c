"""The case: what the engineer stated, complete and in N, mm, MPa and radians."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from contactfe.case.alignment import Alignment, Distribution, Spread
from contactfe.case.display import DISPLAYS, Display, ReportUnits
from contactfe.case.grades import Grade, Product
from contactfe.case.holds import (
    PLATE_SUPPORTS,
    POST_SUPPORTS,
    PlateHold,
    PlateSupport,
    PostHold,
    PostSupport,
)
from contactfe.case.material import Material
from contactfe.case.motion import Motion
from contactfe.case.sizing import Sizing
from contactfe.case.steels import steel, thickness_steps
from contactfe.case.sweeping import Sweep
from contactfe.section.outlines import Geometry, Shape, geometry_of

PlaneState = Literal["plane strain", "plane stress"]
Family = Literal["AISC", "AASHTO", "EN"]
Method = Literal["LRFD", "ASD"]

_MM2_IN_M2 = 1e6


@dataclass(frozen=True)
class Infill:
    """What fills the bore, bonded to the steel; it has no yield strength and is not checked."""

    name: str  # as the case file names it, or "infill"
    young: float  # MPa
    poisson: float
    density: float  # kg/m³


@dataclass(frozen=True)
class Section:
    """One candidate for the post: a round bar, a tube, or drawn elsewhere; lengths in mm."""

    name: str  # unique in a case
    outside_diameter: float
    wall: float | None = None  # less than the radius; None for a solid round and for an own mesh
    steel: str | None = None  # its grade where it differs from the post's; None where it does not
    held_by: PostHold | None = None  # where it differs from the post's; None where it does not
    infill: Infill | None = None  # of the bore; of an own mesh, the material of its group "infill"
    mesh: Path | None = None  # absolute path of the mesh of a section drawn elsewhere
    mesh_unit: float = 1.0  # mm in the unit of that mesh
    governing_thickness: float | None = None  # of an own mesh where stated; see steel_thickness
    stock: str | None = None  # designation of the stock size that it is; None where it is none

    @property
    def geometry(self) -> Geometry:
        """Its shape, and what follows from it."""
        return geometry_of(
            self.outside_diameter, self.wall, filled=self.infill is not None,
            drawn=self.mesh is not None, governing_thickness=self.governing_thickness,
        )  # fmt: skip

    @property
    def shape(self) -> Shape:
        """Own mesh where a mesh is stated, solid where no wall is; a tube may be filled."""
        return self.geometry.shape

    @property
    def radius(self) -> float:
        """Outside radius, mm; of an own mesh, that of the circle its contact line lies on."""
        return self.outside_diameter / 2


@dataclass(frozen=True)
class Post:
    """What all candidate sections share."""

    held_by: PostHold  # what balances the contact force
    steel: str | Material  # name of a grade, or the material as stated
    density: float  # kg/m³

    @property
    def support(self) -> PostSupport:
        """How it is held, but for sections that say otherwise."""
        return POST_SUPPORTS[self.held_by]


@dataclass(frozen=True)
class Plate:
    """The bumper plate; lengths in mm."""

    width: float  # along the impacted face
    thickness: float  # in the direction of the impact
    held_by: PlateHold  # its back on a rigid base, or two edge lines
    steel: str | Material  # name of a grade, or the material as stated
    spring: float | None = (
        None  # N/mm per mm of each edge; stated if held by elastic supports, else None
    )

    @property
    def support(self) -> PlateSupport:
        """How it is held."""
        return PLATE_SUPPORTS[self.held_by]


@dataclass(frozen=True)
class Contact:
    """Where and how the post strikes the plate: by default its middle, squarely, frictionless."""

    offset: float = 0.0  # mm along the plate (+x) from its middle to where the post strikes
    angle: float = 0.0  # rad from the plate's normal to the direction of motion, positive to +x
    friction: float = 0.0  # Coulomb coefficient, tangential over normal traction in sliding


@dataclass(frozen=True)
class Corner:
    """A second plate, equal to the first and at right angles to it, struck at the same time.

    The origin and axes stay those of the first plate; this one stands at x = +radius.
    """

    line_load: float  # N per mm of contact line, normal to this plate
    offset: float = 0.0  # mm along this plate (+y) from its middle to where the post strikes
    contact_length: float | None = None  # mm of contact line where a force was stated, else None


@dataclass(frozen=True)
class Envelope:
    """The values of each part of the contact to be tried in every combination; none twice."""

    offsets: tuple[float, ...]  # mm, as Contact.offset
    angles: tuple[float, ...]  # rad, as Contact.angle
    frictions: tuple[float, ...]  # as Contact.friction

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """Every combination; the friction changes fastest, the offset slowest."""
        every = itertools.product(self.offsets, self.angles, self.frictions)
        return tuple(itertools.starmap(Contact, every))


@dataclass(frozen=True)
class Cantilever:
    """The post along its axis, from its root at the moving floor; for hand formulas and clauses."""

    length: float  # mm from the root to the middle of the contact
    weld_throat: float | None = None  # mm, of a fillet weld all round the root; None without one
    electrode_strength: float | None = None  # MPa, tensile strength of the weld metal, if stated


@dataclass(frozen=True)
class Standards:
    """Which standards are applied, and the factors in them that are not the clause's own.

    The partial factors are those that the EN standards recommend; national annexes may set others.
    """

    families: tuple[Family, ...] = ("AISC", "AASHTO", "EN")
    method: Method = "LRFD"  # of AISC 360: resistance factors, or safety factors
    gamma_M0: float = 1.0
    gamma_M2: float = 1.25
    gamma_M6_ser: float = 1.0
    gamma_m: float = 1.0  # of EN 1337


@dataclass(frozen=True)
class Case:
    """One stop: a post, its candidate sections, the plate it strikes, and how hard."""

    title: str
    source: str  # path of the case file as given, or "<data>"
    post: Post
    plate: Plate
    sections: tuple[Section, ...]  # in the order of the file
    line_load: float  # N per mm of contact line; the mean of it where it is spread unevenly
    contact_length: float | None  # mm of contact line where a force was stated, else None
    state: PlaneState
    yield_margin: float  # the peak von Mises stress may reach yield strength / yield_margin
    report_units: ReportUnits  # of what is printed and drawn; the numbers here stay as they are
    contact: Contact = Contact()
    corner: Corner | None = None  # None where one plate alone is struck
    accuracy: float | None = None  # relative uncertainty asked for of the peak stresses
    envelope: Envelope | None = None  # contacts to be tried beside the one above; None for no more
    grades: tuple[Grade, ...] = ()  # the steels that the case states by name, used or not
    cantilever: Cantilever | None = None  # None where the post is not to be checked along its axis
    standards: Standards = Standards()
    motion: Motion | None = None  # None where the force is stated alone
    alignment: Alignment | None = None  # None where the force counts as even along the contact
    distribution: Distribution | None = None  # of the force along the contact, where stated
    accepted: tuple[tuple[str, str], ...] = ()  # open items by their key, each with the reason
    sizing: Sizing | None = None  # None where no wall is to be sized
    sweep: Sweep | None = None  # None where no keys are varied
    scale: float | None = None  # length of a test specimen over that of this, the prototype
    spread: Spread | None = None  # of one section, where it was solved for; no file states it

    @property
    def held_by(self) -> PostHold:
        """What balances the contact force on the post, unless a section says otherwise."""
        return self.post.held_by

    def hold(self, section: Section) -> PostHold:
        """What balances the contact force on a section; the section need not be in the case."""
        return section.held_by or self.post.held_by

    def support(self, section: Section) -> PostSupport:
        """How a section is held; the section need not be in the case."""
        return POST_SUPPORTS[self.hold(section)]

    def symmetric(self, section: Section) -> bool:
        """Whether both sides of the load line are alike, so that a place needs no sign."""
        contact = self.contact
        turned = contact.friction > 0.0 and contact.angle != 0.0
        aside = turned or contact.offset != 0.0 or self.corner is not None
        return section.geometry.symmetric and not aside

    @property
    def meshes(self) -> tuple[Path, ...]:
        """The meshes of sections drawn elsewhere."""
        return tuple(section.mesh for section in self.sections if section.mesh is not None)

    @property
    def line_loads(self) -> tuple[float, ...]:
        """Line load normal to each plate that is struck, N/mm: the peak of one spread unevenly."""
        ratio = 1.0 if self.spread is None else self.spread.peak_ratio
        return (ratio * self.line_load, *(() if self.corner is None else (self.corner.line_load,)))

    @property
    def offsets(self) -> tuple[float, ...]:
        """Distance from the middle of each plate to where it is struck, mm."""
        return (self.contact.offset, *(() if self.corner is None else (self.corner.offset,)))

    def at(self, contact: Contact) -> Case:
        """The same case struck at another contact, which is taken as it is."""
        return replace(self, contact=contact)

    @property
    def display(self) -> Display:
        """The units that results are shown in."""
        return DISPLAYS[self.report_units]

    def post_material(self, section: Section) -> Material:
        """The steel of a section, at its own thickness; the section need not be in the case.

        Raises InputError where the grade is not made as this shape, or not this thick.
        """
        of = section.steel or self.post.steel
        geometry = section.geometry
        return self._material(of, geometry.steel_thickness, geometry.product)

    @property
    def post_thickness_steps(self) -> tuple[float, ...]:
        """Thicknesses, mm, over which the post's steel has another strength; none if stated."""
        of = self.post.steel
        return () if isinstance(of, Material) else thickness_steps(of, self.grades)

    @property
    def plate_material(self) -> Material:
        """The steel of the plate, at its thickness."""
        return self._material(self.plate.steel, self.plate.thickness, "plate")

    def _material(self, of: str | Material, thickness: float, product: Product) -> Material:
        if isinstance(of, Material):
            return of
        return steel(of, thickness, product, self.grades, self.display)

    def mass_per_length(
        self, section: Section, area: float | None = None, infill_area: float | None = None
    ) -> float:
        """Mass of the section with its infill, kg/m.

        ``area`` of the steel and ``infill_area``, mm², are needed for an own mesh, whose areas the
        case does not know; other sections know theirs. Raises ValueError where one is missing.
        """
        geometry = section.geometry
        area = geometry.area if area is None else area
        infill_area = geometry.infill_area if infill_area is None else infill_area
        if area is None or infill_area is None:
            raise ValueError(
                f"section {section.name!r}: the area of an own mesh is read off the mesh"
            )
        infill = 0.0 if section.infill is None else section.infill.density * infill_area
        return (self.post.density * area + infill) / _MM2_IN_M2
