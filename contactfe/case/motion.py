"""The motion that ends in the impact: what moves, what closes the gap, and what it then meets."""

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from contactfe.case.kinds import (
    Angle,
    Count,
    Exponent,
    Force,
    Length,
    Mass,
    Restitution,
    Stiffness,
    Time,
    Velocity,
)
from contactfe.case.table import DERIVED, NOT_STATED, Reading, Table, key, keys
from contactfe.case.wording import listed, with_value

LawName = Literal["linear", "power", "section"]
"""Force of the contact against its approach: a spring, a power law, or the section's own curve."""

Damping = Literal["both ways", "pressing in"]
"""Where the dashpot of a power law works: all through the impact, or while the approach grows."""


@dataclass(frozen=True)
class Damper(Table):
    """Dampers of one kind that hold the bumper, each of force F1 (v/v1)^α; any number of kinds.

    At an angle to the impact both the velocity along them and the part of their force that counts
    are its cosine of what they would be.
    """

    reference_force: Annotated[
        Force, key("F1, force of one of them at v1", "1000 kN", name="force")
    ]
    reference_velocity: Annotated[
        Velocity, key("v1, the velocity at which it has that force", "1 m/s", name="at_velocity")
    ]
    exponent: Annotated[Exponent, key("α, the power of the velocity", 0.4)]
    angle: Annotated[Angle, key("between its axis and the direction of the impact", "30 deg")] = (
        0.0  # rad
    )
    count: Annotated[Count, key("how many there are")] = 1

    @property
    def along(self) -> float:
        """Cosine of the angle: share of velocity and force that counts along the impact."""
        return math.cos(self.angle)


_OF_LAW: dict[LawName, tuple[str, ...]] = {
    "linear": ("stiffness",),
    "power": ("force", "approach", "exponent"),
    "section": (),
}


@dataclass(frozen=True)
class ContactLaw(Table):
    """How post and plate press on one another during the impact, over their whole contact.

    `linear` takes stiffness; `power` takes force, approach and exponent; `section` takes none: it
    is the section's own curve, and [load] states a force. A restitution below 1 needs bumper_mass
    where a bumper is held.
    """

    law: Annotated[LawName, key("a spring, a power law, or the section's own curve", "linear")]
    stiffness: Annotated[
        Stiffness | None, key("force over approach, of the linear law", "500 kN/mm")
    ] = None
    reference_force: Annotated[
        Force | None, key("one force of the power law", "1000 kN", name="force")
    ] = None
    reference_approach: Annotated[
        Length | None, key("its approach at that force", "2 mm", name="approach")
    ] = None
    exponent: Annotated[Exponent | None, key("of the approach in the power law", 1.1)] = None
    restitution: Annotated[Restitution, key("velocity of parting over velocity of meeting")] = 1.0
    damping: Annotated[
        Damping, key("when the dashpot works; pressing in alone for a power law of exponent 1.5")
    ] = "both ways"

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """The values that the law takes, and no others."""
        needs = _OF_LAW[self.law]
        known = keys(type(self))
        stated = [name for name in itertools.chain(*_OF_LAW.values()) if name in written]
        missing = [
            with_value(name, known[name].examples[0]) for name in needs if name not in stated
        ]
        idle = [name for name in stated if name not in needs]
        changes = [
            *([f"add for example {listed(missing)}"] if missing else []),
            *([f"leave out {listed(idle)}"] if idle else []),
        ]
        if changes:
            takes = listed(needs) if needs else "the section's own curve"
            yield "", f'law = "{self.law}" takes {takes}: {"; ".join(changes)}'
        elif self.damping == "pressing in" and (self.law, self.exponent) != ("power", 1.5):
            yield (
                "",
                'damping = "pressing in" is known for law = "power" with exponent = 1.5 alone;'
                ' leave it out, which is "both ways"',
            )


@dataclass(frozen=True)
class Motion(Table):
    """What moves and closes the gap: velocity, or displacement with period, which give it.

    Needs [contact_law]. Without bumper_mass, bumper_spring and dampers the stop is fixed; a bumper
    that has a mass needs a spring or a damper.
    """

    gap: Annotated[Length, key("between post and plate, closed before they strike", "300 mm")]
    mass: Annotated[Mass, key("mass that moves with the floor", "2000 t")]
    contact_law: Annotated[ContactLaw, NOT_STATED] = DERIVED  # a table of its own
    displacement: Annotated[
        Length | None, key("of the floor, expected without the stop", "450 mm")
    ] = None
    period: Annotated[Time | None, key("effective period of the isolation system")] = None
    velocity: Annotated[Velocity | None, key("of the floor as the gap closes")] = None  # mm/s
    dampers: Annotated[tuple[Damper, ...], key("those that hold the bumper", name="damper")] = ()
    bumper_mass: Annotated[Mass, key("mass of the frame of plates", "20 t")] = 0.0
    bumper_spring: Annotated[
        Stiffness, key("stiffness of the spring that returns the frame", "5 kN/mm")
    ] = 0.0

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """One way to state the velocity, a stop that is struck, a floor heavier than its bumper.

        A message on two values has both as the file has them.
        """
        if self.displacement is not None and self.displacement <= self.gap:
            longer, gap = (with_value(name, written[name]) for name in ("displacement", "gap"))
            yield "", f"{longer} must be more than {gap}, or the stop is never struck"
        if self.mass <= self.bumper_mass:
            floor, bumper = (with_value(name, written[name]) for name in ("mass", "bumper_mass"))
            yield (
                "",
                f"{floor} must be more than {bumper}; 1 kip of weight is 1000 lb, 1 t is 1000 kg",
            )
        moving = ("displacement" in written, "period" in written)
        if any(moving) if "velocity" in written else not all(moving):
            yield (
                "",
                'must state either velocity = "0.7 m/s" at closure of the gap, or both'
                ' displacement = "450 mm" and period = "3 s"',
            )

    @property
    def held(self) -> bool:
        """Whether dampers or a spring hold the bumper; if nothing does it is a fixed stop."""
        return bool(self.dampers) or self.bumper_spring > 0.0
