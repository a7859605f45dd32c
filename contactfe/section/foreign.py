"""A section drawn elsewhere: read it, check it, and bring it to our axes and quadratic elements.

Checks that need no radius are done in the drawing's own coordinates, so that a message names places
where the engineer can look them up.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import meshio
import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from contactfe.errors import InputError
from contactfe.section.circle import circle_of_radius, fitted_diameter
from contactfe.section.files import load_mesh, named_cells
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

SURFACES = ("member", "infill")
LINES = ("contact", "bore", "hold")
REQUIRED = ("member", "contact")

OFF_CIRCLE = 1e-3
"""Share of the radius by which a vertex of the contact line, or of the bore, may lie off its
circle; moving it there changes the section less than any tolerance of the steel (common practice,
no source)."""

OFF_ARC = 5e-3
"""The same as a share of the height of the contact arc: on a short arc a wrong diameter shows in
its height only. A diameter wrong by one percent moves points by 0.7 % of the height (derived here:
a parabola against its mean)."""

ROUNDING = 1e-5
"""Share of the radius within which a vertex always passes: files with six digits."""

BORE_TURN = np.pi / 6
"""Longest arc (radians) of one edge of a bore that is taken for round. Beyond it the bore is the
polygon that it looks like."""

_FLAT = 1e-6
"""Least ratio of an element's doubled area to its longest edge squared."""

_TOUCHING = 1e-4
"""Share of the shortest edge within which two nodes lie in one place."""


def read_section(path: Path, unit_in_mm: float, radius: float) -> meshio.Mesh:
    """Cross-section of the member from a mesh file, checked, in mm and in the axes of the results.

    The file is .msh 2.2 or 4.1, .vtu or .xdmf and holds linear or quadratic triangles, not both,
    and lines along edges of triangles. It names these groups:

    - ``member``: triangles of the member's steel;
    - ``contact``: lines on which contact is looked for. They are one unbroken line on the outer
      boundary and on the circle of the outside radius, below its centre, past its lowest point;
    - ``infill`` (optional): triangles of a second material. Every triangle is in one of the two;
    - ``bore`` (optional): lines along the hole, which a section without one does not have. They are
      on the boundary of ``member``, also where ``infill`` fills the hole;
    - ``hold`` (optional here, see ``require_hold``): lines that are held fixed.

    Groups are the physical names of a .msh file. In .vtu and .xdmf they are cell data: for each
    group an array of its name that is 1 where the cell (triangle or line) belongs to it and 0
    elsewhere. Other groups are passed over. Lines may be of two or three nodes. An .xdmf file holds
    linear triangles and lines only, as meshio reads no other mixture.

    The drawing may lie anywhere in its plane: it is moved, not turned. Linear triangles are made
    quadratic. All nodes of the contact line are put on the circle, those of the bore as well if
    they lie on a circle about the same centre; else the bore stays as drawn.

    Parameters
    ----------
    path
        the file
    unit_in_mm
        length of one drawing unit, mm: 1, 25.4, 1000
    radius
        outside radius of the member at the contact line, mm

    Returns
    -------
    meshio.Mesh
        points (n, 2) in mm, a block of ``triangle6`` that turn counter-clockwise, a block of
        ``line3`` for each line group; ``cell_sets`` name surfaces and lines. The contact circle
        touches (0, 0) and its centre is (0, ``radius``).

    Raises
    ------
    InputError
        if the file cannot be read, or the mesh fails a check; the message starts with the path
    """
    for what, value in (("drawing unit", unit_in_mm), ("outside radius", radius)):
        if not 0.0 < value < np.inf:
            raise InputError(f"{path}: the {what} must be a positive length, not {value:g} mm")
    mesh = load_mesh(path)
    try:
        drawing = _counter_clockwise(_drawing(mesh))
        edges = edges_of(drawing.corners)
        _check_joined(drawing, edges)
        _check_lines(drawing, edges)
        return _placed(drawing, edges, unit_in_mm, radius)
    except InputError as error:
        raise InputError(f"{path}: {error}") from error


def require_hold(mesh: meshio.Mesh, path: Path) -> None:
    """Check that a section read from ``path`` says where it is held, if it is to be held there.

    Raises
    ------
    InputError
        if there is no group ``hold``
    """
    if "hold" not in mesh.cell_sets:
        raise InputError(
            f"{path}: has no group 'hold': the section is to be held fixed along edges of that name"
        )


@dataclass(frozen=True)
class _Drawing:
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


def _drawing(mesh: meshio.Mesh) -> _Drawing:
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
    return _Drawing(
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


def _counter_clockwise(drawing: _Drawing) -> _Drawing:
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
    return _Drawing(points, corners, middles, drawing.surfaces, drawing.lines)


def _check_joined(drawing: _Drawing, edges: Edges) -> None:
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


def _check_middles(drawing: _Drawing, edges: Edges) -> None:
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


def _check_cracks(drawing: _Drawing, boundary: Ints) -> None:
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


def _check_lines(drawing: _Drawing, edges: Edges) -> None:
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


def _placed(drawing: _Drawing, edges: Edges, unit_in_mm: float, radius: float) -> meshio.Mesh:
    """The drawing in mm, lowest on its contact circle, quadratic and round where it should be."""
    points = drawing.points * unit_in_mm
    contact = drawing.lines["contact"]
    vertices = np.unique(contact)
    points = points - _centre(points[vertices], unit_in_mm, radius) + np.array([0.0, radius])
    centre = np.array([0.0, radius])
    _check_contact(points, contact, radius)
    _check_outer(drawing, points, edges, centre)

    if drawing.middles is None:
        corners_only = len(points)
        points = np.vstack([points, points[edges.ends].mean(axis=1)])
        middles = corners_only + edges.of_triangle
    else:
        middles = drawing.middles
    triangles = np.hstack([drawing.corners, middles])
    middle = np.empty(len(edges.ends), dtype=np.int64)
    middle[edges.of_triangle] = middles
    lines = {
        name: np.column_stack([ends, middle[edges.find(ends)]])
        for name, ends in drawing.lines.items()
    }
    if not _is_arc(points, lines["contact"], centre, radius, OFF_CIRCLE * radius):
        raise InputError(
            "middle nodes of group 'contact' lie neither on the circle nor on its chords"
        )
    _put_on_circle(points, lines["contact"], centre, radius)
    if "bore" in lines:
        _round_bore(points, lines["bore"], centre)
    lowest = points[:, 1].min()
    if lowest < -OFF_CIRCLE * radius:
        raise InputError(
            f"reaches {-lowest:.6g} mm below its contact line; the lowest point of the section must"
            " be on it: turn the drawing"
        )
    folded = np.flatnonzero(least_jacobians(points, triangles) <= 0.0)
    if folded.size:
        raise InputError(
            f"{folded.size} triangles fold over when the contact line or the bore is made round,"
            f" the first at {drawing.place(drawing.corners[folded[0]])}: draw it with shorter edges"
        )
    return with_groups(points, triangles, drawing.surfaces, lines)


def _centre(contact: Floats, unit_in_mm: float, radius: float) -> Floats:
    """Centre of the circle of the stated radius through the vertices of the contact line, mm."""
    fitted = fitted_diameter(contact)
    if fitted is None:
        raise InputError(
            "group 'contact' lies on a straight line; it must lie on a circle, on two edges or more"
        )
    centre, off = circle_of_radius(contact, radius)
    half_chord = min(np.ptp(contact, axis=0).max() / 2.0, radius)
    height = radius - np.sqrt(radius**2 - half_chord**2)
    allowed = min(OFF_CIRCLE * radius, max(OFF_ARC * height, ROUNDING * radius))
    if off > allowed:
        raise InputError(
            f"group 'contact' lies up to {off:.3g} mm off a circle of the stated outside diameter"
            f" {2 * radius:.6g} mm (allowed: {allowed:.3g} mm); its vertices fit a diameter of"
            f" {fitted:.6g} mm. Check the"
            f" diameter and the unit of the drawing (now 1 unit = {unit_in_mm:g} mm)"
        )
    return centre


def _check_contact(points: Floats, contact: Ints, radius: float) -> None:
    """The contact line must pass the lowest point, below the centre, without a gap."""
    vertices = np.unique(contact)
    x, y = points[vertices].T
    if not (y.max() < radius and x.min() < 0.0 < x.max()):
        middle = np.arctan2(x.mean(), radius - y.mean())
        c, s = np.cos(middle), np.sin(middle)  # angles from the middle: none jumps at 180°
        angle = np.degrees(middle + np.arctan2(x * c - (radius - y) * s, x * s + (radius - y) * c))
        raise InputError(
            f"group 'contact' runs from {angle.min():.0f}° to {angle.max():.0f}° about the lowest"
            " point of its circle; it must pass that point (0°) and stay within 90° of it: turn the"
            " drawing, or name other edges"
        )
    if len(contact) != len(vertices) - 1:  # edges of one arc: fewer where it has a gap
        raise InputError("group 'contact' must be one unbroken line; it has a gap")


def _check_outer(drawing: _Drawing, points: Floats, edges: Edges, centre: Floats) -> None:
    """The steel must lie inside the contact circle: on the left of an edge that runs about it."""
    on_contact = np.isin(edges.of_triangle, edges.find(drawing.lines["contact"]))
    start = points[drawing.corners][on_contact] - centre
    end = points[drawing.corners[:, [1, 2, 0]]][on_contact] - centre
    if (start[:, 0] * end[:, 1] < start[:, 1] * end[:, 0]).any():
        raise InputError("group 'contact' must lie on the outer boundary, not on that of a hole")


def _is_arc(points: Floats, edges: Ints, centre: Floats, radius: float, allowed: float) -> bool:
    """Whether edges (k, 3) lie on a circle; their middle nodes may also lie on the chords."""
    reach = np.linalg.norm(points[edges] - centre, axis=2) - radius
    chord = np.linalg.norm(points[edges[:, :2]].mean(axis=1) - centre, axis=1) - radius
    return bool(
        (np.abs(reach[:, :2]) <= allowed).all()
        and (reach[:, 2] <= allowed).all()
        and (reach[:, 2] >= chord - allowed).all()
    )


def _put_on_circle(points: Floats, edges: Ints, centre: Floats, radius: float) -> None:
    nodes = np.unique(edges)
    spoke = points[nodes] - centre
    points[nodes] = centre + radius * spoke / np.linalg.norm(spoke, axis=1)[:, None]


def _round_bore(points: Floats, bore: Ints, centre: Floats) -> None:
    """Put the nodes of a bore on the circle about ``centre`` that they fit, if they fit one."""
    spokes = points[bore[:, :2]] - centre
    radius = float(np.linalg.norm(spokes, axis=2).mean())
    turn = 2.0 * np.arcsin(
        np.minimum(np.linalg.norm(np.diff(spokes, axis=1)[:, 0], axis=1) / 2.0 / radius, 1.0)
    )
    if turn.max() <= BORE_TURN and _is_arc(points, bore, centre, radius, OFF_CIRCLE * radius):
        _put_on_circle(points, bore, centre, radius)
