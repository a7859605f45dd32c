"""Unilateral contact of condensed bodies, without friction: one patch or two.

Unknowns are the nodal pressures λ ≥ 0 on the member's lines and the rigid-body displacement β of
the member: one number for each load that is given. With the weighted gap g = S λ + g0 + T β they
satisfy

    λ ≥ 0,  g ≥ 0,  λ·g = 0 node by node,  and  L λ = q,

and the active set is found by the primal-dual method, a semismooth Newton method (Hintermüller,
Ito, Kunisch, SIAM J. Optim. 13 (2002) 865: abstract seen). No penalty, no soft spring.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular
from scipy.optimize import nnls

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats

RESIDUAL_LIMIT = 1e-9
"""Largest relative residual of force balance and complementarity that counts as solved."""

_FIRST_SHARE = 1e-6
"""Share of the loads that a path of loads begins with: one node touches, or the few that tie."""

_SAME_SHARE = 1e-9
"""Loads that differ by less, relative, count as one: twins on both sides touch together."""


@dataclass(frozen=True)
class ContactSystem:
    """Condensed contact problem of n nodes under k loads.

    ``compliance`` S (n, n) mm²/MPa, ``weight`` w (n,) mm, ``gap`` g0 (n,) mm²,
    ``rigid_displacement`` T (n, k) mm: weighted gap that opens per mm of each unknown of the
    displacement; ``resultant`` L (k, n) mm: the loads that pressures make.
    """

    compliance: Floats
    weight: Floats
    gap: Floats
    rigid_displacement: Floats
    resultant: Floats


@dataclass(frozen=True)
class ContactSolution:
    """Nodal pressures (n,) MPa, displacement (k,) mm, iterations, complementarity residual."""

    pressure: Floats
    rigid_displacement: Floats
    iterations: int
    complementarity: float


def solve_contact(
    system: ContactSystem,
    loads: Floats,
    start: NDArray[np.bool_] | None = None,
    most: int = 100,
) -> ContactSolution:
    """Pressures that carry ``loads`` (k,) in N/mm with no tension and no overlap.

    ``start`` (n,) marks the nodes taken as touching at first, by default, and where it leaves a
    patch without any, those nearest the plate;
    ``most`` is the number of iterations allowed.

    Raises
    ------
    ValueError
        if a line load is not positive
    SolveError
        if the active set does not settle, or a residual exceeds ``RESIDUAL_LIMIT``
    """
    if not np.all(loads > 0.0):
        raise ValueError(f"line_load must be positive, not {np.min(loads):g} N/mm")
    S, g0 = system.compliance, system.gap
    active = _nearest(system) if start is None or _lost(system, start) else start.copy()
    # A positive factor turns gaps into pressures of like size; the set found does not depend on it.
    scale = 1.0 / np.mean(np.diag(S))
    seen: set[bytes] = set()
    for iteration in range(1, most + 1):
        pressure, rigid_displacement = _on_active(system, loads, active)
        gap = S @ pressure + g0 + system.rigid_displacement @ rigid_displacement
        measure = pressure - scale * gap
        touching = measure > 0.0
        # A node that just touches, without pressure, may count as either.
        undecided = np.abs(measure) <= 1e-12 * np.abs(measure).max()
        if np.all((touching == active) | undecided):
            residual = _checked(system, loads, pressure, gap)
            return ContactSolution(pressure, rigid_displacement, iteration, residual)
        seen.add(active.tobytes())
        # A set met before means a cycle, which is rare; a sure but slower method ends it. So it
        # does where a patch has lost all its nodes, which leaves its load to no one.
        away = _lost(system, touching) or touching.tobytes() in seen
        active = _by_energy(system, loads) if away else touching
    raise SolveError(
        f"the contact did not settle in {most} iterations at"
        f" {', '.join(f'{q:g}' for q in loads)} N/mm:"
        " a finer mesh or a wider contact zone is needed"
    )


def _lost(system: ContactSystem, active: NDArray[np.bool_]) -> bool:
    """Whether a patch has none of its nodes touching."""
    return bool(np.any(system.resultant @ active <= 0.0))


def _nearest(system: ContactSystem) -> NDArray[np.bool_]:
    """The quarter of each patch's nodes that lie nearest to the plate."""
    nodal_gap = system.gap / system.weight
    active = np.zeros(len(nodal_gap), dtype=bool)
    for row in system.resultant:
        patch = row > 0.0
        active |= patch & (nodal_gap <= np.quantile(nodal_gap[patch], 0.25))
    return active


def _on_active(
    system: ContactSystem, loads: Floats, active: NDArray[np.bool_]
) -> tuple[Floats, Floats]:
    """Pressure and displacement with the given nodes touching, by the bordered system."""
    index = np.flatnonzero(active)
    n, k = len(index), len(loads)
    S = system.compliance[np.ix_(index, index)]
    # The borders are scaled to the size of S: the two kinds of equation have different units.
    size = np.sqrt(np.mean(np.diag(S)) * n) / np.linalg.norm(system.weight[index])
    matrix = np.zeros((n + k, n + k))
    matrix[:n, :n] = S
    matrix[:n, n:] = system.rigid_displacement[index] * size
    matrix[n:, :n] = -system.resultant[:, index] * size
    solution = np.linalg.solve(matrix, np.append(-system.gap[index], -loads * size))
    pressure = np.zeros(len(system.weight))
    pressure[index] = solution[:n]
    return pressure, solution[n:] * size


def _by_energy(system: ContactSystem, loads: Floats) -> NDArray[np.bool_]:
    """The touching nodes, by minimising the energy ½ λ·S λ + g0·λ over λ ≥ 0 with L λ = q.

    The loads are met by the method of multipliers; each step of it is a non-negative least squares
    problem, whose algorithm is finite (Lawson and Hanson, Solving Least Squares Problems (1974):
    from memory, not seen).
    """
    L = np.linalg.cholesky(system.compliance)
    rows = system.resultant
    stiff = np.sqrt(1e3 * np.mean(np.diag(system.compliance)) / np.mean(rows[rows > 0.0] ** 2))
    matrix = np.vstack([L.T, stiff * rows])
    right = solve_triangular(L, -system.gap, lower=True)
    multiplier = np.zeros(len(loads))
    for _ in range(200):
        pressure: Floats = nnls(matrix, np.append(right, stiff * loads + multiplier))[0]
        missing = loads - rows @ pressure
        if np.abs(missing).max() <= 1e-13 * np.abs(loads).max():
            break
        multiplier += stiff * missing
    touching: NDArray[np.bool_] = pressure > 0.0
    return touching


def _checked(system: ContactSystem, loads: Floats, pressure: Floats, gap: Floats) -> float:
    """Relative complementarity residual, after insisting on it and on force balance."""
    nodal_gap = gap / system.weight
    length = np.abs(system.compliance @ pressure / system.weight).max()
    p_max = pressure.max()
    residual = float(
        max(
            np.abs(np.minimum(pressure / p_max, nodal_gap / length)).max(),
            np.abs(system.resultant @ pressure / loads - 1.0).max(),
        )
    )
    if not residual <= RESIDUAL_LIMIT:
        raise SolveError(f"contact residual {residual:.1e} exceeds {RESIDUAL_LIMIT:.0e}")
    return residual


@dataclass(frozen=True)
class Piece:
    """A stretch of a path of loads on which the same nodes touch, so that all is linear there.

    At a share s of the loads between ``start`` and ``end`` the pressure is ``pressure`` (2, n) MPa,
    its first row plus s times its second, and the displacement is ``rigid_displacement`` (2, k) mm
    likewise.
    """

    start: float
    end: float
    pressure: Floats
    rigid_displacement: Floats


def pieces_of_touching(system: ContactSystem, loads: Floats) -> list[Piece]:
    """The path from nearly none of ``loads`` (k,) to all of them, a piece for each set of nodes.

    While the same nodes touch, everything is linear in the load, so the load at which the next one
    touches is found without iteration.

    Raises
    ------
    SolveError
        if the contact does not settle, or does not grow with the load
    """
    S, w, g0 = system.compliance, system.weight, system.gap
    share = start = _FIRST_SHARE
    active = solve_contact(system, share * loads).pressure > 0.0
    pieces: list[Piece] = []
    for _ in range(4 * len(w)):
        none, some = (_on_active(system, t * loads, active) for t in (0.0, 1.0))
        p0, p1 = none[0], some[0] - none[0]
        gap0 = S @ p0 + g0 + system.rigid_displacement @ none[1]
        gap1 = S @ p1 + system.rigid_displacement @ (some[1] - none[1])
        # Where an open gap closes, or a pressure that falls as the load grows runs out.
        closes = np.where(~active & (gap1 < 0.0), -gap0 / np.where(gap1 < 0.0, gap1, 1.0), np.inf)
        leaves = np.where(active & (p1 < 0.0), -p0 / np.where(p1 < 0.0, p1, 1.0), np.inf)
        event = np.minimum(closes, leaves)
        share = max(share, float(event.min()))
        end = min(share, 1.0)
        if share >= 1.0 or share > start * (1.0 + _SAME_SHARE):
            rigid_displacement = np.stack([none[1], some[1] - none[1]])
            pieces.append(Piece(start, end, np.stack([p0, p1]), rigid_displacement))
            start = end
        if share >= 1.0:
            return pieces
        active = active ^ (event <= share * (1.0 + _SAME_SHARE))
    raise SolveError("the contact does not grow with the load")


def path_of_touching(system: ContactSystem, loads: Floats) -> Floats:
    """Loads (steps, k) from nearly none to ``loads`` (k,), one for each node that begins to touch.

    A path with a step at each such load lets friction know how far every node had slid when it came
    into contact. Raises what :func:`pieces_of_touching` raises.
    """
    pieces = pieces_of_touching(system, loads)
    return np.outer([pieces[0].start, *(piece.end for piece in pieces)], loads)
