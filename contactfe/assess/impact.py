"""From the motion that a case states to the contact force of the first impact, with closed forms.

With a law of the contact that the case states there is one impact; with the section's own curve
there is one for each section.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from contactfe.assess.impact_forms import Beside, Found, closure_steps, damper_steps, forms
from contactfe.assess.nearby import Nearby, sensitive, with_forces
from contactfe.case import Case, Section
from contactfe.case.impact import ROUNDING, damper_along, impact_of, isolation, response_of
from contactfe.case.motion import Motion
from contactfe.errors import InputError, SolveError
from contactfe.hand import cantilever
from contactfe.hand.formula import Dimension, Worked
from contactfe.impact.energy import Energies, check_balance, energies
from contactfe.impact.history import History, Peak, history, peaks, thinned
from contactfe.impact.laws import Curve
from contactfe.impact.motion import Impact
from contactfe.impact.response import Response, integrate
from contactfe.study.crew import Progress

if TYPE_CHECKING:
    from contactfe.assess.bodies import Bodies
    from contactfe.assess.in_series import Way

_CURVES = 6
"""Curves that are tried for one section, each going further."""

_STEPS_TO_A_PEAK, _MOST_STEPS = 200, 100_000
"""Steps of a history: up to its first peak, and as a whole."""

_PEAK = "peak_line_load"
ROOT = "root_bending_stress"
"""Keys of figures that others look for."""

_FURTHER = 1.15
"""Load of the next curve over the force that the impact came to with the last one."""


@dataclass(frozen=True)
class _Own:
    """A section with its own law of the contact, and the curve that the law is of.

    ``by_peak`` says whether it is the largest line load along the post that must lie within the
    range of the model, as where the post bends. Else it is the mean.
    """

    section: Section
    way: Way
    law: Curve
    by_peak: bool

    def counts_of(self, line_load: float) -> float:
        """The line load that must lie within the model's range, of a mean one; both in N/mm."""
        return line_load * self.way.peak_over_mean(line_load) if self.by_peak else line_load


@dataclass(frozen=True)
class _Curve:
    """A solved curve as a law for each tilt, rad; ``whole`` if the model allows all of it."""

    tilts: tuple[float, ...]
    owns: tuple[_Own, ...]
    whole: bool


@dataclass(frozen=True)
class _Reach:
    """What an impact comes to: peaks of contact force (N) and approach (mm)."""

    contact: Peak
    approach: Peak


@dataclass(frozen=True)
class Figure:
    """One figure of an impact, as held; ``key`` is its stable name."""

    key: str
    label: str
    symbol: str
    value: float
    dimension: Dimension | None


@dataclass(frozen=True)
class SectionImpact:
    """The first impact, with the section's own curve where ``section`` is one.

    ``contact``, ``damper``, ``approach`` and ``floor`` are peaks of the force between post and
    plate and of that of all dampers in the direction of the impact (N), of the approach and of the
    displacement of the floor after closure (mm). ``ratio`` is the force that the case states over
    the peak contact force, None where it states a line load alone. ``nearby`` are motions near the
    one stated, none where the case states the velocity at closure.
    """

    section: Section | None
    response: Response
    history: History
    contact: Peak
    damper: Peak
    approach: Peak
    floor: Peak
    at_peak: Energies
    at_end: Energies
    figures: tuple[Figure, ...]
    beside: tuple[Beside, ...]
    ratio: float | None
    nearby: tuple[Nearby, ...] = ()

    @property
    def sensitive(self) -> bool:
        """Whether a tenth more displacement gives much more force: :func:`.sensitive`."""
        return sensitive(self.nearby, self.contact.value)

    @property
    def covered(self) -> bool:
        """Whether the force that the case states is known to cover the peak contact force."""
        return self.ratio is not None and self.ratio >= 1.0 - ROUNDING

    @property
    def balance(self) -> float:
        """Largest error of the energies at the peak and at the end, over the energy at closure."""
        impact = self.response.impact
        return max(abs(self.at_peak.error(impact)), abs(self.at_end.error(impact)))


Reached = TypeVar("Reached", SectionImpact, _Reach)


@dataclass(frozen=True)
class ImpactResult:
    """The impacts of a case: one, or one for each section.

    ``closure`` are the formulas of the velocity at closure, none where it is stated; ``damping``
    those of the dampers' force at it, the last of which is that of all.
    """

    case: Case
    motion: Motion
    closure: tuple[Worked, ...]
    damping: tuple[Worked, ...]
    impacts: tuple[SectionImpact, ...]

    @property
    def satisfied(self) -> bool:
        """Whether the force that the case states covers every impact."""
        return all(one.covered for one in self.impacts)


def impact_force(
    case: Case, processes: int | None = 1, progress: Progress | None = None
) -> ImpactResult:
    """The contact force that the motion of a case gives.

    ``processes`` share the curves of the sections, and ``progress`` is called, as in
    :func:`.each_section`.

    Raises
    ------
    InputError
        if the case states no motion, or a section cannot be modelled at the case's load
    SolveError
        if the impact is not integrated, its energies do not add up to 0.1 %, or it presses a
        section past the range of its model
    """
    motion = case.motion
    if motion is None:
        raise InputError(f"{case.source}: states no [motion]")
    closure, damping = closure_steps(motion), damper_steps(motion)
    if motion.contact_law.law == "section":
        impacts = tuple(_by_sections(case, motion, damping, processes, progress))
    else:
        one = _section_impact(case, motion, damping, None)
        impact = one.response.impact
        near = with_forces(motion, lambda v: _reach(replace(impact, velocity=v)).contact.value)
        impacts = (replace(one, nearby=near),)
    return ImpactResult(case, motion, closure, damping, impacts)


def section_peak_force(case: Case, section: Section, bodies: Bodies) -> float:
    """The peak contact force, N, on the curve of a section, where [contact_law] is law = "section".

    Raises InputError and SolveError as :func:`impact_force` does.
    """
    assert case.motion is not None
    _, found = _stated(case, case.motion, damper_steps(case.motion), section, bodies)
    return _hardest(found).contact.value


def _by_sections(
    case: Case,
    motion: Motion,
    damping: tuple[Worked, ...],
    processes: int | None,
    progress: Progress | None,
) -> list[SectionImpact]:
    from contactfe.assess.each_section import each_section

    ask = partial(_by_curve, motion=motion, damping=damping)
    return each_section(case, ask, processes, progress)


def _by_curve(
    case: Case, section: Section, bodies: Bodies, motion: Motion, damping: tuple[Worked, ...]
) -> SectionImpact:
    """The impact with the section's own curve, which is solved as far as the impact goes.

    The post's bending is in series with it where the case states [cantilever]; of several tilts
    that [alignment] has, the one of the hardest impact. The motions near the one stated are taken
    at the same tilt, and may need a curve that goes further.
    """
    curve, found = _stated(case, motion, damping, section, bodies)
    k = max(range(len(found)), key=lambda number: found[number].contact.value)
    curve = _Curve((curve.tilts[k],), (curve.owns[k],), curve.whole)

    def force_at(velocity: float) -> float:
        nonlocal curve

        def reach(own: _Own) -> _Reach:
            return _reach(replace(impact_of(motion, own.law), velocity=velocity))

        curve, (reached,) = _far_enough(case, section, bodies, curve, reach)
        return reached.contact.value

    return replace(_hardest(found), nearby=with_forces(motion, force_at))


def _stated(
    case: Case, motion: Motion, damping: tuple[Worked, ...], section: Section, bodies: Bodies
) -> tuple[_Curve, list[SectionImpact]]:
    """The impact of the motion stated, for each tilt, and the curve that goes as far."""
    from contactfe.assess.in_series import tilts

    curve = _curve(case, section, bodies, case.line_load, tilts(case, section))
    return _far_enough(
        case, section, bodies, curve, lambda own: _section_impact(case, motion, damping, own)
    )


def _far_enough(
    case: Case, section: Section, bodies: Bodies, curve: _Curve, impact: Callable[[_Own], Reached]
) -> tuple[_Curve, list[Reached]]:
    """An impact for each tilt, on that curve or on one that goes as far as the impact."""
    assert case.contact_length is not None  # the tables say so
    for _ in range(_CURVES):
        found = [impact(own) for own in curve.owns]
        short = [
            (own, one.contact.value / case.contact_length)
            for own, one in zip(curve.owns, found, strict=True)
            if one.approach.value > own.law.end
        ]
        if not short:
            return curve, found
        times = max(line_load for _, line_load in short) / case.line_load
        if not curve.whole:
            raise SolveError(_past_the_model(times))
        load = _FURTHER * max(own.counts_of(line_load) for own, line_load in short)
        try:
            curve = _curve(case, section, bodies, load, curve.tilts)
        except InputError:
            raise SolveError(_past_the_model(times)) from None
    raise SolveError(f"no force–approach curve of {_CURVES} went as far as the impact")


def _curve(
    case: Case, section: Section, bodies: Bodies, load: float, tilts: tuple[float, ...]
) -> _Curve:
    """The curve of a section about a line load, N/mm. Raises InputError if beyond the model."""
    from contactfe.assess.follow import follow_load, times_allowed
    from contactfe.assess.in_series import whole_way

    followed = follow_load(replace(case, line_load=load), section, bodies)
    allowed = times_allowed(followed)
    whole = allowed >= followed.most
    most = float(followed.curve.line_load[-1]) if whole else allowed * load
    owns = [
        _own(case, section, whole_way(case, section, followed.curve, tilt), most) for tilt in tilts
    ]
    return _Curve(tilts, tuple(owns), whole)


def _own(case: Case, section: Section, way: Way, most: float) -> _Own:
    """The law of a curve up to the largest line load within the model's range, ``most`` N/mm."""
    assert case.contact_length is not None  # the tables say so
    curve, by_peak = way.curve, bool(way.bending.any())
    reached = way.peak if by_peak else curve.line_load
    end = float(curve.approach_at(np.interp(most, reached, curve.line_load)))
    length = case.contact_length
    law = Curve(
        lambda approach: length * curve.line_load_at(approach),
        lambda approach: length * curve.one_line_load(approach),
        end,
        length * float(curve.tangent_at(end)),
    )
    return _Own(section, way, law, by_peak)


def _hardest(found: list[SectionImpact]) -> SectionImpact:
    """That of the largest contact force, with the largest line load of any."""
    worst = max(found, key=lambda one: one.contact.value)
    others = [{figure.key: figure for figure in one.figures} for one in found]
    if _PEAK not in others[0]:
        return worst
    peak = max((figures[_PEAK] for figures in others), key=lambda figure: figure.value)
    figures = tuple(peak if figure.key == _PEAK else figure for figure in worst.figures)
    return replace(worst, figures=figures)


def _past_the_model(times: float) -> str:
    return (
        f"the impact comes to {times:.3g} times the force of [load] or so, where the patch or the"
        " displacement is no longer small, as the model of this section needs; a softer bumper,"
        " a longer contact or another section is needed"
    )


def _section_impact(
    case: Case,
    motion: Motion,
    damping: tuple[Worked, ...],
    own: _Own | None,
) -> SectionImpact:
    found = response_of(motion) if own is None else integrate(impact_of(motion, own.law))
    contact, damper, approach, floor = peaks(
        found, ("contact_force", "damper_force", "approach", "floor")
    )
    at_peak, at_end = energies(found, contact.time), energies(found, found.over)
    check_balance(found, at_peak, at_end)
    record = _record(found, (contact.time, damper.time, approach.time, floor.time))
    stated = None if case.contact_length is None else case.line_load * case.contact_length
    ratio = None if stated is None else stated / contact.value
    reached = Found(
        force=contact.value,
        approach=approach.value,
        duration=found.over,
        returned=_returned(motion, found, record),
        slowed=1.0 - _floor_velocity(found, contact.time) / found.impact.velocity,
    )
    return SectionImpact(
        section=None if own is None else own.section, response=found, history=record,
        contact=contact, damper=damper, approach=approach, floor=floor,
        at_peak=at_peak, at_end=at_end,
        figures=tuple(
            _figures(case, motion, found, own, (contact, damper, approach, floor), reached, ratio)
        ),
        beside=forms(motion, reached, damping), ratio=ratio,
    )  # fmt: skip


def _reach(impact: Impact) -> _Reach:
    """An impact by its peaks alone."""
    found = integrate(impact)
    contact, approach = peaks(found, ("contact_force", "approach"))
    check_balance(found, energies(found, contact.time), energies(found, found.over))
    return _Reach(contact, approach)


def _record(found: Response, peaks_at: tuple[float, ...]) -> History:
    """The history with its peaks, without the many steps in which a damper is set going."""
    finest = found.duration
    finest = min([time for time in peaks_at if time > 0.0], default=finest) / _STEPS_TO_A_PEAK
    return thinned(
        history(found, also=peaks_at), max(finest, found.duration / _MOST_STEPS), peaks_at
    )


def _returned(motion: Motion, found: Response, record: History) -> float | None:
    """Restitution that the impact gives back, of a fixed stop that the floor left again."""
    if motion.held or found.end != "parted":
        return None
    return -float(record.floor_velocity[-1]) / found.impact.velocity


def _floor_velocity(found: Response, time: float) -> float:
    phase = next(phase for phase in found.phases if time <= phase.times[-1])
    return float(phase.at(np.array([time]))[1, 0])


def _figures(
    case: Case,
    motion: Motion,
    found: Response,
    own: _Own | None,
    peaks: tuple[Peak, Peak, Peak, Peak],
    reached: Found,
    ratio: float | None,
) -> list[Figure]:
    impact = found.impact
    contact, damper, approach, floor = peaks
    figures = [
        Figure("velocity_at_closure", "velocity of the floor at closure", "v", impact.velocity,
               "velocity"),
        Figure("energy_at_closure", "kinetic energy of the floor at closure", "M·v²/2",
               impact.energy, "energy"),
    ]  # fmt: skip
    if impact.isolation > 0.0:
        figures.append(
            Figure("isolation_stiffness", "stiffness of the isolation, from the period", "kiso",
                   impact.isolation, "stiffness")
        )  # fmt: skip
    force = sum(damper_along(one).force(impact.velocity) for one in motion.dampers)
    if motion.dampers:
        figures += [
            Figure("damper_force_at_closure",
                   "force of the dampers in the direction of the impact at v", "F0", force,
                   "force"),
        ]  # fmt: skip
    figures += [
        Figure("peak_contact_force", "peak contact force: force on the member", "F",
               contact.value, "force"),
        Figure("time_of_peak", "time of it after closure", "tF", contact.time, "time"),
    ]  # fmt: skip
    if case.contact_length is not None:
        figures.append(
            Figure("mean_line_load", "mean line load, over the contact length", "q",
                   contact.value / case.contact_length, "line load")
        )  # fmt: skip
    if own is not None and case.alignment is not None:
        figures.append(_peak_line_load(case, own, contact.value))
    if motion.dampers:
        figures += [
            Figure("overshoot", "dynamic overshoot: peak contact force over F0", "F/F0",
                   contact.value / force, None),
            Figure("peak_damper_force", "peak force of the dampers", "Fd", damper.value, "force"),
            Figure("time_of_peak_damper_force", "time of it after closure", "td", damper.time,
                   "time"),
        ]  # fmt: skip
    figures += [
        Figure("peak_approach", "peak approach of floor and stop", "δ", approach.value, "length"),
        *_of_the_post(case, own, contact.value, approach.value),
        Figure("peak_travel", f"greatest displacement of the floor, {_driven(motion)}", "x",
               floor.value, "length"),
        Figure("duration", "duration of the first impact: last contact", "tc", found.over, "time"),
    ]  # fmt: skip
    if reached.returned is not None:
        figures.append(
            Figure("restitution", "restitution that came of it", "e", reached.returned, None)
        )
    if ratio is not None:
        figures.append(Figure("stated_over_demand", "force of [load] over F", "", ratio, None))
    return figures


def _driven(motion: Motion) -> str:
    """What moves the floor after closure: never the ground."""
    back = "isolation pulling back" if isolation(motion) > 0.0 else "moving free"
    return f"{back}, no ground motion"


def _peak_line_load(case: Case, own: _Own, force: float) -> Figure:
    """Of a case that states [alignment]."""
    assert case.contact_length is not None
    mean = force / case.contact_length
    label = "peak line load along the post"
    return Figure(_PEAK, label, "qmax", mean * own.way.peak_over_mean(mean), "line load")


def _of_the_post(case: Case, own: _Own | None, force: float, approach: float) -> Iterator[Figure]:
    """Its deflection and the stress at its root, where its bending is in a section's own curve."""
    if own is None or not own.way.bending.any():
        return
    label = "deflection of the post then, in the middle of the contact"
    yield Figure("post_deflection", label, "w", own.way.bending_at(approach), "length")
    assert case.cantilever is not None  # of a post that bends
    length, section = case.cantilever.length, own.section
    bore = 2.0 * section.bore_radius
    stress = cantilever.bending_stress.plain(force, length, section.outside_diameter, bore)
    label = "bending stress at the root under F in the middle, elastic"
    yield Figure(ROOT, label, "σb", stress, "stress")
