"""How a body is held: degrees of freedom fixed outright, and supports that act spread over it.

A support acts through a pattern of force with one amplitude, its reaction. What it holds is the
displacement that the pattern does work on: a mean over the face it acts on, so that no support is a
point or a sharp clamp, at which the stress of an elastic body would have no bound. A support may
give way like a spring. Body forces that balance the contact load are supports too: those of a post
that cantilevers along its axis.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from skfem import MeshTri2

from contactfe.solve.elastic import Floats
from contactfe.solve.lines import edge_nodes, group_facets, shape, shape_slope

Ints = NDArray[np.intp]
Force = Callable[[Floats, Floats], tuple[Floats, Floats]]
"""Traction in MPa or body force in N/mm³, (fx, fy) at (x, y) mm, for a unit reaction."""

_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(4)


@dataclass(frozen=True)
class Support:
    """A support of one amplitude, its reaction: N/mm, or N mm/mm if the pattern is a couple.

    ``load`` (2N,) are the nodal forces of a unit reaction; ``compliance`` is what it gives way by
    for one, 0 where rigid. ``traction`` is its traction on the edges of ``groups``, if it acts
    there and not inside the body.
    """

    name: str
    load: Floats
    compliance: float = 0.0
    groups: tuple[str, ...] = ()
    traction: Force | None = None


@dataclass(frozen=True)
class Hold:
    """How a body is held.

    ``fixed`` lists the degrees of freedom kept at zero and ``supports`` what else holds it.
    ``pins`` are degrees of freedom that only stop the rigid motion that ``fixed`` leaves, while
    the body is factored; they carry nothing. ``sliding`` names the groups of edges fixed in y and
    free in x, ``bonded`` those fixed in both.
    """

    fixed: Ints
    supports: tuple[Support, ...] = ()
    pins: Ints = field(default_factory=lambda: np.array([], dtype=np.intp))
    sliding: tuple[str, ...] = ()
    bonded: tuple[str, ...] = ()


def edge_support(
    mesh: MeshTri2, groups: tuple[str, ...], traction: Force, compliance: float = 0.0
) -> Support:
    """A support that acts by ``traction`` on the edges of ``groups``."""
    load = np.zeros((mesh.doflocs.shape[1], 2))
    phi = shape(_POINTS)
    for group in groups:
        nodes = edge_nodes(mesh, group_facets(mesh, group))
        x, y = np.einsum("cie,ip->cep", mesh.doflocs[:, nodes], phi)
        stretch = np.einsum("cie,ip->cep", mesh.doflocs[:, nodes], shape_slope(_POINTS))
        ds = np.linalg.norm(stretch, axis=0) * _WEIGHTS
        for axis, component in enumerate(traction(x, y)):
            np.add.at(load[:, axis], nodes, np.einsum("ip,ep->ie", phi, component * ds))
    return Support(" and ".join(groups), load.ravel(), compliance, groups, traction)
