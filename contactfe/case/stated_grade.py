"""[grade."..."]: a steel that the case states itself, such as that of a mill certificate."""

from typing import Annotated, Self

from pydantic import (
    AfterValidator,
    Field,
    ModelWrapValidatorHandler,
    ValidationInfo,
    field_validator,
    model_validator,
)

from contactfe.case.grades import PRODUCTS, Band, Grade
from contactfe.case.stated_values import (
    NAME,
    Length,
    Name,
    Poisson,
    Strengths,
    Stress,
    Table,
    ThicknessEdges,
    not_too_soft,
    shown,
)
from contactfe.case.steels import grades
from contactfe.errors import InputError


def _new(name: str) -> str:
    """A name that stands for this grade alone, as it is written."""
    if name != name.strip():
        raise InputError("must not begin or end with a blank")
    if name in {grade.name for grade in grades()}:
        raise InputError("is the name of a built-in steel; choose another")
    return name


# After `_new` has seen the name with its blanks, it must be one as any other.
GradeName = Annotated[str, AfterValidator(_new), NAME]


class StatedGrade(Table):
    """One grade; it may be named as `steel` wherever a built-in one may.

    With `over`, yield and ultimate are lists: each value holds for thickness over that in its
    place, up to the next.
    """

    young: Stress = Field(examples=["205 GPa"])
    poisson: Poisson = Field(examples=[0.3])
    over: ThicknessEdges = (0.0,)
    yield_strength: Strengths = Field(alias="yield", examples=["420 MPa"])
    ultimate: Strengths | None = None
    largest: Length = float("inf")
    source: Name = Field(examples=["mill certificate 7731"])

    @model_validator(mode="wrap")
    @classmethod
    def _stiff_enough(cls, data: object, handler: ModelWrapValidatorHandler[Self]) -> Self:
        stated = handler(data)
        not_too_soft(data, stated.young, stated.yield_strength)
        return stated

    @field_validator("yield_strength", "ultimate")
    @classmethod
    def _one_for_each_band(
        cls, strengths: tuple[float, ...] | None, info: ValidationInfo
    ) -> tuple[float, ...] | None:
        over = info.data.get("over")  # absent where it has a fault of its own
        if strengths is not None and over is not None and len(strengths) != len(over):
            raise InputError(
                f"must hold as many values as over, {len(over)}, not {len(strengths)}"
                if len(over) > 1
                else "must be one value, or state over, the thicknesses that each begins at"
            )
        return strengths

    @field_validator("ultimate")
    @classmethod
    def _not_below_yield(
        cls, ultimate: tuple[float, ...] | None, info: ValidationInfo
    ) -> tuple[float, ...] | None:
        of = info.data.get("yield_strength")  # absent where it has a fault of its own
        if ultimate is None or of is None:
            return ultimate
        for fy, fu in zip(of, ultimate, strict=False):  # as long, unless over has a fault
            if fu < fy:
                least, found = (shown(strength, "stress", info) for strength in (fy, fu))
                raise InputError(f"must be at least the yield strength, {least}, not {found}")
        return ultimate

    @field_validator("largest")
    @classmethod
    def _beyond_the_bands(cls, largest: float, info: ValidationInfo) -> float:
        over = info.data.get("over", (0.0,))
        if largest <= over[-1]:
            last = shown(over[-1], "length", info)
            raise InputError(f"must be greater than the last value of over, {last}")
        return largest

    def grade(self, name: str) -> Grade:
        """The grade that it states, by the name of its table."""
        ultimate = self.ultimate or (None,) * len(self.over)
        rows = zip(self.over, self.yield_strength, ultimate, strict=True)
        return Grade(
            name=name,
            young=self.young,
            poisson=self.poisson,
            bands=tuple(Band(*row) for row in rows),
            largest=dict.fromkeys(PRODUCTS, self.largest),
            source=f"{self.source}, as the case states it",
            elastic_source="stated in the case",
        )
