"""The case file as it may be written: its tables, keys, and the rule each value must keep.

Field names are the keys of the file, except `yield`, which Python keeps for itself. Quantities
turn into N, mm and MPa as they are read. The rules across keys raise at the key they name.
"""

import unicodedata
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from contactfe.case.display import ReportUnits
from contactfe.case.material import Material
from contactfe.case.model import PlaneState, PlateHold, PostHold
from contactfe.case.steels import known_steel
from contactfe.case.units import LARGEST, Dimension, parse_quantity
from contactfe.errors import InputError


def _positive(dimension: Dimension) -> BeforeValidator:
    def read(text: object) -> float:
        value = parse_quantity(text, dimension)
        if value < 1 / LARGEST:
            raise InputError("must be greater than zero")
        return value

    return BeforeValidator(read)


def _poisson(value: float) -> float:
    if not 0 <= value < 0.5:  # an incompressible material has no plane strain compliance to invert
        raise InputError("must be at least 0 and less than 0.5")
    return value


def _margin(value: float) -> float:
    if not 1 <= value < float("inf"):
        raise InputError("must be a number of at least 1")
    return value


def _name(text: str) -> str:
    if not text.strip():
        raise InputError("must not be empty")
    # It is printed on terminals and pages, which control characters and line breaks would garble.
    if any(unicodedata.category(c) in {"Cc", "Zl", "Zp"} for c in text.strip()):
        raise InputError("must be on one line, without control characters")
    return text.strip()


Length = Annotated[float, _positive("length")]
Force = Annotated[float, _positive("force")]
LineLoad = Annotated[float, _positive("line load")]
Stress = Annotated[float, _positive("stress")]
Density = Annotated[float, _positive("density")]
Name = Annotated[str, AfterValidator(_name)]
Steel = Annotated[str, AfterValidator(known_steel)]


class _Table(BaseModel):
    """A table of the file: only its own keys, and each of the type it asks for."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class _OfSteel(_Table):
    steel: Steel | None = None
    young: Stress | None = None
    poisson: Annotated[float, AfterValidator(_poisson)] | None = None
    yield_strength: Stress | None = Field(None, alias="yield")

    @model_validator(mode="after")
    def _grade_or_values(self) -> "_OfSteel":
        values = {"young": self.young, "poisson": self.poisson, "yield": self.yield_strength}
        missing = [key for key, value in values.items() if value is None]
        if self.steel is not None and len(missing) < len(values):
            raise InputError("states steel and also young, poisson or yield; choose one")
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
            source="stated in the case",
        )


class StatedPost(_OfSteel):
    """[post]; the density is that of steel by EN 1991-1-1 (from memory, not seen)."""

    held_by: PostHold = Field(examples=["beam shear"])
    density: Density = 7850.0


class StatedPlate(_OfSteel):
    """[plate]."""

    width: Length = Field(examples=["400 mm"])
    thickness: Length = Field(examples=["60 mm"])
    held_by: PlateHold = Field(examples=["bedded"])


class StatedLoad(_Table):
    """[load]."""

    line_load: LineLoad | None = None
    force: Force | None = None
    effective_length: Length | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "StatedLoad":
        over_a_length = (self.force is not None, self.effective_length is not None)
        if any(over_a_length) if self.line_load is not None else not all(over_a_length):
            raise InputError(
                'must state either line_load = "1.5 kN/mm", '
                'or both force = "450 kN" and effective_length = "300 mm"'
            )
        return self

    @property
    def resolved_line_load(self) -> float:
        """Line load, N/mm."""
        if self.line_load is not None:
            return self.line_load
        assert self.force is not None  # by _one_way
        assert self.effective_length is not None
        return self.force / self.effective_length


class StatedModel(_Table):
    """[model]; plane strain is the state of a long post away from its ends."""

    state: PlaneState = "plane strain"


class StatedCheck(_Table):
    """[check]; by default the stress may reach the yield strength itself."""

    yield_margin: Annotated[float, AfterValidator(_margin)] = 1.0


class StatedReport(_Table):
    """[report]; the units of what is printed and drawn, whatever units the file itself uses."""

    units: ReportUnits = "SI"


class StatedSection(_Table):
    """[[section]]; a wall or a bore makes it a tube."""

    name: Name = Field(examples=["tube 150 x 25"])
    outside_diameter: Length = Field(examples=["150 mm"])
    wall: Length | None = None
    bore: Length | None = None
    steel: Steel | None = None

    @field_validator("wall")
    @classmethod
    def _wall_within(cls, wall: float | None, info: ValidationInfo) -> float | None:
        diameter = info.data.get("outside_diameter")  # absent where it has a fault of its own
        if wall is not None and diameter is not None and wall >= diameter / 2:
            raise InputError(f"must be less than half the outside diameter, {diameter / 2:g} mm")
        return wall

    @field_validator("bore")
    @classmethod
    def _bore_within(cls, bore: float | None, info: ValidationInfo) -> float | None:
        diameter = info.data.get("outside_diameter")
        if bore is not None and diameter is not None and bore >= diameter:
            raise InputError(f"must be less than the outside diameter, {diameter:g} mm")
        if bore is not None and info.data.get("wall") is not None:
            raise InputError("must not be stated beside wall; choose one")
        return bore

    @property
    def resolved_wall(self) -> float | None:
        """Wall of a tube, mm; None for a solid round."""
        return self.wall if self.bore is None else (self.outside_diameter - self.bore) / 2


class StatedCase(_Table):
    """The whole file."""

    title: Name = Field(examples=["Lighthouse annex, stop S2"])
    post: StatedPost
    plate: StatedPlate
    load: StatedLoad
    model: StatedModel = StatedModel()
    check: StatedCheck = StatedCheck()
    report: StatedReport = StatedReport()
    section: list[StatedSection]

    @field_validator("section")
    @classmethod
    def _at_least_one(cls, section: list[StatedSection]) -> list[StatedSection]:
        if not section:
            raise InputError("must hold at least one section")
        return section
