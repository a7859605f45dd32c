"""Stops worked out by hand: the cases, what is read of them, and the keys of their steps.

Lengths in mm, stresses in MPa. Keys are grouped by what a case must have for them to appear.
"""

import math
from dataclasses import replace
from pathlib import Path

import bodies
import pytest
from restated import restated

from contactfe.assess.by_hand.case import by_hand
from contactfe.case import Cantilever, Case, Corner, Standards

SOLID, TUBE = (150.0, None), (150.0, 25.0)
INFILL = {"infill": {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}}
MESH = {"mesh": str(Path(__file__).parents[1] / "meshes" / "ribbed-tube.msh")}
LENGTH = 200.0  # mm of contact
E_STAR = 200e3 / (2 * 0.91)  # plane strain, both of steel with ν = 0.3
P0 = math.sqrt(1500 * E_STAR / (math.pi * 75))
A = math.sqrt(4 * 1500 * 75 / (math.pi * E_STAR))


def stop(section=SOLID, *, cantilever=None, corner=None, corner_offset=0.0, **keys) -> Case:
    """A case of one section; ``cantilever`` is length, weld throat and electrode strength."""
    case = bodies.case([section], **keys)
    over = None if cantilever is None else LENGTH
    if corner is not None:
        case = replace(case, corner=Corner(corner, corner_offset, over))
    if cantilever is not None:
        case = restated(case, contact_length=over, cantilever=Cantilever(*cantilever))
    return case


def everything(
    *sections, corner=None, cantilever=True, families=("AISC", "AASHTO", "EN"), **keys
) -> Case:
    """A case that has all there is: a welded cantilever, all standards, all strengths."""
    case = bodies.case(
        list(sections) or [SOLID], **({"line_load": 400.0, "yield_strength": 345.0} | keys)
    )
    post, plate = (
        replace(body, steel=replace(body.steel, ultimate_strength=700.0))
        for body in (case.post, case.plate)
    )
    return restated(
        case, post=post, plate=plate, contact_length=LENGTH,
        corner=corner and Corner(corner, 0.0, LENGTH),
        cantilever=Cantilever(900.0, 10.0, 483.0) if cantilever else None,
        standards=Standards(families),
    )  # fmt: skip


def steps(*args, **keys):
    return by_hand(stop(*args, **keys)).sections[0]


def value(found, key: str) -> float:
    return found.value(key)


def close(expected: float, digits: float = 1e-9):
    return pytest.approx(expected, rel=digits)


def limit_of(found, key: str, what: str):
    return next(limit for limit in found.step(key).worked.limits if limit.what == what)


def passed(found, key: str) -> set[str]:
    return {limit.what for limit in found.step(key).worked.exceeded}


def of_both(*keys: str) -> set[str]:
    return {f"{key}{of}" for key in keys for of in ("", "_plate")}


def second(keys: set[str]) -> set[str]:
    return {f"{key}_second" for key in keys - {"contact_modulus"}}


def by_loads(keys: set[str]) -> set[str]:
    return {f"{key}{end}" for key in keys for end in ("", "_by_first", "_by_second")}


CONTACT = {
    "contact_modulus",
    "hertz_half_width",
    "hertz_peak_pressure",
    "greatest_roughness",
} | of_both(
    "hertz_peak_von_mises", "hertz_max_shear", "hertz_first_yield_line_load", "shakedown_line_load"
)
SLIDING = of_both("sliding_peak_von_mises", "sliding_edge_tension", "sliding_first_yield_line_load")
OF_AXIS = {"approach_of_axis", "approach_of_axis_post", "approach_of_axis_plate"}
"""Of a solid post that is held by beam shear."""
APPROACH = {"approach", "tangent_stiffness"} | OF_AXIS
DISC = {"disc_centre_along", "disc_centre_across"}
HOOP = {
    f"{method}_bore_{place}"
    for method in ("ring", "thin_ring", "curved_beam")
    for place in ("under_load", "at_side")
}
RING = {"ring_eccentricity"}
MINOR = {
    f"{what}_{place}"
    for what in ("thin_ring_moment", "ring_moment", "ring_thrust")
    for place in ("under_load", "at_side")
} - {"ring_moment_under_load"}
CHANGE = {"ring_change_along", "ring_change_across", "ring_moment_under_load"} | MINOR
LAYER = {"layer_base_pressure", "layer_back_stress"}
STRIP = {
    f"strip_{what}"
    for what in ("bending_stiffness", "shear_stiffness", "moment", "back_stress", "deflection")
}
WITH_FRICTION = {"strip_moment_with_friction", "strip_back_stress_with_friction"} | {
    f"strip_friction_{what}" for what in ("couple", "axial", "moment", "stress")
}
"""Of a strip whose contact has friction; more where its edges are clamped."""
WITH_FRICTION_CLAMPED = {
    "strip_edge_moment_with_friction", "strip_edge_stress_with_friction",
    "strip_friction_edge_moment", "strip_friction_edge_stress",
}  # fmt: skip
CLAMPED = STRIP | {"strip_edge_moment", "strip_edge_stress"}
SPRINGS = STRIP | {"strip_bending_deflection", "strip_settlement"}
ENDS = {"end_drop"}
"""Of a contact whose length is stated."""
RELIEF = {"best_wall", "best_wall_relief"}
POST = {"normal_force", "post_force"} | {
    f"post_{what}"
    for what in (
        "area", "second_moment", "elastic_modulus", "plastic_modulus", "root_moment",
        "bending_stress", "shear_stress", "von_mises", "deflection", "stiffness",
    )
}  # fmt: skip
TWIST = {"post_torque", "post_torsion_stress", "post_twisted_von_mises"}
WELD = {"weld_bending_stress", "weld_shear_stress", "weld_resultant_stress"}
ROUND = DISC | {"disc_centre_von_mises"} | APPROACH
