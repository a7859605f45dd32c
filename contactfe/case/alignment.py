"""How the post meets the plate along its axis, and so how it shares the force along the contact."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Literal

from contactfe.case.kinds import Angle
from contactfe.case.table import NOT_STATED, Table, key
from contactfe.case.units import Measures
from contactfe.case.wording import with_article

if TYPE_CHECKING:
    from contactfe.case.bodies import Section
    from contactfe.case.model import Case

Distribution = Literal["even"]
"""How the line load runs along the contact where the engineer states it."""


@dataclass(frozen=True)
class Alignment(Table):
    """The plate along the post, in the plane of the impact and the post's axis.

    Needs [cantilever] and one plate. Without this table a plate that stands straight is assumed.
    """

    tilt: Annotated[
        Angle,
        key(
            "angle of the plate's face to the unbent post, positive where the tip is met first",
            "0.2 deg",
        ),
    ] = 0.0
    misalignment: Annotated[Angle, key("how far the tilt may be off, either way", "0.1 deg")] = 0.0
    # Whether the case does not state it: the plate is then taken as straight.
    assumed: Annotated[bool, NOT_STATED] = False
    # What [tolerance] adds to the misalignment, rad.
    tolerance: Annotated[float, Measures("angle"), NOT_STATED] = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "misalignment", abs(self.misalignment))

    @property
    def off(self) -> float:
        """How far the tilt may be off in all, rad: by the misalignment and by [tolerance]."""
        return self.misalignment + self.tolerance

    @property
    def tilts(self) -> tuple[float, ...]:
        """The tilts that may be: that stated, and those that it may differ to."""
        tilt, off = self.tilt, self.off
        return tuple(dict.fromkeys((tilt, tilt - off, tilt + off)))


@dataclass(frozen=True)
class Profile:
    """How the line loads run along a post that ends at ``length`` mm from its root.

    ``ratios`` are those on each plate over the mean one, straight between the points ``z`` (n,) mm
    from the root.
    """

    length: Annotated[float, Measures("length")]
    z: Annotated[tuple[float, ...], Measures("length")]
    ratios: tuple[tuple[float, ...], ...]

    @property
    def contact(self) -> tuple[float, float]:
        """Where the contact begins and ends, mm from the root."""
        return self.z[0], self.z[-1]


@dataclass(frozen=True)
class Strip:
    """A slice of the post where it may be stressed most, ``place`` mm from the root.

    ``ratios`` are the line loads there over the mean ones, ``moment``, N mm, the bending moment of
    the post, positive where it stretches the impacted side. ``profile`` is the number of that by
    which its neighbours are loaded, None where they are left out.
    """

    place: Annotated[float, Measures("length")]
    ratios: tuple[float, ...]
    moment: Annotated[float, Measures("moment")] = 0.0
    profile: int | None = None


@dataclass(frozen=True)
class Spread:
    """How a section is loaded along the contact, as was solved for.

    ``peak_ratio`` is the greatest line load over the mean one, which the plate is checked with;
    ``lever``, mm, the distance from the root at which the force counts for the root. The post is
    checked at its ``strips``, of which each has its neighbours loaded by one of the ``profiles``.
    """

    peak_ratio: float
    lever: Annotated[float, Measures("length")]
    strips: tuple[Strip, ...] = ()
    profiles: tuple[Profile, ...] = ()


def why_even(case: "Case") -> str:
    """Why the bending of the post cannot share the force of a case; empty where it can.

    The post must be stated as a cantilever, round, held by its beam shear, before one plate.
    """
    return next((why for section in case.sections if (why := why_unbent(case, section))), "")


def why_unbent(case: "Case", section: "Section") -> str:
    """The same for one section, which need not be in the case."""
    if case.cantilever is None:
        return "the case has no [cantilever]"
    if case.corner is not None:
        return "the sharing is found for one plate, and the case states [corner]"
    if not case.support(section).axis:
        return f"section “{section.name}” is held by “{case.hold(section)}”, not by beam shear"
    if section.geometry.along is None:
        shape = with_article(section.shape)
        return f"section “{section.name}” is {shape}, whose bending is not known"
    return ""
