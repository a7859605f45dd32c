"""Segment-exact coupling of two non-matching contact lines by dual quadratic multipliers.

Contact pressure lives on the member's line. Its test functions ψ are biorthogonal to the quadratic
shape functions φ of that line, ∫ψj φk = δjk ∫φk, so that the coefficients of the pressure are nodal
pressures and the member's coupling matrix is diagonal. Source of the idea: Wohlmuth, "A mortar
finite element method using dual spaces for the Lagrange multiplier", SIAM J. Numer. Anal. 38
(2000); the quadratic edge functions here are derived here from the biorthogonality itself.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints, shape

_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(5)


@dataclass(frozen=True)
class Coupling:
    """The weighted gap of two contact lines: gap + weight·(u_member − d) − transfer·u_plate.

    d is the rigid-body displacement of the member. Shapes: ``weight`` (n,) = ∫φ mm, ``transfer``
    (n, m) mm, ``gap`` (n,) mm², for n member nodes and m plate nodes, both in order of x. The rows
    of ``transfer`` sum to ``weight``.
    """

    weight: Floats
    transfer: Floats
    gap: Floats


def couple(
    member_x: Floats,
    member_edges: Ints,
    plate_x: Floats,
    plate_edges: Ints,
    initial_gap: Callable[[Floats], Floats],
) -> Coupling:
    """Integrate the coupling of two lines along x.

    Parameters
    ----------
    member_x, plate_x
        x of the contact nodes of each body, mm, ascending
    member_edges, plate_edges
        (3, edges) positions in these arrays of each edge's first end, second end and middle
    initial_gap
        distance between the unloaded bodies at x, mm

    Raises
    ------
    SolveError
        if the member's line reaches past the plate's
    """
    if member_x[0] < plate_x[0] or member_x[-1] > plate_x[-1]:
        raise SolveError("the member's contact line reaches past the plate's")
    n, m = len(member_x), len(plate_x)
    member_edges = member_edges[:, np.argsort(member_x[member_edges[0]])]
    plate_edges = plate_edges[:, np.argsort(plate_x[plate_edges[0]])]

    # Cut the line at every corner of both meshes: inside a segment all functions are smooth.
    cuts = np.unique(
        np.concatenate([member_x[member_edges[:2]].ravel(), plate_x[plate_edges[:2]].ravel()])
    )
    cuts = cuts[(cuts >= member_x[0]) & (cuts <= member_x[-1])]
    left, right = cuts[:-1], cuts[1:]
    x = (left + right)[:, None] / 2 + (right - left)[:, None] / 2 * _POINTS
    dx = (right - left)[:, None] / 2 * _WEIGHTS
    middle = (left + right) / 2
    on_member = np.searchsorted(member_x[member_edges[0]], middle) - 1
    on_plate = np.searchsorted(plate_x[plate_edges[0]], middle) - 1

    phi = shape(local_coordinate(x, member_x[member_edges[:, on_member]]))  # (3, segments, points)
    theta = shape(local_coordinate(x, plate_x[plate_edges[:, on_plate]]))
    edges = member_edges.shape[1]
    mass = np.zeros((edges, 3, 3))
    np.add.at(mass, on_member, np.einsum("isp,jsp,sp->sij", phi, phi, dx))
    lump = mass.sum(axis=2)
    dual = lump[:, :, None] * np.linalg.inv(mass)
    psi = np.einsum("sij,jsp->isp", dual[on_member], phi)

    weight, gap, transfer = np.zeros(n), np.zeros(n), np.zeros((n, m))
    rows = member_edges[:, on_member]
    np.add.at(weight, rows, np.einsum("isp,sp->is", psi, dx))
    np.add.at(gap, rows, np.einsum("isp,sp,sp->is", psi, initial_gap(x), dx))
    blocks = np.einsum("isp,jsp,sp->ijs", psi, theta, dx)
    columns = plate_edges[:, on_plate]
    np.add.at(transfer, (rows[:, None, :], columns[None, :, :]), blocks)
    return Coupling(weight, transfer, gap)


def local_coordinate(x: Floats, ends: Floats) -> Floats:
    """Reference coordinate (segments, points) of x on edges with nodes at ``ends`` (3, segments).

    The middle node of an arc is not quite halfway in x, so x(ξ) is quadratic: invert it by Newton,
    which converges in a few steps because the edges are nearly straight.
    """
    first, second, middle = (e[:, None] for e in ends)
    half, bend = (second - first) / 2, (first + second) / 2 - middle
    xi: Floats = (x - middle) / half
    for _ in range(6):
        xi = xi - (bend * xi**2 + half * xi + middle - x) / (2 * bend * xi + half)
    return xi
