"""A section drawn elsewhere: read it, check it, and bring it to our axes and quadratic elements."""

from pathlib import Path

import meshio
import numpy as np

from contactfe.errors import InputError
from contactfe.section.circle import circle_of_radius, fitted_diameter
from contactfe.section.drawing import Drawing, drawing_of
from contactfe.section.files import load_mesh
from contactfe.section.quadratic import (
    Edges,
    Floats,
    Ints,
    least_jacobians,
    with_groups,
)

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
        drawing, edges = drawing_of(mesh)
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


def _placed(drawing: Drawing, edges: Edges, unit_in_mm: float, radius: float) -> meshio.Mesh:
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


def _check_outer(drawing: Drawing, points: Floats, edges: Edges, centre: Floats) -> None:
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
