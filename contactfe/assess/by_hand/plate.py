"""A plate by hand: a strip in bending between its edges, or a layer on its rigid base."""

from collections.abc import Iterator

from contactfe.assess.by_hand.record import Step, Topic
from contactfe.assess.by_hand.struck import Struck
from contactfe.case import Case
from contactfe.hand import layer, strip, strip_deflection
from contactfe.hand.formula import Limit, Worked, added, at_most


def plate_steps(case: Case, struck: Struck, half_width: float) -> Iterator[Step]:
    """One plate, struck over a patch of that half-width, mm."""
    topic: Topic = "plate" if struck.number == 0 else "second plate"
    steps = _layer if case.plate.held_by == "bedded" else _strip
    for key, label, worked, against in steps(case, struck, half_width):
        yield Step(f"{key}{struck.end}", topic, f"{label}{struck.of_second}", worked, against)


_Found = Iterator[tuple[str, str, Worked, float | None]]


def _layer(case: Case, struck: Struck, half_width: float) -> _Found:
    q, t = struck.line_load, case.plate.thickness
    limits = layer.layer_limits(t, case.plate.width / 2.0 - abs(struck.at), half_width)
    yield (
        "layer_base_pressure", "peak pressure on the base, layer",
        layer.rigid_base_pressure.worked(q, t).also(*limits), None,
    )  # fmt: skip
    yield (
        "layer_back_stress", "stress at the plate's back, layer",
        layer.rigid_base_stress.worked(q, t).also(*limits),
        case.plate_material.yield_strength,
    )  # fmt: skip


def _strip(case: Case, struck: Struck, half_width: float) -> _Found:
    plate, steel = case.plate, case.plate_material
    q, at = struck.line_load, struck.at
    t, span = plate.thickness, plate.width
    bending = strip.bending_stiffness.worked(t, steel.young, steel.poisson, case.state)
    shear = strip.shear_stiffness.worked(t, steel.young, steel.poisson)
    D, S = bending.value, shear.value
    ratio = _shear_ratio(case)
    moment = plate_moment(case, struck)
    if plate.held_by == "clamped edges":
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
    yield "strip_moment", "bending moment under the load, strip", moment.also(*limits), None
    back = strip.back_stress.worked(moment.value, q, t)
    Y = steel.yield_strength
    limits = (*limits, at_most("σ/Y", abs(back.value) / Y, 1.0))
    if plate.held_by == "clamped edges":
        edge = strip.edge_moment.worked(q, span, at, ratio)
        stress = strip.bending_stress.worked(edge.value, t)
        limits = (*limits, at_most("σ/Y at the edge", abs(stress.value) / Y, 1.0))
    back = back.also(*limits)
    yield "strip_back_stress", "stress at the plate's back, strip", back, Y
    if plate.held_by == "clamped edges":
        edge, stress = edge.also(*limits), stress.also(*limits)
        yield "strip_edge_moment", "bending moment at the nearer edge, strip", edge, None
        yield "strip_edge_stress", "stress at the nearer edge, strip", stress, Y
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
    yield "strip_settlement", "movement on the springs, strip", moved, None
    total = added(
        "strip_deflection.deflection_on_springs", "deflection under the load", "w", bent, moved
    )
    yield "strip_deflection", label, total.also(*limits), None


def plate_moment(case: Case, struck: Struck) -> Worked:
    """Moment under the load of a plate between its edges."""
    q, at, span = struck.line_load, struck.at, case.plate.width
    if case.plate.held_by == "clamped edges":
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
    """How far the strip bends and turns; what springs let it move does not strain it."""
    edges: strip.Edges = "clamped" if case.plate.held_by == "clamped edges" else "supported"
    slope = float(strip_deflection.slope(at, q, case.plate.width, at, edges, D, S))
    return strip_deflection.movement_limits(bent, slope, case.plate.thickness)
