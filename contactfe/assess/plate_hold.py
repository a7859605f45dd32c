"""What a plate exerts on what holds it, for whoever designs bracket, weld or anchors."""

from dataclasses import dataclass

from contactfe.assess.results import PatchResult, SectionResult
from contactfe.case import Case


@dataclass(frozen=True)
class OnHold:
    """What the plate exerts at one place, per mm of length under the peak line load.

    ``x`` mm is along the plate from its middle, ``lever`` mm from the middle of the contact to
    there. ``normal`` N/mm presses away from the post, ``along`` N/mm acts along +x; ``moment``
    N mm/mm is about the place itself, counter-clockwise. ``pull`` N/mm is how much of the hold is
    towards the post, where a base holds both ways: ``normal`` is what is left.
    """

    place: str
    x: float
    lever: float
    normal: float
    along: float
    moment: float
    pull: float = 0.0


@dataclass(frozen=True)
class PlateHold:
    """Everything that holds one plate of a section.

    ``places`` are under the peak line load, ``peak_ratio`` times the mean one. ``total`` is their
    sum about the middle of the plate, half its width and thickness, at whose ``x`` the normal force
    alone has the moment. ``contact_length`` mm is that of the contact, None where it is not stated,
    and ``towards_tip`` mm how far towards the tip of the post the force acts from the middle of the
    contact, 0 where its sharing is not found.
    """

    number: int
    places: tuple[OnHold, ...]
    total: OnHold
    peak_ratio: float
    contact_length: float | None
    towards_tip: float

    def over_the_length(self, per_length: float) -> float | None:
        """The whole of a figure per mm: its mean times the contact length."""
        return (
            None
            if self.contact_length is None
            else per_length / self.peak_ratio * self.contact_length
        )


def plate_holds(case: Case, result: SectionResult) -> tuple[PlateHold, ...]:
    """What holds each plate of a section."""
    return tuple(_plate_hold(case, result, patch) for patch in result.patches)


def _plate_hold(case: Case, result: SectionResult, patch: PatchResult) -> PlateHold:
    number, length = patch.number, case.contact_lengths[patch.number]
    middle = -case.offsets[number], -case.plate.thickness / 2.0
    contact = patch.centre.value
    places = tuple(
        OnHold(
            r.place, r.x - middle[0], r.x - contact, r.across, 0.0 - r.along, 0.0 - r.moment, r.pull
        )
        for r in patch.reactions
    )
    normal, along = sum(p.normal for p in places), sum(p.along for p in places)
    moment = sum(
        p.moment - p.x * p.normal - (r.y - middle[1]) * p.along
        for p, r in zip(places, patch.reactions, strict=True)
    )
    x = (0.0 - moment) / normal
    total = OnHold(
        "all", x, x + middle[0] - contact, normal, along, moment, sum(p.pull for p in places)
    )
    shared = result.length
    towards_tip = 0.0
    if shared is not None and case.cantilever is not None:
        towards_tip = shared.resultant_from_root - case.cantilever.length
    ratio = patch.line_load / case.mean_line_loads[number]
    return PlateHold(number, places, total, ratio, length, towards_tip)
