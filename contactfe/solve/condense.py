"""One body, factored once and reduced to the compliance between its contact nodes.

A body meets the rest of the world through forces on its contact lines and through its hold. What
the supports of the hold answer is found together with the displacement: with patterns of force C,
their compliances D and the rigid motions R that nothing else stops,

    u = K⁺(f + C r) + Rᵀ c,   R(f + C r) = 0,   Cᵀ u + D r = 0,

where K⁺ is the factored stiffness with a few pins that end up carrying nothing. A post held by the
change of beam shear is the case of three patterns of body force and three rigid motions; its
displacement is then measured from a mean on which the body forces do no work.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from scipy.linalg import solve_triangular
from scipy.sparse import csc_matrix, hstack
from scipy.sparse.linalg import SuperLU
from skfem import MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.elastic import Elastic, Floats, Gradients, gradients, stiffness
from contactfe.solve.fold import Fold, fold_of
from contactfe.solve.lines import ContactLine, Frame, Ints, contact_line
from contactfe.solve.ordering import elimination_order, factored
from contactfe.solve.parts import Part, parts_of, per_element
from contactfe.solve.supports import Hold

_LEAST_SYMMETRY = 1e-8

_LEAST_OF_TANGENT = 1e-3
"""The same of a tangent: near collapse it is nearly singular. It is a step towards equilibrium and
no answer, which is held to forces in balance.
"""

BENEATH = {"contact": Frame()}
"""The contact line of a body that meets one other, in the body's own axes."""


@dataclass(frozen=True)
class Supported:
    """What the supports of a body need: s patterns of force and k rigid motions left to them.

    ``patterns`` (s, 2N) is C, ``compliances`` (s,) D, ``rigid`` (k, 2N) R, ``answers`` (s, 2N) K⁺C.
    ``balance`` (s, k) gives the least reactions that balance a resultant. ``border`` is the matrix
    of the equations above for r and c, its stiffness part divided by ``size``.
    """

    patterns: Floats
    compliances: Floats
    rigid: Floats
    answers: Floats
    balance: Floats
    border: Floats
    size: float


@dataclass(frozen=True)
class CondensedBody:
    """A factored body and its contact compliance.

    ``compliance`` (m, m) in mm per N/mm: displacement at the contact nodes for unit forces there,
    first along the normals of every line, line after line, then along their tangents if the body
    was condensed with these; both components in the axes of the line.

    Of a body that is folded, ``stiffness``, ``factor``, ``free`` and ``supported`` are those of its
    right half, and ``alike`` (s, t) the reactions of the whole's supports for each of the half's.
    It answers loads that are symmetric to x = 0. ``kept`` is what :mod:`.recovery` has found of its
    parts and may need again.
    """

    mesh: MeshTri2
    parts: tuple[Part, ...]
    gradients: Gradients
    hold: Hold
    stiffness: csc_matrix
    factor: SuperLU
    free: Ints
    supported: Supported
    lines: tuple[ContactLine, ...]
    compliance: Floats
    fold: Fold | None = None
    alike: Floats = field(default_factory=lambda: np.empty((0, 0)))
    kept: dict[str, Any] = field(default_factory=dict, compare=False)

    @property
    def unknowns(self) -> int:
        """Number of displacement unknowns."""
        return 2 * int(self.mesh.doflocs.shape[1])

    @property
    def candidates(self) -> int:
        """Number of nodes on all contact lines."""
        return sum(len(line.nodes) for line in self.lines)

    @property
    def tangential(self) -> bool:
        """Whether the compliance has tangential components as well."""
        return len(self.compliance) > self.candidates

    @property
    def contact(self) -> Ints:
        """Nodes of the first contact line, in order along it."""
        return self.lines[0].nodes


def condense(
    mesh: MeshTri2,
    material: Elastic | Mapping[str, Elastic],
    hold: Hold,
    frames: Mapping[str, Frame] = BENEATH,
    tangential: bool = False,
    symmetric: bool = False,
) -> CondensedBody:
    """Assemble, factor and reduce a body to its contact lines.

    ``material`` is that of the whole body, or of each of its named subdomains; ``frames`` has the
    axes of each contact line by the name of its group; ``tangential`` asks for the compliance along
    the lines too, which friction needs. ``symmetric`` says that body, hold and all that will act on
    it are symmetric to x = 0: the half at the right then stands for it.

    Raises
    ------
    SolveError
        if the hold leaves a rigid motion free, the stiffness is singular, the compliance is
        not symmetric to rounding, or the mesh of a ``symmetric`` body is not its own mirror image
    """
    at, parts = gradients(mesh), parts_of(mesh, material)
    fold = fold_of(mesh) if symmetric else None
    held_by, alike, elements = hold, np.empty((0, 0)), np.arange(mesh.t.shape[1])
    rigid = rigid_motions(mesh)
    if fold is not None:
        held_by, alike = fold.hold(hold)
        elements = fold.elements
        rigid[:, np.repeat(fold.left, 2)] = 0.0
    K = stiffness(mesh, *per_element(mesh, parts), at, elements)
    pinned = np.concatenate([held_by.fixed, held_by.pins])
    # A sparse factor of a body that can still move need not fail: it can return large numbers.
    if _rank(rigid[:, pinned]) < len(rigid):
        raise SolveError("a body is not held against rigid motion")
    lines = tuple(contact_line(mesh, group, frame) for group, frame in frames.items())
    last = np.concatenate([line.nodes for line in lines])
    order = elimination_order(mesh, last=last, elements=elements)
    free = dofs_of(order)
    held = np.zeros(K.shape[0], dtype=bool)
    held[pinned] = True
    free = free[~held[free]]
    factor, supported = _factored(held_by, rigid, K, free)
    body = CondensedBody(
        mesh, parts, at, hold, K, factor, free, supported, lines, np.empty((0, 0)), fold, alike
    )  # fmt: skip
    return _condensed(body, tangential, _LEAST_SYMMETRY)


def restiffened(body: CondensedBody, stiffness: csc_matrix) -> CondensedBody:
    """A body, not folded, with another stiffness (2N, 2N): that of its tangent as it yields.

    Raises
    ------
    SolveError
        if that stiffness is singular, or the compliance is not symmetric to rounding
    """
    assert body.fold is None, "half a body is not restiffened"
    factor, supported = _factored(body.hold, rigid_motions(body.mesh), stiffness, body.free)
    other = replace(body, stiffness=stiffness, factor=factor, supported=supported, kept={})
    return _condensed(other, body.tangential, _LEAST_OF_TANGENT)


def _factored(hold: Hold, rigid: Floats, K: csc_matrix, free: Ints) -> tuple[SuperLU, Supported]:
    """Factors of a body's equations, and what its supports need of them."""
    try:
        factor = factored(K[free][:, free])
    except RuntimeError as error:
        raise SolveError(f"the stiffness of a body cannot be factored ({error})") from error
    return factor, _supported(hold, _left_free(rigid, hold.fixed), factor, free)


def _condensed(body: CondensedBody, tangential: bool, least: float) -> CondensedBody:
    """A body that is factored, with its compliance, symmetric to ``least``."""
    units = unit_forces(body, tangential)
    compliance = _compliance(body, units)
    # Reciprocity within, and of one row with what a solve over the whole body finds for its column.
    one = len(body.contact) // 2
    column = units.T @ respond(body, units[:, [one]].toarray())[0]
    apart = np.concatenate([compliance - compliance.T, compliance[[one]] - column.T])
    asymmetry = np.abs(apart).max() / np.abs(compliance).max()
    if not asymmetry < least:
        raise SolveError(f"contact compliance is unsymmetric by {asymmetry:.1e}: ill-posed hold")
    compliance = (compliance + compliance.T) / 2.0
    if body.fold is not None:
        compliance = _regular(compliance, units, body.fold)
    return replace(body, compliance=compliance)


def dofs_of(nodes: Ints) -> Ints:
    """The degrees of freedom (2n,) of nodes (n,), node after node."""
    dofs: Ints = (2 * nodes[:, None] + np.arange(2)).ravel()
    return dofs


def _compliance(body: CondensedBody, forces: csc_matrix) -> Floats:
    """Displacement at the contact nodes for unit forces there, as :func:`respond` gives it.

    ``forces`` (2N, m) are those unit forces.

    The contact nodes are eliminated last. What is left to eliminate then is the stiffness between
    them alone, the last block of L U: all columns come of it without a solve over the whole body.
    """
    S, fold = body.supported, body.fold
    nodes = np.unique(np.concatenate([line.nodes for line in body.lines]))
    if fold is not None:
        nodes = nodes[~fold.left[nodes]]
    dofs = dofs_of(nodes)
    count = int(np.isin(body.free, dofs).sum())
    factors = body.factor.L, body.factor.U
    lower, upper = (_last_block(part, count) for part in factors)
    for part in factors:  # copies, which the factor would keep beside what it solves with
        part.data, part.indices = np.empty(0), np.empty(0, dtype=np.int32)
    held = np.zeros((len(dofs), len(dofs)))  # K⁺ between them; what is pinned does not give way
    place = np.searchsorted(dofs, body.free[len(body.free) - count :])
    # One after the other: their product would lose the small pivots of a slender body.
    through = solve_triangular(lower, np.eye(count), lower=True, unit_diagonal=True)
    held[np.ix_(place, place)] = solve_triangular(upper, through)

    units = forces[dofs].toarray() if fold is None else fold.half_at(forces, dofs)
    r = -S.balance @ (S.rigid[:, dofs] @ units)
    answers = S.answers[:, dofs] @ units
    u: Floats = units.T @ held @ units + answers.T @ r
    if len(S.patterns) > 0:
        soft = S.size * S.border[: len(r), : len(r)]
        more, rigid_displacement = _settled(S, answers + soft @ r)
        u += answers.T @ more + (S.rigid[:, dofs] @ units).T @ rigid_displacement
    return u if fold is None else 2.0 * u


def _regular(compliance: Floats, forces: csc_matrix, fold: Fold) -> Floats:
    """The compliance of symmetric ``forces`` made a regular one.

    Forces whose mirror images are their opposites, which a symmetric contact does not have, meet a
    compliance as well: what the others meet on the average.
    """
    image = fold.image_of(forces)
    alike, opposite = (np.eye(len(image)) + image) / 2.0, (np.eye(len(image)) - image) / 2.0
    found: Floats = compliance + np.trace(compliance) / np.trace(alike) * opposite
    return found


def _last_block(part: csc_matrix, count: int) -> Floats:
    """The last rows and columns of one factor."""
    columns = part[:, part.shape[1] - count :]
    block: Floats = columns[part.shape[0] - count :].toarray()
    return block


def _settled(S: Supported, gives: Floats) -> tuple[Floats, Floats]:
    """Reactions (s, m) and rigid-body displacements (k, m) that close the gaps at the supports."""
    zero = np.zeros((len(S.rigid), gives.shape[1]))
    found = np.linalg.solve(S.border, -np.concatenate([gives / S.size, zero]))
    return found[: len(gives)], found[len(gives) :] * S.size


def unit_forces(body: CondensedBody, tangential: bool) -> csc_matrix:
    """Nodal forces (2N, m) of unit forces at the contact nodes, in the order of the compliance."""
    columns = []
    for row in (1, 0) if tangential else (1,):  # the normals first
        for line in body.lines:
            n = len(line.nodes)
            dofs = np.concatenate([2 * line.nodes, 2 * line.nodes + 1])
            values = np.repeat(line.frame.axes[row], n)
            place = np.tile(np.arange(n), 2)
            columns.append(csc_matrix((values, (dofs, place)), shape=(body.unknowns, n)))
    return hstack(columns, format="csc")


def contact_load(body: CondensedBody, normal: Floats, along: Floats) -> Floats:
    """Nodal forces (2N,) of forces (n,) at the contact nodes, normal to their line and along it."""
    load, start = np.zeros((body.unknowns // 2, 2)), 0
    for line in body.lines:
        at = slice(start, start + len(line.nodes))
        tangent, across = line.frame.axes
        load[line.nodes] += np.outer(normal[at], across) + np.outer(along[at], tangent)
        start = at.stop
    return load.ravel()


def respond(body: CondensedBody, load: Floats) -> tuple[Floats, Floats]:
    """Displacement (2N,) or (2N, m) in mm under nodal loads, and the supports' reactions (s, ...).

    Where body forces hold the body the displacement is measured from the mean displacement on
    which they do no work. Of a body that is folded, the symmetric part of loads counts.
    """
    S, fold = body.supported, body.fold
    columns = load.reshape(len(load), -1)
    if fold is not None:
        columns = fold.half(columns)
    r = -S.balance @ (S.rigid @ columns)
    u = np.zeros_like(columns)
    # Balanced before it meets the pins: their concentrated forces would cost digits.
    u[body.free] = body.factor.solve((columns + S.patterns.T @ r)[body.free])
    if len(S.patterns) > 0:
        more, rigid_displacement = _settled(S, S.patterns @ u + S.compliances[:, None] * r)
        r = r + more
        u = u + S.answers.T @ more + S.rigid.T @ rigid_displacement
    if fold is not None:
        u, r = fold.whole(u), body.alike @ r
    return u.reshape(load.shape), r.reshape(len(r), *load.shape[1:])


def imbalance(body: CondensedBody, load: Floats, u: Floats, reactions: Floats) -> float:
    """Largest force out of balance, relative: |K u − f − C r| at any node that nothing fixes.

    The measure is the load, and 1e-4 of the element forces |K| |u| that cancel at a node: in a
    slender body these are millions of times the load, and rounding is in proportion to them. The
    pins are among the nodes that must balance: they carry nothing.
    """
    residual = out_of_balance(body, load, u, reactions)
    residual[body.hold.fixed] = 0.0
    measure = np.abs(load).sum() + 1e-4 * (abs(body.stiffness) @ np.abs(u)).max()
    return float(np.abs(residual).max() / measure)


def out_of_balance(body: CondensedBody, load: Floats, u: Floats, reactions: Floats) -> Floats:
    """K u − f − C r (2N,): forces at the nodes that nothing but what fixes them holds."""
    fold, C = body.fold, body.supported.patterns
    if fold is not None:
        load, reactions = fold.half(load), body.alike.T @ reactions
    left: Floats = body.stiffness @ u - load - C.T @ reactions
    return left if fold is None else fold.forces(left)


def rigid_motions(mesh: MeshTri2) -> Floats:
    """Rigid motions (3, 2N): along x, along y, and a small rotation, all of the size of 1."""
    x, y = mesh.doflocs
    zero, one = np.zeros_like(x), np.ones_like(x)
    size = np.ptp(y)
    motions = [(one, zero), (zero, one), (-(y - y.mean()) / size, (x - x.mean()) / size)]
    return np.stack([np.column_stack(m).ravel() for m in motions])


def _left_free(rigid: Floats, fixed: Ints) -> Floats:
    """The rigid motions (k, 2N) that move none of the fixed degrees of freedom."""
    if len(fixed) == 0:
        return rigid
    _, stretch, V = np.linalg.svd(rigid[:, fixed].T, full_matrices=True)
    kept = np.ones(len(rigid), dtype=bool)
    kept[: len(stretch)] = stretch < 1e-9 * stretch.max()
    return V[kept] @ rigid


def _rank(matrix: Floats) -> int:
    """Rank of a matrix; of one without entries 0, which numpy itself says only lately."""
    return int(np.linalg.matrix_rank(matrix)) if matrix.size else 0


def _supported(hold: Hold, rigid: Floats, factor: SuperLU, free: Ints) -> Supported:
    """Raises SolveError where the supports do not stop every rigid motion that is left."""
    n = rigid.shape[1]
    C = np.array([support.load for support in hold.supports]).reshape(-1, n)
    D = np.array([support.compliance for support in hold.supports])
    resultants = rigid @ C.T
    if _rank(resultants) < len(rigid):
        raise SolveError("a body is not held against rigid motion")
    answers = np.zeros_like(C)
    if len(C):
        answers[:, free] = factor.solve(np.ascontiguousarray(C[:, free].T)).T
    soft = C @ answers.T + np.diag(D)
    size = float(np.mean(np.diag(soft))) if len(C) else 1.0
    corner = np.zeros((len(rigid), len(rigid)))
    border = np.block([[soft / size, resultants.T], [resultants, corner]])
    return Supported(C, D, rigid, answers, np.linalg.pinv(resultants), border, size)
