"""What an open item is and why it is open, in words: a key, a function."""

from collections.abc import Callable, Mapping

from contactfe.assess.checks import OpenItem, OpenKey, Why
from contactfe.case.alignment import why_even
from contactfe.case.display import significant
from contactfe.case.wording import listed, with_article


def worded(item: OpenItem) -> tuple[str, str]:
    """The label of an open item, and why it is open."""
    label, why = _WORDS[item.key]
    return label, why if isinstance(why, str) else why(item)


def settled_by(item: OpenItem) -> str:
    """What to add to the case, or the command that looks at it; empty where neither settles it."""
    by = _SETTLED_BY.get(item.key, "")
    return by if isinstance(by, str) else by(item)


def not_long(why: Why | None) -> str:
    """What keeps a slice from being that of a long even contact."""
    if why == "plane stress":
        return "what neighbouring slices do is not known in plane stress"
    return "the contact length is not stated"


def _motion(item: OpenItem) -> str:
    if item.why == "force not found":
        return "the force of 10 % more displacement was not found"
    if isinstance(item.why, float):
        more = f"{100.0 * item.why:.0f} % more force"
        if item.case.motion is not None and item.case.motion.levels:
            return (
                "the gap is near the displacement of a level: 10 % more of that gives"
                f" {more} than the level that governs"
            )
        return f"the gap is near the displacement: 10 % more of that gives {more}"
    if item.case.motion is None:
        return "the case has no [motion]; the load is as stated"
    if item.case.motion.contact_law.law == "section":
        return "the force goes by the section's own curve: contactfe impact finds it"
    return "[load] states a line load, from which no force follows"


def _law(item: OpenItem) -> str:
    if not isinstance(item.why, float):
        return "the force goes by the law that [contact_law] states, not by the contact's own"
    # The root is what a contact of even stiffness comes to: one that stiffens comes to more.
    return (
        f"[contact_law] takes at least {significant(item.why, 3)} times the energy that the"
        f" stiffest contact takes: the force would be {significant(item.why**0.5, 3)} times as"
        " large or more, unless something else gives way"
    )


def _ground(item: OpenItem) -> str:
    free = "free vibration after closure, without ground motion: take both from a time history"
    free += " as well"
    own = item.case.motion is not None and item.case.motion.contact_law.law == "section"
    if own and item.why != "checked":
        return (
            "the limits stated, that of the dampers' force too, are not checked here: contactfe"
            f" impact checks them, by the section's own curve, in {free}"
        )
    return f"their checks are of {free}"


def _sharing(item: OpenItem) -> str:
    if item.case.alignment is None:
        return f"the load counts as even: {why_even(item.case)}"
    return "the load counts as even by hand; compare finds its peak along the post"


def _post(item: OpenItem) -> str:
    if item.case.cantilever is None:
        return "the case has no [cantilever]"
    if isinstance(item.why, str):
        return f"it is not worked out for {with_article(item.why)}"
    return "it is not among the checks that count"


def _root(item: OpenItem) -> str:
    fixing = None if item.case.cantilever is None else item.case.cantilever.fixing
    if fixing is None:
        return "[cantilever] states no weld_throat, root or socket_depth"
    if fixing == "socket":
        return (
            "no clause covers its socket: AISC and EN need socket_yield, the standard in"
            " [standards] apply and numbers within its scope"
        )
    if fixing == "groove weld":
        return (
            "no clause covers its weld: AISC and EN need the ultimate strength of the post, the"
            " standard in [standards] apply and numbers within its scope"
        )
    return (
        "no clause covers its weld: AISC needs electrode_strength, EN the ultimate strength of the"
        " post, and both the standard in [standards] apply and numbers within its scope"
    )


def _relief(item: OpenItem) -> str:
    """With the stresses between which the peak of each section lies, where they are known."""
    if not item.bounds:
        return f"{not_long(item.why)}; compare gives its bounds"
    stress = item.case.display.stress
    between = "; ".join(
        f"“{of.section}” {stress.text(of.slice_peak)} to {stress.text(of.half_space_peak)}"
        + ("" if of.bore is None else f", bore hoop stress up to {stress.text(of.bore)}")
        for of in item.bounds
    )
    return (
        "each slice bends as a ring by itself, as under a long even load, and"
        f" {not_long(item.why)}; the peak of the post lies between the slice's and that without"
        f" relief: {between}"
    )


def _unknown(item: OpenItem) -> list[str]:
    """Keys of the strengths that some infill of the case does not state."""
    infills = (section.infill for section in item.case.sections if section.infill is not None)
    return list(dict.fromkeys(name for infill in infills for name in infill.unknown))


def _infill(item: OpenItem) -> str:
    unknown = _unknown(item)
    if len(unknown) == 3:
        return "no strength of them is known"
    if unknown:
        return f"{listed(unknown)} of the infill not stated"
    if item.case.cantilever is not None:
        return "what the post's bending along its axis does to them is not among the checks"
    return "its stresses are not among the checks; compare checks them against its strengths"


def _tolerance(item: OpenItem) -> str:
    if item.why == "limits in [contact] alone":
        return "the least and the greatest wall are solved at [contact], not in the envelope"
    if item.why == "limits not solved":
        return "walls are nominal here; compare and size solve the least and the greatest wall too"
    if isinstance(item.why, str):
        return f"walls are nominal; {with_article(item.why)} is solved as drawn"
    return "walls are nominal: neither [tolerance] nor a product standard states limits"


_WORDS: Mapping[OpenKey, tuple[str, str | Callable[[OpenItem], str]]] = {
    "motion": ("load against the motion", _motion),
    "law": ("impact force by a stated contact law", _law),
    "ground": (
        "stroke and displacement while the ground moves",
        _ground,
    ),
    "sharing": ("sharing of the load along the post", _sharing),
    "tilt": ("tilt of the plate to the post", "no tilt is stated; a straight plate was assumed"),
    "post": ("bending and shear of the post along its axis", _post),
    "root": ("connection of the post at its root", _root),
    "relief": ("relief of a tube over a finite contact", _relief),
    "infill": ("strength of infill and bond", _infill),
    "tolerance": ("tolerance of the wall", _tolerance),
}


def _by_motion(item: OpenItem) -> str:
    if item.why is not None:
        return ""
    if item.case.motion is None:
        return "add [motion]"
    if item.case.motion.contact_law.law == "section":
        return "contactfe impact"
    return "add [load] contact_length"


def _by_sharing(item: OpenItem) -> str:
    if item.case.alignment is not None:
        return "contactfe compare"
    in_corner = item.case.corner is not None  # where no cantilever shares the load
    return (not in_corner and _by_cantilever(item)) or "add [load] distribution"


def _by_cantilever(item: OpenItem) -> str:
    return "add [cantilever]" if item.case.cantilever is None else ""


def _by_root(item: OpenItem) -> str:
    cantilever = item.case.cantilever
    if cantilever is None or cantilever.fixing is None:
        return "add weld_throat, root or socket_depth to [cantilever]"
    if cantilever.fixing == "socket":
        return "" if cantilever.socket_yield else "add [cantilever] socket_yield"
    return "" if cantilever.electrode_strength else "add [cantilever] electrode_strength"


def _by_length(item: OpenItem) -> str:
    if item.why != "length not stated":
        return ""
    table = "corner" if item.case.contact_length is not None else "load"
    return f"add [{table}] contact_length"


def _by_strengths(item: OpenItem) -> str:
    unknown = _unknown(item)
    if unknown:
        return f"add {listed(unknown)} of the infill"
    return _by_cantilever(item) and "contactfe compare"


def _by_limits(item: OpenItem) -> str:
    if item.why == "limits not solved":
        return "contactfe compare"
    return "" if isinstance(item.why, str) else "add [tolerance]"


_SETTLED_BY: Mapping[OpenKey, str | Callable[[OpenItem], str]] = {
    "motion": _by_motion,
    "law": 'state law = "section"',
    "sharing": _by_sharing,
    "tilt": "add [alignment]",
    "post": _by_cantilever,
    "root": _by_root,
    "relief": _by_length,
    "infill": _by_strengths,
    "tolerance": _by_limits,
}
"""Nothing stated settles "ground": a time history does."""
