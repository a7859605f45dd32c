"""The answer in plain sentences, built from what was computed."""

from collections.abc import Sequence

from contactfe.assess.places import BORE_SIDE, BORE_UNDER_LOAD, CONTACT, EDGE, Peak
from contactfe.assess.results import SectionResult


def reason(results: Sequence[SectionResult], best_name: str) -> str:
    """Why the section of that name concentrates stress least, in a few plain sentences."""
    best = next(r for r in results if r.section.name == best_name)
    solids = [r for r in results if r.section.shape == "solid"]
    others = [r for r in (solids or list(results)) if r is not best]
    sentences = [
        f"“{best_name}” has the least stress concentration,"
        f" K = {best.stress_concentration.value:.1f}."
    ]
    if others:
        sentences.append(_against(best, max(others, key=lambda r: r.stress_concentration.value)))
    sentences.append(_parts(best))
    thinner = [
        r
        for r in results
        if r is not best
        and r.section.shape == "tube"
        and r.section.outside_diameter == best.section.outside_diameter
        and (r.section.wall or 0.0) < (best.section.wall or best.section.radius)
    ]
    if thinner:
        sentences.append(_thinner(min(thinner, key=lambda r: -(r.section.wall or 0.0))))
    return " ".join(sentences)


def _against(best: SectionResult, other: SectionResult) -> str:
    less = 1.0 - best.stress_concentration.value / other.stress_concentration.value
    blur = (best.stress_concentration.uncertainty + other.stress_concentration.uncertainty) / (
        other.stress_concentration.value
    )
    if less <= blur:
        return (
            f"That is within the numerical uncertainty of “{other.section.name}”"
            f" (K = {other.stress_concentration.value:.1f})."
        )
    return (
        f"That is {100 * less:.1f} % less than “{other.section.name}”"
        f" (K = {other.stress_concentration.value:.1f})."
    )


def _parts(r: SectionResult) -> str:
    alone = r.hand_value("hertz_peak_von_mises")
    contact = _peak(r, CONTACT, EDGE)
    text = f"Contact alone would give {alone:.0f} MPa (Hertz)"
    if r.section.shape == "solid":
        return f"{text}; a solid round bends little, and its peak is {_where(r)}."
    assert contact is not None
    hoop = r.added_hoop.value
    kind = "compression" if hoop < 0.0 else "tension"
    change = contact.von_mises / (alone or contact.von_mises) - 1.0
    verb = "lowers" if change < 0.0 else "raises"
    text += (
        f"; bending of the ring adds {abs(hoop):.0f} MPa of hoop {kind} to the contact zone, which"
        f" {verb} the peak there to {contact.von_mises:.0f} MPa ({100 * change:+.0f} %)"
    )
    bore = _peak(r, BORE_UNDER_LOAD, BORE_SIDE)
    if bore is not None:
        text += f", while the bore reaches {bore.von_mises:.0f} MPa"
    return f"{text}. What governs is {_where(r)}."


def _thinner(r: SectionResult) -> str:
    return (
        f"A thinner wall bends more: in “{r.section.name}” ring bending adds"
        f" {r.added_hoop.value:+.0f} MPa and what governs is {_where(r)}."
    )


def _where(r: SectionResult) -> str:
    peak = r.member.peak
    depth = ""
    if peak.zone in {CONTACT, EDGE}:
        depth = f", {peak.depth / r.half_width.value:.2f} half-widths deep"
    return f"the {peak.zone}{depth}, {peak.von_mises:.0f} MPa"


def _peak(r: SectionResult, *zones: str) -> Peak | None:
    return next((p for p in r.member.places if p.zone in zones), None)
