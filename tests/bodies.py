"""Small bodies and cases for tests; lengths in mm, stresses in MPa."""

import numpy as np
from skfem import MeshTri, MeshTri2

from contactfe.case import Case, case_from_dict
from contactfe.section.body import to_skfem
from contactfe.section.grading import member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import CondensedBody, condense
from contactfe.solve.elastic import Elastic

STEEL = Elastic(200e3, 0.3)


def block(x: np.ndarray, y: np.ndarray, contact: str, held: str) -> MeshTri2:
    """A rectangle with vertices at x and y; ``contact`` names the side that touches."""
    mesh = MeshTri2.from_mesh(MeshTri.init_tensor(x, y))
    sides = {
        "bottom": mesh.facets_satisfying(lambda p: np.isclose(p[1], y[0])),
        "top": mesh.facets_satisfying(lambda p: np.isclose(p[1], y[-1])),
    }
    return mesh.with_boundaries({"contact": sides[contact], held: sides[_other(contact)]})


def _other(side: str) -> str:
    return "top" if side == "bottom" else "bottom"


def member(
    radius: float, bore: float, half_width: float, held_by: str, scale: float = 2.0, steel=STEEL
) -> CondensedBody:
    outline = MemberOutline(radius, bore, held_by == "opposed")
    mesh = to_skfem(mesh_member(outline, member_grading(outline, half_width, scale)))
    if held_by == "opposed":
        return condense(mesh, steel, holds.opposed(mesh))
    return condense(mesh, steel, holds.beam_shear(mesh, radius, bore, steel.poisson))


def plate(
    width: float,
    thickness: float,
    half_width: float,
    held=holds.bedded,
    scale: float = 2.0,
    steel=STEEL,
) -> CondensedBody:
    outline = PlateOutline(width, thickness)
    mesh = to_skfem(mesh_plate(outline, plate_grading(outline, half_width, scale)))
    return condense(mesh, steel, held(mesh))


def case(
    sections,
    *,
    line_load=1500.0,
    held_by="beam shear",
    plate=(400.0, 60.0),
    plate_held="bedded",
    young=200e3,
    poisson=0.3,
    plate_young=200e3,
    plate_poisson=0.3,
    yield_strength=690.0,
    plate_yield=None,
    state="plane strain",
    margin=1.0,
    units="SI",
) -> Case:
    """A case of sections given as (outside diameter, wall or None)."""
    return case_from_dict(
        {
            "title": "invented for a test",
            "post": {
                "held_by": held_by, "young": f"{young!r} MPa", "poisson": poisson,
                "yield": f"{yield_strength!r} MPa",
            },
            "plate": {
                "width": f"{plate[0]!r} mm", "thickness": f"{plate[1]!r} mm", "held_by": plate_held,
                "young": f"{plate_young!r} MPa", "poisson": plate_poisson,
                "yield": f"{plate_yield or yield_strength!r} MPa",
            },
            "load": {"line_load": f"{line_load!r} N/mm"},
            "model": {"state": state},
            "check": {"yield_margin": margin},
            "report": {"units": units},
            "section": [
                {"name": f"{d:g} x {w:g}" if w else f"solid {d:g}", "outside_diameter": f"{d!r} mm"}
                | ({"wall": f"{w!r} mm"} if w else {})
                for d, w in sections
            ],
        }
    )  # fmt: skip
