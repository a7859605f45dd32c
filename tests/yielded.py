"""One body that yields, without contact: under forces, or moved by them as far as is asked."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import bmat, csc_matrix
from scipy.sparse.linalg import splu
from skfem import MeshTri, MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.condense import condense
from contactfe.solve.elastic import Floats, Ints
from contactfe.solve.lines import group_nodes
from contactfe.solve.plasticity import Plastic, PlasticState
from contactfe.solve.supports import Hold
from contactfe.solve.yielding import (
    YieldingBody,
    displaced,
    inner_forces,
    tangent,
    yielding_body,
)

MOST_ITERATIONS = 40


@dataclass(frozen=True)
class Loaded:
    """A body in equilibrium: displacement (2N,) mm, stress (elements, 3, 6) MPa, plastic state.

    ``force`` is that along the pattern by which it is loaded, or the sum of what pushes it.
    """

    u: Floats
    stress: Floats
    plastic: PlasticState
    force: float


def sheet(
    s: Floats,
    t: Floats,
    sides: dict[str, tuple[int, float]],
    to: Callable[[Floats, Floats], tuple[Floats, Floats]] = lambda s, t: (s, t),
) -> MeshTri2:
    """A mesh of triangles between lines of s and of t, each pair (s, t) taken to a point (x, y).

    ``sides`` names groups of edges: that on which coordinate 0 or 1 has a value, of those given.
    """
    mesh = MeshTri2.from_mesh(MeshTri.init_tensor(s, t))
    groups = {
        name: mesh.facets_satisfying(lambda p, k=k, v=v: np.isclose(p[k], v, atol=1e-12))
        for name, (k, v) in sides.items()
    }
    # What is in the middle of an edge has its own image: curved sides are curved.
    return MeshTri2(np.stack(to(*mesh.doflocs)), mesh.t).with_boundaries(groups)


def held(mesh: MeshTri2, *, x: tuple[str, ...] = (), y: tuple[str, ...] = ()) -> Hold:
    """A body of which groups of edges cannot move along x, and others along y."""
    fixed = [2 * group_nodes(mesh, g) for g in x] + [2 * group_nodes(mesh, g) + 1 for g in y]
    return Hold(np.unique(np.concatenate(fixed)))


def steel(mesh: MeshTri2, hold: Hold, law: Plastic) -> YieldingBody:
    """That body of one steel; it needs a group of edges named ``contact``."""
    return yielding_body(condense(mesh, law.elastic, hold), law)


def unloaded(of: YieldingBody) -> Loaded:
    """The body before anything acts on it."""
    return Loaded(np.zeros(of.body.unknowns), np.zeros((*of.points, 6)), of.virgin, 0.0)


def moved(of: YieldingBody, start: Loaded, pattern: Floats, by: float) -> Loaded:
    """The body with a force along ``pattern`` (2N,) that moves it to ``by``, whatever the force.

    The displacement of a pattern is what it does work on: pattern · u.
    """
    return _settled(of, start, pattern, by=by)


def under(of: YieldingBody, start: Loaded, pattern: Floats, force: float) -> Loaded:
    """The body under a force along ``pattern`` (2N,)."""
    return _settled(of, start, pattern, force=force)


def pushed(of: YieldingBody, start: Loaded, dofs: Ints, by: float) -> Loaded:
    """The body with some degrees of freedom moved to ``by``, all alike; ``force`` is their sum."""
    pushed_by = np.zeros(of.body.unknowns)
    pushed_by[dofs] = by
    state = _settled(of, start, np.zeros_like(pushed_by), force=0.0, pushed_by=(dofs, pushed_by))
    return replace(state, force=float(inner_forces(of, state.stress, 0.0)[dofs].sum()))


def _settled(
    of: YieldingBody,
    start: Loaded,
    pattern: Floats,
    *,
    by: float | None = None,
    force: float = 0.0,
    pushed_by: tuple[Ints, Floats] | None = None,
) -> Loaded:
    """Newton's method at consistent tangents, with the force F of a pattern as one unknown more.

    It is such that pattern · u = ``by`` or, where that is not given, the ``force``. At a limit load
    the tangents have no inverse, but the two equations together have.
    """
    free = np.ones(of.body.unknowns, dtype=bool)
    free[of.body.hold.fixed] = False
    u, F = start.u.copy(), start.force
    if pushed_by is not None:
        free[pushed_by[0]] = False
        u[pushed_by[0]] = pushed_by[1][pushed_by[0]]
    if by is None:
        goal, row, own = force, np.zeros_like(pattern), 1.0
    else:
        goal, row, own = by, pattern, 0.0
    P, last = csc_matrix(pattern[free, None]), csc_matrix(row[None, free])
    K, inner = of.body.stiffness, of.body.stiffness @ (u - start.u)
    inner += inner_forces(of, start.stress, 0.0)  # the first step is elastic
    before = np.inf
    for _ in range(MOST_ITERATIONS):
        matrix = bmat([[K[free][:, free], -P], [last, [[own]]]], format="csc")
        right = np.append(-inner[free] + F * pattern[free], goal - row @ u - own * F)
        found = splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}).solve(
            right
        )
        # Too long a step overshoots where the steel yields anew: shorter ones, as long as it helps.
        for share in 0.5 ** np.arange(5):
            v, G = u.copy(), F + share * found[-1]
            v[free] += share * found[:-1]
            at = displaced(of, v, start.plastic, 0.0)
            inner = inner_forces(of, at.stress, 0.0)
            left = float(np.linalg.norm((inner - G * pattern)[free]))
            if left < before:
                break
        u, F, before, K = v, G, left, tangent(of, at)
        if left <= 1e-9 * np.linalg.norm(inner):
            return Loaded(u, at.stress, at.state, F)
    raise SolveError("the body found no equilibrium")
