"""What the stop does at each level of hazard, and the checks of it.

The impact is free vibration after closure, which no ground motion drives on. A stroke or
a displacement may be more in an earthquake, so one that passes here is not settled by that: the
list of open items says so beside every such check.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from contactfe.assess.check_list import load_check
from contactfe.assess.checks import Check, LimitState
from contactfe.case import Case
from contactfe.case.motion import Damper, Level, Motion, level_keys
from contactfe.errors import SolveError
from contactfe.hand import damper
from contactfe.hand.quantities import Dimension

if TYPE_CHECKING:
    from contactfe.assess.nearby import Nearby
    from contactfe.impact.outcome import Outcome

_HOW = "two masses and the stop, integrated here: free vibration, no ground motion meanwhile"
_STILL_MOVING = "the impact is followed no further, and the floor still moves"


@dataclass(frozen=True)
class LevelImpact:
    """A level of hazard, the motion at it, and its first impact: None where the gap stays open.

    ``nearby`` are motions with a tenth less and more of displacement, none where the level states
    the velocity at closure. Where several tilts are looked at ``tilts`` are the impacts at each and
    ``found`` the one of the greatest force; strokes and displacements are the greatest of all.
    """

    level: Level
    motion: Motion
    found: Outcome | None
    nearby: tuple[Nearby, ...] = ()
    tilts: tuple[Outcome, ...] = ()

    @property
    def _each(self) -> tuple[Outcome, ...]:
        return self.tilts or (() if self.found is None else (self.found,))

    @property
    def peak_contact_force(self) -> float:
        """Peak contact force, N; 0 where the gap stays open."""
        return 0.0 if self.found is None else self.found.peak_contact_force.value

    @property
    def engages(self) -> bool:
        """Whether the gap closes."""
        return self.found is not None

    @property
    def velocity_at_closure(self) -> float | None:
        """That of the floor, mm/s; None where the gap stays open."""
        return None if self.found is None else self.found.response.impact.velocity

    @property
    def peak_damper_force(self) -> float:
        """Peak force of all dampers, N; 0 where the gap stays open."""
        return 0.0 if self.found is None else self.found.peak_damper_force.value

    @property
    def followed_to_rest(self) -> bool:
        """Whether the impact was followed until the floor came to rest or moved back."""
        return all(one.response.end != "still moving" for one in self._each)

    @property
    def displacement_with_stop(self) -> float:
        """Greatest displacement of the floor with the stop, mm, as far as it was followed."""
        if self._each:
            return self.motion.gap + max(one.peak_travel.value for one in self._each)
        assert self.motion.displacement is not None  # or the gap would close
        return self.motion.displacement

    @property
    def taken_off_by_stop(self) -> float | None:
        """What the stop takes off the displacement, mm; None where that is not known."""
        if self.motion.displacement is None or not self.followed_to_rest:
            return None
        return self.motion.displacement - self.displacement_with_stop

    def stroke(self, of: Damper) -> float:
        """Greatest stroke of a damper along its axis, mm, as far as it was followed."""
        return of.stroke_at(max((one.bumper_displacement for one in self._each), default=0.0))

    def force_of_one(self, of: Damper) -> float:
        """Greatest force of one damper of a kind along its axis, N."""
        speed = of.along * max((one.bumper_speed for one in self._each), default=0.0)
        return damper.damper_force.plain(
            speed, of.reference_force, of.reference_velocity, of.exponent
        )


def motion_checks(case: Case) -> tuple[Check, ...]:
    """Every check of the stop as a whole: its load against the motion, and what it does in that.

    With a section's own curve only whether it is struck: the others are of each section.
    """
    load, motion = load_check(case), case.motion
    found = [] if load is None else [load]
    if motion is None:
        return tuple(found)
    found += engagement_checks(motion)
    if motion.contact_law.law == "section" or not motion.limited:
        return tuple(found)
    from contactfe.case.impact import outcome_of  # which loads scipy

    for key, level in zip(level_keys(motion.all_levels), motion.all_levels, strict=True):
        at = motion.at(level)
        try:
            one = LevelImpact(level, at, outcome_of(at) if at.closes else None)
        except SolveError as error:
            found += _checks(key, level, at, None, f"the motion was not answered: {error}")
        else:
            found += _checks(key, level, at, one)
    return tuple(found)


def engagement_checks(motion: Motion) -> Iterator[Check]:
    """Whether the stop is struck at the levels that say whether it has to be."""
    for key, level in zip(level_keys(motion.levels), motion.levels, strict=True):
        if level.must_engage is None:
            continue
        must = "engagement" if level.must_engage else "no engagement"
        assert level.displacement is not None  # the tables say so
        demand, allowed = level.displacement, motion.gap
        if level.must_engage:
            demand, allowed = allowed, demand
            if demand == allowed:  # a floor that comes to rest as it meets the stop
                demand = math.nextafter(demand, math.inf)
        yield Check(
            _key("engagement", key), f"{must} of the stop{_at(level)}", "motion", "engagement", "",
            "stop", demand, allowed, "length",
            "gap against the displacement expected without the stop, as stated",
        )  # fmt: skip


def impact_checks(levels: Sequence[LevelImpact], section: str = "") -> Iterator[Check]:
    """Strokes and forces of the dampers, and the displacement of the floor, at each level."""
    keys = level_keys(tuple(one.level for one in levels))
    for key, one in zip(keys, levels, strict=True):
        yield from _checks(key, one.level, one.motion, one, section=section)


def _checks(
    key: str,
    level: Level,
    motion: Motion,
    one: LevelImpact | None,
    missing: str = "",
    section: str = "",
) -> Iterator[Check]:
    """Those of one level, of what the case states a limit for; without an impact none is known.

    Dampers that are not moved are not checked.
    """

    def check(
        state: LimitState, kind: str, label: str, body: str, demand: float | None,
        resistance: float, dimension: Dimension,
    ) -> Check:  # fmt: skip
        why = missing
        if one is not None and not one.followed_to_rest and state != "damper force":
            # The force is greatest early; a stroke that is too much by then stays so.
            why = _STILL_MOVING if demand is None or demand <= resistance else ""
        return Check(
            _key(state.replace(" ", "_") + kind, key), f"{label}{_at(level)}", "motion", state,
            section, body, demand, resistance, dimension, _HOW, missing=why,
        )  # fmt: skip

    still = one is not None and one.found is None
    for number, of in enumerate(() if still else motion.dampers, 1):
        kind, named = (f"_{number}", f" {number}") if len(motion.dampers) > 1 else ("", "")
        if of.stroke is not None:
            label = f"stroke of dampers{named} in free vibration"
            demand = None if one is None else one.stroke(of)
            yield check("damper stroke", kind, label, "damper", demand, of.stroke, "length")
        if of.capacity is not None:
            label = f"force of one of dampers{named}"
            demand = None if one is None else one.force_of_one(of)
            yield check("damper force", kind, label, "damper", demand, of.capacity, "force")
    if motion.displacement_limit is not None:
        label = "displacement of the floor in free vibration"
        demand = None if one is None else one.displacement_with_stop
        limit = motion.displacement_limit
        yield check("floor displacement", "", label, "floor", demand, limit, "length")


def _key(check: str, level: str) -> str:
    return f"{check}_{level}" if level else check


def _at(level: Level) -> str:
    return f" at “{level.name}”" if level.name else ""
