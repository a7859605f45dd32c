"""A plate by hand: a strip in bending between its edges, or a layer on its rigid base."""

import math
from collections.abc import Iterator

from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.record import Step, Topic
from contactfe.case import Case
from contactfe.hand import layer, plate_along, strip, strip_deflection, strip_friction
from contactfe.hand.formula import Limit, Worked, added, at_most

_MINOR = {"strip_friction_couple"} | {
    f"strip_friction_{end}{what}" for end in ("", "edge_") for what in ("moment", "stress")
}
"""Steps that only lead to what a strip has with friction."""


def plate_steps(case: Case, impacted: ImpactedPlate, half_width: float) -> Iterator[Step]:
    """One plate, struck over a patch of that half-width, mm; nothing where no formula holds."""
    topic: Topic = "plate" if impacted.number == 0 else "second plate"
    support = case.plate.support
    if not support.base and support.strip is None:
        return
    steps = _layer if support.base else _strip
    for key, label, worked, against in steps(case, impacted, half_width):
        named, minor = f"{label}{impacted.of_second}", key in _MINOR
        yield Step(f"{key}{impacted.end}", topic, named, worked, against, minor)


_Found = Iterator[tuple[str, str, Worked, float | None]]
"""Key, label, what was worked out, and what it is measured by."""


def _layer(case: Case, impacted: ImpactedPlate, half_width: float) -> _Found:
    q, t = impacted.line_load, case.plate.thickness
    limits = layer.layer_limits(t, case.plate.width / 2.0 - abs(impacted.at), half_width)
    yield (
        "layer_base_pressure", "peak pressure on the base, layer",
        layer.rigid_base_pressure.worked(q, t).also(*limits), None,
    )  # fmt: skip
    yield (
        "layer_back_stress", "stress at the plate's back, layer",
        layer.rigid_base_stress.worked(q, t).also(*limits),
        case.plate_material.yield_strength,
    )  # fmt: skip


def _strip(case: Case, impacted: ImpactedPlate, half_width: float) -> _Found:
    plate, steel = case.plate, case.plate_material
    q, at = impacted.line_load, impacted.at
    t, span = plate.thickness, plate.width
    bending = strip.bending_stiffness.worked(t, steel.young, steel.poisson, case.state)
    shear = strip.shear_stiffness.worked(t, steel.young, steel.poisson)
    D, S = bending.value, shear.value
    clamped = plate.support.strip == "clamped"
    if clamped:
        bent = strip_deflection.clamped_deflection.worked(q, span, at, D, S)
    else:
        bent = strip_deflection.supported_deflection.worked(q, span, at, D, S)
    limits = (
        *strip.geometry_limits(t, span, at),
        *strip.patch_limits(half_width, t),
        *_movement(case, q, at, bent.value, D, S),
    )
    yield "strip_bending_stiffness", "bending stiffness, strip", bending, None
    yield "strip_shear_stiffness", "shear stiffness, strip", shear, None
    under = list(_bent(case, impacted))
    edge = list(_bent(case, impacted, at_edge=True)) if clamped else []
    Y = steel.yield_strength
    yielded = [at_most("σ/Y", abs(under[-1][2].value) / Y, 1.0)]
    if clamped:
        yielded.append(at_most("σ/Y at the edge", abs(edge[-1][2].value) / Y, 1.0))
    for key, label, worked, against in under:
        more = yielded if worked.dimension == "stress" else ()
        yield key, label, worked.also(*limits, *more), against
    for key, label, worked, against in _along_the_post(case, impacted, under):
        yield key, label, worked.also(*limits), against
    limits = (*limits, *yielded)
    for key, label, worked, against in edge:
        yield key, label, worked.also(*limits), against
    label = "deflection of the plate's back, strip"
    if plate.spring is None:
        yield "strip_deflection", label, bent.also(*limits), None
        return
    moved = strip_deflection.settlement_under_load.worked(q, span, at, plate.spring)
    yield (
        "strip_bending_deflection",
        "deflection between the edges, strip",
        bent.also(*limits),
        None,
    )
    yield "strip_settlement", "movement on the elastic supports, strip", moved, None
    total = added(
        "strip_deflection.deflection_on_springs", "deflection under the load", "w", bent, moved
    )
    yield "strip_deflection", label, total.also(*limits), None


def _bent(case: Case, impacted: ImpactedPlate, *, at_edge: bool = False) -> _Found:
    """Moment and stress under the load, or at the nearer clamped edge; the last is the greatest."""
    q, at, span, t = impacted.line_load, impacted.at, case.plate.width, case.plate.thickness
    mu, Y, ratio = case.contact.friction, case.plate_material.yield_strength, _shear_ratio(case)
    if at_edge:
        moment = strip.edge_moment.worked(q, span, at, ratio)
        stress = strip.bending_stress.worked(moment.value, t)
        end, place, beside, key = "edge_", "at the nearer edge", "at the nearer edge", "strip_edge"
    else:
        moment = plate_moment(case, impacted)
        stress = strip.back_stress.worked(moment.value, q, t)
        end, place, beside, key = "", "under the load", "beside the load", "strip_back"
    yield f"strip_{end}moment", f"bending moment {place}, strip", moment, None
    face = place if at_edge else "at the plate's back"
    yield f"{key}_stress", f"stress {face}, strip", stress, Y
    if mu == 0.0:
        return
    couple = strip_friction.couple.worked(q, mu, t)
    C = couple.value
    if case.plate.support.strip == "clamped":
        axial = strip_friction.clamped_axial_force.worked(q, mu, span, at)
        turns = strip_friction.edge_moment if at_edge else strip_friction.clamped_moment
        turned = turns.worked(C, span, at, ratio)
    else:
        axial = strip_friction.shared_axial_force.worked(q, mu)
        turned = strip_friction.supported_moment.worked(C, span, at)
    if not at_edge:
        yield "strip_friction_couple", "couple of the friction force, strip", couple, None
        yield "strip_friction_axial", "axial force of the friction force, strip", axial, None
    yield f"strip_friction_{end}moment", f"moment of the couple {beside}, strip", turned, None
    total = added("strip_friction.moment", "moment with friction", "M", moment, turned)
    yield (
        f"strip_{end}moment_with_friction",
        f"moment {beside} with friction, strip",
        total,
        None,
    )
    signed = math.copysign(axial.value, turned.value)
    by = strip_friction.friction_stress.worked(turned.value, signed, t)
    yield f"strip_friction_{end}stress", f"stress by friction {beside}, strip", by, None
    total = added("strip_friction.stress", "stress with friction", "σx", stress, by)
    yield f"{key}_stress_with_friction", f"stress {beside} with friction, strip", total, Y


def along_known(case: Case) -> bool:
    """Whether the bending of the plate along the post is known by hand.

    That of supported edges which do not give way, without friction, under a contact of known
    length.
    """
    plate = case.plate
    held = plate.support.strip == "supported" and plate.spring is None
    return held and case.contact.friction == 0.0 and None not in case.contact_lengths


def _along_the_post(
    case: Case, impacted: ImpactedPlate, under: list[tuple[str, str, Worked, float | None]]
) -> _Found:
    """Moment and stress along the post, and the yield of both stresses, of the peak line load.

    ``under`` begins with the moment across and ends with the stress of the back across.
    """
    length, plate, steel = impacted.contact_length, case.plate, case.plate_material
    if not along_known(case) or length is None:
        return
    moment = plate_along.along_moment.worked(
        under[0][2].value, length, plate.width, impacted.at, steel.poisson
    )
    stress = plate_along.along_stress.worked(moment.value, plate.thickness)
    both = plate_along.von_mises.worked(under[-1][2].value, stress.value)
    yield "strip_along_moment", "bending moment along the post, plate", moment, None
    yield "strip_along_stress", "stress at the plate's back along the post", stress, None
    label = "von Mises stress at the plate's back, across and along"
    yield "strip_along_von_mises", label, both, steel.yield_strength


def plate_moment(case: Case, impacted: ImpactedPlate) -> Worked:
    """Moment under the load of a plate between its edges."""
    q, at, span = impacted.line_load, impacted.at, case.plate.width
    if case.plate.support.strip == "clamped":
        return strip.clamped_moment.worked(q, span, at, _shear_ratio(case))
    return strip.supported_moment.worked(q, span, at)


def _shear_ratio(case: Case) -> float:
    plate, steel = case.plate, case.plate_material
    D = strip.bending_stiffness(plate.thickness, steel.young, steel.poisson, case.state)
    S = strip.shear_stiffness(plate.thickness, steel.young, steel.poisson)
    return strip.shear_ratio(plate.width, D, S)


def _movement(
    case: Case, q: float, at: float, bent: float, D: float, S: float
) -> tuple[Limit, ...]:
    """How far the strip bends and turns; what elastic supports let it move does not strain it."""
    edges = case.plate.support.strip
    assert edges is not None  # of a strip
    slope = float(strip_deflection.slope(at, q, case.plate.width, at, edges, D, S))
    return strip_deflection.movement_limits(bent, slope, case.plate.thickness)
