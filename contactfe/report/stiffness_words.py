"""What the pages, the document and the figure on contact stiffness say in words."""

from collections.abc import Iterator

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case, Section
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
    "Errors of the spring and of the points are in force, over the case's load; that of the power"
    " law is relative to the force at each load within its range."
)

BLUR_NOTE = (
    "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel."
    " Stiffness is per length of contact line; times the effective length it is the whole's, if the"
    " line bears evenly."
)

_POST = {
    "beam shear": "the post's axis (the mean of its section on which the beam shear does work)",
    "opposed": "the plane through the post's middle, half of what the two plates come together",
    "stiff core": "the core that the post is bonded to",
}
_PLATE = {
    "bedded": "the rigid base of the plate",
    "two edges": "the held edges of the plate",
    "clamped edges": "the clamped edges of the plate",
    "springs": "the ground that the plate's springs stand on",
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


def in_series(case: Case) -> str:
    """What else gives way between floor and plate, and is not in the curve."""
    text = (
        "NOT IN IT is the bending of the post along its axis, which gives way in series with the"
        " contact and is mostly the softer: "
    )
    known = [section for section in case.sections if bends(case, section)]
    if case.cantilever is None or not known:
        return f"{text}model the post as a beam, or put a spring for it in series."
    length, unit = case.display.length.text(case.cantilever.length), case.display.stiffness
    springs = ", ".join(
        f"“{words.one_line(section.name)}” {unit.text(post_stiffness(case, section))}"
        for section in known
    )
    tilt = 0.0 if case.along is None else case.along.tilt
    face = f"stands at a tilt of {case.display.angle.text(tilt)}" if tilt else "stands straight"
    return (
        f"{text}model the post as a beam, or take the figures “with the post's bending”, which have"
        f" it as a cantilever of {length} against a plate that {face}. By hand, in the middle of an"
        f" even load, it alone has {springs}: a plate that does not turn with the post is met"
        " nearer the root, where it is stiffer."
    )


def ring_adds(case: Case, section: Section) -> list[str]:
    """What gives way beyond a solid post, or stiffens it; empty for a solid post by itself."""
    of: dict[str, list[str]] = {
        "solid": [],
        "tube": ["the bore"],
        "filled tube": ["bore and infill"],
    }
    adds = of.get(section.shape, ["the drawn shape"])
    if case.hold(section) == "stiff core":
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
    bed = case.plate.held_by == "bedded"
    rest = "plate, what its edges add" if bed else "plate, its bending and supports"
    ring = ring_label(case, section)
    return ("contact, the post as a solid", ring, "contact, the plate", rest)


def shares_note(case: Case) -> str:
    """How the shares are told apart."""
    also = ", a stiff core and the load of the second plate of a corner counted"
    far = "base" if case.plate.held_by == "bedded" else "back"
    special = case.corner is not None or any(case.hold(s) == "stiff core" for s in case.sections)
    return SHARES_NOTE.format(far=far, also=also if special else "")


def notes(result: StiffnessResult) -> Iterator[str]:
    """Lines below the tables."""
    if special := left_out(result.case):
        yield special
    yield POWER_NOTE
    yield in_series(result.case)
    yield shares_note(result.case)
    yield POINTS_NOTE
    yield BLUR_NOTE


def ends_early(section: SectionStiffness, asked: float) -> str:
    """That a curve ends before the multiple of the load it was meant to reach; empty if not."""
    if section.most >= asked:
        return ""
    return (
        f"The curve of “{words.one_line(section.section.name)}” ends at {section.most:.3g} times"
        " the load, as the model carries no larger patch or travel."
    )
