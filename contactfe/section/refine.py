"""Finer elements where they are asked for, in a mesh that cannot be drawn anew.

The outline stays as it was drawn: a new node on an existing edge lies on that edge's parabola, or
on its circle where the edge is an arc about the member's centre.
"""

from collections.abc import Callable

import meshio
import numpy as np
from scipy.spatial import cKDTree
from skfem import MeshTri

from contactfe.errors import InputError, SolveError
from contactfe.section.quadratic import (
    Edges,
    Floats,
    Ints,
    Mask,
    doubled_areas,
    edges_of,
    least_jacobians,
    with_groups,
)

MOST_PASSES = 40
"""Passes of refinement before giving up. A pass halves the edges that are too long, so 40 of them
make an element 1e12 times smaller: only a size field with a point of no size asks for more."""

MOST_TRIANGLES = 200_000
"""Triangles beyond which a section is refused: its factor would fill the memory of a small machine
(common practice, no source)."""

_ON_CIRCLE = 1e-9
"""Share of the radius by which the nodes of an arc may lie off its circle. ``read_section`` and
``mesh_member`` put them there to rounding."""


def refine(
    mesh: meshio.Mesh, size: Callable[[Floats, Floats], Floats], radius: float
) -> meshio.Mesh:
    """Refine until no element is longer than the size asked for at its centroid.

    Too long elements are split in four and their neighbours closed in two, three or four
    (scikit-fem's red, green and blue refinement), again and again; no node is left hanging. Named
    groups of surfaces and edges are kept. Halves of an edge follow the edge; edges new inside an
    element are straight.

    Parameters
    ----------
    mesh
        one block or more of ``triangle6``, named ``line3`` edges and named surfaces in
        ``cell_sets``; points (n, 2) in mm, in the axes of the results
    size
        greatest length (mm) of an edge, from arrays x and y of the centroids (mm)
    radius
        outside radius of the member, mm: arcs about its centre (0, ``radius``) stay on their circle

    Raises
    ------
    InputError
        if a size is not positive, or the sizes ask for more than ``MOST_TRIANGLES``
    SolveError
        if sizes are not reached in ``MOST_PASSES``, or an element turns over
    """
    points, triangles, surfaces, lines = _taken_apart(mesh)
    for _ in range(MOST_PASSES):
        too_long = _too_long(points, triangles, size)
        if not too_long.any():
            break
        points, triangles, surfaces, lines = _one_pass(
            points, triangles, surfaces, lines, too_long, radius
        )
        if len(triangles) > MOST_TRIANGLES:
            raise InputError(
                f"the element sizes asked for need more than {MOST_TRIANGLES} triangles;"
                " ask for larger elements, or for small ones over a smaller zone"
            )
    else:
        raise SolveError(f"the mesh did not reach the sizes asked for in {MOST_PASSES} passes")
    turned = np.flatnonzero(least_jacobians(points, triangles) <= 0.0)
    if turned.size:
        x, y = points[triangles[turned[0], :3]].mean(axis=0)
        raise SolveError(
            f"refinement turned over {turned.size} elements, the first at ({x:.6g}, {y:.6g}) mm;"
            " draw the section with smaller elements along its curves"
        )
    return with_groups(points, triangles, surfaces, lines)


def _taken_apart(
    mesh: meshio.Mesh,
) -> tuple[Floats, Ints, dict[str, Mask], dict[str, Ints]]:
    """Points, triangles, marked triangles of each surface, and edges (k, 3) of each line."""
    cells = mesh.cells_dict
    triangles = cells["triangle6"].astype(np.int64)
    surfaces, lines = {}, {}
    for name, members in mesh.cell_sets_dict.items():
        if "triangle6" in members:
            surfaces[name] = np.isin(np.arange(len(triangles)), members["triangle6"])
        elif "line3" in members:
            lines[name] = cells["line3"][members["line3"]].astype(np.int64)
    return mesh.points[:, :2].astype(np.float64), triangles, surfaces, lines


def _too_long(points: Floats, triangles: Ints, size: Callable[[Floats, Floats], Floats]) -> Mask:
    corners = points[triangles[:, :3]]
    longest = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2).max(axis=1)
    x, y = corners.mean(axis=1).T
    wanted = np.broadcast_to(np.asarray(size(x, y), dtype=np.float64), longest.shape)
    bad = np.flatnonzero(~(wanted > 0.0))
    if bad.size:
        k = bad[0]
        raise InputError(
            f"the element size at ({x[k]:.6g}, {y[k]:.6g}) mm must be positive,"
            f" not {wanted[k]:g} mm"
        )
    return np.asarray(longest > wanted)


def _one_pass(
    points: Floats,
    triangles: Ints,
    surfaces: dict[str, Mask],
    lines: dict[str, Ints],
    too_long: Mask,
    radius: float,
) -> tuple[Floats, Ints, dict[str, Mask], dict[str, Ints]]:
    """Split the marked elements and whatever neighbours that takes, once."""
    vertices, corners = np.unique(triangles[:, :3], return_inverse=True)
    corners = corners.reshape(-1, 3).astype(np.int64)
    edges = edges_of(corners)
    middle = np.empty(len(edges.ends), dtype=np.int64)
    middle[edges.of_triangle] = triangles[:, 3:]
    end_points, middle_points = points[vertices], points[middle]

    straight = MeshTri(end_points.T.copy(), corners.T.copy())
    split = straight.with_subdomains(
        {name: np.flatnonzero(mask) for name, mask in surfaces.items()}
    ).refined(np.flatnonzero(too_long))
    # scikit-fem puts a new vertex halfway between the ends of the edge it splits and does not say
    # which edge that was, so it is found by place. On our mesh the edge's middle node is there.
    fresh = split.p[:, len(vertices) :].T
    distance, parent = cKDTree(end_points[edges.ends].mean(axis=1)).query(fresh)
    if distance.max(initial=0.0) > 1e-9 * np.ptp(end_points, axis=0).max():
        raise SolveError("a new node lies on no edge of the mesh that was refined")
    new_vertices = np.vstack([end_points, middle_points[parent]])
    new_corners = split.t.T.astype(np.int64)
    clockwise = doubled_areas(split.p.T, new_corners) < 0.0  # scikit-fem does not mind
    new_corners[clockwise] = new_corners[clockwise][:, [0, 2, 1]]

    first = len(vertices)
    new_edges = edges_of(new_corners)
    new_middles = new_vertices[new_edges.ends].mean(axis=1)
    # Edges that were not split keep their middle node.
    kept = edges.find(new_edges.ends)
    new_middles[kept >= 0] = middle_points[kept[kept >= 0]]
    # Halves of a split edge: a quarter of the way along the parent's parabola, or arc.
    for near in (0, 1):
        halves = np.column_stack([edges.ends[parent, near], first + np.arange(len(parent))])
        new_middles[new_edges.find(halves)] = _quarter_points(
            end_points[edges.ends[parent, near]],
            middle_points[parent],
            end_points[edges.ends[parent, 1 - near]],
            np.array([0.0, radius]),
        )

    number = len(new_vertices) + np.arange(len(new_edges.ends))
    vertex_of_edge = np.full(len(edges.ends), -1)
    vertex_of_edge[parent] = first + np.arange(len(parent))
    renumber = np.full(len(points), -1)
    renumber[vertices] = np.arange(len(vertices))
    return (
        np.vstack([new_vertices, new_middles]),
        np.hstack([new_corners, number[new_edges.of_triangle]]),
        {name: np.isin(np.arange(len(new_corners)), split.subdomains[name]) for name in surfaces},
        {
            name: _halved(renumber[line[:, :2]], edges, vertex_of_edge, new_edges, number)
            for name, line in lines.items()
        },
    )


def _quarter_points(near: Floats, middle: Floats, far: Floats, centre: Floats) -> Floats:
    """Points (k, 2) halfway between ``near`` and ``middle`` along edges near-middle-far.

    On the parabola through the three nodes (its shape functions at a quarter are 3/8, 3/4, -1/8),
    moved onto the circle about ``centre`` if the three nodes lie on one.
    """
    quarter = 0.375 * near + 0.75 * middle - 0.125 * far
    reach = np.array([np.linalg.norm(p - centre, axis=1) for p in (near, middle, far)])
    arc = np.ptp(reach, axis=0) <= _ON_CIRCLE * centre[1]
    spoke = quarter[arc] - centre
    length = np.linalg.norm(spoke, axis=1)[:, None]
    quarter[arc] = centre + spoke * reach[0, arc, None] / length
    return np.asarray(quarter)


def _halved(ends: Ints, edges: Edges, vertex_of_edge: Ints, new_edges: Edges, number: Ints) -> Ints:
    """Edges (k, 3) that a named line with the old ``ends`` (n, 2) has become."""
    vertex = vertex_of_edge[edges.find(ends)]
    whole, cut = ends[vertex < 0], ends[vertex >= 0]
    at = vertex[vertex >= 0]
    pairs = np.vstack([whole, np.column_stack([cut[:, 0], at]), np.column_stack([at, cut[:, 1]])])
    return np.column_stack([pairs, number[new_edges.find(pairs)]])
