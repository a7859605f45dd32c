"""Unilateral frictionless contact of two condensed bodies.

Unknowns are the nodal pressures λ ≥ 0 on the member's line and the member's travel α towards the
plate. With the weighted gap g = S λ + g0 − w α they satisfy

    λ ≥ 0,  g ≥ 0,  λ·g = 0 node by node,  and  w·λ = q,

and the active set is found by the primal-dual method, a semismooth Newton method (Hintermüller,
Ito, Kunisch, SIAM J. Optim. 13 (2002) 865: abstract seen). No penalty, no soft spring.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular
from scipy.optimize import brentq, nnls

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats
from contactfe.solve.mortar import Coupling

RESIDUAL_LIMIT = 1e-9
"""Largest relative residual of force balance and complementarity that counts as solved."""


@dataclass(frozen=True)
class ContactSystem:
    """Condensed contact problem: compliance S (n, n) mm²/MPa, weight w (n,) mm, gap g0 (n,) mm²."""

    compliance: Floats
    weight: Floats
    gap: Floats


@dataclass(frozen=True)
class ContactSolution:
    """Nodal pressures (n,) MPa, travel mm, iterations, relative complementarity residual."""

    pressure: Floats
    travel: float
    iterations: int
    complementarity: float


def contact_system(member: Floats, plate: Floats, coupling: Coupling) -> ContactSystem:
    """Join the compliances of member (n, n) and plate (m, m) in pressure unknowns."""
    w, M = coupling.weight, coupling.transfer
    S = w[:, None] * member * w[None, :] + M @ plate @ M.T
    return ContactSystem((S + S.T) / 2, w, coupling.gap)


def solve_contact(
    system: ContactSystem,
    line_load: float,
    start: NDArray[np.bool_] | None = None,
    most: int = 100,
) -> ContactSolution:
    """Pressures that carry ``line_load`` (N/mm) with no tension and no overlap.

    ``start`` (n,) marks the nodes taken as touching at first, by default those nearest the plate;
    ``most`` is the number of iterations allowed.

    Raises
    ------
    ValueError
        if the line load is not positive
    SolveError
        if the active set does not settle, or a residual exceeds ``RESIDUAL_LIMIT``
    """
    if not line_load > 0.0:
        raise ValueError(f"line_load must be positive, not {line_load:g} N/mm")
    S, w, g0 = system.compliance, system.weight, system.gap
    nodal_gap = g0 / w
    active = nodal_gap <= np.quantile(nodal_gap, 0.25) if start is None else start.copy()
    if not active.any():
        active[np.argmin(nodal_gap)] = True
    # A positive factor turns gaps into pressures of like size; the set found does not depend on it.
    scale = 1.0 / np.mean(np.diag(S))
    seen: set[bytes] = set()
    for iteration in range(1, most + 1):
        pressure, travel = _on_active(system, line_load, active)
        gap = S @ pressure + g0 - w * travel
        measure = pressure - scale * gap
        touching = measure > 0.0
        # A node that just touches, without pressure, may count as either.
        undecided = np.abs(measure) <= 1e-12 * np.abs(measure).max()
        if np.all((touching == active) | undecided):
            residual = _checked(system, line_load, pressure, gap)
            return ContactSolution(pressure, travel, iteration, residual)
        seen.add(active.tobytes())
        # A set met before means a cycle, which is rare; a sure but slower way leads out of it. One
        # node at least carries pressure, because the pressures add up to the load.
        active = touching if touching.tobytes() not in seen else _by_travel(system, line_load)
    raise SolveError(
        f"the contact did not settle in {most} iterations at {line_load:g} N/mm:"
        " a finer mesh or a wider contact zone is needed"
    )


def _on_active(
    system: ContactSystem, line_load: float, active: NDArray[np.bool_]
) -> tuple[Floats, float]:
    """Pressure and travel with the given nodes touching, by the symmetric bordered system."""
    S, w, g0 = system.compliance, system.weight, system.gap
    index = np.flatnonzero(active)
    n = len(index)
    # The border is scaled to the size of S: the two kinds of equation have different units.
    size = np.sqrt(np.mean(np.diag(S)[index])) / np.linalg.norm(w[index])
    matrix = np.zeros((n + 1, n + 1))
    matrix[:n, :n] = S[np.ix_(index, index)]
    matrix[:n, n] = matrix[n, :n] = -w[index] * size
    solution = np.linalg.solve(matrix, np.append(-g0[index], -line_load * size))
    pressure = np.zeros(len(w))
    pressure[index] = solution[:n]
    return pressure, float(solution[n] * size)


def _by_travel(system: ContactSystem, line_load: float) -> NDArray[np.bool_]:
    """The touching nodes, by search over the travel.

    At a given travel the pressures solve a non-negative least squares problem, whose algorithm is
    finite (Lawson and Hanson, Solving Least Squares Problems (1974): from memory, not seen), and
    the load they carry grows with the travel.
    """
    L = np.linalg.cholesky(system.compliance)

    def pressures(travel: float) -> Floats:
        right = solve_triangular(L, system.weight * travel - system.gap, lower=True)
        found: Floats = nnls(L.T, right)[0]
        return found

    def excess(travel: float) -> float:
        return float(system.weight @ pressures(travel)) - line_load

    low = float((system.gap / system.weight).min())  # nothing touches yet
    reach = line_load * float(np.mean(np.diag(system.compliance) / system.weight**2))
    while excess(low + reach) <= 0.0:
        reach *= 2.0
    touching: NDArray[np.bool_] = (
        pressures(brentq(excess, low, low + reach, xtol=1e-14 * reach)) > 0
    )
    return touching


def _checked(system: ContactSystem, line_load: float, pressure: Floats, gap: Floats) -> float:
    """Relative complementarity residual, after insisting on it and on force balance."""
    nodal_gap = gap / system.weight
    length = np.abs(system.compliance @ pressure / system.weight).max()
    p_max = pressure.max()
    residual = float(
        max(
            np.abs(np.minimum(pressure / p_max, nodal_gap / length)).max(),
            abs(system.weight @ pressure - line_load) / line_load,
        )
    )
    if not residual <= RESIDUAL_LIMIT:
        raise SolveError(f"contact residual {residual:.1e} exceeds {RESIDUAL_LIMIT:.0e}")
    return residual
