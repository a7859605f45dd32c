"""Hand formulas beside the computed figures: which apply, and from which difference on they part.

What makes them part is said in the report.
"""

from collections.abc import Iterator

from contactfe.assess.by_hand.hold import KEY as HOLD
from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE, UNDER_CONTACT
from contactfe.assess.results import HandCheck, SectionResult
from contactfe.assess.value import Value
from contactfe.case import Case

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

_Pair = tuple[str, Value, float]
"""Key of a step, the computed value, and from which difference on it is explained."""


def hand_checks(case: Case, result: SectionResult) -> tuple[HandCheck, ...]:
    """Every hand formula that applies to a section and has a computed figure to stand beside."""
    values, pairs = result.values, list[_Pair]()
    for number in range(len(result.patches)):
        pairs += _contact(result, number)
    if result.bore_hoop is not None:
        limits = {"ring": EXACT_LIMIT, "thin_ring": RING_LIMIT, "curved_beam": RING_LIMIT}
        for key, limit in limits.items():
            for place, fe in zip(("under_load", "at_side"), result.bore_hoop, strict=True):
                pairs.append((f"{key}_bore_{place}", fe, limit))
    if result.centre is not None:
        pairs.append(("disc_centre_along", values["centre_along"], EXACT_LIMIT))
        pairs.append(("disc_centre_across", values["centre_across"], EXACT_LIMIT))
    if _plain(case):
        # Between the hold of the post and the plate's base, as it is computed: by the middle of the
        # post it would be half a percent off where beam shear holds it.
        key = HOLD if case.support(result.section).axis else "approach"
        pairs.append((key, result.approach, APPROACH_LIMIT))
    for number, patch in enumerate(result.patches):
        end = _second(number)
        pairs += [
            (f"layer_back_stress{end}", patch.back, STRIP_LIMIT),
            (f"strip_back_stress{end}", patch.back, STRIP_LIMIT),
            (f"strip_deflection{end}", patch.deflection, STRIP_LIMIT),
        ]
    return tuple(_checked(result.by_hand, pairs))


def contact_zones(number: int, body: str) -> set[str]:
    """The zones of a body about the contact of that number."""
    if body == "plate":
        return {UNDER_CONTACT}
    return {CONTACT, EDGE} if number == 0 else {SECOND_CONTACT, SECOND_EDGE}


def _checked(found: SectionByHand, pairs: list[_Pair]) -> Iterator[HandCheck]:
    for key, fe, limit in pairs:
        step = found.step(key)
        if step is not None:
            yield HandCheck(step, fe.value, fe.uncertainty, limit)


def _contact(result: SectionResult, number: int) -> Iterator[_Pair]:
    """Hertz for one patch; with friction the peak is that of a contact which slides."""
    patch, second = result.patches[number], _second(number)
    yield f"hertz_half_width{second}", patch.half_width, HERTZ_LIMIT
    yield f"hertz_peak_pressure{second}", patch.peak_pressure, HERTZ_LIMIT
    for body, one in (("post", result.member), ("plate", patch.plate)):
        zones = contact_zones(number, body)
        contact = next((peak for peak in one.places if peak.at.zone in zones), one.peak)
        end = ("" if body == "post" else "_plate") + second
        for method in ("hertz", "sliding"):
            yield f"{method}_peak_von_mises{end}", contact, HERTZ_LIMIT
            # In a corner the load that is stated at first yield is that of the first plate.
            if number == 0 and (yields_at := one.first_yield) is not None:
                yield f"{method}_first_yield_line_load{end}", yields_at, 2.0 * HERTZ_LIMIT


def _plain(case: Case) -> bool:
    """Whether the formula of the approach is of the case: of one load square to a plate on a base.

    A plate held at its edges bends, which is not in it.
    """
    contact = case.contact
    alone = case.corner is None and contact.friction == 0.0 and contact.angle == 0.0
    return alone and case.plate.support.base


def _second(number: int) -> str:
    return "" if number == 0 else "_second"
