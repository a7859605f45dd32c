"""The figures of an impact: what a page and a document give of it, each under a stable name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from contactfe.case import Case, Section
from contactfe.case.impact import damper_along, isolation
from contactfe.hand import cantilever
from contactfe.hand.quantities import Dimension
from contactfe.impact.outcome import Outcome

if TYPE_CHECKING:
    from contactfe.assess.hazard import LevelImpact
    from contactfe.assess.in_series import InSeries

ROOT = "root_bending_stress"
"""Key of a figure that others look for."""


@dataclass(frozen=True)
class Figure:
    """One figure of an impact, as held; ``key`` is its stable name."""

    key: str
    label: str
    symbol: str
    value: float
    dimension: Dimension | None


@dataclass(frozen=True)
class Own:
    """A section whose own curve the contact follows, in series with its post.

    ``peak_line_load``, N/mm, is the largest along the post at any tilt that may be.
    """

    section: Section
    series: InSeries
    peak_line_load: float


def figures(case: Case, level: LevelImpact, found: Outcome, own: Own | None) -> Iterator[Figure]:
    """Those of the impact at a level, in their order; ``own`` of a section's own curve."""
    motion = level.motion
    impact, contact, damper = (
        found.response.impact,
        found.peak_contact_force,
        found.peak_damper_force,
    )
    length = case.contact_length
    yield Figure("velocity_at_closure", "velocity of the floor at closure", "v", impact.velocity,
                 "velocity")  # fmt: skip
    yield Figure("energy_at_closure", "kinetic energy of the floor at closure", "M·v²/2",
                 impact.energy, "energy")  # fmt: skip
    if impact.isolation > 0.0:
        yield Figure("isolation_stiffness", "stiffness of the isolation, from the period", "kiso",
                     impact.isolation, "stiffness")  # fmt: skip
    at_closure = sum(damper_along(one).force(impact.velocity) for one in motion.dampers)
    if impact.damping > 0.0:
        yield Figure("isolation_damping_energy",
                     "of it what the isolation's damping would take from the gap to rest", "Ed",
                     impact.energy - _of_the_spring(level), "energy")  # fmt: skip
    if motion.dampers:
        yield Figure("damper_force_at_closure",
                     "force of the dampers in the direction of the impact at v", "F0", at_closure,
                     "force")  # fmt: skip
    yield Figure("peak_contact_force", "peak contact force: force on the member", "F",
                 contact.value, "force")  # fmt: skip
    yield Figure("time_of_peak", "time of it after closure", "tF", contact.time, "time")
    if length is not None:
        yield Figure("mean_line_load", "mean line load, over the contact length", "q",
                     contact.value / length, "line load")  # fmt: skip
    if own is not None and case.alignment is not None:
        yield Figure("peak_line_load", "peak line load along the post", "qmax",
                     own.peak_line_load, "line load")  # fmt: skip
    if motion.dampers:
        yield Figure("overshoot", "dynamic overshoot: peak contact force over F0", "F/F0",
                     contact.value / at_closure, None)  # fmt: skip
        yield Figure("peak_damper_force", "peak force of the dampers", "Fd", damper.value, "force")
        yield Figure("time_of_peak_damper_force", "time of it after closure", "td", damper.time,
                     "time")  # fmt: skip
    yield Figure("peak_approach", "peak approach of floor and stop", "δ", found.peak_approach.value,
                 "length")  # fmt: skip
    yield from _of_the_post(case, own, found)
    driven = "isolation pulling back" if isolation(motion) > 0.0 else "moving free"
    yield Figure("peak_travel",
                 f"greatest displacement of the floor, {driven}, no ground motion", "x",
                 found.peak_travel.value, "length")  # fmt: skip
    yield Figure("displacement_with_stop",
                 "greatest displacement of the floor with the stop, its gap added", "g + x",
                 level.displacement_with_stop, "length")  # fmt: skip
    if motion.displacement is not None:
        yield Figure("displacement_without_stop", "displacement without the stop, as stated", "u0",
                     motion.displacement, "length")  # fmt: skip
    if motion.held:
        yield Figure("bumper_displacement", "greatest displacement of the bumper", "y",
                     found.bumper_displacement, "length")  # fmt: skip
    yield Figure("duration", "duration of the first impact: last contact", "tc",
                 found.response.over, "time")  # fmt: skip
    if found.restitution is not None:
        yield Figure("restitution", "restitution that came of it", "e", found.restitution, None)
    if length is not None:
        yield Figure("stated_over_demand", "force of [load] over F", "",
                     case.line_load * length / contact.value, None)  # fmt: skip


def _of_the_spring(level: LevelImpact) -> float:
    """Energy that the stiffness of the isolation takes from the gap to rest without the stop."""
    motion = level.motion
    assert motion.displacement is not None  # or there is no damping
    return 0.5 * isolation(motion) * (motion.displacement**2 - motion.gap**2)


def _of_the_post(case: Case, own: Own | None, found: Outcome) -> Iterator[Figure]:
    """Its deflection and the stress at its root, where its bending is in a section's own curve."""
    if own is None or not own.series.bending.any():
        return
    label = "deflection of the post then, in the middle of the contact"
    deflection = own.series.bending_at(found.peak_approach.value)
    yield Figure("post_deflection", label, "w", deflection, "length")
    assert case.cantilever is not None  # of a post that bends
    stress = cantilever.bending_stress.plain(
        found.peak_contact_force.value, case.cantilever.length,
        own.section.outside_diameter, own.section.geometry.bore,
    )  # fmt: skip
    label = "bending stress at the root under F in the middle, elastic"
    yield Figure(ROOT, label, "σb", stress, "stress")
