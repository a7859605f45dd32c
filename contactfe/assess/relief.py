"""How far a verdict or a ranking depends on the relief that a slice gives a tube, where the contact
counts as long.

A slice bends as a ring by itself, as if the line load were long and even, and that bending relieves
the contact. What a finite contact leaves of it is found in :mod:`.finite`; where its length is not
stated, the peak lies between that of the slice and that of a half-space, which has no relief.
"""

from collections.abc import Sequence

from contactfe.assess.checks import Bounds, Why
from contactfe.assess.results import SectionResult
from contactfe.case import Case, Section


def reliefs(
    case: Case, results: Sequence[SectionResult], always: bool = False
) -> tuple[Bounds, ...]:
    """Of the sections whose relief decides, where what a finite contact leaves of it is not known.

    It decides where the post passes and without relief would not, and of several sections, whose
    order goes by it; ``always`` where figures are asked for that go by it, as beyond first yield.
    """
    found = []
    for result in results:
        why = not_long(case, result.section)
        if why is None:
            continue
        bounds, member = _bounds(result, why), result.member
        if (
            bounds.half_space_peak
            <= member.peak_von_mises.value + member.peak_von_mises.uncertainty
        ):
            continue
        allowed = member.material.yield_strength / case.yield_margin
        if always or len(results) > 1 or (member.satisfied and bounds.half_space_peak > allowed):
            found.append(bounds)
    return tuple(found)


def not_long(case: Case, section: Section) -> Why | None:
    """Why a section counts as the slice of a long even contact; None where it does not.

    A solid has no relief to speak of.
    """
    if not section.geometry.hollow or case.finite:
        return None
    return "plane stress" if case.state == "plane stress" else "length not stated"


ALONE = tuple(f"{of}_peak_von_mises{end}" for end in ("", "_second") for of in ("sliding", "hertz"))
"""Keys of the post's peak von Mises stress by the contact alone, as of a half-space."""


BORE = ("ring_bore_under_load", "ring_bore_at_side")
"""Keys of the hoop stress at the bore by the exact series."""


def _bounds(result: SectionResult, why: Why) -> Bounds:
    hand = [value for key in ALONE if (value := result.hand_value(key)) is not None]
    bore = (
        None
        if result.bore_hoop_stress is None
        else max(abs(v.value) for v in result.bore_hoop_stress)
    )
    peak = result.member.peak_von_mises.value
    return Bounds(result.section.name, float(peak), max(hand) + abs(result.axial_stress), bore, why)
