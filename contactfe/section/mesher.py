"""From an outline and a grading to a quadratic triangle mesh with named groups, by gmsh.

A section is meshed in two halves, at both sides of the line through the middle of the expected
contact, and joined there: that puts nodes on the load line. Where the halves are alike, one is
meshed and the other is its mirror image. The mesh is then exactly symmetric, which keeps the
computed pressure symmetric to rounding.
"""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from math import asin, cos, sin
from threading import Lock, current_thread, main_thread
from types import ModuleType
from typing import Any

import meshio
import numpy as np

from contactfe.errors import ContactfeError
from contactfe.section.grading import GROWTH, Frame, Grading
from contactfe.section.outlines import MemberOutline, PlateOutline

_OPTIONS = {
    "Mesh.Algorithm": 6,  # frontal Delaunay: even triangles
    "Mesh.ElementOrder": 1,
    "Mesh.MeshSizeExtendFromBoundary": 0,
    "Mesh.MeshSizeFromPoints": 0,
    "Mesh.MeshSizeFromCurvature": 0,
}


_MIRROR_NAMES = {"right edge": "left edge", "contact side": "outside"}
"""Groups of the right half whose mirror images belong to another group."""


@dataclass(frozen=True)
class _Drawing:
    """Half a section as gmsh knows it: tags of the curves and of the surface of each group."""

    curves: dict[str, list[int]]
    surfaces: dict[str, int]


@dataclass(frozen=True)
class _Half:
    """A meshed half at x >= 0 in the frame of its grading.

    Nodes (n, 2), triangles (m, 6), edges (k, 3) of each named line group, and the numbers of the
    triangles of each named surface.
    """

    points: np.ndarray
    triangles: np.ndarray
    edges: dict[str, np.ndarray]
    surfaces: dict[str, np.ndarray]


def mesh_member(outline: MemberOutline, grading: Grading) -> meshio.Mesh:
    """Mesh of the member with named groups of edges and of triangles.

    ``contact`` is the candidate arc, ``contact side`` that on a second plate at the right, and
    ``outside`` the rest of the outer circle; ``bore`` is absent from a solid round, ``midplane``
    from a whole section. The triangles are ``steel`` and, in the bore of a filled section,
    ``infill``; the two share the nodes of ``bore``.
    """

    def half(tilt: float) -> _Half:
        return _mesh_half(lambda geo: _draw_member(geo, outline, grading, tilt), grading)

    if not outline.lower_half or grading.turn == 0.0:
        return _mirrored(half(0.0), grading.frame)
    # The frame of the grading is turned, so the mid-plane is tilted in it.
    return _joined(half(-grading.turn), half(grading.turn), grading.frame)


def mesh_plate(outline: PlateOutline, grading: Grading) -> meshio.Mesh:
    """Mesh of the plate with named groups of edges and of triangles.

    ``contact`` is the candidate line, ``face`` the rest of the impacted face, ``left edge`` and
    ``right edge`` the edge faces, ``back`` the back. All triangles are ``steel``.
    """

    def half(width: float) -> _Half:
        return _mesh_half(lambda geo: _draw_plate(geo, width, outline, grading), grading)

    centre = grading.contact.patch.centre
    if centre == -outline.offset:
        return _mirrored(half(outline.width / 2.0), grading.frame)
    return _joined(half(outline.right - centre), half(centre - outline.left), grading.frame)


def _draw_member(
    geo: ModuleType, outline: MemberOutline, grading: Grading, tilt: float
) -> _Drawing:
    """The right half of the member; ``tilt`` is the angle of the mid-plane of a lower half."""
    r, c = outline.radius, outline.bore_radius
    centre = geo.addPoint(0, r, 0)

    def at(radius: float, angle: float) -> int:
        tag: int = geo.addPoint(radius * cos(angle), r + radius * sin(angle), 0)
        return tag

    def arc(start: int, end: int) -> int:
        tag: int = geo.addCircleArc(start, centre, end)
        return tag

    reach = grading.reach
    contact_end = geo.addPoint(reach, r - np.sqrt(r**2 - reach**2), 0)
    bottom = geo.addPoint(0, 0, 0)
    if grading.side is None:
        stops = [at(r, tilt)]
    else:
        middle, spread = grading.side_angle, asin(grading.side.reach / r)
        stops = [at(r, middle + d) for d in (-spread, 0.0, spread)]
    outer = [arc(bottom, contact_end)]
    outer += [arc(*ends) for ends in zip([contact_end, *stops], stops, strict=False)]
    curves = {"contact": outer[:1], "outside": outer[1:2]}
    if grading.side is not None:
        curves["contact side"] = outer[2:]
    loop = list(outer)
    bore_side = at(c, tilt) if c else centre
    bore_bottom = geo.addPoint(0, r - c, 0) if c else centre
    if outline.lower_half:
        curves["midplane"] = [geo.addLine(stops[-1], bore_side)]
        loop += curves["midplane"]
    else:
        top = geo.addPoint(0, 2 * r, 0)
        curves["outside"].append(arc(stops[-1], top))
        bore_top = geo.addPoint(0, r + c, 0) if c else centre
        loop += [curves["outside"][-1], geo.addLine(top, bore_top)]
    if c:
        curves["bore"] = [arc(bore_side, bore_bottom)]
        if not outline.lower_half:
            curves["bore"].insert(0, arc(bore_top, bore_side))
        loop += curves["bore"]
    loop.append(geo.addLine(bore_bottom, bottom))
    surfaces = {"steel": geo.addPlaneSurface([geo.addCurveLoop(loop)])}
    if outline.filled:
        inner = [-tag for tag in reversed(curves["bore"])]
        inner.append(geo.addLine(bore_side if outline.lower_half else bore_top, centre))
        if outline.lower_half:
            curves["midplane"].append(inner[-1])
        inner.append(geo.addLine(centre, bore_bottom))
        surfaces["infill"] = geo.addPlaneSurface([geo.addCurveLoop(inner)])
    return _Drawing(curves, surfaces)


def _draw_plate(geo: ModuleType, width: float, outline: PlateOutline, grading: Grading) -> _Drawing:
    """The part of the plate to the right of the middle of contact, ``width`` (mm) wide."""
    t = outline.thickness
    corners = [(0, 0), (0, -t), (width, -t), (width, 0), (grading.reach, 0)]
    points = [geo.addPoint(x, y, 0) for x, y in corners]
    axis, back, edge, face, contact = (
        geo.addLine(points[i], points[(i + 1) % 5]) for i in range(5)
    )
    surface = geo.addPlaneSurface([geo.addCurveLoop([axis, back, edge, face, contact])])
    return _Drawing(
        {"contact": [contact], "face": [face], "right edge": [edge], "back": [back]},
        {"steel": surface},
    )


_ONE_AT_A_TIME = Lock()
"""gmsh keeps one current model for the whole process: meshing from several threads must queue."""


def _gmsh() -> Any:
    """The gmsh module, running; its wheel needs system libraries that may be absent."""
    try:
        import gmsh
    except OSError as error:
        raise ContactfeError(
            f"gmsh cannot load a system library ({error}); on Debian or Ubuntu install: "
            "libglu1-mesa libgl1 libxrender1 libxcursor1 libxft2 libxinerama1 libgomp1"
        ) from error
    if not gmsh.isInitialized():
        # Not interruptible: gmsh would otherwise install a signal handler, which only the main
        # thread may do, and notebooks call from others.
        with _signal_of_a_broken_pipe_kept():
            gmsh.initialize(argv=["-noenv"], readConfigFiles=False, interruptible=False)
        gmsh.option.setNumber("General.Terminal", 0)
    return gmsh


@contextmanager
def _signal_of_a_broken_pipe_kept() -> Iterator[None]:
    """Gmsh lets a broken pipe kill the process, without a word; Python makes it an error.

    Only the main thread may set signals: elsewhere it stays as gmsh leaves it.
    """
    main = current_thread() is main_thread() and hasattr(signal, "SIGPIPE")
    before = signal.getsignal(signal.SIGPIPE) if main else None
    yield
    if main:
        signal.signal(signal.SIGPIPE, before)


def _mesh_half(draw: Callable[[ModuleType], _Drawing], grading: Grading) -> _Half:
    """Draw and mesh a half."""
    with _ONE_AT_A_TIME, _own_model() as gmsh:
        drawing = draw(gmsh.model.geo)
        gmsh.model.geo.synchronize()
        _set_sizes(gmsh, grading)
        gmsh.model.mesh.generate(2)
        gmsh.model.mesh.setOrder(2)
        tags, points, _ = gmsh.model.mesh.getNodes()
        number = np.full(int(tags.max()) + 1, -1)
        number[tags] = np.arange(len(tags))
        parts = [
            number[gmsh.model.mesh.getElements(2, surface)[2][0]].reshape(-1, 6)
            for surface in drawing.surfaces.values()
        ]
        edges = {
            name: np.vstack(
                [number[gmsh.model.mesh.getElements(1, c)[2][0]].reshape(-1, 3) for c in curves]
            )
            for name, curves in drawing.curves.items()
        }
    # The centre of an arc is a geometric point that no triangle uses: drop such nodes.
    used, triangles = np.unique(np.vstack(parts), return_inverse=True)
    renumber = np.full(len(tags), -1)
    renumber[used] = np.arange(len(used))
    ends = np.cumsum([len(part) for part in parts])
    return _Half(
        points.reshape(-1, 3)[used, :2],
        triangles.reshape(-1, 6),
        {name: renumber[edge] for name, edge in edges.items()},
        {
            name: np.arange(end - len(part), end)
            for name, part, end in zip(drawing.surfaces, parts, ends, strict=True)
        },
    )


@contextmanager
def _own_model() -> Iterator[Any]:
    """The mesher with a model and options of our own; a user's own come back afterwards."""
    gmsh = _gmsh()
    theirs = gmsh.model.getCurrent()
    options = {name: gmsh.option.getNumber(name) for name in _OPTIONS}
    gmsh.model.add("contactfe section")
    try:
        for name, value in _OPTIONS.items():
            gmsh.option.setNumber(name, value)
        yield gmsh
    except Exception as error:
        raise ContactfeError(f"gmsh could not mesh the section: {error}") from error
    finally:
        gmsh.model.remove()
        for name, value in options.items():
            gmsh.option.setNumber(name, value)
        if theirs:
            gmsh.model.setCurrent(theirs)


def _set_sizes(gmsh: ModuleType, grading: Grading) -> None:
    """Background size field as ``size_at`` has it: the least of one field per zone and of a core.

    A zone's is a box from which sizes grow to ``most``.
    """
    core = grading.core
    most = grading.far if core is None else core.size
    growing = []
    for zone in grading.zones:
        growing.append((
            "Box", zone.size, most,
            {"XMin": zone.x0, "XMax": zone.x1, "YMin": zone.y0, "YMax": zone.y1,
             "ZMin": -1.0, "ZMax": 1.0, "Thickness": max(most - zone.size, 1e-9) / GROWTH},
        ))  # fmt: skip
    if core is not None:
        # The ball is the part of the core that has its full size; sizes fall from there to the rim.
        depth = max(core.size - grading.far, 1e-9) / GROWTH
        growing.append((
            "Ball", core.size, grading.far,
            {"YCenter": core.height, "Radius": core.radius - depth, "Thickness": depth},
        ))  # fmt: skip
    tags = []
    for kind, inside, outside, values in growing:
        tags.append(gmsh.model.mesh.field.add(kind))
        for key, value in ({"VIn": inside, "VOut": outside} | values).items():
            gmsh.model.mesh.field.setNumber(tags[-1], key, value)
    least = gmsh.model.mesh.field.add("Min")
    gmsh.model.mesh.field.setNumbers(least, "FieldsList", tags)
    gmsh.model.mesh.field.setAsBackgroundMesh(least)


def _mirrored(half: _Half, frame: Frame) -> meshio.Mesh:
    """A half together with its mirror image."""
    return _joined(half, half, frame)


def _joined(right: _Half, left: _Half, frame: Frame) -> meshio.Mesh:
    """The right half together with the mirror image of the left, both meshed at x >= 0.

    They share the nodes on the axis. ``frame`` puts the whole in the axes of the section.
    """
    on_right, on_left = _by_height(right.points), _by_height(left.points)
    points = right.points.copy()
    points[on_right, 0] = 0.0
    heights = left.points[on_left, 1]
    # The axis is meshed by itself, from the sizes on it, which the halves have in common.
    if len(on_left) != len(on_right) or not np.allclose(
        points[on_right, 1], heights, rtol=0.0, atol=1e-9 * np.abs(heights).max()
    ):
        raise ContactfeError("the two halves of a section do not meet on the line between them")
    off_axis = np.ones(len(left.points), bool)
    off_axis[on_left] = False
    image = np.empty(len(left.points), int)
    image[on_left] = on_right
    image[off_axis] = len(points) + np.arange(off_axis.sum())
    flip = [0, 2, 1, 5, 4, 3]  # a mirror image runs clockwise: swap two corners to turn it back
    edges: dict[str, list[np.ndarray]] = {name: [edge] for name, edge in right.edges.items()}
    for name, edge in left.edges.items():
        edges.setdefault(_MIRROR_NAMES.get(name, name), []).append(image[edge][:, [1, 0, 2]])
    cells = [("triangle6", np.vstack([right.triangles, image[left.triangles][:, flip]]))]
    cells += [("line3", np.vstack(edge)) for edge in edges.values()]

    def only(block: int, members: np.ndarray) -> list[np.ndarray]:
        return [members if k == block else np.array([], int) for k in range(len(cells))]

    sets = {name: only(k, np.arange(len(cells[k][1]))) for k, name in enumerate(edges, start=1)}
    for name, members in right.surfaces.items():
        both = np.concatenate([members, len(right.triangles) + left.surfaces[name]])
        sets[name] = only(0, both)
    whole = np.vstack([points, left.points[off_axis] * [-1.0, 1.0]])
    return meshio.Mesh(np.column_stack(frame.out(*whole.T)), cells, cell_sets=sets)


def _by_height(points: np.ndarray) -> np.ndarray:
    """The numbers of the nodes on the axis x = 0, from the lowest up."""
    on_axis = np.flatnonzero(np.abs(points[:, 0]) < 1e-9 * np.abs(points).max())
    return on_axis[np.argsort(points[on_axis, 1])]
