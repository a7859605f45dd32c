"""One body, factored once and reduced to the vertical compliance between its contact nodes.

A body meets the rest of the world in two ways: through normal forces on its contact nodes, and
through its hold. A hold either fixes degrees of freedom (a plate on its bed), or balances whatever
the contact brings by a distributed body force (the change of beam shear along a post), in which
case the body's rigid travel is left free and is an unknown of the contact problem.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import SuperLU, splu
from skfem import MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.elastic import Elastic, Floats, Gradients, gradients, stiffness

Ints = NDArray[np.intp]


_LEAST_SYMMETRY = 1e-8


@dataclass(frozen=True)
class Hold:
    """How a body is held.

    ``fixed`` lists the degrees of freedom kept at zero. ``balance``, if given, holds one nodal load
    (2N,) per row, each conjugate to one rigid motion (x, y, rotation), which together balance any
    contact load; ``fixed`` then only stops rigid motion and carries no force. ``sliding`` names the
    groups of edges that are fixed in y and free in x.
    """

    fixed: Ints
    balance: Floats | None = None
    sliding: tuple[str, ...] = ()


@dataclass(frozen=True)
class CondensedBody:
    """A factored body and its contact compliance.

    ``contact`` are the node numbers along the candidate line in order of x; ``compliance`` (n, n)
    in mm per N/mm is the upward displacement of contact node i for a unit upward force on node j,
    measured from the mean travel of the hold.
    """

    mesh: MeshTri2
    material: Elastic
    gradients: Gradients
    hold: Hold
    stiffness: csc_matrix
    factor: SuperLU
    free: Ints
    rigid: Floats
    contact: Ints
    compliance: Floats

    @property
    def unknowns(self) -> int:
        """Number of displacement unknowns."""
        return 2 * int(self.mesh.doflocs.shape[1])


def condense(mesh: MeshTri2, material: Elastic, hold: Hold) -> CondensedBody:
    """Assemble, factor and reduce a body to its ``contact`` group.

    Raises
    ------
    SolveError
        if the hold leaves a rigid motion free, the stiffness is singular, or the compliance is
        not symmetric to rounding
    """
    rigid = _rigid_motions(mesh)
    # A sparse factor of a body that can still move need not fail: it can return large numbers.
    if np.linalg.matrix_rank(rigid[:, hold.fixed]) < len(rigid):
        raise SolveError("a body is not held against rigid motion")
    at = gradients(mesh)
    K = stiffness(mesh, material, at)
    free = np.setdiff1d(np.arange(K.shape[0]), hold.fixed)
    try:
        # Minimum degree on AᵀA is meant for unsymmetric matrices; on A + Aᵀ with symmetric mode
        # the fill of these stiffness matrices is halved.
        factor = splu(K[free][:, free], permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    except RuntimeError as error:
        raise SolveError(f"the stiffness of a body cannot be factored ({error})") from error
    contact = group_nodes(mesh, "contact")
    body = CondensedBody(
        mesh, material, at, hold, K, factor, free, rigid, contact, np.empty((0, 0))
    )
    unit = np.zeros((K.shape[0], len(contact)))
    unit[2 * contact + 1, np.arange(len(contact))] = 1.0
    compliance = displacement(body, unit)[2 * contact + 1]
    asymmetry = np.abs(compliance - compliance.T).max() / np.abs(compliance).max()
    if not asymmetry < _LEAST_SYMMETRY:
        raise SolveError(f"contact compliance is unsymmetric by {asymmetry:.1e}: ill-posed hold")
    return replace(body, compliance=(compliance + compliance.T) / 2.0)


def balanced(body: CondensedBody, load: Floats) -> Floats:
    """``load`` (2N,) or (2N, m) together with what the hold's body forces answer it with."""
    if body.hold.balance is None:
        return load
    B, R = body.hold.balance, body.rigid
    return load - B.T @ np.linalg.solve(R @ B.T, R @ load)


def displacement(body: CondensedBody, load: Floats) -> Floats:
    """Displacement (2N,) or (2N, m) in mm under nodal loads, measured from the hold's mean travel.

    With a balanced hold the rigid part is chosen so that the hold's body forces do no work, which
    makes the compliance symmetric and its datum the energy-mean travel of the section.
    """
    u = np.zeros_like(load)
    u[body.free] = body.factor.solve(balanced(body, load)[body.free])
    if body.hold.balance is None:
        return u
    B, R = body.hold.balance, body.rigid
    return u - R.T @ np.linalg.solve(B @ R.T, B @ u)


def imbalance(body: CondensedBody, load: Floats, u: Floats) -> float:
    """Largest force out of balance, relative: at any node |K u − f|, and of load against reaction.

    The measure is the load, and 1e-4 of the element forces |K| |u| that cancel at a node: in a
    slender body these are millions of times the load, and rounding is in proportion to them.
    """
    residual = body.stiffness @ u - balanced(body, load)
    errors = [np.abs(residual[body.free]).max()]
    if body.hold.balance is None:
        errors.append(abs(reaction(body, load, u) + load[1::2].sum()))
    else:  # its pins carry nothing
        errors.append(np.abs(residual[body.hold.fixed]).max())
    measure = np.abs(load).sum() + 1e-4 * (abs(body.stiffness) @ np.abs(u)).max()
    return float(max(errors) / measure)


def reaction(body: CondensedBody, load: Floats, u: Floats) -> float:
    """Vertical force of the supports on the body, N/mm: K u − f summed over fixed y components."""
    residual = body.stiffness @ u - load
    fixed_y = body.hold.fixed[body.hold.fixed % 2 == 1]
    return float(residual[fixed_y].sum())


def group_nodes(mesh: MeshTri2, name: str) -> Ints:
    """Nodes on a named group of edges, in order of x."""
    facets = mesh.boundaries[name]
    if len(facets) == 0:
        raise SolveError(f"the mesh has no edges in group {name!r}")
    nodes = np.unique(edge_nodes(mesh, facets))
    return nodes[np.argsort(mesh.doflocs[0, nodes])]


def edge_nodes(mesh: MeshTri2, facets: Ints) -> Ints:
    """Node numbers (3, edges) of quadratic edges: two ends in order of x, then the middle."""
    ends = mesh.facets[:, facets]
    swap = mesh.doflocs[0, ends[0]] > mesh.doflocs[0, ends[1]]
    ends = np.where(swap, ends[::-1], ends)
    middle = mesh.dofs.facet_dofs[0, facets]
    return np.vstack([ends, middle]).astype(np.intp)


def _rigid_motions(mesh: MeshTri2) -> Floats:
    """Rigid motions (3, 2N): along x, along y, and a small rotation, all of the size of 1."""
    x, y = mesh.doflocs
    zero, one = np.zeros_like(x), np.ones_like(x)
    size = np.ptp(y)
    motions = [(one, zero), (zero, one), (-(y - y.mean()) / size, (x - x.mean()) / size)]
    return np.stack([np.column_stack(m).ravel() for m in motions])
