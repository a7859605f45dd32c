"""The answer in plain sentences, built from what was computed."""

from collections.abc import Sequence

from contactfe.assess.places import BORE_SIDE, BORE_UNDER_LOAD, CONTACT, CORE, EDGE, Peak
from contactfe.assess.results import SectionResult
from contactfe.case.display import Unit

_NOTHING = 0.01
"""Relative change of the contact peak up to which ring bending is said to change it hardly."""


def reason(results: Sequence[SectionResult], best_name: str, stress: Unit) -> str:
    """Why the section of that name concentrates stress least, in a few plain sentences.

    ``stress`` is the unit that stresses are stated in.
    """
    best = next(r for r in results if r.section.name == best_name)
    sentences = [_against(best, results), _parts(best, stress)]
    thinner = [r for r in results if _thinner_than(r, best)]
    if thinner:
        sentences.append(_thinner(max(thinner, key=lambda r: r.section.wall or 0.0), stress))
    if len({r.section.outside_diameter for r in results}) > 1:
        least = min(results, key=lambda r: r.member.peak.von_mises)
        sentences.append(
            "The outside diameters differ, and K is relative to them: the least peak stress is"
            f" {stress.text(least.member.peak.von_mises)}, in “{least.section.name}”."
        )
    return " ".join(sentences)


def _against(best: SectionResult, results: Sequence[SectionResult]) -> str:
    """By how much: against the worst solid if there is another, else the next best section."""
    K = best.stress_concentration
    others = [r for r in results if r is not best]
    if not others:
        return f"“{best.section.name}” is the only section, K = {K.value:.1f}."
    solids = [r for r in others if r.section.shape == "solid"]
    other = (
        max(solids, key=lambda r: r.stress_concentration.value)
        if solids
        else min(others, key=lambda r: r.stress_concentration.value)
    )
    first = f"“{best.section.name}” has the least stress concentration, K = {K.value:.1f}."
    than = f"“{other.section.name}” (K = {other.stress_concentration.value:.1f})."
    less = other.stress_concentration.value - K.value
    if less <= K.uncertainty + other.stress_concentration.uncertainty:
        return f"{first} That is within the numerical uncertainty of {than}"
    return f"{first} That is {100 * less / other.stress_concentration.value:.1f} % less than {than}"


def _parts(r: SectionResult, stress: Unit) -> str:
    """What makes up the peak: contact alone, what ring bending adds, which place governs."""
    alone = r.hand_value("hertz_peak_von_mises")
    contact = _peak(r, CONTACT, EDGE)
    assert alone is not None
    assert contact is not None
    text = f"Contact alone would give {stress.text(alone)} (Hertz)"
    if r.section.shape == "solid":
        return f"{text}; a solid round bends little, and its peak, {_where(r, stress)}."
    change = contact.von_mises / alone - 1.0
    if abs(change) <= _NOTHING:
        verb = "leaves the peak there at"
    else:
        verb = "lowers" if change < 0.0 else "raises"
        verb += f" the peak there by {100 * abs(change):.0f} % to"
    text += (
        f"; bending of the ring adds {_hoop(r, stress)} to the contact zone, which {verb}"
        f" {stress.text(contact.von_mises)}"
    )
    bore = _peak(r, BORE_UNDER_LOAD, BORE_SIDE)
    if bore is not None and bore is not r.member.peak:
        text += f", while the bore reaches {stress.text(bore.von_mises)}"
    return f"{text}. What governs, {_where(r, stress)}."


def _thinner_than(r: SectionResult, best: SectionResult) -> bool:
    return (
        r.section.wall is not None
        and r.section.outside_diameter == best.section.outside_diameter
        and r.section.wall < (best.section.wall or best.section.radius)
    )


def _thinner(r: SectionResult, stress: Unit) -> str:
    return (
        f"A thinner wall bends more: in “{r.section.name}” ring bending adds"
        f" {_hoop(r, stress)}, and what governs, {_where(r, stress)}."
    )


def _hoop(r: SectionResult, stress: Unit) -> str:
    """What ring bending adds at the contact, in words for its sign."""
    kind = "compression" if r.added_hoop.value < 0.0 else "tension"
    return f"{stress.text(abs(r.added_hoop.value))} of hoop {kind}"


def _where(r: SectionResult, stress: Unit) -> str:
    """The peak with its place, as the end of a sentence that begins with a subject and a comma."""
    peak = r.member.peak
    preposition = "in" if peak.zone in {CONTACT, CORE} else "at"
    depth = ""
    if peak.zone in {CONTACT, EDGE}:
        depth = f", {peak.depth / r.half_width.value:.2f} half-widths deep"
    return f"{stress.text(peak.von_mises)}, lies {preposition} the {peak.zone}{depth}"


def _peak(r: SectionResult, *zones: str) -> Peak | None:
    return next((p for p in r.member.places if p.zone in zones), None)
