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

    def __post_init__(self) -> None:
        object.__setattr__(self, "misalignment", abs(self.misalignment))

    @property
    def tilts(self) -> tuple[float, ...]:
        """The tilts that may be: that stated, and those that it may differ to."""
        tilt, off = self.tilt, self.misalignment
        return tuple(dict.fromkeys((tilt, tilt - off, tilt + off)))


@dataclass(frozen=True)
class Spread:
    """How unevenly a section is loaded along the contact, as its bending was solved for.

    ``peak_ratio`` is the greatest line load over the mean one; ``moment``, N mm, the bending moment
    of the post that its slice carries besides, positive where it stretches the impacted side;
    ``lever``, mm, the distance from the root at which the force counts for the root.
    """

    peak_ratio: float
    moment: Annotated[float, Measures("moment")]
    lever: Annotated[float, Measures("length")]


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
