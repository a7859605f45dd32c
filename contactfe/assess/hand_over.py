"""What a time-history analysis takes for the contact of a section: its points, spring and dashpot,
the period of the impact and the time step that it needs.

Two models of a building ask for two of them: one that has the post as an element takes the contact
alone, one that has not takes the contact with the post's bending in series. Both are for the
greatest force that is known, which springs and points are drawn for.
"""

import math
from dataclasses import dataclass, replace

from contactfe.assess.gap_element import Linear, Table
from contactfe.assess.stiffness import SectionStiffness
from contactfe.case import Case
from contactfe.case.impact import effective_mass, velocity_at_closure
from contactfe.case.motion import Motion
from contactfe.hand import power_stop, stop
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach


@dataclass(frozen=True)
class Impacted:
    """What the impact of two masses on a spring asks of an analysis: N, mm, s and t.

    ``dashpot`` N s/mm beside the spring gives the stated restitution, none if 0. ``period`` is that
    of the ``mass`` t on the spring, ``step`` the time step that finds its peak force within 1 %.
    """

    damping_ratio: float
    dashpot: float
    period: float
    step: float

    @property
    def steps(self) -> float:
        """Steps in a period."""
        return self.period / self.step


@dataclass(frozen=True)
class HandOver:
    """One spring of a contact, ``with_post`` where the post's bending is in series with it.

    Forces are of the whole contact, N, where the case states its length, else N/mm of its line; so
    are stiffnesses. ``points`` has their line loads, N/mm, over the displacements, mm; ``force``,
    ``tangent_stiffness`` and ``secant_stiffness`` (n,) are those at them, without meaning at the
    first, the origin. ``spring`` is the secant at the force ``up_to_force``, with its error;
    ``energy_stored`` N mm, or per mm, is the work that it takes to press that far. ``impact`` is
    None where masses are not known, or the length.
    """

    with_post: bool
    points: Table
    force: Floats
    tangent_stiffness: Floats
    secant_stiffness: Floats
    spring: Linear
    up_to_force: float
    energy_stored: float
    impact: Impacted | None

    @property
    def linear_force_over_points_at_equal_energy(self) -> float:
        """Force that the spring comes to, over ``up_to_force``, where it takes what the contact
        does up to there: below 1 where the contact stiffens, so that an impact on it is TOO SOFT.
        """
        return math.sqrt(2.0 * self.spring.stiffness * self.energy_stored) / self.up_to_force


def hand_over(case: Case, section: SectionStiffness) -> tuple[HandOver, ...]:
    """Of a model without the post, where its bending is known, and of one that has it."""
    found = [_hand_over(case, section, section.far, section.points, section.linear, False)]
    post, series, length = section.with_post, section.series, case.contact_length
    if post is not None and series is not None and length is not None:
        spring = replace(post.spring, stiffness=post.spring.stiffness / length)
        found.insert(0, _hand_over(case, section, series.curve, post.points, spring, True))
    return tuple(found)


def _hand_over(
    case: Case,
    section: SectionStiffness,
    curve: ForceApproach,
    points: Table,
    spring: Linear,
    with_post: bool,
) -> HandOver:
    along = 1.0 if case.contact_length is None else case.contact_length
    d, force = points.approach, along * points.line_load
    secant = force.copy()
    secant[1:] /= d[1:]
    whole = replace(spring, stiffness=along * spring.stiffness)
    pressed = float(curve.approach_at(section.up_to_line_load))
    impacted = None
    if case.motion is not None and case.contact_length is not None:
        impacted = _impacted(case.motion, whole.stiffness)
    return HandOver(
        with_post=with_post,
        points=points,
        force=force,
        tangent_stiffness=along * curve.tangent_at(d),
        secant_stiffness=secant,
        spring=whole,
        up_to_force=along * section.up_to_line_load,
        energy_stored=replace(curve, length=along).stored(pressed),
        impact=impacted,
    )


def _impacted(motion: Motion, stiffness: float) -> Impacted | None:
    mass, restitution = effective_mass(motion), motion.contact_law.restitution
    if mass == 0.0:
        return None
    ratio = 0.0 if restitution == 1.0 else stop.kelvin_damping_ratio.plain(restitution)
    period = stop.linear_period.plain(stiffness, mass)
    return Impacted(
        ratio,
        stop.kelvin_dashpot.plain(stiffness, mass, ratio),
        period,
        stop.time_step.plain(period, ratio),
    )


@dataclass(frozen=True)
class Strike:
    """A strike at a level of hazard, without a name where the motion states none.

    ``velocity`` mm/s is that at which the gap closes, and ``energy`` N mm that of the two masses
    against each other then.
    """

    level: str
    velocity: float
    energy: float


def strikes(motion: Motion) -> tuple[Strike, ...]:
    """The strike at each level at which the gap closes, by velocity from the least.

    None where a bumper without a mass is met, which takes no energy at once.
    """
    mass = effective_mass(motion)
    if mass == 0.0:
        return ()
    at = ((level.name, motion.at(level)) for level in motion.all_levels)
    found = ((name, velocity_at_closure(one)) for name, one in at if one.closes)
    return tuple(
        Strike(name, v, 0.5 * mass * v**2) for name, v in sorted(found, key=lambda one: one[1])
    )


def law_damping(motion: Motion) -> float | None:
    """ζ of the dashpot that the impact force was found with: F = Fe (1 + ζ δ'/v).

    None where that is elastic, or after another law.
    """
    law = motion.contact_law
    if law.law == "linear" or law.damping != "both ways" or law.restitution == 1.0:
        return None
    return float(power_stop.ye_damping.plain(law.restitution))
