"""What the job needs and no check of a run covers: listed beside every verdict."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from contactfe.assess.checks import Bounds, Check, OpenItem
from contactfe.case import Case, Section
from contactfe.case.alignment import why_even
from contactfe.case.motion import Motion
from contactfe.errors import SolveError

Found = tuple[str, str, str, Sequence[str]]
"""Key, label, why, and the names of the sections that it concerns."""


def open_items(
    case: Case,
    sections: Sequence[Section],
    checks: Sequence[Check],
    reliefs: Sequence[Bounds] = (),
    by_hand: bool = False,
) -> tuple[OpenItem, ...]:
    """The open items of a run over these sections.

    ``checks`` is its whole list; ``reliefs`` are the sections of which what a finite contact
    leaves of the relief decides; ``by_hand`` where nothing was solved.
    """
    accepted = dict(case.accepted)
    every = len(sections)
    return tuple(
        OpenItem(
            key,
            label,
            why,
            () if len(names) == every else tuple(names),
            accepted.get(key, ""),
            tuple(reliefs) if key == "relief" else (),
        )
        for key, label, why, names in _found(case, sections, checks, reliefs, by_hand)
        if names
    )


def _found(
    case: Case,
    sections: Sequence[Section],
    checks: Sequence[Check],
    reliefs: Sequence[Bounds],
    by_hand: bool,
) -> Iterator[Found]:
    def of(which: Callable[[Section], bool]) -> list[str]:
        return [section.name for section in sections if which(section)]

    every = of(lambda _: True)
    if not any(check.limit_state == "load" for check in checks):
        yield "motion", "load against the motion", _no_motion(case), every
    elif case.motion is not None and (why := _sensitive(case.motion)):
        yield "motion", "load against the motion", why, every
    if case.distribution is None and (case.alignment is None or by_hand):
        why = (
            f"the load counts as even: {why_even(case)}"
            if case.alignment is None
            else ("the load counts as even by hand; compare finds its peak along the post")
        )
        yield "sharing", "sharing of the load along the post", why, every
    if case.alignment is not None and case.alignment.assumed:
        why = "no tilt is stated; a straight plate was assumed"
        yield "tilt", "tilt of the plate to the post", why, every
    along_axis = {c.section for c in checks if c.limit_state == "post section" and c.applies}
    yield (
        "post", "bending and shear of the post along its axis", _no_axis(case, sections),
        of(lambda section: section.name not in along_axis),
    )  # fmt: skip
    if case.cantilever is not None:
        welded = {c.section for c in checks if c.limit_state == "root weld" and c.applies}
        root = of(lambda section: section.name not in welded)
        yield "root", "connection of the post at its root", _no_weld(case), root
    if reliefs:
        yield (
            "relief", "relief of a tube over a finite contact", _relief(case, reliefs),
            [relief.section for relief in reliefs],
        )  # fmt: skip
    filled = of(lambda section: section.infill is not None)
    yield "infill", "strength of infill and bond", "no strength of them is known", filled


def _no_motion(case: Case) -> str:
    if case.motion is None:
        return "the case has no [motion]; the load is as stated"
    if case.motion.contact_law.law == "section":
        return "it goes by the section's own curve: contactfe impact finds it"
    return "[load] states a line load, from which no force follows"


def _no_axis(case: Case, sections: Sequence[Section]) -> str:
    if case.cantilever is None:
        return "the case has no [cantilever]"
    if any(section.mesh is not None for section in sections):
        return "it is not worked out for an own mesh"
    return "it is not among the checks that count"


def _sensitive(motion: Motion) -> str:
    """By how much a tenth more of displacement raises the force, where that is much; else empty."""
    from contactfe.assess.nearby import nearby, sensitive  # which load scipy
    from contactfe.case.impact import peak_force

    for more in nearby(motion):
        if more.key != "displacement_plus_10_percent":
            continue
        try:
            force = peak_force(motion)
            raised = peak_force(replace(motion, velocity=more.velocity))
        except SolveError:
            return "the force of 10 % more displacement was not found"
        if sensitive((replace(more, force=raised),), force):
            rise = 100.0 * (raised / force - 1.0)
            return (
                f"the gap is near the displacement: 10 % more of that gives {rise:.0f} % more force"
            )
    return ""


def _no_weld(case: Case) -> str:
    assert case.cantilever is not None
    if case.cantilever.weld_throat is None:
        return "[cantilever] states no weld_throat"
    return (
        "no clause covers its weld: AISC needs electrode_strength, EN the ultimate strength of the"
        " post, and both the standard in [standards] apply and numbers within its scope"
    )


def _relief(case: Case, reliefs: Sequence[Bounds]) -> str:
    """Why it is open, and between which stresses the peak of each section lies."""
    stress = case.display.stress
    between = "; ".join(
        f"“{relief.section}” {stress.text(relief.slice_peak)} to"
        f" {stress.text(relief.half_space_peak)}"
        + ("" if relief.bore is None else f", bore hoop stress up to {stress.text(relief.bore)}")
        for relief in reliefs
    )
    return (
        f"each slice bends as a ring by itself, as under a long even load, and {reliefs[0].why};"
        f" the peak of the post lies between the slice's and that without relief: {between}"
    )
