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
from numpy.typing import NDArray
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
_XI = np.array([-1.0, 1.0]) / np.sqrt(3.0)  # Gauss points of an edge


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

    ``rows`` (edges, 2, 3, 3) times (σx, σy, τxy) are the traction (2) and what the stretch gives; a
    row of zeros states nothing. ``facets`` (edges,) are facet numbers, ``nodes`` (3, edges) those
    of their nodes, ``x`` (edges, 2, 2) the points, ``tangent`` (2, edges, 2) and ``length``
    (edges, 2) those of the edge there, ``facing`` (edges, 2) of each contact line what of a length
    along its tangent an edge has, nothing of others. ``unknown`` (3, edges) marks the rows of
    zeros.
    """

    facets: Ints
    nodes: Ints
    x: Floats
    rows: Floats
    tangent: Floats
    length: Floats
    facing: tuple[Floats, ...]
    unknown: NDArray[np.bool_]


@dataclass(frozen=True)
class Patches:
    """The patches of a part, and all that their fits take from the mesh, whatever the load.

    ``element`` (pairs,) are the elements of patch after patch, each beginning at ``starts``;
    ``polynomial`` (pairs, 3, 6) at their samples, ``normal`` (vertices, 6, 6) the matrices of their
    fits; ``size`` (vertices,) mm. The patches ``at_surface``, whose components depend on each
    other, have the matrices ``full`` (k, 18, 18): of each patch and edge, ``weighted``
    (pairs, 18, 6) are the rows for the edge numbered ``edge``, patch after patch from ``first``.
    """

    element: Ints
    starts: Ints
    polynomial: Floats
    normal: Floats
    size: Floats
    surface: Surface
    inner: Ints
    at_surface: Ints
    full: Floats
    weighted: Floats
    edge: Ints
    first: Ints


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


def surface(body: CondensedBody, part: Part) -> Surface:
    """The outer edges of a part, and of which components something is known there.

    On edges of a sliding hold only the traction along x is known; where the part is bonded to
    another, or to what holds it, no traction is. The stretch ε of an edge gives σt − ν′σn = E′ε:
    E′ = E/(1−ν²), ν′ = ν/(1−ν) in plane strain, E, ν in plane stress.
    """
    mesh = part.mesh
    facets = mesh.boundary_facets()
    nodes = edge_nodes(mesh, facets)
    phi, dphi = shape(_XI), shape_slope(_XI)  # (3, 2 points)
    along = np.einsum("cie,ip->cep", mesh.doflocs[:, nodes], dphi)
    length = np.linalg.norm(along, axis=0)
    tx, ty = tangent = along / length
    x = np.einsum("cie,ip->epc", mesh.doflocs[:, nodes], phi)
    inside = mesh.doflocs[:, mesh.t[:, mesh.f2t[0, facets]]].mean(axis=1)
    outward = np.sign((x[:, 0, 0] - inside[0]) * ty[:, 0] - (x[:, 0, 1] - inside[1]) * tx[:, 0])
    nx, ny = outward[:, None] * ty, -outward[:, None] * tx

    zero = np.zeros_like(nx)
    _, ratio = part.material.along_surface
    rows = np.array(
        [
            [nx, zero, ny],
            [zero, ny, nx],
            [tx**2 - ratio * nx**2, ty**2 - ratio * ny**2, 2 * (tx * ty - ratio * nx * ny)],
        ]
    )  # (3 rows, 3 components, edges, points)
    facing = []
    for line in body.lines:
        on = np.isin(facets, _group(part, line.group))
        normal = np.abs(np.tensordot(line.frame.axes[1], np.array([nx, ny]), axes=1))
        facing.append(normal * on[:, None])
    none = np.array([], dtype=np.intp)
    unknown = np.zeros((3, len(facets)), dtype=bool)
    for these, groups in ((slice(1, 2), body.hold.sliding), (slice(0, 2), body.hold.bonded)):
        unknown[these] |= np.isin(
            facets, np.concatenate([none, *(_group(part, g) for g in groups)])
        )
    unknown[:2] |= np.isin(facets, part.joined)
    rows *= ~unknown[:, None, :, None]
    return Surface(
        facets, nodes, x, rows.transpose(2, 3, 0, 1), tangent, length, tuple(facing), unknown
    )


def known(solved: Solved, part: Part, at: Surface) -> Floats:
    """What the rows of a surface come to (edges, 2, 3), MPa, in a solved body."""
    body, phi, dphi = solved.body, shape(_XI), shape_slope(_XI)
    displaced = solved.u.reshape(-1, 2)[part.nodes]
    stretch = np.einsum("iec,ip->cep", displaced[at.nodes], dphi)
    strain = (stretch * at.tangent).sum(axis=0) / at.length
    on_line = np.einsum("iec,ip->cep", solved.contact[part.nodes][at.nodes], phi)
    traction = sum(on_line * facing for facing in at.facing) + np.zeros_like(on_line)
    for support, r in zip(body.hold.supports, solved.amplitudes, strict=True):
        if support.traction is not None:
            on = np.isin(at.facets, np.concatenate([_group(part, g) for g in support.groups]))
            x, y = at.x[on, :, 0], at.x[on, :, 1]
            traction[:, on] += r * np.array(support.traction(x, y))
    modulus, _ = part.material.along_surface
    values = np.array([*traction, modulus * strain])
    values[at.unknown] = 0.0
    return values.transpose(1, 2, 0)


def _group(part: Part, name: str) -> Ints:
    """Edges of a named group that lie on a part."""
    return np.asarray((part.mesh.boundaries or {}).get(name, []), dtype=np.intp)


def recover(solved: Solved, part: Part) -> Floats:
    """Recovered in-plane stress (N, 3) in MPa at every node of a part: σx, σy, τxy.

    A vertex takes the value of its own patch, the middle of an edge the mean of the patches at its
    two ends.
    """
    body = solved.body
    if part.name not in body.kept:
        half = None if body.fold is None else body.fold.half_part(body.mesh, part)
        body.kept[part.name] = half, patches(body, part if half is None else half.part)
    half, at = body.kept[part.name]
    if half is None:
        return _recovered(solved, part, at)
    stress: Floats = _recovered(solved, half.part, at)[half.source]
    stress[half.left, 2] *= -1.0
    return stress


def _recovered(solved: Solved, part: Part, at: Patches) -> Floats:
    """The same of a part as it is, by its patches."""
    mesh, P, surface_ = part.mesh, at.polynomial, at.surface
    vertices = mesh.nvertices
    sampled = gauss_stress(solved, part)[at.element]
    right = np.add.reduceat(P.transpose(0, 2, 1) @ sampled, at.starts)
    fit = np.empty((vertices, 6, _COMPONENTS))
    fit[at.inner] = np.linalg.solve(at.normal[at.inner], right[at.inner])
    b = known(solved, part, surface_)[at.edge].reshape(-1, 6, 1)
    load = np.add.reduceat(at.weighted @ b, at.first)
    load += right[at.at_surface].transpose(0, 2, 1).reshape(-1, 18, 1)
    found = np.linalg.solve(at.full, load).reshape(-1, _COMPONENTS, 6)
    fit[at.at_surface] = found.transpose(0, 2, 1)

    stress = np.empty((mesh.doflocs.shape[1], _COMPONENTS))
    stress[:vertices] = fit[:, 0]
    middles = mesh.dofs.facet_dofs[0]
    value = np.zeros((len(middles), _COMPONENTS))
    for end in mesh.facets:
        offset = mesh.doflocs[:, middles] - mesh.doflocs[:, end]
        value += np.einsum("fk,fkc->fc", _polynomial((offset / at.size[end]).T), fit[end]) / 2
    stress[middles] = value
    return stress


def patches(body: CondensedBody, part: Part) -> Patches:
    """The patches of a part of a body."""
    mesh, edges = part.mesh, surface(body, part)
    vertices = mesh.nvertices
    centre = mesh.doflocs.T
    patch, element = _patches(mesh.t, vertices)
    samples = body.gradients.x.transpose(1, 2, 0)[part.elements]  # (elements, 3, 2)
    offset = samples[element] - centre[patch][:, None, :]
    size = np.zeros(vertices)
    np.maximum.at(size, patch, np.abs(offset).max(axis=(1, 2)))
    P = _polynomial(offset / size[patch][:, None, None])  # (pairs, 3, 6)
    starts = np.searchsorted(patch, np.arange(vertices))
    normal = np.add.reduceat(P.transpose(0, 2, 1) @ P, starts)  # (vertices, 6, 6)

    owner, edge = _surface_pairs(mesh.f2t[0, edges.facets], patch, element, len(mesh.t[0]))
    order = np.argsort(owner, kind="stable")
    owner, edge = owner[order], edge[order]
    at_surface, first = np.unique(owner, return_index=True)
    Q = _polynomial((edges.x[edge] - centre[owner][:, None, :]) / size[owner][:, None, None])
    # Each row states Σc rows[c]·(polynomial of component c), c by c: 18 coefficients.
    A = (edges.rows[edge][..., None] * Q[:, :, None, None, :]).reshape(len(owner), 6, 18)
    weighted = SURFACE_WEIGHT * A.transpose(0, 2, 1)
    full = np.add.reduceat(weighted @ A, first)
    for c in range(_COMPONENTS):
        own = slice(6 * c, 6 * c + 6)
        full[:, own, own] += normal[at_surface]
    return Patches(
        element=element, starts=starts, polynomial=P, normal=normal, size=size, surface=edges,
        inner=np.setdiff1d(np.arange(vertices), at_surface), at_surface=at_surface, full=full,
        weighted=weighted, edge=edge, first=first,
    )  # fmt: skip


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
