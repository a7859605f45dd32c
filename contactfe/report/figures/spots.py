"""Where the patches of a section lie, and whether both sides of the load line are alike."""

from dataclasses import dataclass

import numpy as np

from contactfe.assess.bodies import beside
from contactfe.assess.results import PatchResult, SectionResult
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Frame


@dataclass(frozen=True)
class Spot:
    """A patch: the axes of its plate in those of the section, its middle there and half-width, mm.

    In a panel of its own the plate lies below, and lengths are half-widths from its middle.
    """

    frame: Frame
    centre: float
    half_width: float

    def of_section(self, points: Floats) -> Floats:
        """Points (2, n) in the axes of the section, mm, in those of the panel."""
        return self.of_plate(self.frame.local(points))

    def of_plate(self, points: Floats) -> Floats:
        """Points (2, n) in the axes of the plate, mm, in those of the panel."""
        middle = np.array([[self.centre], [0.0]])
        from_middle: Floats = points - middle
        return from_middle / self.half_width


def spots(result: SectionResult) -> tuple[Spot, ...]:
    """The patch of a section, or the two of a corner."""
    frames = (Frame(), beside(result.section.radius))
    return tuple(
        Spot(frame, patch.centre.value, patch.half_width.value)
        for frame, patch in zip(frames, result.patches, strict=False)
    )


def off_centre(patch: PatchResult) -> bool:
    """Whether the middle of a patch lies off the first point of contact, beyond its uncertainty."""
    return abs(patch.centre.value) > patch.centre.uncertainty
