"""From an outline and a grading to a quadratic triangle mesh with named groups, by gmsh.

Only the half at x >= 0 is meshed; its mirror image completes the section. The mesh is then exactly
symmetric, which keeps the computed pressure symmetric to rounding and puts nodes on the load line.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Lock
from types import ModuleType
from typing import Any

import meshio
import numpy as np

from contactfe.errors import ContactfeError
from contactfe.section.grading import GROWTH, Grading
from contactfe.section.outlines import MemberOutline, PlateOutline

_OPTIONS = {
    "Mesh.Algorithm": 6,  # frontal Delaunay: even triangles
    "Mesh.ElementOrder": 1,
    "Mesh.MeshSizeExtendFromBoundary": 0,
    "Mesh.MeshSizeFromPoints": 0,
    "Mesh.MeshSizeFromCurvature": 0,
}


def mesh_member(outline: MemberOutline, grading: Grading) -> meshio.Mesh:
    """Mesh of the member with named groups of edges.

    ``contact`` is the candidate arc, ``outside`` the rest of the outer circle; ``bore`` is absent
    from a solid round, ``midplane`` from a whole section.
    """

    def draw(geo: ModuleType) -> dict[str, list[int]]:
        r, c = outline.radius, outline.bore_radius
        centre = geo.addPoint(0, r, 0)
        reach = grading.reach
        contact_end = geo.addPoint(reach, r - np.sqrt(r**2 - reach**2), 0)
        bottom, side = geo.addPoint(0, 0, 0), geo.addPoint(r, r, 0)
        groups = {
            "contact": [geo.addCircleArc(bottom, centre, contact_end)],
            "outside": [geo.addCircleArc(contact_end, centre, side)],
        }
        loop = groups["contact"] + groups["outside"]
        bore_side = geo.addPoint(c, r, 0) if c else centre
        bore_bottom = geo.addPoint(0, r - c, 0) if c else centre
        if outline.lower_half:
            groups["midplane"] = [geo.addLine(side, bore_side)]
            loop += groups["midplane"]
        else:
            top = geo.addPoint(0, 2 * r, 0)
            groups["outside"].append(geo.addCircleArc(side, centre, top))
            bore_top = geo.addPoint(0, r + c, 0) if c else centre
            loop += [groups["outside"][-1], geo.addLine(top, bore_top)]
        if c:
            groups["bore"] = [geo.addCircleArc(bore_side, centre, bore_bottom)]
            if not outline.lower_half:
                groups["bore"].insert(0, geo.addCircleArc(bore_top, centre, bore_side))
            loop += groups["bore"]
        loop.append(geo.addLine(bore_bottom, bottom))
        geo.addPlaneSurface([geo.addCurveLoop(loop)])
        return groups

    return _mirrored(*_mesh_half(draw, grading))


def mesh_plate(outline: PlateOutline, grading: Grading) -> meshio.Mesh:
    """Mesh of the plate with named groups of edges.

    ``contact`` is the candidate line, ``face`` the rest of the struck face, ``edge`` both edge
    faces, ``back`` the back.
    """

    def draw(geo: ModuleType) -> dict[str, list[int]]:
        half, t = outline.width / 2, outline.thickness
        corners = [(0, 0), (0, -t), (half, -t), (half, 0), (grading.reach, 0)]
        points = [geo.addPoint(x, y, 0) for x, y in corners]
        axis, back, edge, face, contact = (
            geo.addLine(points[i], points[(i + 1) % 5]) for i in range(5)
        )
        geo.addPlaneSurface([geo.addCurveLoop([axis, back, edge, face, contact])])
        return {"contact": [contact], "face": [face], "edge": [edge], "back": [back]}

    return _mirrored(*_mesh_half(draw, grading))


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
        gmsh.initialize(argv=["-noenv"], readConfigFiles=False, interruptible=False)
        gmsh.option.setNumber("General.Terminal", 0)
    return gmsh


def _mesh_half(
    draw: Callable[[ModuleType], dict[str, list[int]]], grading: Grading
) -> tuple[np.ndarray, np.ndarray, dict[str, np.ndarray]]:
    """Nodes (n, 2), triangles (m, 6) and the named boundary edges (k, 3) of the half at x >= 0."""
    with _ONE_AT_A_TIME, _own_model() as gmsh:
        groups = draw(gmsh.model.geo)
        gmsh.model.geo.synchronize()
        _set_sizes(gmsh, grading)
        gmsh.model.mesh.generate(2)
        gmsh.model.mesh.setOrder(2)
        tags, points, _ = gmsh.model.mesh.getNodes()
        number = np.full(int(tags.max()) + 1, -1)
        number[tags] = np.arange(len(tags))
        _, _, (triangle_nodes,) = gmsh.model.mesh.getElements(2)
        edges = {
            name: np.vstack(
                [number[gmsh.model.mesh.getElements(1, c)[2][0]].reshape(-1, 3) for c in curves]
            )
            for name, curves in groups.items()
        }
    triangles = number[triangle_nodes].reshape(-1, 6)
    # The centre of an arc is a geometric point that no triangle uses: drop such nodes.
    used, triangles = np.unique(triangles, return_inverse=True)
    renumber = np.full(len(tags), -1)
    renumber[used] = np.arange(len(used))
    return (
        points.reshape(-1, 3)[used, :2],
        triangles.reshape(-1, 6),
        {name: renumber[edge] for name, edge in edges.items()},
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
    """Background size field: the least of one box per refined zone, each growing to ``far``."""
    fields = []
    for zone in grading.zones:
        tag = gmsh.model.mesh.field.add("Box")
        for key, value in {
            "VIn": zone.size, "VOut": grading.far, "XMin": zone.x0, "XMax": zone.x1,
            "YMin": zone.y0, "YMax": zone.y1, "ZMin": -1.0, "ZMax": 1.0,
            "Thickness": max(grading.far - zone.size, 1e-9) / GROWTH,
        }.items():  # fmt: skip
            gmsh.model.mesh.field.setNumber(tag, key, value)
        fields.append(tag)
    least = gmsh.model.mesh.field.add("Min")
    gmsh.model.mesh.field.setNumbers(least, "FieldsList", fields)
    gmsh.model.mesh.field.setAsBackgroundMesh(least)


def _mirrored(
    points: np.ndarray, triangles: np.ndarray, edges: dict[str, np.ndarray]
) -> meshio.Mesh:
    """The half at x >= 0 together with its mirror image, sharing the nodes on the axis."""
    points = points.copy()
    on_axis = np.abs(points[:, 0]) < 1e-9 * np.abs(points).max()
    points[on_axis, 0] = 0.0
    image = np.arange(len(points))
    image[~on_axis] = len(points) + np.arange((~on_axis).sum())
    flip = [0, 2, 1, 5, 4, 3]  # a mirror image runs clockwise: swap two corners to turn it back
    cells: list[tuple[str, np.ndarray]] = [
        ("triangle6", np.vstack([triangles, image[triangles][:, flip]]))
    ]
    sets: dict[str, list[np.ndarray]] = {}
    for edge in edges.values():
        cells.append(("line3", np.vstack([edge, image[edge][:, [1, 0, 2]]])))
    for k, name in enumerate(edges, start=1):
        sets[name] = [
            np.arange(len(cells[k][1])) if j == k else np.array([], int) for j in range(len(cells))
        ]
    return meshio.Mesh(np.vstack([points, points[~on_axis] * [-1.0, 1.0]]), cells, cell_sets=sets)
