"""What the pages, the document and the figure on contact stiffness say in words."""

from collections.abc import Iterator

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case, Section
from contactfe.case.display import significant
from contactfe.report import words

POWER_NOTE = (
    "A line of contact is not a sphere. The force grows as the approach to the power of about 1.1"
    " where the contact itself governs, and nearer 1 where a ring or a plate bends; never 1.5. The"
    " coefficient A goes with the exponent n beside it: do not paste it into an impact element"
    " whose exponent is fixed at 1.5. For an element without a free exponent take the linear spring"
    " or the points."
)

SHARES_NOTE = (
    "Shares: the contact is a solid round of the post's diameter, and the plate between its face"
    " and its {far}, by the hand formulas at the half-width solved; the ring is what the post as"
    " solved gives way beyond that solid{also}; bending is the rest: what the plate as a whole and"
    " its supports give way."
)

POINTS_NOTE = (
    "Errors of the springs and of the points are in force, over the force that they are for; that"
    " of the power law is relative to the force at each load within its range."
)

UNCERTAINTY_NOTE = (
    "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel."
    " Stiffness is per length of contact line; times the contact length it is the whole's, if the"
    " line bears evenly."
)

_POST = {
    "beam shear": "the post's axis (the mean of its section on which the beam shear does work)",
    "diametral": "the plane through the post's middle, half of what the two plates come together",
    "rigid core": "the core that the post is bonded to",
}
_PLATE = {
    "rigid base": "the rigid base of the plate",
    "simply supported": "the supported edges of the plate",
    "clamped": "the clamped edges of the plate",
    "elastic supports": "the ground under the plate's elastic supports",
}


def datum(case: Case, section: Section) -> str:
    """Between which points the approach of a section is measured."""
    return f"{_POST[case.hold(section)]}, towards {_PLATE[case.plate.held_by]}"


def left_out(case: Case) -> str:
    """What of the contact the curve leaves out, or takes as said; empty for a plain one."""
    contact, parts = case.contact, []
    if contact.friction != 0.0 or contact.angle != 0.0:
        parts.append(
            "The curve is that of a square approach without friction; the case's own"
            " angle and friction are left out of it."
        )
    if contact.offset != 0.0:
        parts.append("It is that at the case's offset from the middle of the plate.")
    if case.corner is not None:
        parts.append(
            "In the corner both loads grow together, and the approach is that towards the first"
            " plate."
        )
    return " ".join(parts)


NOT_MODELLED = "POST NOT MODELLED: contact with the post's bending in series"
MODELLED = "POST MODELLED AS AN ELEMENT: contact alone"
"""Headings of the two springs: what the model of the building has decides between them."""


def up_to(result: StiffnessResult) -> str:
    """What force the springs are for."""
    case = result.case
    own = case.display.line_load.text(case.line_load)
    if case.contact_length is not None:
        own = case.display.force.text(case.line_load * case.contact_length)
    if case.motion is None:
        return f"Springs and points are for the load of the case, {own}: it states no [motion]."
    if case.contact_length is None:
        return (
            f"Springs and points are for the load of the case, {own}: the impact force is no line"
            " load without a contact_length."
        )
    return (
        "Springs and points are for the impact force, the peak contact force of [motion], or for"
        f" the load of the case, {own}, where that is more."
    )


def sign(case: Case) -> str:
    """What counts as positive, and from where."""
    gap = "of the gap"
    if case.motion is not None:
        gap = f"of the gap of {case.display.length.text(case.motion.gap)}, which the element has"
    return (
        "Force, approach and displacement are positive where post and plate press (compression),"
        f" counted from the closing {gap}; there is no force before, and no tension."
    )


def short(result: StiffnessResult) -> Iterator[str]:
    """Of which sections the points end before the impact force, as the model allows no more."""
    case, length = result.case, result.case.contact_length
    units = case.display
    for section in result.sections:
        if length is None or not section.short(length):
            continue
        end = units.force.text(float(section.points.line_load[-1]) * length)
        force, name = section.impact.force, words.one_line(section.section.name)
        if force is None:
            yield (
                f"“{name}”: the impact force WAS NOT FOUND, and the points end at {end}, as far as"
                f" the model allows: {section.impact.why}."
            )
        else:
            yield (
                f"“{name}”: the points END BEFORE the impact force of {units.force.text(force)}, at"
                f" {end}: the model allows no larger patch or displacement."
            )


def past_the_peak(result: StiffnessResult) -> Iterator[str]:
    """Of which sections the post's most loaded slice takes more than the model allows."""
    unit = result.case.display.line_load
    for section in result.sections:
        post = section.with_post
        if post is not None and post.peak_line_load > section.allowed_line_load:
            yield (
                f"“{words.one_line(section.section.name)}”: with the post's bending the line load"
                f" comes to {unit.text(post.peak_line_load)} at one end of the contact, and the"
                f" model allows {unit.text(section.allowed_line_load)} or so; beyond, the contact"
                " goes on along its tangent."
            )


def twice(result: StiffnessResult) -> str | None:
    """What taking the one spring for the other does; None where there is but one."""
    posts = [section.with_post for section in result.sections if section.with_post is not None]
    if not posts:
        return None
    stiff = _range([post.too_stiff for post in posts])
    soft = _range([post.too_soft for post in posts])
    return (
        "Do not take the one for the other. In a model without the post, the contact alone is"
        f" {stiff} times too stiff. In a model with the post as an element, the spring with its"
        f" bending counts that twice and is {soft} times too soft."
    )


def _range(values: list[float]) -> str:
    low, high = significant(min(values), 3), significant(max(values), 3)
    return low if low == high else f"{low} to {high}"


def bends_against(case: Case) -> str:
    """The post and the plate that its bending is taken with; the case states [cantilever]."""
    assert case.cantilever is not None
    tilt = 0.0 if case.alignment is None else case.alignment.tilt
    face = f"stands at a tilt of {case.display.angle.text(tilt)}" if tilt else "stands straight"
    length = case.display.length.text(case.cantilever.length)
    return (
        f"Between the root of the post, a cantilever of {length},"
        f" and what holds the plate, which {face}."
    )


def without_bending(case: Case) -> str:
    """Of which sections the post's bending is in no spring, and why; empty where of none."""
    others = [section for section in case.sections if not bends(case, section)]
    if not others:
        return ""
    of, why = "", "the case states no [cantilever]"
    if case.cantilever is not None:
        names = ", ".join(f"“{words.one_line(section.name)}”" for section in others)
        of, why = f" of {names}", "it is known of rounds held by beam shear on one plate"
    return (
        f"NOT IN IT is the bending of the post{of} along its axis ({why}), which gives way in"
        " series with the contact and is mostly the softer: model the post as a beam, or put a"
        " spring for it in series."
    )


def by_hand(case: Case) -> str:
    """The post's own spring beside them; empty where it is not known."""
    known = [section for section in case.sections if bends(case, section)]
    if not known:
        return ""
    unit = case.display.stiffness
    springs = ", ".join(
        f"“{words.one_line(section.name)}” {unit.text(post_stiffness(case, section))}"
        for section in known
    )
    return (
        f"By hand, in the middle of an even load, the post's bending alone has {springs}: a plate"
        " that does not turn with the post is met nearer the root, where it is stiffer."
    )


def ring_adds(case: Case, section: Section) -> list[str]:
    """What gives way beyond a solid post, or stiffens it; empty for a solid post by itself."""
    of: dict[str, list[str]] = {
        "solid": [],
        "tube": ["the bore"],
        "filled tube": ["bore and infill"],
    }
    adds = of.get(section.shape, ["the drawn shape"])
    if case.hold(section) == "rigid core":
        adds = [*adds, "the core"]
    if case.corner is not None:
        adds = [*adds, "the second plate's load"]
    return adds


def ring_label(case: Case, section: Section) -> str:
    """The same as the label of a row."""
    adds = ring_adds(case, section)
    if not adds:
        return "ring (none, the post is solid)"
    what = " and ".join(adds)
    return f"ring, what {what} add{'' if ' and ' in what else 's'}"


def part_labels(case: Case, section: Section) -> tuple[str, str, str, str]:
    """The four shares in the order of :class:`.Shares`."""
    bed = case.plate.held_by == "rigid base"
    rest = "plate, what its edges add" if bed else "plate, its bending and supports"
    ring = ring_label(case, section)
    return ("contact, the post as a solid", ring, "contact, the plate", rest)


def shares_note(case: Case) -> str:
    """How the shares are separated."""
    also = ", a rigid core and the load of the second plate of a corner counted"
    far = "base" if case.plate.held_by == "rigid base" else "back"
    special = case.corner is not None or any(case.hold(s) == "rigid core" for s in case.sections)
    return SHARES_NOTE.format(far=far, also=also if special else "")


def notes(result: StiffnessResult) -> Iterator[str]:
    """Lines below the tables."""
    if special := left_out(result.case):
        yield special
    yield POWER_NOTE
    if post := by_hand(result.case):
        yield post
    yield shares_note(result.case)
    yield POINTS_NOTE
    yield UNCERTAINTY_NOTE


def ends_early(section: SectionStiffness, asked: float) -> str:
    """That a curve ends before the multiple of the load it was meant to reach; empty if not."""
    if section.most >= asked:
        return ""
    return (
        f"The curve of “{words.one_line(section.section.name)}” ends at {section.most:.3g} times"
        " the load, as the model allows no larger patch or displacement."
    )
