"""One contact of an envelope: what a section and its plate come to there, in a row of figures."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from contactfe.assess.accuracy import FLOOR, ROUNDING, Levels, at_surface, tangential_load
from contactfe.assess.level import Reading
from contactfe.assess.places import Peak
from contactfe.assess.results import Value
from contactfe.case import Case, Contact, Material, Section
from contactfe.case.alignment import Spread
from contactfe.solve.joint import SlipState
from contactfe.solve.reactions import Reaction


@dataclass(frozen=True)
class BodyPeak:
    """Peak von Mises stress of a body, MPa, in a zone at (x, y) mm, and its utilisation.

    ``satisfied`` holds with the uncertainty added.
    """

    peak: Value
    zone: str
    x: float
    y: float
    utilisation: Value
    satisfied: bool


@dataclass(frozen=True)
class Held:
    """The place that holds the plate with the largest force, and what it exerts on the plate.

    ``force`` is the resultant of ``along`` (+x) and ``across`` (+y), N/mm; ``moment`` is about the
    middle of the place, counter-clockwise, N mm/mm.
    """

    place: str
    force: Value
    along: Value
    across: Value
    moment: Value


@dataclass(frozen=True)
class Strike:
    """A contact solved, in MPa, mm and N/mm; the plate in its own axes.

    ``line_load`` is what was solved for: the peak where it is spread unevenly along the post, as
    ``spread`` says, which is None where it counts as even;
    ``tangential_load`` is what the post exerts on the plate along +x; ``stopped`` says why the
    accuracy that the case asks for was not reached, and is empty if it was.
    """

    post: BodyPeak
    plate: BodyPeak
    peak_pressure: Value
    half_width: Value
    tangential_load: Value
    motion: SlipState
    held: Held
    stopped: str
    line_load: float
    spread: Spread | None


@dataclass(frozen=True)
class Row:
    """A section at a contact: solved, or the error that kept it from being so.

    ``refused`` says that the error is one of the input, beyond the range of the model, and not of
    the solution.
    """

    section: str
    contact: Contact
    strike: Strike | None
    error: str = ""
    refused: bool = False

    @property
    def governs(self) -> Literal["post", "plate"]:
        """The body of the larger utilisation, uncertainty counted. ValueError if not solved."""
        at = self._solved
        return "post" if _upper(at.post.utilisation) >= _upper(at.plate.utilisation) else "plate"

    @property
    def body(self) -> BodyPeak:
        """That body. Raises ValueError if not solved."""
        return self._solved.post if self.governs == "post" else self._solved.plate

    @property
    def utilisation(self) -> Value:
        """Utilisation of that body. Raises ValueError if not solved."""
        return self.body.utilisation

    @property
    def most(self) -> float:
        """That utilisation with its uncertainty added. Raises ValueError if not solved."""
        return _upper(self.utilisation)

    @property
    def _solved(self) -> Strike:
        if self.strike is None:
            raise ValueError(f"not solved: {self.error}")
        return self.strike


def strike(case: Case, section: Section, levels: Levels) -> Strike:
    """Read the figures of a row off solved levels of one plate."""
    state = levels.fine.reading.patch.state
    return Strike(
        post=_body(case, case.post_material(section), levels, _post_peak),
        plate=_body(case, case.plate_material, levels, _plate_peak),
        peak_pressure=levels.value(lambda r: r.peak_pressure),
        half_width=levels.value(lambda r: r.half_width),
        tangential_load=tangential_load(case, levels),
        motion=state.motion,
        held=_held(levels),
        stopped=levels.stopped,
        line_load=case.line_loads[0],
        spread=case.spread,
    )


def _post_peak(reading: Reading) -> Peak:
    return reading.member_peaks[0]


def _plate_peak(reading: Reading) -> Peak:
    return reading.patch.peaks[0]


def _body(case: Case, steel: Material, levels: Levels, of: Callable[[Reading], Peak]) -> BodyPeak:
    place = of(levels.fine.reading)
    peak = levels.value(lambda r: of(r).von_mises, at_surface(case, place.von_mises))
    allowed = steel.yield_strength / case.yield_margin
    use = Value(peak.value / allowed, peak.uncertainty / allowed)
    return BodyPeak(peak, place.zone, place.x, place.y, use, _upper(peak) <= allowed)


def _held(levels: Levels) -> Held:
    """Components are no surer than the resultant is."""
    fine = levels.fine.reading.patch.state.reactions
    number = max(range(len(fine)), key=lambda k: _force(fine[k]))
    one = fine[number]
    force = levels.value(lambda r: _force(r.patch.state.reactions[number]))
    least = FLOOR * force.value
    nil = ROUNDING * force.value * levels.fine.level.case.plate.width
    return Held(
        place=one.place,
        force=force,
        along=levels.value(lambda r: r.patch.state.reactions[number].along, least),
        across=levels.value(lambda r: r.patch.state.reactions[number].across, least),
        moment=levels.value(lambda r: r.patch.state.reactions[number].moment, nil),
    )


def _force(reaction: Reaction) -> float:
    return math.hypot(reaction.along, reaction.across)


def _upper(value: Value) -> float:
    return value.value + value.uncertainty
