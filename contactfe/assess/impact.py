"""From the motion that a case states to the contact force of the first impact, with closed forms.

With a law of the contact that the case states there is one impact at each level of hazard; with the
section's own curve there is one for each section as well. Shown in full is that of the level which
governs, by the greatest peak contact force.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from contactfe.assess.by_hand.root import RootResultants, root_resultants
from contactfe.assess.check_list import load_against
from contactfe.assess.checks import Check, verdict_of
from contactfe.assess.hazard import LevelImpact, engagement_checks, impact_checks
from contactfe.assess.impact_figures import Figure, Own, figures
from contactfe.assess.impact_forms import Beside, closure_steps, damper_steps, forms
from contactfe.assess.nearby import Nearby, sensitive, with_forces
from contactfe.case import Case, Section
from contactfe.case.impact import LevelForce, impact_of, outcome_of
from contactfe.case.motion import Motion
from contactfe.errors import InputError, SolveError
from contactfe.hand.formula import Worked
from contactfe.impact.history import History, history, thinned
from contactfe.impact.outcome import Outcome, outcome
from contactfe.impact.response import integrate
from contactfe.shown import Shown
from contactfe.study.crew import Progress

if TYPE_CHECKING:
    from contactfe.assess.bodies import Bodies
    from contactfe.assess.in_series import Solved

_STEPS_TO_A_PEAK, _MOST_STEPS = 200, 100_000
"""Steps of a history: up to its first peak, and as a whole."""


@dataclass(frozen=True)
class SectionImpact(Outcome):
    """The first impact at the level that governs, on the section's own curve where there is one.

    ``motion`` is that of the level, and ``levels`` are all of them, the one that governs at the
    place ``governs``. ``stated_over_demand`` is the force that the case states over the peak
    contact force, None where it states a line load alone. ``nearby`` are motions near that one,
    none where the case states the velocity at closure. ``closure`` are the formulas of the velocity
    at closure, none where it is stated; ``damping`` those of the dampers' force at it, the last of
    which is that of all.
    """

    section: Section | None
    motion: Motion
    levels: tuple[LevelImpact, ...]
    governs: int
    history: History
    figures: tuple[Figure, ...]
    closure: tuple[Worked, ...]
    damping: tuple[Worked, ...]
    beside: tuple[Beside, ...]
    stated_over_demand: float | None
    checks: tuple[Check, ...]

    @property
    def nearby(self) -> tuple[Nearby, ...]:
        """Motions near that of the level that governs, with their forces."""
        return self.levels[self.governs].nearby

    @property
    def level(self) -> str:
        """Name of the level that governs; empty where the case states none."""
        return self.levels[self.governs].level.name

    @property
    def sensitive(self) -> bool:
        """Whether a tenth more displacement gives much more force: :func:`.sensitive`."""
        return sensitive(self.nearby, self.peak_contact_force.value)

    @property
    def covered(self) -> bool:
        """Whether the force that the case states is known to cover the peak contact force."""
        return any(check.limit_state == "load" and check.passes for check in self.checks)


@dataclass(frozen=True, repr=False)
class ImpactResult(Shown):
    """The impacts of a case: one, or one for each section.

    ``engagement`` are the checks whether the stop is struck, at the levels that say so.
    """

    case: Case
    motion: Motion
    engagement: tuple[Check, ...]
    blows: tuple[SectionImpact, ...]

    @property
    def closure(self) -> tuple[Worked, ...]:
        """The formulas of the velocities at closure, each once."""
        return _once(one.closure for one in self.blows)

    @property
    def damper_force_at_closure(self) -> tuple[Worked, ...]:
        """Those of the dampers' force at closure."""
        return _once(one.damping for one in self.blows)

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every check: engagement, and of each impact the load and what the stop does."""
        return (*self.engagement, *(check for one in self.blows for check in one.checks))

    @property
    def satisfied(self) -> bool:
        """Whether every check passes, that of the load among them."""
        return verdict_of(self.checks) == "passes"


def _once(of: Iterable[tuple[Worked, ...]]) -> tuple[Worked, ...]:
    found: list[Worked] = []
    for worked in of:
        found += [one for one in worked if one not in found]
    return tuple(found)


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
        if an impact is not integrated, its energies do not add up to 0.1 %, or it presses a
        section past the range of its model
    """
    motion = case.motion
    if motion is None:
        raise InputError(
            f"{case.source}: states no [motion]; state [motion] (gap, mass, displacement, period)"
            " and [contact_law]: contactfe new FILE.toml writes both as comments, and"
            " contactfe/docs/questions.md shows them"
        )
    if motion.contact_law.law == "section":
        from contactfe.assess.each_section import each_section

        impacts = tuple(each_section(case, _by_curve, processes, progress))
    else:
        impacts = (_by_law(case, motion),)
    return ImpactResult(case, motion, tuple(engagement_checks(motion)), impacts)


def roots_by_level(
    result: ImpactResult, impact: SectionImpact
) -> tuple[tuple[str, str, RootResultants], ...]:
    """Level, section and what its post hands on at the root, where the gap closes.

    Of the section whose curve the impact is on, or of all where the law is stated; none without a
    [cantilever].
    """
    case = result.case
    if case.cantilever is None:
        return ()
    sections = case.sections if impact.section is None else (impact.section,)
    return tuple(
        (one.level.name, section.name, root_resultants(case, section, one.peak_contact_force))
        for one in impact.levels
        if one.found is not None
        for section in sections
    )


def section_forces_by_level(case: Case, section: Section, bodies: Bodies) -> tuple[LevelForce, ...]:
    """The peak contact force at each level, where [contact_law] is law = "section".

    As :func:`contactfe.case.impact.forces_by_level` has it of a law that the case states. Raises
    InputError and SolveError as :func:`impact_force` does.
    """
    assert case.motion is not None
    _, found = _on_curve(case, case.motion, section, bodies)
    return tuple(
        LevelForce(level, case.motion.at(level), _hardest(of))
        for level, of in zip(case.motion.all_levels, found, strict=True)
    )


def section_peak_force(case: Case, section: Section, bodies: Bodies) -> float:
    """The greatest of them, N."""
    return max(at.force for at in section_forces_by_level(case, section, bodies))


def _by_law(case: Case, motion: Motion) -> SectionImpact:
    """The impact on a law that the case states."""
    levels = []
    for level in motion.all_levels:
        at = motion.at(level)
        with _named(level.name):
            levels.append(LevelImpact(level, at, outcome_of(at) if at.closes else None))
    governs = max(range(len(levels)), key=lambda k: levels[k].peak_contact_force)

    def near(one: LevelImpact) -> LevelImpact:
        def force_at(velocity: float) -> float:
            return outcome(
                integrate(impact_of(one.motion, velocity=velocity))
            ).peak_contact_force.value

        pseudo = one is levels[governs]
        return replace(one, nearby=with_forces(one.motion, force_at, pseudo))

    return _assessed(case, tuple(map(near, levels)), governs)


def _by_curve(case: Case, section: Section, bodies: Bodies) -> SectionImpact:
    """The impact with the section's own curve, which is solved as far as the impact goes.

    The post's bending is in series with it where the case states [cantilever]; of several tilts
    that [alignment] has, the one of the hardest impact. The motions near the one stated are taken
    at the same tilt, and may need a curve that goes further.
    """
    from contactfe.assess.in_series import far_enough

    motion = case.motion
    assert motion is not None  # the tables say so, and of the length
    assert case.contact_length is not None
    solved, found = _on_curve(case, motion, section, bodies)
    governs = max(range(len(found)), key=lambda k: _hardest(found[k]))
    k = _at_hardest(found[governs])
    loads = [one.peak_contact_force.value / case.contact_length for one in found[governs]]
    peak = max(one.peak_at(load) for one, load in zip(solved.series, loads, strict=True))
    own = Own(section, solved.series[k], peak)
    at_tilt = replace(solved, series=(solved.series[k],))

    def forces_of(at: Motion) -> Callable[[float], float]:
        def force_at(velocity: float) -> float:
            nonlocal at_tilt
            at_tilt, (one,) = far_enough(
                case, section, bodies, at_tilt,
                lambda law: impact_of(at, law, velocity),
            )  # fmt: skip
            return one.peak_contact_force.value

        return force_at

    levels = []
    for number, level in enumerate(motion.all_levels):
        at, of = motion.at(level), found[number]
        hardest = of[_at_hardest(of)] if of else None
        near = with_forces(at, forces_of(at), number == governs)
        levels.append(LevelImpact(level, at, hardest, near, tuple(of)))
    return _assessed(case, tuple(levels), governs, own)


def _on_curve(
    case: Case, motion: Motion, section: Section, bodies: Bodies
) -> tuple[Solved, list[list[Outcome]]]:
    """Of each level the impact at each tilt, none where the gap stays open, and a curve that goes
    as far as they do.
    """
    from contactfe.assess.in_series import far_enough, solved_about, tilts

    solved = solved_about(case, section, bodies, case.line_load, tilts(case, section))
    found: list[list[Outcome]] = []
    for level in motion.all_levels:
        at, outcomes = motion.at(level), list[Outcome]()
        if at.closes:
            with _named(level.name):
                solved, outcomes = far_enough(case, section, bodies, solved, partial(impact_of, at))
        found.append(outcomes)
    return solved, found


@contextmanager
def _named(level: str) -> Iterator[None]:
    """A SolveError within names the level, where it has a name."""
    try:
        yield
    except SolveError as error:
        if not level:
            raise
        raise SolveError(f"level “{level}”: {error}") from error


def _hardest(found: Sequence[Outcome]) -> float:
    """The greatest peak contact force at any tilt, N; 0 where the gap stays open."""
    return max((one.peak_contact_force.value for one in found), default=0.0)


def _at_hardest(found: Sequence[Outcome]) -> int:
    return max(range(len(found)), key=lambda number: found[number].peak_contact_force.value)


def _assessed(
    case: Case, levels: tuple[LevelImpact, ...], governs: int, own: Own | None = None
) -> SectionImpact:
    """The impact that governs with its figures, what is put beside them, and the checks."""
    length, one = case.contact_length, levels[governs]
    motion, found = one.motion, one.found
    assert found is not None  # the tables say that one level at least is an impact
    section, damping = None if own is None else own.section, damper_steps(motion)
    name = "" if section is None else section.name
    return SectionImpact(
        **vars(found),
        section=section,
        motion=motion,
        levels=levels,
        governs=governs,
        history=_record(found),
        figures=tuple(figures(case, one, found, own)),
        closure=closure_steps(motion),
        damping=damping,
        beside=forms(motion, found, damping),
        stated_over_demand=None
        if length is None
        else case.line_load * length / found.peak_contact_force.value,
        checks=(
            load_against(case, found.peak_contact_force.value, section=name),
            *impact_checks(levels, name),
        ),
    )


def _record(found: Outcome) -> History:
    """The history with its peaks, without the many steps in which a damper is set going."""
    response, peaks = (
        found.response,
        (found.peak_contact_force, found.peak_damper_force, found.peak_approach, found.peak_travel),
    )
    at = tuple(peak.time for peak in peaks)
    finest = min([time for time in at if time > 0.0], default=response.duration) / _STEPS_TO_A_PEAK
    return thinned(history(response, also=at), max(finest, response.duration / _MOST_STEPS), at)
