"""The tables of a case file that state the motion: [motion], [[motion.damper]], [contact_law].

Field names are the keys of the file.
"""

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, ModelWrapValidatorHandler, model_validator

from contactfe.case.motion import ContactLaw, Damper, Damping, LawName, Motion
from contactfe.case.stated_values import (
    Angle,
    Count,
    Exponent,
    Force,
    Length,
    Mass,
    Restitution,
    Stiffness,
    Table,
    Time,
    Velocity,
)
from contactfe.case.wording import listed, with_value
from contactfe.errors import InputError

_OF_LAW: dict[LawName, tuple[str, ...]] = {
    "linear": ("stiffness",),
    "power": ("force", "approach", "exponent"),
    "section": (),
}
_EXAMPLES = {
    "stiffness": '"500 kN/mm"',
    "force": '"1000 kN"',
    "approach": '"2 mm"',
    "exponent": "1.1",
}


class StatedContactLaw(Table):
    """[contact_law]."""

    law: LawName = Field(examples=["linear"])
    stiffness: Stiffness | None = None
    force: Force | None = None
    approach: Length | None = None
    exponent: Exponent | None = None
    restitution: Restitution = 1.0
    damping: Damping = "both ways"

    @model_validator(mode="after")
    def _of_the_law(self) -> "StatedContactLaw":
        needs = _OF_LAW[self.law]
        stated = [key for key in _EXAMPLES if getattr(self, key) is not None]
        missing = [f"{key} = {_EXAMPLES[key]}" for key in needs if key not in stated]
        idle = [key for key in stated if key not in needs]
        changes = [
            *([f"add for example {listed(missing)}"] if missing else []),
            *([f"leave out {listed(idle)}"] if idle else []),
        ]
        if changes:
            takes = listed(needs) if needs else "the section's own curve"
            raise InputError(f'law = "{self.law}" takes {takes}: {"; ".join(changes)}')
        if self.damping == "pressing in" and (self.law, self.exponent) != ("power", 1.5):
            raise InputError(
                'damping = "pressing in" is known for law = "power" with exponent = 1.5 alone;'
                ' leave it out, which is "both ways"'
            )
        return self

    @property
    def resolved(self) -> ContactLaw:
        """As the case has it."""
        return ContactLaw(
            self.law, self.stiffness, self.force, self.approach, self.exponent,
            self.restitution, self.damping,
        )  # fmt: skip


class StatedDamper(Table):
    """[[motion.damper]]; the force at a velocity stands for the coefficient C of F = C v^α."""

    force: Force = Field(examples=["1000 kN"])
    at_velocity: Velocity = Field(examples=["1 m/s"])
    exponent: Exponent = Field(examples=[0.4])
    angle: Angle = 0.0
    count: Count = 1

    @property
    def resolved(self) -> Damper:
        """As the case has it."""
        return Damper(self.force, self.at_velocity, self.exponent, self.angle, self.count)


class StatedMotion(Table):
    """[motion]."""

    gap: Length = Field(examples=["300 mm"])
    mass: Mass = Field(examples=["2000 t"])
    displacement: Length | None = None
    period: Time | None = None
    velocity: Velocity | None = None
    bumper_mass: Mass | None = None
    bumper_spring: Stiffness | None = None
    damper: Annotated[list[StatedDamper], Field(default_factory=list)]

    @model_validator(mode="wrap")
    @classmethod
    def _as_written(
        cls, data: object, handler: ModelWrapValidatorHandler["StatedMotion"]
    ) -> "StatedMotion":
        """What two values must satisfy; a message has both as the file has them."""
        stated = handler(data)
        assert isinstance(data, Mapping)
        if stated.displacement is not None and stated.displacement <= stated.gap:
            longer, gap = (with_value(key, data[key]) for key in ("displacement", "gap"))
            raise InputError(f"{longer} must be more than {gap}, or the stop is never struck")
        if stated.bumper_mass is not None and stated.mass <= stated.bumper_mass:
            floor, bumper = (with_value(key, data[key]) for key in ("mass", "bumper_mass"))
            raise InputError(
                f"{floor} must be more than {bumper}; 1 kip of weight is 1000 lb, 1 t is 1000 kg"
            )
        return stated

    @model_validator(mode="after")
    def _velocity_or_displacement(self) -> "StatedMotion":
        moving = (self.displacement is not None, self.period is not None)
        if any(moving) if self.velocity is not None else not all(moving):
            raise InputError(
                'must state either velocity = "0.7 m/s" at closure of the gap, or both'
                ' displacement = "450 mm" and period = "3 s"'
            )
        return self

    def resolved(self, contact_law: ContactLaw) -> Motion:
        """As the case has it."""
        return Motion(
            gap=self.gap, mass=self.mass, contact_law=contact_law, displacement=self.displacement,
            period=self.period, velocity=self.velocity,
            dampers=tuple(damper.resolved for damper in self.damper),
            bumper_mass=self.bumper_mass or 0.0, bumper_spring=self.bumper_spring or 0.0,
        )  # fmt: skip
