"""From the motion that a case states to the contact force of the first impact, with closed forms.

With a law of the contact that the case states there is one impact; with the section's own curve
there is one for each section.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from contactfe.assess.impact_figures import Figure, Own, figures
from contactfe.assess.impact_forms import Beside, closure_steps, damper_steps, forms
from contactfe.assess.nearby import Nearby, sensitive, with_forces
from contactfe.case import Case, Section
from contactfe.case.impact import ROUNDING, impact_of, response_of
from contactfe.case.motion import Motion
from contactfe.errors import InputError
from contactfe.hand.formula import Worked
from contactfe.impact.history import History, history, thinned
from contactfe.impact.outcome import Outcome, outcome
from contactfe.impact.response import integrate
from contactfe.study.crew import Progress

if TYPE_CHECKING:
    from contactfe.assess.bodies import Bodies
    from contactfe.assess.in_series import Solved

_STEPS_TO_A_PEAK, _MOST_STEPS = 200, 100_000
"""Steps of a history: up to its first peak, and as a whole."""


@dataclass(frozen=True)
class SectionImpact(Outcome):
    """The first impact, with the section's own curve where ``section`` is one.

    ``ratio`` is the force that the case states over the peak contact force, None where it states a
    line load alone. ``nearby`` are motions near the one stated, none where the case states the
    velocity at closure.
    """

    section: Section | None
    history: History
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
        found = outcome(response_of(motion))
        impact = found.response.impact
        near = with_forces(
            motion, lambda v: outcome(integrate(replace(impact, velocity=v))).contact.value
        )
        impacts = (_assessed(case, motion, damping, found, near),)
    return ImpactResult(case, motion, closure, damping, impacts)


def section_peak_force(case: Case, section: Section, bodies: Bodies) -> float:
    """The peak contact force, N, on the curve of a section, where [contact_law] is law = "section".

    Raises InputError and SolveError as :func:`impact_force` does.
    """
    assert case.motion is not None
    _, found = _stated(case, case.motion, section, bodies)
    return max(one.contact.value for one in found)


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
    from contactfe.assess.in_series import far_enough

    solved, found = _stated(case, motion, section, bodies)
    k = max(range(len(found)), key=lambda number: found[number].contact.value)
    at_tilt = replace(solved, series=(solved.series[k],))

    def force_at(velocity: float) -> float:
        nonlocal at_tilt
        at_tilt, (one,) = far_enough(
            case, section, bodies, at_tilt,
            lambda law: replace(impact_of(motion, law), velocity=velocity),
        )  # fmt: skip
        return one.contact.value

    assert case.contact_length is not None  # the tables say so
    loads = [one.contact.value / case.contact_length for one in found]
    peak = max(one.peak_at(load) for one, load in zip(solved.series, loads, strict=True))
    own = Own(section, solved.series[k], peak)
    return _assessed(case, motion, damping, found[k], with_forces(motion, force_at), own)


def _stated(
    case: Case, motion: Motion, section: Section, bodies: Bodies
) -> tuple[Solved, list[Outcome]]:
    """The impact of the motion stated, at each tilt, and the curve that goes as far."""
    from contactfe.assess.in_series import far_enough, solved_about, tilts

    solved = solved_about(case, section, bodies, case.line_load, tilts(case, section))
    return far_enough(case, section, bodies, solved, lambda law: impact_of(motion, law))


def _assessed(
    case: Case,
    motion: Motion,
    damping: tuple[Worked, ...],
    found: Outcome,
    near: tuple[Nearby, ...],
    own: Own | None = None,
) -> SectionImpact:
    """An impact with its figures and what is put beside them."""
    length = case.contact_length
    return SectionImpact(
        **vars(found),
        section=None if own is None else own.section,
        history=_record(found),
        figures=tuple(figures(case, motion, found, own)),
        beside=forms(motion, found, damping),
        ratio=None if length is None else case.line_load * length / found.contact.value,
        nearby=near,
    )


def _record(found: Outcome) -> History:
    """The history with its peaks, without the many steps in which a damper is set going."""
    response, peaks = found.response, (found.contact, found.damper, found.approach, found.floor)
    at = tuple(peak.time for peak in peaks)
    finest = min([time for time in at if time > 0.0], default=response.duration) / _STEPS_TO_A_PEAK
    return thinned(history(response, also=at), max(finest, response.duration / _MOST_STEPS), at)
