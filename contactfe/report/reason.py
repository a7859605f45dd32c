"""The answer in plain sentences, built from what was computed."""

import itertools
from collections.abc import Callable, Iterator, Sequence

from contactfe.assess.beam import bends
from contactfe.assess.checks import Bounds
from contactfe.assess.places import (
    BORE_SIDE,
    BORE_UNDER_LOAD,
    BORE_UNDER_SECOND,
    CONTACT,
    CORE,
    EDGE,
    SECOND_CONTACT,
    SECOND_EDGE,
)
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.display import Display, Unit, significant
from contactfe.report import words
from contactfe.report.open_items import not_long
from contactfe.report.remarks import share_of_peak

_SHALLOW = 0.005
"""Depth in half-widths below which a peak is said to be at the surface."""

_TIED = 4
"""Sections that are named as tied with the best; more are counted."""

_NOTHING = 0.01
"""Relative change of the contact peak up to which ring bending is said to change it hardly."""


def reason(comparison: Comparison) -> str:
    """Why the best section concentrates stress least, in a few plain sentences."""
    return " ".join([*best(comparison), *why(comparison), *beside(comparison)])


def best(comparison: Comparison) -> list[str]:
    """Which section is best and by how much, what that rests on, and whether it passes."""
    least = comparison.least_concentration
    relieved = (bounds for item in comparison.open_items for bounds in item.bounds)
    sentences = [_against(comparison.section(least), comparison.sections)]
    stress = comparison.case.display.stress
    sentences += [_unless(bounds, stress) for bounds in relieved if bounds.section == least]
    return [*sentences, *_of_those_that_pass(comparison)]


def _of_those_that_pass(comparison: Comparison) -> Iterator[str]:
    """The best section of those that pass, where the best of all does not."""
    make = comparison.to_make
    if make.satisfied and make.section.name == comparison.least_concentration:
        return
    if not make.satisfied:
        yield "No section passes its checks."
        return
    K = make.stress_concentration.value
    yield (
        f"But it does not pass its checks: of those that do, “{make.section.name}” has the least,"
        f" K = {K:.1f}."
    )


def why(comparison: Comparison) -> list[str]:
    """What makes up its peak, what the length of the contact changes, and a thinner wall."""
    case, results, stress = comparison.case, comparison.sections, comparison.case.display.stress
    one = comparison.section(comparison.least_concentration)
    sentences = [_parts(case, one, stress), *_finite(case, one, results, stress)]
    if len(one.patches) > 1:
        sentences.append(_at_second(one, stress))
    thinner = [r for r in results if _thinner_than(case, r, one)]
    if thinner:
        sentences.append(_thinner(max(thinner, key=_wall), case.display))
    return sentences


def beside(comparison: Comparison) -> list[str]:
    """What an infill or a core changes in it, and that diameters differ."""
    case, results, stress = comparison.case, comparison.sections, comparison.case.display.stress
    one = comparison.section(comparison.least_concentration)
    sentences = list(_changed(case, one, results, stress))
    if len({r.section.outside_diameter for r in results}) > 1:
        least = min(results, key=lambda r: r.member.peak_von_mises.value)
        sentences.append(
            "The outside diameters differ, and K is relative to them: the least peak stress is"
            f" {stress.text(least.member.peak_von_mises.value)}, in “{least.section.name}”"
            f"{_tied(least, results, lambda r: r.member.peak_von_mises)}."
        )
    return sentences


def _finite(
    case: Case, best: SectionResult, results: Sequence[SectionResult], stress: Unit
) -> Iterator[str]:
    """What the length of the contact does to the answer; nothing of one that counts as long."""
    long = {
        r.section.name: value
        for r in results
        if (value := r.values.get("slice_stress_concentration")) is not None
    }
    relief, share = best.relief, best.values.get("participation")
    if relief is None or not long:
        return
    diameters = relief.contact_length / best.section.outside_diameter
    if share is not None:
        slice_, under, unbent = best.values["slice_post_peak"], "", ""
        if (there := share_of_peak(case, best)) is not None:
            under = f", at {100 * there:.0f} % of the peak line load,"
            unbent = " at that peak"
        if bends(case, best.section):
            unbent += ", without the bending of the post along its axis"
        yield (
            f"The contact is {diameters:.2g} diameters long. Where the post is stressed most{under}"
            f" its peak is {stress.text(best.member.peak_von_mises.value)}; a slice of a long even"
            f" contact would have {stress.text(slice_.value)}{unbent}. Its ring bends there by"
            f" {100 * share.value:.0f} % of what that slice does."
        )
    seems = min(long, key=lambda name: long[name].value)
    if seems != best.section.name:
        yield f"As slices of a long even contact “{seems}” would seem the best."


def _unless(bounds: Bounds, stress: Unit) -> str:
    """That the answer goes by a relief which a finite contact may not leave."""
    return (
        f"This counts its relief by bending in full, although {not_long(bounds.why)}: without"
        f" it the peak would be {stress.text(bounds.half_space_peak)}, not"
        f" {stress.text(bounds.slice_peak)}, so the order of the sections is open."
    )


def _tied(
    least: SectionResult,
    results: Sequence[SectionResult],
    figure: Callable[[SectionResult], Value],
) -> str:
    """Sections whose figure the numerical uncertainty does not part from the least."""
    most = figure(least).value + figure(least).uncertainty
    names = [
        r.section.name
        for r in results
        if r is not least and figure(r).value - figure(r).uncertainty <= most
    ]
    return f", within the numerical uncertainty of {words.some(names, _TIED)}" if names else ""


def _against(best: SectionResult, results: Sequence[SectionResult]) -> str:
    """By how much: against the worst solid if there is another, else the next best section."""
    K = best.stress_concentration
    others = [r for r in results if r is not best]
    if not others:
        return f"“{best.section.name}” is the only section, K = {K.value:.1f}."
    solids = [r for r in others if not r.section.geometry.hollow]
    other = (
        max(solids, key=lambda r: r.stress_concentration.value)
        if solids
        else min(others, key=lambda r: r.stress_concentration.value)
    )
    tied = _tied(best, others, lambda r: r.stress_concentration)
    first = f"“{best.section.name}” has the least stress concentration, K = {K.value:.1f}{tied}."
    than = f"“{other.section.name}” (K = {other.stress_concentration.value:.1f})."
    less = other.stress_concentration.value - K.value
    if less <= K.uncertainty + other.stress_concentration.uncertainty:
        return first
    return f"{first} That is {100 * less / other.stress_concentration.value:.1f} % less than {than}"


def _parts(case: Case, r: SectionResult, stress: Unit) -> str:
    """What makes up the peak: contact alone, what ring bending adds, which place governs."""
    contact = _peak(r, CONTACT, EDGE)
    assert contact is not None
    text = _alone(r, "", stress)
    if not r.section.geometry.hollow:
        if r.axial_stress != 0.0:
            text += f"; bending of the post adds {stress.text(r.axial_stress)} of tension along it"
        return f"{text}; a solid round bends little, and its peak, {_where(r, case.display)}."
    text += f"; {_bending(case, r)} {_hoop(r, stress)} to the contact zone, {_there(r, stress)}"
    bore = _peak(r, BORE_UNDER_LOAD, BORE_UNDER_SECOND, BORE_SIDE)
    if bore is not None and bore != r.member.peak_von_mises:
        text += f", while the bore reaches {stress.text(bore.value)}"
    return f"{text}. The largest peak, {_where(r, case.display)}."


def _alone(r: SectionResult, key_end: str, stress: Unit) -> str:
    """The peak of a half-space: without friction, or sliding, or what lies between the two."""
    still = r.hand_value(f"hertz_peak_von_mises{key_end}")
    sliding = r.hand_value(f"sliding_peak_von_mises{key_end}")
    assert still is not None
    motion = (r.patches[1] if key_end else r.contact).motion
    text = f"Contact alone{' at the second plate' if key_end else ''} would give "
    under = "" if r.length is None else ", under the peak line load"
    if sliding is None:
        return f"{text}{stress.text(still)} (Hertz{under})"
    if motion == "full sliding":
        return f"{text}{stress.text(sliding)} (Hertz, full sliding{under})"
    does = "the contact sticks" if motion == "sticking" else f"it is in {motion}"
    return (
        f"{text}{stress.text(still)} without friction and {stress.text(sliding)} in full sliding"
        f" (Hertz{under}), and here {does}"
    )


def _there(r: SectionResult, stress: Unit) -> str:
    """The peak at the first contact, after what bending adds there.

    That bending changes it is said only where nothing else can: without friction, which adds to
    the same stress, with one plate, and where the post is not bent along its axis.
    """
    contact = _peak(r, CONTACT, EDGE)
    alone = r.hand_value("hertz_peak_von_mises")
    assert contact is not None
    assert alone is not None
    peak = stress.text(contact.value)
    if r.axial_stress != 0.0:
        axial = stress.text(r.axial_stress)
        return f"bending of the post adds {axial} of tension along it, and the peak there is {peak}"
    if r.contact.motion != "no friction" or len(r.patches) > 1:
        return f"and the peak there is {peak}"
    change = contact.value / alone - 1.0
    if abs(change) <= _NOTHING:
        return f"which leaves the peak there at {peak}"
    verb = "lowers" if change < 0.0 else "raises"
    return f"which {verb} the peak there by {100 * abs(change):.0f} % to {peak}"


def _at_second(r: SectionResult, stress: Unit) -> str:
    """Contact alone and what was computed at the second plate of a corner."""
    contact = _peak(r, SECOND_CONTACT, SECOND_EDGE)
    assert contact is not None
    return f"{_alone(r, '_second', stress)}; the peak there is {stress.text(contact.value)}."


def _bending(case: Case, r: SectionResult) -> str:
    """What adds hoop stress at the contact, with its verb.

    Where surfaces stick, each takes part in the strain of the other, so that a plate that bends
    adds hoop stress to the post as well.
    """
    geometry = r.section.geometry
    on_core = case.support(r.section).core and geometry.in_plane == "ring"
    what = f"bending of {'the tube about its rigid core' if on_core else geometry.bends}"
    if len(r.patches) > 1:
        what += " under both loads"
    return f"{what}, and of the plate that it sticks to, adds" if _sticks(r) else f"{what} adds"


def _sticks(r: SectionResult) -> bool:
    return r.contact.motion in {"sticking", "partial slip"}


def _wall(r: SectionResult) -> float:
    return r.section.geometry.outline.wall


def _thinner_than(case: Case, r: SectionResult, best: SectionResult) -> bool:
    """Whether a section is the plain tube of a thinner wall than the best, and bends more."""
    return (
        r.section.geometry.in_plane == "ring"
        and best.section.geometry.in_plane is not None
        and r.section.outside_diameter == best.section.outside_diameter
        and _wall(r) < _wall(best)
        and not any(case.support(one.section).core for one in (r, best))
        and not _sticks(r)
        and abs(r.added_hoop_stress.value) > abs(best.added_hoop_stress.value)
    )


def _thinner(r: SectionResult, units: Display) -> str:
    stress, at, along = units.stress, "", ""
    if r.length is not None:
        at = f", at {r.length.peak_over_mean:.2f} times the mean line load,"
    if r.axial_stress != 0.0:
        along = f" and bending of the post {stress.text(r.axial_stress)} of tension along it"
    return (
        f"A thinner wall bends more: in “{r.section.name}”{at} ring bending adds"
        f" {_hoop(r, stress)}{along}, and the peak, {_where(r, units)}."
    )


def _changed(
    case: Case, best: SectionResult, results: Sequence[SectionResult], stress: Unit
) -> Iterator[str]:
    """What an infill or a core changes in the same tube, where the best is one of such a pair."""
    for one, other in itertools.permutations(results, 2):
        if not (best is one or best is other) or not _same_tube(case, one, other):
            continue
        if one.section.infill is not None and other.section.infill is None:
            what = "with an infill"
        elif case.support(one.section).core and not case.support(other.section).core:
            what = "on a rigid core"
        else:
            continue
        along = ""
        if one.axial_stress != 0.0 or other.axial_stress != 0.0:
            tension = (stress.text(r.axial_stress) for r in (one, other))
            along = f", bending of the post adds {' instead of '.join(tension)} of tension along it"
        yield (
            f"“{one.section.name}” is the same tube as “{other.section.name}”, but {what}:"
            f" {_hoop(one, stress)} is added to its contact zone instead of {_hoop(other, stress)}"
            f"{along}, and the peak is {stress.text(one.member.peak_von_mises.value)} instead of"
            f" {stress.text(other.member.peak_von_mises.value)}."
        )


def _same_tube(case: Case, one: SectionResult, other: SectionResult) -> bool:
    """Whether two are of the same size and steel, and differ in infill or in hold alone."""
    a, b = one.section, other.section
    sizes = a.geometry.sizes
    if not sizes or (a.outside_diameter, sizes) != (b.outside_diameter, b.geometry.sizes):
        return False
    if one.member.material != other.member.material:
        return False
    return (a.infill != b.infill) != (case.hold(a) != case.hold(b))


def _hoop(r: SectionResult, stress: Unit) -> str:
    """What ring bending adds at the contact, in words for its sign."""
    kind = "compression" if r.added_hoop_stress.value < 0.0 else "tension"
    return f"{stress.text(abs(r.added_hoop_stress.value))} of hoop {kind}"


def _where(r: SectionResult, units: Display) -> str:
    """The peak with its place, as the end of a sentence that begins with a subject and a comma."""
    peak, place = r.member.peak_von_mises, r.member.peak_von_mises.at
    preposition = "in" if place.zone in {CONTACT, SECOND_CONTACT, CORE} else "at"
    depth = ""
    for patch, zones in zip(
        r.patches, ({CONTACT, EDGE}, {SECOND_CONTACT, SECOND_EDGE}), strict=False
    ):
        if place.zone in zones:
            depth = ", at the surface"
            if place.depth >= _SHALLOW * patch.half_width.value:
                deep = significant(units.length.of(place.depth), 2)
                depth = f", {deep} {units.length.name} below the surface"
    return f"{units.stress.text(peak.value)}, lies {preposition} the {place.zone}{depth}"


def _peak(r: SectionResult, *zones: str) -> Value | None:
    return next((p for p in r.member.places if p.at.zone in zones), None)
