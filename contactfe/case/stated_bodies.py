"""The tables of a case file that state bodies: [post], [plate] and [[section]].

Field names are the keys of the file, except `yield`, which Python keeps for itself. The rules
across keys raise at the key they name.
"""

from typing import Self

from pydantic import (
    Field,
    ModelWrapValidatorHandler,
    ValidationInfo,
    field_validator,
    model_validator,
)

from contactfe.case.holds import PLATE_SUPPORTS, PlateHold, PostHold, named
from contactfe.case.material import Material
from contactfe.case.stated_values import (
    Density,
    Designation,
    Length,
    LineStiffness,
    MeshUnit,
    Name,
    Poisson,
    Steel,
    Stress,
    Table,
    not_too_soft,
    shown,
)
from contactfe.case.stock import stock_size
from contactfe.errors import InputError


class _OfSteel(Table):
    steel: Steel | None = None
    young: Stress | None = None
    poisson: Poisson | None = None
    yield_strength: Stress | None = Field(None, alias="yield")
    ultimate: Stress | None = None

    @field_validator("ultimate")
    @classmethod
    def _not_below_yield(cls, ultimate: float | None, info: ValidationInfo) -> float | None:
        of = info.data.get("yield_strength")  # absent where it has a fault of its own
        if ultimate is not None and of is not None and ultimate < of:
            least = shown(of, "stress", info)
            raise InputError(f"must be at least the yield strength, {least}")
        return ultimate

    @model_validator(mode="wrap")
    @classmethod
    def _stiff_enough(cls, data: object, handler: ModelWrapValidatorHandler[Self]) -> Self:
        stated = handler(data)
        not_too_soft(data, stated.young, [stated.yield_strength])
        return stated

    @model_validator(mode="after")
    def _grade_or_values(self) -> "_OfSteel":
        values = {"young": self.young, "poisson": self.poisson, "yield": self.yield_strength}
        missing = [key for key, value in values.items() if value is None]
        if self.steel is not None and (len(missing) < len(values) or self.ultimate is not None):
            raise InputError("states steel and also young, poisson, yield or ultimate; choose one")
        if self.steel is None and missing:
            raise InputError(
                f"{', '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing; state "
                'either steel = "EN 10025-2 S355", or all of young, poisson and yield'
            )
        return self

    @property
    def grade_or_material(self) -> str | Material:
        """Name of the grade, or the material of the three values."""
        if self.young is None or self.poisson is None or self.yield_strength is None:
            assert self.steel is not None  # by _grade_or_values
            return self.steel
        return Material(
            name="stated",
            young=self.young,
            poisson=self.poisson,
            yield_strength=self.yield_strength,
            ultimate_strength=self.ultimate,
            source="stated in the case",
        )


class StatedPost(_OfSteel):
    """[post]; the density is that of steel by EN 10210-2 (from memory, not seen)."""

    held_by: PostHold = Field(examples=["beam shear"])
    density: Density = 7850.0


class StatedPlate(_OfSteel):
    """[plate]; a spring is the stiffness of the support at each edge."""

    width: Length = Field(examples=["400 mm"])
    thickness: Length = Field(examples=["60 mm"])
    held_by: PlateHold = Field(examples=["rigid base"])
    spring: LineStiffness | None = Field(None, validate_default=True)

    @field_validator("spring")
    @classmethod
    def _spring_of_elastic_supports(
        cls, spring: float | None, info: ValidationInfo
    ) -> float | None:
        held_by = info.data.get("held_by")
        if held_by is None:  # it has a fault of its own
            return spring
        if PLATE_SUPPORTS[held_by].spring and spring is None:
            raise InputError(
                f'is missing; held_by = "{held_by}" needs it: write for example '
                'spring = "2 kN/mm/mm", the stiffness at each edge per length along the post'
            )
        if spring is not None and not PLATE_SUPPORTS[held_by].spring:
            on_springs = named(support for support in PLATE_SUPPORTS.values() if support.spring)
            raise InputError(f"must not be stated unless held_by = {on_springs}")
        return spring


class StatedInfill(Table):
    """[[section]] infill. It adds to the mass, so its density is not guessed."""

    name: Name = "infill"
    young: Stress = Field(examples=["30 GPa"])
    poisson: Poisson = Field(examples=[0.2])
    density: Density = Field(examples=["2400 kg/m3"])


class StatedSection(Table):
    """[[section]]; a wall, a bore or a stock size makes it a tube, a mesh one drawn elsewhere."""

    name: Name = Field(examples=["tube 150 x 25"])
    designation: Designation | None = None
    outside_diameter: Length | None = Field(None, validate_default=True)
    wall: Length | None = None
    bore: Length | None = None
    steel: Steel | None = None
    held_by: PostHold | None = None
    mesh: Name | None = None
    mesh_unit: MeshUnit = 1.0
    steel_thickness: Length | None = None
    infill: StatedInfill | None = None

    @field_validator("outside_diameter")
    @classmethod
    def _diameter_or_designation(cls, diameter: float | None, info: ValidationInfo) -> float | None:
        if diameter is None and info.data.get("designation", "") is None:
            raise InputError(
                'is missing; write for example outside_diameter = "150 mm", '
                'or in its place designation = "ASME B36.10M NPS 6 XXS"'
            )
        return diameter

    @field_validator("outside_diameter", "wall", "bore", "mesh")
    @classmethod
    def _nothing_beside_a_designation(cls, value: object, info: ValidationInfo) -> object:
        if value is not None and info.data.get("designation") is not None:
            raise InputError("must not be stated beside designation; choose one")
        return value

    @field_validator("wall")
    @classmethod
    def _wall_within(cls, wall: float | None, info: ValidationInfo) -> float | None:
        diameter = info.data.get("outside_diameter")  # absent where it has a fault of its own
        if wall is not None and diameter is not None and wall >= diameter / 2:
            most = shown(diameter / 2, "length", info)
            raise InputError(f"must be less than half the outside diameter, {most}")
        return wall

    @field_validator("bore")
    @classmethod
    def _bore_within(cls, bore: float | None, info: ValidationInfo) -> float | None:
        diameter = info.data.get("outside_diameter")
        if bore is not None and diameter is not None and bore >= diameter:
            most = shown(diameter, "length", info)
            raise InputError(f"must be less than the outside diameter, {most}")
        if bore is not None and info.data.get("wall") is not None:
            raise InputError("must not be stated beside wall; choose one")
        return bore

    @field_validator("mesh")
    @classmethod
    def _mesh_alone(cls, mesh: str | None, info: ValidationInfo) -> str | None:
        for key in ("wall", "bore"):
            if mesh is not None and info.data.get(key) is not None:
                raise InputError(f"must not be stated beside {key}; choose one")
        return mesh

    @field_validator("mesh_unit", "steel_thickness")
    @classmethod
    def _only_of_a_mesh(cls, value: object, info: ValidationInfo) -> object:
        if value is not None and info.data.get("mesh", "") is None:
            raise InputError("must not be stated without mesh")
        return value

    @field_validator("steel_thickness")
    @classmethod
    def _thickness_within(cls, thickness: float | None, info: ValidationInfo) -> float | None:
        diameter = info.data.get("outside_diameter")
        if thickness is not None and diameter is not None and thickness > diameter:
            most = shown(diameter, "length", info)
            raise InputError(f"must be at most the outside diameter, {most}")
        return thickness

    @field_validator("infill")
    @classmethod
    def _infill_of_a_bore(
        cls, infill: StatedInfill | None, info: ValidationInfo
    ) -> StatedInfill | None:
        hollow = [
            info.data.get(key, "") is not None for key in ("designation", "wall", "bore", "mesh")
        ]
        if infill is not None and not any(hollow):
            raise InputError(
                "must not be stated without wall, bore, designation or mesh: there is no bore"
            )
        return infill

    @property
    def resolved_outside_diameter(self) -> float:
        """Outside diameter as stated or of the stock size, mm."""
        if self.designation is not None:
            return stock_size(self.designation).outside_diameter
        assert self.outside_diameter is not None  # by _diameter_or_designation
        return self.outside_diameter

    @property
    def resolved_wall(self) -> float | None:
        """Wall of a tube, mm; None for a solid round and for an own mesh."""
        if self.designation is not None:
            return stock_size(self.designation).wall
        return self.wall if self.bore is None else (self.resolved_outside_diameter - self.bore) / 2
