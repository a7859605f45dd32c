"""Where checks come from: what was solved, what was worked out by hand, and the load."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from contactfe.assess.by_hand.record import Clauses, SectionByHand, Step, Topic
from contactfe.assess.checks import Check, LimitState
from contactfe.assess.results import SectionResult
from contactfe.assess.value import Value, Values
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.hand.formula import Limit

_BY_TOPIC: dict[Topic, tuple[LimitState, str]] = {
    "contact": ("contact stress", "post"),
    "second contact": ("contact stress", "post"),
    "section": ("ring bending", "post"),
    "plate": ("plate bending", "plate"),
    "second plate": ("plate bending", "second plate"),
    "post": ("post section", "post"),
}
"""Limit state and body of a step by what it is about."""

_BY_PART: dict[str, LimitState] = {
    "post section": "post section",
    "root weld": "root weld",
    "root socket": "root socket",
    "plate": "plate bending",
    "second plate": "plate bending",
}
"""Limit state of a clause by the part it is put to; that of the others is the contact."""

COLLAPSE = "ring_collapse_line_load"
"""Key of the step that is itself a resistance, to the line load."""

_OF_POST = "von_mises_post"

_IS_THE_CHECK = ("σ/Y", "q/P0")
"""Limits of a formula that a check of its stress or collapse finds itself."""


def solved_checks(case: Case, result: SectionResult) -> tuple[Check, ...]:
    """Every check of a section that was solved: stresses, the post along its axis, clauses."""
    stresses = [
        von_mises_check(
            case,
            result.section,
            name,
            body.peak_von_mises,
            body.material.yield_strength,
        )
        for name, body in result.bodies
    ]
    filled = infill_checks(result.section, result.values)
    return beside_solved((*stresses, *filled), by_hand_checks(case, result.by_hand))


def beside_solved(stresses: Iterable[Check], hand: Iterable[Check]) -> tuple[Check, ...]:
    """The list of a section: its solved stresses, and what of the checks by hand they leave."""
    return collapse_covered((*stresses, *(check for check in hand if check.kind != "hand")))


def collapse_covered(checks: Sequence[Check]) -> tuple[Check, ...]:
    """The checks of a section; collapse beyond its formula does not apply where the post passes.

    A field of stress in equilibrium with the load and nowhere above yield shows that the post does
    not collapse under it: the static theorem of limit analysis, with the margin on both sides (any
    text on plasticity). The solved von Mises check of the post is such a field where it passes. A
    ratio above 1 still counts, without a verdict.
    """
    field = next((c for c in checks if c.key == _OF_POST and c.passes), None)
    if field is None:
        return tuple(checks)
    return tuple(
        replace(c, applies=False, covered_by=field.key)
        if c.limit_state == "collapse" and c.exceeded and c.most <= 1.0
        else c
        for c in checks
    )


def by_hand_checks(case: Case, found: SectionByHand, contact: int = 0) -> tuple[Check, ...]:
    """Every stress and clause by hand of a section, at the contact of that number.

    A stress beyond the range of its formula has no verdict; of the formulas of a ring, which all
    give the same stress, those do not apply if another is within its range. A clause beyond its
    scope does not apply; where its ratio is above 1 even so, it still counts, without a verdict.
    """
    steps = list(_of_steps(case, found))
    known = any(c.limit_state == "ring bending" and not c.exceeded for c in steps)
    steps = [
        replace(c, applies=not c.exceeded) if known and c.limit_state == "ring bending" else c
        for c in steps
    ]
    checks = (*steps, *map(_of_clause, found.clauses))
    return tuple(replace(c, section=found.section.name, contact=contact) for c in checks)


def load_check(case: Case) -> Check | None:
    """The load of the case against the peak contact force of its motion: that of its levels which
    is greatest.

    None where that is not known: see :func:`contactfe.case.impact.force_of_motion`.
    """
    if case.motion is None:
        return None
    from contactfe.case.impact import force_of_motion  # which loads scipy

    try:
        force = force_of_motion(case)
    except SolveError as error:
        return load_against(case, None, f"the motion was not answered: {error}")
    return None if force is None else load_against(case, force)


def load_against(case: Case, force: float | None, missing: str = "", section: str = "") -> Check:
    """The load of the case against a peak contact force, N; of a section where it is that of one.

    A load that is the peak force itself may fall short of it by rounding.
    """
    from contactfe.case.impact import ROUNDING

    stated = None
    if case.contact_length is None:
        missing = "[load] states a line load alone: contact_length is not stated"
    elif force is not None:
        stated = case.line_load * case.contact_length
        force = min(force, stated) if stated >= force * (1.0 - ROUNDING) else force
    return Check(
        "load", "load of the case against the peak contact force of the motion", "load", "load",
        section, "stop", force, stated, "force", "two masses and the stop, integrated here",
        missing=missing,
    )  # fmt: skip


def von_mises_check(
    case: Case, section: Section, body: str, peak: Value, yield_strength: float, contact: int = 0
) -> Check:
    """A solved peak von Mises stress, MPa, against the yield strength over the margin asked for."""
    allowed = yield_strength / case.yield_margin
    return Check(
        f"von_mises_{body.replace(' ', '_')}", f"von Mises stress of the {body}", "stress",
        "contact stress", section.name, body, float(peak.value), float(allowed), "stress",
        "solved; yield strength over the margin asked for",
        ratio_uncertainty=float(peak.uncertainty / allowed), contact=contact,
    )  # fmt: skip


def infill_checks(section: Section, values: Values, contact: int = 0) -> tuple[Check, ...]:
    """Solved stresses of an infill and its bond against the design strengths that are stated.

    The largest principal stresses are held to strengths of one direction, and tension across the
    bond and shear along it each to that of the bond: what they do at one place is not looked at.
    """
    if section.infill is None:
        return ()
    of = section.infill
    held = (
        ("infill_tension", "tension of the infill", of.tensile_strength, 1.0),
        ("infill_compression", "compression of the infill", of.compressive_strength, -1.0),
        ("bond_tension", "tension across the bond of the infill", of.bond_strength, 1.0),
        ("bond_shear", "shear along the bond of the infill", of.bond_strength, 1.0),
    )
    return tuple(
        Check(
            key, label, "stress", "infill", section.name, "infill",
            max(float(sign * values[key].value), 0.0), strength, "stress",
            "solved; design strength as stated",
            ratio_uncertainty=float(values[key].uncertainty / strength), contact=contact,
        )
        for key, label, strength, sign in held
        if strength is not None
    )  # fmt: skip


def _of_steps(case: Case, found: SectionByHand) -> Iterator[Check]:
    for step in found.steps:
        state, body = _BY_TOPIC[step.topic]
        if step.key == COLLAPSE:
            yield replace(
                _of_step(step, "collapse", body),
                label="plastic collapse of the crushed ring",
                kind="post",
                demand=case.line_loads[0],
                resistance=step.worked.value / case.yield_margin,
                reserve=None,
            )
        elif step.against is not None:
            if "_plate" in step.key:
                body = "second plate" if step.key.endswith("_second") else "plate"
            yield _of_step(step, state, body)


def _of_step(step: Step, state: LimitState, body: str) -> Check:
    use = step.utilisation
    in_proportion = step.topic == "post" and use is not None and use > 0.0
    return Check(
        step.key, f"{step.label}, by hand", "post" if step.topic == "post" else "hand", state, "",
        body, abs(step.worked.value), step.against, step.worked.dimension, step.worked.source,
        exceeded=tuple(limit for limit in step.worked.exceeded if not _is_the_check(limit)),
        reserve=1.0 / use if in_proportion and use is not None else None,
    )  # fmt: skip


def _of_clause(clauses: Clauses) -> Check:
    check = clauses.check
    return Check(
        clauses.key, f"{check.clause.name}: {clauses.part}", "clauses",
        _BY_PART.get(clauses.part, "contact stress"), "", clauses.part, check.demand.value,
        check.resistance.value, check.demand.dimension, f"{check.clause.name}, {check.clause.text}",
        exceeded=check.exceeded, applies=check.within_scope or check.ratio > 1.0,
        reserve=check.load_factor,
    )  # fmt: skip


def _is_the_check(limit: Limit) -> bool:
    return limit.what.startswith(_IS_THE_CHECK)
