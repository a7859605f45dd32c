"""A member and the plates it touches, solved at any load and friction without factoring again."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import block_diag

from contactfe.errors import SolveError
from contactfe.solve.condense import CondensedBody, contact_load, imbalance, respond
from contactfe.solve.contact import (
    RESIDUAL_LIMIT,
    ContactSystem,
    path_of_touching,
    solve_contact,
)
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField, stress_field
from contactfe.solve.friction import OPEN, STICK, FrictionSystem, follow
from contactfe.solve.mortar import Coupling, couple
from contactfe.solve.patch import between, extent, runs
from contactfe.solve.reactions import Reaction, reactions, unbalanced
from contactfe.solve.recovery import Solved

SlipState = Literal["no friction", "sticking", "partial slip", "full sliding"]


@dataclass(frozen=True)
class Joint:
    """A member with a plate for each of its contact lines, and their couplings.

    Plates are modelled in the axes of their line: x along the plate, y into the member.
    ``compliance`` (n, n) or, with tangential components, (2n, 2n) is that of all the bodies
    together in terms of nodal pressures and tractions, in mm²/MPa: normals first, line after line.
    """

    member: CondensedBody
    plates: tuple[CondensedBody, ...]
    couplings: tuple[Coupling, ...]
    compliance: Floats

    @property
    def unknowns(self) -> int:
        """Displacement unknowns of all bodies."""
        return self.member.unknowns + sum(plate.unknowns for plate in self.plates)

    @property
    def weight(self) -> Floats:
        """Weights of the nodes of all lines (n,), mm."""
        return np.concatenate([c.weight for c in self.couplings])


@dataclass(frozen=True)
class PatchState:
    """One line of contact in equilibrium.

    ``x`` (n,) mm and ``pressure`` (n,) MPa along the member's line, between nodes quadratic;
    ``traction`` (n,) MPa that the member exerts on the plate along +x, ``slip`` (n,) mm by which it
    has moved on it, ``regime`` (n,) open, stick or slip; ``line_load`` and ``tangential_load`` in
    N/mm are their resultants; ``parts`` what each part of the patch does, as ``patch.runs`` has it;
    ``centre`` and ``half_width`` of the patch in mm; displacement
    (2N,) mm of the plate, ``reactions`` on it.
    """

    line_load: float
    tangential_load: float
    x: Floats
    weight: Floats
    pressure: Floats
    traction: Floats
    slip: Floats
    regime: NDArray[np.int8]
    centre: float
    half_width: float
    parts: tuple[tuple[int, float, float], ...]
    motion: SlipState
    plate_displacement: Floats
    plate_amplitudes: Floats
    reactions: tuple[Reaction, ...]


@dataclass(frozen=True)
class JointState:
    """All bodies in equilibrium; the joint itself, which is large, is not kept here.

    ``rigid_displacement`` (2,) mm is that of the member's hold, ``approach`` mm its part towards
    the first plate's hold; ``member_displacement`` (2N,) mm is measured from the hold's mean
    displacement. ``force_balance`` is the largest relative error of nodal forces and of resultants,
    ``complementarity`` that of the contact conditions; ``iterations`` are those of all ``steps``.
    """

    patches: tuple[PatchState, ...]
    rigid_displacement: Floats
    member_displacement: Floats
    member_amplitudes: Floats
    member_reactions: tuple[Reaction, ...]
    iterations: int
    steps: int
    force_balance: float
    complementarity: float

    @property
    def patch(self) -> PatchState:
        """The first patch, the only one unless the post is in a corner."""
        return self.patches[0]

    @property
    def approach(self) -> float:
        """Displacement of the member's hold towards the hold of the first plate, mm."""
        return -float(self.rigid_displacement[1])


def join(
    member: CondensedBody, *plates: CondensedBody, radius: float = np.inf, moved: float = 0.0
) -> Joint:
    """Couple a member, round of ``radius`` mm where it touches (flat by default), with its plates.

    The initial gap is the circle's own, R − √(R² − x²), not that of its mesh. Tangential
    components are kept where all bodies have them. ``moved`` mm is how far the member has
    moved along its plates, towards their +x, from where they were meshed for it.
    """

    def initial_gap(x: Floats) -> Floats:
        return x**2 / (radius + np.sqrt(radius**2 - x**2)) if np.isfinite(radius) else 0.0 * x

    couplings = []
    for line, plate in zip(member.lines, plates, strict=True):
        (other,) = plate.lines
        there = other.x - moved
        couplings.append(couple(line.x, line.edges, there, other.edges, initial_gap))
    return _joined(member, plates, tuple(couplings))


def rejoined(joint: Joint, member: CondensedBody, *plates: CondensedBody) -> Joint:
    """The joint of bodies that differ from its own in nothing but stiffness."""
    return _joined(member, plates, joint.couplings)


def _joined(
    member: CondensedBody, plates: tuple[CondensedBody, ...], couplings: tuple[Coupling, ...]
) -> Joint:
    """The bodies with what they give way by together."""
    both = member.tangential and all(plate.tangential for plate in plates)
    components = 2 if both else 1
    n = member.candidates
    w = np.tile(np.concatenate([c.weight for c in couplings]), components)
    S = w[:, None] * member.compliance[: components * n, : components * n] * w
    starts = np.cumsum([0, *(len(c.weight) for c in couplings)])
    for coupling, plate, start, end in zip(couplings, plates, starts, starts[1:], strict=False):
        m = len(plate.lines[0].nodes)
        M = block_diag(*[coupling.transfer] * components)
        P = M @ plate.compliance[: components * m, : components * m] @ M.T
        at = np.concatenate([np.arange(start, end) + k * n for k in range(components)])
        S[np.ix_(at, at)] += P
    return Joint(member, plates, couplings, (S + S.T) / 2)


def normal_system(joint: Joint) -> ContactSystem:
    """The contact problem without friction; the displacement is that towards each of the plates."""
    n = joint.member.candidates
    _, rigid_displacement, resultant = _loading(joint, 0.0)
    gap = np.concatenate([c.gap for c in joint.couplings])
    return ContactSystem(
        joint.compliance[:n, :n], joint.weight, gap, rigid_displacement[:n], resultant[:, :n]
    )


def friction_system(joint: Joint, angle: float) -> FrictionSystem:
    """The contact problem with friction; one plate is met at ``angle`` (rad) from its normal."""
    _, rigid_displacement, resultant = _loading(joint, angle)
    gap = np.concatenate([c.gap for c in joint.couplings])
    return FrictionSystem(joint.compliance, joint.weight, gap, rigid_displacement, resultant)


def solve_joint(
    joint: Joint, *line_loads: float, angle: float = 0.0, friction: float = 0.0
) -> JointState:
    """Equilibrium under a line load (N/mm) normal to each plate.

    ``angle`` (rad) is that between the member's displacement and the normal of its only plate,
    towards +x; between two plates the displacement follows from the loads. ``friction`` is the
    coefficient μ.

    Raises
    ------
    ValueError
        if the loads do not suit the plates, or friction meets bodies condensed without it
    SolveError
        if the contact does not settle or the forces do not balance to ``RESIDUAL_LIMIT``
    """
    loads = np.array(line_loads, dtype=float)
    if len(loads) != len(joint.plates):
        raise ValueError(f"{len(joint.plates)} line loads are needed, not {len(loads)}")
    n = joint.member.candidates
    directions, _, _ = _loading(joint, angle)
    if friction > 0.0:
        if len(joint.compliance) == n:
            raise ValueError("friction needs bodies condensed with tangential components")
        system = friction_system(joint, angle)
        path = path_of_touching(system.normal, loads)
        found = follow(system, friction, path)
        force = np.concatenate([found.pressure, found.traction])
        slip, regime, steps = found.slip, found.regime, len(path)
        rigid_displacement, iterations, residual = (
            found.rigid_displacement,
            found.iterations,
            found.complementarity,
        )
    else:
        plain = solve_contact(normal_system(joint), loads)
        force = np.concatenate([plain.pressure, np.zeros(n)])
        slip, steps = np.zeros(n), 1
        regime = np.where(plain.pressure > 0.0, STICK, OPEN).astype(np.int8)
        rigid_displacement, iterations, residual = (
            plain.rigid_displacement,
            plain.iterations,
            plain.complementarity,
        )
    return _state(
        joint,
        force,
        slip,
        regime,
        directions @ rigid_displacement,
        friction,
        (iterations, steps, residual),
    )


def _loading(joint: Joint, angle: float) -> tuple[Floats, Floats, Floats]:
    """Directions (2, k), weighted gap and slip per mm along each (2n, k), resultants (k, 2n).

    The unknowns of the displacement are those towards each plate.
    """
    lines = joint.member.lines
    if len(lines) == 1:
        tangent, normal = lines[0].frame.axes
        directions = (np.tan(angle) * tangent - normal)[:, None]
    else:
        directions = -np.linalg.inv(np.stack([line.frame.axes[1] for line in lines]))
    n, k = joint.member.candidates, len(lines)
    rigid_displacement, resultant = np.zeros((2 * n, k)), np.zeros((k, 2 * n))
    start = 0
    for number, (line, coupling) in enumerate(zip(lines, joint.couplings, strict=True)):
        at = np.arange(start, start + len(coupling.weight))
        tangent, normal = line.frame.axes
        rigid_displacement[at] = np.outer(coupling.weight, normal @ directions)
        rigid_displacement[n + at] = np.outer(coupling.weight, tangent @ directions)
        resultant[number, at] = coupling.weight
        start = at[-1] + 1
    return directions, rigid_displacement, resultant


def _state(
    joint: Joint,
    force: Floats,
    slip: Floats,
    regime: NDArray[np.int8],
    rigid_displacement: Floats,
    friction: float,
    found: tuple[int, int, float],
) -> JointState:
    """Displacements and reactions of all bodies under the contact forces, after a balance check."""
    member, n = joint.member, joint.member.candidates
    load = contact_load(member, joint.weight * force[:n], joint.weight * force[n:])
    u, amplitudes = respond(member, load)
    on_member = reactions(member, load, u, amplitudes)
    errors = [imbalance(member, load, u, amplitudes), unbalanced(member, load, on_member)]
    patches, start = [], 0
    for line, plate, coupling in zip(member.lines, joint.plates, joint.couplings, strict=True):
        at = slice(start, start + len(line.nodes))
        start = at.stop
        p, t = force[:n][at], force[n:][at]
        back = contact_load(plate, -coupling.transfer.T @ p, -coupling.transfer.T @ t)
        v, held = respond(plate, back)
        on_plate = reactions(plate, back, v, held)
        errors += [imbalance(plate, back, v, held), unbalanced(plate, back, on_plate)]
        centre, half_width = extent(line.x, p, coupling.weight)
        touching = regime[at] != OPEN
        parts = tuple(runs(line.x[touching], regime[at][touching], half_width))
        patches.append(
            PatchState(
                line_load=float(coupling.weight @ p),
                tangential_load=0.0 - float(coupling.weight @ t),
                x=line.x, weight=coupling.weight, pressure=p, traction=-t,
                slip=slip[at], regime=regime[at], centre=centre, half_width=half_width,
                parts=parts, motion=_motion(regime[at], parts, friction),
                plate_displacement=v, plate_amplitudes=held, reactions=on_plate,
            )
        )  # fmt: skip
    balance = max(errors)
    if not balance <= RESIDUAL_LIMIT:
        raise SolveError(f"forces are out of balance by {balance:.1e} of the line load")
    iterations, steps, residual = found
    return JointState(
        tuple(patches),
        rigid_displacement,
        u,
        amplitudes,
        on_member,
        iterations,
        steps,
        balance,
        residual,
    )


def _motion(
    regime: NDArray[np.int8], parts: tuple[tuple[int, float, float], ...], friction: float
) -> SlipState:
    """What a patch does as a whole. It slides in full only if every node of it slips."""
    if friction == 0.0:
        return "no friction"
    if not np.any(regime == STICK):
        return "full sliding"
    return "sticking" if all(of == STICK for of, _, _ in parts) else "partial slip"


def member_fields(joint: Joint, state: JointState) -> dict[str, StressField]:
    """Recovered stress of the member, by the name of its parts."""
    body = joint.member
    contact = np.zeros((body.unknowns // 2, 2))
    for line, patch in zip(body.lines, state.patches, strict=True):
        tangent, normal = line.frame.axes
        contact[line.nodes] = np.outer(patch.pressure, normal) - np.outer(patch.traction, tangent)
    solved = Solved(body, state.member_displacement, contact, state.member_amplitudes)
    return {part.name: stress_field(solved, part) for part in body.parts}


def plate_field(joint: Joint, state: JointState, number: int = 0) -> StressField:
    """Recovered stress of a plate, whose traction is the member's read at the plate's nodes."""
    body, patch = joint.plates[number], state.patches[number]
    (line,) = body.lines
    contact = np.zeros((body.unknowns // 2, 2))
    contact[line.nodes, 0] = between(patch.x, patch.traction, line.x)
    contact[line.nodes, 1] = -np.maximum(between(patch.x, patch.pressure, line.x), 0.0)
    solved = Solved(body, patch.plate_displacement, contact, patch.plate_amplitudes)
    return stress_field(solved, body.parts[0])
