"""What holds a body, as resultants at the places that hold it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from contactfe.solve.condense import CondensedBody, out_of_balance
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints, group_nodes


@dataclass(frozen=True)
class Reaction:
    """Resultant on a body at one place that holds it, per mm of length.

    ``along`` and ``across`` in N/mm act along x and y of the body; ``moment`` in N mm/mm about
    (``x``, ``y``) mm, counter-clockwise. ``pull`` N/mm is what of the forces along y is against
    their sum, where a plane holds the body both ways: what it would not carry if it could not.
    """

    place: str
    x: float
    y: float
    along: float
    across: float
    moment: float
    pull: float = 0.0


def reactions(
    body: CondensedBody, load: Floats, u: Floats, amplitudes: Floats
) -> tuple[Reaction, ...]:
    """Resultants of everything that holds a body under a load (2N,), by place.

    ``u`` (2N,) and ``amplitudes`` (s,) are its displacement and the reactions of its supports.
    """
    mesh, hold = body.mesh, body.hold
    places: dict[str, tuple[Floats, Floats]] = {}

    def add(place: str, nodes: Ints, forces: Floats) -> None:
        p = mesh.doflocs[:, nodes]
        middle = (p.max(axis=1) + p.min(axis=1)) / 2.0
        fx, fy = forces.reshape(-1, 2)[nodes].T
        x, y = p - middle[:, None]
        resultant = np.array([fx.sum(), fy.sum(), (x * fy - y * fx).sum()])
        places[place] = (middle, places.get(place, (middle, np.zeros(3)))[1] + resultant)

    for support, r in zip(hold.supports, amplitudes, strict=True):
        for group in support.groups:
            add(group, group_nodes(mesh, group), r * support.load)
        if not support.groups:
            add(support.name, np.arange(mesh.doflocs.shape[1]), r * support.load)
    held = out_of_balance(body, load, u, amplitudes)
    fixed = np.zeros(len(held), dtype=bool)
    fixed[hold.fixed] = True
    held[~fixed] = 0.0
    for group in (*hold.sliding, *hold.bonded):
        add(group, group_nodes(mesh, group), held)
    pulls = {
        group: _against_the_sum(held[2 * group_nodes(mesh, group) + 1]) for group in hold.sliding
    }
    found = [
        Reaction(place, *map(float, middle), *map(float, resultant))
        for place, (middle, resultant) in places.items()
    ]
    return tuple(replace(one, pull=pulls.get(one.place, 0.0)) for one in found)


def _against_the_sum(forces: Floats) -> float:
    """Size of the forces of the other sign than their sum."""
    against = forces[forces * forces.sum() < 0.0]
    return float(np.abs(against).sum())


def unbalanced(body: CondensedBody, load: Floats, held: Sequence[Reaction]) -> float:
    """Largest resultant of load and reactions, relative to the load; moments over the size."""
    forces, (x, y) = load.reshape(-1, 2), body.mesh.doflocs
    along, across = forces.sum(axis=0)
    moment = float((x * forces[:, 1] - y * forces[:, 0]).sum())
    for r in held:
        along, across = along + r.along, across + r.across
        moment += r.moment + r.x * r.across - r.y * r.along
    size = max(np.ptp(x), np.ptp(y))
    return float(max(abs(along), abs(across), abs(moment) / size) / np.abs(forces).sum())
