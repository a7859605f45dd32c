"""Make the reference meshes of this folder anew: ``python meshes/make.py`` (needs gmsh).

``tube-150x25`` and ``plate-300x60`` belong to an invented post of 150 x 25 mm on a plate of 300 x
60 mm, graded for a half-width of 1.1 mm at the coarse level, and let the solver run where gmsh
cannot. ``ribbed-tube`` is drawn apart from the package, as an engineer's own section would be: an
invented tube of 160 x 20 mm with three ribs to a hub, which a bolt holds.
"""

from math import asin, atan2, cos, hypot, pi, sin, sqrt
from pathlib import Path
from types import ModuleType

import gmsh

from contactfe.section.files import write_mesh
from contactfe.section.grading import Patch, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline

HERE = Path(__file__).parent
PATCH, SCALE = Patch(0.0, 1.1), 2.0

OUTSIDE, BORE, HUB, BOLT = 80.0, 60.0, 22.0, 10.0  # radii, mm
RIB, FILLET = 12.0, 6.0  # thickness of a rib and radius of its fillets, mm
CONTACT = pi / 12  # half of the candidate line, radians
RIBS = [pi / 2 + k * 2 * pi / 3 for k in range(3)]  # one points up: none stands over the contact


def draw_ribbed_tube(path: Path) -> None:
    """Ribbed tube about (0, 0), in mm, as quadratic triangles in .msh 2.2 with its named groups."""
    gmsh.initialize(argv=["-noenv"], readConfigFiles=False)
    gmsh.option.setNumber("General.Terminal", 0)
    gmsh.model.add("ribbed tube")
    geo = gmsh.model.geo
    centre = geo.addPoint(0, 0, 0)

    def ring(r: float, angles: list[float]) -> list[int]:
        points = [_polar(geo, r, angle) for angle in angles]
        return [
            geo.addCircleArc(a, centre, b)
            for a, b in zip(points, points[1:] + points[:1], strict=True)
        ]

    bottom = -pi / 2
    outer = ring(
        OUTSIDE, [bottom - CONTACT, bottom, bottom + CONTACT, bottom + pi / 2, bottom + pi]
    )
    bolt = ring(BOLT, [bottom, bottom + 2 * pi / 3, bottom + 4 * pi / 3])
    pockets = [_pocket(geo, centre, rib, rib + 2 * pi / 3) for rib in RIBS]
    loops = [geo.addCurveLoop(curves) for curves in (outer, bolt, *(p[0] for p in pockets))]
    section = geo.addPlaneSurface(loops)
    geo.synchronize()
    gmsh.model.addPhysicalGroup(2, [section], name="member")
    gmsh.model.addPhysicalGroup(1, outer[:2], name="contact")
    gmsh.model.addPhysicalGroup(1, [p[1] for p in pockets], name="bore")
    gmsh.model.addPhysicalGroup(1, bolt, name="hold")

    sizes = gmsh.model.mesh.field
    to_contact = sizes.add("Distance")
    sizes.setNumbers(to_contact, "CurvesList", outer[:2])
    sizes.setNumber(to_contact, "Sampling", 100)
    graded = sizes.add("Threshold")
    for key, value in {"InField": to_contact, "SizeMin": 1.2, "SizeMax": 5.0, "DistMin": 1.0,
                       "DistMax": 25.0}.items():  # fmt: skip
        sizes.setNumber(graded, key, value)
    sizes.setAsBackgroundMesh(graded)
    for name, value in {
        "Mesh.Algorithm": 6, "Mesh.ElementOrder": 2, "Mesh.MeshSizeExtendFromBoundary": 0,
        "Mesh.MeshSizeFromPoints": 0, "Mesh.MshFileVersion": 2.2,
    }.items():  # fmt: skip
        gmsh.option.setNumber(name, value)
    gmsh.model.mesh.generate(2)
    gmsh.write(str(path))
    gmsh.finalize()


def _pocket(geo: ModuleType, centre: int, start: float, end: float) -> tuple[list[int], int]:
    """Outline of the hole between the ribs at two angles, and which curve of it is the bore."""

    def fillet(rib: float, side: int, r: float, distance: float) -> tuple[int, int, int]:
        # Its centre lies at ``distance`` from that of the tube. It touches the circle of radius r
        # on the ray through its centre, and the flank of the rib square to that.
        turn = rib + side * asin((RIB / 2 + FILLET) / distance)
        along = sqrt(distance**2 - (RIB / 2 + FILLET) ** 2)
        flank = rib + side * atan2(RIB / 2, along)
        return (
            _polar(geo, r, turn),
            _polar(geo, distance, turn),
            _polar(geo, hypot(along, RIB / 2), flank),
        )

    a, b = fillet(start, 1, BORE, BORE - FILLET), fillet(end, -1, BORE, BORE - FILLET)
    c, d = fillet(end, -1, HUB, HUB + FILLET), fillet(start, 1, HUB, HUB + FILLET)
    bore = geo.addCircleArc(a[0], centre, b[0])
    return [
        bore,
        geo.addCircleArc(*b),
        geo.addLine(b[2], c[2]),
        geo.addCircleArc(*reversed(c)),
        geo.addCircleArc(c[0], centre, d[0]),
        geo.addCircleArc(*d),
        geo.addLine(d[2], a[2]),
        geo.addCircleArc(*reversed(a)),
    ], bore


def _polar(geo: ModuleType, r: float, angle: float) -> int:
    return int(geo.addPoint(r * cos(angle), r * sin(angle), 0))


if __name__ == "__main__":
    tube, plate = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)
    write_mesh(mesh_member(tube, member_grading(tube, PATCH, SCALE)), HERE / "tube-150x25.msh")
    write_mesh(mesh_plate(plate, plate_grading(plate, PATCH, SCALE)), HERE / "plate-300x60.msh")
    draw_ribbed_tube(HERE / "ribbed-tube.msh")
