"""Unilateral contact with Coulomb friction, followed along a path of loads.

At every node of a contact line the pressure p and the traction t on the member obey

    p ≥ 0,  g ≥ 0,  p g = 0,      |t| ≤ μ p,  the slip of a step is zero or opposes t = ±μ p.

Friction remembers: what a node does in a step depends on where it stuck before, so the loads are
applied in steps, and each is solved by implicit steps on the slip (backward Euler). Within a
step the state of every node, open, sticking or slipping either way, is found by a primal-dual
active set on both components at once, a semismooth Newton method (Hüeber, Stadler, Wohlmuth, SIAM
J. Sci. Comput. 30 (2008) 572: abstract seen). Where its states go round in a circle, it begins
anew with gaps and slips given more weight beside forces; what solves a step does not depend on that
weight, the path to it does. Last comes the fixed point over given friction bounds (Kunisch and
Stadler, M2AN 39 (2005) 827: abstract seen).
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular
from scipy.optimize import lsq_linear

from contactfe.errors import SolveError
from contactfe.solve.contact import RESIDUAL_LIMIT, ContactSystem, solve_contact
from contactfe.solve.elastic import Floats

OPEN, STICK, SLIP = 0, 1, 2
"""What a node of a contact line does."""

_WEIGHTS = (1.0, 10.0, 100.0, 1000.0)
"""Weights of gaps and slips beside forces, tried in turn. Of 58 000 steps on meshed bodies, one in
fifty went in circles with the first of them and one in 6000 with every one."""

_MOST_ITERATIONS = 60
_MOST_EXCHANGES = 400
_UNDECIDED = 1e-10


@dataclass(frozen=True)
class FrictionSystem:
    """Condensed contact problem of n nodes, normal components first, under k loads.

    ``compliance`` S (2n, 2n) mm²/MPa, ``weight`` w (n,) mm, ``gap`` g0 (n,) mm²,
    ``rigid_displacement`` T (2n, k) mm per mm of each unknown of the displacement, ``resultant`` L
    (k, 2n) mm.
    """

    compliance: Floats
    weight: Floats
    gap: Floats
    rigid_displacement: Floats
    resultant: Floats

    @property
    def normal(self) -> ContactSystem:
        """The same without tangential components."""
        n = len(self.weight)
        return ContactSystem(
            self.compliance[:n, :n],
            self.weight,
            self.gap,
            self.rigid_displacement[:n],
            self.resultant[:, :n],
        )


@dataclass(frozen=True)
class FrictionState:
    """A step of the path: what the nodes carry and where they are.

    ``pressure`` and ``traction`` (n,) MPa, the latter on the member along the line's tangent;
    ``slip`` (n,) mm, how far the member has moved along the plate since the first load;
    ``regime`` (n,) OPEN, STICK or SLIP; ``rigid_displacement`` (k,) mm; ``iterations`` of the
    whole path; ``complementarity`` the largest relative residual of its steps.
    """

    pressure: Floats
    traction: Floats
    slip: Floats
    regime: NDArray[np.int8]
    rigid_displacement: Floats
    iterations: int
    complementarity: float


def untouched(system: FrictionSystem) -> FrictionState:
    """The state before any load."""
    n, k = len(system.weight), system.rigid_displacement.shape[1]
    nothing = np.zeros(n)
    return FrictionState(nothing, nothing, nothing, np.zeros(n, dtype=np.int8), np.zeros(k), 0, 0.0)


def follow(
    system: FrictionSystem, friction: float, path: Floats, start: FrictionState | None = None
) -> FrictionState:
    """The state at the end of a path of loads (steps, k), N/mm.

    ``friction`` is the coefficient μ; ``start`` the state that the path begins from, by default
    none at all.

    Raises
    ------
    SolveError
        if the states of the nodes do not settle, or a residual exceeds ``RESIDUAL_LIMIT``
    """
    state = untouched(system) if start is None else start
    for loads in path:
        state = _step(system, friction, loads, state)
    return state


@dataclass(frozen=True)
class _Guess:
    """States of the nodes: which touch, and to which side they slip: −1, 0 (stick) or 1."""

    touching: NDArray[np.bool_]
    side: NDArray[np.int8]

    @property
    def key(self) -> bytes:
        return self.touching.tobytes() + self.side.tobytes()


def _step(
    system: FrictionSystem, friction: float, loads: Floats, last: FrictionState
) -> FrictionState:
    guess = _Guess(last.regime != OPEN, np.zeros(len(last.regime), dtype=np.int8))
    if not guess.touching.any():
        first = solve_contact(system.normal, loads)
        guess = replace(guess, touching=first.pressure > 0.0)
    for weight in _WEIGHTS:
        state = _settled(system, friction, loads, last, guess, weight)
        if state is not None:
            return state
    if not np.any(system.resultant[:, len(system.weight) :]):
        guess = _by_exchange(system, friction, loads, last)
        state = _settled(system, friction, loads, last, guess, 1.0)
        if state is not None:
            return state
    raise SolveError(
        f"contact with friction did not settle at {', '.join(f'{q:g}' for q in loads)} N/mm:"
        " a finer mesh or a smaller friction coefficient is needed"
    )


def _settled(
    system: FrictionSystem,
    friction: float,
    loads: Floats,
    last: FrictionState,
    guess: _Guess,
    weight: float,
) -> FrictionState | None:
    """The state at ``loads`` from a guess of the nodes' states; None if these do not settle."""
    n, S = len(system.weight), system.compliance
    scale = weight / np.mean(np.diag(S))
    normal = system.resultant[np.any(system.resultant[:, :n] > 0.0, axis=1), :n]
    seen: set[bytes] = set()
    for iteration in range(1, _MOST_ITERATIONS + 1):
        try:
            force, rigid_displacement = _on_states(system, friction, loads, guess, last.slip)
        except np.linalg.LinAlgError:
            return None
        strained = S @ force
        moved = strained + system.rigid_displacement @ rigid_displacement
        gap, slip = moved[:n] + system.gap, moved[n:] / system.weight
        p, t = force[:n], force[n:]
        measure = p - scale * gap
        trial = t - scale * system.weight * (slip - last.slip)
        bound = friction * np.maximum(p, 0.0)
        touching = measure > 0.0
        pushed = np.where(np.abs(trial) > bound, np.sign(trial), 0.0).astype(np.int8)
        # In the terms of the residual: beside what the forces do, not beside gaps far away, and
        # for each length of contact line, of which some nodes have little.
        size = scale * np.abs(strained).max()
        distance = np.abs(gap) * (np.mean(system.weight) / system.weight)
        unsure = np.abs(p) + scale * distance <= _UNDECIDED * size
        # A node that only just slips, to the side it is taken to slip to, may count as sticking.
        onward = np.where(guess.side == 0, np.abs(trial), guess.side * trial)
        near = np.where(guess.side == 0, np.abs(p).max(), size)
        at_bound = np.abs(onward - bound) <= _UNDECIDED * near
        same_touch = (touching == guess.touching) | unsure
        # A node that just touches has no friction: slipping either way is as good as open.
        bare = guess.touching & unsure & (guess.side != 0)
        same_side = (pushed == guess.side) | at_bound | bare | ~guess.touching
        if np.all(same_touch & same_side):
            carries = guess.touching & ~bare
            held = np.where(guess.side == 0, STICK, SLIP)
            state = FrictionState(
                pressure=np.where(carries, p, 0.0),
                traction=np.where(carries, t, 0.0),
                slip=slip,
                regime=np.where(carries, held, OPEN).astype(np.int8),
                rigid_displacement=rigid_displacement,
                iterations=last.iterations + iteration,
                complementarity=0.0,
            )
            residual = _residual(system, friction, loads, state, gap, slip - last.slip)
            return replace(state, complementarity=max(residual, last.complementarity))
        seen.add(guess.key)
        guess = _Guess(touching, np.where(touching, pushed, 0).astype(np.int8))
        # A patch that has lost all its nodes leaves its load to no one.
        if np.any(normal @ touching <= 0.0) or guess.key in seen:
            return None
    return None


def _on_states(
    system: FrictionSystem, friction: float, loads: Floats, guess: _Guess, stuck_at: Floats
) -> tuple[Floats, Floats]:
    """Forces (2n,) and rigid-body displacement (k,) with the states of the nodes given."""
    S, n, k = system.compliance, len(system.weight), len(loads)
    touch = np.flatnonzero(guess.touching)
    stick = np.flatnonzero(guess.touching & (guess.side == 0))
    rows = np.concatenate([touch, n + stick])
    # A slipping node carries ±μ of its pressure along the line.
    carried = friction * guess.side[touch]
    of = S[rows]
    columns = np.hstack([of[:, touch] + of[:, n + touch] * carried, of[:, n + stick]])
    loading = np.hstack(
        [
            system.resultant[:, touch] + system.resultant[:, n + touch] * carried,
            system.resultant[:, n + stick],
        ]
    )
    m = len(rows)
    size = np.sqrt(np.mean(np.diag(S)[rows]) * m) / np.linalg.norm(system.weight[touch])
    matrix = np.zeros((m + k, m + k))
    matrix[:m, :m] = columns
    matrix[:m, m:] = system.rigid_displacement[rows] * size
    matrix[m:, :m] = loading * size
    right = np.concatenate([-system.gap[touch], (system.weight * stuck_at)[stick], loads * size])
    solution = np.linalg.solve(matrix, right)
    force = np.zeros(2 * n)
    force[touch] = solution[: len(touch)]
    force[n + touch] = carried * solution[: len(touch)]
    force[n + stick] = solution[len(touch) : m]
    return force, solution[m:] * size


def _by_exchange(
    system: FrictionSystem, friction: float, loads: Floats, last: FrictionState
) -> _Guess:
    """States by turns: pressures under given tractions, then tractions under given bounds.

    Both are convex problems with finite algorithms, and the turns contract while μ is not large.
    """
    n, S = len(system.weight), system.compliance
    stiff = np.linalg.cholesky(S[n:, n:])
    t = last.traction
    pressure = np.zeros(n)
    for _ in range(_MOST_EXCHANGES):
        normal = replace(system.normal, gap=system.gap + S[:n, n:] @ t)
        solved = solve_contact(normal, loads)
        before, pressure = pressure, solved.pressure
        bound = friction * pressure
        touching = pressure > 0.0
        free = (
            S[n:, :n] @ pressure
            + system.rigid_displacement[n:] @ solved.rigid_displacement
            - system.weight * last.slip
        )
        slack = 1e-12 * pressure.max()  # the algorithm needs a gap between its bounds
        t = lsq_linear(
            stiff.T, solve_triangular(stiff, -free, lower=True),
            (-bound - slack, bound + slack), method="bvls",
        ).x  # fmt: skip
        if np.abs(pressure - before).max() <= 1e-11 * pressure.max():
            break
    slipping = touching & (np.abs(t) >= bound * (1.0 - 1e-9))
    return _Guess(touching, np.where(slipping, np.sign(t), 0.0).astype(np.int8))


def _residual(
    system: FrictionSystem,
    friction: float,
    loads: Floats,
    state: FrictionState,
    gap: Floats,
    slipped: Floats,
) -> float:
    """Relative residual of all conditions, after insisting on it."""
    p, t = state.pressure, state.traction
    force = np.concatenate([p, t])
    length = np.abs(system.compliance @ force).max() / system.weight.mean()
    p_max = p.max()
    away = np.abs(t) - friction * p
    touching = state.regime != OPEN
    worst = [
        np.abs(np.minimum(p / p_max, gap / system.weight / length)).max(),
        max(away.max(), 0.0) / p_max,
        # Slip opposes the traction, and a node below the bound does not slip.
        np.abs(np.where(touching, np.minimum(-away / p_max, np.abs(slipped) / length), 0.0)).max(),
        max(np.where(touching, np.sign(t) * slipped, 0.0).max(), 0.0) / length,
        np.abs(system.resultant @ force - loads).max() / np.abs(loads).max(),
    ]
    residual = float(max(worst))
    if not residual <= RESIDUAL_LIMIT:
        raise SolveError(f"contact residual {residual:.1e} exceeds {RESIDUAL_LIMIT:.0e}")
    return residual
