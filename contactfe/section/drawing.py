"""A section as it was drawn elsewhere, checked for what needs no radius.

All is in the drawing's own coordinates, so that a message names places where the engineer can look
them up.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import meshio
import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from contactfe.errors import InputError
from contactfe.section.files import named_cells
from contactfe.section.quadratic import (
    Edges,
    Floats,
    Ints,
    Mask,
    doubled_areas,
    edges_of,
    least_jacobians,
)

SURFACES = ("member", "infill")
LINES = ("contact", "bore", "hold")
REQUIRED = ("member", "contact")

_FLAT = 1e-6
"""Least ratio of an element's doubled area to its longest edge squared."""

_TOUCHING = 1e-4
"""Share of the shortest edge within which two nodes lie in one place."""


@dataclass(frozen=True)
class Drawing:
    """The mesh as it was drawn, in drawing units.

    ``points`` (n, 2) without unused ones, ``corners`` (m, 3), ``middles`` (m, 3) or None for linear
    triangles; ``surfaces`` marks triangles (m,), ``lines`` holds ends (k, 2).
    """

    points: Floats
    corners: Ints
    middles: Ints | None
    surfaces: Mapping[str, Mask]
    lines: Mapping[str, Ints]

    def place(self, nodes: Ints) -> str:
        """Where some nodes are, for a message."""
        x, y = self.points[nodes].mean(axis=0)
        return f"({x:.6g}, {y:.6g}) of the drawing"


def drawing_of(mesh: meshio.Mesh) -> tuple[Drawing, Edges]:
    """The drawing in a mesh as it was read, and its edges.

    Raises
    ------
    InputError
        if the mesh fails a check
    """
    drawing = _counter_clockwise(_drawing(mesh))
    edges = edges_of(drawing.corners)
    _check_joined(drawing, edges)
    _check_lines(drawing, edges)
    return drawing, edges


def _drawing(mesh: meshio.Mesh) -> Drawing:
    """Points, triangles and groups out of whatever blocks the file has."""
    kind = _kind_of_triangle(mesh)
    named = named_cells(mesh)
    for name in REQUIRED:
        if name not in named:
            found = ", ".join(sorted(named)) or "none"
            raise InputError(f"has no group {name!r}; groups found: {found}")
    triangles = np.vstack([block.data for block in mesh.cells if block.type == kind])
    surfaces = {name: _marked(mesh, kind, named[name]) for name in SURFACES if name in named}
    lines = {name: _ends(mesh, named[name]) for name in LINES if name in named}
    for name, mask in surfaces.items():
        if not mask.any():
            raise InputError(f"group {name!r} holds no triangles")
    for name, ends in lines.items():
        if not len(ends):
            raise InputError(f"group {name!r} holds no lines (cells of 2 or 3 nodes)")
    # .msh 2.2 lists an element once for each of its groups.
    _, first, again = np.unique(
        np.sort(triangles[:, :3], axis=1), axis=0, return_index=True, return_inverse=True
    )
    for name, mask in surfaces.items():
        surfaces[name] = np.bincount(again.ravel(), mask, len(first)) > 0
    triangles = triangles[first]
    member, infill = surfaces["member"], surfaces.get("infill", np.zeros(len(first), bool))
    if (member & infill).any():
        raise InputError(f"{(member & infill).sum()} triangles are both 'member' and 'infill'")
    if not (member | infill).all():
        raise InputError(
            f"{(~(member | infill)).sum()} of {len(first)} triangles are neither 'member' nor"
            " 'infill'; each must be one of them"
        )
    points = _plane_points(mesh.points)
    used = np.unique(triangles)
    number = np.full(len(points), -1)
    number[used] = np.arange(len(used))
    for name, ends in lines.items():
        if (number[ends] < 0).any():
            raise InputError(f"group {name!r} holds a line that is not an edge of a triangle")
    triangles = number[triangles]
    return Drawing(
        points[used],
        triangles[:, :3],
        triangles[:, 3:] if kind == "triangle6" else None,
        surfaces,
        {name: number[ends] for name, ends in lines.items()},
    )


def _marked(mesh: meshio.Mesh, kind: str, group: list[Mask]) -> Mask:
    """Which of all triangles of this kind are in a group."""
    parts = zip(mesh.cells, group, strict=True)
    return np.concatenate([part for block, part in parts if block.type == kind])


def _ends(mesh: meshio.Mesh, group: list[Mask]) -> Ints:
    """End nodes (k, 2) of the lines in a group, each line once."""
    parts = zip(mesh.cells, group, strict=True)
    ends = [block.data[part, :2] for block, part in parts if block.type in {"line", "line3"}]
    return np.unique(np.sort(np.vstack([np.empty((0, 2), dtype=np.int64), *ends])), axis=0)


def _kind_of_triangle(mesh: meshio.Mesh) -> str:
    """The one type of triangle in the file, or an error that names the types that cannot be."""
    kinds = {block.type for block in mesh.cells if len(block) and block.dim >= 2}
    wrong = sorted(kinds - {"triangle", "triangle6"})
    if wrong:
        raise InputError(
            f"holds cells of type {', '.join(wrong)}; only triangles of 3 or 6 nodes are allowed"
        )
    if not kinds:
        raise InputError("holds no triangles")
    if len(kinds) > 1:
        raise InputError("mixes triangles of 3 and 6 nodes; they must be of one kind")
    return str(kinds.pop())


def _plane_points(points: Floats) -> Floats:
    """Coordinates (n, 2) of a drawing that must be planar."""
    if not np.isfinite(points).all():
        raise InputError("has points whose coordinates are not numbers")
    if points.shape[1] == 3:
        low, high = points[:, 2].min(), points[:, 2].max()
        if high - low > 1e-6 * np.ptp(points[:, :2], axis=0).max():
            raise InputError(f"is not planar: z runs from {low:g} to {high:g}; it must not vary")
    return np.asarray(points[:, :2], dtype=np.float64)


def _counter_clockwise(drawing: Drawing) -> Drawing:
    """The drawing with all triangles turned counter-clockwise; they must turn all one way."""
    points, corners = drawing.points, drawing.corners
    areas = doubled_areas(points, corners)
    sides = points[corners] - points[corners[:, [1, 2, 0]]]
    flat = np.flatnonzero(np.abs(areas) <= _FLAT * (sides**2).sum(axis=2).max(axis=1))
    if flat.size:
        raise InputError(
            f"{flat.size} triangles have no area, the first at {drawing.place(corners[flat[0]])}"
        )
    clockwise = np.flatnonzero(areas < 0.0)
    middles = drawing.middles
    if clockwise.size == len(corners):
        corners = corners[:, [0, 2, 1]]
        middles = None if middles is None else middles[:, [2, 1, 0]]
    elif clockwise.size:
        raise InputError(
            f"{clockwise.size} of {len(corners)} triangles turn clockwise, the first at"
            f" {drawing.place(corners[clockwise[0]])}; all must turn the same way"
        )
    if middles is not None:
        folded = np.flatnonzero(least_jacobians(points, np.hstack([corners, middles])) <= 0.0)
        if folded.size:
            raise InputError(
                f"{folded.size} curved triangles fold over (their Jacobian is not positive"
                f" throughout), the first at {drawing.place(corners[folded[0]])}"
            )
    return Drawing(points, corners, middles, drawing.surfaces, drawing.lines)


def _check_joined(drawing: Drawing, edges: Edges) -> None:
    """The triangles must tile one connected part, node on node."""
    # Counter-clockwise neighbours run along their common edge in opposite directions.
    forward = drawing.corners < drawing.corners[:, [1, 2, 0]]
    runs = np.bincount(edges.of_triangle.ravel(), forward.ravel(), len(edges.ends))
    over = np.flatnonzero((edges.sides > 2) | ((edges.sides == 2) & (runs != 1)))
    if over.size:
        raise InputError(
            f"triangles overlap at {over.size} edges, the first at"
            f" {drawing.place(edges.ends[over[0]])}"
        )
    m = len(drawing.corners)
    triangle = np.repeat(np.arange(m), 3)
    shared = coo_matrix(
        (np.ones(3 * m), (triangle, m + edges.of_triangle.ravel())),
        shape=(m + len(edges.ends),) * 2,
    )
    parts, _ = connected_components(shared, directed=False)
    if parts > 1:
        raise InputError(
            f"falls into {parts} parts that share no edges; parts that belong together must share"
            " their nodes (merge duplicate nodes)"
        )
    if drawing.middles is not None:
        _check_middles(drawing, edges)
    _check_cracks(drawing, edges.ends[edges.sides == 1])


def _check_middles(drawing: Drawing, edges: Edges) -> None:
    """Neighbours must share the middle node of their edge, and it must be a corner of none."""
    assert drawing.middles is not None
    middle = np.empty(len(edges.ends), dtype=np.int64)
    middle[edges.of_triangle] = drawing.middles
    apart = np.flatnonzero((middle[edges.of_triangle] != drawing.middles).any(axis=1))
    if apart.size:
        raise InputError(
            f"{apart.size} triangles do not share the middle node of an edge with their neighbour,"
            f" the first at {drawing.place(drawing.corners[apart[0]])} (merge duplicate nodes)"
        )
    hanging = np.intersect1d(middle, drawing.corners)
    if hanging.size:
        raise InputError(
            f"{hanging.size} nodes hang on the edge of a larger triangle, the first at"
            f" {drawing.place(hanging[:1])}"
        )


def _check_cracks(drawing: Drawing, boundary: Ints) -> None:
    """No two boundary nodes in one place, and none on the edge of a larger triangle."""
    points = drawing.points
    nodes = np.unique(boundary)
    tree = cKDTree(points[nodes])
    start, along = points[boundary[:, 0]], np.diff(points[boundary], axis=1)[:, 0]
    length = np.linalg.norm(along, axis=1)
    twins = tree.query_pairs(_TOUCHING * length.min(), output_type="ndarray")
    if len(twins):
        raise InputError(
            f"{len(twins)} pairs of boundary nodes lie in one place, the first at"
            f" {drawing.place(nodes[twins[0]])}: a crack, or nodes that were not merged"
        )
    near = tree.query_ball_point(start + along / 2.0, length / 2.0)
    edge = np.repeat(np.arange(len(boundary)), [len(found) for found in near])
    node = nodes[np.concatenate(near).astype(np.int64)]
    away = points[node] - start[edge]
    off = np.abs(along[edge, 0] * away[:, 1] - along[edge, 1] * away[:, 0]) / length[edge]
    inside = (node != boundary[edge, 0]) & (node != boundary[edge, 1])
    hanging = node[inside & (off <= _TOUCHING * length[edge])]
    if hanging.size:
        raise InputError(
            f"{hanging.size} nodes hang on the edge of a larger triangle, the first at"
            f" {drawing.place(hanging[:1])}"
        )


def _check_lines(drawing: Drawing, edges: Edges) -> None:
    """Named lines must be edges of triangles; contact and bore on the boundary of ``member``."""
    number = {name: edges.find(ends) for name, ends in drawing.lines.items()}
    for name, found in number.items():
        if (found < 0).any():
            raise InputError(
                f"group {name!r} holds a line that is not an edge of a triangle, at"
                f" {drawing.place(drawing.lines[name][found < 0][0])}"
            )
    steel = np.repeat(drawing.surfaces["member"], 3)
    steel_sides = np.bincount(edges.of_triangle.ravel(), steel, len(edges.ends))
    for name in LINES[:2]:
        off = number.get(name, np.array([], dtype=np.int64))
        off = off[steel_sides[off] != 1]
        if off.size:
            raise InputError(
                f"group {name!r} must lie on the boundary of 'member'; {off.size} edges do not, the"
                f" first at {drawing.place(edges.ends[off[0]])}"
            )
    if (edges.sides[number["contact"]] > 1).any():
        raise InputError("group 'contact' must lie on the outer boundary, not on 'infill'")
    for name in LINES[1:]:
        both = np.isin(number["contact"], number.get(name, -1)).sum()
        if both:
            raise InputError(f"groups 'contact' and {name!r} have {both} edges in common")
