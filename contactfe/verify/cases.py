"""The solved cases of the verification set, each solved once for all that is read off it.

A solution holds a state and its fields and is kept; bodies, which are large, are kept only where
several solutions share them, and then few.
"""

from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from typing import Literal

import numpy as np

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies, beside
from contactfe.assess.reading import Reading
from contactfe.assess.results import SectionResult
from contactfe.assess.section import assess_section
from contactfe.case import Case, case_from_dict
from contactfe.hand import hertz
from contactfe.hand.check import HeldBy, State
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading
from contactfe.section.mesher import mesh_member
from contactfe.section.outlines import MemberOutline
from contactfe.solve import holds
from contactfe.solve.condense import BENEATH, condense
from contactfe.solve.contact import path_of_touching
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.field import StressField, sample
from contactfe.solve.friction import FrictionState, FrictionSystem, follow
from contactfe.solve.joint import (
    Joint,
    JointState,
    friction_system,
    join,
    member_fields,
    plate_field,
    solve_joint,
)
from contactfe.verify.bodies import STEEL, block, plate, post, post_on_core

RADIUS = 75.0
E_STAR = float(hertz.contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain"))
"""Of steel on steel in plane strain."""


@dataclass(frozen=True)
class Solution:
    """A solved joint: its state, the stress of the post by part, and that of the first plate."""

    state: JointState
    post: dict[str, StressField]
    plate: StressField


def solution(joint: Joint, state: JointState) -> Solution:
    """The fields of a solved joint, without its bodies."""
    return Solution(state, member_fields(joint, state), plate_field(joint, state))


def peak(field: StressField) -> float:
    """Greatest von Mises stress of a field, MPa."""
    return float(sample(field).von_mises.max())


def at(field: StressField, x: float, y: float) -> Floats:
    """Stress σx, σy, σz, τxy, MPa, at the node nearest to a point."""
    nodes = field.mesh.doflocs
    stress: Floats = field.stress[np.argmin((nodes[0] - x) ** 2 + (nodes[1] - y) ** 2)]
    return stress


def come_together(field: StressField, low: float, high: float) -> float:
    """How far two places on the load line, y in mm, come together, mm, by their nearest nodes."""
    x, y = field.mesh.doflocs[:2]
    ends = [field.displacement[np.argmin(x**2 + (y - at) ** 2), 1] for at in (low, high)]
    return float(ends[0] - ends[1])


def hertz_load(ratio: float, E_star: float = E_STAR, radius: float = RADIUS) -> float:
    """Line load, N/mm, that gives a/R = ratio: a² = 4 q R/(π E*)."""
    return float(np.pi * E_star * radius * ratio**2 / 4.0)


def hertz_pressure(ratio: float, E_star: float = E_STAR) -> float:
    """Peak pressure p0, MPa, at a/R = ratio."""
    return float(hertz.peak_pressure(hertz_load(ratio, E_star), RADIUS, E_star))


# --- whole cases, as a case file states them ------------------------------------------------------


def round_case(
    diameter: float,
    wall: float | None,
    line_load: float,
    *,
    plate_size: tuple[float, float],
    held_by: HeldBy = "beam shear",
    post_steel: tuple[float, float] = (200e3, 0.3),
    plate_steel: tuple[float, float] = (200e3, 0.3),
    yield_strength: float = 690.0,
    state: State = "plane strain",
) -> Case:
    """One round, its plate on a rigid base; steels as Young's modulus and ν, mm, and q in N/mm."""
    section = {"name": "round", "outside_diameter": f"{diameter!r} mm"}
    if wall is not None:
        section["wall"] = f"{wall!r} mm"

    def material(young: float, poisson: float) -> dict[str, object]:
        strength = f"{yield_strength!r} MPa"
        return {"young": f"{young!r} MPa", "poisson": poisson, "yield": strength}

    width, thickness = plate_size
    return case_from_dict(
        {
            "title": "Verification",
            "post": {"held_by": held_by, **material(*post_steel)},
            "plate": {
                "width": f"{width!r} mm", "thickness": f"{thickness!r} mm", "held_by": "rigid base",
                **material(*plate_steel),
            },
            "load": {"line_load": f"{line_load!r} N/mm"},
            "model": {"state": state},
            "section": [section],
        }
    )  # fmt: skip


@cache
def large_solid(
    line_load: float,
    diameter: float = 2.0 * RADIUS,
    post_steel: tuple[float, float] = (200e3, 0.3),
    plate_steel: tuple[float, float] = (200e3, 0.3),
    yield_strength: float = 690.0,
    state: State = "plane strain",
) -> SectionResult:
    """A solid on a plate so thick and wide that both are all but half-spaces at their contact."""
    case = round_case(
        diameter, None, line_load, plate_size=(6.0 * diameter, 3.0 * diameter),
        post_steel=post_steel, plate_steel=plate_steel, yield_strength=yield_strength, state=state,
    )  # fmt: skip
    return assess_section(case, case.sections[0], Bodies(case))


@cache
def ring(ratio: float, held_by: HeldBy, line_load: float) -> Reading:
    """A tube of 150 mm with that bore ratio, solid where it is 0, on a plate of 400 × 60 mm."""
    wall = RADIUS * (1.0 - ratio) if ratio else None
    case = round_case(2.0 * RADIUS, wall, line_load, held_by=held_by, plate_size=(400.0, 60.0))
    return solve_levels(case, case.sections[0], Bodies(case)).fine.reading


# --- joints ---------------------------------------------------------------------------------------


@cache
def pressed_blocks(line_load: float) -> Solution:
    """Two blocks of 2 mm by 1 mm pressed flat on each other, with meshes that do not match."""
    top = block(np.linspace(-1, 1, 7), np.linspace(0, 1, 4), "bottom", "midplane")
    base = block(np.linspace(-1, 1, 11), np.linspace(-1, 0, 5), "top", "back")
    joint = join(
        condense(top, STEEL, holds.diametral(top)), condense(base, STEEL, holds.rigid_base(base))
    )
    return solution(joint, solve_joint(joint, line_load))


@cache
def unlike(upper: Elastic, lower: Elastic, ratio: float) -> Solution:
    """A solid on a thick wide plate of another material, at a/R = ratio."""
    modulus = float(
        hertz.contact_modulus(upper.young, upper.poisson, lower.young, lower.poisson, upper.state)
    )
    a = ratio * RADIUS
    joint = join(
        post(RADIUS, 0.0, a, "beam shear", steel=upper),
        plate(900.0, 450.0, a, steel=lower),
        radius=RADIUS,
    )
    return solution(joint, solve_joint(joint, hertz_load(ratio, modulus)))


SPAN, THICKNESS, STRIP_LOAD, SPRING = 480.0, 50.0, 200.0, 900.0
"""The plate held at its edges, mm, its line load, N/mm, and its line springs, N/mm per mm."""

Edges = Literal["simply supported", "clamped", "elastic supports"]


@cache
def held_plate(kind: Edges, offset: float, friction: float = 0.0) -> Solution:
    """A plate held at its edges under a solid; the post is stiff, so its load is a line.

    With ``friction`` the solid slides along it, towards −x where that is negative.
    """
    spring, slides = SPRING if kind == "elastic supports" else np.inf, friction != 0.0
    edges = partial(holds.edges, kind=kind, spring=spring)
    joint = join(
        post(RADIUS, 0.0, 0.6, "beam shear", 2.0, tangential=slides),
        plate(SPAN, THICKNESS, 0.6, edges, offset=offset, tangential=slides),
        radius=RADIUS,
    )
    angle = float(np.copysign(STEEP, friction)) if slides else 0.0
    return solution(joint, solve_joint(joint, STRIP_LOAD, angle=angle, friction=abs(friction)))


def back_of_plate(
    solved: Solution, offset: float, depth: float = THICKNESS
) -> tuple[Floats, Floats, Floats]:
    """Places from the plate's middle, mm, deflection, mm, and σx, MPa, along the plate's back.

    Or along its impacted face, at a ``depth`` of 0.
    """
    field = solved.plate
    x, y = field.mesh.doflocs
    back = np.flatnonzero(np.isclose(y, -depth))
    back = back[np.argsort(x[back])]
    return x[back] + offset, -field.displacement[back, 1], field.stress[back, 0]


# --- friction -------------------------------------------------------------------------------------

STEEP = 1.2
"""Angle of the direction of motion, rad: far beyond the angle of friction, so that all slides."""


@lru_cache(maxsize=2)
def sliding_joint(ratio: float, scale: float = 1.0) -> Joint:
    """A solid on a thick wide plate, meshed for a/R = ratio, with friction to come."""
    a = ratio * RADIUS
    return join(
        post(RADIUS, 0.0, a, "beam shear", scale, tangential=True),
        plate(900.0, 450.0, a, scale=scale, tangential=True),
        radius=RADIUS,
    )


@cache
def sliding(ratio: float, friction: float, scale: float = 1.0) -> Solution:
    """That solid moved along the plate towards +x until all of the contact slides."""
    joint = sliding_joint(ratio, scale)
    return solution(joint, solve_joint(joint, hertz_load(ratio), angle=STEEP, friction=friction))


SLIP_RATIO, SLIP_FRICTION = 0.0025, 0.6
"""a/R and coefficient of friction of the post that is pressed on and then pushed along."""


@cache
def pressed() -> FrictionState:
    """The state of that contact under its normal load alone."""
    system = friction_system(sliding_joint(SLIP_RATIO), 0.0)
    path = path_of_touching(system.normal, np.array([hertz_load(SLIP_RATIO)]))
    return follow(system, SLIP_FRICTION, path)


@cache
def pushed(mobilised: float, steps: int = 16) -> FrictionState:
    """The state when friction then acted on the plate towards +x with ``mobilised`` · µq."""
    plain, q = friction_system(sliding_joint(SLIP_RATIO), 0.0), hertz_load(SLIP_RATIO)
    tangential = -SLIP_FRICTION * q * mobilised * np.arange(1, steps + 1) / steps
    path = np.column_stack([np.full(steps, q), tangential])
    return follow(_by_force(plain), SLIP_FRICTION, path, pressed())


def _by_force(plain: FrictionSystem) -> FrictionSystem:
    """The contact with a tangential load on the member given beside the normal one."""
    w, zero = plain.weight, np.zeros_like(plain.weight)
    return replace(
        plain,
        rigid_displacement=np.stack(
            [np.concatenate([-w, zero]), np.concatenate([zero, w])], axis=1
        ),
        resultant=np.stack([np.concatenate([w, zero]), np.concatenate([zero, w])]),
    )


# --- corner, and filled tube ----------------------------------------------------------------------

CORNER_LOADS = (200.0, 120.0)
CORNER_BORE = 45.0


@lru_cache(maxsize=2)
def corner_joint(bore: float, tangential: bool = False) -> Joint:
    """A post between two plates on rigid bases at right angles, the second at +x."""
    outline = MemberOutline(RADIUS, bore)
    widths = [float(hertz.half_width(q, RADIUS, E_STAR)) for q in CORNER_LOADS]
    first, second = (Patch(0.0, a) for a in widths)
    mesh = to_skfem(mesh_member(outline, member_grading(outline, first, 1.0, (), second)))
    frames = dict(BENEATH) | {"contact side": beside(RADIUS)}
    member = condense(mesh, STEEL, holds.beam_shear(mesh, STEEL), frames, tangential)
    plates = [plate(400.0, 200.0, a, tangential=tangential) for a in widths]
    return join(member, *plates, radius=RADIUS)


@cache
def corner(bore: float) -> tuple[Solution, StressField]:
    """That corner without friction, and the stress of its second plate."""
    joint = corner_joint(bore)
    state = solve_joint(joint, *CORNER_LOADS)
    return solution(joint, state), plate_field(joint, state, 1)


FILLED_BORE, FILLED_LOAD = 50.0, 400.0
FAINT = Elastic(1.0, 0.3)
CONCRETE = Elastic(30e3, 0.2)
HARD = Elastic(600e3, 0.35)
RIGID = Elastic(200e3 * 1e5, 0.3)


@cache
def filled(held_by: HeldBy, infill: Elastic | None, bore: float = FILLED_BORE) -> Solution:
    """A tube with an infill bonded into it, or empty, on a plate of 400 × 60 mm on a rigid base."""
    joint = join(
        post(RADIUS, bore, 0.6, held_by, infill=infill), plate(400.0, 60.0, 0.6), radius=RADIUS
    )
    return solution(joint, solve_joint(joint, FILLED_LOAD))


@cache
def on_core() -> Solution:
    """The same tube, empty, bonded to a rigid core."""
    joint = join(post_on_core(RADIUS, FILLED_BORE, 0.6), plate(400.0, 60.0, 0.6), radius=RADIUS)
    return solution(joint, solve_joint(joint, FILLED_LOAD))
