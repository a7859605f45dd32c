"""Hand formulas beside the computed figures, with a line on why they differ where they do."""

from collections.abc import Iterator

from contactfe.assess.beam import axial_stress
from contactfe.assess.by_hand.hold import KEY as HOLD
from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE, UNDER_CONTACT
from contactfe.assess.results import HandCheck, PatchResult, SectionResult
from contactfe.assess.value import Value
from contactfe.case import Case, Section
from contactfe.case.display import Display

HERTZ_LIMIT = 0.01
"""Relative difference above which a Hertz value is explained: a half-space is not a finite body."""

RING_LIMIT = 0.03
"""The same for thin-ring and curved-beam formulas."""

STRIP_LIMIT = 0.03
"""The same for the plate as a strip or a layer."""

EXACT_LIMIT = 0.01
"""The same for exact solutions, which take a point load for the patch and are exact otherwise."""

APPROACH_LIMIT = 0.003
"""The same for the approach of a solid, whose formula is exact but for the ends of the plate."""

Hoops = tuple[Value, Value]
"""Two computed stresses, MPa: under the load and at the side, or along and across the load."""

_Pair = tuple[str, Value, float, str]
"""Key of a step, the computed value, and from which difference on it is explained by what."""


def hand_checks(case: Case, result: SectionResult) -> tuple[HandCheck, ...]:
    """Every hand formula that applies to a section and has a computed figure to stand beside."""
    section, values = result.section, result.values
    pairs: list[_Pair] = []
    for number in range(len(result.patches)):
        pairs += _contact(case, result, number)
    if result.bore_hoop is not None:
        pairs += _tube(case, section, result.half_width.value, result.bore_hoop)
    if result.centre is not None:
        why = "the exact value is for a load at a point"
        pairs.append(("disc_centre_along", values["centre_along"], EXACT_LIMIT, why))
        pairs.append(("disc_centre_across", values["centre_across"], EXACT_LIMIT, why))
    pairs += _approach(case, section, result.patch, result.approach)
    for number, patch in enumerate(result.patches):
        pairs += _plate(case, patch, number)
    return tuple(_checked(result.by_hand, pairs, case.display))


def _checked(found: SectionByHand, pairs: list[_Pair], units: Display) -> Iterator[HandCheck]:
    for key, fe, limit, why in pairs:
        step = found.step(key)
        if step is None:
            continue
        check = HandCheck(step, fe.value, fe.uncertainty, "")
        passed = "; ".join(map(units.limit, step.worked.exceeded))
        remarks = [f"outside its range ({passed})"] if passed else []
        if abs(check.difference) > limit:
            remarks.append(why)
        yield HandCheck(step, fe.value, fe.uncertainty, "; ".join(remarks))


def _contact(case: Case, result: SectionResult, number: int) -> Iterator[_Pair]:
    """Hertz for one patch; with friction the peak is that of a contact which slides."""
    section, patch, of = result.section, result.patches[number], result.reading.patches[number]
    second = "" if number == 0 else "_second"
    mu = case.contact.friction
    why = _why_not_half_space(case, section, number, of.half_width)
    with_friction = "" if mu == 0.0 else ", and friction,"
    yield f"hertz_half_width{second}", patch.half_width, HERTZ_LIMIT, why
    yield f"hertz_peak_pressure{second}", patch.peak_pressure, HERTZ_LIMIT, why
    on_post = {CONTACT, EDGE} if number == 0 else {SECOND_CONTACT, SECOND_EDGE}
    for body, one, added, zones in (
        ("post", result.member, of.member_added, on_post),
        ("plate", patch.plate, of.plate_added, {UNDER_CONTACT}),
    ):
        contact = next((peak for peak in one.places if peak.at.zone in zones), one.peak)
        reason = (
            f"bending and finite size of the {body}{with_friction} add"
            f" {case.display.stress.signed(added)} along the surface at the contact, which a"
            " half-space does not have"
        )
        if body == "post" and case.spread is not None:
            young = case.post_material(section).young
            axial = float(axial_stress(case, section, young, 0.0))
            reason += f"; its bending along its axis adds {case.display.stress.signed(axial)} there"
        end = ("" if body == "post" else "_plate") + second
        for method in ("hertz", "sliding"):
            if mu > 0.0 and method == "hertz":
                why = "friction is left out"
            elif mu > 0.0 and patch.motion != "full sliding":
                why = f"not all friction is at work, the contact being in {patch.motion}; {reason}"
            else:
                why = reason
            yield f"{method}_peak_von_mises{end}", contact, HERTZ_LIMIT, why
            if one.peak.at.zone not in zones:
                this = "the contact" if len(result.patches) == 1 else "this contact"
                why = f"the {body} yields first at the {one.peak.at.zone}, not at {this}"
            # In a corner the load that is stated at first yield is that of the first plate.
            if number == 0 and (yields_at := one.first_yield) is not None:
                yield f"{method}_first_yield_line_load{end}", yields_at, 2.0 * HERTZ_LIMIT, why


def _tube(case: Case, section: Section, half_width: float, bore_hoop: Hoops) -> Iterator[_Pair]:
    if section.wall is None:
        return
    h = section.wall
    slender = h / (section.radius - h / 2.0)
    also = "" if case.contact.friction == 0.0 else "friction is left out; "
    methods = (
        (
            "ring", EXACT_LIMIT,
            f"{also}the patch is {half_width / h:.2f} of the wall wide from its middle to"
            " its edge; the series takes the load at a point",
        ),
        (
            "thin_ring", RING_LIMIT,
            f"{also}the wall is {slender:.2f} of the mean radius; thin-ring bending is for up to"
            " 0.1",
        ),
        (
            "curved_beam", RING_LIMIT,
            f"{also}plane sections are assumed to stay plane, which they do not so near the load in"
            f" a wall of {slender:.2f} of the mean radius",
        ),
    )  # fmt: skip
    for key, limit, why in methods:
        for place, fe in zip(("under_load", "at_side"), bore_hoop, strict=True):
            yield f"{key}_bore_{place}", fe, limit, why


def _approach(case: Case, section: Section, patch: PatchResult, approach: Value) -> Iterator[_Pair]:
    """Of a solid on a bed, between the hold of the post and the plate's base, as it is computed.

    By the middle of the post it would be half a percent off where beam shear holds it. The formula
    is of one load square to the plate; a plate held at its edges bends, which is not in it.
    """
    alone = case.corner is None and case.contact.friction == 0.0 and case.contact.angle == 0.0
    if not alone or case.plate.held_by != "rigid base":
        return
    key = HOLD if case.hold(section) == "beam shear" else "approach"
    why = f"a plate without ends, on a base without friction; {_from_edge(case, patch, 0)}"
    yield key, approach, APPROACH_LIMIT, why


def _plate(case: Case, patch: PatchResult, number: int) -> Iterator[_Pair]:
    """The plate as a strip in bending, or as a layer on its base: its back under the load."""
    t, span = case.plate.thickness, case.plate.width
    from_edge = _from_edge(case, patch, number)
    end = "" if number == 0 else "_second"
    yield (
        f"layer_back_stress{end}", patch.back, STRIP_LIMIT,
        f"a layer without ends, on a base without friction; {from_edge}",
    )  # fmt: skip
    sliding = "" if case.contact.friction == 0.0 else "; friction along the plate is left out"
    why = f"a strip in bending; the thickness is {t / span:.2f} of the span; {from_edge}{sliding}"
    yield f"strip_back_stress{end}", patch.back, STRIP_LIMIT, why
    yield f"strip_deflection{end}", patch.deflection, STRIP_LIMIT, why


def _from_edge(case: Case, patch: PatchResult, number: int) -> str:
    at, plate = case.offsets[number] + patch.centre.value, case.plate
    away = (plate.width / 2 - abs(at)) / plate.thickness
    return f"the nearer edge is {away:.1f} thicknesses from the load"


def _why_not_half_space(case: Case, section: Section, number: int, half_width: float) -> str:
    """Which of the lengths that Hertz takes as endless is nearest to the half-width."""
    lengths = {
        "radius": section.radius,
        "plate's thickness": case.plate.thickness,
        "distance to the plate's edge": case.plate.width / 2.0 - abs(case.offsets[number]),
    }
    if section.wall is not None:
        lengths["wall"] = section.wall
    name = min(lengths, key=lambda k: lengths[k])
    return (
        f"the half-width is {half_width / lengths[name]:.3f} of the {name}, which Hertz takes as"
        " endless"
    )
