"""Hand formulas beside the computed figures, with a line on why they differ where they do."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from contactfe.assess.level import Reading, line_loads, offsets
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE, UNDER_CONTACT
from contactfe.assess.results import BodyResult, HandCheck, PatchResult, Value
from contactfe.case import Case, Material, Section
from contactfe.case.units import Dimension
from contactfe.hand import hertz, ring, sliding, strip, thick_ring
from contactfe.hand.check import Array

HERTZ_LIMIT = 0.01
"""Relative difference above which a Hertz value is explained: a half-space is not a finite body."""

RING_LIMIT = 0.03
"""The same for thin-ring and curved-beam formulas."""

STRIP_LIMIT = 0.03
"""The same for the plate as a strip."""

EXACT_LIMIT = 0.01
"""The same for exact solutions, which take a point load for the patch and are exact otherwise."""

Hoops = tuple[Value, Value]
"""Two computed stresses, MPa: under the load and at the side, or along and across the load."""

_JOHNSON = "Johnson, Contact Mechanics (1985), {}: from memory, not seen"
_DERIVED = "plane elasticity, derived here"
_SLIDING = (
    "McEwen, Phil. Mag. 40 (1949); Smith and Liu, J. Appl. Mech. 20 (1953): from memory, not seen"
)
_STRIP = "Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1: from memory, not seen"


def hand_checks(
    case: Case,
    section: Section,
    reading: Reading,
    member: BodyResult,
    patches: tuple[PatchResult, ...],
    bore_hoop: Hoops | None,
    centre: Hoops | None,
) -> tuple[HandCheck, ...]:
    """Every hand formula that applies to a section, beside the figure it estimates."""
    checks: list[HandCheck] = []
    for number in range(len(patches)):
        checks += _hertz(case, section, reading, member, patches, number)
    if case.hold(section) != "stiff core" and section.infill is None:
        if section.shape == "tube" and bore_hoop is not None:
            checks += _tube(case, section, reading, bore_hoop)
        elif section.shape == "solid" and centre is not None:
            checks += _solid(case, section, centre)
    if case.plate.held_by != "bedded":
        for number in range(len(patches)):
            checks += _strip(case, patches[number], number)
    return tuple(checks)


def contact_modulus(case: Case, section: Section) -> float:
    """E* of the steels of a section and its plate, in the plane state of the case, MPa."""
    a, b = case.post_material(section), case.plate_material
    return hertz.contact_modulus(a.young, a.poisson, b.young, b.poisson, case.state)


def _hertz(
    case: Case,
    section: Section,
    reading: Reading,
    member: BodyResult,
    patches: tuple[PatchResult, ...],
    number: int,
) -> list[HandCheck]:
    """Hertz for one patch; with friction the peak is that of a contact which slides."""
    patch, of = patches[number], reading.patches[number]
    key_end, of_second = ("", "") if number == 0 else ("_second", ", second plate")
    a, b = case.post_material(section), case.plate_material
    E_star = contact_modulus(case, section)
    q, mu = patch.line_load, case.contact.friction
    width = float(hertz.half_width(q, section.radius, E_star))
    p0 = float(hertz.peak_pressure(q, section.radius, E_star))
    why = _why_not_half_space(case, section, number, of.half_width)
    with_friction = "" if mu == 0.0 else ", and friction,"
    checks = [
        _check(
            f"hertz_half_width{key_end}", f"half-width, Hertz{of_second}", "length", width,
            patch.half_width, HERTZ_LIMIT, why, _JOHNSON.format("eq. 4.43"),
        ),
        _check(
            f"hertz_peak_pressure{key_end}", f"peak pressure, Hertz{of_second}", "stress", p0,
            patch.peak_pressure, HERTZ_LIMIT, why, _JOHNSON.format("eq. 4.45"),
        ),
    ]  # fmt: skip
    on_post = {CONTACT, EDGE} if number == 0 else {SECOND_CONTACT, SECOND_EDGE}
    for body, steel, result, added, zones in (
        ("post", a, member, of.member_added, on_post),
        ("plate", b, patch.plate, of.plate_added, {UNDER_CONTACT}),
    ):
        contact = next(
            (
                Value(place.von_mises, blur)
                for place, blur in zip(result.places, result.blurs, strict=True)
                if place.zone in zones
            ),
            Value(result.peak.von_mises, result.uncertainty),
        )
        reason = (
            f"bending and finite size of the {body}{with_friction} add"
            f" {case.display.stress.signed(added)} along the surface at the contact, which a"
            " half-space does not have"
        )
        end = ("" if body == "post" else "_plate") + key_end
        for method in _half_space(case, steel, section.radius, E_star, p0):
            if mu > 0.0 and method.key == "hertz":
                why = "friction is left out"
            elif mu > 0.0 and patch.motion != "full sliding":
                why = f"not all friction is at work, the contact being in {patch.motion}; {reason}"
            else:
                why = reason
            checks.append(
                _check(
                    f"{method.key}_peak_von_mises{end}",
                    f"peak von Mises in the {body}, {method.label}{of_second}",
                    "stress", method.peak, contact, HERTZ_LIMIT, why, method.peak_source,
                )
            )  # fmt: skip
            if result.peak.zone not in zones:
                this = "the contact" if len(patches) == 1 else "this contact"
                why = f"the {body} yields first at the {result.peak.zone}, not at {this}"
            # In a corner the load that is stated at first yield is that of the first plate.
            if number == 0 and (yields_at := _first_yield(result)) is not None:
                checks.append(
                    _check(
                        f"{method.key}_first_yield_line_load{end}",
                        f"line load at first yield in the {body}, {method.label}", "line load",
                        method.first_yield, yields_at, 2.0 * HERTZ_LIMIT, why,
                        method.yield_source,
                    )
                )  # fmt: skip
    return checks


def _first_yield(body: BodyResult) -> Value | None:
    load, blur = body.first_yield_line_load, body.first_yield_uncertainty
    return None if load is None or blur is None else Value(load, blur)


@dataclass(frozen=True)
class _HalfSpace:
    """Peak von Mises stress, MPa, and line load at first yield, N/mm, of a half-space."""

    key: str
    label: str
    peak: float
    first_yield: float
    peak_source: str
    yield_source: str


def _half_space(
    case: Case, steel: Material, radius: float, E_star: float, p0: float
) -> Iterator[_HalfSpace]:
    """The contact alone, without friction and, where the case has some, sliding."""
    Y, nu, mu, state = steel.yield_strength, steel.poisson, case.contact.friction, case.state
    peak, _ = hertz.peak_von_mises(p0, nu, state)
    first = float(hertz.first_yield_line_load(Y, radius, E_star, nu, state))
    yield _HalfSpace(
        "hertz", "Hertz", peak, first,
        _JOHNSON.format("eqs 4.46, 6.4"), _JOHNSON.format("eqs 6.4, 6.6"),
    )  # fmt: skip
    if mu > 0.0:
        peak, *_ = sliding.peak_von_mises(p0, mu, nu, state)
        first = float(sliding.first_yield_line_load(Y, radius, E_star, mu, nu, state))
        yield _HalfSpace("sliding", "full sliding", peak, first, _SLIDING, _SLIDING)


def _tube(case: Case, section: Section, reading: Reading, bore_hoop: Hoops) -> list[HandCheck]:
    assert section.wall is not None
    r, h = section.radius, section.wall
    hold = case.hold(section)
    assert hold != "stiff core"
    angles = np.array([0.0, np.pi / 2.0])
    mean = r - h / 2.0
    poisson = case.post_material(section).poisson

    def over_loads(hoop: Callable[[float, Array], Array]) -> Array:
        """Each load by itself and added: a second one strikes a quarter turn on."""
        both = zip(line_loads(case), (0.0, np.pi / 2.0), strict=False)
        total: Array = np.sum([hoop(q, angles - turn) for q, turn in both], axis=0)
        return total

    exact = over_loads(
        lambda q, at: thick_ring.bore_hoop(q, r, section.bore_radius, at, hold, poisson, case.state)
    )
    also = "" if case.contact.friction == 0.0 else "friction is left out; "
    methods = (
        (
            "ring", "exact series", EXACT_LIMIT, _DERIVED,
            exact,
            f"{also}the patch is {reading.half_width / h:.2f} of the wall wide from its middle to"
            " its edge; the series takes the load at a point",
        ),
        (
            "thin_ring", "thin ring", RING_LIMIT, "ring statics, derived here",
            over_loads(lambda q, at: ring.thin_ring_hoop(q, r, h, at, hold)),
            f"{also}the wall is {h / mean:.2f} of the mean radius; thin-ring bending is for up to"
            " 0.1",
        ),
        (
            "curved_beam", "curved beam", RING_LIMIT, "Winkler and Bach, any text on curved beams",
            over_loads(lambda q, at: ring.curved_beam_hoop(q, r, h, at, hold)),
            f"{also}plane sections are assumed to stay plane, which they do not so near the load in"
            f" a wall of {h / mean:.2f} of the mean radius",
        ),
    )  # fmt: skip
    return [
        _check(
            f"{key}_bore_{place}", f"hoop stress, bore {where}, {label}", "stress",
            float(hand), fe, limit, why, source,
        )
        for key, label, limit, source, hoop, why in methods
        for place, where, hand, fe in zip(
            ("under_load", "at_side"), ("under load", "at side"), hoop, bore_hoop,
            strict=True,
        )
    ]  # fmt: skip


def _solid(case: Case, section: Section, centre: Hoops) -> list[HandCheck]:
    hold = case.hold(section)
    assert hold != "stiff core"
    across, along = thick_ring.disc_centre_stress(case.line_load, section.outside_diameter, hold)
    if case.corner is not None:  # the second load, a quarter turn on, adds the same turned
        second = thick_ring.disc_centre_stress(
            case.corner.line_load, section.outside_diameter, hold
        )
        across, along = across + second[1], along + second[0]
    why = "the exact value is for a load at a point"
    return [
        _check(key, label, "stress", hand, fe, EXACT_LIMIT, why, _DERIVED)
        for key, label, hand, fe in (
            ("disc_centre_along", "centre stress along the load, disc", along, centre[0]),
            (
                "disc_centre_across",
                "centre stress across the load, disc",
                across,
                centre[1],
            ),
        )
    ]


def _strip(case: Case, patch: PatchResult, number: int) -> list[HandCheck]:
    """The plate as a strip in bending: stress at its back and deflection under the load."""
    plate, steel, q = case.plate, case.plate_material, patch.line_load
    at = offsets(case)[number] + patch.centre.value
    edges: strip.Edges = "clamped" if plate.held_by == "clamped edges" else "supported"
    t, span = plate.thickness, plate.width
    D = strip.bending_stiffness(t, steel.young, steel.poisson, case.state)
    S = strip.shear_stiffness(t, steel.young, steel.poisson)
    ratio = 12.0 * D / (S * span**2)
    M = float(strip.moment(at, q, span, at, edges, ratio))
    w = float(strip.deflection(at, q, span, at, edges, D, S))
    if plate.spring is not None:
        w += float(strip.settlement(at, q, span, at, plate.spring))
    why = (
        f"a strip in bending; the thickness is {t / span:.2f} of the span, and the nearer edge"
        f" {(span / 2 - abs(at)) / t:.1f} thicknesses from the load"
    )
    end, of_second = ("", "") if number == 0 else ("_second", ", second plate")
    return [
        _check(
            f"strip_back_stress{end}", f"stress at the plate's back, strip{of_second}", "stress",
            float(strip.back_stress(M, q, t)), patch.back, STRIP_LIMIT, why, _STRIP,
        ),
        _check(
            f"strip_deflection{end}", f"deflection of the plate's back, strip{of_second}",
            "length", w, patch.deflection, STRIP_LIMIT, why, _STRIP,
        ),
    ]  # fmt: skip


def _why_not_half_space(case: Case, section: Section, number: int, half_width: float) -> str:
    """Which of the lengths that Hertz takes as endless is nearest to the half-width."""
    lengths = {
        "radius": section.radius,
        "plate's thickness": case.plate.thickness,
        "distance to the plate's edge": case.plate.width / 2.0 - abs(offsets(case)[number]),
    }
    if section.wall is not None:
        lengths["wall"] = section.wall
    name = min(lengths, key=lambda k: lengths[k])
    return (
        f"the half-width is {half_width / lengths[name]:.3f} of the {name}, which Hertz takes as"
        " endless"
    )


def _check(
    key: str,
    label: str,
    dimension: Dimension,
    hand: float,
    fe: Value,
    limit: float,
    why: str,
    source: str,
) -> HandCheck:
    difference = hand / fe.value - 1.0
    remark = why if abs(difference) > limit else ""
    return HandCheck(
        key, label, dimension, hand, fe.value, fe.uncertainty, difference, remark, source
    )
