"""How stiff the contact of each section of a case is, for a time-history model of the building.

The curve is that of :mod:`.follow`; its uncertainty is what the coarse mesh level and the fine one
differ by, as everywhere in this package. What stands for the curve in other programs is for the
impact force, the peak contact force of [motion], where that is more than the load of the case: then
it is drawn from a second curve, solved about that force.
"""

from collections.abc import Callable
from dataclasses import astuple, dataclass, replace
from functools import partial
from typing import NamedTuple

import numpy as np

from contactfe.assess.accuracy import BESIDE, COARSE, numerical_uncertainty
from contactfe.assess.beam import bends
from contactfe.assess.bodies import Bodies
from contactfe.assess.each_section import each_section
from contactfe.assess.follow import (
    MOST,
    Followed,
    estimated_times,
    follow_load,
    force_approach,
    times_allowed,
)
from contactfe.assess.gap_element import Linear, PowerLaw, Table, linear, power_law, table
from contactfe.assess.impact import section_peak_force
from contactfe.assess.in_series import InSeries, in_series, over_its_length, tilts
from contactfe.assess.shares import Shares, shares
from contactfe.assess.value import Value
from contactfe.case import Case, Section
from contactfe.case.impact import peak_force
from contactfe.errors import InputError, SolveError
from contactfe.shown import Shown
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.study.crew import Progress

__all__ = [
    "ForceApproach",
    "SectionStiffness",
    "StiffnessResult",
    "force_approach",
    "section_stiffness",
    "stiffness",
]

_SPARE = 0.98
"""Share of the multiple of the load that one curve allows, that the next is solved for."""

_TRIES, _WORTH = 4, 1.05
"""Curves that are tried for the impact force where that is beyond the model, and the load over
the last one's that another is worth."""

_ROUNDING = 1e-9


@dataclass(frozen=True)
class ImpactForce:
    """The force that a spring is for.

    ``peak_contact_force`` N is the peak contact force of [motion], None where the case states none
    or it was not found, for the reason ``not_found``.
    """

    peak_contact_force: float | None = None
    not_found: str | None = None


@dataclass(frozen=True)
class WithPost:
    """The spring with the bending of the post in series, of the whole contact: in N/mm and mm.

    ``travel``, ``whole_tangent_stiffness`` and ``whole_secant_stiffness`` are those at the case's
    load. ``spring`` is right at the load that the section's own one is for, and ``points`` have the
    line loads of its points; ``peak_line_load`` N/mm is the largest along the post under that load.
    ``contact_alone_over_this`` is the spring of the contact alone over this one: its error in a
    model that has no post.
    """

    travel: float
    whole_tangent_stiffness: float
    whole_secant_stiffness: float
    spring: Linear
    points: Table
    peak_line_load: float
    contact_alone_over_this: float

    @property
    def too_soft_if_counted_twice(self) -> float:
        """What counting the bending twice makes this spring too soft by.

        2 − 1/``contact_alone_over_this``, that of this spring in series with a post which
        bends as much again as the one in it.
        """
        return 2.0 - 1.0 / self.contact_alone_over_this


class Parts(NamedTuple):
    """The :class:`.Shares` of an approach, each with its uncertainty, mm."""

    contact_post: Value
    ring: Value
    contact_plate: Value
    plate_bending: Value


@dataclass(frozen=True)
class SectionStiffness:
    """The stiffness of one section and its plate, per mm of contact line; in N/mm and mm.

    ``curve`` ends at ``ends_at`` times the case's load; ``uncertainties`` (n,) mm are those
    of its approaches and ``curve_shares`` (n) its parts. ``approach``, ``tangent_stiffness``,
    ``secant_stiffness`` (N/mm per mm) and ``exponent``, d ln q / d ln δ, are those at the case's
    load, of which ``shares`` are the shares of the approach.
    ``power_law``, ``linear`` and ``points`` are what stands for the curve in other programs, for
    the line load ``up_to_line_load``: the impact force's, the case's where that is more, or the
    largest that the model allows. They are drawn from ``far``, the curve itself or one that goes
    further. ``allowed_line_load`` is that which the model allows, by estimate where the curve ends
    before it. ``series`` is ``far`` with the bending of the post along its axis in series, at the
    stated tilt, None where that is not known.
    """

    section: Section
    ends_at: float
    curve: ForceApproach
    uncertainties: Floats
    curve_shares: tuple[Shares, ...]
    approach: Value
    tangent_stiffness: Value
    secant_stiffness: Value
    exponent: Value
    shares: Parts
    half_width: Value
    power_law: PowerLaw
    linear: Linear
    points: Table
    unknowns: int
    up_to_line_load: float
    allowed_line_load: float
    far: ForceApproach
    impact: ImpactForce = ImpactForce()
    series: InSeries | None = None
    with_post: WithPost | None = None

    def short(self, length: float | None) -> bool:
        """Whether the points end before the impact force, of a contact of that length in mm."""
        if self.impact.peak_contact_force is None or length is None:
            return self.impact.not_found is not None
        end = float(self.points.line_load[-1])
        return self.impact.peak_contact_force / length > end * (1.0 + _ROUNDING)


@dataclass(frozen=True, repr=False)
class StiffnessResult(Shown):
    """The stiffness of every section of a case, in its order."""

    case: Case
    sections: tuple[SectionStiffness, ...]

    def section(self, name: str) -> SectionStiffness:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)


def stiffness(
    case: Case, points: int = 100, processes: int | None = 1, progress: Progress | None = None
) -> StiffnessResult:
    """The contact stiffness of every section of a case.

    ``points`` is the number of points of each curve; ``processes`` and ``progress`` are as in
    :func:`.each_section`. Raises what :func:`.follow_load` raises.
    """
    ask = partial(section_stiffness, points=points)
    return StiffnessResult(case, tuple(each_section(case, ask, processes, progress)))


def section_stiffness(
    case: Case, section: Section, bodies: Bodies, points: int = 100
) -> SectionStiffness:
    """The stiffness of one section on two mesh levels. Raises what :func:`.follow_load` raises.

    The curve goes to 1.25 times the case's load, or to the end of the model's range; that of the
    points likewise to the impact force.
    """
    coarse = follow_load(case, section, bodies, MOST, points, COARSE)
    allowed = times_allowed(coarse)
    most = MOST if allowed >= MOST else max(1.0, _SPARE * allowed)
    known = tuple(coarse.patch(1.0, number) for number in range(len(case.line_loads)))
    fine = follow_load(case, section, bodies, most, points, expected=known)
    finite = partial(over_its_length, case, section, bodies)
    q, curve, other = case.line_load, finite(fine.curve), finite(coarse.curve)
    impact = _impact(case, section, bodies)
    further = partial(_further, case, section, bodies, points, fine)
    of_slice, up_to = further(_wanted(case, impact))
    end = of_slice.largest_load
    series = _in_series(case, section, bodies, of_slice)
    if series is not None and (peak := series.peak_at(end)) > end:
        # The slices near one end of the contact take more than the mean.
        series = _in_series(case, section, bodies, further(peak)[0])
    far = curve if of_slice is fine.curve else finite(of_slice)

    def value(of: Callable[[ForceApproach], float]) -> Value:
        return _value(of(curve), of(other))

    approach = value(lambda c: float(c.approach_at(q)))
    return SectionStiffness(
        section=section,
        ends_at=most,
        curve=curve,
        uncertainties=_uncertainties(curve, other),
        curve_shares=tuple(_shares(fine, curve, load / q) for load in curve.line_load),
        approach=approach,
        tangent_stiffness=value(lambda c: float(c.tangent_at(c.approach_at(q)))),
        secant_stiffness=value(lambda c: float(q / c.approach_at(q))),
        exponent=value(lambda c: float(c.tangent_at(c.approach_at(q)) * c.approach_at(q) / q)),
        shares=_parts(_shares(fine, curve, 1.0), _shares(coarse, other, 1.0), approach.value),
        half_width=_value(fine.patch(1.0).half_width, coarse.patch(1.0).half_width),
        power_law=power_law(far, up_to),
        linear=linear(far, up_to),
        points=table(far, up_to, (q, end)),
        unknowns=fine.level.joint.unknowns,
        up_to_line_load=up_to,
        allowed_line_load=q * estimated_times(fine),
        far=far,
        impact=impact,
        series=series,
        with_post=None if series is None else _with_post(case, far, series, up_to),
    )


def _impact(case: Case, section: Section, bodies: Bodies) -> ImpactForce:
    """The impact force of a section; one that is not found leaves the curve as it is."""
    motion = case.motion
    if motion is None or case.contact_length is None:
        return ImpactForce()
    try:
        if motion.contact_law.law == "section":
            return ImpactForce(section_peak_force(case, section, bodies))
        return ImpactForce(peak_force(motion))
    except SolveError as error:
        return ImpactForce(not_found=str(error))


def _wanted(case: Case, impact: ImpactForce) -> float:
    """The line load, N/mm, that the points are for; without bound where that is not known."""
    if impact.not_found is not None:
        return np.inf
    if impact.peak_contact_force is None or case.contact_length is None:
        return case.line_load
    return max(case.line_load, impact.peak_contact_force / case.contact_length)


def _further(
    case: Case, section: Section, bodies: Bodies, points: int, fine: Followed, wanted: float
) -> tuple[ForceApproach, float]:
    """A curve for a line load, N/mm, and that; or to the end of the model's range, which is less.

    That about the case's load does as far as it goes.
    """
    load, end = case.line_load, fine.curve.largest_load
    if wanted <= end * (1.0 + _ROUNDING):
        return fine.curve, wanted
    best, allowed = (fine.curve, end), _SPARE * estimated_times(fine) * load
    for _ in range(_TRIES):
        up_to = min(wanted, allowed)
        if up_to <= best[1]:
            break
        most = min(MOST, max(1.0, allowed / up_to))
        try:
            further = follow_load(_at_load(case, up_to), section, bodies, most, points)
        except (InputError, SolveError):  # the estimate of what is allowed was too high
            allowed *= _SPARE
            continue
        allowed = _SPARE * estimated_times(further) * up_to
        if times_allowed(further) >= most:
            best = further.curve, up_to
            if up_to == wanted or allowed < _WORTH * up_to:
                break
    return best


def _at_load(case: Case, line_load: float) -> Case:
    """The case at another line load, N/mm; in a corner both loads grow together."""
    corner = case.corner
    if corner is not None:
        corner = replace(corner, line_load=corner.line_load * line_load / case.line_load)
    return replace(case.loaded(line_load), corner=corner)


def _with_post(case: Case, contact: ForceApproach, series: InSeries, up_to: float) -> WithPost:
    q, curve, length = case.line_load, series.curve, case.contact_length
    assert length is not None  # [cantilever] needs it
    displacement, spring = float(curve.approach_at(q)), linear(curve, up_to)
    alone = linear(contact, up_to)
    return WithPost(
        travel=displacement,
        whole_tangent_stiffness=length * float(curve.tangent_at(displacement)),
        whole_secant_stiffness=length * q / displacement,
        spring=replace(spring, stiffness=length * spring.stiffness),
        points=table(curve, up_to, (q, contact.largest_load)),
        peak_line_load=series.peak_at(up_to),
        contact_alone_over_this=alone.stiffness / spring.stiffness,
    )


def _in_series(
    case: Case, section: Section, bodies: Bodies, curve: ForceApproach
) -> InSeries | None:
    if not bends(case, section):
        return None
    return in_series(case, section, bodies, curve, tilts(case, section)[0])


def _value(fine: float, coarse: float) -> Value:
    return Value(fine, numerical_uncertainty(fine, coarse))


def _shares(followed: Followed, curve: ForceApproach, times: float) -> Shares:
    """Shares of a slice's approach, of which its neighbours hold back some of the ring's."""
    found, q = shares(followed, times), times * followed.level.case.line_load
    held = float(followed.curve.approach_at(q) - curve.approach_at(q))
    return replace(found, ring=found.ring - held)


def _uncertainties(fine: ForceApproach, coarse: ForceApproach) -> Floats:
    q, approach = fine.line_load, fine.approach
    others = coarse.approach_at(q)
    uncertainties: Floats = np.array(
        [numerical_uncertainty(*pair) for pair in zip(approach, others, strict=True)]
    )
    return uncertainties


def _parts(best: Shares, other: Shares, approach: float) -> Parts:
    def value(of: float, beside: float) -> Value:
        # A share is a difference of parts of the size of the whole, and the hand formulas in it are
        # no surer.
        return Value(of, numerical_uncertainty(of, beside, least=BESIDE * abs(approach)))

    return Parts(*map(value, astuple(best), astuple(other)))
