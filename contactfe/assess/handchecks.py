"""Hand formulas beside the computed figures, with a line on why they differ where they do."""

import numpy as np

from contactfe.assess.level import Reading
from contactfe.assess.places import CONTACT, EDGE, UNDER_CONTACT
from contactfe.assess.results import BodyResult, HandCheck
from contactfe.case import Case, Section
from contactfe.case.units import Dimension
from contactfe.hand import hertz, ring, thick_ring

HERTZ_LIMIT = 0.01
"""Relative difference above which a Hertz value is explained: a half-space is not a finite body."""

RING_LIMIT = 0.03
"""The same for thin-ring and curved-beam formulas."""

EXACT_LIMIT = 0.01
"""The same for exact solutions, which take a point load for the patch and are exact otherwise."""

_JOHNSON = "Johnson, Contact Mechanics (1985), {}: from memory, not seen"
_DERIVED = "plane elasticity, derived here"


def hand_checks(
    case: Case, section: Section, reading: Reading, member: BodyResult, plate: BodyResult
) -> tuple[HandCheck, ...]:
    """Every hand formula that applies to a section, beside the figure it estimates."""
    return _hertz(case, section, reading, member, plate) + (
        _solid(case, section, reading)
        if section.bore_radius == 0.0
        else _tube(case, section, reading)
    )


def contact_modulus(case: Case, section: Section) -> float:
    """E* of the steels of a section and its plate, in the plane state of the case, MPa."""
    a, b = case.post_material(section), case.plate_material
    return hertz.contact_modulus(a.young, a.poisson, b.young, b.poisson, case.state)


def _hertz(
    case: Case, section: Section, reading: Reading, member: BodyResult, plate: BodyResult
) -> tuple[HandCheck, ...]:
    a, b = case.post_material(section), case.plate_material
    E_star = contact_modulus(case, section)
    width = float(hertz.half_width(case.line_load, section.radius, E_star))
    p0 = float(hertz.peak_pressure(case.line_load, section.radius, E_star))
    why = _why_not_half_space(case, section, reading.half_width)
    checks = [
        _check(
            "hertz_half_width", "half-width, Hertz", "length", width, reading.half_width,
            HERTZ_LIMIT, why, _JOHNSON.format("eq. 4.43"),
        ),
        _check(
            "hertz_peak_pressure", "peak pressure, Hertz", "stress", p0, reading.peak_pressure,
            HERTZ_LIMIT, why, _JOHNSON.format("eq. 4.45"),
        ),
    ]  # fmt: skip
    for key, label, steel, result, added in (
        ("hertz_peak_von_mises", "peak von Mises in the post, Hertz", a, member,
         reading.member_added),
        ("hertz_peak_von_mises_plate", "peak von Mises in the plate, Hertz", b, plate,
         reading.plate_added),
    ):  # fmt: skip
        peak, _ = hertz.peak_von_mises(p0, steel.poisson, case.state)
        at_contact = (p for p in result.places if p.zone in {CONTACT, EDGE, UNDER_CONTACT})
        contact = next(at_contact, result.places[0])
        body = "post" if result is member else "plate"
        reason = (
            f"bending and finite size of the {body} add {case.display.stress.signed(added)} along"
            " the surface at the contact, which a half-space does not have"
        )
        checks.append(
            _check(
                key, label, "stress", peak, contact.von_mises, HERTZ_LIMIT, reason,
                _JOHNSON.format("eqs 4.46, 6.4"),
            )
        )  # fmt: skip
        first = float(
            hertz.first_yield_line_load(
                steel.yield_strength, section.radius, E_star, steel.poisson, case.state
            )
        )
        if result.peak.zone not in {CONTACT, EDGE, UNDER_CONTACT}:
            reason = f"the {body} yields first at the {result.peak.zone}, not at the contact"
        if result.first_yield_line_load is not None:
            checks.append(
                _check(
                    key.replace("peak_von_mises", "first_yield_line_load"),
                    label.replace("peak von Mises", "line load at first yield"),
                    "line load", first, result.first_yield_line_load, 2.0 * HERTZ_LIMIT, reason,
                    _JOHNSON.format("eqs 6.4, 6.6"),
                )
            )  # fmt: skip
    return tuple(checks)


def _tube(case: Case, section: Section, reading: Reading) -> tuple[HandCheck, ...]:
    assert section.wall is not None
    assert reading.bore_hoop is not None
    q, r, h, hold = case.line_load, section.radius, section.wall, case.held_by
    angles = np.array([0.0, np.pi / 2.0])
    mean = r - h / 2.0
    exact = thick_ring.bore_hoop(
        q, r, section.bore_radius, angles, hold, case.post_material(section).poisson, case.state
    )
    methods = (
        (
            "ring", "exact series", EXACT_LIMIT, _DERIVED,
            exact,
            f"the patch is {reading.half_width / h:.2f} of the wall wide from its middle to its"
            " edge; the series takes the load at a point",
        ),
        (
            "thin_ring", "thin ring", RING_LIMIT, "ring statics, derived here",
            ring.thin_ring_hoop(q, r, h, angles, hold),
            f"the wall is {h / mean:.2f} of the mean radius; thin-ring bending is for up to 0.1",
        ),
        (
            "curved_beam", "curved beam", RING_LIMIT, "Winkler and Bach, any text on curved beams",
            ring.curved_beam_hoop(q, r, h, angles, hold),
            "plane sections are assumed to stay plane, which they do not so near the load in a wall"
            f" of {h / mean:.2f} of the mean radius",
        ),
    )  # fmt: skip
    return tuple(
        _check(
            f"{key}_bore_{place}", f"hoop stress, bore {where}, {label}", "stress",
            float(hand), fe, limit, why, source,
        )
        for key, label, limit, source, hoop, why in methods
        for place, where, hand, fe in zip(
            ("under_load", "at_side"), ("under load", "at side"), hoop, reading.bore_hoop,
            strict=True,
        )
    )  # fmt: skip


def _solid(case: Case, section: Section, reading: Reading) -> tuple[HandCheck, ...]:
    assert reading.centre is not None
    across, along = thick_ring.disc_centre_stress(
        case.line_load, section.outside_diameter, case.held_by
    )
    why = "the exact value is for a load at a point"
    return tuple(
        _check(key, label, "stress", hand, fe, EXACT_LIMIT, why, _DERIVED)
        for key, label, hand, fe in (
            ("disc_centre_along", "centre stress along the load, disc", along, reading.centre[0]),
            (
                "disc_centre_across",
                "centre stress across the load, disc",
                across,
                reading.centre[1],
            ),
        )
    )


def _why_not_half_space(case: Case, section: Section, half_width: float) -> str:
    """Which of the lengths that Hertz takes as endless is nearest to the half-width."""
    lengths = {
        "radius": section.radius,
        "plate's thickness": case.plate.thickness,
        "plate's half width": case.plate.width / 2.0,
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
    fe: float,
    limit: float,
    why: str,
    source: str,
) -> HandCheck:
    difference = hand / fe - 1.0
    remark = why if abs(difference) > limit else ""
    return HandCheck(key, label, dimension, hand, fe, difference, remark, source)
