"""The case: what the engineer stated, complete and in N, mm, MPa and radians."""

from collections.abc import Iterator, Mapping
from dataclasses import InitVar, dataclass, field, replace
from pathlib import Path
from typing import Annotated, Any

from pydantic import BeforeValidator

from contactfe.case.alignment import Alignment, Distribution, Spread
from contactfe.case.bodies import Plate, Post, Section
from contactfe.case.contact import Contact, Corner, Envelope, Load
from contactfe.case.display import DISPLAYS, Display, ReportUnits
from contactfe.case.grade_table import GradeName, GradeTable, named
from contactfe.case.grades import Grade, Product
from contactfe.case.holds import POST_SUPPORTS, PostHold, PostSupport
from contactfe.case.kinds import Accuracy, Name, Scale
from contactfe.case.material import ROLLED_WALL, Material
from contactfe.case.motion import ContactLaw, Motion
from contactfe.case.overload import Overload
from contactfe.case.settings import (
    Accept,
    Cantilever,
    Check,
    Document,
    Model,
    PlaneState,
    Report,
    Standards,
)
from contactfe.case.sizing import Sizing
from contactfe.case.steels import steel, thickness_steps
from contactfe.case.stock import StockSize, stock_size
from contactfe.case.sweeping import Sweep
from contactfe.case.table import NOT_STATED, Reading, Table, key
from contactfe.case.tolerance import Limits, Tolerance, limits_of
from contactfe.errors import InputError

_MM2_IN_M2 = 1e6


MOST_SECTIONS = 1_000
"""Sections of one case; a sweep varies them by more."""


def _some(sections: object) -> object:
    """Before anything about them is looked at, which takes a millisecond each."""
    if isinstance(sections, list) and not 1 <= len(sections) <= MOST_SECTIONS:
        raise InputError(f"must hold 1 to {MOST_SECTIONS} sections, not {len(sections)}")
    return sections


@dataclass(frozen=True, kw_only=True)
class Case(Table):
    """One stop: a post, its candidate sections, the plate it strikes, and how hard."""

    title: Annotated[Name, key("of the stop, in every result", "Lighthouse annex, stop S2")]
    source: Annotated[str, NOT_STATED] = "<data>"  # path of the case file as given
    accuracy: Annotated[
        Accuracy | None,
        key("uncertainty that is asked for of the peak stresses, 0.1 % to 20 %", "1 %"),
    ] = None
    scale: Annotated[
        Scale | None, key("length of a test specimen over that of the prototype, which this is")
    ] = None
    post: Post
    plate: Plate
    load: Load
    contact: Contact = field(default_factory=Contact)
    corner: Annotated[Corner | None, key("a second plate that is struck at the same time")] = None
    envelope: Annotated[Envelope | None, key("contacts to be tried beside that one")] = None
    model: Model = field(default_factory=Model)
    check: Check = field(default_factory=Check)
    accept: Accept = field(default_factory=Accept)
    report: Report = field(default_factory=Report)
    document: Document = field(default_factory=Document)
    cantilever: Annotated[Cantilever | None, key("the post along its axis")] = None
    standards: Standards = field(default_factory=Standards)
    motion: Annotated[Motion | None, key("what moves, and closes the gap")] = None
    contact_law: InitVar[
        Annotated[ContactLaw | None, key("how post and plate press on one another in the impact")]
    ] = None
    alignment: Annotated[Alignment | None, key("the plate along the post")] = None
    tolerance: Tolerance = field(default_factory=Tolerance)
    sizing: Annotated[Sizing | None, key("walls to be tried")] = None
    sweep: Annotated[Sweep | None, key("keys to be varied")] = None
    overload: Overload = field(default_factory=Overload)
    sections: Annotated[
        tuple[Section, ...], BeforeValidator(_some),
        key("the candidates, in their order", name="section"),
    ]  # fmt: skip
    grade: InitVar[
        Annotated[
            dict[GradeName, GradeTable] | None,
            BeforeValidator(named),
            key("steels of the case's own, by name"),
        ]
    ] = None
    grades: Annotated[tuple[Grade, ...], NOT_STATED] = ()  # those, used or not
    # Of one section, where it was solved for.
    spread: Annotated[Spread | None, NOT_STATED] = None

    def __post_init__(
        self, contact_law: ContactLaw | None, grade: dict[str, GradeTable] | None
    ) -> None:
        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        if contact_law is not None and self.motion is not None:
            put("motion", replace(self.motion, contact_law=contact_law))
        if grade is not None:
            put("grades", tuple(table.grade(called) for called, table in grade.items()))
        if self.alignment is not None:
            put("alignment", replace(self.alignment, tolerance=self.tolerance.angle))
        if self.envelope is not None:
            put("envelope", self.envelope.beside(self.contact))

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """A motion beside its contact law; what else goes between tables is in `across.py`."""
        if "motion" in written and "contact_law" not in written:
            yield (
                "contact_law",
                'is missing beside [motion]; write for example law = "linear" and stiffness ='
                ' "500 kN/mm" in it',
            )
        if "contact_law" in written and "motion" not in written:
            yield "contact_law", "needs [motion] beside it, which states the motion"

    @property
    def line_load(self) -> float:
        """N per mm of contact line, the mean where it is spread unevenly: as stated, or that of the
        peak contact force of the motion, which is integrated when it is first asked for.

        Raises SolveError where that cannot be.
        """
        if self.load.line_load is not None:
            return self.load.line_load
        from contactfe.case.impact import peak_force

        assert self.motion is not None  # the tables say so
        assert self.load.contact_length is not None
        return peak_force(self.motion) / self.load.contact_length

    def settled(self) -> "Case":
        """The same with a load that follows from the motion as a number, for those that share it.

        Raises SolveError where the impact is not integrated.
        """
        return self.loaded(self.line_load) if self.load.by_motion else self

    def loaded(self, line_load: float) -> "Case":
        """The same case under another line load, N/mm."""
        return replace(self, load=replace(self.load, line_load=line_load))

    @property
    def contact_length(self) -> float | None:
        """Length of the contact line, mm, where a force was stated; else None."""
        return self.load.contact_length

    @property
    def contact_lengths(self) -> tuple[float | None, ...]:
        """Length of the contact with each plate that is struck, mm, where it is known."""
        second = () if self.corner is None else (self.corner.contact_length,)
        return (self.contact_length, *second)

    @property
    def finite(self) -> bool:
        """Whether the length of every contact is known, of a post in plane strain: it is then
        solved in three dimensions.
        """
        return self.state == "plane strain" and None not in self.contact_lengths

    @property
    def distribution(self) -> Distribution | None:
        """How the force runs along the contact, where it was stated."""
        return self.load.distribution

    @property
    def state(self) -> PlaneState:
        """What the plane section stands for."""
        return self.model.state

    @property
    def yield_margin(self) -> float:
        """The peak von Mises stress may reach the yield strength over it."""
        return self.check.yield_margin

    @property
    def report_units(self) -> ReportUnits:
        """Of what is printed and drawn; the numbers here stay as they are."""
        return self.report.units

    @property
    def accepted(self) -> tuple[tuple[str, str], ...]:
        """Open items by their key, each with the reason."""
        return self.accept.reasons

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
        return (ratio * self.line_load, *self.mean_line_loads[1:])

    @property
    def mean_line_loads(self) -> tuple[float, ...]:
        """The same as means along the contact, N/mm."""
        return (self.line_load, *(() if self.corner is None else (self.corner.line_load,)))

    @property
    def offsets(self) -> tuple[float, ...]:
        """Distance from the middle of each plate to where it is struck, mm."""
        return (self.contact.offset, *(() if self.corner is None else (self.corner.offset,)))

    def at(self, contact: Contact) -> "Case":
        """The same case struck at another contact, which is taken as it is."""
        return replace(self, contact=contact)

    @property
    def display(self) -> Display:
        """The units that results are shown in."""
        return DISPLAYS[self.report_units]

    def post_material(self, section: Section) -> Material:
        """The steel of a section, at its own thickness; the section need not be in the case.

        A stock size is made to a product standard, so that of its wall AISC 360, B4.2 takes a share
        in a steel of one's own as well; which share, a built-in steel knows.

        Raises InputError where the grade is not made as this shape, or not this thick.
        """
        of = section.steel or self.post.steel
        geometry = section.geometry
        found = self._material(of, geometry.steel_thickness, geometry.product)
        own = isinstance(of, Material) or of in {grade.name for grade in self.grades}
        if own and section.stock is not None:
            return replace(found, design_wall=min(found.design_wall, ROLLED_WALL))
        return found

    def limits(self, section: Section, size: StockSize | None = None) -> Limits | None:
        """The limits that a tube is made within; None where they are not known, or it is no tube.

        ``size`` is the stock size of a list that it is bought as.
        """
        bought = size is not None
        if size is None and section.stock is not None:
            size = stock_size(section.stock)
        of = section.steel or self.post.steel
        return limits_of(self.tolerance, section, of if isinstance(of, str) else "", size, bought)

    def as_made(self, section: Section, outside_diameter: float, wall: float) -> "Case":
        """The case of a section alone, made with other sizes than its nominal ones, which its steel
        still goes by.
        """
        made = replace(
            section,
            stock=None,
            outside_diameter=outside_diameter,
            wall=wall,
            steel=None,
            wall_tolerance=None,
        )
        post = replace(self.post, steel=self.post_material(section))
        return replace(self, post=post, sections=(made,))

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
