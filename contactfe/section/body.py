"""From a meshio mesh with named groups to the scikit-fem mesh that the solver works on."""

import meshio
import numpy as np
from skfem import MeshTri2

from contactfe.errors import ContactfeError


def to_skfem(mesh: meshio.Mesh) -> MeshTri2:
    """Quadratic triangle mesh with the named groups of ``mesh``.

    Its ``boundaries`` are the line groups, as facet numbers; they may lie inside the body. Its
    ``subdomains`` are the groups of triangles, as element numbers; elements keep the order of the
    triangles. scikit-fem's own conversion loses named groups of quadratic edges, so they are
    matched here by the vertices of each edge.

    Raises
    ------
    ContactfeError
        if there are no quadratic triangles, or a named edge is not an edge of the mesh
    """
    cells = mesh.cells_dict
    if "triangle6" not in cells:
        raise ContactfeError("the mesh holds no quadratic triangles (triangle6)")
    t = cells["triangle6"].T
    vertices = np.unique(t[:3])
    renumber = np.full(len(mesh.points), -1)
    renumber[vertices] = np.arange(len(vertices))
    skfem_mesh = MeshTri2(mesh.points[:, :2].T, t)
    key_of = len(vertices)
    facet_key = skfem_mesh.facets.min(axis=0).astype(np.int64) * key_of + skfem_mesh.facets.max(
        axis=0
    )
    order = np.argsort(facet_key)
    boundaries, subdomains = {}, {}
    for name, groups in mesh.cell_sets_dict.items():
        if "triangle6" in groups:
            subdomains[name] = np.sort(groups["triangle6"]).astype(np.int32)
        if "line3" not in groups:
            continue
        ends = renumber[cells["line3"][groups["line3"]][:, :2]]
        wanted = ends.min(axis=1).astype(np.int64) * key_of + ends.max(axis=1)
        place = np.minimum(np.searchsorted(facet_key, wanted, sorter=order), len(order) - 1)
        facets = order[place]
        if not np.array_equal(facet_key[facets], wanted):
            raise ContactfeError(f"group {name!r} holds an edge that is not an edge of the mesh")
        boundaries[name] = np.sort(facets).astype(np.int32)
    return skfem_mesh.with_boundaries(boundaries).with_subdomains(subdomains)
