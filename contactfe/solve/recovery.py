"""Nodal stress by superconvergent patch recovery with what is known on the surface.

Around each vertex a quadratic stress is fitted to the Gauss-point stresses of the elements that
meet there. Where the patch lies at the surface, two things more are known at the Gauss points of
each edge and join the fit: the traction (of contact or of a support, or none), and the stretch of
the edge itself, whose derivative along the edge is as accurate there as the stress inside. A
one-sided patch alone is least accurate just where stress peaks, at the bore and at the edge of
contact. Source of the method: Zienkiewicz and Zhu, Int. J. Numer. Meth. Engng 33 (1992), from
memory, not seen; the surface rows are a choice made here. Each part is fitted apart: stress along
the joint of two materials differs on its sides.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_matrix

from contactfe.solve.condense import CondensedBody
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints, edge_nodes, shape, shape_slope
from contactfe.solve.parts import Part

FEWEST_ELEMENTS = 4
"""A patch with fewer elements is widened by their neighbours: six coefficients need samples."""

SURFACE_WEIGHT = 64.0
"""Weight of a surface row against a stress sample in the fit: large, so that what is known on the
surface is met closely. Bore stresses of thick rings changed by less than 0.1 % from 64 to 1024."""

_COMPONENTS = 3  # σx, σy, τxy


@dataclass(frozen=True)
class Solved:
    """A body displaced by ``u`` (2N,) mm and what acts on its surface.

    ``contact`` (N, 2) MPa: traction on each contact line in the body's axes, per unit of length
    along the line's tangent, as the contact integrates it; ``amplitudes`` (s,): the supports'
    reactions.
    """

    body: CondensedBody
    u: Floats
    contact: Floats
    amplitudes: Floats


@dataclass(frozen=True)
class Surface:
    """What is known of the stress at the two Gauss points of each boundary edge of a part.

    ``rows`` (edges, 2, 3, 3) times (σx, σy, τxy) equals ``values`` (edges, 2, 3) in MPa; a row of
    zeros states nothing. ``facets`` (edges,) are facet numbers, ``x`` (edges, 2, 2) the points.
    """

    facets: Ints
    x: Floats
    rows: Floats
    values: Floats


def gauss_stress(solved: Solved, part: Part) -> Floats:
    """In-plane stress (elements, 3 points, 3) of a part in MPa, σx, σy, τxy."""
    nodes = solved.body.mesh.dofs.element_dofs.T[part.elements]
    local = solved.u.reshape(-1, 2)[nodes]  # (elements, 6, 2)
    grad = solved.body.gradients.grad[part.elements]
    gradient = np.einsum("eia,eibp->epab", local, grad, optimize=True)
    exx, eyy = gradient[..., 0, 0], gradient[..., 1, 1]
    mean = part.material.lam * (exx + eyy)
    mu = part.material.mu
    return np.stack(
        [
            mean + 2 * mu * exx,
            mean + 2 * mu * eyy,
            mu * (gradient[..., 0, 1] + gradient[..., 1, 0]),
        ],
        axis=-1,
    )


def surface(solved: Solved, part: Part) -> Surface:
    """Tractions and stretch on every outer edge of a part.

    On edges of a sliding hold only the traction along x is known; where the part is bonded to
    another, or to what holds it, no traction is. The stretch ε of an edge gives σt − ν′σn = E′ε:
    E′ = E/(1−ν²), ν′ = ν/(1−ν) in plane strain, E, ν in plane stress.
    """
    body, mesh = solved.body, part.mesh
    facets = mesh.boundary_facets()
    nodes = edge_nodes(mesh, facets)
    xi = np.array([-1.0, 1.0]) / np.sqrt(3.0)
    phi, dphi = shape(xi), shape_slope(xi)  # (3, 2 points)
    along = np.einsum("cie,ip->cep", mesh.doflocs[:, nodes], dphi)
    length = np.linalg.norm(along, axis=0)
    tx, ty = along / length
    displaced = solved.u.reshape(-1, 2)[part.nodes]
    stretch = np.einsum("iec,ip->cep", displaced[nodes], dphi)
    strain = (stretch[0] * tx + stretch[1] * ty) / length
    x = np.einsum("cie,ip->epc", mesh.doflocs[:, nodes], phi)
    inside = mesh.doflocs[:, mesh.t[:, mesh.f2t[0, facets]]].mean(axis=1)
    outward = np.sign((x[:, 0, 0] - inside[0]) * ty[:, 0] - (x[:, 0, 1] - inside[1]) * tx[:, 0])
    nx, ny = outward[:, None] * ty, -outward[:, None] * tx

    zero = np.zeros_like(nx)
    modulus, ratio = part.material.along_surface
    rows = np.array(
        [
            [nx, zero, ny],
            [zero, ny, nx],
            [tx**2 - ratio * nx**2, ty**2 - ratio * ny**2, 2 * (tx * ty - ratio * nx * ny)],
        ]
    )  # (3 rows, 3 components, edges, points)
    traction = np.zeros((2, *nx.shape))
    at_nodes = solved.contact[part.nodes]
    for line in body.lines:
        on = np.isin(facets, _group(part, line.group))
        facing = np.abs(np.tensordot(line.frame.axes[1], np.array([nx, ny]), axes=1))
        pushed = np.einsum("iec,ip->cep", at_nodes[nodes], phi) * facing
        traction[:, on] += pushed[:, on]
    for support, r in zip(body.hold.supports, solved.amplitudes, strict=True):
        if support.traction is not None:
            on = np.isin(facets, np.concatenate([_group(part, g) for g in support.groups]))
            traction[:, on] += r * np.array(support.traction(x[..., 0], x[..., 1]))[:, on]
    values = np.array([*traction, modulus * strain])
    none = np.array([], dtype=np.intp)
    for unknown, groups in ((slice(1, 2), body.hold.sliding), (slice(0, 2), body.hold.bonded)):
        held = np.isin(facets, np.concatenate([none, *(_group(part, g) for g in groups)]))
        rows[unknown, :, held] = 0.0
        values[unknown, held] = 0.0
    joined = np.isin(facets, part.joined)
    rows[:2, :, joined] = 0.0
    values[:2, joined] = 0.0
    return Surface(facets, x, rows.transpose(2, 3, 0, 1), values.transpose(1, 2, 0))


def _group(part: Part, name: str) -> Ints:
    """Edges of a named group that lie on a part."""
    return np.asarray((part.mesh.boundaries or {}).get(name, []), dtype=np.intp)


def recover(solved: Solved, part: Part) -> Floats:
    """Recovered in-plane stress (N, 3) in MPa at every node of a part: σx, σy, τxy.

    A vertex takes the value of its own patch, the middle of an edge the mean of the patches at its
    two ends.
    """
    mesh = part.mesh
    known = surface(solved, part)
    vertices = mesh.nvertices
    centre = mesh.doflocs.T
    patch, element = _patches(mesh.t, vertices)
    samples = solved.body.gradients.x.transpose(1, 2, 0)[part.elements]  # (elements, 3, 2)
    offset = samples[element] - centre[patch][:, None, :]
    size = np.zeros(vertices)
    np.maximum.at(size, patch, np.abs(offset).max(axis=(1, 2)))
    P = _polynomial(offset / size[patch][:, None, None])  # (pairs, 3, 6)

    starts = np.searchsorted(patch, np.arange(vertices))
    normal = np.add.reduceat(P.transpose(0, 2, 1) @ P, starts)  # (vertices, 6, 6)
    right = np.add.reduceat(P.transpose(0, 2, 1) @ gauss_stress(solved, part)[element], starts)

    fit = np.empty((vertices, 6, _COMPONENTS))
    owner, facet = _surface_pairs(mesh.f2t[0, known.facets], patch, element, len(mesh.t[0]))
    at_surface = np.unique(owner)
    inner = np.setdiff1d(np.arange(vertices), at_surface)
    fit[inner] = np.linalg.solve(normal[inner], right[inner])

    Q = _polynomial((known.x[facet] - centre[owner][:, None, :]) / size[owner][:, None, None])
    # Each row states Σc rows[c]·(polynomial of component c), c by c: 18 coefficients.
    A = (known.rows[facet][..., None] * Q[:, :, None, None, :]).reshape(len(owner), 6, 18)
    b = known.values[facet].reshape(len(owner), 6, 1)
    place = np.searchsorted(at_surface, owner)
    order = np.argsort(place, kind="stable")
    first = np.searchsorted(place[order], np.arange(len(at_surface)))
    weighted = SURFACE_WEIGHT * A.transpose(0, 2, 1)
    full = np.add.reduceat((weighted @ A)[order], first)
    load = np.add.reduceat((weighted @ b)[order], first)
    for c in range(_COMPONENTS):
        own = slice(6 * c, 6 * c + 6)
        full[:, own, own] += normal[at_surface]
        load[:, own, 0] += right[at_surface, :, c]
    fit[at_surface] = np.linalg.solve(full, load).reshape(-1, _COMPONENTS, 6).transpose(0, 2, 1)

    stress = np.empty((mesh.doflocs.shape[1], _COMPONENTS))
    stress[:vertices] = fit[:, 0]
    ends = mesh.facets.T
    middle = mesh.doflocs.T[mesh.dofs.facet_dofs[0]]
    value = np.zeros((len(ends), _COMPONENTS))
    for end in ends.T:
        basis = _polynomial((middle - centre[end]) / size[end][:, None])
        value += np.einsum("fk,fkc->fc", basis, fit[end]) / 2
    stress[mesh.dofs.facet_dofs[0]] = value
    return stress


def _polynomial(s: Floats) -> Floats:
    """Complete quadratic (..., 6) in local coordinates s (..., 2)."""
    x, y = s[..., 0], s[..., 1]
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)


def _patches(t: Ints, vertices: int) -> tuple[Ints, Ints]:
    """Pairs (vertex, element) of every patch, in order of the vertex."""
    elements = t.shape[1]
    touch = csr_matrix(
        (np.ones(t.size), (t.ravel(), np.tile(np.arange(elements), len(t)))), (vertices, elements)
    )
    few = np.diff(touch.indptr) < FEWEST_ELEMENTS
    wide = (touch[few] @ touch.T @ touch).tocoo()
    plain = touch.tocoo()
    keep = ~few[plain.row]
    patch = np.concatenate([plain.row[keep], np.flatnonzero(few)[wide.row]])
    element = np.concatenate([plain.col[keep], wide.col])
    order = np.argsort(patch, kind="stable")
    return patch[order], element[order]


def _surface_pairs(
    owner_of_facet: Ints, patch: Ints, element: Ints, elements: int
) -> tuple[Ints, Ints]:
    """Pairs (vertex, position among the boundary edges) for each edge of each patch's elements."""
    of_element = csr_matrix(
        (np.ones(len(owner_of_facet)), (owner_of_facet, np.arange(len(owner_of_facet)))),
        (elements, len(owner_of_facet)),
    )
    of_patch = csr_matrix((np.ones(len(patch)), (patch, element)), (patch.max() + 1, elements))
    pairs = (of_patch @ of_element).tocoo()
    return pairs.row.astype(np.intp), pairs.col.astype(np.intp)
