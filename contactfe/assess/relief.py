"""How far a verdict or a ranking depends on the relief that a slice gives a tube.

A slice bends as a ring by itself, as if the line load were long and even, and that bending relieves
the contact. The neighbours of a short or unevenly loaded contact hold it back, so the peak lies
between that of the slice and that of a half-space, which has no relief.
"""

from collections.abc import Sequence

from contactfe.assess.checks import Bounds, Why
from contactfe.assess.results import SectionResult
from contactfe.case import Case, Section

LONG = 3.0
"""Contact length over outside diameter from which the slice is that of a long contact. Elements in
three dimensions gave 0.84 of the slice's bore hoop stress in the middle of an even contact of one
diameter and 0.50 at its ends (a general library; Ø 150 × 25 mm, far ends held): a choice made
here."""


def reliefs(case: Case, results: Sequence[SectionResult]) -> tuple[Bounds, ...]:
    """Of the sections whose relief decides, over a contact that is short, uneven or not stated.

    It decides where the post passes and without relief would not, and of several sections, whose
    order goes by it.
    """
    found = []
    for result in results:
        why = not_long(case, result.section, uneven=result.length is not None)
        if why is None:
            continue
        bounds, member = _bounds(result, why), result.member
        if bounds.half_space_peak <= member.peak.value + member.peak.uncertainty:
            continue
        allowed = member.material.yield_strength / case.yield_margin
        if len(results) > 1 or (member.satisfied and bounds.half_space_peak > allowed):
            found.append(bounds)
    return tuple(found)


def not_long(case: Case, section: Section, *, uneven: bool) -> Why | None:
    """What keeps the slice of a section from being that of a long even contact; None if nothing.

    ``uneven`` says that its bending shares the load. A solid has no relief to speak of.
    """
    if not section.geometry.hollow:
        return None
    length, D = case.contact_length, section.outside_diameter
    if uneven:
        return "uneven"
    if length is None:
        return "length not stated"
    return length / D if length < LONG * D else None


ALONE = tuple(f"{of}_peak_von_mises{end}" for end in ("", "_second") for of in ("sliding", "hertz"))
"""Keys of the post's peak von Mises stress by the contact alone, as of a half-space."""


BORE = ("ring_bore_under_load", "ring_bore_at_side")
"""Keys of the hoop stress at the bore by the exact series."""


def _bounds(result: SectionResult, why: Why) -> Bounds:
    hand = [value for key in ALONE if (value := result.hand_value(key)) is not None]
    axial = 0.0 if result.length is None else abs(result.length.axial)
    bore = None if result.bore_hoop is None else max(abs(v.value) for v in result.bore_hoop)
    peak = result.member.peak.value
    return Bounds(result.section.name, float(peak), max(hand) + axial, bore, why)
