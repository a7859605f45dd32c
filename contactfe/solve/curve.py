"""The force–approach curve of a joint: how far its holds come together under any load.

Between the loads at which nodes begin to touch all is linear, so the solved contact is known at
every load from a handful of bordered systems: :func:`.contact.pieces_of_touching`. Its slope is a
staircase, though, with a step of up to a percent at each node, and middles and ends of edges take
turns in it. So the curve is drawn through the loads at which one more edge at each end of the patch
has come to touch, and is smooth between: within 0.05 % of the solved contact, and 0.5 % where
only some five nodes touch, which there is itself off by as much.
"""

import numpy as np

from contactfe.errors import SolveError
from contactfe.solve.contact import Piece, pieces_of_touching
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.joint import Joint, normal_system

_FEWEST = 5
"""Nodes that must touch in a patch for its approach to count: with 5 it is within 0.1 %, with 1 it
is off by a tenth."""

_STEP = 4
"""Nodes of a patch that begin to touch from one knot to the next: an edge of two at each end."""

_FEWEST_KNOTS = 4

BEYOND = 1.2
"""Load that the contact is followed to, over the end of the curve, so that it ends like it goes."""


def curve_of(
    joint: Joint, loads: Floats, points: int = 100
) -> tuple[ForceApproach, tuple[Piece, ...]]:
    """The curve of a joint up to ``loads`` (k,) N/mm, which grow together, and its pieces.

    Its ``points`` lie at even steps of the square root of the load, as half-widths do. The pieces
    are those of ``BEYOND`` times the loads.

    Raises
    ------
    SolveError
        if the contact does not settle, or the mesh is too coarse or too narrow to follow it
    """
    pieces = tuple(pieces_of_touching(normal_system(joint), BEYOND * loads))
    share, rigid_displacement = _knots(pieces, len(loads))
    shares = np.linspace(np.sqrt(share[0]), 1.0, points) ** 2
    return ForceApproach.through(loads[0] * share, rigid_displacement, loads[0] * shares), pieces


def at_share(pieces: tuple[Piece, ...], share: float) -> tuple[Floats, Floats]:
    """Nodal pressures (n,) MPa and displacement (k,) mm, as solved, at a share of a curve's loads.

    The displacement is the rigid-body one towards each plate.
    """
    of_path = share / BEYOND
    piece = next((piece for piece in pieces if of_path <= piece.end), pieces[-1])
    p, rigid_displacement = (
        x[0] + of_path * x[1] for x in (piece.pressure, piece.rigid_displacement)
    )
    return np.maximum(p, 0.0), rigid_displacement


def _knots(pieces: tuple[Piece, ...], patches: int) -> tuple[Floats, Floats]:
    """Shares of the loads that a curve is drawn through, and mm of approach to the first plate."""
    share, rigid_displacement, next_count = [], [], _FEWEST * patches
    for piece in pieces:
        touching = int(np.count_nonzero(piece.pressure.any(axis=0)))
        if touching >= next_count:
            share.append(BEYOND * piece.start)
            rigid_displacement.append(
                float(piece.rigid_displacement[0, 0] + piece.start * piece.rigid_displacement[1, 0])
            )
            next_count = touching + _STEP * patches
    if len(share) < _FEWEST_KNOTS or share[0] > 0.5:
        raise SolveError("too few nodes touch for a force–approach curve: a finer mesh is needed")
    return np.array(share), np.array(rigid_displacement)
