"""A body as parts of one material each, which stress recovery must not look across."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from skfem import MeshTri2

from contactfe.errors import SolveError
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.lines import Ints

WHOLE = "whole"
"""Name of the only part of a body of one material."""


@dataclass(frozen=True)
class Part:
    """The elements of one material, with a mesh of their own.

    ``elements`` (E,) and ``nodes`` (n,) are numbers in the body's mesh: node k of ``mesh`` is node
    ``nodes[k]`` of the body. ``joined`` (k,) are the edges of ``mesh`` that it shares with another
    part, where tractions are not known.
    """

    name: str
    material: Elastic
    mesh: MeshTri2
    elements: Ints
    nodes: Ints
    joined: Ints


def parts_of(mesh: MeshTri2, material: Elastic | Mapping[str, Elastic]) -> tuple[Part, ...]:
    """The parts of a body: one for each named material, or the whole of one material.

    Raises
    ------
    SolveError
        if a named part is missing, or the materials do not cover the mesh once
    """
    everything = np.arange(mesh.t.shape[1])
    nodes = np.arange(mesh.doflocs.shape[1])
    if isinstance(material, Elastic):
        none = np.array([], dtype=np.intp)
        return (Part(WHOLE, material, mesh, everything, nodes, none),)
    subdomains = mesh.subdomains or {}
    for name in material:
        if name not in subdomains:
            raise SolveError(f"the mesh has no part {name!r}")
    groups = {name: np.sort(subdomains[name]) for name in material}
    if not np.array_equal(np.sort(np.concatenate(list(groups.values()))), everything):
        raise SolveError(f"the materials {', '.join(material)} do not cover the mesh just once")
    if len(groups) == 1:
        ((name, of),) = material.items()
        return (Part(name, of, mesh, everything, nodes, np.array([], dtype=np.intp)),)
    return tuple(part_of(mesh, name, material[name], group) for name, group in groups.items())


def per_element(mesh: MeshTri2, parts: tuple[Part, ...]) -> tuple[Floats, Floats]:
    """Lamé constants λ and μ of every element of the body (elements,), MPa."""
    lam, mu = np.empty(mesh.t.shape[1]), np.empty(mesh.t.shape[1])
    for part in parts:
        lam[part.elements], mu[part.elements] = part.material.lam, part.material.mu
    return lam, mu


def part_of(mesh: MeshTri2, name: str, material: Elastic, elements: Ints) -> Part:
    """Elements of a body as a mesh of their own, with the named edges that they keep."""
    used, t = np.unique(mesh.dofs.element_dofs[:, elements], return_inverse=True)
    alone = MeshTri2(mesh.doflocs[:, used], t.reshape(6, -1))
    # The mesh numbers its nodes anew; both hold the same coordinates, to the last bit.
    nodes = np.empty(len(used), dtype=np.intp)
    nodes[np.lexsort(alone.doflocs)] = used[np.lexsort(mesh.doflocs[:, used])]
    middle = {int(m): k for k, m in enumerate(nodes[alone.dofs.facet_dofs[0]])}

    def kept(facets: Ints) -> Ints:
        found = (middle.get(int(m)) for m in mesh.dofs.facet_dofs[0, facets])
        return np.array([k for k in found if k is not None], dtype=np.int32)

    inside = np.setdiff1d(np.arange(mesh.facets.shape[1]), mesh.boundary_facets())
    joined = np.intersect1d(kept(inside), alone.boundary_facets())
    named = {group: kept(facets) for group, facets in (mesh.boundaries or {}).items()}
    return Part(name, material, alone.with_boundaries(named), np.asarray(elements), nodes, joined)
