"""Bodies that the solved cases share: round posts and plates, meshed and factored.

Lengths in mm, stresses in MPa. ``scale`` is the element size over the standard one, which the
fine level of a comparison has.
"""

from collections.abc import Callable

import numpy as np
from skfem import MeshTri, MeshTri2

from contactfe.hand.check import HeldBy
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import CondensedBody, condense
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.supports import Hold

STEEL = Elastic(200e3, 0.3)


def post(
    radius: float,
    bore: float,
    half_width: float,
    held_by: HeldBy,
    scale: float = 1.0,
    steel: Elastic = STEEL,
    *,
    infill: Elastic | None = None,
    tangential: bool = False,
) -> CondensedBody:
    """A round, solid where ``bore`` is 0, meshed for a patch of that half-width at its lowest.

    Held diametrally it is the lower half; an ``infill`` is bonded into the bore.
    """
    outline = MemberOutline(radius, bore, held_by == "diametral", infill is not None)
    grading = member_grading(outline, Patch(0.0, half_width), scale)
    mesh = to_skfem(mesh_member(outline, grading))
    material = steel if infill is None else {"steel": steel, "infill": infill}
    hold = holds.diametral(mesh) if held_by == "diametral" else holds.beam_shear(mesh, material)
    return condense(mesh, material, hold, tangential=tangential)


def post_on_core(radius: float, bore: float, half_width: float) -> CondensedBody:
    """A tube whose bore is bonded to a rigid core."""
    outline = MemberOutline(radius, bore)
    mesh = to_skfem(mesh_member(outline, member_grading(outline, Patch(0.0, half_width), 1.0)))
    return condense(mesh, STEEL, holds.rigid_core(mesh))


def plate(
    width: float,
    thickness: float,
    half_width: float,
    held: Callable[[MeshTri2], Hold] = holds.rigid_base,
    scale: float = 1.0,
    steel: Elastic = STEEL,
    *,
    offset: float = 0.0,
    tangential: bool = False,
) -> CondensedBody:
    """A plate struck ``offset`` mm off its middle, meshed for a patch of that half-width."""
    outline = PlateOutline(width, thickness, offset)
    mesh = to_skfem(mesh_plate(outline, plate_grading(outline, Patch(0.0, half_width), scale)))
    return condense(mesh, steel, held(mesh), tangential=tangential)


def two_edges(mesh: MeshTri2) -> Hold:
    """A plate held at both edges, free to turn there."""
    return holds.edges(mesh, "simply supported")


def block(x: Floats, y: Floats, contact: str, held: str) -> MeshTri2:
    """A rectangle with vertices at x and y that touches with its "top" or "bottom".

    The side across from that is the group ``held``.
    """
    mesh = MeshTri2.from_mesh(MeshTri.init_tensor(x, y))
    low = mesh.facets_satisfying(lambda p: np.isclose(p[1], y[0]))
    high = mesh.facets_satisfying(lambda p: np.isclose(p[1], y[-1]))
    touching, other = (low, high) if contact == "bottom" else (high, low)
    return mesh.with_boundaries({"contact": touching, held: other})
