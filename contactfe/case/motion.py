"""The motion that ends in the impact: what moves, what closes the gap, and what it then meets."""

import itertools
import math
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from pydantic import Strict

from contactfe.case.kinds import (
    Angle,
    Count,
    DampingRatio,
    Exponent,
    Force,
    Length,
    Mass,
    Name,
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
    stroke: Annotated[
        Length | None, key("that one of them has along its axis, from its place at rest", "150 mm")
    ] = None
    length: Annotated[
        Length | None,
        key(
            "between its pins as the gap closes; without it the stroke of one at an angle counts"
            " as the displacement of the bumper, the most that it can be",
            "1.5 m",
        ),
    ] = None
    capacity: Annotated[
        Force | None, key("force that one of them may take along its axis", "1200 kN")
    ] = None

    @property
    def along(self) -> float:
        """Cosine of the angle: share of velocity and force that counts along the impact."""
        return math.cos(self.angle)

    def stroke_at(self, displacement: float) -> float:
        """The most that its length changes by, mm, as the bumper moves by ``displacement`` mm.

        It turns as it moves: pulled, it changes by more than at the angle that it has at closure.
        Of one at an angle whose length is not stated, what it can be at most, the displacement.
        """
        if self.angle == 0.0 or self.length is None:
            return displacement
        L, y = self.length, displacement
        return math.sqrt(L**2 + y**2 + 2.0 * L * y * self.along) - L


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
class Level(Table):
    """One level of hazard: the motion that the stop is to be judged at.

    It states displacement, or velocity; with velocity the floor then moves free. Period and damping
    are those of [motion] unless it states its own.
    """

    name: Annotated[Name, key("of the level, in every result", "design level")]
    displacement: Annotated[
        Length | None, key("of the floor, expected without the stop", "450 mm")
    ] = None
    velocity: Annotated[Velocity | None, key("of the floor as the gap closes")] = None  # mm/s
    period: Annotated[Time | None, key("effective period of the isolation system, here")] = None
    damping: Annotated[
        DampingRatio | None, key("damping ratio of the isolation system, here", 0.15)
    ] = None
    must_engage: Annotated[
        bool | None, Strict(),
        key("whether the stop has to be struck at it or, false, must not; no check without", False),
    ] = None  # fmt: skip

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """One way to state the motion; a velocity at closure says by itself that it closes."""
        if ("displacement" in written) == ("velocity" in written):
            yield (
                "",
                'must state either displacement = "450 mm" or velocity = "0.7 m/s" at closure of'
                " the gap",
            )
        elif "velocity" in written:
            for idle in ("period", "damping", "must_engage"):
                if idle in written:
                    yield idle, "must not be stated beside velocity, which is that at closure"


@dataclass(frozen=True)
class Motion(Table):
    """What moves and closes the gap: velocity, or displacement with period, which give it.

    Needs [contact_law]. Without bumper_mass, bumper_spring and dampers the stop is fixed; a bumper
    that has a mass needs a spring or a damper. Levels of hazard, each a [[motion.level]], take the
    place of displacement and velocity.
    """

    gap: Annotated[Length, key("between post and plate, closed before they strike", "300 mm")]
    mass: Annotated[Mass, key("mass that moves with the floor", "2000 t")]
    contact_law: Annotated[ContactLaw, NOT_STATED] = DERIVED  # a table of its own
    displacement: Annotated[
        Length | None, key("of the floor, expected without the stop", "450 mm")
    ] = None
    period: Annotated[Time | None, key("effective period of the isolation system", "3 s")] = None
    damping: Annotated[
        DampingRatio | None,
        key("equivalent viscous damping ratio of the isolation system at that displacement", 0.15),
    ] = None
    velocity: Annotated[Velocity | None, key("of the floor as the gap closes")] = None  # mm/s
    levels: Annotated[tuple[Level, ...], key("levels of hazard", name="level")] = ()
    displacement_limit: Annotated[
        Length | None,
        key("greatest displacement that floor, isolators and clearance allow", "500 mm"),
    ] = None
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
        if self.levels:
            yield from self._of_levels(written)
            return
        moving = ("displacement" in written, "period" in written)
        if any(moving) if "velocity" in written else not all(moving):
            yield (
                "",
                'must state either velocity = "0.7 m/s" at closure of the gap, or both'
                ' displacement = "450 mm" and period = "3 s"',
            )
        elif "velocity" in written and "damping" in written:
            yield "damping", "must not be stated beside velocity, which is that at closure"

    @staticmethod
    def _of_levels(written: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
        """The levels state the motion; what goes between them is in `across.py`."""
        for idle in ("displacement", "velocity"):
            if idle in written:
                yield idle, "must not be stated beside [[motion.level]], which states it"

    @property
    def all_levels(self) -> tuple[Level, ...]:
        """The levels of hazard; what states none is itself one without a name."""
        return self.levels or (Level("", self.displacement, self.velocity),)

    def at(self, level: Level) -> "Motion":
        """The motion at one of its levels, which states displacement or velocity itself."""
        if not self.levels:
            return self
        harmonic = level.displacement is not None
        period = self.period if level.period is None else level.period
        damping = self.damping if level.damping is None else level.damping
        return replace(
            self,
            levels=(),
            displacement=level.displacement,
            velocity=level.velocity,
            period=period if harmonic else None,
            damping=damping if harmonic else None,
        )

    @property
    def closes(self) -> bool:
        """Whether the gap closes, of a motion at one level."""
        return self.displacement is None or self.displacement > self.gap

    @property
    def held(self) -> bool:
        """Whether dampers or a spring hold the bumper; if nothing does it is a fixed stop."""
        return bool(self.dampers) or self.bumper_spring > 0.0

    @property
    def limited(self) -> bool:
        """Whether it states a limit of the dampers or of the floor's displacement."""
        of = (limit for one in self.dampers for limit in (one.stroke, one.capacity))
        return any(limit is not None for limit in (self.displacement_limit, *of))


def level_keys(levels: tuple[Level, ...]) -> tuple[str, ...]:
    """What the keys of a level's checks end in: its name in ASCII letters, digits and underscores.

    Names that come to the same are numbered from the second on; "" for one without a name.

    >>> level_keys((Level("Design level", 1.0), Level("design-level", 2.0), Level("設計", 3.0)))
    ('design_level', 'design_level_2', 'level_3')
    """
    found: list[str] = []
    for number, level in enumerate(levels, 1):
        ascii_name = unicodedata.normalize("NFKD", level.name).encode("ascii", "ignore").decode()
        base = re.sub(r"[^a-z0-9]+", "_", ascii_name.lower()).strip("_")
        base = base or (f"level_{number}" if level.name else "")
        candidate, again = base, 2
        while candidate in found:
            candidate, again = f"{base}_{again}", again + 1
        found.append(candidate)
    return tuple(found)
