"""What the job needs and no check of a run covers: listed beside every verdict."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from contactfe.assess.checks import (
    Bounds,
    Check,
    LimitState,
    OpenItem,
    OpenKey,
    Why,
    as_made,
)
from contactfe.case import Case, Section
from contactfe.case.motion import Motion
from contactfe.errors import SolveError

ALIKE = 0.05
"""What a stated contact law may take more of energy than the contact solved, relative: half as much
of force."""

_WITHOUT_GROUND = ("damper stroke", "floor displacement")
"""Limit states whose checks know no ground motion after closure."""

_ROOT: tuple[LimitState, ...] = ("root weld", "root socket")
"""Limit states of what may hold the root."""


def open_items(
    case: Case,
    sections: Sequence[Section],
    checks: Sequence[Check],
    reliefs: Sequence[Bounds] = (),
    softness: Mapping[str, float] | None = None,
    by_hand: bool = False,
) -> tuple[OpenItem, ...]:
    """The open items of a run over these sections.

    ``checks`` is its whole list; ``reliefs`` are the sections of which what a finite contact
    leaves of the relief decides; ``softness`` how many times the energy of the contact solved the
    stated law takes, by section, None where none was solved to its approach; ``by_hand`` where
    nothing was solved.
    """
    every = [section.name for section in sections]
    covered = {(check.limit_state, check.section) for check in checks if check.applies}
    answered = any(check.limit_state == "load" for check in checks)
    moved = any(check.limit_state in _WITHOUT_GROUND for check in checks)
    if case.motion is not None and case.motion.contact_law.law == "section":
        moved = case.motion.limited  # which contactfe impact alone looks at
    rise = _rise(case.motion) if answered and case.motion is not None else None
    unshared = case.distribution is None and (case.alignment is None or by_hand)
    assumed = case.alignment is not None and case.alignment.assumed
    drawn: Why | None = next((s.shape for s in sections if s.geometry.along is None), None)
    solved = {check.section for check in checks if as_made(check)}
    nominal = [s for s in sections if s.geometry.hollow and s.name not in solved]
    root = [] if case.cantilever is None else every

    def judged(section: Section) -> bool:
        """Whether every strength of its infill is stated, and all of its stress held to them.

        What it takes of the bending of the post along its axis is not known.
        """
        known = section.infill is not None and not section.infill.unknown
        return known and case.cantilever is None and ("infill", section.name) in covered

    found: tuple[tuple[OpenKey, list[str], Why | None], ...] = (
        ("motion", every if not answered or rise is not None else [], rise),
        ("law", *_by_stated_law(case, every, softness)),
        ("ground", every if moved else [], None),
        ("sharing", every if unshared else [], None),
        ("tilt", every if assumed else [], None),
        ("post", [name for name in every if ("post section", name) not in covered], drawn),
        ("root", [name for name in root if not any((at, name) in covered for at in _ROOT)], None),
        ("relief", [one.section for one in reliefs], reliefs[0].why if reliefs else None),
        ("infill", [s.name for s in sections if s.infill is not None and not judged(s)], None),
        ("tolerance", [section.name for section in nominal], _unmade(case, nominal)),
    )
    return tuple(
        OpenItem(
            key, case, () if len(names) == len(every) else tuple(names), why,
            tuple(reliefs) if key == "relief" else (),
        )
        for key, names, why in found
        if names
    )  # fmt: skip


def _by_stated_law(
    case: Case, sections: list[str], softness: Mapping[str, float] | None
) -> tuple[list[str], Why | None]:
    """The sections, where the force goes by a stated contact law, and how soft that is at least.

    What a contact's own law comes to is known only where the impact is integrated on it.
    """
    if case.motion is None or case.motion.contact_law.law == "section" or not case.contact_length:
        return [], None
    most = max((softness or {}).values(), default=0.0)
    return sections, most if most > 1.0 + ALIKE else None


def _unmade(case: Case, sections: Sequence[Section]) -> Why | None:
    """Why tubes are taken with their nominal walls; None where no limits of them are known."""
    if any(case.limits(section) is not None for section in sections):
        return "limits not solved"
    return next((section.shape for section in sections if section.mesh is not None), None)


def _rise(motion: Motion) -> Why | None:
    """By what share a tenth more of displacement, of any level, raises the greatest force of all;
    None where that is not much.
    """
    from contactfe.assess.nearby import nearby, sensitive  # which load scipy
    from contactfe.case.impact import outcome_of, peak_force

    at = [motion.at(level) for level in motion.all_levels]
    near = [(one, more) for one in at for more in nearby(one, pseudo=False)]
    try:
        force = peak_force(motion)
        found = [
            replace(
                more,
                peak_contact_force=outcome_of(
                    replace(one, velocity=more.velocity_at_closure)
                ).peak_contact_force.value,
            )
            for one, more in near
            if more.key == "displacement_plus_10_percent" and more.velocity_at_closure > 0.0
        ]
    except SolveError:
        return "force not found"
    raised = max(
        (one.peak_contact_force for one in found if one.peak_contact_force is not None), default=0.0
    )
    return raised / force - 1.0 if sensitive(tuple(found), force) else None
