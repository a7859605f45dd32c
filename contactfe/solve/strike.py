"""A post on a plate, both of which may yield, along a path of line loads.

Each step is one semismooth Newton method. Both bodies are taken at their consistent tangents and
condensed to their contact lines as elastic ones are; the contact between these is solved exactly,
its touching nodes found by the primal-dual method of :mod:`.contact`; then the steel is returned to
its yield surface. Where nothing yields, the tangents are the elastic bodies, which are factored
already. Steps are shortened where the iteration does not converge.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from contactfe.errors import SolveError
from contactfe.solve.condense import CondensedBody, contact_load, respond, restiffened
from contactfe.solve.contact import RESIDUAL_LIMIT, solve_contact
from contactfe.solve.elastic import Floats
from contactfe.solve.joint import Joint, normal_system, rejoined
from contactfe.solve.mortar import Coupling
from contactfe.solve.patch import extent
from contactfe.solve.plasticity import PlasticState, Returned
from contactfe.solve.yielding import (
    YieldingBody,
    displaced,
    dissipated,
    inner_forces,
    stored,
    tangent,
)

MOST_ITERATIONS = 14
"""Of Newton's method in a step, which needs five to seven as a rule."""

EASY = 5
"""Iterations of a step up to which the next one may be longer, by ``LONGER``."""

LONGER = 1.5

_LEAST_STEP = 1 / 64
"""Shortest step over the one asked for: where that does not converge, none is found."""


@dataclass(frozen=True)
class Striking:
    """A post and a plate that may yield, and their joint as elastic bodies."""

    joint: Joint
    bodies: tuple[YieldingBody, YieldingBody]

    @property
    def coupling(self) -> Coupling:
        """That of the contact line."""
        return self.joint.couplings[0]


@dataclass(frozen=True)
class BodyState:
    """A body in equilibrium: displacement (2N,) mm, stress (elements, 3, 6) MPa, plastic state."""

    u: Floats
    stress: Floats
    plastic: PlasticState


@dataclass(frozen=True)
class StrikeState:
    """Post and plate in equilibrium under a line load, N/mm.

    ``x`` (n,) mm and ``pressure`` (n,) MPa are along the post's line; ``approach`` mm is that of
    the post's hold to the plate's. ``work`` put in, energy ``stored`` and ``dissipated`` since the
    path began, N mm/mm: in balance where nothing is beside the plane. ``yielding`` says of either
    body how many Gauss points yielded in the step that led here; ``balance`` is the largest force
    out of balance over the line load.
    """

    line_load: float
    approach: float
    x: Floats
    pressure: Floats
    centre: float
    half_width: float
    bodies: tuple[BodyState, BodyState]
    work: float
    stored: float
    dissipated: float
    yielding: tuple[int, int]
    iterations: int
    balance: float

    @property
    def peak_pressure(self) -> float:
        """Largest contact pressure, MPa."""
        return float(self.pressure.max())


def at_rest(of: Striking) -> StrikeState:
    """Post and plate before the first strike, just apart."""
    bodies = tuple(
        BodyState(np.zeros(b.body.unknowns), np.zeros((*b.points, 6)), b.virgin) for b in of.bodies
    )
    line = of.joint.member.lines[0]
    return StrikeState(
        0.0, 0.0, line.x, np.zeros_like(line.x), 0.0, 0.0, (bodies[0], bodies[1]),
        0.0, 0.0, 0.0, (0, 0), 0, 0.0,
    )  # fmt: skip


def path(
    of: Striking, start: StrikeState, to: float, step: float, measure: float
) -> Iterator[StrikeState]:
    """The states from one to a line load, N/mm, more or less than its own, step by step.

    ``step`` N/mm is the longest; ``measure`` N/mm is the load that residuals are held against.
    Raises SolveError where no equilibrium is found within the shortest step.
    """
    at, before, length = start, None, step
    while at.line_load != to:
        left = to - at.line_load
        # Two even steps rather than a long one and a rest.
        share = abs(left) / length
        ahead = left if share <= 1.0 else left / 2.0 if share < 2.0 else np.sign(left) * length
        goal = to if ahead == left else at.line_load + float(ahead)
        try:
            found = equilibrium(of, at, goal, measure, before)
        except SolveError:
            if before is not None:  # first from where it stands, without looking ahead
                before = None
                continue
            length = abs(ahead) / 2.0
            if length < _LEAST_STEP * step:
                raise
            continue
        # Looking ahead helps as long as loading goes on in the same way.
        before, at = (at if sum(found.yielding) else None), found
        if at.iterations <= EASY:
            length = min(LONGER * length, step)
        yield at


def equilibrium(
    of: Striking,
    start: StrikeState,
    line_load: float,
    measure: float,
    before: StrikeState | None = None,
) -> StrikeState:
    """Equilibrium under a line load, N/mm, reached from a state in one step.

    The iteration starts at that state or, given the one ``before`` it, where both point to.

    Raises
    ------
    SolveError
        if Newton's method does not converge
    """
    u = [body.u for body in start.bodies]
    if before is not None:
        ahead = (line_load - start.line_load) / (start.line_load - before.line_load)
        u = [b.u + ahead * (b.u - a.u) for a, b in zip(before.bodies, start.bodies, strict=True)]
    steel, touching = _steel(of, u, start, line_load), start.pressure > 0.0
    for iteration in range(1, MOST_ITERATIONS + 1):
        try:
            step = _linear(of, u, steel, line_load, touching)
        except (SolveError, np.linalg.LinAlgError):
            break  # a tangent that is singular, or a contact that does not settle on it
        u, touching = step.u, step.pressure > 0.0
        steel = _steel(of, u, start, line_load)
        balance = _out_of_balance(of, step, steel, line_load) / measure
        if balance <= RESIDUAL_LIMIT:
            return _state(of, start, line_load, step, steel, (iteration, balance))
        if not np.isfinite(balance):
            break
    raise SolveError(f"the steel found no equilibrium at {line_load:g} N/mm")


@dataclass(frozen=True)
class _Step:
    """What a step of Newton's method finds: of each body its displacement, the nodal forces of
    contact on it, and the reactions of its supports.
    """

    u: list[Floats]
    loads: list[Floats]
    amplitudes: list[Floats]
    pressure: Floats
    approach: float


def _linear(
    of: Striking,
    u: list[Floats],
    steel: tuple[Returned, Returned],
    line_load: float,
    touching: NDArray[np.bool_],
) -> _Step:
    """Contact of the bodies at their tangents."""
    tangents, pseudo = [], []
    for body, moved, at in zip(of.bodies, u, steel, strict=True):
        soft = at.yields.any()
        K = tangent(body, at) if soft else body.body.stiffness
        tangents.append(restiffened(body.body, K) if soft else body.body)
        pseudo.append(K @ moved - inner_forces(body, at.stress, line_load))
    pressure, approach = _contact(of, tangents, pseudo, line_load, touching)
    loads = _loads(of, pressure)
    answers = [
        respond(body, load + more) for body, load, more in zip(tangents, loads, pseudo, strict=True)
    ]
    return _Step([a for a, _ in answers], loads, [r for _, r in answers], pressure, approach)


def _steel(
    of: Striking, u: list[Floats], start: StrikeState, line_load: float
) -> tuple[Returned, Returned]:
    post, plate = (
        displaced(body, moved, state.plastic, line_load)
        for body, moved, state in zip(of.bodies, u, start.bodies, strict=True)
    )
    return post, plate


def _loads(of: Striking, pressure: Floats) -> list[Floats]:
    """Nodal forces (2N,) of contact on post and plate."""
    nil, coupling = np.zeros_like(pressure), of.coupling
    back = -coupling.transfer.T @ pressure
    return [
        contact_load(of.joint.member, coupling.weight * pressure, nil),
        contact_load(of.joint.plates[0], back, np.zeros_like(back)),
    ]


def _contact(
    of: Striking,
    tangents: list[CondensedBody],
    pseudo: list[Floats],
    line_load: float,
    touching: NDArray[np.bool_],
) -> tuple[Floats, float]:
    """Pressure (n,) MPa and approach, mm, of bodies at their tangents.

    ``pseudo`` are the nodal forces that the tangents need to stand where the bodies do.
    """
    elastic = all(one is body.body for one, body in zip(tangents, of.bodies, strict=True))
    joint = of.joint if elastic else rejoined(of.joint, *tangents)
    system, coupling = normal_system(joint), of.coupling
    rise, sink = (
        respond(body, load)[0].reshape(-1, 2)[body.lines[0].nodes, 1]
        for body, load in zip(tangents, pseudo, strict=True)
    )
    if (np.diag(system.compliance) <= 0.0).any():
        raise SolveError("the steel gives way under the contact")
    gap = system.gap + coupling.weight * rise - coupling.transfer @ sink
    if line_load == 0.0:  # the limit of ever less load: the first node touches
        return np.zeros_like(gap), float((gap / system.weight).min())
    solved = solve_contact(replace(system, gap=gap), np.array([line_load]), touching)
    return solved.pressure, float(solved.rigid_displacement[0])


def _extent(x: Floats, pressure: Floats, weight: Floats) -> tuple[float, float]:
    """Centre and half-width of a patch: those of :func:`.extent`, between the nodes at its ends.

    On steel that flows pressure falls more steeply at the edge than what is fitted there.
    """
    centre, half_width = extent(x, pressure, weight)
    touching = np.flatnonzero(pressure > 0.0)
    first, last = touching[0], touching[-1]
    left = np.clip(centre - half_width, x[max(first - 1, 0)], x[first])
    right = np.clip(centre + half_width, x[last], x[min(last + 1, len(x) - 1)])
    return float(left + right) / 2.0, float(right - left) / 2.0


def _out_of_balance(
    of: Striking, step: _Step, steel: tuple[Returned, Returned], line_load: float
) -> float:
    """Largest nodal force out of balance at anything that is free, N/mm."""
    most = 0.0
    parts = zip(of.bodies, steel, step.u, step.loads, step.amplitudes, strict=True)
    for body, at, moved, load, reaction in parts:
        of_body = body.body
        left = inner_forces(body, at.stress, line_load) - load
        left -= of_body.supported.patterns.T @ reaction
        left[of_body.hold.fixed] = 0.0
        # Rounding of element forces that cancel at a node: in a slender body they are large.
        rounding = 1e-13 * (abs(of_body.stiffness) @ np.abs(moved)).max()
        most = max(most, np.abs(left).max() - rounding)
    return float(most)


def _state(
    of: Striking,
    start: StrikeState,
    line_load: float,
    step: _Step,
    steel: tuple[Returned, Returned],
    found: tuple[int, float],
) -> StrikeState:
    """The state that a converged step leads to, in ``found`` iterations and balance."""
    line = of.joint.member.lines[0]
    post, plate = (
        BodyState(moved, at.stress, at.state) for moved, at in zip(step.u, steel, strict=True)
    )
    centre, half_width = 0.0, 0.0
    if line_load > 0.0:
        centre, half_width = _extent(line.x, step.pressure, of.coupling.weight)
    done = (start.line_load + line_load) / 2.0 * (step.approach - start.approach)
    heat = sum(
        dissipated(body, state.plastic, at)
        for body, state, at in zip(of.bodies, start.bodies, steel, strict=True)
    )
    kept = sum(
        stored(body, at.stress, at.state) + float(body.body.supported.compliances @ r**2) / 2.0
        for body, at, r in zip(of.bodies, steel, step.amplitudes, strict=True)
    )
    return StrikeState(
        line_load, step.approach, line.x, step.pressure, centre, half_width, (post, plate),
        start.work + done, kept, start.dissipated + heat,
        (int(steel[0].yields.sum()), int(steel[1].yields.sum())), *found,
    )  # fmt: skip
