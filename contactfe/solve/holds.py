"""How the post and the plate are held, as fixed degrees of freedom or balancing body forces."""

import numpy as np
from skfem import MeshTri2

from contactfe.hand.flexure import flexure_shear
from contactfe.solve.condense import Hold, edge_nodes
from contactfe.solve.elastic import Floats, body_force


def beam_shear(mesh: MeshTri2, radius: float, bore_radius: float, poisson: float) -> Hold:
    """A post that cantilevers along its axis: contact is balanced by the change of beam shear.

    Over a slice of unit length the beam shear changes by the line load, spread over the section as
    St-Venant's flexure stress; a contact off the axis is balanced by the like change of torsion.
    The section is centred at (0, radius). Nothing is fixed but the three rigid motions.
    """

    def along_y(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return flexure_shear(x, y - radius, 1.0, radius, bore_radius, poisson)

    def along_x(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        tau_y, tau_x = flexure_shear(y - radius, x, 1.0, radius, bore_radius, poisson)
        return tau_x, tau_y

    def torsion(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return -(y - radius) / radius**3, x / radius**3

    axis = np.flatnonzero(mesh.doflocs[0] == 0.0)
    low, high = axis[np.argmin(mesh.doflocs[1, axis])], axis[np.argmax(mesh.doflocs[1, axis])]
    balance = np.stack([body_force(mesh, f) for f in (along_x, along_y, torsion)])
    return Hold(np.array([2 * low, 2 * high, 2 * high + 1]), balance)


def opposed(mesh: MeshTri2) -> Hold:
    """The lower half of a member squeezed between two equal plates: its mid-plane stays plane."""
    return _rollers(mesh, "midplane")


def bedded(mesh: MeshTri2) -> Hold:
    """A plate whose back lies on a rigid, smooth base that it cannot leave."""
    return _rollers(mesh, "back")


def two_edges(mesh: MeshTri2) -> Hold:
    """A plate held along both edge faces against moving with the member, free to turn there.

    Reactions are spread over the face rather than put on a corner, where they would be singular;
    the span is the plate's whole width.
    """
    return _rollers(mesh, "edge")


def _rollers(mesh: MeshTri2, group: str) -> Hold:
    """Fix y along a group, and x at one node on the axis: that only stops rigid motion."""
    nodes = np.unique(edge_nodes(mesh, mesh.boundaries[group]))
    axis = np.flatnonzero(mesh.doflocs[0] == 0.0)
    farthest = axis[np.argmax(np.abs(mesh.doflocs[1, axis]))]
    return Hold(np.append(2 * nodes + 1, 2 * farthest), sliding=(group,))
