"""Hand formulas beside the computed figures: which apply, and from which difference on they part.

What makes them part is said in the report.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from contactfe.assess.by_hand.hold import KEY as HOLD
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE, UNDER_CONTACT
from contactfe.assess.results import BodyResult, HandCheck, SectionResult
from contactfe.assess.value import Value, key_of
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


@dataclass(frozen=True)
class _Beside:
    """A hand value by the key of its step, and the computed one that it stands beside.

    ``computed`` finds that in a result, of the patch of a number where it is ``of_patch``; None
    where the section has none. A difference above ``limit`` is explained.
    """

    key: str
    computed: Callable[[SectionResult, int], Value | None]
    limit: float
    of_patch: bool = False


def hand_checks(case: Case, result: SectionResult) -> tuple[HandCheck, ...]:
    """Every hand formula that applies to a section and has a computed figure to stand beside."""
    approach = _approach_key(case, result)
    return tuple(
        HandCheck(step, computed.value, computed.uncertainty, of.limit)
        for of in _BESIDE
        if of.key not in _APPROACHES or of.key == approach
        for number in range(len(result.patches) if of.of_patch else 1)
        if (step := result.by_hand.step(key_of(of.key, number))) is not None
        and (computed := of.computed(result, number)) is not None
    )


def contact_zones(number: int, body: str) -> set[str]:
    """The zones of a body about the contact of that number."""
    if body == "plate":
        return {UNDER_CONTACT}
    return {CONTACT, EDGE} if number == 0 else {SECOND_CONTACT, SECOND_EDGE}


def _at_contact(result: SectionResult, number: int, body: str) -> Value:
    """The peak of a body at a contact, or anywhere if the contact has none."""
    zones, one = contact_zones(number, body), _body(result, number, body)
    return next((peak for peak in one.places if peak.at.zone in zones), one.peak_von_mises)


def _body(result: SectionResult, number: int, body: str) -> BodyResult:
    return result.member if body == "post" else result.patches[number].plate


def _half_space(method: str, body: str) -> Iterator[_Beside]:
    """The peak of a body as a half-space, and the load at which it yields.

    In a corner the load at first yield is that of the first plate.
    """
    end = "" if body == "post" else "_plate"
    yield _Beside(
        f"{method}_peak_von_mises{end}",
        lambda result, number: _at_contact(result, number, body), HERTZ_LIMIT, of_patch=True,
    )  # fmt: skip
    yield _Beside(
        f"{method}_first_yield_line_load{end}",
        lambda result, number: _body(result, number, body).first_yield_line_load, 2.0 * HERTZ_LIMIT,
    )  # fmt: skip


def _bore(method: str, limit: float) -> Iterator[_Beside]:
    for place in ("under_load", "at_side"):
        yield _Beside(f"{method}_bore_{place}", partial(_value, key=f"bore_hoop_{place}"), limit)


def _value(result: SectionResult, number: int, key: str) -> Value | None:
    """The slice's own value where the contact is finite: the formulas are of a slice."""
    of_slice = result.values.get(f"slice_{key}")
    return result.values.get(key_of(key, number)) if of_slice is None else of_slice


_APPROACHES = ("approach", HOLD)

_BESIDE: tuple[_Beside, ...] = (
    _Beside("hertz_half_width", lambda r, n: r.patches[n].half_width, HERTZ_LIMIT, of_patch=True),
    _Beside(
        "hertz_peak_pressure",
        lambda r, n: r.patches[n].peak_contact_pressure,
        HERTZ_LIMIT,
        of_patch=True,
    ),
    *(
        of
        for body in ("post", "plate")
        for method in ("hertz", "sliding")
        for of in _half_space(method, body)
    ),
    *_bore("ring", EXACT_LIMIT),
    *_bore("thin_ring", RING_LIMIT),
    *_bore("curved_beam", RING_LIMIT),
    _Beside("disc_centre_along", partial(_value, key="centre_along"), EXACT_LIMIT),
    _Beside("disc_centre_across", partial(_value, key="centre_across"), EXACT_LIMIT),
    *(_Beside(key, lambda r, _: r.approach, APPROACH_LIMIT) for key in _APPROACHES),
    _Beside("layer_back_stress", lambda r, n: r.patches[n].back_stress, STRIP_LIMIT, of_patch=True),
    _Beside("strip_back_stress", lambda r, n: r.patches[n].back_stress, STRIP_LIMIT, of_patch=True),
    _Beside("strip_deflection", lambda r, n: r.patches[n].deflection, STRIP_LIMIT, of_patch=True),
)

HAND_KEYS = tuple(
    key_of(of.key, number) for of in _BESIDE for number in range(2 if of.of_patch else 1)
)
"""Keys of all hand values that may stand beside computed ones, ``_second`` in a corner."""


def _approach_key(case: Case, result: SectionResult) -> str | None:
    """The formula of the approach that is of the case: one load square to a plate on a base.

    A plate held at its edges bends, which is not in it. It is between the hold of the post and the
    plate's base, as computed: by the middle of the post it would be half a percent off where beam
    shear holds it.
    """
    contact = case.contact
    alone = case.corner is None and contact.friction == 0.0 and contact.angle == 0.0
    if not alone or not case.plate.support.base:
        return None
    return HOLD if case.support(result.section).axis else "approach"
